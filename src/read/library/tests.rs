use std::collections::BTreeSet;

use super::*;
use crate::model::library::{Backing, Checked, folded};
use crate::problem::Fault;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[track_caller]
fn check_unlike<'a>(what: &str, names: impl Iterator<Item = &'a str>) {
    let mut seen = BTreeSet::new();
    for name in names {
        assert!(seen.insert(folded(name)), "{what} names {name} twice");
    }
    assert!(!seen.is_empty(), "{what} is empty");
}

#[track_caller]
fn check_slip(table: &str, from: &str, to: &str, place: &str, sentence: &str) {
    let tables: Vec<(&str, String)> = TABLES
        .iter()
        .map(|(name, text)| {
            let text = if *name == table {
                assert!(text.contains(from), "{table} no longer holds {from}");
                text.replacen(from, to, 1)
            } else {
                (*text).to_owned()
            };
            (*name, text)
        })
        .collect();
    let tables: Vec<(&str, &str)> = tables.iter().map(|(n, t)| (*n, t.as_str())).collect();
    let problems = parse(&tables).problems;
    let problem = problems.first().expect("the slip is told");
    assert_eq!(problem.fault, Fault::Bug);
    assert_eq!(problem.place.as_deref(), Some(place));
    assert_eq!(problem.sentence, sentence);
}

#[test]
fn every_row_of_the_built_in_tables_is_read() {
    let loaded = load();
    assert_eq!(loaded.problems, []);
    let library = loaded.output;
    let read = [
        library.materials.len(),
        library.sections.len(),
        library.blocks.len(),
        library.tasks.len(),
        library.figures.len(),
        library.crops.len(),
        library.cautions.len(),
    ];
    // One line of titles, then one line a row.
    let lines = TABLES.map(|(_, text)| text.lines().count() - 1);
    assert_eq!(read, lines);
}

#[test]
fn names_are_unlike_within_a_table() {
    let l = builtin();
    let materials = l.materials.iter().flat_map(|m| {
        // A name may be its own key (`compost`), so the key counts only when it differs.
        let key = (folded(&m.key) != folded(&m.name)).then_some(&m.key);
        key.into_iter().chain([&m.name]).chain(&m.also)
    });
    check_unlike("materials", materials.map(|name| &**name));
    check_unlike("sections", l.sections.iter().map(|s| &*s.key));
    check_unlike("blocks", l.blocks.iter().map(|b| &*b.key));
    check_unlike("task keys", l.tasks.iter().map(|t| &*t.key));
    check_unlike("task names", l.tasks.iter().map(|t| &*t.name));
    check_unlike("figures", l.figures.iter().map(|f| &*f.key));
    check_unlike("crop keys", l.crops.iter().map(|c| &*c.key));
    let crops = l.crops.iter().flat_map(|c| {
        let examples = c.examples.iter().map(|e| &**e);
        let name = folded(&c.name);
        [&*c.name]
            .into_iter()
            .chain(examples.filter(move |e| folded(e) != name))
    });
    check_unlike("crops", crops);
    check_unlike("cautions", l.cautions.iter().map(|c| &*c.key));
}

#[test]
fn no_row_without_a_source() {
    let l = builtin();
    let backings: Vec<&Backing> = l
        .materials
        .iter()
        .map(|m| &m.backing)
        .chain(l.sections.iter().map(|s| &s.backing))
        .chain(l.blocks.iter().map(|b| &b.backing))
        .chain(l.tasks.iter().map(|t| &t.backing))
        .chain(l.figures.iter().map(|f| &f.backing))
        .chain(l.crops.iter().map(|c| &c.backing))
        .chain(l.cautions.iter().map(|c| &c.backing))
        .collect();
    assert!(backings.iter().all(|b| !b.source.is_empty()));
    // What nobody looked up is never called published by a rate, a figure or a least depth.
    let judged = l.tasks.iter().map(|t| &t.backing);
    let judged = judged.chain(l.figures.iter().map(|f| &f.backing));
    for backing in judged.chain(l.crops.iter().map(|c| &c.backing)) {
        let is_published = &*backing.confidence == "published";
        assert!(
            !is_published || backing.checked != Checked::Recalled,
            "{}",
            backing.source
        );
    }
}

#[test]
fn a_two_by_ten_is_an_inch_and_a_half_by_nine_and_a_quarter() {
    let l = builtin();
    let board = &l.section("2 X 10").unwrap().section;
    assert_eq!(board.thickness, Length::inches(d("1.5")));
    assert_eq!(board.face, Length::inches(d("9.25")));
    assert_eq!(board.nominal_face, Length::inches(d("10")));
    // Two courses of it are 18.5 in, not 20.
    assert_eq!(board.face.times(d("2")), Length::inches(d("18.5")));
    let metric = &l.section("38×235").unwrap().section;
    assert_eq!(metric.face, Length::millimetres(d("235")));
    assert_eq!(metric.nominal_face, metric.face);
    let sleeper = &l.section("200x100").unwrap().section;
    assert_eq!(sleeper.thickness, Length::millimetres(d("100")));
    let rough = &l.section("2x10 rough").unwrap().section;
    assert_eq!(rough.face, Length::inches(d("10")));
}

#[test]
fn what_the_trade_calls_things_is_understood() {
    let l = builtin();
    for (typed, key) in [
        ("Wood chips", "wood_chips"),
        ("arborist-chips", "wood_chips"),
        ("Leaf mold", "leaf_mould"),
        ("Garden blend 70/30", "garden_blend_70_30"),
        ("garden blend 50/50", "garden_blend_50_50"),
        ("Spent mushroom compost", "mushroom_substrate"),
        ("paja", "straw_baled"),
        ("Hardware cloth", "hardware_cloth"),
        ("tierra vegetal", "topsoil"),
    ] {
        assert_eq!(l.material(typed).map(|m| &*m.key), Some(key), "{typed}");
    }
    assert!(l.material("dirt").is_none(), "a guess would be silent");
    assert_eq!(l.crop("Cherry tomatoes").unwrap().closed, d("18"));
    assert_eq!(l.crop("lettuce").unwrap().open, d("6"));
    assert_eq!(l.crop("spinach").unwrap().closed, d("10"));
}

#[test]
fn soil_and_compost_weigh_and_settle_as_their_tables_say() {
    let l = builtin();
    let soil = l.material("topsoil").unwrap();
    assert_eq!(
        (soil.delivered, soil.wet),
        (Some(d("2200")), Some(d("3000")))
    );
    // Kept of the 70/30 blend: 0.90 x 0.94 = 0.846, so 32 ft3 asks for 37.825 ft3.
    let blend = l.material("garden_blend_70_30").unwrap();
    let hundred = Decimal::ONE_HUNDRED;
    let kept = (hundred - blend.wet_down) * (hundred - blend.first_season) / d("10000");
    assert_eq!(kept, d("0.846"));
    assert_eq!((d("32") / kept).round_dp(3), d("37.825"));
    let logs = l.material("Logs, stacked").unwrap();
    assert_eq!((logs.void, logs.infill), (d("35"), d("70")));
    for m in &l.materials {
        // Stone of a wall is weighed too; stones of a cap go by their length.
        let weighed = m.category.is_fill() || &*m.key == "wall_stone";
        assert_eq!(m.delivered.is_some(), weighed, "{}", m.name);
        let rolled = matches!(
            m.category,
            Category::Sheet | Category::Liner | Category::Mesh
        );
        assert_eq!(m.roll_width.is_some(), rolled, "{}", m.name);
        assert!(
            m.lap
                .is_none_or(|lap| m.roll_width.is_some_and(|w| lap < w))
        );
        assert!(m.delivered <= m.wet, "{} is lighter when wet", m.name);
    }
}

#[test]
fn every_driver_that_always_brings_work_has_a_task() {
    let l = builtin();
    for driver in Driver::ALL.iter().copied() {
        let tasks = l.tasks.iter().filter(|t| t.driver == driver).count();
        // Hauling is computed, typed hours are typed, nothing is done to a bed area by itself, and
        // spoil comes of work that has tasks of its own.
        let none = matches!(
            driver,
            Driver::HaulVolume | Driver::Hour | Driver::BedArea | Driver::SpoilVolume
        );
        assert_eq!(tasks == 0, none, "{}", driver.word());
    }
    assert!(l.tasks.iter().all(|t| t.hours.0 > Decimal::ZERO));
    // 100 ft2 is 9.290304 m2; 1 yd3 is 0.764554857984 m3.
    assert_eq!(l.task("level_footprint").unwrap().per, d("9.290304"));
    assert_eq!(l.task("spread").unwrap().per, d("0.764554857984"));
    assert_eq!(l.task("cap").unwrap().per, d("0.3048"));
}

#[test]
fn a_barrow_of_moist_soil_takes_its_hours_over_a_hundred_feet() {
    let l = builtin();
    let f = |key: &str| l.figure(key).unwrap().value.1;
    let density = d("2200") / d("27");
    let load = f("barrow_volume_ft3").min(f("barrow_weight_lb") / density);
    assert_eq!(load.round_dp(4), d("3.0682"));
    let filling = load / d("27") / f("barrow_loading_yd3_h") * d("60");
    let walking = d("100") / f("barrow_speed_loaded_ft_min");
    let back = d("100") / f("barrow_speed_empty_ft_min");
    let cycle = filling + walking + back + f("barrow_dump_min") + f("barrow_start_min");
    assert_eq!(cycle.round_dp(4), d("4.8787"));
    let rest = Decimal::ONE + f("barrow_rest_pct") / Decimal::ONE_HUNDRED;
    let hours = cycle / d("60") * (d("27") / load) * rest;
    assert_eq!(hours.round_dp(4), d("0.8587"));
}

#[test]
fn every_figure_that_code_asks_for_is_there() {
    let l = builtin();
    for (key, typical) in [
        ("barrow_volume_ft3", "6"),
        ("barrow_weight_lb", "250"),
        ("barrow_speed_loaded_ft_min", "160"),
        ("barrow_speed_empty_ft_min", "220"),
        ("barrow_dump_min", "0.4"),
        ("barrow_start_min", "0.3"),
        ("barrow_loading_yd3_h", "2.2"),
        ("barrow_rest_pct", "20"),
        ("setup_h", "0.75"),
        ("volunteer_factor", "1.65"),
        ("volunteer_session_h", "3"),
        ("volunteer_briefing_h", "0.33"),
        ("volunteer_per_supervisor", "9"),
        ("volunteer_no_show_pct", "20"),
        ("haul_slope_5_10", "1.12"),
        ("haul_slope_10_15", "1.3"),
        ("haul_slope_over_15", "1.6"),
        ("haul_soft", "1.3"),
        ("haul_stairs", "2.5"),
        ("haul_gate_narrow", "1.15"),
        ("haul_gate_narrow_in", "36"),
        ("kerf_in", "0.125"),
        ("least_offcut_in", "12"),
        ("screws_per_end_narrow", "2"),
        ("screws_per_end_medium", "3"),
        ("screws_per_end_wide", "4"),
        ("brace_every_ft", "4"),
        ("post_spacing_ft", "4"),
        ("post_buried", "0"),
        ("clean_soil_over_wood_in", "10"),
        ("sheet_turn_up_in", "4"),
        ("mesh_turn_up_in", "3"),
        ("finish_cover_ft2_gal", "250"),
    ] {
        let figure = l.figure(key);
        assert_eq!(figure.map(|f| f.value.1), Some(d(typical)), "{key}");
    }
}

#[test]
fn every_caution_hands_the_decision_to_someone_who_may_take_it() {
    for caution in builtin().cautions {
        let words = &caution.words;
        let ends = words.ends_with("local code and licensed practice decide")
            || words.ends_with("licensed practice decide")
            || words.ends_with("the quote of the supplier decides");
        assert!(ends, "{}: {words}", caution.key);
        // A figure of a law or a public body says where and of when it is.
        if caution.threshold.is_some() && &*caution.backing.confidence == "published" {
            let dated = !caution.jurisdiction.is_empty()
                || caution
                    .backing
                    .source
                    .contains(|c: char| c.is_ascii_digit());
            assert!(dated, "{}", caution.key);
        }
    }
}

#[test]
fn a_slip_in_a_table_is_our_bug_and_names_its_cell() {
    check_slip(
        "figures",
        "150,250,330,lb",
        "150,heavy,330,lb",
        "templates/library/figures.csv:3:4",
        "typical of a built-in table must hold a number that is not below zero",
    );
    check_slip(
        "figures",
        "120,160,200",
        "120,260,200",
        "templates/library/figures.csv:4:4",
        "typical of a built-in table must lie between low and high",
    );
    check_slip(
        "tasks",
        "site,each,",
        "site,ft2,",
        "templates/library/tasks.csv:2:4",
        "per of a built-in table holds a word that is not known",
    );
    check_slip(
        "sections",
        "1x2,in",
        "1x2,cubits",
        "templates/library/sections.csv:2:2",
        "unit of a built-in table holds a word that is not known",
    );
    check_slip(
        "crops",
        "open_in",
        "open",
        "templates/library/crops.csv:2:0",
        "open_in of a built-in table is missing",
    );
}

#[test]
fn two_half_blocks_and_a_joint_are_a_whole_block() {
    let l = builtin();
    let eight = &l.blocks.iter().find(|b| &*b.key == "8x8x16").unwrap().block;
    assert_eq!(eight.height, Length::inches(d("7.625")));
    // (15.625 - 0.375) / 2 = 7.625 in, the length of the half block that is sold.
    assert_eq!(eight.half_length(), Length::inches(d("7.625")));
    // 15.625 x 7.625 x 7.625 = 908.447265625 in3
    let bulk = eight.bulk().in_cubic_feet() * d("1728");
    assert_eq!(bulk.round_dp(6), d("908.447266"));
}
