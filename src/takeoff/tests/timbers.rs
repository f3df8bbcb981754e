//! Walls of timbers: courses, corners, joints, pins, anchors, and where they cannot be built.

use crate::model::bed::{Along, Base, Bed, Shape};
use crate::model::by_hand;
use crate::model::frame::{Corner, Lie, Pins, TimberWall, Wall, WallBase};
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::model::offer::SupplierId;
use crate::problem::Severity;
use crate::takeoff::Part;
use crate::takeoff::support::*;
use crate::units::{Amount, Volume};

/// The 4x4 of the sample: 3.5 x 3.5 in.
const TIMBER: MaterialId = POST;

/// Beds with walls of one timber, of which the yard sells sticks of 8 ft.
fn job(timber: MaterialId, beds: Vec<Bed>) -> Job {
    let mut job = job_of(beds);
    job.frames[0] = frame("Stack", by_hand::timbers(timber));
    let eight = Amount::Length(ft("8"));
    job.offers = vec![by_hand::offer(SupplierId(0), timber, "timber", eight)];
    job
}

#[track_caller]
fn timber_wall(job: &mut Job) -> &mut TimberWall {
    match &mut job.frames[0].wall {
        Wall::Timbers(wall) => wall,
        other => panic!("{other:?} is not of timbers"),
    }
}

fn pins() -> Pins {
    Pins {
        material: SCREW,
        every: typed(ft("4")),
        length: typed(inches("24")),
    }
}

#[test]
fn courses_lap_at_the_corners_and_are_numbered_from_the_ground() {
    // 8 x 4 ft of 3.5 in: 96 - 7 = 89 and 48 - 7 = 41 between. The rim has the long sides through.
    let (found, _) = taken(&job(TIMBER, vec![boards_bed("A", 8, 4, 2)]));
    assert_eq!(found.problems, []);
    assert_eq!(found.wall_height, inches("7"));
    assert_eq!(
        pieces(&found, TIMBER),
        [
            "2 x 96 course 2 long side",
            "2 x 89 course 1 long side",
            "2 x 48 course 1 short side",
            "2 x 41 course 2 short side",
        ]
    );
    // 2 (96 + 41) + 2 (89 + 48) = 548 in; 548 x 12.25 / 1728 ft3 x 40 lb = 155.39 lb
    assert_eq!(
        order(&found, TIMBER, Part::Timber),
        Amount::Length(inches("548"))
    );
    assert_eq!(
        work(&found, Driver::TimberLength),
        inches("548").in_metres()
    );
    assert_eq!(found.wall_weight.in_pounds().round_dp(2), d("155.39"));
}

#[test]
fn a_timber_laid_flat_makes_a_low_course_and_a_thick_wall() {
    // 2x10 as the sample's board: flat it rises 1.5 in and is 9.25 in thick, on edge the other way.
    let mut job = job(BOARD, vec![boards_bed("A", 8, 4, 2)]);
    let (flat, _) = taken(&job);
    assert_eq!(flat.wall_height, inches("3"));
    // 96 - 18.5 = 77.5 by 48 - 18.5 = 29.5 in: 2286.25 in2
    assert_eq!(
        (flat.inside_area.in_square_feet() * d("144")).round_dp(6),
        d("2286.25")
    );
    timber_wall(&mut job).lie = typed(Lie::OnEdge);
    let (edge, _) = taken(&job);
    assert_eq!(edge.wall_height, inches("18.5"));
    // 93 x 45 in
    assert_eq!(
        (edge.inside_area.in_square_feet() * d("144")).round_dp(6),
        d("4185")
    );
}

#[test]
fn a_run_a_little_longer_than_a_stick_leaves_no_stub() {
    // 8.5 ft of 8 ft sticks: not 96 + 6, but 78 + 24. Between the short sides 102 - 7 = 95 in are one stick.
    let bed = Bed {
        courses: Some(2),
        ..bed("A", by_hand::rectangle("8.5", "4"))
    };
    let (found, _) = taken(&job(TIMBER, vec![bed]));
    assert_eq!(
        pieces(&found, TIMBER),
        [
            "2 x 95 course 1 long side",
            "2 x 78 course 2 long side",
            "2 x 48 course 1 short side",
            "2 x 41 course 2 short side",
            "2 x 24 course 2 long side",
        ]
    );
    let keep = "keep joints apart: none stands above one of the course below";
    assert!(found.crew_notes.iter().any(|n| n == keep));
}

#[test]
fn every_timber_is_pinned_at_its_ends_and_between() {
    // 96 and 89 in at 48: 3 each; 48 and 41: 2 each. 10 a course, half of 20 into the ground; 5% waste.
    let mut job = job(TIMBER, vec![boards_bed("A", 8, 4, 2)]);
    timber_wall(&mut job).pins = Some(pins());
    let (found, _) = taken(&job);
    assert_eq!(work(&found, Driver::GroundPin), d("10"));
    assert_eq!(work(&found, Driver::TimberPin), d("10"));
    assert_eq!(order(&found, SCREW, Part::Fastener), Amount::Count(d("21")));
    // Paving is not drilled.
    job.beds[0].base = Base::Paved;
    let (found, _) = taken(&job);
    assert_eq!(work(&found, Driver::GroundPin), d("0"));
    assert!(told(&found)[0].2.contains("is not pinned down"));
}

#[test]
fn a_pin_too_short_is_said() {
    // 3.5 in and half of the next: 5.25 in
    let mut job = job(TIMBER, vec![boards_bed("A", 8, 4, 2)]);
    let short = Pins {
        length: typed(inches("5")),
        ..pins()
    };
    timber_wall(&mut job).pins = Some(short);
    let (found, _) = taken(&job);
    assert_eq!(found.problems[0].severity, Severity::Caution);
    assert_eq!(
        told(&found)[0].2,
        "a pin of 5\" does not reach half way into the timber below, which takes 5 1/4\""
    );
}

#[test]
fn on_falling_ground_a_high_wall_is_anchored() {
    // 9 courses of 3.5 are 31.5 in. 12 ft at 5 ft apart are 3 bays: 2 places on each long side; 4 ft is
    // one bay. At 4 and 8 ft the wall is 31.5 + 4.8 and + 9.6 in: one row. 4 anchors.
    let mut job = job(
        TIMBER,
        vec![falling(boards_bed("A", 12, 6, 9), 10, Along::Length)],
    );
    timber_wall(&mut job).anchors.every = typed(ft("5"));
    timber_wall(&mut job).pins = Some(pins());
    let (found, _) = taken(&job);
    // The ends of 6 ft have one place each: 31.5 in at the high end, 45.9 in at the low one. 6 in all.
    assert_eq!(work(&found, Driver::Anchor), d("6"));
    // The middle of 72 - 7 = 65 in is at 32.5; with the 3.5 in of the wall 36 in.
    let all = pieces(&found, TIMBER);
    assert!(all.contains(&"6 x 36 anchor".to_owned()), "{all:?}");
    assert!(all.contains(&"6 x 24 crosspiece".to_owned()));
    assert!(
        told(&found)
            .iter()
            .any(|t| t.2.contains("to the middle of it, not 4'"))
    );
    // On level ground nothing is anchored unless the frame says so, and that is said.
    job.beds[0].slope = None;
    let (found, _) = taken(&job);
    assert_eq!(work(&found, Driver::Anchor), d("0"));
    assert!(told(&found).iter().any(|t| t.2.contains("has no anchors")));
}

#[test]
fn corners_that_are_not_square_are_mitred() {
    let octagon = Bed {
        courses: Some(1),
        ..bed(
            "A",
            Shape::Regular {
                sides: 8,
                side: ft("4"),
            },
        )
    };
    let mut job = job(TIMBER, vec![octagon]);
    let (found, _) = taken(&job);
    assert_eq!(pieces(&found, TIMBER), ["8 x 48 course 1 side"]);
    assert_eq!(found.problems[0].severity, Severity::Notice);
    timber_wall(&mut job).corner = typed(Corner::Mitre);
    let (found, _) = taken(&job);
    assert_eq!(found.problems, []);
}

#[test]
fn timbers_follow_no_curve_and_the_kinds_that_do_are_named() {
    let round = Bed {
        courses: Some(2),
        ..bed("A", Shape::Circle { diameter: ft("6") })
    };
    let (found, _) = taken(&job(TIMBER, vec![round]));
    assert_eq!(
        told(&found)[0].2,
        "timbers cannot follow a curve, and frame Stack is of kind timbers"
    );
    let hint = found.problems[0].hint.as_deref().unwrap_or_default();
    assert!(hint.contains("ready-made, stone or none"), "{hint}");
}

#[test]
fn the_first_course_lies_in_a_trench() {
    // 8 x 4 ft, wall 3.5 in, trench 2 in wider on each side: 100 x 52 - 85 x 37 = 2055 in2, 6 in deep:
    // 12,330 in3 = 7.135 ft3. The sample's soil loses 10% when it is tamped: 7.928 ft3.
    let mut job = job(TIMBER, vec![boards_bed("A", 8, 4, 2)]);
    timber_wall(&mut job).base = Some(WallBase {
        material: SOIL,
        depth: typed(inches("6")),
        wider: typed(inches("4")),
    });
    let (found, _) = taken(&job);
    assert_eq!(cubic_feet(order(&found, SOIL, Part::WallBase)), d("7.928"));
    // Along the middle of the wall: 24 ft less 4 x 3.5 in = 274 in; 2055 / 7.5 = 274 too.
    assert_eq!(
        work(&found, Driver::TrenchLength),
        inches("274").in_metres()
    );
    // 2055 x 6 = 12,330 in3 of ground, as it lies.
    let dug = Volume::cubic_feet(d("12330") / d("1728")).in_cubic_metres();
    let spoil = work(&found, Driver::SpoilVolume);
    assert_eq!(spoil.round_dp(9), dug.round_dp(9));
    job.beds[0].base = Base::RoofOrDeck;
    let (found, _) = taken(&job);
    assert_eq!(work(&found, Driver::TrenchLength), d("0"));
    assert!(told(&found)[0].2.contains("gets no trench and no base"));
}
