//! Cell formats of a marked copy: each cell keeps its own, with another fill.

use std::collections::BTreeMap;

use quick_xml::events::BytesStart;

use super::Unmarkable;
use super::xml::{Edits, attribute, pieces, with};
use crate::problem::Severity;

/// Fills by how much a problem weighs. All are light, so that dark letters stay readable on them.
pub(super) const FILLS: [(Severity, &str); 3] = [
    (Severity::Error, "F8B9B4"),
    (Severity::Caution, "FCE3A1"),
    (Severity::Notice, "CFE2F6"),
];

/// The format table of a workbook, and what is to be added to it.
pub(super) struct Styles {
    xml: String,
    /// Each cell format as written.
    formats: Vec<String>,
    fills: usize,
    /// Each font as written.
    fonts: Vec<String>,
    made: BTreeMap<(usize, Look), usize>,
    added: Vec<String>,
    added_fonts: Vec<String>,
}

/// What a format is changed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Look {
    /// Filled for a problem of this weight.
    Marked(Severity),
    /// A heading.
    Heading,
    /// Words that may need several lines.
    Words,
}

impl Styles {
    /// The table as it is.
    pub(super) fn read(xml: String) -> Result<Self, Unmarkable> {
        let formats = children(&xml, "cellXfs", "xf")?;
        let fills = children(&xml, "fills", "fill")?.len();
        let fonts = children(&xml, "fonts", "font")?;
        if formats.is_empty() || fills == 0 || fonts.is_empty() {
            return Err(Unmarkable("its table of formats is not complete"));
        }
        Ok(Self {
            xml,
            formats,
            fills,
            fonts,
            made: BTreeMap::new(),
            added: Vec::new(),
            added_fonts: Vec::new(),
        })
    }

    /// The number of the format that looks as `base` does, and is marked.
    pub(super) fn like(&mut self, base: usize, look: Look) -> Result<usize, Unmarkable> {
        if let Some(made) = self.made.get(&(base, look)) {
            return Ok(*made);
        }
        let xml = self.formats.get(base).or_else(|| self.formats.first());
        let xml = xml.cloned().unwrap_or_default();
        let format = self.changed(&xml, look)?;
        let number = self.formats.len().saturating_add(self.added.len());
        self.added.push(format);
        self.made.insert((base, look), number);
        Ok(number)
    }

    fn changed(&mut self, xml: &str, look: Look) -> Result<String, Unmarkable> {
        let first = pieces(xml).next();
        let Some(Ok(piece)) = first else {
            return Err(Unmarkable("its table of formats is not complete"));
        };
        let Some((tag, empty)) = piece.opens_as("xf") else {
            return Err(Unmarkable("its table of formats is not complete"));
        };
        let yes = || Some("1".to_owned());
        match look {
            Look::Marked(severity) => {
                let order = FILLS.iter().position(|(s, _)| *s == severity);
                let fill = self.fills.saturating_add(order.unwrap_or(0));
                let mut changes = vec![("fillId", Some(fill.to_string())), ("applyFill", yes())];
                if let Some(font) = self.dark_font(tag)? {
                    changes.extend([("fontId", Some(font.to_string())), ("applyFont", yes())]);
                }
                let mut edits = Edits::default();
                edits.replace(piece.at.clone(), with(tag, &changes, empty));
                edits.applied(xml)
            }
            Look::Heading => {
                let number = self.fonts.len().saturating_add(self.added_fonts.len());
                self.added_fonts.push("<font><b/><sz val=\"11\"/><name val=\"Calibri\"/></font>".to_owned());
                Ok(format!("<xf numFmtId=\"0\" fontId=\"{number}\" fillId=\"0\" borderId=\"0\" applyFont=\"1\"/>"))
            }
            Look::Words => Ok("<xf numFmtId=\"0\" fontId=\"0\" fillId=\"0\" borderId=\"0\" applyAlignment=\"1\"><alignment vertical=\"top\" wrapText=\"1\"/></xf>".to_owned()),
        }
    }

    /// Light letters, as on a dark heading, would vanish on a light fill: the same font in black.
    fn dark_font(&mut self, format: &BytesStart<'_>) -> Result<Option<usize>, Unmarkable> {
        let font = attribute(format, "fontId").and_then(|id| id.parse::<usize>().ok());
        let Some(xml) = font.and_then(|id| self.fonts.get(id)) else {
            return Ok(None);
        };
        for piece in pieces(xml) {
            let piece = piece?;
            if let Some((tag, _)) = piece.opens_as("color")
                && is_light(tag)
            {
                let mut edits = Edits::default();
                edits.replace(piece.at, "<color rgb=\"FF000000\"/>".to_owned());
                let black = edits.applied(xml)?;
                self.added_fonts.push(black);
                let added = self.fonts.len().saturating_add(self.added_fonts.len());
                return Ok(added.checked_sub(1));
            }
        }
        Ok(None)
    }

    /// The table with what was added.
    pub(super) fn written(self) -> Result<String, Unmarkable> {
        let fills: Vec<String> = FILLS
            .iter()
            .map(|(_, rgb)| format!("<fill><patternFill patternType=\"solid\"><fgColor rgb=\"FF{rgb}\"/><bgColor indexed=\"64\"/></patternFill></fill>"))
            .collect();
        let lists = [
            ("fonts", self.fonts.len(), &self.added_fonts),
            ("fills", self.fills, &fills),
            ("cellXfs", self.formats.len(), &self.added),
        ];
        let mut edits = Edits::default();
        for piece in pieces(&self.xml) {
            let piece = piece?;
            for (name, before, added) in &lists {
                if let Some((tag, false)) = piece.opens_as(name)
                    && piece.depth == 1
                {
                    let count = before.saturating_add(added.len()).to_string();
                    edits.replace(
                        piece.at.clone(),
                        with(tag, &[("count", Some(count))], false),
                    );
                }
                if piece.closes_as(name) && piece.depth == 1 {
                    edits.insert(piece.at.start, added.concat());
                }
            }
        }
        edits.applied(&self.xml)
    }
}

/// The children of a list as written.
fn children(xml: &str, list: &str, child: &str) -> Result<Vec<String>, Unmarkable> {
    let mut found = Vec::new();
    let (mut inside, mut start) = (false, None);
    for piece in pieces(xml) {
        let piece = piece?;
        if let Some((_, empty)) = piece.opens_as(list)
            && piece.depth == 1
        {
            inside = !empty;
        }
        if piece.closes_as(list) && piece.depth == 1 {
            inside = false;
        }
        if !inside || piece.depth != 2 {
            continue;
        }
        match piece.opens_as(child) {
            Some((_, false)) => start = Some(piece.at.start),
            Some((_, true)) => found.push(xml.get(piece.at.clone()).unwrap_or_default().to_owned()),
            None => {}
        }
        if piece.closes_as(child)
            && let Some(start) = start.take()
        {
            found.push(xml.get(start..piece.at.end).unwrap_or_default().to_owned());
        }
    }
    Ok(found)
}

/// White, or so near it that it is meant for a dark ground.
fn is_light(color: &BytesStart<'_>) -> bool {
    if let Some(rgb) = attribute(color, "rgb") {
        let tail = rgb.get(rgb.len().saturating_sub(6)..).unwrap_or_default();
        let parts =
            [0_usize, 2, 4].map(|at| tail.get(at..at.saturating_add(2)).unwrap_or_default());
        let bright = |part: &&str| u8::from_str_radix(part, 16).is_ok_and(|n| n >= 0xa0);
        return parts.iter().all(bright);
    }
    // The first theme colour is the paper's, and so are these of the old palette.
    let named = attribute(color, "theme").is_some_and(|n| n == "0");
    named || attribute(color, "indexed").is_some_and(|n| n == "1" || n == "9")
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = r#"<styleSheet><numFmts count="1"><numFmt numFmtId="164" formatCode="0.0"/></numFmts><fonts count="2"><font><sz val="11"/></font><font><b/><color rgb="FFFFFFFF"/></font></fonts><fills count="2"><fill/><fill><patternFill/></fill></fills><cellStyleXfs count="1"><xf numFmtId="0"/></cellStyleXfs><cellXfs count="2"><xf numFmtId="0" fontId="0"/><xf numFmtId="164" fontId="1" fillId="1"><alignment horizontal="center"/></xf></cellXfs></styleSheet>"#;

    #[test]
    fn a_cell_keeps_its_format_and_gets_a_fill() {
        let mut styles = Styles::read(TABLE.to_owned()).unwrap();
        let error = Look::Marked(Severity::Error);
        assert_eq!(styles.like(0, error).unwrap(), 2);
        assert_eq!(styles.like(0, error).unwrap(), 2);
        assert_eq!(styles.like(1, Look::Marked(Severity::Notice)).unwrap(), 3);
        let written = styles.written().unwrap();
        // Two fills were there: the error's is number 2, the notice's number 4. White letters turn black.
        for part in [
            r#"<fonts count="3">"#,
            r#"<font><b/><color rgb="FF000000"/></font></fonts>"#,
            r#"<fills count="5">"#,
            r#"<cellStyleXfs count="1">"#,
            r#"<cellXfs count="4">"#,
            r#"<xf numFmtId="0" fontId="0" fillId="2" applyFill="1"/>"#,
            r#"<xf numFmtId="164" fillId="4" applyFill="1" fontId="2" applyFont="1"><alignment horizontal="center"/></xf></cellXfs>"#,
        ] {
            assert!(written.contains(part), "{part} in {written}");
        }
    }

    #[test]
    fn a_table_without_formats_is_not_guessed_at() {
        assert!(Styles::read("<styleSheet/>".to_owned()).is_err());
    }
}
