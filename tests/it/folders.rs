//! Folders and files of the repository.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// A path below the root of the repository.
pub(crate) fn root(below: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(below)
}

/// The folders in a folder, by name.
pub(crate) fn folders_in(folder: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap_or_else(|e| panic!("{}: {e}", folder.display()))
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    found.sort();
    found
}

/// All files below a folder with their bytes, by their path in it.
pub(crate) fn files_below(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut files = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(&next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_owned();
                files.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    files
}

/// The last part of a path.
pub(crate) fn name_of(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}
