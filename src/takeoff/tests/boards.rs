//! What walls of boards can have beside courses, posts and caps.

use crate::model::frame::{PostSide, Posts, TopCourse};
use crate::model::labour::Driver;
use crate::problem::Severity;
use crate::takeoff::Part;
use crate::takeoff::support::*;
use crate::units::Amount;

#[test]
fn the_top_course_is_ripped_to_the_height_that_is_asked() {
    // 16 in: one whole course of 9 1/4 in and 6 3/4 in of a second; as low as 4 x 8 ft with butt corners.
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    job.beds[0].height = Some(inches("16"));
    walls(&mut job).top = typed(TopCourse::Ripped);
    let (found, _) = taken(&job);
    assert_eq!(found.problems, []);
    assert_eq!(
        found.size,
        "8' x 4' outside, 1' 4\" high (2 courses of 2x10, the top one ripped to 6 3/4\")"
    );
    assert_eq!(found.wall_height, inches("16"));
    // The boards are cut as long as ever; the saw goes along 2 x 96 + 2 x 45 = 282 in.
    assert_eq!(
        pieces(&found, BOARD),
        ["4 x 96 long side", "4 x 45 short side"]
    );
    assert_eq!(work(&found, Driver::Rip), inches("282").in_metres());
    // Without Courses the height alone decides.
    job.beds[0].courses = None;
    let (found, _) = taken(&job);
    assert_eq!((found.courses, found.wall_height), (2, inches("16")));
}

#[test]
fn courses_that_come_out_are_not_ripped_and_courses_asked_win() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    walls(&mut job).top = typed(TopCourse::Ripped);
    job.beds[0].height = Some(inches("18.5"));
    let (found, _) = taken(&job);
    assert_eq!(
        (found.problems.len(), work(&found, Driver::Rip)),
        (0, d("0"))
    );
    // Two courses cannot be 24 in high.
    job.beds[0].height = Some(inches("24"));
    let (found, _) = taken(&job);
    assert_eq!(found.wall_height, inches("18.5"));
    assert!(told(&found)[0].2.contains("Courses wins"));
}

#[test]
fn a_thin_strip_on_top_is_said() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    walls(&mut job).top = typed(TopCourse::Ripped);
    job.beds[0].height = Some(inches("10"));
    let (found, _) = taken(&job);
    assert_eq!(found.problems[0].severity, Severity::Notice);
    assert_eq!(
        told(&found)[0].2,
        "the top course is ripped to 3/4\", a strip that splits and cups: a height of 9 1/4\" or 1' 6 1/2\" takes whole boards"
    );
}

#[test]
fn on_falling_ground_the_ripped_course_is_at_the_rim() {
    // 16 in at the high end; 8 ft x 10% = 9.6 in lower: 25.6 in, which is 6.75 + 2 x 9.25 = 25.25 and
    // a fourth course for the rest.
    let mut bed = falling(
        boards_bed("A", 8, 4, 2),
        10,
        crate::model::bed::Along::Length,
    );
    bed.height = Some(inches("16"));
    let mut job = job_of(vec![bed]);
    walls(&mut job).top = typed(TopCourse::Ripped);
    let (found, _) = taken(&job);
    assert_eq!(found.low_side_height, inches("25.6"));
    assert!(
        found.size.contains("(2 to 4 courses of 2x10"),
        "{}",
        found.size
    );
}

#[test]
fn posts_outside_stand_at_both_ends_of_each_run() {
    // Inside: 4 corners and one in the middle of each long side, 6. Outside each of 4 runs has 2 ends.
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    walls(&mut job).posts = Some(posts("4", "0"));
    let (found, _) = taken(&job);
    assert_eq!(pieces(&found, POST), ["6 x 18.5 post"]);
    walls(&mut job).posts = Some(Posts {
        side: typed(PostSide::Outside),
        ..posts("4", "0")
    });
    let (found, _) = taken(&job);
    assert_eq!(pieces(&found, POST), ["10 x 18.5 post"]);
}

#[test]
fn high_walls_have_braces_above_each_other() {
    // 8 ft at 4 ft: one place. 18.5 in is one tier of 24 in, 27.75 in are two.
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2), boards_bed("B", 8, 4, 3)]);
    walls(&mut job).braces = Some(braces("4"));
    let (low, _) = taken(&job);
    assert_eq!(work(&low, Driver::Brace), d("1"));
    job.beds.swap(0, 1);
    let (high, _) = taken(&job);
    assert_eq!(work(&high, Driver::Brace), d("2"));
    assert!(pieces(&high, BOARD).contains(&"2 x 45 brace".to_owned()));
}

#[test]
fn both_ends_of_every_piece_are_treated() {
    // 8 pieces of 1 1/2 x 9 1/4 in: 16 ends of 13.875 in2 = 222 in2.
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    walls(&mut job).end_treatment = Some(OIL);
    let (found, _) = taken(&job);
    assert_eq!(work(&found, Driver::CutEnd), d("16"));
    let Amount::Area(area) = order(&found, OIL, Part::EndTreatment) else {
        panic!("without a coverage it is needed by area")
    };
    assert_eq!(
        (area.in_square_feet() * d("144")).round_dp(6).normalize(),
        d("222")
    );
}
