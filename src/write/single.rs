//! A single file that appears whole or not at all, where a path and no folder of outputs is given.

use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::Path;

use super::stage::Replacing;
use crate::problem::Problem;

/// Puts `bytes` into the file at `path`, whose folder is made when there is none.
///
/// A file that is there already stays as it is, unless it holds the very same bytes, or `replacing`
/// says that everything may go.
///
/// # Errors
/// When the file is there and may not be replaced, or something cannot be written.
pub fn put(path: &Path, bytes: &[u8], replacing: Replacing) -> Result<(), Box<Problem>> {
    let failed = |verb: &str, error: &io::Error| {
        Box::new(Problem::file(format!(
            "cannot {verb} {}: {error}",
            path.display()
        )))
    };
    if holds(path, bytes) {
        return Ok(());
    }
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    fs::create_dir_all(folder).map_err(|e| failed("make the folder of", &e))?;
    // In the same folder, since a file cannot be renamed from one disk to another.
    let temporary = tempfile::Builder::new()
        .prefix(".staging-")
        // Made as any other file is, so that whoever may read the rest may read it.
        .make_in(folder, |at| File::create_new(at));
    let mut file = temporary.map_err(|e| failed("write", &e))?;
    let written = file.write_all(bytes);
    let flushed = written.and_then(|()| file.as_file().sync_all());
    flushed.map_err(|e| failed("write", &e))?;
    let placed = match replacing {
        Replacing::Everything => file.persist(path),
        Replacing::Ours => file.persist_noclobber(path),
    };
    match placed {
        Ok(_) => Ok(()),
        Err(e) if e.error.kind() == io::ErrorKind::AlreadyExists => Err(Box::new(taken(path))),
        Err(e) => Err(failed("replace", &e.error)),
    }
}

fn taken(path: &Path) -> Problem {
    Problem::file(format!(
        "{} is there already, so it is not replaced",
        path.display()
    ))
    .hint("replace it with --force, or give another name with --out")
}

fn holds(path: &Path, bytes: &[u8]) -> bool {
    let mut found = Vec::new();
    let read = File::open(path).and_then(|mut file| file.read_to_end(&mut found));
    read.is_ok() && found == bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_there_stays_unless_it_may_go() {
        let root = tempfile::tempdir().unwrap();
        let path = root.path().join("new").join("page.csv");
        put(&path, b"first", Replacing::Ours).unwrap();
        // The same bytes again are no loss to anybody.
        put(&path, b"first", Replacing::Ours).unwrap();
        let refused = put(&path, b"second", Replacing::Ours).unwrap_err();
        assert!(refused.sentence.ends_with("is not replaced"));
        assert_eq!(fs::read(&path).unwrap(), b"first");
        put(&path, b"second", Replacing::Everything).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        let left = fs::read_dir(path.parent().unwrap()).unwrap();
        assert_eq!(left.count(), 1, "no temporary file is left");
    }
}
