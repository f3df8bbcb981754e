//! `check --mark`: a copy of the job in which the cells with problems are marked.

use std::path::{Path, PathBuf};

use super::args::CheckArgs;
use super::priced::Priced;
use super::source::{beside, clash};
use crate::problem::Problem;
use crate::read::Source;
use crate::write::marked::{Marked, anew, patched};
use crate::write::stage::{Replacing, Staging};

/// Endings of workbooks that are patched, so that everything in them stays.
const PATCHED: [&str; 2] = ["xlsx", "xlsm"];

/// Writes the copy; what to say about it, in one line.
///
/// # Errors
/// Everything that stood in the way; then nothing was written.
pub(super) fn mark(
    source: &Source,
    args: &CheckArgs,
    priced: &Priced,
) -> Result<String, Vec<Problem>> {
    if priced.problems.is_empty() || priced.sources.tables.is_empty() {
        return Ok("no marked copy: there is no cell to mark".to_owned());
    }
    let one = |problem: Box<Problem>| vec![*problem];
    let (copy, ending, how) = copy_of(source, priced).map_err(one)?;
    let asked = args.mark.clone().flatten();
    let path = asked.unwrap_or_else(|| default_path(source, ending));
    let (folder, name) = place_of(&path, ending).map_err(one)?;
    if let Some(problem) =
        clash(source, &folder, &[&name]).filter(|p| p.sentence.contains("replace"))
    {
        let words = "the marked copy would replace the job that is read";
        let hint = "give another file with --mark=FILE";
        return Err(vec![
            Problem::file(words)
                .place(problem.place.unwrap_or_default())
                .hint(hint),
        ]);
    }
    publish(&folder, &name, &copy.bytes, args.force)?;
    let shown = folder.join(&name).display().to_string();
    let shown = shown.strip_prefix("./").unwrap_or(&shown).to_owned();
    Ok(format!("marked copy: {shown} ({}){how}", counted(&copy)))
}

/// The copy, the ending that it must have, and a sentence about how it was made.
fn copy_of(
    source: &Source,
    priced: &Priced,
) -> Result<(Marked, &'static str, String), Box<Problem>> {
    let (problems, sources) = (&priced.problems, &priced.sources);
    let mut why =
        "; made from what was read: formulas, colours and other sheets are not in it".to_owned();
    if let Some((path, ending)) = patchable(source) {
        let bytes = std::fs::read(path).map_err(|e| {
            Box::new(Problem::file(format!(
                "cannot read {}: {e}",
                path.display()
            )))
        })?;
        match patched(&bytes, problems, sources) {
            Ok(copy) => return Ok((copy, ending, String::new())),
            Err(reason) => {
                why = format!("; made from what was read, since {}", reason.words());
            }
        }
    }
    let copy = anew(problems, sources);
    let copy =
        copy.map_err(|e| Box::new(Problem::bug(format!("the marked copy cannot be made: {e}"))))?;
    Ok((copy, "xlsx", why))
}

fn patchable(source: &Source) -> Option<(&Path, &'static str)> {
    let Source::Path(path) = source else {
        return None;
    };
    let ending = ending_of(path);
    let known = PATCHED.into_iter().find(|known| ending == *known)?;
    Some((path, known))
}

fn ending_of(path: &Path) -> String {
    let ending = path.extension().unwrap_or_default();
    ending.to_string_lossy().to_lowercase()
}

/// `job - marked.xlsx` beside the job.
fn default_path(source: &Source, ending: &str) -> PathBuf {
    let named = |path: &Path| {
        let real = path.canonicalize();
        let real = real.as_deref().unwrap_or(path);
        let stem = if real.is_dir() {
            real.file_name()
        } else {
            real.file_stem()
        };
        let stem = stem.unwrap_or_default().to_string_lossy().into_owned();
        beside(path, &format!("{stem} - marked.{ending}"))
    };
    match source {
        Source::Path(path) | Source::Files { beds: path, .. } => named(path),
        Source::Text { name, .. } => PathBuf::from(format!("{name} - marked.{ending}")),
    }
}

/// Folder and name of the copy.
fn place_of(path: &Path, ending: &str) -> Result<(PathBuf, String), Box<Problem>> {
    if ending_of(path) != ending {
        let words = format!("the marked copy of this job must be called .{ending}");
        let problem = Problem::file(words).place(path.display().to_string());
        return Err(Box::new(problem));
    }
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new(".")).to_owned();
    let name = path.file_name().unwrap_or_default();
    Ok((folder, name.to_string_lossy().into_owned()))
}

fn publish(folder: &Path, name: &str, bytes: &[u8], force: bool) -> Result<(), Vec<Problem>> {
    let replacing = if force {
        Replacing::Everything
    } else {
        Replacing::Ours
    };
    let staged = Staging::open(folder, replacing).map_err(|p| vec![*p]);
    let written = staged.and_then(|staging| {
        let mut staging = staging.beside_others();
        staging.add(name, bytes).map_err(|p| vec![*p])?;
        staging.publish()
    });
    let other = "give another file with --mark=FILE, or replace it with --force";
    let hinted = |problem: Problem| match problem.hint {
        Some(_) => problem.hint(other),
        None => problem,
    };
    written
        .map(|_| ())
        .map_err(|problems| problems.into_iter().map(hinted).collect())
}

/// `12 cells; 3 problems are about no cell`.
fn counted(copy: &Marked) -> String {
    let cells = match copy.cells {
        1 => "1 cell".to_owned(),
        n => format!("{n} cells"),
    };
    match copy.elsewhere {
        0 => format!("{cells}; its last sheet lists them"),
        1 => format!("{cells}; its last sheet lists them, and 1 problem about no cell"),
        n => format!("{cells}; its last sheet lists them, and {n} problems about no cell"),
    }
}
