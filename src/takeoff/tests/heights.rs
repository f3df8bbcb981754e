//! How high walls are, on level and on falling ground.

use crate::model::bed::{Along, Bed};
use crate::model::labour::Driver;
use crate::problem::Severity;
use crate::takeoff::TakeOff;
use crate::takeoff::support::*;

fn only_notices(found: &TakeOff) {
    assert!(
        found
            .problems
            .iter()
            .all(|p| p.severity == Severity::Notice),
        "{:?}",
        found.problems
    );
}

#[test]
fn an_asked_height_is_met_in_whole_courses_and_said() {
    let asked = |height: &str| {
        let bed = Bed {
            courses: None,
            height: Some(inches(height)),
            ..boards_bed("A", 8, 4, 2)
        };
        let (found, _) = taken(&job_of(vec![bed]));
        only_notices(&found);
        let words = told(&found).first().map_or("", |t| t.2).to_owned();
        (found.courses, found.wall_height.in_inches(), words)
    };
    // 18 in is less than 2 x 9.25 and more than one course.
    let (courses, height, words) = asked("18");
    assert_eq!((courses, height), (2, d("18.5")));
    assert_eq!(
        words,
        "a height of 1' 6\" takes 2 courses of 2x10, whose true face is 9 1/4\": the wall is 1' 6 1/2\" high"
    );
    // 20 in is two nominal tens: two boards, though three would be needed to reach it.
    let (courses, height, words) = asked("20");
    assert_eq!((courses, height), (2, d("18.5")));
    assert_eq!(
        words,
        "a height of 1' 8\" is 2 courses of nominal 2x10, whose true face is 9 1/4\": the wall is 1' 6 1/2\" high"
    );
    assert_eq!(asked("10").0, 1);
    assert_eq!(asked("24").0, 3);
    assert_eq!(asked("40").0, 4, "four tens, though five boards reach it");
    // What the boards really give needs no words.
    assert_eq!(asked("18.5"), (2, d("18.5"), String::new()));
    // 47 cm are 18.504 in: no tape shows the third course that 0.004 in would ask for.
    assert_eq!(asked("18.504"), (2, d("18.5"), String::new()));
    // 1/16 in still counts as reached, 1/8 in does not.
    assert_eq!(asked("18.5625").0, 2);
    assert_eq!(asked("18.625").0, 3);
}

#[test]
fn courses_win_over_height_and_it_is_said() {
    let bed = Bed {
        height: Some(inches("30")),
        ..boards_bed("A", 8, 4, 2)
    };
    let (found, _) = taken(&job_of(vec![bed]));
    assert_eq!(found.wall_height, inches("18.5"));
    let expected =
        "Height says 2' 6\" and Courses says 2: Courses wins, and the wall is 1' 6 1/2\" high";
    assert_eq!(told(&found), [("Height", 1, expected)]);
}

#[test]
fn a_bed_without_height_or_with_absurd_courses_names_its_cell() {
    let mut bed = boards_bed("A", 8, 4, 2);
    bed.courses = None;
    let (found, _) = taken(&job_of(vec![bed.clone()]));
    assert_eq!(
        told(&found),
        [("Height", 1, "a bed with walls needs its height")]
    );
    assert!(found.layers.is_empty());
    bed.courses = Some(0);
    let (found, _) = taken(&job_of(vec![bed.clone()]));
    assert_eq!(told(&found)[0].0, "Courses");
    bed.courses = Some(u32::MAX);
    let (found, _) = taken(&job_of(vec![bed]));
    assert_eq!(told(&found)[0].0, "Courses");
}

#[test]
fn falling_ground_makes_the_low_side_taller() {
    // 8 ft falling 10%: 18.5 + 9.6 = 28.1 in on the low side, which takes 4 courses (3 reach 27.75).
    let bed = falling(boards_bed("A", 8, 4, 2), 10, Along::Length);
    let mut job = job_of(vec![bed]);
    walls(&mut job).posts = Some(posts("4", "12"));
    let (found, steps) = taken(&job);
    assert_eq!(found.problems, []);
    assert_eq!(found.wall_height, inches("18.5"));
    assert_eq!(found.low_side_height, inches("28.1"));
    assert_eq!(
        found.size,
        "8' x 4' outside, 1' 6 1/2\" high, 2' 4 1/8\" on the low side (2 to 4 courses of 2x10)"
    );
    // Both sides 4 courses; the low end 4, the high end 2.
    assert_eq!(
        pieces(&found, BOARD),
        ["8 x 96 long side", "6 x 45 short side"]
    );
    // 12 in buried: corners 30.5 and 40.1, half way 18.5 + 4.8 + 12 = 35.3.
    assert_eq!(
        pieces(&found, POST),
        ["2 x 40.1 post", "2 x 35.3 post", "2 x 30.5 post"]
    );
    assert_eq!(work(&found, Driver::PostSet), d("6"));
    assert_eq!(work(&found, Driver::PostInside), d("0"));
    // 4 corners x 2 courses, 2 low corners x 2 more.
    assert_eq!(work(&found, Driver::CornerJoint), d("12"));
    // Filled to the mean, (18.5 + 28.1)/2 = 23.3 in; what is buried never counts.
    assert_eq!(found.fill_height, inches("23.3"));
    let fill = found.layers[0].volume;
    assert_eq!(
        fill.in_cubic_feet().round_dp(4),
        d("56.4297"),
        "29.0625 x 23.3/12"
    );
    let low = steps.last("wall height on the low side").unwrap();
    assert_eq!(low.arithmetic, "1' 6 1/2\" + 10% x 8'");
    // Along the width the fall is half as long: 18.5 + 4.8 = 23.3, 3 courses, on a long side.
    let across = falling(boards_bed("A", 8, 4, 2), 10, Along::Width);
    let (found, _) = taken(&job_of(vec![across]));
    assert_eq!(
        pieces(&found, BOARD),
        ["5 x 96 long side", "6 x 45 short side"]
    );
}
