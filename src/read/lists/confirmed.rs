//! `Supplier names`: what suppliers call the job's materials, as the user said once.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::library::folded;
use crate::model::sheet::Sheet;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::{Row, rows};

/// What the user said of a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::read) enum Word {
    /// It is this material.
    Is(Arc<str>),
    /// It is nothing of ours, and need not be asked again.
    Never,
}

/// Names of suppliers with what the user said of them.
#[derive(Debug, Default)]
pub(in crate::read) struct Confirmed {
    words: BTreeMap<(String, String), (Word, RowAt)>,
}

impl Confirmed {
    /// Reads `Supplier names`, and review lists with their `Use` filled in; what is not filled in says
    /// nothing yet.
    pub(in crate::read) fn read(opened: &Opened, problems: &mut Vec<Problem>) -> Self {
        let mut confirmed = Self::default();
        for row in rows(opened, Sheet::SupplierNames) {
            if let Some(word) = row.text("Material") {
                confirmed.take(&row, &word, problems);
            }
        }
        confirmed
    }

    fn take(&mut self, row: &Row<'_>, word: &Arc<str>, problems: &mut Vec<Problem>) {
        let Some(name) = row.text("Their name") else {
            let said = Problem::error("Their name is missing").at(row.at, "Their name");
            problems.push(said.hint("write what the supplier's list calls it"));
            return;
        };
        let supplier = row.text("Supplier").unwrap_or_default();
        let never = matches!(folded(word).as_str(), "no" | "none" | "never" | "nothing");
        let word = if never {
            Word::Never
        } else {
            Word::Is(Arc::clone(word))
        };
        let key = (folded(&supplier), folded(&name));
        match self.words.get(&key) {
            Some((before, _)) if !same(before, &word) => {
                let said = Problem::error("this name is given to two materials");
                let hint = "keep one row for each name of a supplier";
                problems.push(said.at(row.at, "Material").hint(hint));
            }
            Some(_) => {}
            None => {
                self.words.insert(key, (word, row.at));
            }
        }
    }

    /// What was said of a name: of this supplier's, else of anyone's.
    pub(super) fn word(&self, supplier: &str, name: &str) -> Option<&Word> {
        let of = |supplier: String| self.words.get(&(supplier, folded(name)));
        let found = of(folded(supplier)).or_else(|| of(String::new()));
        found.map(|(word, _)| word)
    }

    /// Materials that are named, with the row that names each.
    pub(in crate::read) fn materials(&self) -> impl Iterator<Item = (&Arc<str>, RowAt)> {
        self.words.values().filter_map(|(word, at)| match word {
            Word::Is(material) => Some((material, *at)),
            Word::Never => None,
        })
    }
}

fn same(a: &Word, b: &Word) -> bool {
    match (a, b) {
        (Word::Is(a), Word::Is(b)) => folded(a) == folded(b),
        (Word::Never, Word::Never) => true,
        _ => false,
    }
}
