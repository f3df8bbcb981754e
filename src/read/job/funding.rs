//! `Funding` and `Budget classes`: who pays for what, under which rules, and how a budget shows it.

use std::sync::Arc;

use jiff::civil::{Date, date};
use rust_decimal::Decimal;

use super::draft::Draft;
use super::reading::{Reading, Words};
use super::settings::Cells;
use crate::model::funding::{
    Budgeting, CLASSES, ClassRef, ClassRow, CountsAs, Form, Funder, Funding, LineKind, MatchBase,
    RuleSet, Target,
};
use crate::model::known::{From, Known};
use crate::model::library::{Library, folded};
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::read::names::did_you_mean;
use crate::read::open::Opened;
use crate::read::row::rows;

/// First day of awards under the rules as revised in 2024 (2 CFR 200, effective on this day).
const REVISED: Date = date(2024, 10, 1);

const FORMS: &Words<Form> = &[
    (
        &["object classes", "object class", "standard"],
        Form::ObjectClasses,
    ),
    (
        &["construction", "construction program"],
        Form::Construction,
    ),
];
const COUNTS: &Words<CountsAs> = &[
    (&["award", "grant"], CountsAs::Award),
    (
        &["cash match", "match", "own cash", "cash"],
        CountsAs::CashMatch,
    ),
    (&["in-kind match", "in kind", "in-kind"], CountsAs::InKind),
];
const BASES: &Words<MatchBase> = &[
    (
        &["total project", "total", "project", "total cost"],
        MatchBase::Total,
    ),
    (&["award", "grant", "federal share"], MatchBase::Award),
];

/// What the `Job` sheet says of the budget.
pub(super) fn budgeting(cells: &mut Cells<'_>) -> Budgeting {
    Budgeting {
        form: cells.take("Budget form", |r| r.choice("Value", FORMS)),
        tax_recovered: cells.take("Tax recovered %", |r| r.percent("Value")),
    }
}

/// Reads funders and classes, and sets what extras say of both.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened, form: Form) {
    let mut funding = Funding::default();
    for row in rows(opened, Sheet::BudgetClasses) {
        let mut reading = Reading::of(&row);
        funding.classes.extend(class_row(draft, &mut reading, form));
        draft.hear(reading);
    }
    let mut whole = Vec::new();
    for row in rows(opened, Sheet::Funding) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Funder", "write who pays, as City garden fund") {
            funding
                .funders
                .extend(funder(draft, &mut reading, name, form));
            whole.extend(reading.known_yes_no("Whole units"));
        }
        draft.hear(reading);
    }
    let differ = whole.iter().any(|w| w.value) && whole.iter().any(|w| !w.value);
    if let Some(one) = whole.iter().find(|w| w.value).or_else(|| whole.first()) {
        funding.whole_units = one.clone();
        if let (true, From::Job(at, field)) = (differ, &one.from) {
            let said = "one budget cannot be both in whole units and not: it is in whole units";
            draft.problems.push(Problem::notice(said).at(*at, field));
        }
    }
    extras(draft, opened, &funding, form);
    draft.funding = funding;
}

fn class_row(draft: &Draft<'_>, reading: &mut Reading<'_, '_>, form: Form) -> Option<ClassRow> {
    let line = reading.wanted("Line", "write what it is, as delivery or a material")?;
    let class = reading.wanted("Class", "write the class, as supplies")?;
    let line = target(draft, reading, "Line", &line, form)?;
    Some(ClassRow {
        at: reading.at(),
        line,
        class: class_of(reading, "Class", &class, form)?,
    })
}

fn funder(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    name: Arc<str>,
    form: Form,
) -> Option<Funder> {
    let award_date = reading.known_date("Award date");
    let rules = rules(draft.library, award_date.as_ref().map(|d| d.value));
    let match_share = reading.known_percent("Match %");
    if match_share
        .as_ref()
        .is_some_and(|m| m.value >= Decimal::ONE)
    {
        let hint = "write 25% for a match of a quarter";
        reading.complain("Match %", "Match % must be under 100%", hint);
        return None;
    }
    let match_base = reading
        .known_choice("Match base", BASES)
        .unwrap_or_else(|| {
            Known::assumed(
                MatchBase::Total,
                "not set, taken as a share of the total project",
            )
        });
    if match_share.is_some() && !reading.has("Match base") {
        let said = "Match base is not set, taken as the total project; ask the funder";
        reading.notice("Match %", said);
    }
    let counts_as = reading
        .known_choice("Counts as", COUNTS)
        .unwrap_or_else(|| Known::assumed(CountsAs::Award, "not set, taken as award"));
    Some(Funder {
        at: reading.at(),
        name,
        counts_as,
        amount: reading.known_money("Amount"),
        indirect: indirect(reading, &rules),
        award_date,
        rules,
        pays_for: pays_for(draft, reading, form),
        match_share,
        match_base,
        subaward: reading.yes_no("Subaward").unwrap_or(false),
    })
}

/// The rules of the day of award; those of today's text when there is no day.
fn rules(library: &Library, award_date: Option<Date>) -> RuleSet {
    let of = |key: &str| library.typical(key);
    let percent = |key: &str| of(key) / Decimal::ONE_HUNDRED;
    if award_date.is_some_and(|day| day < REVISED) {
        RuleSet {
            words: "rules for awards before 2024-10-01",
            de_minimis: percent("indirect_de_minimis_before_pct"),
            first_of_subaward: of("subaward_in_base_before"),
            equipment_from: of("equipment_from_before"),
        }
    } else {
        RuleSet {
            words: "rules for awards from 2024-10-01",
            de_minimis: percent("indirect_de_minimis_pct"),
            first_of_subaward: of("subaward_in_base"),
            equipment_from: of("equipment_from"),
        }
    }
}

/// A rate, or the words de minimis for the rate of the rules; none when nothing is said.
fn indirect(reading: &mut Reading<'_, '_>, rules: &RuleSet) -> Known<Decimal> {
    let field = "Indirect %";
    let is_least = reading
        .text(field)
        .is_some_and(|text| folded(&text) == folded("de minimis"));
    if is_least {
        return Known::job(rules.de_minimis, reading.at(), field);
    }
    reading
        .known_percent(field)
        .unwrap_or_else(|| Known::assumed(Decimal::ZERO, "not set, taken as no indirect cost"))
}

fn pays_for(draft: &Draft<'_>, reading: &mut Reading<'_, '_>, form: Form) -> Vec<Target> {
    let Some(text) = reading.text("Pays for") else {
        return Vec::new();
    };
    let everything = ["all", "everything", "any"];
    if everything.contains(&folded(&text).as_str()) {
        return Vec::new();
    }
    let words = text
        .split([',', ';'])
        .map(str::trim)
        .filter(|w| !w.is_empty());
    let mut targets = Vec::new();
    for word in words {
        targets.extend(target(draft, reading, "Pays for", word, form));
    }
    targets
}

/// What a word names: a class, a kind of line, a material, worker, machine or extra.
fn target(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    word: &str,
    form: Form,
) -> Option<Target> {
    if field != "Line"
        && let Some(class) = find_class(word, form)
    {
        return Some(Target::Class(class));
    }
    let wanted = folded(word);
    if let Some(kind) = LineKind::ALL
        .into_iter()
        .find(|k| folded(k.word()) == wanted)
    {
        return Some(Target::Kind(kind));
    }
    let names = names(draft);
    if let Some(name) = names.iter().find(|name| folded(name) == wanted) {
        return Some(Target::Named(Arc::clone(name)));
    }
    let kinds = LineKind::ALL.into_iter().map(LineKind::word);
    let classes = CLASSES.iter().filter(|c| c.form == form).map(|c| c.key);
    let known: Vec<&str> = kinds.chain(classes).collect();
    let known = known.into_iter().chain(names.iter().map(|n| &**n));
    let hint = match did_you_mean(word, known) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!(
            "write a class of the budget, one of {}, or the name of a material, worker, machine or extra",
            LineKind::ALL.map(LineKind::word).join(", ")
        ),
    };
    let sentence = format!("{field} names \"{word}\", which is no line or class of the budget");
    reading.complain(field, sentence, &hint);
    None
}

/// Everything that may be a line of its own.
fn names(draft: &Draft<'_>) -> Vec<Arc<str>> {
    let materials = draft.materials.iter().map(|m| &m.name);
    let workers = draft.workers.iter().map(|w| &w.name);
    let machines = draft.equipment.iter().map(|e| &e.name);
    let extras = draft.extras.iter().map(|e| &e.item);
    let all = materials.chain(workers).chain(machines).chain(extras);
    all.cloned().collect()
}

fn find_class(word: &str, form: Form) -> Option<ClassRef> {
    let wanted = folded(word);
    let mut of_form = CLASSES.iter().filter(|c| c.form == form);
    let by_key = of_form.clone().find(|c| folded(c.key) == wanted);
    by_key.or_else(|| of_form.find(|c| folded(c.title) == wanted))
}

fn class_of(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    word: &str,
    form: Form,
) -> Option<ClassRef> {
    if let Some(class) = find_class(word, form) {
        return Some(class);
    }
    let own = || CLASSES.iter().filter(|c| c.form == form);
    let other = CLASSES
        .iter()
        .find(|c| c.form != form && folded(c.key) == folded(word));
    let hint = match (other, did_you_mean(word, own().map(|c| c.key))) {
        (Some(other), _) => format!(
            "it is a class of the other form: Budget form on the Job sheet can be {}",
            other.form.word()
        ),
        (None, Some(near)) => format!("did you mean \"{near}\"?"),
        (None, None) => {
            let all: Vec<&str> = own().map(|c| c.key).collect();
            format!("write one of {}", all.join(", "))
        }
    };
    let sentence = format!("{field} is no class of the form for {}", form.word());
    reading.complain(field, sentence, &hint);
    None
}

/// `Funder` and `Budget class` of each extra.
fn extras(draft: &mut Draft<'_>, opened: &Opened, funding: &Funding, form: Form) {
    for row in rows(opened, Sheet::Extras) {
        let mut reading = Reading::of(&row);
        let funder = named_funder(&mut reading, funding);
        let class = reading.text("Budget class");
        let class = class.and_then(|word| class_of(&mut reading, "Budget class", &word, form));
        let at = reading.at();
        if let Some(extra) = draft.extras.iter_mut().find(|e| e.at == at) {
            extra.funder = funder;
            extra.budget_class = class;
        }
        draft.hear(reading);
    }
}

fn named_funder(reading: &mut Reading<'_, '_>, funding: &Funding) -> Option<usize> {
    let name = reading.text("Funder")?;
    let mut all = funding.funders.iter();
    let found = all.position(|f| folded(&f.name) == folded(&name));
    if found.is_none() {
        let names = funding.funders.iter().map(|f| &*f.name);
        let hint = did_you_mean(&name, names).map_or_else(
            || "add a row for them to Funding".to_owned(),
            |near| format!("did you mean \"{near}\"?"),
        );
        reading.complain("Funder", "Funder is not among Funding", &hint);
    }
    found
}
