//! Files that were damaged on their way: whatever happens to the bytes, reading ends with tables or
//! with a problem, and never with a panic.

use std::collections::BTreeMap;
use std::io::{Cursor, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use proptest::prelude::*;

use crate::read::library::builtin;
use crate::read::{Source, read_job};

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("examples/clinic-gardens")
        .join(name)
}

/// The example as a workbook, and its parts unpacked.
static WORKBOOK: LazyLock<Vec<u8>> =
    LazyLock::new(|| std::fs::read(example("clinic-gardens.xlsx")).unwrap());
static PARTS: LazyLock<BTreeMap<String, Vec<u8>>> = LazyLock::new(|| {
    let mut package = zip::ZipArchive::new(Cursor::new(WORKBOOK.as_slice())).unwrap();
    let mut parts = BTreeMap::new();
    for i in 0..package.len() {
        let mut part = package.by_index(i).unwrap();
        let mut bytes = Vec::new();
        part.read_to_end(&mut bytes).unwrap();
        parts.insert(part.name().unwrap().to_string(), bytes);
    }
    parts
});
/// The example as text tables, by sheet.
static TEXTS: LazyLock<Vec<(String, Vec<u8>)>> = LazyLock::new(|| {
    let mut texts: Vec<_> = std::fs::read_dir(example("job"))
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read(path).unwrap())
        })
        .collect();
    texts.sort();
    texts
});

/// What happens to some bytes.
#[derive(Clone, Debug)]
enum Harm {
    /// A byte becomes another one.
    Flip(prop::sample::Index, u8),
    /// The end is lost.
    Cut(prop::sample::Index),
    /// A stretch stands there twice.
    Double(prop::sample::Index, u8),
    /// A stretch is lost.
    Lose(prop::sample::Index, u8),
    /// A number of the text becomes a huge one.
    Enlarge(prop::sample::Index),
}

fn harm() -> impl Strategy<Value = Harm> {
    let at = any::<prop::sample::Index>;
    prop_oneof![
        4 => (at(), any::<u8>()).prop_map(|(at, byte)| Harm::Flip(at, byte)),
        1 => at().prop_map(Harm::Cut),
        1 => (at(), any::<u8>()).prop_map(|(at, n)| Harm::Double(at, n)),
        1 => (at(), any::<u8>()).prop_map(|(at, n)| Harm::Lose(at, n)),
        2 => at().prop_map(Harm::Enlarge),
    ]
}

fn harmed(bytes: &[u8], harms: &[Harm]) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    for harm in harms {
        if bytes.is_empty() {
            break;
        }
        let stretch = |at: usize, n: u8| at..bytes.len().min(at + usize::from(n));
        match harm.clone() {
            Harm::Flip(at, byte) => {
                let at = at.index(bytes.len());
                bytes[at] = byte;
            }
            Harm::Cut(at) => bytes.truncate(at.index(bytes.len())),
            Harm::Double(at, n) => {
                let at = at.index(bytes.len());
                let twice = bytes[stretch(at, n)].to_vec();
                bytes.splice(at..at, twice);
            }
            Harm::Lose(at, n) => {
                let range = stretch(at.index(bytes.len()), n);
                bytes.drain(range);
            }
            Harm::Enlarge(at) => {
                let at = at.index(bytes.len());
                if let Some(digit) = bytes[at..].iter().position(u8::is_ascii_digit) {
                    bytes.splice(at + digit..=at + digit, *b"99999999999");
                }
            }
        }
    }
    bytes
}

fn packed(parts: &BTreeMap<String, Vec<u8>>) -> Vec<u8> {
    let mut out = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        let options = zip::write::SimpleFileOptions::default();
        out.start_file(name.as_str(), options).unwrap();
        out.write_all(bytes).unwrap();
    }
    out.finish().unwrap().into_inner()
}

/// Reads a job file of these bytes; a source that yields nothing must say why.
fn check(name: &str, bytes: &[u8]) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    std::fs::File::create(&path)
        .unwrap()
        .write_all(bytes)
        .unwrap();
    let read = read_job(&Source::Path(path), &builtin());
    assert!(read.output.is_some() || read.has_errors());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 50, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_workbook_with_harmed_bytes_is_read_or_refused(harms in prop::collection::vec(harm(), 1..4)) {
        check("job.xlsx", &harmed(&WORKBOOK, &harms));
    }

    #[test]
    fn a_workbook_with_harmed_parts_is_read_or_refused(
        at in any::<prop::sample::Index>(),
        other in any::<prop::sample::Index>(),
        swap in any::<bool>(),
        harms in prop::collection::vec(harm(), 1..6),
    ) {
        let mut parts = PARTS.clone();
        let names: Vec<String> = parts.keys().cloned().collect();
        let (name, other) = (at.get(&names), other.get(&names));
        let bytes = harmed(&parts[name], &harms);
        parts.insert(name.clone(), bytes);
        if swap {
            let (a, b) = (parts[name].clone(), parts[other].clone());
            parts.insert(name.clone(), b);
            parts.insert(other.clone(), a);
        }
        check("job.xlsx", &packed(&parts));
    }

    #[test]
    fn text_tables_with_harmed_bytes_are_read_or_refused(
        at in any::<prop::sample::Index>(),
        harms in prop::collection::vec(harm(), 1..6),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let harmed_one = at.index(TEXTS.len());
        for (place, (name, bytes)) in TEXTS.iter().enumerate() {
            let bytes = if place == harmed_one { harmed(bytes, &harms) } else { bytes.clone() };
            let path = folder.path().join(name);
            std::fs::File::create(path).unwrap().write_all(&bytes).unwrap();
        }
        let read = read_job(&Source::Path(folder.path().to_owned()), &builtin());
        prop_assert!(read.output.is_some() || read.has_errors());
    }
}

/// Every sheet declares the whole of what a sheet can hold; the table is read all the same.
#[test]
fn a_declared_size_that_is_not_there_costs_nothing() {
    let mut parts = PARTS.clone();
    let mut declared = 0;
    for (name, bytes) in &mut parts {
        let text = String::from_utf8_lossy(bytes).into_owned();
        if let (true, Some((before, after))) = (
            name.starts_with("xl/worksheets/"),
            text.split_once("<dimension ref=\""),
        ) {
            let rest = after.split_once('"').unwrap().1;
            *bytes = format!("{before}<dimension ref=\"A1:XFD1048576\"{rest}").into_bytes();
            declared += 1;
        }
    }
    assert!(declared > 5, "{declared}");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.xlsx");
    std::fs::File::create(&path)
        .unwrap()
        .write_all(&packed(&parts))
        .unwrap();
    let read = read_job(&Source::Path(path), &builtin());
    let errors = read.has_errors();
    assert!(!errors, "{:?}", read.problems);
    assert_eq!(read.output.unwrap().job.beds.len(), 10);
}
