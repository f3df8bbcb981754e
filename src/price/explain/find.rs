//! What somebody asks about, by its name: a line of the price, a bed, something that is bought, a task.

use super::super::Estimate;
use super::super::term::{CellRef, ColRef};
use super::cells::derivation;
use super::{Step, bed_steps};
use crate::buying::OrderLine;
use crate::labour::LabourLine;
use crate::model::bed::Bed;
use crate::takeoff::sticks::Sticks;
use crate::units::show::{grouped_plain, plain};

/// What was found under a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// What it is: `Price`, `Bed A1 Herb walk`.
    pub title: String,
    /// How it came about.
    pub steps: Vec<Step>,
}

/// Everything that has this name, whole names before names that begin with it; nothing when nothing has.
pub fn explain(estimate: &Estimate, what: &str) -> Vec<Found> {
    let wanted = plain_name(what);
    let whole = |name: &str| plain_name(name) == wanted;
    let begins = |name: &str| !wanted.is_empty() && plain_name(name).starts_with(&wanted);
    let found = all(estimate, &whole);
    if found.is_empty() {
        all(estimate, &begins)
    } else {
        found
    }
}

fn plain_name(name: &str) -> String {
    name.trim().to_lowercase().replace('_', " ")
}

fn all(estimate: &Estimate, is: &dyn Fn(&str) -> bool) -> Vec<Found> {
    let mut found = price_lines(estimate, is);
    found.extend(beds(estimate, is));
    found.extend(orders(estimate, is));
    found.extend(tasks(estimate, is));
    found
}

/// Every name that can be asked about, each once.
pub fn names(estimate: &Estimate) -> Vec<String> {
    let lines = estimate
        .price
        .lines
        .iter()
        .map(|line| line.label.to_string());
    let beds = estimate.job.beds.iter().map(|bed| bed.name.to_string());
    let goods = estimate.bought.lines.iter();
    let goods = goods.map(|line| estimate.job.material_name(line.material).to_owned());
    let tasks = estimate
        .labour
        .lines
        .iter()
        .map(|line| line.name.to_string());
    let mut names: Vec<String> = Vec::new();
    for name in lines.chain(beds).chain(goods).chain(tasks) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn price_lines(estimate: &Estimate, is: &dyn Fn(&str) -> bool) -> Vec<Found> {
    let lines = estimate.price.lines.iter();
    let lines = lines.filter(|line| is(&line.label) || is(line.key));
    lines
        .map(|line| {
            let mut steps = derivation(estimate, line.at, 0);
            if let Some(first) = steps.first_mut() {
                line.words.clone_into(&mut first.from);
            }
            Found {
                title: line.label.to_string(),
                steps,
            }
        })
        .collect()
}

fn beds(estimate: &Estimate, is: &dyn Fn(&str) -> bool) -> Vec<Found> {
    let beds = estimate.job.beds.iter().enumerate();
    let sticks = Sticks::of(&estimate.job);
    beds.filter(|(_, bed)| is(&bed.name))
        .map(|(place, bed)| Found {
            title: format!("Bed {}", bed.name),
            steps: bed_found(estimate, &sticks, place, bed),
        })
        .collect()
}

fn bed_found(estimate: &Estimate, sticks: &Sticks, place: usize, bed: &Bed) -> Vec<Step> {
    let mut steps = vec![Step::heading("As typed")];
    steps.extend(typed(estimate, bed));
    steps.push(Step::heading("One bed, taken off"));
    steps.extend(bed_steps(estimate, sticks, bed));
    let money = estimate
        .price
        .beds
        .iter()
        .find(|money| money.bed.index() == place);
    let Some(money) = money else {
        return steps;
    };
    let currency = estimate.job.settings.currency.value;
    let beds = if bed.count == 1 { "bed" } else { "beds" };
    steps.push(Step::heading(format!(
        "What its {} {beds} bear, see sheet Shares",
        bed.count
    )));
    let groups = super::super::Group::ALL.iter().zip(&money.groups);
    let groups = groups.filter(|(_, sum)| !sum.is_zero());
    let all = groups.map(|(group, sum)| (group.title(), *sum));
    let all = all.chain([("Cost", money.cost), ("Price with tax", money.price)]);
    steps.extend(all.map(|(name, sum)| Step {
        depth: 1,
        what: name.to_owned(),
        value: currency.show(sum),
        ..Step::heading("")
    }));
    steps
}

/// The cells of its row that hold anything.
fn typed(estimate: &Estimate, bed: &Bed) -> Vec<Step> {
    let Some(table) = estimate.sources.tables.get(usize::from(bed.at.table)) else {
        return Vec::new();
    };
    let row = table.rows.iter().find(|row| row.row == bed.at.row);
    let cells = row.map(|row| row.cells.as_slice()).unwrap_or_default();
    let columns = table.columns.iter().zip(cells);
    let filled = columns.filter(|(column, cell)| column.field.is_some() && !cell.is_empty());
    filled
        .map(|(column, cell)| Step {
            depth: 1,
            what: column.title.to_string(),
            value: cell.text(),
            from: table.place(bed.at.row, Some(column.index)),
            ..Step::heading("")
        })
        .collect()
}

fn orders(estimate: &Estimate, is: &dyn Fn(&str) -> bool) -> Vec<Found> {
    let job = &estimate.job;
    let mut found: Vec<Found> = Vec::new();
    for (row, line) in estimate.bought.lines.iter().enumerate() {
        let name = job.material_name(line.material);
        if !is(name) {
            continue;
        }
        let steps = order(estimate, row, line);
        match found.iter_mut().find(|known| known.title == name) {
            Some(known) => known.steps.extend(steps),
            None => found.push(Found {
                title: name.to_owned(),
                steps,
            }),
        }
    }
    found
}

/// What is needed and why so much is bought, then the money.
fn order(estimate: &Estimate, row: usize, line: &OrderLine) -> Vec<Step> {
    let job = &estimate.job;
    let units = job.settings.units.value;
    let offer = line.offer.and_then(|id| job.offers.get(id.index()));
    let seller = offer.and_then(|offer| job.suppliers.get(offer.supplier.index()));
    let title = match seller {
        Some(seller) => format!("Order line {} from {}", row.saturating_add(1), seller.name),
        None => format!("Order line {}", row.saturating_add(1)),
    };
    let mut steps = vec![Step::heading(title)];
    steps.push(Step {
        depth: 1,
        what: "needed, before packs".to_owned(),
        value: units.amount(line.need),
        from: line.why.clone(),
        ..Step::heading("")
    });
    if let Some(at) =
        column(estimate, "Orders", "Cost").or_else(|| column(estimate, "Orders", "Amount"))
    {
        let row = u32::try_from(row).unwrap_or(u32::MAX);
        steps.extend(derivation(estimate, CellRef { col: at, row }, 1));
    }
    steps
}

fn tasks(estimate: &Estimate, is: &dyn Fn(&str) -> bool) -> Vec<Found> {
    let lines = estimate.labour.lines.iter().filter(|line| is(&line.name));
    lines
        .map(|line| {
            let site = estimate.job.sites.get(line.site.index());
            let site = site.map_or("", |site| &*site.name);
            let times = if line.multiplier_words.is_empty() {
                String::new()
            } else {
                format!(
                    " x {} ({})",
                    plain(line.multiplier, 4),
                    line.multiplier_words
                )
            };
            let from = if line.typical {
                "a typical figure of the trade library, not yours"
            } else {
                "hours of the job"
            };
            Found {
                title: format!("{} at {site}", line.name),
                steps: vec![Step {
                    depth: 0,
                    what: "person-hours".to_owned(),
                    arithmetic: format!("{} x {} h{times}", quantity(line), plain(line.rate, 6)),
                    value: format!("{} h", plain(line.hours.in_hours(), 4)),
                    from: from.to_owned(),
                }],
            }
        })
        .collect()
}

/// `7`, or `2.5 of 100 ft2`.
fn quantity(line: &LabourLine) -> String {
    let number = grouped_plain(line.quantity, 4);
    match &*line.unit {
        "each" => number,
        unit => format!("{number} of {unit}"),
    }
}

/// A column by the sheet of its block and its title.
fn column(estimate: &Estimate, sheet: &str, title: &str) -> Option<ColRef> {
    let blocks = (0_u16..).zip(&estimate.ledger.blocks);
    let mut found = blocks
        .filter(|(_, b)| b.sheet == sheet)
        .filter_map(|(block, b)| {
            let columns = (0_u16..).zip(&b.columns);
            let mut named = columns.filter(|(_, column)| &*column.title == title);
            named.next().map(|(column, _)| ColRef { block, column })
        });
    found.next()
}
