//! Settings and sites that the job left open.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::{Notes, exact, percent};
use crate::labour::LabourLine;
use crate::model::job::{HaulGround, Site, SiteId};
use crate::model::known::Known;
use crate::model::labour::Driver;
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, TaxMode, TopUp, TrimmedEnds};
use crate::takeoff::{Part, TakeOff};
use crate::units::show::plain;
use crate::units::{Hours, System};

pub(super) fn note(notes: &mut Notes) {
    general(notes);
    price(notes);
    fill(notes);
    ground(notes);
    cutting(notes);
    days(notes);
    sites(notes);
}

fn general(notes: &mut Notes) {
    let s = &notes.job.settings;
    notes.known("Units", &s.units, |u| system(*u).to_owned(), "all outputs");
    let code = |c: &crate::units::Currency| c.as_str().to_owned();
    notes.known("Currency", &s.currency, code, "all prices");
    let paper = |p: &Paper| match p {
        Paper::Letter => "Letter".to_owned(),
        Paper::A4 => "A4".to_owned(),
    };
    notes.known("Paper", &s.paper, paper, "printed pages");
    let days = |n: &u32| format!("{n} days");
    notes.known(
        "Valid days",
        &s.valid_days,
        days,
        "how long the price holds",
    );
    if !notes.job.offers.is_empty() {
        let buying = |b: &Buying| match b {
            Buying::LeastCost => "least cost".to_owned(),
            Buying::OneSupplier => "one supplier".to_owned(),
            Buying::AsMarked => "as marked".to_owned(),
        };
        notes.known("Buying", &s.buying, buying, "choice of suppliers");
        notes.known(
            "Stale days",
            &s.stale_days,
            days,
            "caution about old prices",
        );
    }
}

const fn system(system: System) -> &'static str {
    match system {
        System::UsCustomary => "US customary",
        System::Metric => "metric",
    }
}

fn price(notes: &mut Notes) {
    let s = &notes.job.settings;
    notes.known("Overhead %", &s.overhead, percent, "price");
    notes.known("Contingency %", &s.contingency, percent, "price");
    notes.known("Profit %", &s.profit, percent, "price");
    let profit_as = |p: &ProfitAs| match p {
        ProfitAs::Markup => "markup".to_owned(),
        ProfitAs::Margin => "margin".to_owned(),
    };
    notes.known("Profit as", &s.profit_as, profit_as, "price");
    let mode = |m: &TaxMode| match m {
        TaxMode::None => "none".to_owned(),
        TaxMode::OnPurchases => "on purchases".to_owned(),
        TaxMode::OnMaterials => "on materials".to_owned(),
        TaxMode::OnPrice => "on the whole price".to_owned(),
        TaxMode::OnCategories => "on categories".to_owned(),
    };
    notes.known("Tax mode", &s.tax_mode, mode, "price");
    if s.tax_mode.value != TaxMode::None {
        notes.known("Tax %", &s.tax, percent, "price");
    }
    if !s.contingency.value.is_zero() {
        let seen = |seen: &bool| if *seen { "yes" } else { "no" }.to_owned();
        let known = &s.client_sees_contingency;
        notes.known(
            "Client sees contingency",
            known,
            seen,
            "what the client reads",
        );
    }
    let sum = |n: &Decimal| plain(*n, 4);
    notes.known("Round price to", &s.round_to, sum, "price");
    notes.known("Minimum charge", &s.minimum_charge, sum, "price");
}

fn fill(notes: &mut Notes) {
    if notes.takeoffs.iter().all(|t| t.layers.is_empty()) {
        return;
    }
    let s = &notes.job.settings;
    let shown = s.units.value;
    let moment = |f: &FullAfter| match f {
        FullAfter::WetDown => "wet-down".to_owned(),
        FullAfter::FirstSeason => "first season".to_owned(),
    };
    notes.known("Full after", &s.full_after, moment, "quantities of fill");
    let depth = |l: &crate::units::Length| exact(shown, *l);
    notes.known("Crown", &s.crown, depth, "quantities of fill");
    notes.known("Freeboard", &s.freeboard, depth, "quantities of fill");
    let top_up = |t: &TopUp| match t {
        TopUp::Offered => "offered".to_owned(),
        TopUp::Included => "included".to_owned(),
        TopUp::None => "none".to_owned(),
    };
    notes.known("Top-up", &s.top_up, top_up, "top-up after the first season");
}

/// What rests on the figures of the ground, as far as any of it is worked.
fn ground(notes: &mut Notes) {
    let s = &notes.job.settings;
    let shown = s.units.value;
    let depth = |l: &crate::units::Length| exact(shown, *l);
    let beds = notes.kinds.kinds.len();
    let worked = |t: &crate::takeoff::TakeOff| !t.ground_area.is_zero();
    if notes.takeoffs.iter().take(beds).any(worked) {
        notes.known(
            "Ground margin",
            &s.ground.margin,
            depth,
            "ground under beds",
        );
    }
    let covered = |t: &crate::takeoff::TakeOff| t.needs.iter().any(|n| n.part == Part::GroundCover);
    if notes.takeoffs.iter().any(covered) {
        notes.figure("ground_cover_sheets", "cardboard on the ground");
    }
    if notes.takeoffs.iter().all(|t| t.spoil.is_zero()) {
        return;
    }
    notes.known("Swell %", &s.ground.swell, percent, "volume of spoil");
    notes.known(
        "Spoil kept %",
        &s.ground.spoil_kept,
        percent,
        "spoil that is taken away",
    );
}

fn cutting(notes: &mut Notes) {
    let cuts_nothing = |t: &TakeOff| t.pieces.is_empty() && t.sheet_pieces.is_empty();
    if notes.takeoffs.iter().all(cuts_nothing) {
        return;
    }
    let s = &notes.job.settings;
    let shown = s.units.value;
    let depth = |l: &crate::units::Length| exact(shown, *l);
    notes.known("Kerf", &s.kerf, depth, "cut list");
    notes.known("End trim", &s.end_trim, depth, "cut list");
    if !s.end_trim.value.is_zero() {
        let ends = |ends: &TrimmedEnds| ends.words().to_owned();
        notes.known("Trimmed ends", &s.trimmed_ends, ends, "cut list");
    }
    notes.known("Least offcut", &s.least_offcut, depth, "offcuts to keep");
    notes.known(
        "Cut tolerance",
        &s.cut_tolerance,
        depth,
        "notices of near misses",
    );
    notes.known("Culls %", &s.culls, percent, "cut list");
}

fn days(notes: &mut Notes) {
    if notes.labour.lines.iter().all(|line| line.hours.is_zero()) {
        return;
    }
    let s = &notes.job.settings;
    let people = |n: &u32| n.to_string();
    notes.known("Crew size", &s.crew_size, people, "days on site");
    notes.known("Hours per day", &s.hours_per_day, hours, "days on site");
    schedule(notes);
    notes.known("Set-up hours", &s.setup_hours, hours, "days on site");
    let times = |n: &Decimal| format!("x {}", plain(*n, 4));
    notes.known("Season factor", &s.season_factor, times, "all hours");
}

/// Hours with their unit.
pub(super) fn hours(hours: &Hours) -> String {
    format!("{} h", plain(hours.in_hours(), 4))
}

/// Sites where there are beds or areas, in the order of their names.
fn sites(notes: &mut Notes) {
    let ids: BTreeSet<SiteId> = notes.kinds.bearers().map(|bearer| bearer.site).collect();
    let mut sites: Vec<(&Site, SiteId)> = ids
        .into_iter()
        .filter_map(|id| Some((notes.job.sites.get(id.index())?, id)))
        .collect();
    sites.sort_by(|a, b| a.0.name.cmp(&b.0.name));
    for (site, id) in sites {
        let days = &notes.labour.days;
        if days.iter().any(|d| d.site == id && !d.work.is_zero()) {
            notes.of(
                "Travel time",
                &site.name,
                &site.travel,
                hours,
                "days on site",
            );
        }
        let lines: Vec<&LabourLine> = notes.labour.lines.iter().filter(|l| l.site == id).collect();
        if lines.iter().any(|line| is_haul(notes, line)) {
            haul(notes, site);
        }
        if let Some(tax) = &site.tax {
            notes.of("Tax %", &site.name, tax, percent, "price");
        }
        optional_fee(notes, site, site.drop_fee.as_ref());
    }
}

fn optional_fee(notes: &mut Notes, site: &Site, fee: Option<&Known<Decimal>>) {
    if let Some(fee) = fee {
        let sum = |n: &Decimal| plain(*n, 4);
        notes.of("Drop fee", &site.name, fee, sum, "deliveries");
    }
}

/// Whether the way of the site bears on a line.
pub(super) fn is_haul(notes: &Notes, line: &LabourLine) -> bool {
    let task = line.task.and_then(|id| notes.job.tasks.get(id.index()));
    !line.hours.is_zero()
        && (line.driver == Driver::HaulVolume || task.is_some_and(|task| task.haul))
}

fn haul(notes: &mut Notes, site: &Site) {
    let shown = notes.job.settings.units.value;
    let length = |l: &crate::units::Length| shown.length(*l);
    notes.of("Haul distance", &site.name, &site.haul, length, "hauling");
    let ground = |g: &HaulGround| match g {
        HaulGround::Firm => "firm".to_owned(),
        HaulGround::Soft => "soft".to_owned(),
        HaulGround::Stairs => "stairs".to_owned(),
    };
    notes.of(
        "Haul ground",
        &site.name,
        &site.haul_ground,
        ground,
        "hauling",
    );
    notes.of(
        "Haul slope",
        &site.name,
        &site.haul_slope,
        percent,
        "hauling",
    );
    if let Some(gate) = &site.gate {
        notes.of("Gate width", &site.name, gate, length, "hauling");
    }
}

fn schedule(notes: &mut Notes) {
    let calendar = &notes.job.settings.calendar;
    let days = |n: &u32| format!("{n} days");
    let week = |week: &crate::model::calendar::WorkWeek| week.words();
    notes.known("Working days", &calendar.week, week, "the schedule");
    notes.known(
        "Days to settle",
        &calendar.settling,
        days,
        "the day from which beds can be planted",
    );
    if notes.job.settings.top_up.value != crate::model::settings::TopUp::None {
        notes.known(
            "Days to top-up",
            &calendar.season,
            days,
            "the day of the top-up visit",
        );
    }
}
