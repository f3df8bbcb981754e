//! Output files that appear whole or not at all.
//!
//! Everything is rendered into a staging folder inside the output folder, flushed to the disk, and
//! renamed into place in order of name; the list of outputs ([`super::manifest`]) comes last. A set of
//! files cannot appear at one instant on every system, and nothing cleans up after a process that
//! was killed. So the promise is: each file is whole, and the next run sweeps up what a dead one left.
//!
//! Longer than most because what a run does and what sweeps up after it have to be read together.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};

use tempfile::TempDir;

use super::manifest::{KnownHashes, MANIFEST, Manifest, Standing, hash_of};
use crate::problem::Problem;

/// How staging folders are called, before six random letters.
const STAGING: &str = ".staging-";
/// The file in a staging folder that its run keeps locked; a dead run's lock is gone.
const LOCK: &str = "running";

/// Whether outputs that the user made or changed may be replaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Replacing {
    /// Only what this program wrote and nobody changed.
    Ours,
    /// Everything, as asked by `--force`.
    Everything,
}

/// What was published.
#[derive(Clone, Debug)]
pub struct Written {
    /// The output folder.
    pub folder: PathBuf,
    /// Files in it, in order of name.
    pub names: Vec<String>,
    /// What was swept up, removed or left.
    pub notices: Vec<Problem>,
}

/// Looks before anything is computed whether the outputs `names` could be replaced. Writes nothing.
pub fn survey(folder: &Path, names: &[&str], replacing: Replacing) -> Vec<Problem> {
    if folder.exists() && !folder.is_dir() {
        return vec![
            Problem::file("the output folder is a file")
                .place(folder.display().to_string())
                .hint("give another folder with --out"),
        ];
    }
    let (known, _, mut problems) = known_hashes(folder);
    problems.retain(|p| p.severity == crate::problem::Severity::Error);
    for name in names {
        problems.extend(obstacle(folder, name, &known, replacing));
    }
    problems
}

/// Why the outputs in `folder` may not give way to those of `job`, a file name: they are of another
/// job. Two jobs that were copied from one and kept its name would else take each other's place.
pub fn of_another_job(folder: &Path, job: &str) -> Option<Problem> {
    let before = Manifest::read(folder).ok()?;
    let other = before.job?;
    // A job that was saved in another format is the same job.
    let is_same = Path::new(&other).file_stem() == Path::new(job).file_stem();
    let is_there = before.files.keys().any(|name| folder.join(name).exists());
    (!is_same && is_there).then(|| {
        Problem::file(format!(
            "the estimate of another job, {other}, is in the output folder and is not replaced"
        ))
        .place(folder.display().to_string())
        .hint("the folder is named after the Job name: give each job its own; or give another folder with --out, or replace it with --force")
    })
}

/// A staging folder that is being filled.
#[derive(Debug)]
pub struct Staging {
    folder: PathBuf,
    replacing: Replacing,
    known: KnownHashes,
    before: Manifest,
    /// What is staged, by name with its hash.
    staged: Manifest,
    /// File name of the job, when it has one.
    job: Option<String>,
    /// Whether outputs of earlier runs stay that this one does not write.
    beside_others: bool,
    notices: Vec<Problem>,
    // Fields drop in this order: the lock is let go, then the staging folder goes, then the output
    // folder if this run made it and it stayed empty.
    lock: Option<File>,
    temporary: TempDir,
    _made: MadeFolder,
}

/// The output folder, when this run made it: removed again if nothing came of the run.
#[derive(Debug)]
struct MadeFolder(Option<PathBuf>);

impl Drop for MadeFolder {
    fn drop(&mut self) {
        if let Some(folder) = &self.0 {
            // Fails when the folder holds outputs, which is when it shall stay.
            let _ = fs::remove_dir(folder);
        }
    }
}

impl Staging {
    /// Makes the output folder when there is none, sweeps up after dead runs, and opens a staging folder.
    ///
    /// # Errors
    /// When a folder or file cannot be made, or another run is writing there.
    pub fn open(folder: &Path, replacing: Replacing) -> Result<Self, Box<Problem>> {
        let made = MadeFolder((!folder.exists()).then(|| folder.to_owned()));
        fs::create_dir_all(folder).map_err(|e| Box::new(failed("create folder", folder, &e)))?;
        let (known, before, found) = known_hashes(folder);
        let mut notices = Vec::new();
        for problem in found {
            if problem.severity == crate::problem::Severity::Error {
                return Err(Box::new(problem));
            }
            notices.push(problem);
        }
        notices.extend(sweep(folder)?);
        let temporary = tempfile::Builder::new()
            .prefix(STAGING)
            .tempdir_in(folder)
            .map_err(|e| Box::new(failed("create a staging folder in", folder, &e)))?;
        let lock = lock(temporary.path())?;
        Ok(Self {
            folder: folder.to_owned(),
            replacing,
            known,
            before,
            staged: Manifest::default(),
            job: None,
            beside_others: false,
            notices,
            lock,
            temporary,
            _made: made,
        })
    }

    /// Leaves the outputs of earlier runs alone: what is staged does not take their place.
    #[must_use]
    pub fn beside_others(mut self) -> Self {
        self.beside_others = true;
        self
    }

    /// Says which job the outputs are of, by its file name.
    #[must_use]
    pub fn of_job(mut self, job: Option<String>) -> Self {
        self.job = job;
        self
    }

    /// The staging folder, for writers that need room for temporary files of their own.
    pub fn room(&self) -> &Path {
        self.temporary.path()
    }

    /// Stages one file.
    ///
    /// # Errors
    /// When it cannot be written, or `name` is not a plain file name.
    pub fn add(&mut self, name: &str, bytes: &[u8]) -> Result<(), Box<Problem>> {
        if !is_plain(name) {
            let sentence = format!(
                "an output was to be called \"{name}\", which leads out of the output folder"
            );
            return Err(Box::new(Problem::bug(sentence)));
        }
        write_through(&self.temporary.path().join(name), bytes)?;
        self.staged.files.insert(name.to_owned(), hash_of(bytes));
        Ok(())
    }

    /// Renames everything into place, in order of name, the list of outputs last. Unchanged outputs
    /// of an earlier run that this one did not write are removed, since they would contradict it.
    ///
    /// # Errors
    /// Every output that may not be replaced (then nothing is touched), or the first rename that failed.
    pub fn publish(mut self) -> Result<Written, Vec<Problem>> {
        let obstacles = self.obstacles();
        if !obstacles.is_empty() {
            return Err(obstacles);
        }
        let mut list = self.kept_from_before();
        list.files.extend(self.staged.files.clone());
        if !self.beside_others {
            list.job.clone_from(&self.job);
        }
        // Before the first rename, so that the next run can tell our files even if this one is killed.
        self.write_list(&list).map_err(|p| vec![*p])?;
        self.rename_all().map_err(|p| vec![*p])?;
        self.remove_leftovers(&list);
        self.rename(MANIFEST).map_err(|p| vec![*p])?;
        flush_folder(&self.folder);
        // Windows does not remove a folder that holds an open file.
        drop(self.lock.take());
        Ok(Written {
            folder: self.folder.clone(),
            names: self.staged.files.keys().cloned().collect(),
            notices: std::mem::take(&mut self.notices),
        })
    }

    fn obstacles(&self) -> Vec<Problem> {
        let staged = self.staged.files.iter();
        staged
            .filter(|(name, hash)| !self.is_same_already(name, hash))
            .filter_map(|(name, _)| obstacle(&self.folder, name, &self.known, self.replacing))
            .collect()
    }

    /// Whether the very bytes are there, whoever wrote them: nothing is lost by replacing them.
    fn is_same_already(&self, name: &str, hash: &str) -> bool {
        match self.known.standing(&self.folder, name) {
            Ok(Standing::Changed(now) | Standing::Foreign(now)) => now == hash,
            _ => false,
        }
    }

    /// Entries of the earlier list whose files the user changed: they stay, and stay known.
    fn kept_from_before(&self) -> Manifest {
        let mut kept = self.before.clone();
        if self.beside_others {
            return kept;
        }
        kept.files.retain(|name, _| {
            matches!(
                self.known.standing(&self.folder, name),
                Ok(Standing::Changed(_))
            )
        });
        kept
    }

    fn rename_all(&self) -> Result<(), Box<Problem>> {
        let mut done = self.before.clone();
        for (name, hash) in &self.staged.files {
            if let Err(problem) = self.rename(name) {
                // What is in place already stays ours: the list says so, as far as that still works.
                let _ = self.write_list(&done).and_then(|()| self.rename(MANIFEST));
                return Err(problem);
            }
            done.files.insert(name.clone(), hash.clone());
        }
        Ok(())
    }

    fn remove_leftovers(&mut self, list: &Manifest) {
        if self.beside_others {
            return;
        }
        let earlier: Vec<String> = self.known.names().map(str::to_owned).collect();
        for name in earlier {
            if self.staged.files.contains_key(&name) {
                continue;
            }
            let path = self.folder.join(&name);
            let notice = if list.files.contains_key(&name) {
                Problem::notice(format!(
                    "{name} is of an earlier run and was changed since, so it is left as it is"
                ))
            } else if self.known.standing(&self.folder, &name).ok() == Some(Standing::Ours) {
                match fs::remove_file(&path) {
                    Ok(()) => Problem::notice(format!("removed {name} of an earlier run")),
                    Err(error) => failed("remove", &path, &error),
                }
            } else {
                continue;
            };
            self.notices
                .push(notice.place(self.folder.display().to_string()));
        }
    }

    fn write_list(&self, list: &Manifest) -> Result<(), Box<Problem>> {
        let path = self.temporary.path().join(MANIFEST);
        let bytes = list
            .to_bytes()
            .map_err(|e| Box::new(failed("write", &path, &e)))?;
        write_through(&path, &bytes)
    }

    fn rename(&self, name: &str) -> Result<(), Box<Problem>> {
        let to = self.folder.join(name);
        fs::rename(self.temporary.path().join(name), &to)
            .map_err(|e| Box::new(failed("replace", &to, &e)))
    }
}

/// What this program wrote in `folder`, by its list and by what a run that was cut short was about to
/// write; the list; and what there is to tell.
fn known_hashes(folder: &Path) -> (KnownHashes, Manifest, Vec<Problem>) {
    let mut known = KnownHashes::default();
    let mut problems = Vec::new();
    let before = Manifest::read(folder).unwrap_or_else(|error| {
        let text = format!("the list of earlier outputs cannot be read ({error}), so none counts as written by this program");
        problems.push(Problem::notice(text).place(folder.join(MANIFEST).display().to_string()));
        Manifest::default()
    });
    known.learn(&before);
    for staging in staging_folders(folder) {
        if is_alive(&staging) {
            problems.push(
                Problem::file("another run is writing to the same output folder")
                    .place(folder.display().to_string())
                    .hint("wait until it is done, or give another folder with --out"),
            );
        } else if let Ok(intended) = Manifest::read(&staging) {
            known.learn(&intended);
        }
    }
    (known, before, problems)
}

fn staging_folders(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut found: Vec<PathBuf> = entries
        .flatten()
        .filter(|e| e.file_name().to_string_lossy().starts_with(STAGING))
        // A link is not ours, and following it could lead out of the folder.
        .filter(|e| e.file_type().is_ok_and(|kind| kind.is_dir()))
        .map(|e| e.path())
        .collect();
    found.sort();
    found
}

/// Whether the run that made a staging folder still holds its lock.
fn is_alive(staging: &Path) -> bool {
    let Ok(file) = OpenOptions::new().write(true).open(staging.join(LOCK)) else {
        return false;
    };
    matches!(file.try_lock(), Err(TryLockError::WouldBlock))
}

fn lock(staging: &Path) -> Result<Option<File>, Box<Problem>> {
    let path = staging.join(LOCK);
    let file = File::create(&path).map_err(|e| Box::new(failed("create", &path, &e)))?;
    // Some network drives know no locks; there, two runs at once are not told apart.
    Ok(file.try_lock().is_ok().then_some(file))
}

/// Removes what dead runs left.
fn sweep(folder: &Path) -> Result<Option<Problem>, Box<Problem>> {
    let stale = staging_folders(folder);
    for staging in &stale {
        fs::remove_dir_all(staging).map_err(|e| Box::new(failed("remove", staging, &e)))?;
    }
    let notice = Problem::notice("an earlier run was cut short; what it left behind is removed")
        .place(folder.display().to_string());
    Ok((!stale.is_empty()).then_some(notice))
}

/// Why the output `name` cannot be replaced, if so.
fn obstacle(
    folder: &Path,
    name: &str,
    known: &KnownHashes,
    replacing: Replacing,
) -> Option<Problem> {
    let path = folder.join(name);
    let place = path.display().to_string();
    let standing = match known.standing(folder, name) {
        Ok(standing) => standing,
        Err(error) => return Some(failed("read", &path, &error)),
    };
    let is_protected = replacing == Replacing::Ours;
    match standing {
        Standing::Absent => None,
        Standing::Folder => {
            let sentence = format!("there is a folder named {name} where an output goes");
            Some(Problem::file(sentence).place(place))
        }
        Standing::Changed(_) if is_protected => {
            let why = "was changed since this program wrote it";
            Some(refused(name, &place, why))
        }
        Standing::Foreign(_) if is_protected => {
            Some(refused(name, &place, "was not written by this program"))
        }
        // A link is replaced, not written to, so whether its target opens does not matter.
        Standing::Foreign(hash) if hash.is_empty() => None,
        Standing::Ours | Standing::Changed(_) | Standing::Foreign(_) => held_open(&path),
    }
}

fn refused(name: &str, place: &str, why: &str) -> Problem {
    let hint = if name.to_lowercase().ends_with(".xlsx") {
        format!(
            "read it back as a job with: loamwright estimate \"{place}\"; or replace it with --force; or give another folder with --out"
        )
    } else {
        "replace it with --force, or give another folder with --out".to_owned()
    };
    Problem::file(format!("{name} {why}, so it is not replaced"))
        .place(place)
        .hint(hint)
}

/// On some systems a file that another program has open cannot be replaced.
fn held_open(path: &Path) -> Option<Problem> {
    let error = OpenOptions::new().write(true).open(path).err()?;
    Some(
        failed("open for writing", path, &error)
            .hint("close it where it is open, or allow writing"),
    )
}

fn write_through(path: &Path, bytes: &[u8]) -> Result<(), Box<Problem>> {
    let write = || -> io::Result<()> {
        let mut file = File::create(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    };
    write().map_err(|e| Box::new(failed("write", path, &e)))
}

/// Makes the renames last through a power cut, where the system lets folders be flushed.
fn flush_folder(folder: &Path) {
    if let Ok(handle) = File::open(folder) {
        let _ = handle.sync_all();
    }
}

fn is_plain(name: &str) -> bool {
    let mut parts = Path::new(name).components();
    let is_single = matches!(
        (parts.next(), parts.next()),
        (Some(Component::Normal(_)), None)
    );
    is_single && !name.starts_with('.') && !name.contains(['/', '\\', ':']) && name != LOCK
}

fn failed(verb: &str, path: &Path, error: &io::Error) -> Problem {
    Problem::file(format!("cannot {verb} {}: {error}", path.display()))
}

#[cfg(test)]
#[path = "stage_tests.rs"]
mod tests;
