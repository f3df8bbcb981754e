//! Walls of sheets and of modules: what is laid, and what cannot be built.

use super::super::support::*;
use super::super::{Part, SheetPiece, TakeOff};
use crate::model::bed::{Along, Shape};
use crate::model::by_hand;
use crate::model::frame::{ModularWall, PanelWall, Rails, Ribs, Wall};
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::model::material::{Category, MaterialId, PanelSize};
use crate::units::{Amount, Decimal, Length};

const SHEET: MaterialId = MaterialId(18);
const MODULE: MaterialId = MaterialId(19);
const CURVE: MaterialId = MaterialId(20);

fn panel(length: &str, width: &str) -> PanelSize {
    PanelSize {
        length: Some(typed(inches(length))),
        width: Some(typed(inches(width))),
        ..PanelSize::default()
    }
}

/// A bed of sheets 96 x 26 in that cover 24, and modules 24 in long and 17 high beside them.
fn job_with(shape: Shape, height: &str, wall: Wall) -> Job {
    let one = crate::model::bed::Bed {
        height: Some(inches(height)),
        ..bed("A", shape)
    };
    let mut job = job_of(vec![one]);
    let mut sheet = material("Sheet", Category::Panel, [0; 5]);
    sheet.panel = PanelSize {
        cover: Some(typed(inches("24"))),
        ..panel("96", "26")
    };
    let mut module = material("Module", Category::Panel, [0; 5]);
    module.panel = panel("24", "17");
    let mut curve = material("Curve", Category::Panel, [0; 5]);
    curve.panel = PanelSize {
        radius: Some(typed(inches("24"))),
        ..panel("19", "17")
    };
    job.materials.extend([sheet, module, curve]);
    job.frames[0] = frame("Own", wall);
    job
}

fn sheets(ribs: Ribs) -> PanelWall {
    PanelWall {
        ribs: typed(ribs),
        thickness: typed(inches("0.5")),
        end_lap: typed(inches("4")),
        posts: Some(posts("4", "0")),
        rails: Some(Rails {
            material: POST,
            number: typed(2),
        }),
        screw: Some(SCREW),
        screw_spacing: typed(inches("12")),
        ..by_hand::panels(SHEET)
    }
}

fn panels(wall: PanelWall) -> Wall {
    Wall::Panels(Box::new(wall))
}

fn modules(curved: Option<MaterialId>) -> Wall {
    Wall::Modular(Box::new(ModularWall {
        module: MODULE,
        curved,
        corner: None,
        thickness: typed(Length::ZERO),
        cap: None,
        braces: None,
        fastener: Some(SCREW),
        per_joint: typed(10),
    }))
}

fn laid(found: &TakeOff) -> Vec<String> {
    let number = |l: Length| l.in_inches().round_dp(4).normalize();
    let one = |p: &SheetPiece| {
        let (length, width) = (number(p.length), number(p.width));
        format!("{} x {length} x {width} {}", p.count, p.mark)
    };
    found.sheet_pieces.iter().map(one).collect()
}

#[test]
fn long_runs_join_on_posts_with_a_lap() {
    // 12 ft: sheets of 96 in less a lap of 4 reach 92 in, and the last post within that stands at 48 in of
    // the posts at 48 and 96. 48 + 4 lap, then 96 are left, more than 92: 48 + 4 again, then 48.
    let job = job_with(
        by_hand::rectangle("12", "4"),
        "24",
        panels(sheets(Ribs::Along)),
    );
    let (found, _) = taken(&job);
    assert_eq!(
        laid(&found),
        [
            "4 x 52 x 24 long side",
            "2 x 48 x 24 long side",
            "2 x 47 x 24 short side"
        ]
    );
    // Rails: 2 rails of 144 in have 13 screws, of 47 in 5: 2 x 2 x 13 + 2 x 2 x 5 = 72; each of 4 joints
    // of 24 in has 3: 12.
    let order = order(&found, SCREW, Part::Fastener);
    assert_eq!(order, Amount::Count(d("88.2"))); // 84 and 5% waste
    assert_eq!(work(&found, Driver::Panel), Decimal::from(8));
}

#[test]
fn a_wall_higher_than_a_sheet_is_wide_takes_rows() {
    // 40 in: 26 and 40 - 24 = 16 in, which lap by 2 in
    let job = job_with(
        by_hand::rectangle("8", "4"),
        "40",
        panels(sheets(Ribs::Along)),
    );
    let found = taken(&job).0;
    assert_eq!(
        laid(&found),
        [
            "2 x 96 x 26 long side",
            "2 x 96 x 16 long side",
            "2 x 47 x 26 short side",
            "2 x 47 x 16 short side"
        ]
    );
}

#[test]
fn on_falling_ground_each_run_is_cut_to_its_taller_end() {
    let mut job = job_with(
        by_hand::rectangle("8", "4"),
        "20",
        panels(sheets(Ribs::Along)),
    );
    // 5% of 8 ft along the length are 4.8 in: the sides and the low end take 24.8 in, the high end 20.
    let one = job.beds.remove(0);
    job.beds.push(falling(one, 5, Along::Length));
    assert_eq!(
        laid(&taken(&job).0),
        [
            "2 x 96 x 24.8 long side",
            "1 x 47 x 24.8 short side",
            "1 x 47 x 20 short side"
        ]
    );
}

#[track_caller]
fn refused(job: &Job, field: &str, sentence: &str, hint: &str) {
    let found = taken(job).0;
    let problem = found.problems.first().expect("a problem");
    assert!(problem.sentence.contains(sentence), "{}", problem.sentence);
    let told = problem.hint.clone().unwrap_or_default();
    assert!(told.contains(hint), "{told}");
    assert_eq!(problem.spot.map(|s| s.field), Some(field));
}

#[test]
fn what_sheets_cannot_do_is_told() {
    let circle = Shape::Circle {
        diameter: inches("48"),
    };
    let job = job_with(circle, "17", panels(sheets(Ribs::Along)));
    refused(
        &job,
        "Frame",
        "cannot follow a curve",
        "modular, blocks, ready-made, stone or none",
    );
    let tall = by_hand::rectangle("8", "4");
    let job = job_with(tall, "100", panels(sheets(Ribs::Upright)));
    refused(
        &job,
        "Height",
        "the longest sheet is 8'",
        "set Ribs to along",
    );
    let mut job = job_with(
        by_hand::rectangle("8", "4"),
        "24",
        panels(sheets(Ribs::Along)),
    );
    job.materials[SHEET.index()].panel = PanelSize::default();
    refused(&job, "Material", "size of a sheet", "Panel length");
}

#[test]
fn modules_that_do_not_come_out_name_the_lengths_that_do() {
    let job = job_with(by_hand::rectangle("7", "4"), "17", modules(None));
    refused(
        &job,
        "Length",
        "a wall of 7' is no whole number of modules of Module, which are 2' long",
        "6' or 8'",
    );
    let job = job_with(by_hand::rectangle("8", "4"), "24", modules(None));
    refused(&job, "Height", "no whole number", "1' 5\" or 2' 10\"");
}

#[test]
fn circles_take_curved_modules_of_their_radius() {
    let circle = |across: &str| Shape::Circle {
        diameter: inches(across),
    };
    // pi x 48 = 150.8 in, by 19 in are 7.94: 8 modules, 0.8% more than the circle
    let job = job_with(circle("48"), "17", modules(Some(CURVE)));
    let found = taken(&job).0;
    assert_eq!(
        order(&found, CURVE, Part::Panel),
        Amount::Count(Decimal::from(8))
    );
    assert_eq!(work(&found, Driver::BoltLine), Decimal::from(8));
    let job = job_with(circle("60"), "17", modules(Some(CURVE)));
    refused(
        &job,
        "Diameter",
        "make a wall 4' across",
        "make it 4' across",
    );
    let job = job_with(circle("48"), "17", modules(None));
    refused(
        &job,
        "Frame",
        "Bend radius",
        "blocks, ready-made, stone or none",
    );
}
