//! Lists as suppliers send them, as small worked examples, and which names are the same thing.

mod names;
mod problems;
mod whole;

use std::fs::File;
use std::io::Write;

use rust_xlsxwriter::Workbook;
use tempfile::TempDir;

use crate::model::price_list::{Standing, ToReview};
use crate::problem::{Problem, Severity};
use crate::read::{Loaded, Source, library, read_job};

/// A job in a folder with files of suppliers beside its sheets.
pub(super) struct Folder(TempDir);

impl Folder {
    /// A folder with these files.
    pub(super) fn with(files: &[(&str, &str)]) -> Self {
        let folder = Self(tempfile::tempdir().unwrap());
        for (name, text) in files {
            folder.put(name, text.as_bytes());
        }
        folder
    }

    pub(super) fn put(&self, name: &str, bytes: &[u8]) {
        let mut file = File::create(self.0.path().join(name)).unwrap();
        file.write_all(bytes).unwrap();
    }

    /// A workbook of one or more sheets of text and numbers.
    pub(super) fn put_workbook(&self, name: &str, sheets: &[(&str, &[&[&str]])]) {
        let mut book = Workbook::new();
        for (title, rows) in sheets {
            let sheet = book.add_worksheet().set_name(*title).unwrap();
            for (row, cells) in (0..).zip(*rows) {
                for (column, cell) in (0..).zip(*cells) {
                    match cell.parse::<f64>() {
                        Ok(number) => sheet.write_number(row, column, number).unwrap(),
                        Err(_) => sheet.write_string(row, column, *cell).unwrap(),
                    };
                }
            }
        }
        book.save(self.0.path().join(name)).unwrap();
    }

    pub(super) fn read(&self) -> (Loaded, Vec<Problem>) {
        let staged = read_job(&Source::Path(self.0.path().to_owned()), &library::builtin());
        let problems = staged.problems;
        let loaded = staged.output.unwrap_or_else(|| panic!("{problems:#?}"));
        (loaded, problems)
    }

    /// Everything that is told, of one weight, in full.
    pub(super) fn told(&self, severity: Severity) -> Vec<String> {
        let (loaded, problems) = self.read();
        let wanted = problems.iter().filter(|p| p.severity == severity);
        wanted.map(|p| p.in_full(&loaded.sources)).collect()
    }

    /// The prices as `Supplier: Material, pack of holds, price at place`, sorted.
    #[track_caller]
    pub(super) fn offers(&self) -> Vec<String> {
        let (loaded, problems) = self.read();
        let errors: Vec<String> = problems
            .iter()
            .filter(|p| p.severity == Severity::Error)
            .map(|p| p.in_full(&loaded.sources))
            .collect();
        assert_eq!(errors, Vec::<String>::new());
        offers(&loaded)
    }

    /// The rows of one standing that were not taken.
    pub(super) fn left(&self, standing: Standing) -> Vec<ToReview> {
        let mut left = self.read().0.job.to_review;
        left.retain(|row| row.standing == standing);
        left
    }
}

pub(super) fn offers(loaded: &Loaded) -> Vec<String> {
    let job = &loaded.job;
    let spelled = job.offers.iter().map(|offer| {
        let supplier = &job.suppliers[offer.supplier.index()].name;
        let price = offer.price.as_ref().map(|p| p.value).unwrap_or_default();
        let holds = offer.holds.base().round_dp(6).normalize();
        let place = loaded.sources.place_of(offer.at, "Price").unwrap();
        let material = job.material_name(offer.material);
        format!(
            "{supplier}: {material}, {} of {holds}, {} at {place}",
            offer.pack,
            price.normalize()
        )
    });
    let mut spelled: Vec<String> = spelled.collect();
    spelled.sort();
    spelled
}

/// Two beds of cedar with topsoil under compost.
pub(super) const BEDS: (&str, &str) = (
    "Beds.csv",
    "Bed,Size,Frame,Fill,Courses\nA,4x8 ft,Cedar,Deep,2\nB,4x12 ft,Cedar,Deep,2\n",
);
pub(super) const FRAMES: (&str, &str) = (
    "Frames.csv",
    "Frame,Frame kind,Material,Bottom mesh\nCedar,boards,2x10 cedar,Hardware cloth\n",
);
pub(super) const FILLS: (&str, &str) = (
    "Fills.csv",
    "Fill,Layer,Material,Depth\nDeep,1,Topsoil,rest\nDeep,2,Compost,4 in\n",
);
