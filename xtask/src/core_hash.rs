//! A mark of the computing core's source: a proof is as fresh as the core it was made with.

use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::place;
use crate::size::files;
use crate::trouble::Trouble;

/// The mark of the core as it stands: the first 16 hexadecimal digits of SHA-256 over the names
/// and contents of every source file of `app/fitting`, in order of name. Other files (kept failures
/// of property tests) change nothing that is computed.
///
/// # Errors
/// A file cannot be read.
pub(crate) fn core_hash() -> Result<String, Trouble> {
    hash(&place::root().join("app/fitting"))
}

fn hash(folder: &Path) -> Result<String, Trouble> {
    let mut sum = Sha256::new();
    let source = |file: &PathBuf| {
        file.extension().is_some_and(|ending| ending == "rs") || file.ends_with("Cargo.toml")
    };
    for file in files(folder).into_iter().filter(source) {
        let bytes = fs::read(&file).map_err(|error| Trouble::file(&file, &error))?;
        let name = file.strip_prefix(folder).unwrap_or(&file).to_string_lossy().replace('\\', "/");
        // Lengths in between, so that no two sets of files run together to the same bytes.
        sum.update(format!("{} {name} {}\n", name.len(), bytes.len()));
        sum.update(&bytes);
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
}
