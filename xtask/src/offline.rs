//! The list of files with which the built page works offline: `cargo xtask list-files [DIR]`.
//!
//! The worker (`public/sw.js`) is put beside the files with their hashes written in. Its version is
//! the hash of that list, so it changes exactly when a file does.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use sha2::{Digest, Sha256};

use crate::place;
use crate::size;
use crate::trouble::Trouble;

/// The worker's own name; it is in no list, for the browser itself asks whether it is new.
const WORKER: &str = "sw.js";
/// The two lines of the worker that are written anew.
const NO_VERSION: &str = "const VERSION = \"\";";
const NO_FILES: &str = "const FILES = {};";
/// Characters of a version.
const VERSION_LENGTH: usize = 16;

/// Writes the worker with the list of a folder into it; gives its version.
///
/// # Errors
/// A file cannot be read or written, or the worker has no place for the list.
pub(crate) fn list(folder: &Path) -> Result<String, Trouble> {
    let mut files = BTreeMap::new();
    for file in size::files(folder) {
        let name = file.strip_prefix(folder).unwrap_or(&file).to_string_lossy().replace('\\', "/");
        if name != WORKER {
            let bytes = fs::read(&file).map_err(|error| Trouble::file(&file, &error))?;
            files.insert(name, hash(&bytes));
        }
    }
    if !files.contains_key("index.html") {
        return Err(Trouble::new(
            format!("There is no built page in {}.", place::short(folder)),
            "Run `cargo xtask build` first.",
        ));
    }
    let template = place::root().join("public").join(WORKER);
    let text = fs::read_to_string(&template).map_err(|error| Trouble::file(&template, &error))?;
    let (worker, version) = filled(&text, &files)?;
    let path = folder.join(WORKER);
    fs::write(&path, worker).map_err(|error| Trouble::file(&path, &error))?;
    println!("{} files are kept for use offline, version {version}.", files.len());
    Ok(version)
}

/// The worker's text with a list, and the list's version.
fn filled(text: &str, files: &BTreeMap<String, String>) -> Result<(String, String), Trouble> {
    if text.matches(NO_VERSION).count() != 1 || text.matches(NO_FILES).count() != 1 {
        return Err(Trouble::new(
            format!("public/{WORKER} has no place for its version or its list of files."),
            format!("It needs the lines `{NO_VERSION}` and `{NO_FILES}`, once each."),
        ));
    }
    let list = serde_json::to_string_pretty(files).map_err(|error| {
        Trouble::new(format!("The list of files cannot be written: {error}."), "")
    })?;
    let version: String = hash(list.as_bytes()).chars().take(VERSION_LENGTH).collect();
    let text = text
        .replace(NO_VERSION, &format!("const VERSION = \"{version}\";"))
        .replace(NO_FILES, &format!("const FILES = {list};"));
    Ok((text, version))
}

/// SHA-256 in hexadecimal digits.
fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn template() -> String {
        fs::read_to_string(place::root().join("public").join(WORKER)).unwrap()
    }

    fn files(list: &[(&str, &str)]) -> BTreeMap<String, String> {
        list.iter().map(|(name, text)| ((*name).to_owned(), hash(text.as_bytes()))).collect()
    }

    #[test]
    fn a_hash_is_the_published_one() {
        // FIPS 180-2, appendix B.1.
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(hash(b"abc"), abc);
    }

    #[test]
    fn the_version_changes_with_any_file_and_with_nothing_else() {
        let of = |list| filled(&template(), &files(list)).unwrap().1;
        let first = of(&[("index.html", "a"), ("boot.js", "b")]);
        assert_eq!(first, of(&[("boot.js", "b"), ("index.html", "a")]));
        assert_ne!(first, of(&[("boot.js", "c"), ("index.html", "a")]));
        assert_ne!(first, of(&[("boot2.js", "b"), ("index.html", "a")]));
        assert_eq!(first.len(), VERSION_LENGTH);
    }

    #[test]
    fn the_worker_has_a_place_for_its_list() {
        let (worker, version) = filled(&template(), &files(&[("index.html", "a")])).unwrap();
        assert!(worker.contains(&format!("const VERSION = \"{version}\";")));
        assert!(worker.contains("\"index.html\": \"ca978112ca1bbdca"));
        assert!(filled(&worker, &files(&[])).is_err(), "filled once, not twice");
    }

    #[test]
    fn a_folder_is_listed_without_the_worker_and_hidden_files() {
        let folder = std::env::temp_dir().join(format!("xtask-offline-{}", std::process::id()));
        fs::create_dir_all(folder.join("styles")).unwrap();
        assert!(list(&folder).is_err(), "no page in it");
        for name in ["index.html", "styles/base.css", ".stage"] {
            fs::write(folder.join(name), name).unwrap();
        }
        let version = list(&folder).unwrap();
        // The second time the worker lies there already.
        assert_eq!(list(&folder).unwrap(), version);
        let worker = fs::read_to_string(folder.join(WORKER)).unwrap();
        assert!(worker.contains("\"styles/base.css\""));
        assert!(!worker.contains(".stage") && !worker.contains("\"sw.js\":"));
        fs::remove_dir_all(&folder).unwrap();
    }
}
