//! A small job made by hand, for the worked examples of the take-off.

use rust_decimal::Decimal;

use super::trace::Steps;
use super::{Moment, Part, TakeOff, take_off};
use crate::model::bed::{Bed, Shape, Slope};
use crate::model::block::{BlockMake, BlockSize};
use crate::model::by_hand;
pub(super) use crate::model::by_hand::row as at;
use crate::model::fill::{Depth, Fill, FillId, Layer, Mix};
use crate::model::frame::{BoardWall, Braces, Frame, PostSide, Posts, Tiers, Wall};
use crate::model::job::Job;
use crate::model::known::Known;
use crate::model::labour::Driver;
use crate::model::material::{Category, Material, MaterialId, Section};
pub(super) use crate::units::by_hand::{d, feet as ft, inches};
use crate::units::{Amount, Density, Length, Volume, Weight};

pub(super) const BOARD: MaterialId = MaterialId(0);
pub(super) const POST: MaterialId = MaterialId(1);
pub(super) const CAP: MaterialId = MaterialId(2);
pub(super) const SCREW: MaterialId = MaterialId(3);
pub(super) const LINER: MaterialId = MaterialId(4);
pub(super) const MESH: MaterialId = MaterialId(5);
pub(super) const OIL: MaterialId = MaterialId(6);
pub(super) const SOIL: MaterialId = MaterialId(7);
pub(super) const COMPOST: MaterialId = MaterialId(8);
pub(super) const LOGS: MaterialId = MaterialId(9);
pub(super) const CARD: MaterialId = MaterialId(10);
pub(super) const LIME: MaterialId = MaterialId(11);
pub(super) const TUB: MaterialId = MaterialId(12);
pub(super) const STRAW: MaterialId = MaterialId(13);
pub(super) const BLOCK: MaterialId = MaterialId(14);
pub(super) const SEGMENTAL: MaterialId = MaterialId(15);
pub(super) const GRAVEL: MaterialId = MaterialId(16);
pub(super) const BAR: MaterialId = MaterialId(17);

/// A value that the example sets.
pub(super) fn typed<T>(value: T) -> Known<T> {
    Known::assumed(value, "set by the example")
}

/// Loss when wetted down, loss in the first season, void, infill, waste: in percent.
pub(super) fn material(name: &str, category: Category, percent: [i64; 5]) -> Material {
    let [wet_down, first_season, void, infill, waste] = percent.map(|n| typed(Decimal::new(n, 2)));
    Material {
        wet: Some(typed(Density::pounds_per_cubic_yard(Decimal::from(2700)))),
        wet_down,
        first_season,
        void,
        infill,
        waste,
        ..by_hand::material(name, category)
    }
}

fn lumber(name: &str, nominal: &str, face: (&str, &str), thickness: &str) -> Material {
    let section = Section {
        nominal: nominal.into(),
        nominal_face: inches(face.0),
        face: inches(face.1),
        thickness: inches(thickness),
    };
    Material {
        section: Some(typed(section)),
        ..material(name, Category::Lumber, [0; 5])
    }
}

/// A block of so many inches: length, height, depth, joint; half open, 30 lb.
fn block(name: &str, make: BlockMake, inch: [&str; 4]) -> Material {
    let [length, height, depth, joint] = inch.map(inches);
    let size = BlockSize {
        nominal: name.into(),
        make,
        nominal_height: height + joint,
        length,
        height,
        depth,
        joint,
        cells: d("0.5"),
        weight: Some(Weight::pounds(d("30"))),
    };
    Material {
        block: Some(typed(size)),
        ..material(name, Category::Block, [0; 5])
    }
}

fn materials() -> Vec<Material> {
    vec![
        lumber("Board 2x10", "2x10", ("10", "9.25"), "1.5"),
        lumber("Post 4x4", "4x4", ("4", "3.5"), "3.5"),
        lumber("Cap 2x6", "2x6", ("6", "5.5"), "1.5"),
        material("Screw", Category::Fastener, [0, 0, 0, 0, 5]),
        material("Liner", Category::Liner, [0, 0, 0, 0, 10]),
        material("Mesh", Category::Mesh, [0, 0, 0, 0, 10]),
        material("Oil", Category::Finish, [0, 0, 0, 0, 0]),
        material("Soil", Category::Soil, [10, 6, 0, 0, 0]),
        material("Compost", Category::Compost, [15, 20, 0, 0, 0]),
        material("Logs", Category::Wood, [0, 4, 40, 50, 0]),
        material("Cardboard", Category::Sheet, [0, 0, 0, 0, 10]),
        material("Lime", Category::Amendment, [0; 5]),
        material("Tub", Category::ReadyMade, [0; 5]),
        material("Straw", Category::Litter, [20, 50, 0, 0, 0]),
        block(
            "8x8x16",
            BlockMake::Hollow,
            ["15.625", "7.625", "7.625", "0.375"],
        ),
        block("8x4x12", BlockMake::Segmental, ["12", "4", "8", "0"]),
        material("Gravel", Category::Aggregate, [0; 5]),
        material("Bar", Category::Bar, [0; 5]),
    ]
}

pub(super) fn frame(name: &str, wall: Wall) -> Frame {
    Frame {
        at: Some(at(100)),
        ..by_hand::frame(name, wall)
    }
}

/// The boards of the job's frame, to be changed.
#[track_caller]
pub(super) fn walls(job: &mut Job) -> &mut BoardWall {
    by_hand::boards_of(&mut job.frames[0])
}

pub(super) fn braces(every: &str) -> Braces {
    Braces {
        material: BOARD,
        every: typed(ft(every)),
        tiers: Tiers::Each(typed(inches("24"))),
    }
}

pub(super) fn posts(spacing: &str, buried: &str) -> Posts {
    Posts {
        material: POST,
        spacing: typed(ft(spacing)),
        buried: typed(inches(buried)),
        side: typed(PostSide::Inside),
    }
}

pub(super) fn layer(row: u32, of: MaterialId, depth: Depth) -> Layer {
    Layer {
        at: Some(at(row)),
        ..by_hand::layer(of, depth)
    }
}

pub(super) fn fill(layers: Vec<Layer>) -> Fill {
    by_hand::fill("Deep", layers)
}

pub(super) fn bed(name: &str, shape: Shape) -> Bed {
    Bed {
        shape,
        fill: Some(FillId(0)),
        ..by_hand::bed(name)
    }
}

/// A rectangle of whole feet, in courses of the job's 2x10.
pub(super) fn boards_bed(name: &str, length: i64, width: i64, courses: u32) -> Bed {
    let feet = |n: i64| Length::feet(Decimal::from(n));
    Bed {
        courses: Some(courses),
        ..bed(
            name,
            Shape::Rectangle {
                length: feet(length),
                width: feet(width),
            },
        )
    }
}

pub(super) fn falling(mut bed: Bed, percent: i64, along: crate::model::bed::Along) -> Bed {
    bed.slope = Some(Slope {
        fall: Decimal::new(percent, 2),
        along,
    });
    bed
}

/// A job with these beds, one frame of plain 2x10 boards, and one fill of soil only.
pub(super) fn job_of(beds: Vec<Bed>) -> Job {
    Job {
        sites: vec![by_hand::site("Site")],
        phases: vec!["One".into(), "Two".into()],
        beds,
        frames: vec![frame("Plain", by_hand::boards(BOARD))],
        fills: vec![fill(vec![layer(10, SOIL, Depth::Rest)])],
        mixes: vec![Mix {
            name: "Half and half".into(),
            parts: vec![(SOIL, Decimal::ONE), (COMPOST, Decimal::ONE)],
        }],
        materials: materials(),
        ..by_hand::job(by_hand::settings("Example"))
    }
}

/// The take-off of a job's first bed, with its steps.
pub(super) fn taken(job: &Job) -> (TakeOff, Steps) {
    let mut steps = Steps::default();
    let result = take_off(job, &job.beds[0], &mut steps);
    (result, steps)
}

/// What is ordered of a material for a part on the building day.
#[track_caller]
pub(super) fn order(found: &TakeOff, material: MaterialId, part: Part) -> Amount {
    order_at(found, Moment::Build, material, part)
}

#[track_caller]
pub(super) fn order_at(
    found: &TakeOff,
    moment: Moment,
    material: MaterialId,
    part: Part,
) -> Amount {
    let mut needs = found
        .needs
        .iter()
        .filter(|n| n.material == material && n.part == part && n.moment == moment);
    let need = needs.next().expect("the need is there");
    assert!(
        needs.next().is_none(),
        "one need for each material and part"
    );
    need.order
}

/// How much of a driver there is, in base units.
pub(super) fn work(found: &TakeOff, driver: Driver) -> Decimal {
    let all = found.work.iter().filter(|(d, _)| *d == driver);
    all.map(|(_, n)| *n).sum()
}

/// Pieces as `count x inches mark`.
pub(super) fn pieces(found: &TakeOff, material: MaterialId) -> Vec<String> {
    let all = found.pieces.iter().filter(|p| p.material == material);
    all.map(|p| {
        let length = p.length.in_inches().round_dp(4).normalize();
        format!("{} x {length} {}", p.count, p.mark)
    })
    .collect()
}

/// The fields and sentences of all problems.
pub(super) fn told(found: &TakeOff) -> Vec<(&'static str, u32, &str)> {
    let spot = |p: &crate::problem::Problem| p.spot.map_or(("", 0), |s| (s.field, s.row.row));
    let all = found.problems.iter();
    all.map(|p| (spot(p).0, spot(p).1, p.sentence.as_str()))
        .collect()
}

/// A box without wall thickness, 8 x 4 ft inside, so high.
pub(super) fn tub(height: &str) -> Job {
    let one = Bed {
        height: Some(inches(height)),
        ..bed("A", by_hand::rectangle("8", "4"))
    };
    let mut job = job_of(vec![one]);
    job.frames[0] = frame("Tub", by_hand::unit(TUB));
    job
}

pub(super) fn cubic_feet(amount: Amount) -> Decimal {
    match amount {
        Amount::Volume(volume) => feet3(volume),
        other => panic!("{other:?} is no volume"),
    }
}

pub(super) fn feet3(volume: Volume) -> Decimal {
    volume.in_cubic_feet().round_dp(3).normalize()
}

/// Gives the job's fill these layers, in rows from 10.
pub(super) fn layers(job: &mut Job, layers: &[(MaterialId, Depth)]) {
    job.fills[0].layers = layers
        .iter()
        .zip(10..)
        .map(|((material, depth), row)| layer(row, *material, *depth))
        .collect();
}
