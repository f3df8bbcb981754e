//! The list of outputs with hashes of what was written: it tells our files from the user's.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// Name of the list in the output folder.
pub const MANIFEST: &str = ".loamwright.json";

/// Files by name, each with the SHA-256 of what this program wrote.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    /// Which program's list it is.
    #[serde(default)]
    pub written_by: String,
    /// File name of the job that the outputs are of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub job: Option<String>,
    /// File name to hash, in order of name.
    pub files: BTreeMap<String, String>,
}

impl Manifest {
    /// The list in `folder`; an empty one when there is none.
    ///
    /// # Errors
    /// When there is one that cannot be read or understood.
    pub fn read(folder: &Path) -> io::Result<Self> {
        let mut text = String::new();
        match File::open(folder.join(MANIFEST)) {
            Ok(mut file) => file.read_to_string(&mut text)?,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(error) => return Err(error),
        };
        serde_json::from_str(&text).map_err(io::Error::from)
    }

    /// The list as a file.
    ///
    /// # Errors
    /// Never in practice: names and hashes are plain text.
    pub fn to_bytes(&self) -> io::Result<Vec<u8>> {
        let named = Self {
            written_by: "loamwright".to_owned(),
            job: self.job.clone(),
            files: self.files.clone(),
        };
        let mut text = serde_json::to_string_pretty(&named)?;
        text.push('\n');
        Ok(text.into_bytes())
    }
}

/// The hashes that this program is known to have written under each name. A run that was cut short
/// adds a second one: what it was about to write.
#[derive(Clone, Debug, Default)]
pub struct KnownHashes(BTreeMap<String, BTreeSet<String>>);

impl KnownHashes {
    /// Adds what a list says.
    pub fn learn(&mut self, manifest: &Manifest) {
        for (name, hash) in &manifest.files {
            self.0.entry(name.clone()).or_default().insert(hash.clone());
        }
    }

    /// How the file of this name in `folder` stands to us.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn standing(&self, folder: &Path, name: &str) -> io::Result<Standing> {
        let path = folder.join(name);
        let meta = match path.symlink_metadata() {
            Ok(meta) => meta,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Standing::Absent),
            Err(error) => return Err(error),
        };
        if meta.is_dir() {
            return Ok(Standing::Folder);
        }
        if !meta.is_file() {
            return Ok(Standing::Foreign(String::new()));
        }
        let hash = hash_of_file(&path)?;
        Ok(match self.0.get(name) {
            None => Standing::Foreign(hash),
            Some(known) if known.contains(&hash) => Standing::Ours,
            Some(_) => Standing::Changed(hash),
        })
    }

    /// The names that this program wrote.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }
}

/// How a file in the output folder stands to this program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// There is none.
    Absent,
    /// As this program wrote it.
    Ours,
    /// Written by this program, and changed since; its hash now.
    Changed(String),
    /// Written by somebody else; its hash, empty for a link or a device.
    Foreign(String),
    /// A folder of that name.
    Folder,
}

/// SHA-256 of some bytes, in hexadecimal.
pub fn hash_of(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

fn hash_of_file(path: &Path) -> io::Result<String> {
    let mut hasher = Sha256::new();
    io::copy(&mut File::open(path)?, &mut hasher)?;
    Ok(hexadecimal(&hasher.finalize()))
}

fn hexadecimal(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    bytes
        .iter()
        .fold(String::from("sha256:"), |mut text, byte| {
            // Writing to a string cannot fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hashes_are_those_of_the_standard() {
        // FIPS 180-4, example for the three bytes "abc".
        assert_eq!(
            hash_of(b"abc"),
            "sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    #[test]
    fn a_list_reads_back_and_is_in_order_of_name() {
        let mut list = Manifest::default();
        list.files.insert("b.json".into(), hash_of(b"2"));
        list.files.insert("a.json".into(), hash_of(b"1"));
        let text = String::from_utf8(list.to_bytes().unwrap()).unwrap();
        assert!(text.find("a.json") < text.find("b.json"));
        let back: Manifest = serde_json::from_str(&text).unwrap();
        assert_eq!(back.files, list.files);
    }
}
