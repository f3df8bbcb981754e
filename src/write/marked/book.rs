//! The workbook part: which sheet is where, and one sheet more.

use super::listing;
use super::package::Package;
use super::xml::{Edits, attribute, pieces, text};
use super::{OFFICE, Unmarkable};
use crate::model::sheet::MARKED_NAME;

const SHEET: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml";
/// Where the package says which part is the workbook.
const ROOT: &str = "";
/// What may stand behind the defined names, in the order of the format.
const AFTER_NAMES: [&str; 9] = [
    "calcPr",
    "oleSize",
    "customWorkbookViews",
    "pivotCaches",
    "smartTagPr",
    "smartTagTypes",
    "webPublishing",
    "fileRecoveryPr",
    "extLst",
];

/// The workbook part and its sheets.
pub(super) struct Book {
    part: String,
    xml: String,
    /// Name and part of each sheet, in the order of the tabs.
    pub(super) sheets: Vec<(String, String)>,
    /// The part with the table of formats.
    pub(super) styles: String,
    last_number: u32,
}

impl Book {
    pub(super) fn read(package: &mut Package<'_>) -> Result<Self, Unmarkable> {
        let of_package = package.relations(ROOT)?;
        let part = of_package.into_iter().find(|r| r.kind == "officeDocument");
        let part = part
            .ok_or(Unmarkable("it does not say which part is the workbook"))?
            .part;
        let xml = package.needed(&part)?;
        let relations = package.relations(&part)?;
        let mut sheets = Vec::new();
        let mut last_number = 0;
        for piece in pieces(&xml) {
            let piece = piece?;
            if let Some((tag, _)) = piece.opens()
                && piece.depth == 0
                && tag.name().as_ref() != "workbook"
            {
                return Err(Unmarkable("its parts are written with names of their own"));
            }
            let Some((tag, _)) = piece.opens_as("sheet") else {
                continue;
            };
            let number = attribute(tag, "sheetId").and_then(|n| n.parse().ok());
            last_number = number.unwrap_or(0).max(last_number);
            let id = attribute(tag, "id");
            let found = relations.iter().find(|r| Some(&r.id) == id.as_ref());
            if let Some((name, relation)) = attribute(tag, "name").zip(found) {
                sheets.push((name, relation.part.clone()));
            }
        }
        let styles = relations.into_iter().find(|r| r.kind == "styles");
        let styles = styles.ok_or(Unmarkable("it has no table of formats"))?.part;
        if xml.contains("purl.oclc.org/ooxml") {
            return Err(Unmarkable("it is written in the strict form of the format"));
        }
        Ok(Self {
            part,
            xml,
            sheets,
            styles,
            last_number,
        })
    }

    /// Adds the sheet of problems behind the others, where it moves none of them, and the name by which
    /// the copy is known.
    pub(super) fn add_listing(
        &self,
        package: &mut Package<'_>,
        sheet: String,
    ) -> Result<(), Unmarkable> {
        let name = listing::free_name(self.sheets.iter().map(|(name, _)| name.as_str()));
        let part = package.new_name("xl/worksheets/problems", "xml");
        package.put(&part, sheet);
        package.list(&part, SHEET)?;
        let id = package.relate(&self.part, "worksheet", &part)?;
        let number = self.last_number.saturating_add(1);
        let tab = format!(
            "<sheet xmlns:r=\"{OFFICE}\" name=\"{}\" sheetId=\"{number}\" r:id=\"{id}\"/>",
            text(&name)
        );
        let known =
            format!("<definedName name=\"{MARKED_NAME}\" hidden=\"1\">'{name}'!$A$1</definedName>");
        let mut edits = Edits::default();
        let mut waiting = Some(known);
        let names_already = self.xml.contains(&format!("\"{MARKED_NAME}\""));
        for piece in pieces(&self.xml) {
            let piece = piece?;
            if piece.closes_as("sheets") {
                edits.insert(piece.at.start, tab.clone());
            }
            let ends = piece.closes_as("workbook");
            let behind = piece.depth == 1
                && piece
                    .opens()
                    .is_some_and(|(tag, _)| AFTER_NAMES.contains(&tag.local_name().as_ref()));
            if piece.closes_as("definedNames") {
                let known = waiting.take().filter(|_| !names_already);
                edits.insert(piece.at.start, known.unwrap_or_default());
            } else if (ends || behind)
                && let Some(known) = waiting.take().filter(|_| !names_already)
            {
                edits.insert(
                    piece.at.start,
                    format!("<definedNames>{known}</definedNames>"),
                );
            }
        }
        package.put(&self.part, edits.applied(&self.xml)?);
        Ok(())
    }
}
