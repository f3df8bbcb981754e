//! How sheets lie on a stretch of wall: side by side across their ribs, with a lap between neighbours.

use rust_decimal::Decimal;

use crate::units::{Length, round};

/// So many widths of sheet, measured across the ribs.
pub(super) type Widths = Vec<(Length, u32)>;

/// The widths that together cover `extent`: whole sheets, and what the last one is ripped to.
///
/// The first covers its width and every other its width less the lap, so n sheets cover
/// `n x width - (n - 1) x lap`. `None` when the lap eats the sheet.
pub(super) fn across(extent: Length, width: Length, lap: Length) -> Option<Widths> {
    if extent <= Length::ZERO || width <= Length::ZERO || lap >= width {
        return None;
    }
    if extent.tidy() < width.tidy() {
        return Some(vec![(extent, 1)]);
    }
    let cover = width - lap;
    let number = round::whole_up((extent - lap).ratio(cover)).max(Decimal::ONE);
    let number = u32::try_from(number).ok()?;
    let before = number.saturating_sub(1);
    let rest = extent - cover.times(Decimal::from(before));
    if rest.tidy() >= width.tidy() || before == 0 {
        return Some(vec![(width, number)]);
    }
    Some(vec![(width, before), (rest, 1)])
}

/// As few of the widths of a whole run as cover `extent` of it without laps; the last one is trimmed where it meets
/// a wall that stands already.
///
/// They are cut as for the whole run, so that a run with a part left out never takes a strip of a width that
/// the whole run does not have.
pub(super) fn part_of(widths: &Widths, extent: Length) -> Widths {
    let mut all = widths.iter().copied();
    let Some((width, most)) = all.next() else {
        return Widths::new();
    };
    let whole = round::step_down(extent.ratio(width), Decimal::ONE);
    let left = extent - width.times(whole);
    let whole = u32::try_from(whole).unwrap_or(most).min(most);
    let rest = all.find(|(rest, _)| left > Length::ZERO && left.tidy() <= rest.tidy());
    let more = u32::from(left > Length::ZERO && rest.is_none());
    let before = (width, whole.saturating_add(more).min(most));
    let parts = [Some(before), rest].into_iter().flatten();
    parts.filter(|(_, count)| *count > 0).collect()
}

/// How many sheets that is.
pub(super) fn count(widths: &Widths) -> u32 {
    let counts = widths.iter().map(|(_, count)| *count);
    counts.fold(0, u32::saturating_add)
}

/// Screws in a line of a length, one at each end and between them no further apart than `every`.
pub(super) fn in_line(length: Length, every: Length) -> Decimal {
    round::whole_up(length.ratio(every)).saturating_add(Decimal::ONE)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn inches(n: i64) -> Length {
        Length::inches(Decimal::from(n))
    }

    #[track_caller]
    fn check(extent: i64, width: i64, lap: i64, expected: &[(i64, u32)]) {
        let found = across(inches(extent), inches(width), inches(lap)).unwrap();
        let expected: Widths = expected.iter().map(|(w, n)| (inches(*w), *n)).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn sheets_cover_their_width_less_the_lap() {
        // 24 in of wall from sheets 26 in wide: one strip
        check(24, 26, 2, &[(24, 1)]);
        check(26, 26, 2, &[(26, 1)]);
        // 96 in upright: (96 - 2) / 24 = 3.9, so 4; the last has 96 - 3 x 24 = 24 in left
        check(96, 26, 2, &[(26, 3), (24, 1)]);
        // 98 in is exactly 4 x 26 - 3 x 2
        check(98, 26, 2, &[(26, 4)]);
        // Flat sheets of 48 in: 96 in are two, 100 in two and a strip of 4 in
        check(96, 48, 0, &[(48, 2)]);
        check(100, 48, 0, &[(48, 2), (4, 1)]);
        assert_eq!(across(inches(9), inches(2), inches(2)), None);
    }

    #[test]
    fn a_part_of_a_run_takes_widths_of_the_whole() {
        let check = |extent: i64, part: i64, expected: &[(i64, u32)]| {
            let all = across(inches(extent), inches(48), Length::ZERO).unwrap();
            let expected: Widths = expected.iter().map(|(w, n)| (inches(*w), *n)).collect();
            assert_eq!(part_of(&all, inches(part)), expected, "{part} of {extent}");
        };
        // 120 in are two sheets of 48 in and a strip of 24 in: of 60 in the last 12 are covered by that strip, of 80
        // the last 32 are not, and of 20 in all are.
        check(120, 120, &[(48, 2), (24, 1)]);
        check(120, 60, &[(48, 1), (24, 1)]);
        check(120, 80, &[(48, 2)]);
        check(120, 20, &[(24, 1)]);
        check(96, 96, &[(48, 2)]);
        check(96, 50, &[(48, 2)]);
        check(30, 10, &[(30, 1)]);
    }

    #[test]
    fn screws_stand_at_both_ends_of_a_line() {
        // 8 ft every 12 in: 8 spaces, 9 screws; 45 in: 4 spaces, 5 screws
        assert_eq!(in_line(inches(96), inches(12)), Decimal::from(9));
        assert_eq!(in_line(inches(45), inches(12)), Decimal::from(5));
    }

    proptest! {
        #[test]
        fn the_widths_with_their_laps_make_up_the_wall(
            extent in 1_i64..900, width in 10_i64..60, lap in 0_i64..9,
        ) {
            let found = across(inches(extent), inches(width), inches(lap)).unwrap();
            let whole: Length = found.iter().map(|(w, n)| w.times(Decimal::from(*n))).sum();
            let laps = Decimal::from(count(&found).saturating_sub(1));
            prop_assert_eq!((whole - inches(lap).times(laps)).tidy(), inches(extent).tidy());
            prop_assert!(found.iter().all(|(w, _)| *w <= inches(width)));
        }
    }
}
