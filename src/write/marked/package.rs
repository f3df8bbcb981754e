//! A workbook's package: parts are read and replaced by name, all others stay compressed as they are.

use std::collections::BTreeMap;
use std::io::{Cursor, Read as _, Write as _};

use zip::write::SimpleFileOptions;
use zip::{DateTime, ZipArchive, ZipWriter};

use super::Unmarkable;
use super::xml::{attribute, in_root, pieces, text};

/// Larger parts are not unpacked.
const MOST_BYTES: u64 = 600_000_000;
/// Where the kinds of all parts are listed.
const TYPES: &str = "[Content_Types].xml";
const RELATIONSHIPS: &str = "http://schemas.openxmlformats.org/package/2006/relationships";

/// A package that is being changed.
pub(super) struct Package<'a> {
    archive: ZipArchive<Cursor<&'a [u8]>>,
    changed: BTreeMap<String, String>,
}

/// A part that another one points at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Relation {
    pub(super) id: String,
    /// Last word of its type: `worksheet`, `comments`.
    pub(super) kind: String,
    /// Name of the part.
    pub(super) part: String,
}

impl<'a> Package<'a> {
    pub(super) fn open(bytes: &'a [u8]) -> Result<Self, Unmarkable> {
        let archive = ZipArchive::new(Cursor::new(bytes));
        Ok(Self {
            archive: archive.map_err(|_| Unmarkable("it is no package of parts"))?,
            changed: BTreeMap::new(),
        })
    }

    /// A part as text; `None` when there is none.
    pub(super) fn part(&mut self, name: &str) -> Result<Option<String>, Unmarkable> {
        if let Some(text) = self.changed.get(name) {
            return Ok(Some(text.clone()));
        }
        let Ok(part) = self.archive.by_name(name) else {
            return Ok(None);
        };
        let mut text = String::new();
        let read = part.take(MOST_BYTES).read_to_string(&mut text);
        read.map_err(|_| Unmarkable("a part of it is not UTF-8"))?;
        Ok(Some(text.trim_start_matches('\u{feff}').to_owned()))
    }

    /// A part that a workbook cannot do without.
    pub(super) fn needed(&mut self, name: &str) -> Result<String, Unmarkable> {
        self.part(name)?
            .ok_or(Unmarkable("a part that every workbook has is not in it"))
    }

    /// Puts a part in place of another one, or a new one.
    pub(super) fn put(&mut self, name: &str, text: String) {
        self.changed.insert(name.to_owned(), text);
    }

    /// A name for a new part: `xl/comments3.xml`.
    pub(super) fn new_name(&self, stem: &str, ending: &str) -> String {
        let names: Vec<String> = self
            .archive
            .file_names()
            .flatten()
            .map(|n| n.to_lowercase())
            .collect();
        let is_free = |name: &String| {
            !self.changed.contains_key(name) && !names.contains(&name.to_lowercase())
        };
        let mut tried = (1_u32..).map(|n| format!("{stem}{n}.{ending}"));
        tried.find(is_free).unwrap_or_default()
    }

    /// What a part points at inside the package.
    pub(super) fn relations(&mut self, of: &str) -> Result<Vec<Relation>, Unmarkable> {
        let Some(xml) = self.part(&relations_of(of))? else {
            return Ok(Vec::new());
        };
        let mut found = Vec::new();
        for piece in pieces(&xml) {
            let piece = piece?;
            let Some((tag, _)) = piece.opens_as("Relationship") else {
                continue;
            };
            let get = |name| attribute(tag, name).unwrap_or_default();
            if get("TargetMode") != "External" {
                found.push(Relation {
                    id: get("Id"),
                    kind: get("Type")
                        .rsplit('/')
                        .next()
                        .unwrap_or_default()
                        .to_owned(),
                    part: resolved(of, &get("Target")),
                });
            }
        }
        Ok(found)
    }

    /// Lets a part point at another; the id of the relation.
    pub(super) fn relate(
        &mut self,
        from: &str,
        kind: &str,
        to: &str,
    ) -> Result<String, Unmarkable> {
        let name = relations_of(from);
        let empty = || {
            format!(
                "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<Relationships xmlns=\"{RELATIONSHIPS}\"/>"
            )
        };
        let xml = self.part(&name)?.unwrap_or_else(empty);
        let ids =
            |id: &String| !xml.contains(&format!("\"{id}\"")) && !xml.contains(&format!("'{id}'"));
        let mut numbered = (1_u32..).map(|n| format!("rIdMark{n}"));
        let id = numbered.find(ids).unwrap_or_default();
        let child = format!(
            "<Relationship Id=\"{id}\" Type=\"{}/{kind}\" Target=\"/{}\"/>",
            super::OFFICE,
            text(to)
        );
        self.put(&name, in_root(&xml, &child)?);
        Ok(id)
    }

    /// Lists the kind of a new part.
    pub(super) fn list(&mut self, part: &str, kind: &str) -> Result<(), Unmarkable> {
        let child = format!("<Override PartName=\"/{part}\" ContentType=\"{kind}\"/>");
        let types = self.needed(TYPES)?;
        self.put(TYPES, in_root(&types, &child)?);
        Ok(())
    }

    /// Lists the kind of all parts of an ending, unless it is listed.
    pub(super) fn list_ending(&mut self, ending: &str, kind: &str) -> Result<(), Unmarkable> {
        let types = self.needed(TYPES)?;
        for piece in pieces(&types) {
            let piece = piece?;
            let listed = piece
                .opens_as("Default")
                .and_then(|(tag, _)| attribute(tag, "Extension"));
            if listed.is_some_and(|listed| listed.eq_ignore_ascii_case(ending)) {
                return Ok(());
            }
        }
        let child = format!("<Default Extension=\"{ending}\" ContentType=\"{kind}\"/>");
        self.put(TYPES, in_root(&types, &child)?);
        Ok(())
    }

    /// The package with its changes. Parts carry a fixed time, so that the same marks give the same bytes.
    pub(super) fn packed(mut self) -> Result<Vec<u8>, Unmarkable> {
        let failed = || Unmarkable("its parts cannot be packed again");
        let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
        let options = SimpleFileOptions::default().last_modified_time(DateTime::default());
        for index in 0..self.archive.len() {
            let part = self.archive.by_index_raw(index).map_err(|_| failed())?;
            let name = part.name().map_err(|_| failed())?.into_owned();
            if let Some(text) = self.changed.remove(&name) {
                drop(part);
                writer.start_file(name, options).map_err(|_| failed())?;
                writer.write_all(text.as_bytes()).map_err(|_| failed())?;
            } else {
                writer.raw_copy_file(part).map_err(|_| failed())?;
            }
        }
        for (name, text) in self.changed {
            writer.start_file(name, options).map_err(|_| failed())?;
            writer.write_all(text.as_bytes()).map_err(|_| failed())?;
        }
        let packed = writer.finish().map_err(|_| failed())?;
        Ok(packed.into_inner())
    }
}

/// `xl/worksheets/_rels/sheet1.xml.rels` of `xl/worksheets/sheet1.xml`.
fn relations_of(part: &str) -> String {
    match part.rsplit_once('/') {
        Some((folder, file)) => format!("{folder}/_rels/{file}.rels"),
        None => format!("_rels/{part}.rels"),
    }
}

/// The name of a part by how another one points at it.
fn resolved(from: &str, target: &str) -> String {
    if let Some(absolute) = target.strip_prefix('/') {
        return absolute.to_owned();
    }
    let mut folders: Vec<&str> = from.split('/').collect();
    folders.pop();
    for step in target.split('/') {
        match step {
            ".." => {
                folders.pop();
            }
            "." => {}
            step => folders.push(step),
        }
    }
    folders.join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_found_from_where_they_are_named() {
        assert_eq!(
            resolved("xl/workbook.xml", "worksheets/sheet1.xml"),
            "xl/worksheets/sheet1.xml"
        );
        assert_eq!(
            resolved("xl/worksheets/sheet1.xml", "../comments1.xml"),
            "xl/comments1.xml"
        );
        assert_eq!(
            resolved("xl/worksheets/sheet1.xml", "/xl/comments1.xml"),
            "xl/comments1.xml"
        );
        assert_eq!(
            relations_of("xl/workbook.xml"),
            "xl/_rels/workbook.xml.rels"
        );
        assert_eq!(relations_of("part.xml"), "_rels/part.xml.rels");
    }
}
