//! Whatever a row holds within the limits of reading, and a little beyond, a take-off comes back.

use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::model::bed::{Along, Bed, KeyholePath, Measured, Shape};
use crate::model::by_hand;
use crate::model::fill::Depth;
use crate::model::frame::{Braces, Corner, Posts};
use crate::model::settings::FullAfter;
use crate::takeoff::solids::heap;
use crate::takeoff::support::*;
use crate::units::{Area, Length, Volume};

fn any_length() -> impl Strategy<Value = Length> {
    let odd = [
        "-1",
        "0",
        "0.0000000000000000000000000001",
        "0.000001",
        "0.0381",
        "1",
        "3.3333",
        "1000",
    ];
    let odd: Vec<Length> = odd.iter().map(|n| Length::metres(d(n))).collect();
    prop_oneof![
        prop::sample::select(odd),
        (1_i64..100_000).prop_map(|n| Length::millimetres(Decimal::from(n))),
    ]
}

fn any_shape() -> impl Strategy<Value = Shape> {
    let l = any_length;
    prop_oneof![
        (l(), l()).prop_map(|(length, width)| Shape::Rectangle { length, width }),
        (l(), l()).prop_map(|(length, width)| Shape::Triangle { length, width }),
        (l(), l()).prop_map(|(length, width)| Shape::Ellipse { length, width }),
        (l(), l()).prop_map(|(length, width)| Shape::RoundEnded { length, width }),
        (l(), l(), l(), l()).prop_map(|(length, width, notch_length, notch_width)| Shape::L {
            length,
            width,
            notch_length,
            notch_width
        }),
        (l(), l(), l(), l()).prop_map(|(length, width, notch_length, notch_width)| Shape::U {
            length,
            width,
            notch_length,
            notch_width
        }),
        (l(), l(), l()).prop_map(|(length, side, width)| Shape::Trapezoid {
            length,
            side,
            width
        }),
        (0_u32..500, l()).prop_map(|(sides, side)| Shape::Regular { sides, side }),
        l().prop_map(|radius| Shape::QuarterCircle { radius }),
        (l(), l(), l()).prop_map(|(diameter, basket, width)| Shape::Keyhole {
            diameter,
            basket,
            path: KeyholePath::Strip(width)
        }),
        prop::collection::vec((l(), l()), 0..8).prop_map(|points| Shape::Polygon { points }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn no_row_stops_the_take_off(
        shape in any_shape(),
        height in prop::option::of(any_length()),
        courses in prop::option::of(prop::sample::select(vec![0, 1, 3, 200, u32::MAX])),
        fall in prop::option::of(-10_i64..150),
        kind in 0_usize..3,
        rule in prop::sample::select(vec![Corner::Butt, Corner::Mitre, Corner::Lapped]),
        (spacing, depth, inside) in (any_length(), any_length(), any::<bool>()),
    ) {
        let mut one = Bed { height, courses, ..bed("A", shape) };
        if inside {
            one.measured = Measured::Inside;
        }
        if let Some(fall) = fall {
            one = falling(one, fall, Along::Length);
        }
        let mut job = job_of(vec![one]);
        let built = walls(&mut job);
        built.corner = typed(rule);
        built.posts = Some(Posts { spacing: typed(spacing), ..posts("1", "12") });
        built.cap = Some(CAP);
        built.fastener = Some(SCREW);
        built.braces = Some(Braces { every: typed(spacing), ..braces("4") });
        let frame = &mut job.frames[0];
        frame.wall = [frame.wall.clone(), by_hand::unit(TUB), by_hand::mound()][kind].clone();
        frame.mesh = Some(MESH);
        frame.liner = Some(LINER);
        frame.finish = Some(OIL);
        job.settings.full_after = typed(FullAfter::FirstSeason);
        job.materials[MESH.index()].roll_width = Some(typed(spacing));
        layers(&mut job, &[(LOGS, Depth::Fixed(depth)), (CARD, Depth::Sheets(2)), (SOIL, Depth::Rest)]);
        let (found, _) = taken(&job);
        prop_assert!(found.inside_area >= Area::ZERO);
        prop_assert!(found.inside_area <= found.outside_area);
        prop_assert!(found.pieces.iter().all(|p| p.length > Length::ZERO && p.count > 0));
        // Whatever went wrong with the walls was told.
        let nothing = found.needs.is_empty();
        prop_assert!(!nothing || !found.problems.is_empty());
        prop_assert!(found.top_up >= Volume::ZERO);
    }
}

#[test]
fn the_greatest_heap_has_a_size() {
    let (radius, height) = heap(Volume::cubic_metres(d("1000000")), d("35"));
    assert!(radius > height && height > Length::ZERO);
    assert_eq!(heap(Volume::ZERO, d("35")).0, Length::ZERO);
}
