//! Walls of boards: pieces, posts, caps, braces, fasteners, splices.

use rust_decimal::Decimal;

use crate::model::bed::{Measured, Shape};
use crate::model::by_hand::offer;
use crate::model::frame::Corner;
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::model::offer::{Offer, SupplierId};
use crate::problem::Severity;
use crate::takeoff::support::*;
use crate::takeoff::{Part, kinds, take_off_all};
use crate::units::{Amount, Density, Length};

fn count(amount: Amount) -> Decimal {
    match amount {
        Amount::Count(n) => n.normalize(),
        other => panic!("{other:?} is no count"),
    }
}

/// The job sells this material in sticks of so many feet.
fn sold(job: &mut Job, material: crate::model::material::MaterialId, feet: &str) {
    let sticks = Amount::Length(ft(feet));
    job.offers.push(Offer {
        at: at(200),
        ..offer(SupplierId(0), material, "board", sticks)
    });
}

#[test]
fn a_plain_four_by_eight() {
    // Two courses of 9 1/4 in on a 4 x 8 ft outline, butt corners, posts at 4 ft, screws by threes.
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    walls(&mut job).posts = Some(posts("4", "0"));
    walls(&mut job).fastener = Some(SCREW);
    let (found, steps) = taken(&job);
    assert_eq!(found.problems, []);
    assert_eq!(
        found.size,
        "8' x 4' outside, 1' 6 1/2\" high (2 courses of 2x10)"
    );
    // The diagonal is the root of 96 x 96 + 48 x 48 = 107.331 in.
    assert_eq!(
        found.crew_notes,
        [
            "level the ground where the walls stand; it is square when both diagonals measure 8' 11 5/16\"",
            "cut 4 x 8' + 4 x 3' 9\" of Board 2x10",
            "cut posts of Post 4x4: 6 x 1' 6 1/2\"; standing on the ground",
            "stand 2 courses with the rim level: the long sides run through; 3 of Screw in each board end",
        ]
    );
    assert_eq!(found.wall_height, inches("18.5"));
    assert_eq!(found.outside_area.in_square_feet(), d("32"));
    assert_eq!(found.inside_area.in_square_feet(), d("29.0625"));
    // Long sides run through; the short ones are 48 - 2 x 1.5 = 45 in.
    assert_eq!(
        pieces(&found, BOARD),
        ["4 x 96 long side", "4 x 45 short side"]
    );
    // Four corners and one in the middle of each long side.
    assert_eq!(pieces(&found, POST), ["6 x 18.5 post"]);
    assert_eq!(work(&found, Driver::PostInside), d("6"));
    assert_eq!(work(&found, Driver::CornerJoint), d("8"));
    assert_eq!(work(&found, Driver::Board), d("8"));
    assert_eq!(work(&found, Driver::Cut), d("14"));
    // Held ends: 4 runs x 2 ends x 2 courses = 16, and 2 middle posts x 2 courses = 4; 20 x 3 = 60, + 5%
    assert_eq!(count(order(&found, SCREW, Part::Fastener)), d("63"));
    // 4 x 96 + 4 x 45 = 564 in = 47 ft; no waste on what is cut from a list.
    assert_eq!(order(&found, BOARD, Part::Board), Amount::Length(ft("47")));
    let step = |what: &str| steps.last(what).unwrap().to_string();
    assert_eq!(
        step("length of boards"),
        "length of boards = 4 x 8' + 4 x 3' 9\" = 47'"
    );
    assert_eq!(step("posts"), "posts = 6 x 1' 6 1/2\" = 6");
    assert_eq!(
        step("fasteners"),
        "fasteners = (20 board ends x 3 + 0 cap ends x 2) x 1.05 = 63"
    );
    assert_eq!(
        steps.last("inside length").unwrap().to_string(),
        "inside length = 8' - 2 x 1 1/2\" = 7' 9\""
    );
}

#[test]
fn dressed_not_nominal_sizes_fill_the_bed() {
    // 93 x 45 in x 18.5 in = 44.805 ft3 = 1.6594 yd3; nominal 8 x 4 x 20 in says 53.333 ft3.
    let (found, _) = taken(&job_of(vec![boards_bed("A", 8, 4, 2)]));
    let volume = found.layers[0].volume;
    assert_eq!(volume.in_cubic_feet().round_dp(3), d("44.805"));
    assert_eq!(volume.in_cubic_yards().round_dp(4), d("1.6594"));
    let nominal = (ft("8") * ft("4")).filled_to(inches("20"));
    assert_eq!(
        nominal.in_cubic_feet().round_dp(3),
        d("53.333"),
        "the naive answer"
    );
    assert!(volume.times(d("1.19")) < nominal);
}

#[test]
fn walls_weigh_what_their_boards_do_where_that_is_known() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    let (found, _) = taken(&job);
    assert!(found.wall_weight.is_zero());
    // 4 x 96 + 4 x 45 = 564 in of 9.25 x 1.5 in = 7825.5 in3 = 4.5286 ft3; at 27 lb/ft3 that is 122.27 lb.
    job.materials[BOARD.index()].delivered = Some(typed(Density::pounds_per_cubic_yard(d("729"))));
    let (found, _) = taken(&job);
    assert_eq!(found.wall_weight.in_pounds().round_dp(2), d("122.27"));
}

#[test]
fn caps_braces_and_their_screws() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    let frame = walls(&mut job);
    frame.cap = Some(CAP);
    frame.braces = Some(braces("4"));
    frame.fastener = Some(SCREW);
    let (found, _) = taken(&job);
    assert_eq!(found.problems, []);
    // Mitred at the outside: 2 x 96 and 2 x 48.
    assert_eq!(pieces(&found, CAP), ["2 x 96 cap", "2 x 48 cap"]);
    assert_eq!(work(&found, Driver::CapLength), ft("24").in_metres());
    // ceil(8/4) - 1 = 1 brace between the long sides.
    assert!(pieces(&found, BOARD).contains(&"1 x 45 brace".to_owned()));
    // 16 corner ends + 2 brace ends = 18 x 3 = 54; 8 cap ends x 2 = 16; 70 x 1.05 = 73.5
    assert_eq!(count(order(&found, SCREW, Part::Fastener)), d("73.5"));
    assert_eq!(
        order(&found, BOARD, Part::Brace),
        Amount::Length(inches("45"))
    );
    assert_eq!(order(&found, BOARD, Part::Board), Amount::Length(ft("47")));
}

#[test]
fn long_runs_are_spliced_on_posts_and_staggered() {
    // 20 x 4 ft, sticks of at most 12 ft, posts at 4, 8, 12 and 16: 12 + 8, then 8 + 12.
    let mut job = job_of(vec![boards_bed("A", 20, 4, 2)]);
    sold(&mut job, BOARD, "8");
    sold(&mut job, BOARD, "12");
    walls(&mut job).posts = Some(posts("4", "0"));
    walls(&mut job).fastener = Some(SCREW);
    let (found, _) = taken(&job);
    assert_eq!(found.problems, []);
    assert_eq!(
        pieces(&found, BOARD),
        ["4 x 144 long side", "4 x 96 long side", "4 x 45 short side"]
    );
    // Corners 4, and 4 along each long side.
    assert_eq!(pieces(&found, POST), ["12 x 18.5 post"]);
    // Long: 2 ends x 2 + 4 posts x 2 + 2 splices = 14 each; short: 4 each; 36 x 3 = 108, + 5%
    assert_eq!(count(order(&found, SCREW, Part::Fastener)), d("113.4"));
}

#[test]
fn a_splice_without_a_post_brings_one_or_is_a_caution() {
    // 16 x 4 ft, sticks of 12 ft, posts at 8 ft: the first course joins at 8; the second must not, and
    // gets a post at 16 - 12 = 4.
    let mut job = job_of(vec![boards_bed("A", 16, 4, 2)]);
    sold(&mut job, BOARD, "12");
    walls(&mut job).posts = Some(posts("8", "0"));
    let (found, _) = taken(&job);
    assert_eq!(
        pieces(&found, BOARD),
        [
            "2 x 144 long side",
            "4 x 96 long side",
            "2 x 48 long side",
            "4 x 45 short side"
        ]
    );
    // 4 corners, 2 in the middles, 2 added.
    assert_eq!(pieces(&found, POST), ["8 x 18.5 post"]);
    let added =
        "runs longer than the longest stick are spliced on posts, and 2 posts are added for that";
    assert_eq!(told(&found), [("Frame", 1, added)]);
    // One course has nothing to stagger.
    job.beds[0].courses = Some(1);
    let (found, _) = taken(&job);
    assert_eq!(pieces(&found, POST), ["6 x 9.25 post"]);
    assert_eq!(found.problems, []);
    // Without posts.
    walls(&mut job).posts = None;
    let (found, _) = taken(&job);
    assert_eq!(told(&found)[0].0, "Post material");
    assert_eq!(found.problems[0].severity, Severity::Caution);
}

#[test]
fn an_l_is_built_round_its_notch() {
    // 8 x 7 ft less 5 x 4 ft: sides 96, 36, 60, 48, 36, 84 in, the corner between 60 and 48 is inner.
    // Each gives up 1.5 in at its start but the 48; the 60 runs 1.5 past the inner corner.
    let shape = Shape::L {
        length: ft("8"),
        width: ft("7"),
        notch_length: ft("5"),
        notch_width: ft("4"),
    };
    let mut one = bed("A", shape);
    one.courses = Some(1);
    let mut job = job_of(vec![one]);
    walls(&mut job).posts = Some(posts("10", "0"));
    walls(&mut job).braces = Some(braces("4"));
    let (found, _) = taken(&job);
    assert_eq!(
        pieces(&found, BOARD),
        [
            "1 x 94.5 side",
            "1 x 82.5 side",
            "1 x 60 side",
            "1 x 48 side",
            "2 x 34.5 side"
        ]
    );
    assert_eq!(pieces(&found, POST), ["6 x 9.25 post"]);
    // Inside: 93 x 81 - 60 x 48 = 4653 in2
    assert_eq!(found.inside_area.in_square_feet().round_dp(6), d("32.3125"));
    assert_eq!(
        told(&found),
        [(
            "Brace every",
            100,
            "braces are counted for rectangular beds only: beds of other shapes with frame Plain get none"
        )]
    );
}

#[test]
fn a_mitred_octagon() {
    let mut one = bed(
        "A",
        Shape::Regular {
            sides: 8,
            side: ft("2"),
        },
    );
    one.courses = Some(2);
    let mut job = job_of(vec![one]);
    walls(&mut job).corner = typed(Corner::Mitre);
    let (found, _) = taken(&job);
    assert_eq!(pieces(&found, BOARD), ["16 x 24 side"]);
    assert_eq!(
        found.size,
        "8 sides of 2' outside, 1' 6 1/2\" high (2 courses of 2x10)"
    );
    // 2 (1 + sqrt 2) 4 = 19.3137 ft2
    assert_eq!(
        found.outside_area.in_square_feet().round_dp(4),
        d("19.3137")
    );
}

#[test]
fn boards_cannot_follow_a_curve() {
    let mut round = bed("A", Shape::Circle { diameter: ft("6") });
    round.courses = Some(2);
    let (found, _) = taken(&job_of(vec![round]));
    assert_eq!(
        told(&found),
        [(
            "Frame",
            1,
            "boards cannot follow a curve, and frame Plain is of kind boards"
        )]
    );
    let hint = found.problems[0].hint.as_deref().unwrap();
    assert!(hint.contains("ready-made, stone or none"), "{hint}");
    assert!(found.pieces.is_empty());
}

#[test]
fn a_wall_that_eats_the_bed_is_a_problem() {
    let mut thin = boards_bed("A", 8, 1, 2);
    thin.shape = Shape::Rectangle {
        length: ft("8"),
        width: inches("3"),
    };
    let (found, _) = taken(&job_of(vec![thin.clone()]));
    let (field, _, words) = told(&found)[0];
    assert_eq!(field, "Width");
    assert!(words.starts_with("the wall eats the bed"), "{words}");
    // Measured inside, 3 in is narrow but there.
    thin.measured = Measured::Inside;
    let (found, _) = taken(&job_of(vec![thin]));
    assert_eq!(found.problems, []);
    assert_eq!(
        pieces(&found, BOARD),
        ["4 x 99 long side", "4 x 3 short side"]
    );
}

#[test]
fn a_crossing_outline_is_a_problem_of_its_points() {
    let points = [("0", "0"), ("4", "4"), ("4", "0"), ("0", "4")];
    let points = points.iter().map(|(x, y)| (ft(x), ft(y))).collect();
    let mut tie = bed("A", Shape::Polygon { points });
    tie.courses = Some(1);
    let (found, _) = taken(&job_of(vec![tie]));
    assert_eq!(told(&found)[0].0, "Points");
    assert_eq!(found.problems[0].severity, Severity::Error);
}

#[test]
fn boards_without_a_section_are_a_problem_of_the_frame() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    job.materials[0].section = None;
    let (found, _) = taken(&job);
    assert_eq!(
        told(&found),
        [(
            "Material",
            100,
            "Board 2x10 has no section, so no wall can be built of it in courses"
        )]
    );
}

#[test]
fn metric_and_customary_entry_of_one_bed_agree() {
    let customary = boards_bed("A", 8, 4, 2);
    let mut metric = customary.clone();
    metric.shape = Shape::Rectangle {
        length: Length::millimetres(d("2438.4")),
        width: Length::metres(d("1.2192")),
    };
    let job = job_of(vec![customary, metric]);
    let kinds = kinds(&job);
    assert_eq!(kinds.kinds.len(), 1, "they are one kind");
    let found = take_off_all(&job, &kinds);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].inside_area.in_square_feet(), d("29.0625"));
}

#[test]
fn a_hundred_thousand_beds_are_sorted_into_their_kinds() {
    let beds = (0_i64..100_000).map(|i| boards_bed(&format!("B{i:06}"), 4 + i % 30, 4, 2));
    let job = job_of(beds.collect());
    let kinds = kinds(&job);
    assert_eq!(kinds.kinds.len(), 30);
    assert_eq!(take_off_all(&job, &kinds).len(), 30);
    assert_eq!(kinds.of_bed[31].0, kinds.of_bed[1].0);
}
