//! What a business puts on its documents: a logo, a colour, terms, templates of its own.

use std::collections::BTreeMap;
use std::fs;
use std::io::Read as _;
use std::path::Path;

use crate::problem::{Problem, printable};

/// Files beyond this are no logo and no template.
const LARGEST: u64 = 5_000_000;
/// More files than this are no letterhead but some other folder.
const MOST_FILES: usize = 60;
/// Terms longer than this are a contract of their own.
const LONGEST_TERMS: usize = 20_000;
/// The file of the terms.
const TERMS: &str = "terms.txt";
/// The file of the colour.
const COLOUR: &str = "colour.txt";
/// Files that are taken for the logo, the first that is there.
const LOGOS: [&str; 4] = ["logo.svg", "logo.png", "logo.jpg", "logo.jpeg"];
/// Endings of files that templates may use.
const ENDINGS: [&str; 5] = ["typ", "svg", "png", "jpg", "jpeg"];

/// What documents stand on; empty for the look that is built in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Letterhead {
    /// Where it was read, for messages.
    pub folder: String,
    /// Templates by name, in place of those that are built in, and pictures that they use.
    pub files: BTreeMap<String, Vec<u8>>,
    /// Name of the file of the logo.
    pub logo: Option<String>,
    /// A colour as `#rrggbb`.
    pub colour: Option<String>,
    /// Terms that stand on the client's page.
    pub terms: Option<String>,
}

/// Reads a folder of `logo.svg` (or png, jpg), `colour.txt` with a colour as `#23402f`, `terms.txt`, and
/// templates by the names of those that are built in.
///
/// # Errors
/// Everything in the folder that cannot be used, each with its file.
pub fn read(folder: &Path) -> Result<Letterhead, Vec<Problem>> {
    let shown = folder.display().to_string();
    let entries = fs::read_dir(folder).map_err(|e| {
        vec![
            Problem::file(format!("the letterhead cannot be read: {e}"))
                .place(shown.clone())
                .hint("give a folder with logo.svg, colour.txt, terms.txt or templates"),
        ]
    })?;
    let names = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let mut names: Vec<String> = names.filter(|name| is_ours(name)).collect();
    names.sort();
    if names.len() > MOST_FILES {
        let words = format!(
            "the letterhead has {} files, and at most {MOST_FILES} are read",
            names.len()
        );
        return Err(vec![Problem::file(words).place(shown)]);
    }
    let mut letterhead = Letterhead {
        folder: shown,
        ..Letterhead::default()
    };
    let mut problems = Vec::new();
    for name in names {
        match bytes(&folder.join(&name)) {
            Ok(bytes) => problems.extend(take(&mut letterhead, name, bytes)),
            Err(problem) => problems.push(*problem),
        }
    }
    let logos = LOGOS
        .iter()
        .find(|name| letterhead.files.contains_key(**name));
    letterhead.logo = logos.map(|name| (*name).to_owned());
    if problems.is_empty() {
        Ok(letterhead)
    } else {
        Err(problems)
    }
}

fn is_ours(name: &str) -> bool {
    let ending = Path::new(name).extension().and_then(|e| e.to_str());
    name == TERMS || name == COLOUR || ending.is_some_and(|e| ENDINGS.contains(&e))
}

fn bytes(path: &Path) -> Result<Vec<u8>, Box<Problem>> {
    let failed = |words: String| Box::new(Problem::file(words).place(path.display().to_string()));
    let file = fs::File::open(path)
        .map_err(|e| failed(format!("a file of the letterhead cannot be read: {e}")))?;
    let mut bytes = Vec::new();
    let mut limited = file.take(LARGEST.saturating_add(1));
    limited
        .read_to_end(&mut bytes)
        .map_err(|e| failed(format!("a file of the letterhead cannot be read: {e}")))?;
    if u64::try_from(bytes.len()).is_ok_and(|n| n > LARGEST) {
        return Err(failed(format!(
            "a file of the letterhead is larger than {LARGEST} bytes"
        )));
    }
    Ok(bytes)
}

fn take(letterhead: &mut Letterhead, name: String, bytes: Vec<u8>) -> Option<Problem> {
    let place = format!("{}/{name}", letterhead.folder);
    if name != TERMS && name != COLOUR {
        letterhead.files.insert(name, bytes);
        return None;
    }
    let Ok(text) = String::from_utf8(bytes) else {
        return Some(Problem::file("this file is not text in UTF-8").place(place));
    };
    let text = text.trim_start_matches('\u{feff}').trim().to_owned();
    if name == TERMS {
        if text.chars().count() > LONGEST_TERMS {
            let words = format!("the terms are longer than {LONGEST_TERMS} letters");
            return Some(Problem::file(words).place(place));
        }
        letterhead.terms = (!text.is_empty()).then_some(text);
        return None;
    }
    if !is_colour(&text) {
        return Some(
            Problem::file("the colour is not one")
                .place(place)
                .holds(printable(&text))
                .hint("write it as #23402f: red, green and blue, two digits of 0 to 9 and a to f each"),
        );
    }
    letterhead.colour = Some(text);
    None
}

fn is_colour(text: &str) -> bool {
    let digits = text.strip_prefix('#').unwrap_or_default();
    digits.len() == 6 && digits.chars().all(|c| c.is_ascii_hexdigit())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write as _;

    fn folder(files: &[(&str, &[u8])]) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        for (name, bytes) in files {
            let mut file = fs::File::create(folder.path().join(name)).unwrap();
            file.write_all(bytes).unwrap();
        }
        folder
    }

    #[test]
    fn a_logo_a_colour_and_terms_are_read_and_the_rest_is_left() {
        let folder = folder(&[
            ("logo.png", b"png"),
            ("colour.txt", "\u{feff}#0a3B5c\n".as_bytes()),
            ("terms.txt", b"Paid in 14 days.\n"),
            ("order.typ", b"= x"),
            ("notes.docx", b"..."),
        ]);
        let read = read(folder.path()).unwrap();
        assert_eq!(read.logo.as_deref(), Some("logo.png"));
        assert_eq!(read.colour.as_deref(), Some("#0a3B5c"));
        assert_eq!(read.terms.as_deref(), Some("Paid in 14 days."));
        let files: Vec<&str> = read.files.keys().map(|k| &**k).collect();
        assert_eq!(files, ["logo.png", "order.typ"]);
    }

    #[test]
    fn what_cannot_be_used_is_named_with_its_file() {
        let folder = folder(&[("colour.txt", b"green"), ("terms.txt", b"\xff\xfe")]);
        let problems = read(folder.path()).unwrap_err();
        let sentences: Vec<&str> = problems.iter().map(|p| &*p.sentence).collect();
        assert_eq!(
            sentences,
            ["the colour is not one", "this file is not text in UTF-8"]
        );
        assert!(problems[0].place.as_ref().unwrap().ends_with("/colour.txt"));
        assert!(read(&folder.path().join("none")).is_err());
    }
}
