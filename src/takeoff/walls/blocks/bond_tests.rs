use proptest::prelude::*;

use super::*;
use crate::takeoff::geometry::Figure;
use crate::units::by_hand::{d, inches};

/// A block of 8x8x16, in joints of 3/8 in or dry, with 3/16 in of play in a joint.
fn eight(joint: &str) -> Unit {
    Unit {
        length: inches("15.625"),
        half: inches("7.625"),
        depth: inches("7.625"),
        joint: inches(joint),
        play: inches("0.1875"),
    }
}

fn rectangle(length: &str, width: &str) -> Vec<Run> {
    let (length, width) = (inches(length), inches(width));
    Figure::Rectangle { length, width }.runs().unwrap()
}

fn course(whole: u32, half: u32, cut: u32) -> Course {
    let saw = cut;
    Course {
        whole,
        half,
        cut,
        saw,
    }
}

#[test]
fn a_run_is_filled_with_whole_blocks_then_a_half_then_a_cut_piece() {
    let dry = eight("0");
    // 6 x 15.625 = 93.75
    assert_eq!(dry.fit(inches("93.75"), 0), Some(course(6, 0, 0)));
    // Five joints of 3/16 in take up 15/16 in, and no more.
    assert_eq!(dry.fit(inches("94.6875"), 0), Some(course(6, 0, 0)));
    // 5 x 15.625 + 7.625 = 85.75
    assert_eq!(dry.fit(inches("85.75"), 0), Some(course(5, 1, 0)));
    // 5 x 15.625 = 78.125 leave a piece of 10.25 in.
    assert_eq!(dry.fit(inches("88.375"), 1), Some(course(5, 0, 1)));
    // 2.25 in beyond 6 blocks would be a sliver: 5 blocks and two pieces of 8.9375 in.
    assert_eq!(dry.fit(inches("96"), 0), Some(course(5, 0, 2)));
    assert_eq!(dry.fit(inches("3"), 0), Some(course(0, 0, 1)));
    assert_eq!(dry.fit(Length::ZERO, 0), None);
}

#[test]
fn mortar_gives_and_takes_a_little_in_every_joint() {
    let mortared = eight("0.375");
    // Six blocks and five joints are 95.625 in; with the joint that `room` counts on top, 96.
    for room in ["95.1", "96", "96.9"] {
        assert_eq!(
            mortared.fit(inches(room), 0),
            Some(course(6, 0, 0)),
            "{room}"
        );
    }
    // 16 x 5 + 8 = 88
    assert_eq!(mortared.fit(inches("88"), 1), Some(course(5, 1, 0)));
}

#[test]
fn corners_turn_so_that_the_fewest_blocks_are_cut() {
    let unit = eight("0.375");
    // 8 x 4 ft: long sides through (6), short ones between ((48 - 16) / 16 = 2), and then the other way round.
    let bond = bond(&unit, &rectangle("96", "48"), 2).unwrap();
    let counts = |all: &[Course]| all.iter().map(|c| c.whole).collect::<Vec<_>>();
    assert_eq!(counts(&bond.first), [6, 2, 6, 2]);
    assert_eq!(counts(&bond.second), [5, 3, 5, 3]);
    // 88 x 40 in: through or between would need a half on each side; passing one corner needs none: 80 / 16 = 5.
    let turned = super::bond(&unit, &rectangle("88", "40"), 2).unwrap();
    assert_eq!(counts(&turned.first), [5, 2, 5, 2]);
    assert_eq!(turned.over(2).half, 0);
    // 6x8x16 in mortar turns corners by 6 in: between two corners 96 - 12 = 84 in are 5 blocks and a piece of 4 in,
    // so two pieces a course.
    let depth = inches("5.625");
    let six = Unit { depth, ..unit };
    let bond = super::bond(&six, &rectangle("96", "48"), 2).unwrap();
    assert_eq!(bond.over(2).cut, 4);
}

#[test]
fn a_bed_smaller_than_its_walls_has_no_bond() {
    assert_eq!(bond(&eight("0"), &rectangle("15", "7"), 2), None);
}

proptest! {
    /// Blocks fill a run without gaps wider than the play, and never stick out.
    #[test]
    fn what_fits_is_as_long_as_the_run(eighths in 64_i64..4_000, butts in 0_u32..3) {
        let unit = eight("0");
        let room = Length::inches(Decimal::new(eighths * 125, 3));
        let found = unit.fit(room, butts).unwrap();
        prop_assert!(found.cut <= 2 && found.half <= 1);
        let laid = unit.length.times(Decimal::from(found.whole))
            + unit.half.times(Decimal::from(found.half));
        let left = room - laid;
        if found.cut == 0 {
            let joints = Decimal::from(found.units() + butts) - Decimal::ONE;
            prop_assert!(left >= Length::ZERO && left <= unit.play.times(joints) + inches("0.001"));
        } else {
            // Cut pieces are a quarter of a block or longer, and never longer than a block.
            let piece = left.split(Decimal::from(found.cut));
            prop_assert!(piece <= unit.length);
            prop_assert!(piece.times(d("4")) >= unit.length || found.whole == 0);
        }
    }

    /// The bond covers the middle line of the wall: blocks x 16 in are its length but for what is cut.
    #[test]
    fn whole_beds_take_their_middle_line(halves in 4_u32..40, others in 4_u32..40) {
        let unit = eight("0.375");
        let length = |n: u32| (Decimal::from(n * 8) - d("0.375")).to_string();
        let bond = bond(&unit, &rectangle(&length(halves), &length(others)), 2).unwrap();
        let both = bond.over(2);
        prop_assert_eq!(both.cut, 0);
        // 2 (L + W) - 4 x 8 in nominal, twice, in blocks of 16 in.
        let middle = Decimal::from(2 * (halves + others) * 8 - 32) * Decimal::TWO;
        prop_assert_eq!(both.bulk() * d("16"), middle);
    }
}
