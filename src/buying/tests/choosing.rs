//! Which supplier: ties, specifications, marks, one supplier, and choices that are held.

use super::super::held;
use super::sample::{Sample, d, lines_text, sentences, total, yards};
use crate::model::job::SiteId;
use crate::model::known::Known;
use crate::model::material::MaterialId;
use crate::model::settings::Buying;

/// Soil and compost: Far Yard has both, Hill Yard both but dear, Near Yard only cheap soil.
fn three_yards() -> Sample {
    let (mut sample, soil) = Sample::with_soil();
    let compost = sample.soil("compost");
    sample.offer("Near Yard", soil, "yard", yards("1"), "30");
    sample.offer("Far Yard", soil, "yard", yards("1"), "36");
    sample.offer("Far Yard", compost, "yard", yards("1"), "40");
    sample.offer("Hill Yard", soil, "yard", yards("1"), "50");
    sample.offer("Hill Yard", compost, "yard", yards("1"), "38");
    for name in ["Near Yard", "Far Yard", "Hill Yard"] {
        sample.truck(name, Some("20"), None, "10");
    }
    let bed = sample.beds(SiteId(0), 1);
    bed.needs(soil, yards("5")).needs(compost, yards("5"));
    sample
}

#[test]
fn least_cost_goes_to_a_supplier_for_each_material() {
    // Compost 5 x 38 + 10 = 200.00, soil 5 x 30 + 10 = 160.00.
    let bought = three_yards().buy();
    assert_eq!(lines_text(&bought), ["5 x 38 = 190.00", "5 x 30 = 150.00"]);
    assert_eq!(total(&bought), "360.00");
}

#[test]
fn one_supplier_is_the_cheapest_that_has_everything() {
    // Far: 5 x 36 + 5 x 40 + 20 = 400.00. Hill: 250 + 190 + 20 = 460.00.
    let mut sample = three_yards();
    sample.buying(Buying::OneSupplier);
    let bought = sample.buy();
    assert_eq!(total(&bought), "400.00");
    assert!(
        bought
            .lines
            .iter()
            .all(|l| l.why.starts_with("one supplier for everything"))
    );
    // Without Hill's soil and Far's compost nobody has it all.
    sample.job.offers[2].price = None;
    sample.job.offers[3].price = None;
    let told = sentences(&sample.buy());
    assert!(
        told.contains("Far Yard lacks compost; Hill Yard lacks topsoil; Near Yard lacks compost"),
        "{told}"
    );
}

#[test]
fn marked_offers_are_taken_and_the_rest_goes_by_cost() {
    let mut sample = three_yards();
    sample.buying(Buying::AsMarked);
    sample.job.offers[3].preferred = true;
    let bought = sample.buy();
    // Soil from Hill Yard as marked; compost is not marked, and Hill Yard's is the cheapest.
    assert_eq!(lines_text(&bought), ["5 x 38 = 190.00", "5 x 50 = 250.00"]);
    assert_eq!(
        sentences(&bought),
        "compost: no offer is marked, so the cheapest was taken"
    );
}

#[test]
fn equal_offers_go_by_supplier_name() {
    let mut sample = three_yards();
    sample.job.offers[1].price = Some(Known::assumed(d("30"), "test"));
    let bought = sample.buy();
    let soil = bought
        .lines
        .iter()
        .find(|l| l.material == MaterialId(0))
        .unwrap();
    assert_eq!(
        soil.offer.map(|o| o.0),
        Some(1),
        "Far Yard comes before Near Yard"
    );
    assert!(
        soil.why.contains("as much as Near Yard, yard"),
        "{}",
        soil.why
    );
}

#[test]
fn a_choice_never_crosses_specifications_by_itself() {
    let mut sample = three_yards();
    for (index, spec) in [(0, "screened"), (1, "unscreened"), (3, "Screened")] {
        sample.job.offers[index].spec = Some(spec.into());
    }
    let bought = sample.buy();
    let problem = &bought.problems[0];
    assert_eq!(problem.spot.map(|s| s.field), Some("Spec"));
    assert!(
        problem
            .sentence
            .contains("topsoil is offered in several specifications")
    );
    let soil = |b: &super::super::Bought| {
        let line = b
            .lines
            .iter()
            .find(|l| l.material == MaterialId(0))
            .cloned();
        line.unwrap()
    };
    assert_eq!(soil(&bought).price, None);
    // Screened, in whatever case: Near Yard at 30.00 beats Hill Yard at 50.00.
    sample.stuff(MaterialId(0)).spec = Some("SCREENED".into());
    assert_eq!(soil(&sample.buy()).price, Some(d("30")));
    sample.stuff(MaterialId(0)).spec = Some("unscreened".into());
    assert_eq!(soil(&sample.buy()).price, Some(d("36")));
    sample.stuff(MaterialId(0)).spec = Some("sieved".into());
    let told = sentences(&sample.buy());
    assert!(told.contains("topsoil is asked for as sieved"), "{told}");
}

#[test]
fn held_choices_stay_when_a_price_changes() {
    let mut sample = three_yards();
    let before = sample.buy();
    let kept = held(&before);
    assert_eq!(total(&sample.buy_again(&kept)), total(&before));
    // Near Yard's soil rises to 60.00: with choices held 5 x 60 instead of 5 x 30, 150.00 more.
    sample.job.offers[0].price = Some(Known::assumed(d("60"), "test"));
    assert_eq!(total(&sample.buy_again(&kept)), "510.00");
    // Free to choose, Far Yard's soil is taken: 180 + 10 + 200 = 390.00.
    assert_eq!(total(&sample.buy()), "390.00");
}
