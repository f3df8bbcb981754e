//! Settlement: what is ordered for the filling day and what for the top-up.

use crate::model::fill::{Depth, MixId, Stuff};
use crate::model::labour::Driver;
use crate::model::material::{Category, MaterialId};
use crate::model::settings::{FullAfter, TopUp};
use crate::problem::Severity;
use crate::takeoff::support::*;
use crate::takeoff::{Moment, Part};
use crate::units::{Length, Volume};

#[test]
fn thirty_two_cubic_feet_after_the_first_season() {
    // 8 x 4 x 1 ft = 32 ft3; wet-down 10%, season 6%: 32 / (0.9 x 0.94) = 32 / 0.846 = 37.825 ft3
    let mut job = tub("12");
    job.settings.full_after = typed(FullAfter::FirstSeason);
    job.settings.crown = typed(inches("2"));
    let (found, steps) = taken(&job);
    let order = order(&found, SOIL, Part::Layer(0));
    assert_eq!(cubic_feet(order), d("37.825"));
    let yards = Volume::cubic_metres(order.base()).in_cubic_yards();
    assert_eq!(yards.round_dp(4), d("1.4009"));
    // Adding the two percentages, 32 / 0.84 = 38.095, or ordering 32 x 1.16 = 37.12, is wrong.
    assert_ne!(cubic_feet(order), d("38.095"));
    assert_ne!(cubic_feet(order), d("37.12"));
    // It stands 12/0.94 - 12 = 0.766 in above the rim, within the crown; the season brings it down.
    assert_eq!(found.stands_above.in_inches().round_dp(3), d("0.766"));
    assert_eq!(found.sink, found.stands_above);
    assert_eq!(found.top_up, Volume::ZERO);
    assert_eq!(
        steps.last("loose volume to order").unwrap().to_string(),
        "loose volume to order = Soil: 1.19 yd3 / (1 - 0.10) / (1 - 0.06) x (1 + 0.00) = 1.4 yd3"
    );
}

#[test]
fn full_after_wetting_down_leaves_the_season_to_a_top_up() {
    // 32 / 0.9 = 35.556 ft3 now; the season takes 6% of 32 = 1.92, bought as 1.92 / 0.9 = 2.133.
    let (found, _) = taken(&tub("12"));
    assert_eq!(cubic_feet(order(&found, SOIL, Part::Layer(0))), d("35.556"));
    assert_eq!(feet3(found.top_up), d("1.92"));
    let top_up = order_at(&found, Moment::TopUp, SOIL, Part::TopUp);
    assert_eq!(cubic_feet(top_up), d("2.133"));
    assert_eq!(found.sink, inches("0.72"), "12 in x 6%");
    assert_eq!(found.stands_above, Length::ZERO);
    // The top-up is not part of the filling day.
    assert_eq!(found.hauled.len(), 1);
    assert_eq!(feet3(found.hauled[0].1), d("35.556"));
    assert_eq!(
        work(&found, Driver::SpreadVolume),
        found.hauled[0].1.in_cubic_metres()
    );
}

#[test]
fn without_a_top_up_none_is_ordered() {
    let mut job = tub("12");
    job.settings.top_up = typed(TopUp::None);
    let (found, _) = taken(&job);
    assert_eq!(found.top_up, Volume::ZERO);
    assert!(found.needs.iter().all(|n| n.moment == Moment::Build));
    assert_eq!(found.sink, inches("0.72"), "it sinks all the same");
}

#[test]
fn what_would_stand_above_the_crown_moves_to_the_top_up() {
    // Full after the season, no crown: wetted down it would stand 12 / 0.94 = 12.766 in. The 0.766 in
    // are 6% of it and stay out: 32 x 0.94 / 0.846 = 35.556 ft3 now, 32 x 6% = 1.92 ft3 later.
    let mut job = tub("12");
    job.settings.full_after = typed(FullAfter::FirstSeason);
    let (found, _) = taken(&job);
    assert_eq!(cubic_feet(order(&found, SOIL, Part::Layer(0))), d("35.556"));
    assert_eq!(feet3(found.top_up), d("1.92"));
    assert_eq!(found.stands_above.in_inches().round_dp(9), d("0"));
    assert_eq!(found.problems[0].severity, Severity::Notice);
    // A crown of half an inch takes part of it: 12.766 - 12.5 = 0.266 in stays out.
    job.settings.crown = typed(inches("0.5"));
    let (found, _) = taken(&job);
    assert_eq!(found.stands_above.in_inches().round_dp(9), d("0.5"));
    // 0.26596 / 12.76596 = 2.08333% of 32 = 0.667 ft3
    assert_eq!(feet3(found.top_up), d("0.667"));
    // With no top-up wanted the bed will not be full, and that is a caution.
    job.settings.top_up = typed(TopUp::None);
    let (found, _) = taken(&job);
    assert!(
        found
            .problems
            .iter()
            .any(|p| p.severity == Severity::Caution)
    );
}

#[test]
fn waste_is_a_term_of_its_own() {
    let mut job = tub("12");
    job.materials[SOIL.index()].waste = typed(d("0.05"));
    let (found, _) = taken(&job);
    // 32 / 0.9 x 1.05
    assert_eq!(cubic_feet(order(&found, SOIL, Part::Layer(0))), d("37.333"));
    assert_eq!(feet3(found.layers[0].volume), d("32"));
}

#[test]
fn the_top_up_is_soil_even_under_mulch() {
    let mut job = tub("12");
    let bark = MaterialId::of(job.materials.len());
    job.materials
        .push(material("Bark", Category::Mulch, [10, 15, 0, 0, 0]));
    layers(
        &mut job,
        &[(SOIL, Depth::Rest), (bark, Depth::Fixed(inches("3")))],
    );
    let (found, _) = taken(&job);
    // 24 x 6% + 8 x 15% = 2.64 ft3 of soil: 2.64 / 0.9
    let top_up = order_at(&found, Moment::TopUp, SOIL, Part::TopUp);
    assert_eq!(cubic_feet(top_up), d("2.933"));
}

#[test]
fn a_mix_is_ordered_part_by_part() {
    // Half soil, half compost: 16 ft3 each. Soil 16/0.9 = 17.778, compost 16/0.85 = 18.824 ft3.
    let mut job = tub("12");
    job.fills[0].layers[0].stuff = Stuff::Mix(MixId(0));
    let (found, _) = taken(&job);
    let part = Part::Layer(0);
    assert_eq!(cubic_feet(order(&found, SOIL, part)), d("17.778"));
    assert_eq!(cubic_feet(order(&found, COMPOST, part)), d("18.824"));
    assert_eq!(feet3(found.layers[0].order), d("36.601"));
    assert_eq!(&*found.layers[0].name, "Half and half");
    // Season: 16 x 6% + 16 x 20% = 4.16 ft3, bought in the same parts.
    assert_eq!(feet3(found.top_up), d("4.16"));
    let top_up = |m| cubic_feet(order_at(&found, Moment::TopUp, m, Part::TopUp));
    assert_eq!(top_up(SOIL), d("2.311"), "2.08 / 0.9");
    assert_eq!(top_up(COMPOST), d("2.447"), "2.08 / 0.85");
    assert_eq!(
        work(&found, Driver::MixVolume),
        found.layers[0].order.in_cubic_metres()
    );
    assert_eq!(
        work(&found, Driver::SpreadVolume),
        work(&found, Driver::MixVolume)
    );
}
