//! Walls of stone: batter, weight, hearting, mortar, caps, falling ground and curves.

use crate::model::bed::{Along, Bed, Shape};
use crate::model::by_hand;
use crate::model::frame::{Hearting, Laid, StoneWall, Wall};
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::model::material::{Category, MaterialId};
use crate::problem::Severity;
use crate::takeoff::support::*;
use crate::takeoff::{Part, TakeOff};
use crate::units::{Amount, Weight};

const STONE: MaterialId = MaterialId(18);

/// A bed with a wall of stone, a quarter of which is air, and that needs 10% waste.
fn job(bed: Bed) -> Job {
    let mut job = job_of(vec![bed]);
    job.materials
        .push(material("Fieldstone", Category::Stone, [0, 0, 25, 0, 10]));
    job.frames[0] = frame("Stone", by_hand::stone(STONE));
    job
}

#[track_caller]
fn wall(job: &mut Job) -> &mut StoneWall {
    match &mut job.frames[0].wall {
        Wall::Stone(wall) => wall,
        other => panic!("{other:?} is not of stone"),
    }
}

fn low(shape: Shape) -> Bed {
    Bed {
        height: Some(inches("18")),
        ..bed("A", shape)
    }
}

#[track_caller]
fn pounds(found: &TakeOff, material: MaterialId, part: Part) -> rust_decimal::Decimal {
    match order(found, material, part) {
        Amount::Weight(weight) => weight.in_pounds().round_dp(2).normalize(),
        other => panic!("{other:?} is no weight"),
    }
}

#[test]
fn an_upright_wall_weighs_its_stone_without_its_air() {
    // 8 x 4 ft, 1 ft thick: 32 - 6 x 2 = 20 ft2, x 1.5 = 30 ft3; x 0.75 x 165 = 3712.5 lb, + 10%
    let (found, steps) = taken(&job(low(by_hand::rectangle("8", "4"))));
    assert_eq!(found.problems, []);
    assert_eq!(found.size, "8' x 4' outside, 1' 6\" high");
    assert_eq!(found.inside_area.in_square_feet().round_dp(6), d("12"));
    assert_eq!(pounds(&found, STONE, Part::Stone), d("4083.75"));
    assert_eq!(found.wall_weight.in_pounds().round_dp(2), d("3712.5"));
    // 24 ft round x 1.5 ft
    let face = crate::units::Area::square_feet(d("36")).in_square_metres();
    assert_eq!(work(&found, Driver::StoneDry), face);
    assert_eq!(steps.last("face of the walls").unwrap().value, "36 ft2");
}

#[test]
fn a_wall_that_leans_in_is_a_prismatoid() {
    // 24 in high at 1:6: the outside leans in by 4 in, at half the height by 2.
    // Foot 96 x 48 - 72 x 24 = 2880, middle 92 x 44 - 1728 = 2320, rim 88 x 40 - 1728 = 1792 in2.
    // (2880 + 4 x 2320 + 1792) / 6 x 24 = 55,808 in3 = 32.2963 ft3; x 0.75 x 165 x 1.1 = 4396.33 lb
    let mut job = job(low(by_hand::rectangle("8", "4")));
    job.beds[0].height = Some(inches("24"));
    wall(&mut job).batter_rise = typed(d("6"));
    wall(&mut job).cap = Some(STONE);
    let (found, _) = taken(&job);
    assert_eq!(found.inside_area.in_square_feet().round_dp(6), d("12"));
    assert_eq!(pounds(&found, STONE, Part::Stone), d("4396.33"));
    // The rim is 2 x (88 + 40) = 256 in long, + 10%.
    assert_eq!(
        order(&found, STONE, Part::Cap),
        Amount::Length(inches("281.6"))
    );
}

#[test]
fn a_wall_too_thin_for_its_lean_is_said() {
    // 1 ft thick: at 1:6 nothing is left 72 in up, and at 42 in 5 in, less than half.
    let mut job = job(low(by_hand::rectangle("8", "4")));
    wall(&mut job).batter_rise = typed(d("6"));
    job.beds[0].height = Some(inches("72"));
    let (found, _) = taken(&job);
    assert_eq!(found.problems[0].severity, Severity::Error);
    assert!(told(&found)[0].2.contains("nothing of it reaches the rim"));
    job.beds[0].height = Some(inches("42"));
    let (found, _) = taken(&job);
    assert_eq!(found.problems[0].severity, Severity::Caution);
    assert!(
        told(&found)[0]
            .2
            .contains("1' thick where it stands and 5\" at the rim")
    );
}

#[test]
fn the_face_that_the_seller_states_wins() {
    // 36 ft2 at 18 ft2 a ton of 2,000 lb: 2 tons, + 10%
    let mut job = job(low(by_hand::rectangle("8", "4")));
    let face = crate::units::Area::square_feet(d("18")).in_square_metres();
    let ton = Weight::short_tons(d("1")).in_kilograms();
    job.materials[STONE.index()].face = Some(typed(face / ton));
    let (found, _) = taken(&job);
    assert_eq!(pounds(&found, STONE, Part::Stone), d("4400"));
}

#[test]
fn hearting_takes_its_share() {
    // A fifth of 30 ft3 as gravel: 6 ft3. Four fifths of 3712.5 lb + 10%: 3267 lb.
    let mut job = job(low(by_hand::rectangle("8", "4")));
    wall(&mut job).hearting = Some(Hearting {
        material: GRAVEL,
        share: typed(d("0.2")),
    });
    let (found, _) = taken(&job);
    assert_eq!(cubic_feet(order(&found, GRAVEL, Part::Hearting)), d("6"));
    assert_eq!(pounds(&found, STONE, Part::Stone), d("3267"));
}

#[test]
fn mortar_fills_what_stone_leaves() {
    // 30 ft3: a quarter is mortar, 7.5 ft3, and no air.
    let mut job = job(low(by_hand::rectangle("8", "4")));
    wall(&mut job).laid = typed(Laid::Mortared);
    wall(&mut job).mortar = Some(LIME);
    let (found, _) = taken(&job);
    assert_eq!(cubic_feet(order(&found, LIME, Part::Mortar)), d("7.5"));
    assert_eq!(pounds(&found, STONE, Part::Stone), d("4083.75"));
    assert!(found.crew_notes.iter().any(|n| n.contains("weep holes")));
}

#[test]
fn on_falling_ground_the_wall_is_reckoned_half_way_down() {
    // 18 in, and 8 ft x 12.5% = 12 in lower: 30 in. The mean of 24 in makes 20 x 2 = 40 ft3.
    let mut fallen = low(by_hand::rectangle("8", "4"));
    fallen.slope = Some(crate::model::bed::Slope {
        fall: d("0.125"),
        along: Along::Length,
    });
    let (found, _) = taken(&job(fallen));
    assert_eq!(found.problems, []);
    assert_eq!(found.low_side_height, inches("30"));
    assert_eq!(found.wall_weight.in_pounds().round_dp(2), d("4950"));
}

#[test]
fn stone_follows_a_curve() {
    // Ring of 3 ft and 2 ft radius: pi (9 - 4) x 1.5 = 23.5619 ft3; x 123.75 = 2915.79 lb
    let (found, _) = taken(&job(low(Shape::Circle { diameter: ft("6") })));
    assert_eq!(found.problems, []);
    assert_eq!(found.wall_weight.in_pounds().round_dp(2), d("2915.79"));
}
