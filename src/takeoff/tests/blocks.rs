//! Walls of blocks: courses, corners, rings, bases, bars and caps.

use crate::model::bed::{Along, Base, Bed, Shape};
use crate::model::by_hand;
use crate::model::frame::{Bars, BlockWall, Laid, Wall, WallBase};
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::problem::Severity;
use crate::takeoff::support::*;
use crate::takeoff::{Part, TakeOff};
use crate::units::{Amount, Decimal, Length};

/// A job with one bed, and the blocks of its frame.
fn job(shape: Shape, courses: u32, block: MaterialId, laid: Laid) -> Job {
    let mut job = job_of(vec![Bed {
        courses: Some(courses),
        ..bed("A", shape)
    }]);
    job.frames[0] = frame("Mason", by_hand::blocks(block, laid));
    job
}

#[track_caller]
fn wall(job: &mut Job) -> &mut BlockWall {
    match &mut job.frames[0].wall {
        Wall::Blocks(wall) => wall,
        other => panic!("{other:?} is not of blocks"),
    }
}

fn blocks(found: &TakeOff, block: MaterialId) -> Decimal {
    match order(found, block, Part::Block) {
        Amount::Count(number) => number.normalize(),
        other => panic!("{other:?} is no count"),
    }
}

fn circle(feet: &str) -> Shape {
    Shape::Circle { diameter: ft(feet) }
}

#[track_caller]
fn check_refused(job: &Job, sentence: &str) {
    let (found, _) = taken(job);
    let error = found
        .problems
        .iter()
        .find(|p| p.severity == Severity::Error);
    let error = error.expect("it is refused");
    assert_eq!(error.sentence, sentence);
    let hint = "give the bed another shape, or a frame of kind modular, ready-made, stone or none";
    assert_eq!(error.hint.as_deref(), Some(hint));
}

#[test]
fn a_course_in_mortar_is_higher_than_a_dry_one_by_its_joint() {
    let shape = by_hand::rectangle("8", "4");
    // 3 x 7.625 = 22.875 in; 3 x (7.625 + 0.375) = 24 in
    for (laid, height) in [(Laid::Dry, "22.875"), (Laid::Mortared, "24")] {
        let (found, _) = taken(&job(shape.clone(), 3, BLOCK, laid));
        assert_eq!(found.wall_height, inches(height));
        assert_eq!(found.courses, 3);
    }
    let (found, steps) = taken(&job(shape, 3, BLOCK, Laid::Mortared));
    let laid = steps.last("blocks laid").unwrap();
    assert_eq!(
        laid.to_string(),
        "blocks laid = 2 x (6 + 2 + 6 + 2) + 1 x (5 + 3 + 5 + 3) = 48"
    );
    assert_eq!(found.wall_weight.in_pounds().round_dp(6), d("1440"));
    assert_eq!(found.size, "8' x 4' outside, 2' high (3 courses of 8x8x16)");
}

#[test]
fn halves_that_nobody_sells_are_cut_from_whole_blocks() {
    // Blocks of 4x8x16 turn corners by 4 in: long sides through are 6, short ones between (48 - 8) / 16 = 2 and a half.
    let mut job = job(by_hand::rectangle("8", "4"), 1, BLOCK, Laid::Mortared);
    let size = &mut job.materials[BLOCK.index()].block;
    size.as_mut().unwrap().value.depth = inches("3.625");
    let (found, _) = taken(&job);
    // 6 + 2 + 6 + 2 and two halves out of one more.
    assert_eq!(blocks(&found, BLOCK), d("17"));
    assert_eq!(work(&found, Driver::BlockCut), d("1"));
    wall(&mut job).half = Some(TUB);
    let (found, _) = taken(&job);
    assert_eq!(blocks(&found, BLOCK), d("16"));
    assert_eq!(order(&found, TUB, Part::HalfBlock), Amount::Count(d("2")));
    assert_eq!(work(&found, Driver::BlockCut), Decimal::ZERO);
}

#[test]
fn straight_blocks_are_refused_where_their_joints_would_gape() {
    // Tight inside, where the radius is 48 - 7.625 = 40.375 in, a block has 15.625 x 48 / 40.375 = 18.576 in outside:
    // 2.95 in more than its length.
    check_refused(
        &job(circle("8"), 2, BLOCK, Laid::Dry),
        "straight blocks 1' 3 5/8\" long gape by 2 15/16\" at the outside of a ring 8' across and are laid dry; tapered segmental units can be, and frame Mason is of kind blocks",
    );
    let shape = Shape::Ellipse {
        length: ft("8"),
        width: ft("6"),
    };
    check_refused(
        &job(shape, 2, BLOCK, Laid::Mortared),
        "straight blocks follow no curve but a wide ring, where tapered segmental units do, and frame Mason is of kind blocks",
    );
    // An ellipse of 12 x 8 ft bends by 4 x 4 / 6 = 2 2/3 ft at its ends.
    let shape = Shape::Ellipse {
        length: ft("12"),
        width: ft("8"),
    };
    check_refused(
        &job(shape, 2, SEGMENTAL, Laid::Dry),
        "segmental units follow a radius of 3' or more (Least radius), the outside here bends by 2' 8\", and frame Mason is of kind blocks",
    );
}

#[test]
fn a_ring_of_straight_blocks_is_as_wide_as_its_joints_of_mortar_allow() {
    // (15.625 + 0.75) x 7.625 / (0.75 - 0.375) = 332.96 in of radius.
    let (found, _) = taken(&job(circle("55"), 1, BLOCK, Laid::Mortared));
    let error = found
        .problems
        .iter()
        .find(|p| p.severity == Severity::Error)
        .unwrap();
    assert!(
        error
            .sentence
            .contains("a ring must be 55' 5 15/16\" across"),
        "{}",
        error.sentence
    );
    // 56 ft: inside 672 - 15.25 = 656.75 in, pi x 656.75 / 16 = 128.95 blocks. 128 evenly apart would have joints of
    // 672 x tan(180/128 deg) - 15.625 = 0.87 in outside, so 127 are laid whole and two pieces close the ring.
    let (found, _) = taken(&job(circle("56"), 1, BLOCK, Laid::Mortared));
    assert_eq!(blocks(&found, BLOCK), d("129"));
}

#[test]
fn units_are_cut_to_the_corners_of_a_quarter_circle() {
    // 6 ft radius: 2 x 72 + pi x 72 / 2 = 257.1 in, 21 units and 5.1 in, a little under a half: one is cut. Both
    // units at each of three corners are cut, too.
    let shape = Shape::QuarterCircle { radius: ft("6") };
    let (found, _) = taken(&job(shape, 2, SEGMENTAL, Laid::Dry));
    assert_eq!(blocks(&found, SEGMENTAL), d("44"));
    assert_eq!(work(&found, Driver::BlockCut), d("14"));
}

#[test]
fn the_base_steps_down_and_the_sides_grow_where_the_ground_has_fallen() {
    let shape = by_hand::rectangle("8", "4");
    let level = job(shape, 3, BLOCK, Laid::Mortared);
    let mut falling_job = level.clone();
    falling_job.beds[0] = falling(falling_job.beds[0].clone(), 10, Along::Length);
    let (found, _) = taken(&falling_job);
    // 48 and, below: 3 + 2 x 6 and 2 + 2 x 1, where the sides need the second from 80 in on.
    assert_eq!(blocks(&found, BLOCK), d("67"));
    falling_job.beds[0] = falling(level.beds[0].clone(), 10, Along::Width);
    let (found, _) = taken(&falling_job);
    // 4.8 in fall along 4 ft: one course more, 5 at the low side and 3 along each short one.
    assert_eq!(blocks(&found, BLOCK), d("59"));
}

#[test]
fn a_base_is_dug_in_open_ground_only_and_its_spoil_is_counted() {
    let mut one = job(by_hand::rectangle("8", "4"), 2, BLOCK, Laid::Dry);
    wall(&mut one).buried = typed(1);
    wall(&mut one).base = Some(WallBase {
        material: GRAVEL,
        depth: typed(inches("6")),
        wider: typed(inches("4")),
    });
    let (found, _) = taken(&one);
    // The middle of the wall: 288 - 4 x 7.625 = 257.5 in; the trench 11.625 in wide, 6 + 7.625 in deep.
    let length = inches("257.5");
    assert_eq!(work(&found, Driver::TrenchLength), length.in_metres());
    let spoil = (length * inches("11.625")).filled_to(inches("13.625"));
    assert_eq!(work(&found, Driver::SpoilVolume), spoil.in_cubic_metres());
    // 257.5 x 11.625 x 6 = 17960.625 in3 = 10.394 ft3
    assert_eq!(
        cubic_feet(order(&found, GRAVEL, Part::WallBase)),
        d("10.394")
    );
    assert_eq!(found.wall_height, inches("15.25"));
    one.beds[0].base = Base::Paved;
    let (found, _) = taken(&one);
    assert_eq!(work(&found, Driver::TrenchLength), Decimal::ZERO);
    let told: Vec<&str> = told(&found)
        .into_iter()
        .map(|(_, _, words)| words)
        .collect();
    assert!(
        told.contains(&"the bed stands on no open ground, so its wall gets no trench and no base")
    );
}

#[test]
fn bars_stand_and_lie_in_cells_that_are_filled() {
    let mut one = job(by_hand::rectangle("8", "4"), 4, BLOCK, Laid::Mortared);
    wall(&mut one).bars = Some(Bars {
        material: BAR,
        every: Some(typed(inches("48"))),
        courses: Some(typed(2)),
        lap: typed(inches("20")),
    });
    let (found, _) = taken(&one);
    // 257.5 / 48 = 5.4, so 6 bars of 32 in; 257.5 + 20 in, twice.
    assert_eq!(
        pieces(&found, BAR),
        ["2 x 277.5 bar along", "6 x 32 upright bar"]
    );
    let loose = "bars stand loose in a wall whose cells are not filled";
    assert!(
        told(&found)
            .iter()
            .any(|(field, _, words)| (*field, *words) == ("Bar material", loose))
    );
    wall(&mut one).core = Some(GRAVEL);
    let (found, _) = taken(&one);
    assert!(!told(&found).iter().any(|(_, _, words)| *words == loose));
    // Half of 15.625 x 7.625 x 7.625 in, in 64 blocks: 29070.3 in3 = 16.823 ft3
    assert_eq!(
        cubic_feet(order(&found, GRAVEL, Part::CoreFill)),
        d("16.823")
    );
    assert_eq!(work(&found, Driver::Bar), d("8"));
}

#[test]
fn a_wall_that_eats_the_bed_says_so() {
    let shape = Shape::Rectangle {
        length: Length::inches(d("30")),
        width: inches("14"),
    };
    let (found, _) = taken(&job(shape, 1, BLOCK, Laid::Dry));
    assert_eq!(found.problems[0].severity, Severity::Error);
    assert!(
        found.problems[0]
            .sentence
            .starts_with("the wall eats the bed")
    );
}
