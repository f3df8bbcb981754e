//! Fills: depths, infill, sheets, amendments, weight.

use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::model::bed::{Base, Shape};
use crate::model::fill::{Amendment, Depth, Rate};
use crate::model::known::Known;
use crate::model::labour::Driver;
use crate::problem::Severity;
use crate::takeoff::support::*;
use crate::takeoff::{Part, TakeOff};
use crate::units::{Amount, Length, Volume, Weight};

fn depths(found: &TakeOff) -> Vec<Decimal> {
    let inches = |l: &crate::takeoff::LayerTakeOff| l.depth.in_inches().round_dp(6).normalize();
    found.layers.iter().map(inches).collect()
}

#[test]
fn soil_runs_into_the_wood_below_it() {
    // 6 in of logs, 6 in of soil on 32 ft2: 16 ft3 each. Void 40%, half of it filled: 16 x 0.2 = 3.2 ft3.
    let mut job = tub("12");
    let half = Depth::Fixed(inches("6"));
    layers(&mut job, &[(LOGS, half), (SOIL, Depth::Rest)]);
    let (found, _) = taken(&job);
    assert_eq!(feet3(found.layers[1].infill), d("3.2"));
    assert_eq!(found.layers[0].infill, Volume::ZERO);
    // (16 + 3.2) / 0.9 = 21.333; forgetting it orders 17.778.
    assert_eq!(cubic_feet(order(&found, SOIL, Part::Layer(1))), d("21.333"));
    assert_eq!(cubic_feet(order(&found, LOGS, Part::Layer(0))), d("16"));
    // It raises neither depth nor top-up: 16 x 4% + 16 x 6% = 1.6 ft3.
    assert_eq!(depths(&found), [d("6"), d("6")]);
    assert_eq!(feet3(found.top_up), d("1.6"));
    assert_eq!(
        work(&found, Driver::WoodVolume),
        Volume::cubic_feet(d("16")).in_cubic_metres()
    );
    // Soaked: (16 + 16 + 3.2) ft3 x 100 lb/ft3
    assert_eq!(found.saturated_weight.in_pounds().round_dp(3), d("3520"));
}

#[test]
fn nothing_runs_through_a_sheet_or_past_the_next_layer() {
    let mut job = tub("12");
    let third = Depth::Fixed(inches("4"));
    layers(
        &mut job,
        &[(LOGS, third), (CARD, Depth::Sheets(2)), (SOIL, Depth::Rest)],
    );
    let (found, _) = taken(&job);
    assert!(found.layers.iter().all(|l| l.infill.is_zero()));
    // Two sheets over 32 ft2, turned up 4 in on 24 ft: 2 x 40 ft2, + 10%
    let Amount::Area(card) = order(&found, CARD, Part::Layer(1)) else {
        panic!("card is bought by area")
    };
    assert_eq!(card.in_square_feet().round_dp(6), d("88"));
    assert_eq!(
        work(&found, Driver::SheetArea),
        (ft("16") * ft("4")).in_square_metres()
    );
    assert_eq!(found.layers[1].sheets, 2);
    // Straw on logs takes the infill; the soil above it gets none.
    layers(
        &mut job,
        &[(LOGS, third), (STRAW, third), (SOIL, Depth::Rest)],
    );
    let (found, _) = taken(&job);
    assert!(!found.layers[1].infill.is_zero());
    assert_eq!(found.layers[2].infill, Volume::ZERO);
    assert!(!work(&found, Driver::LitterVolume).is_zero());
}

#[test]
fn sheets_from_rolls_are_laid_in_strips() {
    let mut job = tub("12");
    job.materials[CARD.index()].roll_width = Some(typed(inches("36")));
    job.materials[CARD.index()].lap = typed(inches("6"));
    layers(&mut job, &[(CARD, Depth::Sheets(2)), (SOIL, Depth::Rest)]);
    let (found, _) = taken(&job);
    // 96 + 8 = 104 by 48 + 8 = 56 in: (56 - 6)/30 = 1.67, 2 strips x 104 x 36 in = 52 ft2; two sheets.
    // Across: (104 - 6)/30 = 3.27, 4 strips x 56 x 36 in = 56 ft2.
    let Amount::Area(card) = order(&found, CARD, Part::Layer(0)) else {
        panic!("card is bought by area")
    };
    assert_eq!(card.in_square_feet().round_dp(6), d("104"));
}

#[test]
fn depths_shares_and_rests() {
    let mut job = tub("24");
    job.settings.freeboard = typed(inches("2"));
    // 22 in to fill: 6 in fixed, 25% = 5.5 in, the rest 10.5 in in two equal parts.
    layers(
        &mut job,
        &[
            (LOGS, Depth::Fixed(inches("6"))),
            (SOIL, Depth::Rest),
            (COMPOST, Depth::Share(d("0.25"))),
            (SOIL, Depth::Rest),
        ],
    );
    let (found, steps) = taken(&job);
    assert_eq!(found.fill_height, inches("22"));
    assert_eq!(depths(&found), [d("6"), d("5.25"), d("5.5"), d("5.25")]);
    // Each layer keeps its own need, and the haul adds up by material.
    assert_eq!(found.needs.iter().filter(|n| n.material == SOIL).count(), 3);
    assert_eq!(found.hauled.len(), 3);
    assert_eq!(
        steps.last("height to fill").unwrap().to_string(),
        "height to fill = 2' - 2\" freeboard = 1' 10\""
    );
}

#[test]
fn layers_that_do_not_fit_name_their_depth() {
    let mut job = tub("12");
    layers(
        &mut job,
        &[
            (LOGS, Depth::Fixed(inches("8"))),
            (COMPOST, Depth::Fixed(inches("6"))),
            (SOIL, Depth::Rest),
        ],
    );
    let (found, _) = taken(&job);
    assert_eq!(
        told(&found),
        [(
            "Depth",
            11,
            "the layers of fill Deep up to this one are 14 in deep, and bed A is filled 12 in high"
        )]
    );
    assert!(found.layers.is_empty());
    // Exactly full leaves nothing for the rest.
    layers(
        &mut job,
        &[(LOGS, Depth::Fixed(inches("12"))), (SOIL, Depth::Rest)],
    );
    let (found, _) = taken(&job);
    assert_eq!(told(&found)[0].0, "Depth");
    assert_eq!(told(&found)[0].1, 11);
    // Less than full is done, and said.
    layers(&mut job, &[(SOIL, Depth::Fixed(inches("9")))]);
    let (found, _) = taken(&job);
    assert_eq!(found.problems[0].severity, Severity::Notice);
    assert_eq!(
        told(&found)[0].2,
        "the layers of fill Deep are 9 in deep, so bed A stays 3 in below the height to fill"
    );
    assert_eq!(feet3(found.layers[0].volume), d("24"));
}

#[test]
fn sheets_want_a_number_and_soil_a_depth() {
    let mut job = tub("12");
    layers(&mut job, &[(SOIL, Depth::Sheets(2))]);
    assert_eq!(
        told(&taken(&job).0)[0],
        ("Depth", 10, "Soil is loose and needs a depth")
    );
    layers(&mut job, &[(CARD, Depth::Rest)]);
    assert_eq!(
        told(&taken(&job).0)[0],
        (
            "Depth",
            10,
            "Cardboard comes in sheets and needs their number"
        )
    );
    layers(&mut job, &[(BOARD, Depth::Rest)]);
    assert_eq!(
        told(&taken(&job).0)[0],
        (
            "Depth",
            10,
            "Board 2x10 is lumber, which is not placed as a layer"
        )
    );
    layers(&mut job, &[(SOIL, Depth::Rest)]);
    job.materials[SOIL.index()].wet_down = Known::job(d("1"), at(50), "Wet-down %");
    assert_eq!(
        told(&taken(&job).0)[0],
        ("Wet-down %", 50, "Soil cannot lose 100% when wetted down")
    );
    let mut job = tub("12");
    job.settings.freeboard = Known::job(inches("12"), at(60), "Freeboard");
    assert_eq!(told(&taken(&job).0)[0].0, "Freeboard");
}

#[test]
fn amendments_by_every_rate() {
    let mut job = tub("12");
    let amendment = |material, rate| Amendment {
        at: Some(at(20)),
        material,
        rate,
    };
    let kg = |n: &str| Amount::Weight(Weight::kilograms(d(n)));
    job.fills[0].amendments = vec![
        amendment(LIME, Rate::PerArea(kg("0.1"))),
        amendment(LIME, Rate::PerVolume(kg("2"))),
        amendment(LIME, Rate::PerBed(Amount::Count(Decimal::ONE))),
        amendment(COMPOST, Rate::Share(d("0.05"))),
    ];
    let (found, _) = taken(&job);
    let rate = |i| order(&found, LIME, Part::Amendment(i)).base();
    let (area, volume) = (ft("8") * ft("4"), Volume::cubic_feet(d("32")));
    assert_eq!(rate(0), area.in_square_metres() * d("0.1"));
    assert_eq!(rate(1), volume.in_cubic_metres() * d("2"));
    assert_eq!(rate(2), d("1"));
    // 5% of 32 ft3 = 1.6 ft3 of compost, hauled too; the layer stays 12 in.
    assert_eq!(
        cubic_feet(order(&found, COMPOST, Part::Amendment(3))),
        d("1.6")
    );
    assert_eq!(found.hauled.len(), 2);
    assert_eq!(depths(&found), [d("12")]);
    assert_eq!(work(&found, Driver::AmendArea), area.in_square_metres());
    // A rate by volume needs a layer.
    layers(&mut job, &[(CARD, Depth::Sheets(1))]);
    let (found, _) = taken(&job);
    assert!(told(&found).iter().any(|t| t.0 == "Rate" && t.1 == 20));
}

#[test]
fn a_load_with_a_gap_in_it_is_a_caution_where_somebody_stands_below() {
    let mut job = tub("12");
    job.materials[SOIL.index()].wet = None;
    assert_eq!(taken(&job).0.problems, []);
    job.beds[0].base = Base::RoofOrDeck;
    let (found, _) = taken(&job);
    assert_eq!(found.problems[0].severity, Severity::Caution);
    assert_eq!(told(&found)[0].0, "Base");
    assert!(told(&found)[0].2.contains("Soil"));
}

#[test]
fn an_empty_bed_needs_only_its_walls() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    job.beds[0].fill = None;
    let (found, _) = taken(&job);
    assert_eq!(found.problems, []);
    assert!(found.layers.is_empty() && found.hauled.is_empty());
    assert_eq!(found.needs.len(), 1);
}

#[test]
fn the_last_step_of_a_name_is_the_figure() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    layers(
        &mut job,
        &[(LOGS, Depth::Share(d("0.3"))), (SOIL, Depth::Rest)],
    );
    let (found, steps) = taken(&job);
    let units = job.settings.units.value;
    let value = |what: &str| steps.last(what).unwrap().value.clone();
    assert_eq!(value("inside area"), units.area(found.inside_area));
    assert_eq!(value("outside area"), units.area(found.outside_area));
    assert_eq!(value("wall height"), units.length(found.wall_height));
    assert_eq!(value("height to fill"), units.length(found.fill_height));
    assert_eq!(value("layer volume"), units.volume(found.layers[1].volume));
    assert_eq!(value("infill"), units.volume(found.layers[1].infill));
    assert_eq!(
        value("loose volume to order"),
        units.volume(found.layers[1].order)
    );
    assert_eq!(value("top-up"), units.volume(found.top_up));
    assert_eq!(value("sink in the first season"), units.depth(found.sink));
    assert_eq!(
        value("weight when soaked"),
        units.weight(found.saturated_weight)
    );
}

proptest! {
    #[test]
    fn layers_fill_the_bed_and_twice_the_length_is_twice_the_fill(
        length in 4_i64..60, height in 8_i64..40, fixed in 1_i64..4, share in 5_i64..45,
    ) {
        let job_with = |length: i64| {
            let mut job = tub(&height.to_string());
            job.beds[0].shape = Shape::Rectangle {
                length: Length::feet(Decimal::from(length)),
                width: ft("4"),
            };
            layers(&mut job, &[
                (LOGS, Depth::Fixed(Length::inches(Decimal::from(fixed)))),
                (SOIL, Depth::Rest),
                (COMPOST, Depth::Share(Decimal::new(share, 2))),
                (SOIL, Depth::Rest),
            ]);
            taken(&job).0
        };
        let (one, two) = (job_with(length), job_with(2 * length));
        let volume = |found: &TakeOff| found.layers.iter().map(|l| l.volume).sum::<Volume>();
        let near = |a: Volume, b: Volume| {
            (a.in_cubic_metres() - b.in_cubic_metres()).abs() < Decimal::new(1, 18)
        };
        prop_assert!(near(volume(&one), one.inside_area.filled_to(one.fill_height)));
        prop_assert!(near(volume(&two), volume(&one).times(Decimal::TWO)));
        for (a, b) in one.layers.iter().zip(&two.layers) {
            prop_assert!(near(a.order.times(Decimal::TWO), b.order));
            prop_assert!(a.order >= a.volume + a.infill);
        }
    }
}
