//! Files and folders that must not be there yet: they appear whole, or not at all, and replace nothing.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::problem::Problem;

/// How what is being written is called, before six random letters.
const STAGING: &str = ".staging-";

/// Writes a new file.
///
/// # Errors
/// When something of that name is there, or the file cannot be written.
pub fn file(path: &Path, bytes: &[u8]) -> Result<(), Box<Problem>> {
    let write = || -> io::Result<()> {
        let mut staged = tempfile::Builder::new()
            .prefix(STAGING)
            // Made as any other file is, so that others may read it as they may read the rest.
            .make_in(beside(path), |at| File::create_new(at))?;
        staged.write_all(bytes)?;
        staged.as_file().sync_all()?;
        staged.persist_noclobber(path)?;
        Ok(())
    };
    written(path, write)
}

/// Writes a new folder of files, each with its name.
///
/// # Errors
/// When something of that name is there, or a file of it cannot be written.
pub fn folder(path: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Box<Problem>> {
    let write = || -> io::Result<()> {
        let staging = tempfile::Builder::new()
            .prefix(STAGING)
            .tempdir_in(beside(path))?;
        let inside = staging.path().join("new");
        fs::create_dir(&inside)?;
        for (name, bytes) in files {
            let mut file = File::create_new(inside.join(name))?;
            file.write_all(bytes)?;
            file.sync_all()?;
        }
        fs::rename(&inside, path)
    };
    written(path, write)
}

fn written(path: &Path, write: impl FnOnce() -> io::Result<()>) -> Result<(), Box<Problem>> {
    // A link that leads nowhere is something, too.
    if path.symlink_metadata().is_ok() {
        return Err(Box::new(taken(path)));
    }
    write().map_err(|error| {
        Box::new(match error.kind() {
            io::ErrorKind::AlreadyExists => taken(path),
            io::ErrorKind::NotFound => Problem::file(format!(
                "cannot write {}: its folder does not exist",
                path.display()
            ))
            .hint("make the folder first, or give a name without one"),
            _ => Problem::file(format!("cannot write {}: {error}", path.display())),
        })
    })
}

fn beside(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}

fn taken(path: &Path) -> Problem {
    Problem::file("there is something of that name already, and it is not replaced")
        .place(path.display().to_string())
        .hint("pick another name")
}

#[cfg(test)]
#[allow(
    clippy::disallowed_methods,
    reason = "tests make the files that stand in the way"
)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let name = |e: io::Result<fs::DirEntry>| e.unwrap().file_name().into_string().unwrap();
        let mut names: Vec<String> = entries.map(name).collect();
        names.sort();
        names
    }

    fn two() -> Vec<(String, Vec<u8>)> {
        let named = |name: &str| (name.to_owned(), name.as_bytes().to_vec());
        vec![named("Beds.csv"), named("Job.csv")]
    }

    #[test]
    fn a_new_file_and_a_new_folder_appear_whole_and_alone() {
        let root = tempfile::tempdir().unwrap();
        file(&root.path().join("a.xlsx"), b"one").unwrap();
        folder(&root.path().join("b"), &two()).unwrap();
        assert_eq!(names(root.path()), ["a.xlsx", "b"]);
        assert_eq!(fs::read(root.path().join("a.xlsx")).unwrap(), b"one");
        assert_eq!(names(&root.path().join("b")), ["Beds.csv", "Job.csv"]);
    }

    #[test]
    fn nothing_is_replaced_not_even_an_empty_folder() {
        let root = tempfile::tempdir().unwrap();
        let at = root.path().join("a.xlsx");
        fs::write(&at, b"mine").unwrap();
        let empty = root.path().join("empty");
        fs::create_dir(&empty).unwrap();
        for path in [&at, &empty] {
            for told in [file(path, b"new"), folder(path, &two())] {
                let problem = told.unwrap_err();
                assert!(problem.sentence.contains("not replaced"));
                assert_eq!(problem.hint.as_deref(), Some("pick another name"));
            }
        }
        assert_eq!(fs::read(&at).unwrap(), b"mine");
        assert!(names(&empty).is_empty());
        assert_eq!(names(root.path()), ["a.xlsx", "empty"]);
    }

    #[test]
    fn a_folder_that_is_not_there_is_named() {
        let root = tempfile::tempdir().unwrap();
        for told in [
            file(&root.path().join("gone/a.xlsx"), b"x"),
            folder(&root.path().join("gone/a"), &two()),
        ] {
            let problem = told.unwrap_err();
            assert!(problem.sentence.contains("its folder does not exist"));
        }
        assert!(names(root.path()).is_empty());
    }
}
