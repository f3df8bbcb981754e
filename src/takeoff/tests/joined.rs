//! Walls that two beds have in common.

use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::model::bed::{BedId, Join};
use crate::model::frame::{Corner, Laid};
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::model::{by_hand, frame::Wall};
use crate::takeoff::support::*;
use crate::takeoff::trace::Steps;
use crate::takeoff::{Part, TakeOff, take_off};
use crate::units::{Amount, Length};

/// Beds A and B alike, joined over a length that A bears.
fn pair(length: i64, width: i64, joined: Length) -> Job {
    let mut job = job_of(vec![
        boards_bed("A", length, width, 2),
        boards_bed("B", length, width, 2),
    ]);
    for (bed, with, bears) in [(0, 1, true), (1, 0, false)] {
        job.beds[bed].joins = vec![Join {
            with: BedId(with),
            length: joined,
            bears,
        }];
    }
    job
}

/// The take-offs of beds A and B.
fn both(job: &Job) -> [TakeOff; 2] {
    [0, 1].map(|i| take_off(job, &job.beds[i], &mut Steps::default()))
}

/// The take-off of the same bed alone.
fn alone(job: &Job) -> TakeOff {
    let mut job = job.clone();
    job.beds[1].joins.clear();
    both(&job)[1].clone()
}

#[test]
fn the_second_bed_leaves_the_wall_out() {
    let mut job = pair(8, 4, ft("8"));
    walls(&mut job).posts = Some(posts("4", "0"));
    walls(&mut job).cap = Some(CAP);
    let [a, b] = both(&job);
    assert_eq!((&a.problems[..], &b.problems[..]), (&[][..], &[][..]));
    // A as it is alone: 2 courses of 2 long and 2 short sides, 45 in between boards of 1 1/2 in.
    assert_eq!(pieces(&a, BOARD), ["4 x 96 long side", "4 x 45 short side"]);
    assert_eq!(pieces(&b, BOARD), ["2 x 96 long side", "4 x 45 short side"]);
    // 4 corners and the middles of the long sides at 4 ft; without those of one long side 3 remain.
    assert_eq!(pieces(&a, POST), ["6 x 18.5 post"]);
    assert_eq!(pieces(&b, POST), ["3 x 18.5 post"]);
    assert_eq!(pieces(&b, CAP), ["1 x 96 cap", "2 x 48 cap"]);
    // Every end that meets the wall is fastened to it: the corner joints stay.
    assert_eq!(work(&b, Driver::CornerJoint), d("8"));
    assert_eq!(work(&b, Driver::CapLength), ft("16").in_metres());
    // The fill knows nothing of it.
    assert_eq!(a.inside_area, b.inside_area);
    assert_eq!(
        a.size,
        "8' x 4' outside, 1' 6 1/2\" high (2 courses of 2x10), 8' shared with B"
    );
    assert!(
        b.crew_notes
            .last()
            .unwrap()
            .contains("no wall of 8' beside A")
    );
}

#[test]
fn a_part_of_a_side_is_left_out_from_its_start() {
    let [_, b] = both(&pair(8, 4, ft("3")));
    // A short side of 48 in less 36 in, which also stood between boards: 48 - 1.5 - 36 = 10.5 in.
    assert_eq!(
        pieces(&b, BOARD),
        [
            "4 x 96 long side",
            "2 x 45 short side",
            "2 x 10.5 short side"
        ]
    );
}

#[test]
fn a_shared_wall_longer_than_any_side_is_an_error() {
    let [a, b] = both(&pair(8, 4, ft("9")));
    for found in [&a, &b] {
        let (field, _, sentence) = told(found)[0];
        assert_eq!(field, "Joins");
        assert!(sentence.contains("the longest is 8'"), "{sentence}");
    }
}

#[test]
fn blocks_are_left_out_whole() {
    let mut job = pair(8, 4, ft("8"));
    job.frames[0] = frame("Blocks", by_hand::blocks(BLOCK, Laid::Dry));
    let [a, b] = both(&job);
    let blocks = |found: &TakeOff| match order(found, BLOCK, Part::Block) {
        Amount::Count(n) => n,
        other => panic!("{other:?}"),
    };
    // 96 in are 6 blocks of 15 5/8 in and a piece, in either course: 2 courses of at least 6.
    assert!(
        blocks(&a) - blocks(&b) >= d("12"),
        "{} {}",
        blocks(&a),
        blocks(&b)
    );
    assert_eq!(a.inside_area, b.inside_area);
}

/// A frame of boards, or of blocks.
fn wall_of(kind: u8) -> Wall {
    match kind {
        0 => by_hand::boards(BOARD),
        1 => by_hand::blocks(BLOCK, Laid::Dry),
        _ => by_hand::blocks(SEGMENTAL, Laid::Dry),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_joined_bed_never_takes_more_than_alone(
        length in 3_i64..24, width in 3_i64..12, inches in 6_i64..300, kind in 0_u8..3, rule in 0_u8..3,
    ) {
        let joined = Length::inches(Decimal::from(inches.min(12 * length.max(width))));
        let mut job = pair(length, width, joined);
        job.frames[0] = frame("F", wall_of(kind));
        if kind == 0 {
            let wall = walls(&mut job);
            wall.corner = typed([Corner::Butt, Corner::Mitre, Corner::Lapped][usize::from(rule)]);
            wall.posts = Some(posts("4", "0"));
            wall.cap = Some(CAP);
            wall.fastener = Some(SCREW);
        }
        let (apart, [_, joined]) = (alone(&job), both(&job));
        for need in &joined.needs {
            let before = apart.needs.iter().find(|n| (n.material, n.part) == (need.material, need.part));
            prop_assert!(before.is_some_and(|n| n.order.base() >= need.order.base()), "{need:?}");
        }
        for (driver, quantity) in &joined.work {
            prop_assert!(*quantity <= work(&apart, *driver), "{driver:?}");
        }
        prop_assert_eq!(joined.layers.len(), apart.layers.len());
        prop_assert_eq!(joined.fill_height, apart.fill_height);
    }

    #[test]
    fn a_long_side_in_common_saves_its_boards(length in 5_i64..20, width in 3_i64..5) {
        let whole = Length::feet(Decimal::from(length));
        let job = pair(length, width, whole);
        let boards = |found: &TakeOff| order(found, BOARD, Part::Board).base();
        let (apart, [_, joined]) = (alone(&job), both(&job));
        // Two courses of one long side.
        let saved = boards(&apart) - boards(&joined);
        prop_assert_eq!(saved.round_dp(9), whole.times(Decimal::TWO).in_metres().round_dp(9));
    }
}
