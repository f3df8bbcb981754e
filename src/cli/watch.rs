//! `loamwright estimate --watch`: estimates again whenever the job is saved, until it is ended.
//!
//! Files are looked at a few times a second, by name. That also holds on shared and synchronised
//! folders, where systems report no events, and it sees a save by rename, a lock file or a half-written
//! file for what they are: a change counts once the files have come to rest.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::{Duration, SystemTime};

use super::Exit;
use super::args::EstimateArgs;
use super::estimate::once;
use super::run::Session;
use super::source::source;
use crate::price::Estimate;
use crate::read::Source;

/// Time between two looks.
const BETWEEN: Duration = Duration::from_millis(300);
/// Looks alike after a change before it counts: a file that is still written changes between them.
const CALM: u32 = 2;
/// Files of a folder that are looked at; a job has fewer.
const MOST_FILES: usize = 1_000;

/// Length and time of change of each file of the job.
pub(super) type Look = BTreeMap<PathBuf, (u64, Option<SystemTime>)>;

/// Watches the job until the process ends.
pub(super) fn watch(session: &mut Session, args: &EstimateArgs) -> Exit {
    let source = match source(&args.job, session.stdin) {
        Ok(Source::Text { .. }) => {
            return session.wrong_command_line("--watch needs a job in files, not standard input");
        }
        Ok(source) => source,
        Err(words) => return session.wrong_command_line(&words),
    };
    let first = look(&source);
    follow(session, args, first, &mut || {
        sleep(BETWEEN);
        Some(look(&source))
    })
}

/// Estimates at once, and again for each change that `next` comes to show; ends when it ends.
pub(super) fn follow(
    session: &mut Session,
    args: &EstimateArgs,
    first: Look,
    next: &mut dyn FnMut() -> Option<Look>,
) -> Exit {
    let mut settling = Settling::from(first);
    let (mut exit, mut good) = once(session, args, None);
    if matches!(exit, Exit::CommandLine | Exit::Bug) {
        return exit;
    }
    session
        .streams
        .talk("\nWatching the job: save it to see what moves; Ctrl-C ends.");
    while let Some(look) = next() {
        if !settling.settles(look) {
            continue;
        }
        session.streams.talk("");
        let (again, estimate) = once(session, args, good.as_ref());
        exit = again;
        match estimate {
            Some(estimate) => good = Some(estimate),
            None => last_good(session, good.as_ref()),
        }
    }
    exit
}

fn last_good(session: &mut Session, good: Option<&Estimate>) {
    if let Some(good) = good {
        let currency = good.job.settings.currency.value;
        let price = currency.show(good.price.total);
        let words = format!("The last good price stays: {price} {}", currency.as_str());
        session.streams.talk(&words);
    }
}

/// What the files of a job look like now. Files that only programs at work make are no part of it.
pub(super) fn look(source: &Source) -> Look {
    let files: Vec<PathBuf> = match source {
        Source::Path(path) if path.is_dir() => files_of(path),
        Source::Path(path) => vec![path.clone()],
        Source::Files { beds, prices } => prices.iter().chain([beds]).cloned().collect(),
        Source::Text { .. } => Vec::new(),
    };
    let seen = files.into_iter().filter_map(|path| {
        let facts = path.metadata().ok().filter(std::fs::Metadata::is_file)?;
        Some((path, (facts.len(), facts.modified().ok())))
    });
    seen.collect()
}

fn files_of(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = folder.read_dir() else {
        return Vec::new();
    };
    let paths = entries.take(MOST_FILES).flatten().map(|e| e.path());
    paths.filter(|path| !is_passing(path)).collect()
}

/// Hidden files, lock files and copies that editors make while they work.
fn is_passing(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    name.starts_with(['.', '~', '#'])
        || name.ends_with('~')
        || matches!(
            &*ending.to_lowercase(),
            "tmp" | "bak" | "swp" | "part" | "crdownload"
        )
}

/// Tells a finished change from one that still goes on.
struct Settling {
    /// What was estimated last.
    estimated: Look,
    /// The last look, and how many looks before it were the same.
    last: Look,
    calm: u32,
}

impl Settling {
    fn from(look: Look) -> Self {
        Self {
            estimated: look.clone(),
            last: look,
            calm: 0,
        }
    }

    /// Whether the files differ from those estimated last and have come to rest. A job that is gone for
    /// the moment, as between the two steps of a save, is waited for.
    fn settles(&mut self, look: Look) -> bool {
        if look != self.last {
            self.last = look;
            self.calm = 0;
            return false;
        }
        self.calm = self.calm.saturating_add(1);
        let is_due = self.calm >= CALM && self.last != self.estimated && !self.last.is_empty();
        if is_due {
            self.estimated = self.last.clone();
        }
        is_due
    }
}

#[cfg(test)]
mod tests;
