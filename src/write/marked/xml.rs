//! XML patched in place: what is not changed stays byte for byte as it was.

use std::fmt::Write as _;
use std::ops::Range;

use quick_xml::Reader;
use quick_xml::escape::{escape, unescape};
use quick_xml::events::{BytesStart, Event};

use super::Unmarkable;

/// One piece of an XML text: a tag, or what stands between tags.
pub(super) struct Piece<'x> {
    /// What it is.
    pub(super) event: Event<'x>,
    /// Its bytes.
    pub(super) at: Range<usize>,
    /// How many elements are open around it.
    pub(super) depth: usize,
}

/// The pieces of a text, in order.
pub(super) fn pieces(xml: &str) -> impl Iterator<Item = Result<Piece<'_>, Unmarkable>> {
    let mut reader = Reader::from_str(xml);
    let (mut start, mut open) = (0, 0_usize);
    std::iter::from_fn(move || {
        let event = match reader.read_event() {
            Ok(Event::Eof) => return None,
            Ok(event) => event,
            Err(_) => return Some(Err(Unmarkable("a part of it is no proper XML"))),
        };
        let end = usize::try_from(reader.buffer_position()).unwrap_or(usize::MAX);
        if matches!(event, Event::End(_)) {
            open = open.saturating_sub(1);
        }
        let (at, depth) = (start..end, open);
        if matches!(event, Event::Start(_)) {
            open = open.saturating_add(1);
        }
        start = end;
        Some(Ok(Piece { event, at, depth }))
    })
}

impl<'x> Piece<'x> {
    /// The tag of an element that begins here, and whether it holds nothing.
    pub(super) fn opens(&self) -> Option<(&BytesStart<'x>, bool)> {
        match &self.event {
            Event::Start(tag) => Some((tag, false)),
            Event::Empty(tag) => Some((tag, true)),
            _ => None,
        }
    }

    /// The same for an element of this name.
    pub(super) fn opens_as(&self, name: &str) -> Option<(&BytesStart<'x>, bool)> {
        let named = |(tag, _): &(&BytesStart<'x>, bool)| tag.local_name().as_ref() == name;
        self.opens().filter(named)
    }

    /// Whether an element of this name ends here.
    pub(super) fn closes_as(&self, name: &str) -> bool {
        matches!(&self.event, Event::End(tag) if tag.local_name().as_ref() == name)
    }
}

/// The value of an attribute, whatever prefix its name has.
pub(super) fn attribute(tag: &BytesStart<'_>, name: &str) -> Option<String> {
    let mut attributes = tag.attributes();
    let found = attributes.with_checks(false).flatten();
    let mut found = found.filter(|a| a.key.local_name().as_ref() == name);
    let value = found.next()?.value;
    Some(unescape(&value).map_or_else(|_| value.to_string(), std::borrow::Cow::into_owned))
}

/// The tag again with some attributes set, or taken away where there is no value.
pub(super) fn with(
    tag: &BytesStart<'_>,
    changes: &[(&str, Option<String>)],
    empty: bool,
) -> String {
    let mut text = format!("<{}", tag.name().as_ref());
    let mut attributes = tag.attributes();
    for old in attributes.with_checks(false).flatten() {
        let key = old.key.as_ref();
        if !changes.iter().any(|(name, _)| *name == key) {
            let quote = if old.value.contains('"') { '\'' } else { '"' };
            // Writing to a string cannot fail.
            let _ = write!(text, " {key}={quote}{}{quote}", old.value);
        }
    }
    for (name, value) in changes {
        if let Some(value) = value {
            let _ = write!(text, " {name}=\"{}\"", escape(value.as_str()));
        }
    }
    text.push_str(if empty { "/>" } else { ">" });
    text
}

/// Text as it may stand between tags and in attributes. Characters that XML cannot hold are left out.
pub(super) fn text(raw: &str) -> String {
    let holds = |c: &char| !c.is_control() || matches!(c, '\n' | '\t');
    let kept: String = raw.chars().filter(holds).collect();
    escape(kept.as_str()).into_owned()
}

/// Changes to a text: each puts something in place of some bytes.
#[derive(Default)]
pub(super) struct Edits(Vec<(Range<usize>, String)>);

impl Edits {
    /// Puts `text` in place of some bytes.
    pub(super) fn replace(&mut self, at: Range<usize>, text: String) {
        self.0.push((at, text));
    }

    /// Puts `text` before a byte; later ones of the same place follow earlier ones.
    pub(super) fn insert(&mut self, at: usize, text: String) {
        self.replace(at..at, text);
    }

    /// The text with all changes, which must have been given from the front to the back.
    pub(super) fn applied(self, xml: &str) -> Result<String, Unmarkable> {
        let beyond = Unmarkable("its parts contradict each other");
        let mut done = String::with_capacity(xml.len());
        let mut from = 0;
        for (at, text) in self.0 {
            done.push_str(xml.get(from..at.start).ok_or(beyond)?);
            done.push_str(&text);
            from = at.end;
        }
        done.push_str(xml.get(from..).ok_or(beyond)?);
        Ok(done)
    }
}

/// The text with `child` as the last one in its root, which may have held nothing.
pub(super) fn in_root(xml: &str, child: &str) -> Result<String, Unmarkable> {
    for piece in pieces(xml) {
        let piece = piece?;
        let mut edits = Edits::default();
        match &piece.event {
            Event::Empty(tag) if piece.depth == 0 => {
                let name = tag.name().as_ref().to_owned();
                edits.replace(
                    piece.at,
                    format!("{}{child}</{name}>", with(tag, &[], false)),
                );
            }
            Event::End(_) if piece.depth == 0 => edits.insert(piece.at.start, child.to_owned()),
            _ => continue,
        }
        return edits.applied(xml);
    }
    Err(Unmarkable("a part of it holds no element"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_keeps_its_attributes_as_they_were() {
        let xml = r#"<c r='D7' t="s" n='a "b"' s="3"/>"#;
        let piece = pieces(xml).next().unwrap().unwrap();
        let (tag, empty) = piece.opens_as("c").unwrap();
        assert_eq!(attribute(tag, "r").as_deref(), Some("D7"));
        assert_eq!(
            with(tag, &[("s", Some("9".into())), ("t", None)], empty),
            r#"<c r="D7" n='a "b"' s="9"/>"#
        );
    }

    #[test]
    fn a_child_is_added_to_a_root_full_or_empty() {
        let full = in_root("<?xml version='1.0'?><a><b/></a>\n", "<c/>").unwrap();
        assert_eq!(full, "<?xml version='1.0'?><a><b/><c/></a>\n");
        assert_eq!(
            in_root("<a x='1'/>", "<c/>").unwrap(),
            "<a x=\"1\"><c/></a>"
        );
        assert!(in_root("<a><b></a>", "<c/>").is_err());
        assert!(in_root("", "<c/>").is_err());
    }

    #[test]
    fn what_xml_cannot_hold_is_left_out() {
        assert_eq!(
            text("8 < 9 & \u{1b}[31m\"x\"\n"),
            "8 &lt; 9 &amp; [31m&quot;x&quot;\n"
        );
    }
}
