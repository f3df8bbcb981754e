//! Suppliers' own lists in the job: which materials they are asked for, and what they bring.

use super::draft::Draft;
use super::measures::suits;
use super::packs::held_by_word;
use super::section::section_in_name;
use crate::model::material::Source;
use crate::model::price_list::ToReview;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::read::lists::{Confirmed, List, Surroundings, Wanted};
use crate::read::names::did_you_mean;
use crate::read::open::Opened;

/// Turns the rows that the job needs into tables of `Prices`; gives what waits for the user.
pub(super) fn take(draft: &mut Draft<'_>, opened: &mut Opened, lists: Vec<List>) -> Vec<ToReview> {
    let confirmed = Confirmed::read(opened, &mut draft.problems);
    if lists.is_empty() {
        return Vec::new();
    }
    let wanted = wanted(draft);
    say_strange_names(draft, &confirmed);
    let mut review = Vec::new();
    for list in lists {
        if !is_known(draft, &list) {
            continue;
        }
        let Ok(index) = u16::try_from(opened.sources.tables.len()) else {
            break;
        };
        let taken = list.take(&Surroundings {
            system: draft.system,
            commas: opened.decimal_comma,
            index,
            wanted: &wanted,
            confirmed: &confirmed,
            held: |context, pack, system| Some(held_by_word(context, pack, system)?.dimension()),
            suits: |wanted, dimension| suits(wanted.category, dimension),
        });
        if let Some((table, way)) = taken.table {
            opened.sources.tables.push(table);
            opened.ways.push(way);
        }
        review.extend(taken.review);
        draft.problems.extend(taken.problems);
    }
    review.sort_by(|a, b| {
        let key = |r: &ToReview| (r.standing, r.supplier.clone(), r.best.clone());
        let rest = |r: &ToReview| (r.their_name.clone(), r.pack.clone(), r.price.clone());
        key(a).cmp(&key(b)).then_with(|| rest(a).cmp(&rest(b)))
    });
    review
}

/// A list's supplier must be one of `Suppliers`, where the job has them.
fn is_known(draft: &mut Draft<'_>, list: &List) -> bool {
    if draft.suppliers.is_empty() {
        return true;
    }
    let spot: (RowAt, &'static str) = (list.at(), "Supplier");
    let found =
        draft
            .supplier_names
            .resolve(list.supplier(), spot, "Suppliers", &mut draft.problems);
    found.is_some()
}

/// What frames, fills and amendments use and the job buys.
fn wanted(draft: &Draft<'_>) -> Vec<Wanted> {
    let used = draft
        .used
        .iter()
        .filter_map(|place| draft.materials.get(*place));
    let bought = used.filter(|material| material.source.value == Source::Buy);
    let wanted = bought.map(|material| {
        let others = draft.library.material(&material.name).map(|known| {
            let also = known.also.iter().cloned();
            std::iter::once(known.name.clone()).chain(also).collect()
        });
        let others: Vec<_> = others.unwrap_or_default();
        let section = material.section.as_ref().map(|s| &*s.value.nominal);
        let spec = material.spec.as_ref();
        Wanted::new(&material.name, spec, material.category, &others, section)
    });
    wanted.collect()
}

/// A confirmed name may be a material of another job; one that is nothing at all is a slip.
fn say_strange_names(draft: &mut Draft<'_>, confirmed: &Confirmed) {
    let mut told = Vec::new();
    for (name, at) in confirmed.materials() {
        let is_known = draft.material_names.has(name)
            || draft.library.material(name).is_some()
            || section_in_name(draft.library, name).is_some();
        if is_known {
            continue;
        }
        let said = Problem::notice("nothing in the job or the trade library has this name");
        let said = said.at(at, "Material");
        told.push(match did_you_mean(name, draft.material_names.all()) {
            Some(near) => said.hint(format!("did you mean \"{near}\"?")),
            None => said,
        });
    }
    draft.problems.extend(told);
}
