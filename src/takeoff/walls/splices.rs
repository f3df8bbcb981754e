//! Where a run longer than the longest stick is joined.

use rust_decimal::Decimal;

use super::corners::Span;
use crate::units::Length;

/// Places of the joints of one course, in the order along the run.
///
/// Each part reaches to the furthest post that the longest stick allows and that is not in `avoid`;
/// where no post stands in reach, the joint comes at the end of the stick and needs a post of its own.
pub(super) fn joints(
    span: Span,
    posts: &[Length],
    longest: Option<Length>,
    avoid: &[Length],
) -> Vec<Length> {
    let Some(longest) = longest.filter(|l| *l > Length::ZERO) else {
        return Vec::new();
    };
    let mut joints = Vec::new();
    let mut at = span.from;
    while (span.to - at).tidy() > longest {
        let reach = at + longest;
        let post = posts
            .iter()
            .copied()
            .filter(|p| *p > at && *p <= reach && !near(*p, avoid))
            .max();
        at = post.unwrap_or_else(|| free_place(at, longest, avoid));
        joints.push(at);
    }
    joints
}

/// The end of a whole stick, or of a part of one where a joint to avoid stands there.
fn free_place(at: Length, longest: Length, avoid: &[Length]) -> Length {
    let parts = [
        (1, 1),
        (1, 2),
        (2, 3),
        (1, 3),
        (3, 4),
        (1, 4),
        (3, 5),
        (2, 5),
    ];
    let place = |(n, of): (i64, i64)| at + longest.times(Decimal::from(n)).split(Decimal::from(of));
    let mut places = parts.into_iter().map(place);
    let free = places.find(|p| !near(*p, avoid));
    free.unwrap_or_else(|| at + longest)
}

/// The joints of every second course: counted from the other end, and never above a joint of the first.
pub(super) fn staggered(
    span: Span,
    posts: &[Length],
    longest: Option<Length>,
    first: &[Length],
) -> Vec<Length> {
    let back = |l: Length| Length::ZERO - l;
    let mirrored = Span {
        from: back(span.to),
        to: back(span.from),
    };
    let turned = |places: &[Length]| places.iter().map(|p| back(*p)).collect::<Vec<_>>();
    let mut found = joints(mirrored, &turned(posts), longest, &turned(first));
    found.reverse();
    turned(&found)
}

/// Joints moved so that the parts at both ends are at least `least` long, and none comes to stand above
/// one of `avoid`: nobody can pin a stub of a timber.
pub(super) fn without_stubs(
    span: Span,
    mut joints: Vec<Length>,
    least: Length,
    avoid: &[Length],
) -> Vec<Length> {
    let half = least.split(Decimal::TWO);
    let off = |place: Length, more: Length| {
        if near(place, avoid) {
            place + more
        } else {
            place
        }
    };
    if let Some(first) = joints.first_mut()
        && *first - span.from < least
    {
        *first = off(span.from + least, half);
    }
    if let Some(last) = joints.last_mut()
        && span.to - *last < least
    {
        *last = off(span.to - least, Length::ZERO - half);
    }
    joints
}

/// Lengths between the ends of a span and its joints.
pub(super) fn parts(span: Span, joints: &[Length]) -> Vec<Length> {
    let mut at = span.from;
    let mut parts = Vec::with_capacity(joints.len().saturating_add(1));
    for joint in joints.iter().copied().chain([span.to]) {
        parts.push(joint - at);
        at = joint;
    }
    parts
}

/// Whether a place is one of `places`, decimal dust aside.
pub(super) fn near(place: Length, places: &[Length]) -> bool {
    let dust = Length::metres(Decimal::new(1, 9));
    places
        .iter()
        .any(|p| place - *p < dust && *p - place < dust)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn feet(places: &[i64]) -> Vec<Length> {
        places
            .iter()
            .map(|n| Length::feet(Decimal::from(*n)))
            .collect()
    }

    #[track_caller]
    fn check(run: i64, posts: &[i64], longest: i64, first: &[i64], second: &[i64]) {
        let span = Span {
            from: Length::ZERO,
            to: Length::feet(Decimal::from(run)),
        };
        let (posts, longest) = (feet(posts), Some(Length::feet(Decimal::from(longest))));
        let found = joints(span, &posts, longest, &[]);
        assert_eq!(found, feet(first));
        assert_eq!(staggered(span, &posts, longest, &found), feet(second));
    }

    #[test]
    fn joints_stand_on_posts_and_never_one_above_the_other() {
        // 20 ft of 12 ft sticks, posts every 4 ft: 12 + 8, then 8 + 12
        check(20, &[4, 8, 12, 16], 12, &[12], &[8]);
        // 16 ft with one post at 8: the next course has no other post, so it brings one at 16 - 12 = 4
        check(16, &[8], 12, &[8], &[4]);
        // 16 ft of 8 ft sticks: 8 + 8, then 4 + 8 + 4 would be joints at 4 and 12
        check(16, &[8], 8, &[8], &[4, 12]);
        // No posts at all.
        check(25, &[], 12, &[12, 24], &[1, 13]);
        check(12, &[4, 8], 12, &[], &[]);
    }

    #[test]
    fn where_half_a_stick_would_meet_a_joint_too_another_part_is_cut() {
        // 804 in with posts every 134 in, the first part short by 2 in: joints of 24 in sticks fall on
        // both the end and the half of a stick of the next course.
        let inches = |n: i64| Length::inches(Decimal::from(n));
        let span = Span {
            from: inches(2),
            to: inches(806),
        };
        let posts: Vec<Length> = (1..6).map(|i| inches(134 * i)).collect();
        let first = joints(span, &posts, Some(inches(24)), &[]);
        let second = staggered(span, &posts, Some(inches(24)), &first);
        assert!(second.iter().all(|joint| !near(*joint, &first)));
        assert!(
            parts(span, &second)
                .iter()
                .all(|part| part.tidy() <= inches(24))
        );
    }

    #[test]
    fn no_stub_is_left_at_the_end_of_a_run() {
        // 8 ft 1 in of 8 ft sticks: 96 + 1 in becomes 73 + 24, and in the next course 24 + 73.
        let inches = |n: i64| Length::inches(Decimal::from(n));
        let span = Span {
            from: Length::ZERO,
            to: inches(97),
        };
        let first = without_stubs(span, vec![inches(96)], inches(24), &[]);
        assert_eq!(first, [inches(73)]);
        let second = without_stubs(span, vec![inches(1)], inches(24), &first);
        assert_eq!(second, [inches(24)]);
        // A joint of the other course stands there already: half as much again.
        let third = without_stubs(span, vec![inches(96)], inches(24), &first);
        assert_eq!(third, [inches(61)]);
        let kept = without_stubs(span, vec![inches(48)], inches(24), &[]);
        assert_eq!(kept, [inches(48)]);
    }

    #[test]
    fn the_parts_make_up_the_run() {
        let span = Span {
            from: Length::ZERO,
            to: feet(&[20])[0],
        };
        assert_eq!(parts(span, &feet(&[12])), feet(&[12, 8]));
        assert_eq!(parts(span, &[]), feet(&[20]));
    }

    proptest! {
        #[test]
        fn no_part_is_longer_than_the_stick_and_no_joint_is_above_another(
            run in 10_i64..900, bays in 1_i64..12, longest in 24_i64..200,
        ) {
            let inches = |n: i64| Length::inches(Decimal::from(n));
            let span = Span { from: inches(2), to: inches(2 + run) };
            let bay = inches(run).split(Decimal::from(bays));
            let posts: Vec<Length> = (1..bays).map(|i| bay.times(Decimal::from(i))).collect();
            let first = joints(span, &posts, Some(inches(longest)), &[]);
            let second = staggered(span, &posts, Some(inches(longest)), &first);
            for course in [&first, &second] {
                let parts = parts(span, course);
                prop_assert_eq!(parts.iter().copied().sum::<Length>(), span.length());
                for part in parts {
                    prop_assert!(part > Length::ZERO && part.tidy() <= inches(longest));
                }
            }
            prop_assert!(second.iter().all(|joint| !near(*joint, &first)));
        }
    }
}
