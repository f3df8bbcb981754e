//! Longer than most: each caution is set off once and kept silent once.

use std::collections::BTreeSet;

use jiff::civil::date;

use super::super::trial::{Trial, d, feet, inches, row};
use super::*;
use crate::model::bed::{Base, Shape};
use crate::model::by_hand::{self, blocks};
use crate::model::frame::{FrameId, Laid, Wall};
use crate::model::ground::{Cutter, GroundWork};
use crate::model::job::{PhaseId, SiteId};
use crate::model::known::Known;
use crate::model::labour::{Driver, ExtraKind};
use crate::model::material::{Category, MaterialId, Source};
use crate::model::settings::FullAfter;
use crate::model::sheet::Sheet;
use crate::problem::{Severity, Spot};
use crate::units::{Amount, Area, Density, Volume, Weight};

fn all(trial: &Trial) -> Vec<Problem> {
    cautions(
        &trial.job,
        &trial.kinds,
        &trial.takeoffs,
        &trial.bought,
        &trial.labour,
        &trial.library,
        trial.date,
    )
}

/// What is said of `key`, before its words; `None` when it is not said.
fn said(trial: &Trial, key: &str) -> Option<(String, Option<Spot>)> {
    let words = &trial.library.caution(key).unwrap().words;
    let between = format!(": {words}");
    all(trial).into_iter().find_map(|problem| {
        let (subject, _) = problem.sentence.split_once(&between)?;
        Some((subject.to_owned(), problem.spot))
    })
}

#[track_caller]
fn check(trial: &Trial, key: &str, subject: &str, row: RowAt, field: &'static str) {
    let spot = Some(Spot { row, field });
    assert_eq!(said(trial, key), Some((subject.to_owned(), spot)));
}

#[track_caller]
fn check_silent(trial: &Trial, key: &str) {
    assert_eq!(said(trial, key), None);
}

#[test]
fn a_plain_bed_on_paving_gives_no_caution() {
    let mut trial = Trial::new();
    trial.bed("North");
    assert_eq!(all(&trial), []);
}

#[test]
fn a_caution_reads_as_one_sentence_with_its_mark_date_and_source() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.takeoff().low_side_height = inches("27.75");
    let problems = all(&trial);
    let [problem] = problems.as_slice() else {
        panic!("{problems:?}");
    };
    assert_eq!(problem.severity, Severity::Caution);
    assert_eq!(
        problem.sentence,
        "North (wall 27.75 in high): a wall that holds back this much soil can need a permit, \
         drainage and ties or posts; local code and licensed practice decide \
         (the figure is 24 in; US, model codes of 2009 and local rules; some places flag lower walls; \
         see International Residential Code R404.4, International Code Council, 2009)"
    );
}

#[test]
fn a_metric_job_is_told_in_metric() {
    let mut trial = Trial::new();
    trial.job.settings.units.value = System::Metric;
    trial.bed("North").base = Base::RoofOrDeck;
    let takeoff = trial.takeoff();
    takeoff.low_side_height = Length::millimetres(d("700"));
    // 1,350 kg over 2.7 m2 (29.0625 ft2): 500.0 kg/m2 and a little, rounded up.
    takeoff.saturated_weight = Weight::kilograms(d("1350"));
    check(
        &trial,
        "wall_height",
        "North (wall 700 mm high)",
        row(1, 10),
        "Height",
    );
    let subject = "On a roof or deck, North (501 kg/m2 soaked)";
    check(&trial, "roof_load", subject, row(1, 10), "Base");
    // 24 in x 25.4 = 609.6 mm
    let told = all(&trial);
    let wall = told.iter().find(|p| p.sentence.contains("700 mm high"));
    assert!(
        wall.unwrap()
            .sentence
            .contains("(the figure is 610 mm; US,")
    );
}

#[test]
fn walls_are_judged_by_their_tallest_side_and_said_once_for_all_beds() {
    let mut trial = Trial::new();
    for name in ["West", "East", "North", "South", "Middle"] {
        trial.bed(name);
        trial.takeoff().low_side_height = inches("24.01");
    }
    let names = "East (wall 24.01 in high), Middle (wall 24.01 in high), North (wall 24.01 in high) and 2 more";
    // East was typed second: row 11.
    check(&trial, "wall_height", names, row(1, 11), "Height");
    check_silent(&trial, "wall_engineer");
    trial.takeoffs[0].low_side_height = inches("55.5");
    check(
        &trial,
        "wall_engineer",
        "West (wall 55.5 in high)",
        row(1, 10),
        "Height",
    );
}

#[test]
fn a_wall_at_the_mark_is_not_above_it() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.takeoff().low_side_height = inches("24");
    check_silent(&trial, "wall_height");
}

#[test]
fn a_roof_bed_prints_its_load_and_what_the_load_leaves_out() {
    let mut trial = Trial::new();
    trial.bed("Roof bed").base = Base::RoofOrDeck;
    // 3,000 lb over 29.0625 ft2 is 103.2 lb/ft2: rounded up, for a load is never rounded away.
    trial.takeoff().saturated_weight = Weight::pounds(d("3000"));
    let subject = "On a roof or deck, Roof bed (104 lb/ft2 soaked)";
    check(&trial, "roof_load", subject, row(1, 10), "Base");
    let own = trial.material("Grandmother's mix", Category::Soil);
    trial.layer(own, "6", "0");
    let subject = "On a roof or deck, Roof bed (104 lb/ft2 soaked and the unknown weight of Grandmother's mix)";
    check(&trial, "roof_load", subject, row(1, 10), "Base");
    trial.job.materials[0].wet = Some(Known::assumed(
        Density::pounds_per_cubic_yard(d("2000")),
        "for the test",
    ));
    trial.job.beds[0].base = Base::Paved;
    check_silent(&trial, "roof_load");
}

#[test]
fn the_middle_of_a_bed_must_be_in_reach() {
    let wide = |shape: Shape| {
        let mut trial = Trial::new();
        trial.bed("North").shape = shape;
        said(&trial, "reach").map(|(subject, _)| subject)
    };
    let (length, width) = (feet("12"), inches("48"));
    assert_eq!(wide(Shape::Rectangle { length, width }), None);
    let width = inches("54");
    let subject = Some("North (4' 6\" across)".to_owned());
    assert_eq!(wide(Shape::Rectangle { length, width }), subject);
    let diameter = feet("5");
    let subject = Some("North (5' across)".to_owned());
    assert_eq!(wide(Shape::Circle { diameter }), subject);
    // Arms 10 - 8 = 2 ft and 10 - 7 = 3 ft wide can be reached although the whole is 10 ft.
    let l = |notch_length| Shape::L {
        length: feet("10"),
        width: feet("10"),
        notch_length,
        notch_width: feet("7"),
    };
    assert_eq!(wide(l(feet("8"))), None);
    // 10 - 5 = 5 ft cannot.
    assert_eq!(wide(l(feet("5"))), Some("North (5' across)".to_owned()));
    // Arms (12 - 4) / 2 = 4 ft; the back 6 - 3 = 3 ft.
    let u = Shape::U {
        length: feet("12"),
        width: feet("6"),
        notch_length: feet("4"),
        notch_width: feet("3"),
    };
    assert_eq!(wide(u), None);
    // Sides 6, 8 and 10 ft: 24 ft2, 4 x 24 / 24 = 4 ft across, which is the mark.
    let mut trial = Trial::new();
    trial.bed("Corner").shape = Shape::Triangle {
        length: feet("8"),
        width: feet("6"),
    };
    trial.takeoff().outside_area = feet("8") * feet("3");
    trial.takeoff().outside_perimeter = feet("24");
    check_silent(&trial, "reach");
    trial.takeoff().outside_area = feet("8") * feet("4");
    check(
        &trial,
        "reach",
        "Corner (5' 4\" across)",
        row(1, 10),
        "Width",
    );
}

#[test]
fn table_beds_need_knee_room() {
    let mut trial = Trial::new();
    trial.bed("Table").underside_clear = Some(inches("26"));
    check(
        &trial,
        "knee_room",
        "Table (26 in clear below)",
        row(1, 10),
        "Underside clear",
    );
    trial.job.beds[0].underside_clear = Some(inches("27"));
    check_silent(&trial, "knee_room");
}

#[test]
fn a_narrow_gate_is_said_of_its_site() {
    let mut trial = Trial::new();
    trial.job.sites[0].gate = Some(Known::job(inches("34"), row(3, 1), "Gate width"));
    let subject = "Gate of School (34 in wide)";
    check(&trial, "clear_width", subject, row(3, 1), "Gate width");
    trial.job.sites[0].gate = Some(Known::job(inches("36"), row(3, 1), "Gate width"));
    check_silent(&trial, "clear_width");
}

#[test]
fn a_closed_bottom_needs_holes() {
    let mut trial = Trial::new();
    trial.bed("Tank").closed_bottom = true;
    check(
        &trial,
        "closed_bottom",
        "Closed bottom of Tank",
        row(1, 10),
        "Closed bottom",
    );
}

/// Logs, then soil that loses an inch in the first season.
fn over_logs(soil: &str, crop: &str) -> Trial {
    let mut trial = Trial::new();
    let bed = trial.bed("North");
    bed.base = Base::OpenGround;
    bed.crop = Some(crop.into());
    let logs = trial.material("Logs, stacked", Category::Wood);
    let topsoil = trial.material("Topsoil", Category::Soil);
    trial.layer(logs, "8", "0");
    trial.layer(topsoil, soil, "1");
    trial
}

#[test]
fn soil_over_wood_counts_after_the_first_season() {
    // 10.5 - 1 = 9.5 in, less than the 10 in of the figures.
    let mut trial = over_logs("10.5", "salad");
    let subject = "North (9.5 in above wood, less than 10 in)";
    check(&trial, "soil_over_wood", subject, row(1, 10), "Fill");
    // Full after the first season: the depth is already what stays.
    trial.job.settings.full_after.value = FullAfter::FirstSeason;
    check_silent(&trial, "soil_over_wood");
    check_silent(&over_logs("11", "salad"), "soil_over_wood");
}

#[test]
fn the_crop_that_roots_deepest_asks_for_the_soil() {
    // 9 - 1 = 8 in: enough for lettuce (6), not for tomatoes (12).
    let trial = over_logs("9", "Lettuce, tomatoes and basil");
    let subject = "North (8 in of soil; Tall tomatoes ask for 12 in)";
    check(&trial, "shallow_soil", subject, row(1, 10), "Crop");
    check_silent(&over_logs("9", "lettuce"), "shallow_soil");
    // A closed bottom asks for 18 in where open ground asks for 12.
    let mut trial = over_logs("15", "tomatoes");
    check_silent(&trial, "shallow_soil");
    trial.job.beds[0].closed_bottom = true;
    let subject = "North (14 in of soil; Tall tomatoes ask for 18 in)";
    check(&trial, "shallow_soil", subject, row(1, 10), "Crop");
    let trial = over_logs("9", "moon flowers");
    let subject = "North (8 in of soil; crop not known, taken as: Mixed vegetables ask for 10 in)";
    check(&trial, "shallow_soil", subject, row(1, 10), "Crop");
}

#[test]
fn leaves_are_no_soil_and_no_bar_but_gravel_is_a_bar() {
    let depth = |between: &str, category| {
        let mut trial = Trial::new();
        trial.bed("North").crop = Some("asparagus".into());
        let topsoil = trial.material("Topsoil", Category::Soil);
        let other = trial.material(between, category);
        trial.layer(topsoil, "8", "0");
        trial.layer(other, "4", "0");
        trial.layer(topsoil, "6", "0");
        said(&trial, "shallow_soil").unwrap().0
    };
    assert!(depth("Leaves", Category::Litter).contains("14 in of soil"));
    assert!(depth("Pea gravel", Category::Aggregate).contains("6 in of soil"));
}

#[test]
fn posts_and_digging_call_for_marked_lines() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.takeoff().work.push((Driver::PostSet, d("4")));
    let subject = "Digging at North (posts set in the ground)";
    check(&trial, "utilities", subject, row(1, 10), "Frame");
    trial.takeoff().work[0] = (Driver::PostInside, d("4"));
    check_silent(&trial, "utilities");
    let depth = inches("3");
    trial.job.beds[0].ground.value = GroundWork::Strip {
        depth,
        by: Cutter::Hand,
    };
    check_silent(&trial, "utilities");
    trial.takeoff().ground_area = Area::square_feet(d("45"));
    let subject = "Digging at North (strip 3 in)";
    check(&trial, "utilities", subject, row(1, 10), "Ground");
    trial.job.beds[0].ground.value = GroundWork::Leave;
    trial.takeoff().spoil = Volume::cubic_feet(d("12"));
    let subject = "Digging at North (leave)";
    check(&trial, "utilities", subject, row(1, 10), "Ground");
    trial.takeoff().spoil = Volume::ZERO;
    trial.extra("Trench for water", ExtraKind::Exclusion);
    check_silent(&trial, "utilities");
    trial.extra("Trench for water", ExtraKind::Cost);
    check(
        &trial,
        "utilities",
        "Digging at Trench for water",
        row(7, 2),
        "Item",
    );
}

/// A path of 20 ft with 3 in of a material on it.
fn path(name: &str, width: &str, material: MaterialId) -> crate::model::ground::Area {
    use crate::model::ground::{Plan, Surface};
    crate::model::ground::Area {
        at: row(8, 2),
        name: name.into(),
        site: SiteId(0),
        phase: PhaseId(0),
        plan: Plan::Rectangle {
            length: feet("20"),
            width: feet(width),
        },
        surface: Some(Surface {
            material,
            depth: Known::job(inches("3"), row(8, 2), "Depth"),
            compaction: Known::assumed(d("0"), "not set, taken as 0%"),
        }),
        under: None,
        edging: None,
        less_beds: false,
        ground: Known::assumed(GroundWork::Leave, "not set, taken as leave"),
    }
}

#[test]
fn paths_that_are_narrow_or_give_way_are_told_and_stone_is_dusty() {
    let mut trial = Trial::new();
    trial.bed("North");
    let dust = trial.material("Stone dust", Category::Aggregate);
    let chips = trial.material("Wood chips", Category::Wood);
    trial.job.areas = vec![path("Main", "4", dust)];
    check_silent(&trial, "path_access");
    check(&trial, "ground_dust", "Dust at Main", row(8, 2), "Material");
    trial.job.areas = vec![path("Main", "4", chips)];
    check_silent(&trial, "ground_dust");
    let subject = "Path of Main (Wood chips)";
    check(&trial, "path_access", subject, row(8, 2), "Material");
    trial.job.areas = vec![path("Main", "2.5", dust)];
    let subject = "Path of Main (30 in wide)";
    check(&trial, "path_access", subject, row(8, 2), "Width");
}

#[test]
fn open_ground_is_suspect_until_it_is_tested() {
    let mut trial = Trial::new();
    trial.bed("North").base = Base::OpenGround;
    check(
        &trial,
        "soil_lead",
        "Ground below North",
        row(1, 10),
        "Base",
    );
    trial.job.sites[0].ground = Some("lawn, not tested".into());
    check(
        &trial,
        "soil_lead",
        "Ground below North",
        row(1, 10),
        "Base",
    );
    trial.job.sites[0].ground = Some("lawn, tested in May".into());
    check_silent(&trial, "soil_lead");
    trial.job.sites[0].ground = None;
    trial.job.beds[0].closed_bottom = true;
    check_silent(&trial, "soil_lead");
}

/// One material in a layer, from somewhere.
fn filled_with(name: &str, category: Category, source: Source) -> Trial {
    let mut trial = Trial::new();
    trial.bed("North");
    let id = trial.material(name, category);
    trial.job.materials[id.index()].source.value = source;
    trial.layer(id, "12", "0");
    trial
}

#[test]
fn what_fodder_and_bedding_carry_is_asked_about() {
    let trial = filled_with("Straw", Category::Litter, Source::Buy);
    check(&trial, "herbicide", "Straw", row(2, 1), "Material");
    let trial = filled_with("Garden blend 70/30", Category::Soil, Source::Buy);
    check(
        &trial,
        "herbicide",
        "Garden blend 70/30",
        row(2, 1),
        "Material",
    );
    check_silent(
        &filled_with("Leaves", Category::Litter, Source::Buy),
        "herbicide",
    );
}

#[test]
fn wood_of_unknown_origin_is_not_buried_without_a_word() {
    let trial = filled_with("Logs, stacked", Category::Wood, Source::OnSite);
    let subject = "Wood buried as fill, Logs, stacked (found on the site)";
    check(&trial, "buried_wood", subject, row(2, 1), "Material");
    let trial = filled_with("Pallet boards", Category::Wood, Source::Buy);
    let subject = "Wood buried as fill, Pallet boards";
    check(&trial, "buried_wood", subject, row(2, 1), "Material");
    check_silent(
        &filled_with("Wood chips", Category::Wood, Source::Buy),
        "buried_wood",
    );
    let trial = filled_with("Black walnut chips", Category::Wood, Source::Buy);
    check(
        &trial,
        "walnut",
        "Black walnut chips",
        row(2, 1),
        "Material",
    );
}

/// One material that walls are built of.
fn built_of(name: &str, category: Category) -> Trial {
    let mut trial = Trial::new();
    trial.bed("North");
    let id = trial.material(name, category);
    trial.job.materials[id.index()].at = Some(row(4, 3));
    trial.need(id, crate::takeoff::Part::Board, Amount::Length(feet("48")));
    trial
}

#[test]
fn names_of_wall_materials_tell_their_dangers() {
    let trial = built_of("Reclaimed railroad ties", Category::Lumber);
    let at = row(4, 3);
    check(
        &trial,
        "salvage_wood",
        "Reclaimed railroad ties",
        at,
        "Material",
    );
    let trial = built_of("2x10 pressure treated", Category::Lumber);
    check(
        &trial,
        "treated_wood",
        "2x10 pressure treated",
        at,
        "Material",
    );
    check_silent(&trial, "salvage_wood");
    check_silent(
        &built_of("2x10 cedar, untreated", Category::Lumber),
        "treated_wood",
    );
    // One danger of a board is enough: old treated boards are called salvage.
    let trial = built_of("Salvaged treated 2x10", Category::Lumber);
    check(
        &trial,
        "salvage_wood",
        "Salvaged treated 2x10",
        at,
        "Material",
    );
    check_silent(&trial, "treated_wood");
    let trial = built_of("Concrete edging", Category::Other);
    check(&trial, "silica", "Concrete edging", at, "Material");
    check_silent(&built_of("Concrete sand", Category::Aggregate), "silica");
}

#[test]
fn blocks_are_cautioned_about_where_they_are_cut_and_where_they_are_heavy() {
    let mut trial = built_of("Dense block 440x215x140", Category::Block);
    check_silent(&trial, "silica");
    check_silent(&trial, "footing");
    let size = trial
        .library
        .blocks
        .iter()
        .find(|b| &*b.key == "440x215x140");
    let size = size.map(|b| Known::job(b.block.clone(), row(4, 3), "Section"));
    trial.job.materials.last_mut().unwrap().block = size;
    let each = "Dense block 440x215x140 (60 lb each)";
    check(&trial, "lifting", each, row(4, 3), "Material");
    trial.takeoff().work.push((Driver::BlockCut, d("12")));
    let cut = "North (12 cuts in its walls)";
    check(&trial, "silica", cut, row(1, 10), "Frame");
    trial.job.frames[0].wall = blocks(MaterialId(0), Laid::Mortared);
    let walls = "Mortared walls of North";
    check(&trial, "footing", walls, row(1, 10), "Frame");
    trial.takeoff().work.push((Driver::TrenchLength, d("6")));
    let dug = "Digging at North (a trench for the wall)";
    check(&trial, "utilities", dug, row(1, 10), "Frame");
}

#[test]
fn a_specification_speaks_as_loudly_as_a_name() {
    let mut trial = built_of("2x10", Category::Lumber);
    check_silent(&trial, "treated_wood");
    trial.job.materials[0].spec = Some("ground contact".into());
    check(&trial, "treated_wood", "2x10", row(4, 3), "Material");
}

#[test]
fn heavy_packs_are_named_with_their_weight() {
    let mut trial = Trial::new();
    trial.bed("North");
    let soil = trial.material("Topsoil", Category::Soil);
    let chips = trial.material("Wood chips", Category::Wood);
    // 1.5 ft3 at 2,200 lb/yd3 is 122 lb; 2 ft3 at 440 lb/yd3 is 33 lb.
    let bag = |ft3: &str| Amount::Volume(Volume::cubic_feet(d(ft3)));
    trial.buy("Hill Yard", soil, bag("1.5"), Some(trial.date));
    trial.buy("Hill Yard", chips, bag("2"), Some(trial.date));
    let subject = "Topsoil (bag, about 122 lb)";
    check(&trial, "lifting", subject, row(5, 1), "Holds");
    trial.bought.lines[0].quantity = d("0");
    check_silent(&trial, "lifting");
}

#[test]
fn work_in_the_cool_months_of_a_dated_job_is_not_hot() {
    let mut trial = Trial::new();
    trial.bed("North");
    check_silent(&trial, "heat");
    trial.work("spread", "12");
    check(
        &trial,
        "heat",
        "Work outdoors at School",
        row(3, 1),
        "First day",
    );
    trial.job.sites[0].first_day = Some(date(2027, 2, 15));
    check_silent(&trial, "heat");
    trial.job.sites[0].first_day = Some(date(2027, 7, 1));
    check(
        &trial,
        "heat",
        "Work outdoors at School",
        row(3, 1),
        "First day",
    );
}

#[test]
fn watering_lines_need_a_device_against_backflow() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.extra("Drip line, 9 beds", ExtraKind::Allowance);
    check(&trial, "backflow", "Drip line, 9 beds", row(7, 1), "Item");
    trial.job.extras.clear();
    check_silent(&trial, "backflow");
    trial.job.sheets_used.push(Sheet::Irrigation);
    assert_eq!(
        said(&trial, "backflow"),
        Some(("Watering lines".to_owned(), None))
    );
}

#[test]
fn old_prices_are_said_with_the_oldest_and_how_many() {
    let mut trial = Trial::new();
    trial.bed("North");
    let soil = trial.material("Topsoil", Category::Soil);
    let chips = trial.material("Wood chips", Category::Wood);
    let board = trial.material("2x10", Category::Lumber);
    let yard = Amount::Volume(Volume::cubic_feet(d("1")));
    // 24 November less 30 days is 25 October: at the limit, not over it.
    trial.buy("Hill Yard", soil, yard, Some(date(2026, 10, 25)));
    check_silent(&trial, "stale_prices");
    let id = trial.buy(
        "Mill",
        board,
        Amount::Length(feet("8")),
        Some(date(2026, 9, 1)),
    );
    trial.buy("Hill Yard", chips, yard, None);
    // 1 September to 24 November: 29 + 31 + 24 = 84 days.
    let oldest = oldest_price(&trial.job, &trial.bought, trial.date);
    assert_eq!(oldest, Some((id, 84)));
    let subject =
        "The price of 2x10 from Mill is 84 days old (older than 30 days: 1 of 3 prices used)";
    check(&trial, "stale_prices", subject, row(5, 2), "Price date");
    let subject = "No date on the price of Wood chips from Hill Yard";
    check(&trial, "undated_prices", subject, row(5, 3), "Price date");
    check_silent(&trial, "future_prices");
    trial.job.offers[0].price_date = Some(date(2027, 10, 25));
    let subject =
        "Priced after 2026-11-24, the date of the estimate, Topsoil from Hill Yard (2027-10-25)";
    check(&trial, "future_prices", subject, row(5, 1), "Price date");
    // What is not bought does not matter.
    trial.bought.lines.clear();
    assert_eq!(oldest_price(&trial.job, &trial.bought, trial.date), None);
    check_silent(&trial, "stale_prices");
}

#[test]
fn vehicles_are_not_loaded_past_their_limit_nor_without_one() {
    let mut trial = Trial::new();
    trial.trips(&["13000", "12100"], Some("13000"), 2);
    check_silent(&trial, "truck_overload");
    check_silent(&trial, "truck_unlimited");
    trial.bought.trips[0].after_rain = 3;
    let subject = "Tipper of Hill Yard to School (loads: 2, after rain 3)";
    check(&trial, "truck_overload", subject, row(6, 1), "Weight limit");
    trial.bought.trips[0].loads[1].weight = Weight::pounds(d("13200"));
    let subject = "Tipper of Hill Yard to School (a load of up to 13,200 lb)";
    check(&trial, "truck_overload", subject, row(6, 1), "Weight limit");
    trial.job.vehicles[0].weight = None;
    check(
        &trial,
        "truck_unlimited",
        subject,
        row(6, 1),
        "Weight limit",
    );
}

/// A job with something of everything that is cautioned about.
fn dangerous() -> Trial {
    let mut trial = over_logs("8", "tomatoes");
    for name in ["Logs, stacked", "Walnut chips", "Manure compost"] {
        let id = trial.material(name, Category::Wood);
        trial.job.materials[id.index()].source.value = Source::Donated;
        trial.layer(id, "1", "0");
    }
    for name in ["Old railroad ties", "Treated 4x4", "Concrete edging"] {
        let id = trial.material(name, Category::Lumber);
        trial.need(id, crate::takeoff::Part::Post, Amount::Length(feet("8")));
        trial.buy(
            "Mill",
            id,
            Amount::Weight(Weight::pounds(d("60"))),
            Some(date(2026, 1, 1)),
        );
    }
    let steel = trial.material("Galvanised steel", Category::Panel);
    trial.need(
        steel,
        crate::takeoff::Part::Panel,
        Amount::Area(crate::units::Area::square_feet(d("48"))),
    );
    trial.job.frames[0].wall = Wall::Panels(Box::new(by_hand::panels(steel)));
    trial.job.offers[1].price_date = None;
    trial.job.offers[2].price_date = Some(date(2027, 1, 1));
    let takeoff = trial.takeoff();
    takeoff.low_side_height = inches("50");
    takeoff.work.push((Driver::PostSet, d("4")));
    let bed = trial.bed("Roof");
    bed.base = Base::RoofOrDeck;
    bed.closed_bottom = true;
    bed.underside_clear = Some(inches("20"));
    bed.shape = Shape::Circle {
        diameter: feet("6"),
    };
    trial.takeoff().low_side_height = inches("30");
    trial.job.sites[0].gate = Some(Known::job(inches("30"), row(3, 1), "Gate width"));
    trial.job.sheets_used.push(Sheet::Irrigation);
    in_mortar(&mut trial, "Roof");
    trial.work("spread", "12");
    trial.trips(&["14000"], Some("13000"), 2);
    trial.trips(&["14000"], None, 1);
    let dust = trial.material("Stone dust", Category::Aggregate);
    trial.job.areas.push(path("Side path", "2", dust));
    let mason = by_hand::frame("Mason", blocks(MaterialId(0), Laid::Mortared));
    let frame = FrameId::of(trial.job.frames.len());
    trial.job.frames.push(mason);
    trial.bed("Masonry").frame = frame;
    trial
}

/// Walls the bed last made with stone in mortar.
fn in_mortar(trial: &mut Trial, bed: &str) {
    let stone = trial.material("Fieldstone", Category::Stone);
    let mut wall = by_hand::stone(stone);
    if let Wall::Stone(wall) = &mut wall {
        wall.laid.value = Laid::Mortared;
    }
    let frame = FrameId::of(trial.job.frames.len());
    trial.job.frames.push(by_hand::frame("Wet", wall));
    let mut beds = trial.job.beds.iter_mut();
    beds.find(|b| &*b.name == bed).unwrap().frame = frame;
}

#[test]
fn every_caution_of_the_table_can_be_said_and_is_said_in_its_order() {
    let trial = dangerous();
    let told = all(&trial);
    assert!(told.iter().all(|p| p.severity == Severity::Caution));
    let order: Vec<&str> = told
        .iter()
        .map(|problem| {
            let mut rows = trial.library.cautions.iter();
            let row = rows.find(|c| problem.sentence.contains(&format!(": {}", c.words)));
            &*row.expect("the words of a row").key
        })
        .collect();
    let table = trial.library.cautions.iter().map(|c| &*c.key);
    // Those of deposits look at the price, and are said in `deposit`.
    let table: Vec<&str> = table.filter(|key| !key.starts_with("deposit_")).collect();
    assert_eq!(order, table);
    // Nothing that hurts is ever called safe.
    let safe: BTreeSet<&str> = ["ok", "okay", "safe", "fine"].into();
    for problem in &told {
        let mut words = problem.sentence.split(|c: char| !c.is_alphanumeric());
        assert!(
            !words.any(|word| safe.contains(word)),
            "{}",
            problem.sentence
        );
    }
}

#[test]
fn the_order_of_rows_changes_no_word() {
    let trial = dangerous();
    let mut turned = dangerous();
    // The same beds, kinds and prices from the last to the first.
    turned.job.beds.reverse();
    turned.kinds.kinds.reverse();
    turned.takeoffs.reverse();
    let last = turned.job.beds.len() - 1;
    for kind in &mut turned.kinds.kinds {
        for bed in &mut kind.beds {
            *bed = crate::model::bed::BedId::of(last - bed.index());
        }
    }
    turned.bought.lines.reverse();
    turned.bought.trips.reverse();
    let words = |trial| -> Vec<String> { all(trial).into_iter().map(|p| p.sentence).collect() };
    assert_eq!(words(&trial), words(&turned));
}

#[test]
fn a_caution_without_a_row_is_our_bug() {
    let mut trial = Trial::new();
    trial.bed("Tank").closed_bottom = true;
    trial
        .library
        .cautions
        .retain(|c| &*c.key != "closed_bottom");
    let problems = all(&trial);
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].fault, crate::problem::Fault::Bug);
    assert_eq!(problems[0].sentence, "no caution is called closed_bottom");
}
