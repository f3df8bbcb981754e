//! From arguments to the place of the job, and to the folder of the outputs.

use std::io::Read;
use std::path::{Path, PathBuf};

use super::args::JobArgs;
use crate::problem::Problem;
use crate::read::Source;
use crate::write::file_name::file_safe;
use crate::write::manifest::MANIFEST;

/// Most bytes taken from standard input.
const MOST_INPUT: u64 = 256 * 1024 * 1024;
/// What standard input is called in places: `stdin:7:4`.
const STDIN: &str = "stdin";

/// The job that the arguments name.
///
/// # Errors
/// In words, when they name none, or standard input cannot be read.
pub(super) fn source(args: &JobArgs, stdin: &mut dyn Read) -> Result<Source, String> {
    let is_stdin = |path: &Path| path.as_os_str() == "-";
    match (&args.job, &args.beds) {
        (Some(job), _) if is_stdin(job) => beds_from(stdin),
        (Some(job), _) => Ok(Source::Path(job.clone())),
        (None, Some(beds)) if is_stdin(beds) && args.prices.is_some() => Err(
            "beds from standard input cannot be combined with --prices; save them to a file and give it with --beds".to_owned(),
        ),
        (None, Some(beds)) if is_stdin(beds) => beds_from(stdin),
        (None, Some(beds)) => Ok(Source::Files {
            beds: beds.clone(),
            prices: args.prices.clone(),
        }),
        (None, None) => {
            Err("name a job: a workbook, a folder of CSV files, or --beds FILE".to_owned())
        }
    }
}

fn beds_from(stdin: &mut dyn Read) -> Result<Source, String> {
    let mut text = Vec::new();
    let read = stdin.take(MOST_INPUT + 1).read_to_end(&mut text);
    read.map_err(|e| format!("cannot read standard input: {e}"))?;
    if u64::try_from(text.len()).is_ok_and(|length| length > MOST_INPUT) {
        return Err(format!(
            "standard input holds more than {} MB; save it to a file and give it with --beds",
            MOST_INPUT / 1024 / 1024
        ));
    }
    let name = STDIN.to_owned();
    Ok(Source::Text { name, text })
}

/// The default folder for outputs: `<job name>-estimate` beside the job; for an estimate in its own
/// folder of outputs, one beside that folder with the next number: `<folder>-2`.
pub(super) fn default_folder(source: &Source, job_name: &str) -> PathBuf {
    let name = format!("{}-estimate", file_safe(job_name));
    match source {
        Source::Path(path) => match outputs_around(path, &name) {
            Some(folder) => numbered(&folder),
            None => beside(path, &name),
        },
        Source::Files { beds, .. } => beside(beds, &name),
        Source::Text { .. } => PathBuf::from(name),
    }
}

/// The folder of outputs in which a job stands that was an output itself: one of ours, or of the name
/// that outputs have.
fn outputs_around(job: &Path, name: &str) -> Option<PathBuf> {
    let folder = match job.parent()? {
        here if here.as_os_str().is_empty() => Path::new("."),
        folder => folder,
    };
    let called = name_of(folder)?;
    let is_named = called == name || without_number(&called).0 == name;
    (is_named || folder.join(MANIFEST).is_file()).then(|| folder.to_owned())
}

fn name_of(folder: &Path) -> Option<String> {
    let real = folder.canonicalize().ok();
    let named = real.as_deref().unwrap_or(folder).file_name()?;
    Some(named.to_string_lossy().into_owned())
}

/// `garden-estimate-3` as `garden-estimate` and 3; 1 where there is no number.
fn without_number(name: &str) -> (&str, u32) {
    let parts = name.rsplit_once('-');
    let parts = parts.and_then(|(stem, tail)| Some((stem, tail.parse::<u32>().ok()?)));
    parts
        .filter(|(_, n)| (2..1_000).contains(n))
        .unwrap_or((name, 1))
}

/// The folder beside `folder` with the next number. A number at its end counts as one of ours only
/// where the folder without it is there too: `site-4` may be called so.
fn numbered(folder: &Path) -> PathBuf {
    let called = name_of(folder).unwrap_or_default();
    // From inside the folder the way leads over the one above it.
    let sibling = |name: &str| match folder.file_name() {
        Some(_) => folder.with_file_name(name),
        None => folder.join("..").join(name),
    };
    let (stem, number) = match without_number(&called) {
        (stem, 2..) if !sibling(stem).is_dir() => (called.as_str(), 1),
        parts => parts,
    };
    sibling(&format!("{stem}-{}", number.saturating_add(1)))
}

/// The name of the job's file or folder; standard input has none.
pub(super) fn file_name(source: &Source) -> Option<String> {
    let path = match source {
        Source::Path(path) => path,
        Source::Files { beds, .. } => beds,
        Source::Text { .. } => return None,
    };
    let name = match path.file_name() {
        Some(name) => name.to_owned(),
        None => path.canonicalize().ok()?.file_name()?.to_owned(),
    };
    Some(name.to_string_lossy().into_owned())
}

/// The path of a file or folder `name` beside `path`.
pub(super) fn beside(path: &Path, name: &str) -> PathBuf {
    // `.` and `..` have no name of their own; only the real path tells what is beside them.
    let real = match path.file_name() {
        Some(_) => path.to_owned(),
        None => path.canonicalize().unwrap_or_else(|_| path.to_owned()),
    };
    real.with_file_name(name)
}

/// Why outputs cannot go to `folder`: it is the job, or an output would replace the job.
pub(super) fn clash(source: &Source, folder: &Path, outputs: &[&str]) -> Option<Problem> {
    let inputs: Vec<&Path> = match source {
        Source::Path(path) => vec![path],
        Source::Files { beds, prices } => {
            let prices = prices.iter().map(PathBuf::as_path);
            prices.chain([beds.as_path()]).collect()
        }
        Source::Text { .. } => Vec::new(),
    };
    for input in inputs {
        let place = folder.display().to_string();
        if is_same(input, folder) {
            return Some(
                Problem::file("the outputs cannot go into the folder of the job itself")
                    .place(place)
                    .hint("give another folder with --out"),
            );
        }
        if outputs
            .iter()
            .any(|name| is_same(input, &folder.join(name)))
        {
            return Some(
                Problem::file("an output would replace the job that is read")
                    .place(place)
                    .hint("give another folder with --out"),
            );
        }
    }
    None
}

fn is_same(a: &Path, b: &Path) -> bool {
    match (a.canonicalize(), b.canonicalize()) {
        (Ok(a), Ok(b)) => a == b,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder_for(source: &Source, job: &str) -> String {
        default_folder(source, job).display().to_string()
    }

    #[test]
    fn outputs_go_beside_the_job_and_never_into_it() {
        let path = |p: &str| Source::Path(p.into());
        assert_eq!(
            folder_for(&path("jobs/nine.xlsx"), "Nine beds"),
            "jobs/Nine beds-estimate"
        );
        assert_eq!(folder_for(&path("nine.xlsx"), "nine"), "nine-estimate");
        assert_eq!(
            folder_for(&path("jobs/nine/"), "nine"),
            "jobs/nine-estimate"
        );
        assert_eq!(
            folder_for(&path("jobs/nine.xlsx"), "../../up"),
            "jobs/up-estimate"
        );
        let beds = Source::Files {
            beds: "a/beds.csv".into(),
            prices: None,
        };
        assert_eq!(folder_for(&beds, "beds"), "a/beds-estimate");
    }

    #[test]
    fn a_job_in_the_folder_where_one_stands_has_its_outputs_beside_that_folder() {
        let here = Path::new(".").canonicalize().unwrap();
        let expected = here.with_file_name("nine-estimate");
        assert_eq!(default_folder(&Source::Path(".".into()), "nine"), expected);
    }

    #[test]
    fn an_estimate_that_is_read_back_goes_beside_its_folder_with_the_next_number() {
        let root = tempfile::tempdir().unwrap();
        let at = |folder: &str| root.path().join(folder);
        let next = |folder: &str| {
            let job = Source::Path(at(folder).join("estimate.xlsx"));
            default_folder(&job, "garden")
        };
        for folder in [
            "garden-estimate",
            "garden-estimate-2",
            "revised",
            "site-4",
            "other",
        ] {
            std::fs::create_dir(at(folder)).unwrap();
        }
        for ours in ["revised", "site-4"] {
            std::fs::File::create(at(ours).join(MANIFEST)).unwrap();
        }
        assert_eq!(next("garden-estimate"), at("garden-estimate-2"));
        assert_eq!(next("garden-estimate-2"), at("garden-estimate-3"));
        assert_eq!(next("revised"), at("revised-2"));
        // There is no folder "site" whose fourth this would be.
        assert_eq!(next("site-4"), at("site-4-2"));
        assert_eq!(next("other"), at("other/garden-estimate"));
    }

    #[test]
    fn the_job_is_never_an_output() {
        let root = tempfile::tempdir().unwrap();
        let job = root.path().join("estimate.xlsx");
        std::fs::File::create(&job).unwrap();
        let outputs = ["estimate.xlsx"];
        let sentence =
            |source: &Source| clash(source, root.path(), &outputs).map(|problem| problem.sentence);
        assert_eq!(
            sentence(&Source::Path(root.path().join("."))).as_deref(),
            Some("the outputs cannot go into the folder of the job itself")
        );
        assert_eq!(
            sentence(&Source::Path(job)).as_deref(),
            Some("an output would replace the job that is read")
        );
        let other = root.path().join("job.xlsx");
        std::fs::File::create(&other).unwrap();
        assert_eq!(sentence(&Source::Path(other)), None);
    }
}
