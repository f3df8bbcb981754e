//! Longer than most: every kind of value is asked for, and shown to be absent when it was not used.

use super::super::trial::{Trial, d, feet, inches, row};
use super::*;
use crate::labour::{SiteDays, Volunteering};
use crate::model::by_hand::{self, boards_of};
use crate::model::frame::{PostSide, Posts};
use crate::model::job::{HaulGround, SiteId};
use crate::model::labour::{ExtraKind, Pay, Worker, WorkerId};
use crate::model::library::Checked;
use crate::model::material::{Category, MaterialId, Section};
use crate::model::settings::{TaxMode, TopUp};
use crate::takeoff::{Moment, Part, Piece};
use crate::units::{Amount, Area, Hours, Length, Volume};

fn all(trial: &Trial) -> Vec<Assumption> {
    assumptions(
        &trial.job,
        &trial.kinds,
        &trial.takeoffs,
        &trial.bought,
        &trial.labour,
        &trial.library,
    )
}

/// The assumption about `what` as `value | basis | confidence | used for`.
fn line(trial: &Trial, what: &str) -> Option<String> {
    let mut found = all(trial).into_iter().filter(|a| a.what == what);
    let a = found.next()?;
    assert_eq!(found.next(), None, "{what} is listed twice");
    let Assumption {
        value,
        basis,
        confidence,
        used_for,
        ..
    } = a;
    Some(format!("{value} | {basis} | {confidence} | {used_for}"))
}

#[track_caller]
fn check(trial: &Trial, what: &str, expected: &str) {
    assert_eq!(line(trial, what).as_deref(), Some(expected));
}

#[track_caller]
fn check_absent(trial: &Trial, what: &str) {
    assert_eq!(line(trial, what), None);
}

/// A bed with a foot of a material.
fn filled_with(name: &str, category: Category) -> Trial {
    let mut trial = Trial::new();
    trial.bed("North");
    let id = trial.material(name, category);
    trial.layer(id, "12", "0");
    trial
}

#[test]
fn an_unset_setting_says_what_it_was_taken_as() {
    let mut trial = Trial::new();
    check(
        &trial,
        "Overhead %",
        "0% | not set, taken as 0% | assumption | price",
    );
    check(
        &trial,
        "Tax mode",
        "none | not set, taken as none | assumption | price",
    );
    check_absent(&trial, "Tax %");
    trial.job.settings.tax_mode = Known::job(TaxMode::OnPurchases, row(0, 1), "Value");
    check_absent(&trial, "Tax mode");
    check(
        &trial,
        "Tax %",
        "0% | not set, taken as 0% | assumption | price",
    );
    trial.job.settings.overhead = Known::job(d("0.12"), row(0, 2), "Value");
    check_absent(&trial, "Overhead %");
}

#[test]
fn what_was_not_used_is_not_listed() {
    let mut trial = Trial::new();
    trial.bed("North");
    for unused in ["Kerf", "Crew size", "Full after", "Buying", "Set-up hours"] {
        check_absent(&trial, unused);
    }
    let board = trial.material("2x10", Category::Lumber);
    trial.takeoff().pieces.push(Piece {
        material: board,
        length: feet("8"),
        count: 4,
        mark: "long side".into(),
        places: Vec::new(),
    });
    let typical = "typical, change it to your own";
    check(
        &trial,
        "Kerf",
        &format!("0.125 in | {typical} | typical-range | cut list"),
    );
    trial.work("spread", "2");
    check(
        &trial,
        "Set-up hours",
        &format!("0.75 h | {typical} | assumption | days on site"),
    );
    check(
        &trial,
        "Crew size",
        "2 | not set, taken as 2 people | assumption | days on site",
    );
}

#[test]
fn a_source_is_named_only_for_a_figure_that_was_seen_in_it() {
    let mut trial = filled_with("Compost", Category::Compost);
    trial.trips(&["2000"], Some("13000"), 1);
    check(
        &trial,
        "Delivered density of Compost",
        "1,000 lb/yd3 | Municipal recycling weight conversions, Massachusetts DEP, c. 2011 | published | loads and hauling",
    );
    // The same row's settling is judgement, whatever the source of its weight.
    check(
        &trial,
        "Wet-down loss of Compost",
        "15% | typical, change it to your own | typical-range | quantities to order",
    );
    check(
        &trial,
        "First-season loss of Compost",
        "20% | typical, change it to your own | typical-range | sinking, top-up and quantities to order",
    );
    check(
        &trial,
        "Waste of Compost",
        "4% | typical, change it to your own | typical-range | quantities to order",
    );
    check_absent(&trial, "Void share of Compost");
    trial.bought.trips.clear();
    check_absent(&trial, "Delivered density of Compost");
    trial.haul("3");
    assert!(line(&trial, "Delivered density of Compost").is_some());
    // A weight that nobody looked up names no source.
    let mut trial = filled_with("Garden blend 70/30", Category::Soil);
    trial.haul("3");
    check(
        &trial,
        "Delivered density of Garden blend 70/30",
        "1,900 lb/yd3 | typical, change it to your own | typical-range | loads and hauling",
    );
}

#[test]
fn no_recalled_source_is_ever_printed() {
    let mut trial = Trial::new();
    trial.bed("North");
    let names = trial.library.materials.iter().map(|m| m.name.to_string());
    let names: Vec<String> = names.collect();
    for name in names {
        let id = trial.material(&name, Category::Other);
        trial.layer(id, "1", "0");
    }
    trial.trips(&["2000"], Some("13000"), 1);
    trial.haul("3");
    let seen: Vec<&str> = trial
        .library
        .materials
        .iter()
        .filter(|m| m.backing.checked != Checked::Recalled)
        .map(|m| &*m.backing.source)
        .collect();
    let mut with_source = 0;
    for a in all(&trial) {
        let plain = a.basis == TYPICAL || a.basis.starts_with("not set, taken as ");
        assert!(plain || seen.contains(&&*a.basis), "{a:?}");
        if !plain {
            assert!(a.what.starts_with("Delivered density of "), "{a:?}");
            with_source += 1;
        }
    }
    assert_eq!(with_source, seen.len());
}

#[test]
fn voids_are_listed_for_wood_and_sections_for_boards() {
    let mut trial = filled_with("Logs, stacked", Category::Wood);
    check(
        &trial,
        "Void share of Logs, stacked",
        "35% | typical, change it to your own | typical-range | soil that runs into the voids",
    );
    check(
        &trial,
        "Infill of the voids of Logs, stacked",
        "70% | typical, change it to your own | typical-range | soil that runs into the voids",
    );
    assert!(line(&trial, "Finished soil kept above buried wood").is_some());
    let board = trial.material("2x10", Category::Lumber);
    trial.need(board, Part::Board, Amount::Length(feet("48")));
    let two_by_ten: Section = trial.library.section("2x10").unwrap().section.clone();
    let section = Known::library(two_by_ten, "sections", "2x10".into(), "face");
    trial.job.materials[board.index()].section = Some(section);
    check(
        &trial,
        "Dressed size of 2x10",
        "1.5 in x 9.25 in | typical, change it to your own | typical-range | height of walls, inside size and cut list",
    );
    // A waste % never touches boards.
    check_absent(&trial, "Waste of 2x10");
}

#[test]
fn what_a_rule_took_for_many_things_is_said_once() {
    let mut trial = Trial::new();
    trial.bed("North");
    for name in [
        "Yellow sand",
        "Brown soil",
        "Amber soil",
        "Red soil",
        "Clay",
    ] {
        let id = trial.material(name, Category::Soil);
        trial.layer(id, "1", "0");
    }
    check(
        &trial,
        "Wet-down loss",
        "0% | not set, taken as 0% | assumption | Amber soil, Brown soil, Clay and 2 more",
    );
    check(
        &trial,
        "Source",
        "bought | not set, taken as bought | assumption | Amber soil, Brown soil, Clay and 2 more",
    );
}

#[test]
fn sheets_are_laid_by_a_width_a_lap_and_a_turn_up() {
    let mut trial = Trial::new();
    trial.bed("North");
    let sheet = trial.material("Cardboard", Category::Sheet);
    let area = Amount::Area(Area::square_feet(d("29")));
    trial.need(sheet, Part::Layer(0), area);
    let width = Known::library(
        inches("48"),
        "materials",
        "cardboard".into(),
        "roll_width_in",
    );
    trial.job.materials[sheet.index()].roll_width = Some(width);
    check(
        &trial,
        "Roll width of Cardboard",
        "48 in | typical, change it to your own | assumption | strips to lay",
    );
    check(
        &trial,
        "Turn-up of protective sheets at the walls",
        "4 in (3 to 6) | typical, change it to your own | assumption | sheets to buy",
    );
    let mesh = "Turn-up of burrow mesh at the walls";
    check_absent(&trial, mesh);
    let cloth = trial.material("Hardware cloth", Category::Mesh);
    trial.need(cloth, Part::Mesh, area);
    check(
        &trial,
        mesh,
        "3 in (2 to 4) | typical, change it to your own | assumption | mesh to buy",
    );
    check_absent(&trial, "Waste of Cardboard");
}

#[test]
fn typical_hours_are_listed_with_their_range_and_their_weight() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.work("level_footprint", "12.25");
    check(
        &trial,
        "Level the footprint",
        "1.9 h per 100 ft2 (1 to 3.8) | typical, change it to your own | assumption | 12.3 h of work",
    );
    check_absent(&trial, "Barrow, heaped");
    check_absent(&trial, "Haul distance");
    trial.labour.lines[0].typical = false;
    check_absent(&trial, "Level the footprint");
}

#[test]
fn hauling_lists_the_barrow_and_what_slows_it() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.haul("8.5");
    check(
        &trial,
        "Most weight in a barrow",
        "250 lb (150 to 330) | typical, change it to your own | typical-range | 8.5 h of work",
    );
    check(
        &trial,
        "Haul distance",
        "50' | not set, taken as 50 ft | assumption | School",
    );
    check_absent(&trial, "Hauling over soft ground, sand or loose gravel");
    let site = &mut trial.job.sites[0];
    site.haul_ground = Known::job(HaulGround::Soft, row(3, 1), "Haul ground");
    site.haul_slope = Known::job(d("0.1"), row(3, 1), "Haul slope");
    site.gate = Some(Known::job(inches("35.9"), row(3, 1), "Gate width"));
    let typical = "typical, change it to your own | assumption | School";
    check(
        &trial,
        "Hauling over soft ground, sand or loose gravel",
        &format!("1.3 times (1.15 to 1.6) | {typical}"),
    );
    check(
        &trial,
        "Hauling on a slope of 5 to 10%",
        &format!("1.12 times (1.05 to 1.2) | {typical}"),
    );
    check(
        &trial,
        "Hauling through a gate under 36 in",
        &format!("1.15 times (1.05 to 1.3) | {typical}"),
    );
    check_absent(&trial, "Haul ground");
    trial.job.sites[0].haul_slope = Known::job(d("0.151"), row(3, 1), "Haul slope");
    assert!(line(&trial, "Hauling on a slope over 15%").is_some());
    check_absent(&trial, "Hauling on a slope of 10 to 15%");
}

fn worker(name: &str, pay: Pay) -> Worker {
    let figure = |key: &str| -> Known<Hours> {
        let hours = crate::read::library::builtin().typical(key);
        Known::library(Hours::of(hours), "figures", key.into(), "typical")
    };
    Worker {
        at: row(8, 1),
        session: figure("volunteer_session_h"),
        no_show: Known::job(d("0.2"), row(8, 1), "No-show %"),
        per_supervisor: Known::library(9, "figures", "volunteer_per_supervisor".into(), "typical"),
        factor: Known::library(d("1.65"), "figures", "volunteer_factor".into(), "typical"),
        briefing: figure("volunteer_briefing_h"),
        ..crate::model::by_hand::worker(name, pay)
    }
}

#[test]
fn a_wage_without_burden_says_so_and_a_charge_rate_does_not_need_to() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.work("spread", "2");
    trial.job.workers.push(worker("Crew", Pay::Paid));
    trial.job.workers[0].pay_rate = Some(Known::job(d("25"), row(8, 1), "Pay rate"));
    check_absent(&trial, "Burden %");
    trial.labour.lines[0].worker = Some(WorkerId(0));
    let expected = "0% | not set, taken as 0% | assumption | Crew";
    check(&trial, "Burden %", expected);
    // Who only sets up and travels is paid as well.
    trial.labour.lines[0].worker = None;
    trial.labour.days.push(SiteDays {
        site: SiteId(0),
        moment: Moment::Build,
        work: Hours::of(d("2")),
        crew: 2,
        day_holds: Hours::of(d("14.5")),
        days: d("1"),
        overhead: Hours::of(d("1.5")),
        worker: Some(WorkerId(0)),
    });
    check(&trial, "Burden %", expected);
    check(
        &trial,
        "Travel time",
        "0 h | not set, taken as no travel | assumption | School",
    );
    trial.job.workers[0].charge_rate = Some(Known::job(d("68"), row(8, 1), "Charge rate"));
    check_absent(&trial, "Burden %");
}

#[test]
fn volunteers_bring_their_figures() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.job.workers.push(worker("Volunteer", Pay::Volunteer));
    check_absent(&trial, "Hours against a crew of Volunteer");
    trial.labour.volunteering.push(Volunteering {
        site: SiteId(0),
        worker: WorkerId(0),
        moment: Moment::Build,
        work: Hours::of(d("99")),
        sessions: d("38"),
        present: Hours::of(d("114")),
        invite: d("48"),
        days: d("2"),
        supervisors: d("3"),
        supervision: Hours::of(d("18")),
    });
    let typical = "typical, change it to your own";
    check(
        &trial,
        "Hours against a crew of Volunteer",
        &format!("x 1.65 | {typical} | assumption | volunteer hours"),
    );
    check(
        &trial,
        "Session length of Volunteer",
        &format!("3 h | {typical} | typical-range | volunteer hours"),
    );
    check(
        &trial,
        "Per supervisor of Volunteer",
        &format!("9 | {typical} | typical-range | supervisors"),
    );
    check_absent(&trial, "No-show % of Volunteer");
}

#[test]
fn walls_list_the_rules_that_they_are_built_by() {
    let mut trial = Trial::new();
    check_absent(&trial, "Corner");
    trial.bed("North");
    check(
        &trial,
        "Corner",
        "butt | not set, taken as butt | assumption | Boards",
    );
    check_absent(&trial, "Post spacing of Boards");
    check_absent(&trial, "Fasteners per joint");
    boards_of(&mut trial.job.frames[0]).posts = Some(Posts {
        material: MaterialId(0),
        spacing: Known::library(feet("4"), "figures", "post_spacing_ft".into(), "typical"),
        buried: Known::library(Length::ZERO, "figures", "post_buried".into(), "typical"),
        side: Known::assumed(PostSide::Inside, "not set, taken as inside"),
    });
    let typical = "typical, change it to your own | assumption | posts";
    check(&trial, "Post spacing of Boards", &format!("4' | {typical}"));
    check(
        &trial,
        "Post buried of Boards",
        &format!("0 in | {typical}"),
    );
    trial.job.frames[0].wall = by_hand::mound();
    check_absent(&trial, "Corner");
    check(
        &trial,
        "Side slope",
        "1 run for 1 rise | not set, taken as 1 run for 1 rise | assumption | Boards",
    );
}

#[track_caller]
fn check_not_priced(trial: &Trial, expected: &[&str]) {
    assert_eq!(
        not_priced(&trial.job, &trial.takeoffs, &trial.bought),
        expected
    );
}

#[test]
fn a_bare_job_prices_none_of_the_usual_extras() {
    let mut trial = Trial::new();
    trial.bed("North");
    check_not_priced(
        &trial,
        &[
            "ground preparation",
            "paths and surrounds",
            "spoil",
            "permits and fees",
            "irrigation",
            "planting",
        ],
    );
}

#[test]
fn what_extras_name_is_priced_and_what_they_exclude_is_not() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.extra("Strip sod below the beds", ExtraKind::Cost);
    trial.extra("Path mulch", ExtraKind::Allowance);
    trial.extra("Dump fee for spoil", ExtraKind::PassThrough);
    trial.extra("Building permit", ExtraKind::PassThrough);
    trial.extra("Drip kit", ExtraKind::Cost);
    check_not_priced(&trial, &["planting"]);
    // A planter is no planting, and an exclusion is said as it was typed.
    trial.extra("Planter labels", ExtraKind::Cost);
    trial.extra("Planting", ExtraKind::Exclusion);
    trial.extra("Removal of the old shed", ExtraKind::Exclusion);
    check_not_priced(&trial, &["planting", "Removal of the old shed"]);
}

#[test]
fn worked_ground_is_priced_and_spoil_as_far_as_it_is_taken_away() {
    let mut trial = Trial::new();
    trial.bed("North");
    trial.takeoff().ground_area = Area::square_feet(d("45"));
    trial.takeoff().spoil = Volume::cubic_feet(d("11.25"));
    let has = |trial: &Trial, phrase: &str| {
        not_priced(&trial.job, &trial.takeoffs, &trial.bought).contains(&phrase.to_owned())
    };
    assert!(!has(&trial, "ground preparation"));
    trial.job.settings.ground.spoil_kept.value = d("0.4");
    assert!(has(&trial, "spoil (40% of it stays on the site)"));
    trial.job.settings.ground.spoil_kept.value = d("0");
    assert!(
        !not_priced(&trial.job, &trial.takeoffs, &trial.bought)
            .iter()
            .any(|phrase| phrase.starts_with("spoil"))
    );
}

#[test]
fn the_top_up_visit_is_priced_only_when_it_is_included() {
    let mut trial = Trial::new();
    trial.bed("North");
    let has = |trial: &Trial, phrase: &str| {
        not_priced(&trial.job, &trial.takeoffs, &trial.bought).contains(&phrase.to_owned())
    };
    assert!(!has(&trial, "top-up visit (offered beside the price)"));
    trial.takeoff().top_up = Volume::cubic_feet(d("2"));
    assert!(has(&trial, "top-up visit (offered beside the price)"));
    trial.job.settings.top_up.value = TopUp::None;
    assert!(has(&trial, "top-up visit"));
    trial.job.settings.top_up.value = TopUp::Included;
    assert!(!has(&trial, "top-up visit"));
}
