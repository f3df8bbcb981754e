use super::super::hire::steps;
use super::super::{HireLine, Labour};
use super::yard::{Yard, d, given, named, told, yards};
use crate::buying::Scope;
use crate::model::job::{PhaseId, SiteId};
use crate::model::labour::{Driver, HireStep, Pay};
use crate::model::material::Category;
use crate::model::offer::Handover;
use crate::model::settings::TopUp;
use crate::takeoff::{KindId, Moment, Need, Part};
use crate::units::{Amount, Hours, Length};

#[track_caller]
fn check_steps(step: HireStep, hours: &str, expected: &str, words: &str) {
    let found = steps(step, Hours::of(d(hours)), d("8"));
    assert_eq!(found, (d(expected), words), "{hours} h");
}

#[test]
fn hire_is_paid_by_the_started_step() {
    check_steps(HireStep::Hour, "4.1", "5", "hour");
    check_steps(HireStep::HalfDay, "4", "1", "half-day");
    check_steps(HireStep::HalfDay, "4.1", "2", "half-day");
    check_steps(HireStep::Day, "8", "1", "day");
    check_steps(HireStep::Day, "8.5", "2", "day");
    check_steps(HireStep::Week, "40", "1", "week");
    check_steps(HireStep::Week, "41", "2", "week");
    check_steps(HireStep::Job, "400", "1", "job");
}

/// Twenty beds of 1.5 yd3, with a person to do it by hand.
fn yard() -> Yard {
    let mut yard = Yard::new();
    yard.worker("Crew", Pay::Paid);
    let kind = yard.beds(SiteId(0), 20, &[(Driver::Bed, "1")]);
    let soil = yard.material("topsoil", Category::Soil, Some("2200"));
    yard.take_off(kind).hauled = vec![(soil, yards("1.5"))];
    yard
}

fn loader(yard: &mut Yard) {
    let machine = yard.equipment("Loader", HireStep::Day);
    machine.does = Some(Driver::HaulVolume);
    machine.output = Some(yards("12").in_cubic_metres());
    machine.rate = Some(given(d("260"), "Rate"));
    machine.delivery = Some(given(d("75"), "Delivery"));
}

fn hired(labour: &Labour) -> Vec<(SiteId, String, String)> {
    let words = |h: &HireLine| (h.site, h.hours.in_hours().to_string(), h.steps.to_string());
    labour.hire.iter().map(words).collect()
}

#[test]
fn a_loader_takes_the_place_of_the_barrow() {
    // 30 yd3 at 12 yd3 an hour: 2.5 h of operator, one day of hire. By barrow it would be 25.8 h.
    let mut yard = yard();
    let by_hand = yard.work();
    let barrow = named(&by_hand, "Barrow topsoil 100 ft").hours.in_hours();
    assert_eq!(barrow.round_dp(1), d("25.8"));
    loader(&mut yard);
    let labour = yard.work();
    assert_eq!(labour.lines.len(), 1, "not both");
    let operator = named(&labour, "Loader, operator");
    assert_eq!(operator.quantity, d("30"));
    assert_eq!(operator.hours.in_hours().round_dp(9), d("2.5"));
    let hire = &labour.hire[0];
    assert_eq!((hire.steps, hire.step_words), (d("1"), "day"));
    assert_eq!((hire.rate, hire.delivery), (Some(d("260")), Some(d("75"))));
    assert_eq!(hire.measures, operator.measures);
    assert_eq!(
        told(&labour),
        ["Notice: Loader takes the place of hand work at the build: hauling by barrow @60:Does"]
    );
}

#[test]
fn a_loader_moves_the_surplus_too() {
    // 30 yd3 needed and 6 more bought: 36 yd3 at 12 an hour is 3 h, and a bed bears its need only.
    let mut yard = yard();
    loader(&mut yard);
    let (soil, need) = (yard.takeoffs[0].hauled[0].0, yards("30"));
    let bulk = yard.offer(soil, Handover::Bulk, yards("1"));
    let scope = Scope::Drop(SiteId(0), PhaseId(0));
    let line = yard.order(bulk, scope, need, &[(KindId(0), yards("1.5"))]);
    line.surplus = Amount::Volume(yards("6"));
    let labour = yard.work();
    assert_eq!(labour.lines.len(), 1, "and no barrow for it");
    let operator = named(&labour, "Loader, operator");
    assert_eq!(operator.hours.in_hours().round_dp(9), d("3"));
    assert_eq!(operator.measures[0].1.round_dp(9), d("0.125"));
}

#[test]
fn hire_rounds_up_on_each_site() {
    // 2.5 h on each of two sites is a day here and a day there, not one day of 5 h.
    let mut yard = yard();
    let barn = yard.site("Barn");
    let there = yard.beds(barn, 20, &[(Driver::Bed, "1")]);
    let hauled = yard.takeoffs[0].hauled.clone();
    yard.take_off(there).hauled = hauled;
    loader(&mut yard);
    let one = "1".to_owned();
    let labour = yard.work();
    let steps: Vec<_> = hired(&labour).into_iter().map(|(s, _, n)| (s, n)).collect();
    assert_eq!(steps, [(barn, one.clone()), (SiteId(0), one)]);
}

#[test]
fn a_machine_that_is_only_there_stays_for_every_crew_day() {
    // 20 beds x 4 h = 80 h at 32 h a day: 3 days.
    let mut yard = yard();
    yard.task("Build", Driver::Bed, "4");
    yard.takeoffs[0].hauled.clear();
    yard.equipment("Toilet", HireStep::Job);
    yard.equipment("Compactor", HireStep::Day);
    yard.equipment("Mixer", HireStep::HalfDay);
    yard.equipment("Trailer", HireStep::Week);
    yard.equipment("Saw", HireStep::Hour);
    let labour = yard.work();
    let found: Vec<_> = labour
        .hire
        .iter()
        .map(|h| {
            let machine = &yard.job.equipment[h.equipment];
            format!("{} {} {}", machine.name, h.steps, h.step_words)
        })
        .collect();
    assert_eq!(
        found,
        [
            "Compactor 3 day",
            "Mixer 6 half-day",
            "Saw 24 hour",
            "Toilet 1 job",
            "Trailer 1 week"
        ]
    );
}

#[test]
fn a_machine_replaces_all_hand_work_on_its_driver_and_names_it() {
    // A powered cutter: 20 beds of 4 m2 at 40 m2 an hour is 2 h instead of 20 x 4 x 0.1 = 8 h.
    let mut yard = Yard::new();
    yard.worker("Crew", Pay::Paid);
    yard.beds(SiteId(0), 20, &[(Driver::Footprint, "4")]);
    yard.task("Strip sod", Driver::Footprint, "0.1");
    assert_eq!(named(&yard.work(), "Strip sod").hours, Hours::of(d("8")));
    let machine = yard.equipment("Cutter", HireStep::HalfDay);
    machine.does = Some(Driver::Footprint);
    machine.output = Some(d("40"));
    let labour = yard.work();
    let hours = named(&labour, "Cutter, operator").hours.in_hours();
    assert_eq!(hours.round_dp(9), d("2"));
    assert_eq!(labour.lines.len(), 1);
    assert_eq!(
        told(&labour),
        ["Notice: Cutter takes the place of hand work at the build: Strip sod @60:Does"]
    );
}

#[test]
fn the_season_slows_a_machine_and_the_way_does_not() {
    // 2.5 h x 1.2 = 3 h; the slope is in the machine's output already.
    let mut yard = yard();
    loader(&mut yard);
    yard.job.settings.season_factor = given(d("1.2"), "Value");
    yard.job.sites[0].haul_slope = given(d("0.2"), "Haul slope");
    let labour = yard.work();
    let hours = named(&labour, "Loader, operator").hours;
    assert_eq!(hours.in_hours().round_dp(9), d("3"));
    assert_eq!(
        labour.hire[0].hours, hours,
        "hired for as long as it is run"
    );
}

#[test]
fn volunteers_run_no_machine() {
    let mut yard = yard();
    yard.job.workers.clear();
    yard.worker("Helpers", Pay::Volunteer);
    let crew = yard.worker("Crew", Pay::Paid);
    loader(&mut yard);
    let labour = yard.work();
    assert_eq!(named(&labour, "Loader, operator").worker, Some(crew));
}

#[test]
fn a_machine_without_output_and_a_second_machine_are_problems() {
    let mut yard = yard();
    loader(&mut yard);
    let second = yard.equipment("Tracked dumper", HireStep::Day);
    second.does = Some(Driver::HaulVolume);
    second.output = Some(d("5"));
    let idle = yard.equipment("Cutter", HireStep::Day);
    idle.does = Some(Driver::Footprint);
    let told = told(&yard.work());
    assert_eq!(
        told[0],
        "Error: Cutter does something but has no output an hour @62:Output per hour"
    );
    assert_eq!(
        told[2],
        "Error: another machine does haul already, and all of it can be done only once @61:Does"
    );
}

#[test]
fn a_narrow_gate_and_a_loader_are_a_caution() {
    let mut yard = yard();
    loader(&mut yard);
    yard.job.sites[0].gate = Some(given(Length::inches(d("34")), "Gate width"));
    let told = told(&yard.work());
    assert_eq!(
        told[1],
        "Caution: the narrowest gate of Meadow is under 36 in: see whether Loader gets through \
         @10:Gate width"
    );
}

#[test]
fn a_machine_for_the_job_may_come_without_an_output() {
    // Hands still do the work, and the machine stands by for its one step.
    let mut yard = yard();
    yard.equipment("Tipper", HireStep::Job).does = Some(Driver::HaulVolume);
    let labour = yard.work();
    assert_eq!(named(&labour, "Barrow topsoil 100 ft").quantity, d("30"));
    assert_eq!(labour.hire[0].steps, d("1"));
    assert_eq!(
        told(&labour),
        [
            "Notice: Tipper has no output an hour: its hire counts, and the hours by hand stay \
             @60:Output per hour"
        ]
    );
}

#[test]
fn a_machine_without_anything_to_do_is_not_hired_and_that_is_said() {
    let mut yard = yard();
    yard.takeoffs[0].hauled.clear();
    loader(&mut yard);
    let labour = yard.work();
    assert!(labour.hire.is_empty());
    assert_eq!(
        told(&labour)[1],
        "Notice: Loader is not hired: there is no haul to do @60:Does"
    );
}

#[test]
fn the_top_up_is_hauled_by_hand() {
    let mut yard = yard();
    loader(&mut yard);
    yard.job.settings.top_up = given(TopUp::Included, "Value");
    let soil = yard.takeoffs[0].hauled[0].0;
    yard.takeoffs[0].needs.push(Need {
        material: soil,
        part: Part::TopUp,
        moment: Moment::TopUp,
        net: Amount::Volume(yards("0.05")),
        order: Amount::Volume(yards("0.05")),
    });
    let labour = yard.work();
    let barrow = named(&labour, "Barrow topsoil 100 ft");
    assert_eq!((barrow.moment, barrow.quantity), (Moment::TopUp, d("1")));
    assert_eq!(named(&labour, "Loader, operator").moment, Moment::Build);
    assert_eq!(labour.hire.len(), 1);
}

#[test]
fn machines_stand_by_on_volunteer_days_too() {
    // 20 beds x 4 h x 1.65 = 132 h in sessions of 2.67 h: 50 sessions, 10 a day: 5 days, no crew day.
    let mut yard = yard();
    yard.takeoffs[0].hauled.clear();
    let build = yard.task("Build", Driver::Bed, "4");
    let helpers = yard.worker("Helpers", Pay::Volunteer);
    yard.job.workers[helpers.index()].headcount = Some(10);
    yard.job.tasks[build.index()].worker = Some(helpers);
    yard.equipment("Toilet", HireStep::Day);
    let labour = yard.work();
    assert!(labour.days.is_empty());
    assert_eq!(labour.hire[0].steps, d("5"));
}
