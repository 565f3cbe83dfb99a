//! A mark of the source that a proof speaks of: a proof is as fresh as the source it was made with.

use std::fs;
use std::path::PathBuf;

use sha2::{Digest, Sha256};

use crate::place;
use crate::size::files;
use crate::trouble::Trouble;

/// What the built page is made of.
const PAGE: &[&str] = &["app/fitting", "app/device", "app/page"];

/// What each part of `cargo xtask prove` speaks of: the crates that it runs, and, where the figures
/// depend on how truth is told, the folder that tells it.
pub(crate) const COVERS: [(&str, &[&str]); 11] = [
    ("properties", &["app/fitting", "app/device", "app/analysis"]),
    ("capture", PAGE),
    ("plans", PAGE),
    ("kills", PAGE),
    ("accuracy", &["app/fitting", "tests/src/accuracy"]),
    ("fuzz", &["app/fitting"]),
    ("descriptors", &["app/fitting", "app/device"]),
    ("outside", &["app/fitting"]),
    ("scale", PAGE),
    ("firefox", PAGE),
    ("device", PAGE),
];

/// The folders that a part speaks of: of a part that is not listed, the page with all it rests on.
pub(crate) fn covers(part: &str) -> &'static [&'static str] {
    COVERS.iter().find(|(name, _)| *name == part).map_or(PAGE, |(_, folders)| folders)
}

/// The mark of the source that a part speaks of, as it stands: the first 16 hexadecimal digits of
/// SHA-256 over the names and contents of every source file of the folders it [`covers`], in order
/// of name. Other files (kept failures of property tests) change nothing that is computed.
///
/// # Errors
/// A file cannot be read.
pub(crate) fn mark_of(part: &str) -> Result<String, Trouble> {
    let folders: Vec<PathBuf> =
        covers(part).iter().map(|folder| place::root().join(folder)).collect();
    hash(&folders)
}

fn hash(folders: &[PathBuf]) -> Result<String, Trouble> {
    let mut sum = Sha256::new();
    let source = |file: &PathBuf| {
        file.extension().is_some_and(|ending| ending == "rs") || file.ends_with("Cargo.toml")
    };
    for folder in folders {
        for file in files(folder).into_iter().filter(source) {
            let bytes = fs::read(&file).map_err(|error| Trouble::file(&file, &error))?;
            let name = file.strip_prefix(folder).unwrap_or(&file).to_string_lossy();
            let name = name.replace('\\', "/");
            // Lengths in between, so that no two sets of files run together to the same bytes.
            sum.update(format!("{} {name} {}\n", name.len(), bytes.len()));
            sum.update(&bytes);
        }
    }
    let digits: String = sum.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    Ok(digits)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mark_changes_with_names_and_contents_and_only_then() {
        let folder = std::env::temp_dir().join(format!("xtask-hash-{}", std::process::id()));
        let hash = |folder: &PathBuf| hash(std::slice::from_ref(folder));
        fs::create_dir_all(folder.join("src")).unwrap();
        fs::write(folder.join("src/lib.rs"), "one").unwrap();
        let first = hash(&folder).unwrap();
        assert_eq!(first.len(), 16);
        assert_eq!(hash(&folder).unwrap(), first);
        fs::write(folder.join("src/lib.rs"), "two").unwrap();
        let second = hash(&folder).unwrap();
        assert_ne!(second, first);
        fs::write(folder.join("notes.txt"), "no source").unwrap();
        assert_eq!(hash(&folder).unwrap(), second);
        fs::rename(folder.join("src/lib.rs"), folder.join("src/main.rs")).unwrap();
        assert_ne!(hash(&folder).unwrap(), second);
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn what_is_proved_with_the_page_is_marked_by_the_page_too() {
        assert_ne!(mark_of("device").unwrap(), mark_of("outside").unwrap());
        assert_ne!(mark_of("descriptors").unwrap(), mark_of("outside").unwrap());
        assert_eq!(mark_of("scale").unwrap(), mark_of("capture").unwrap());
    }
}
