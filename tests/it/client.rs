//! What goes to a client: it adds up to the owner's price, and nothing in it is the owner's alone.

use std::collections::BTreeSet;
use std::path::Path;

use assert_cmd::Command;
use loamwright::price::Estimate;
use loamwright::price::client::{ClientView, LineKind};
use loamwright::units::{Decimal, Money};
use loamwright::write::client_page::client_page;
use loamwright::write::json::client_json;
use proptest::prelude::*;
use proptest::sample::select;

use crate::folders::{folders_in, root};
use crate::made_up::{beds, job, settings};
use crate::pipeline::priced;
use crate::tables::Tables;

/// Lines come to the price, nothing of the owner's leaks, and a line is below zero only where something is taken off.
#[track_caller]
pub(crate) fn check(estimate: &Estimate) {
    let Some(view) = ClientView::of(estimate) else {
        assert!(!estimate.is_complete());
        return;
    };
    let sum: Money = view.lines.iter().map(|line| line.amount).sum();
    assert_eq!(sum, estimate.price.total, "{:#?}", view.lines);
    assert_eq!(view.total, estimate.price.total);
    for line in &view.lines {
        let is_off = line.amount < Money::ZERO;
        assert_eq!(
            is_off,
            is_off && line.kind == LineKind::Discount,
            "{line:?}"
        );
    }
    if !view.payments.is_empty() {
        let due: Money = view.payments.iter().map(|due| due.amount).sum();
        assert_eq!(due, view.total);
    }
    let leaks = leaks(estimate, &view);
    assert!(leaks.is_empty(), "{leaks:#?}");
}

/// Sums of the owner alone: costs, prices of packs, wages, what is put on.
fn secret_sums(estimate: &Estimate) -> BTreeSet<Decimal> {
    let (price, job) = (&estimate.price, &estimate.job);
    let lines = price.lines.iter().filter(|line| line.key != "total");
    let mut sums: BTreeSet<Decimal> = lines.map(|line| line.amount.amount()).collect();
    let bought = estimate.bought.lines.iter();
    sums.extend(bought.clone().map(|line| line.cost.amount()));
    sums.extend(bought.filter_map(|line| line.price));
    sums.extend(
        estimate
            .bought
            .trips
            .iter()
            .map(|trips| trips.cost.amount()),
    );
    sums.extend(price.beds.iter().map(|bed| bed.cost.amount()));
    sums.extend(
        price
            .beds
            .iter()
            .flat_map(|bed| bed.groups.map(Money::amount)),
    );
    let pay = |w: &loamwright::model::labour::Worker| [w.pay_rate.clone(), w.charge_rate.clone()];
    let wages = job.workers.iter().flat_map(pay).flatten();
    sums.extend(wages.map(|known| known.value));
    sums.extend(
        job.equipment
            .iter()
            .filter_map(|e| Some(e.rate.as_ref()?.value)),
    );
    sums.extend(price.owner.iter().map(|figure| figure.value));
    sums.remove(&Decimal::ZERO);
    sums.into_iter().map(|sum| sum.normalize()).collect()
}

/// Units behind a number that is a size, a volume, a weight or a time, and no price.
const SIZES: [&str; 15] = [
    "in", "ft", "ft2", "ft3", "yd3", "lb", "gal", "cm", "m", "m2", "m3", "l", "L", "kg", "h",
];

/// Sums with cents in a text: `1,234.50`. Depths and volumes have two decimals too, and may hit a price by chance.
fn sums_in(text: &str) -> BTreeSet<Decimal> {
    let is_part = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let mut sums = BTreeSet::new();
    let mut rest = text;
    while let Some(start) = rest.find(is_part) {
        let from = &rest[start..];
        let (word, after) = from.split_at(from.find(|c| !is_part(c)).unwrap_or(from.len()));
        rest = after;
        let is_size = after.starts_with(char::is_whitespace) && {
            let unit = after.trim_start().split(|c: char| !c.is_alphanumeric());
            unit.take(1).any(|unit| SIZES.contains(&unit))
        };
        let word = word.trim_end_matches(['.', ',']);
        if is_size
            || word
                .rsplit_once('.')
                .is_none_or(|(_, cents)| cents.len() != 2)
        {
            continue;
        }
        sums.extend(
            word.replace(',', "")
                .parse()
                .ok()
                .map(|sum: Decimal| sum.normalize()),
        );
    }
    sums
}

#[test]
fn sizes_are_no_sums_and_prices_of_a_unit_are() {
    let found =
        sums_in("sinks 1.22 in to 1.72\n  in; 4.05 yd3 at 42.50/yd3, 1,234.50 for all, 3.10.");
    let found: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(found, ["3.1", "42.5", "1234.5"]);
}

/// Everything in the client's files of text that only the owner may read.
fn leaks(estimate: &Estimate, view: &ClientView) -> Vec<String> {
    let texts = [client_page(view), client_json(view).unwrap()];
    leaks_in(estimate, view, &texts)
}

/// Everything in texts for the client that only the owner may read.
pub(crate) fn leaks_in(estimate: &Estimate, view: &ClientView, texts: &[String]) -> Vec<String> {
    let mut own: BTreeSet<Decimal> = view.lines.iter().map(|l| l.amount.amount()).collect();
    own.extend(view.payments.iter().map(|due| due.amount.amount()));
    own.extend(view.alternates.iter().map(|a| a.adds.amount().abs()));
    own.extend(view.top_up.map(Money::amount));
    own.insert(view.total.amount());
    let taxes = view.lines.iter().filter(|line| line.kind == LineKind::Tax);
    own.extend(taxes.map(|tax| (view.total - tax.amount).amount()));
    let own: BTreeSet<Decimal> = own.into_iter().map(|sum| sum.normalize()).collect();
    let secret = secret_sums(estimate);
    let job = &estimate.job;
    let percent = |share: Decimal| format!("{}%", (share * Decimal::ONE_HUNDRED).normalize());
    let shares = [
        &job.settings.overhead,
        &job.settings.contingency,
        &job.settings.profit,
    ];
    let shares = shares.into_iter().filter(|share| !share.value.is_zero());
    let mut words: Vec<String> = shares.map(|share| percent(share.value)).collect();
    let markups = job.settings.quote.markups.iter().map(|(_, markup)| markup);
    let burdens = job.workers.iter().map(|worker| &worker.burden);
    let own_shares = markups
        .chain(burdens)
        .filter(|share| !share.value.is_zero());
    words.extend(own_shares.map(|share| percent(share.value)));
    words.extend(
        job.suppliers
            .iter()
            .map(|supplier| supplier.name.to_string()),
    );
    for word in [
        "markup", "Markup", "margin", "overhead", "Overhead", "wage", "OWNER",
    ] {
        words.push(word.to_owned());
    }
    let mut leaks = Vec::new();
    for text in texts {
        // The name of a job may hold any word.
        let text = text.replace(&*job.settings.job_name, "");
        let found = words.iter().filter(|word| text.contains(word.as_str()));
        leaks.extend(found.cloned());
        let sums = sums_in(&text);
        let found = sums
            .iter()
            .filter(|sum| secret.contains(sum) && !own.contains(sum));
        leaks.extend(found.map(ToString::to_string));
    }
    leaks
}

#[test]
fn the_examples_tell_a_client_the_price_and_no_cost() {
    let mut examples = folders_in(&root("examples"));
    examples.retain(|folder| folder.join("job").is_dir());
    assert_eq!(examples.len(), 3);
    for example in examples {
        check(&priced(&example.join("job")));
    }
}

#[test]
fn a_leak_would_be_found() {
    let estimate = priced(&root("examples/clinic-gardens/job"));
    let mut view = ClientView::of(&estimate).unwrap();
    let cost = estimate.price.direct_cost;
    view.not_included.push(format!(
        "costs us {}",
        estimate.job.settings.currency.value.show(cost)
    ));
    view.included.push(estimate.job.suppliers[0].name.clone());
    let found = leaks(&estimate, &view);
    assert!(
        found.contains(&cost.amount().normalize().to_string()),
        "{found:?}"
    );
    assert!(
        found.contains(&estimate.job.suppliers[0].name.to_string()),
        "{found:?}"
    );
}

#[test]
fn what_is_for_the_owner_alone_stays_with_the_owner() {
    let mut tables = Tables::of("tests/worked/the-client-reads-contingency-in-the-beds/job");
    tables.put(
        "Alternates",
        "Alternate,Sheet,Row,Column,Value,Note\n\
         Cheaper soil,Prices,Plain soil,Price,60,Yard owes us a favour\n\
         Grow sand,Fills,Plain soil,Material,Pea gravel,\n",
    );
    tables.put(
        "Fills",
        "Fill,Layer,Material,Depth\nPlain soil,1,Plain soil,rest\n",
    );
    tables.put(
        "Deliveries",
        "Supplier,Vehicle,Volume limit (yd3),Weight limit (lb),Fee\n",
    );
    let priced = priced(&tables.folder().path);
    let view = ClientView::of(&priced).unwrap();
    let page = client_page(&view);
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    for hidden in [
        "favour",
        "Talk with the neighbour",
        "Yard",
        "Grow sand",
        "Plain soil, Price",
    ] {
        assert!(!page.contains(hidden), "{hidden}:\n{page}");
    }
    for told in [
        "Cheaper soil: deduct",
        "Removal of the shed",
        "delivery of a part of the goods",
    ] {
        assert!(page.contains(told), "{told}:\n{page}");
    }
}

fn run(job: &Path, out: &Path, partial: bool) -> BTreeSet<String> {
    let mut command = Command::new(assert_cmd::cargo::cargo_bin!("loamwright"));
    command.arg(job).arg("--out").arg(out).arg("--quiet");
    if partial {
        command.arg("--partial");
    }
    command.output().unwrap();
    let files = std::fs::read_dir(out).unwrap();
    files
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect()
}

#[test]
fn no_client_gets_a_price_that_is_not_complete() {
    let out = tempfile::tempdir().unwrap();
    let out = out.path().join("out");
    let mut tables = Tables::of("tests/worked/the-client-reads-contingency-in-the-beds/job");
    let whole = run(&tables.folder().path, &out, false);
    assert!(
        whole.contains("client.json") && whole.contains("client-page.txt"),
        "{whole:?}"
    );
    tables.set("Beds", &[("Bed", "South bed")], "Length", "long");
    let part = run(&tables.folder().path, &out, true);
    assert!(part.contains("estimate-NOT-COMPLETE.xlsx"), "{part:?}");
    // What an earlier run wrote for the client would be taken for the price of today.
    assert!(
        !part.contains("client.json") && !part.contains("client-page.txt"),
        "{part:?}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 8, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_made_up_job_tells_a_client_its_price(
        beds in beds(),
        settings in settings(),
        seen in select(vec!["yes", "no"]),
        discount in select(vec!["", "5%", "150"]),
        rounding in select(vec!["up", "down", "nearest"]),
    ) {
        let mut tables = job(&beds, &settings);
        tables.setting("Client sees contingency", seen);
        tables.setting("Rounding", rounding);
        if !discount.is_empty() {
            tables.setting("Discount", discount);
        }
        check(&priced(&tables.folder().path));
    }
}
