//! `cargo xtask size`: what a first visit costs, compressed.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use crate::place;
use crate::trouble::Trouble;

/// The most a first load may weigh, in bytes after brotli (1 kB is 1,000 bytes).
const BUDGET: usize = 200_000;

/// The same for the later part, which is fetched while the person reads the first screen. Planner,
/// set-up, site finder, the ways of asking, everything about devices (report descriptors, raw
/// reports, hosts, the plan of the buttons), and keeping and sharing (packed recordings, codes,
/// pictures, several windows) brought it here; nobody waits for it.
const LATER_BUDGET: usize = 840_000;

/// The styles that boot.js fetches once the first screen is drawn.
const LATER_STYLES: [&str; 6] = [
    "styles/asking.css",
    "styles/devices.css",
    "styles/drawings.css",
    "styles/forced.css",
    "styles/papers.css",
    "styles/sharing.css",
];

/// The script that boot.js fetches after them, and what this one fetches: the worker and the changes.
const LATER_SCRIPTS: [&str; 3] = ["offline.js", "sw.js", "changes.json"];

/// What one file weighs, in bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Weight {
    /// Its path inside dist/.
    name: String,
    raw: usize,
    gzip: usize,
    brotli: usize,
}

/// Prints what each file of the first load and of the later part weighs, and tells whether both
/// keep their budgets.
///
/// # Errors
/// There is no built page.
pub(crate) fn print() -> Result<bool, Trouble> {
    let weights = weigh(&place::dist())?;
    if weights.is_empty() {
        return Err(Trouble::new(
            "There is no built page in dist/ yet.",
            "Run `cargo xtask build` first.",
        ));
    }
    let (later, first): (Vec<_>, Vec<_>) = weights.into_iter().partition(Weight::is_later);
    println!("First load: what the first screens need (program, scripts, styles, page), in bytes:");
    let first = table(&first).brotli;
    println!("Budget after brotli: {BUDGET}, left: {}", left(BUDGET, first));
    println!("Later: fetched by itself once the first screen is drawn, in bytes:");
    let later = table(&later).brotli;
    println!("Budget after brotli: {LATER_BUDGET}, left: {}", left(LATER_BUDGET, later));
    println!("Fonts (two weights, already compressed) and icons come on top, after the text.");
    Ok(first <= BUDGET && later <= LATER_BUDGET)
}

impl Weight {
    fn is_later(&self) -> bool {
        let name = self.name.as_str();
        crate::split::is_later(name)
            || LATER_STYLES.contains(&name)
            || LATER_SCRIPTS.contains(&name)
    }
}

/// Prints a table with its sum, which it gives back.
fn table(weights: &[Weight]) -> Weight {
    println!("{:>10} {:>10} {:>10}  file", "raw", "gzip", "brotli");
    let mut total = Weight { name: "total".to_owned(), raw: 0, gzip: 0, brotli: 0 };
    for weight in weights {
        line(weight);
        total.raw += weight.raw;
        total.gzip += weight.gzip;
        total.brotli += weight.brotli;
    }
    line(&total);
    total
}

fn line(weight: &Weight) {
    println!("{:>10} {:>10} {:>10}  {}", weight.raw, weight.gzip, weight.brotli, weight.name);
}

fn left(budget: usize, brotli: usize) -> String {
    if brotli <= budget {
        format!("{}", budget - brotli)
    } else {
        format!("none, {} too many", brotli - budget)
    }
}

fn weigh(folder: &Path) -> Result<Vec<Weight>, Trouble> {
    let mut weights = Vec::new();
    for file in files(folder) {
        if is_first_load(&file) {
            let bytes = fs::read(&file).map_err(|error| Trouble::file(&file, &error))?;
            let name = file.strip_prefix(folder).unwrap_or(&file).to_string_lossy().into_owned();
            weights.push(Weight {
                name,
                raw: bytes.len(),
                gzip: gzip(&bytes),
                brotli: brotli(&bytes),
            });
        }
    }
    weights.sort_by_key(|weight| std::cmp::Reverse(weight.brotli));
    Ok(weights)
}

fn is_first_load(file: &Path) -> bool {
    matches!(
        file.extension().and_then(|ending| ending.to_str()),
        Some("wasm" | "js" | "css" | "html" | "json")
    )
}

/// Every file below a folder, in order of name.
pub(crate) fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if entry.file_name().to_string_lossy().starts_with('.') {
                continue; // what a build left half-done
            } else if path.is_dir() {
                folders.push(path);
            } else {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn brotli(bytes: &[u8]) -> usize {
    // Quality 11 and a window of 22 bits: what a host that compresses ahead of time uses.
    count(brotli::CompressorReader::new(bytes, 64 * 1024, 11, 22))
}

fn gzip(bytes: &[u8]) -> usize {
    count(flate2::read::GzEncoder::new(bytes, flate2::Compression::best()))
}

fn count(mut reader: impl Read) -> usize {
    let mut sink = Vec::new();
    // Reading from memory cannot fail.
    reader.read_to_end(&mut sink).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn repeated_text_shrinks_and_can_be_read_back() {
        let text = "dead zone ".repeat(1000);
        let mut packed = Vec::new();
        brotli::CompressorReader::new(text.as_bytes(), 4096, 11, 22)
            .read_to_end(&mut packed)
            .unwrap();
        assert_eq!(packed.len(), brotli(text.as_bytes()));
        let mut back = String::new();
        brotli::Decompressor::new(packed.as_slice(), 4096).read_to_string(&mut back).unwrap();
        assert_eq!(back, text);
        assert!(gzip(text.as_bytes()) < 200);
    }

    #[test]
    fn fonts_and_icons_are_not_counted_and_programs_are() {
        assert!(is_first_load(Path::new("page_bg.wasm")));
        assert!(is_first_load(Path::new("styles/page.css")));
        assert!(!is_first_load(Path::new("fonts/a.woff2")));
        assert!(!is_first_load(Path::new("icons/icon.svg")));
    }

    /// What is counted as later is what boot.js fetches, and nothing that index.html does.
    #[test]
    fn later_styles_are_those_that_are_fetched_later() {
        let boot = include_str!("../../public/boot.js");
        let index = include_str!("../../public/index.html");
        for style in LATER_STYLES {
            let name = style.strip_prefix("styles/").and_then(|name| name.strip_suffix(".css"));
            assert!(boot.contains(&format!("\"{}\"", name.unwrap())), "{style}");
            assert!(!index.contains(style), "{style}");
        }
    }

    #[test]
    fn later_scripts_are_those_that_are_fetched_later() {
        let boot = include_str!("../../public/boot.js");
        let offline = include_str!("../../public/offline.js");
        let index = include_str!("../../public/index.html");
        let [first, rest @ ..] = LATER_SCRIPTS;
        assert!(boot.contains(&format!("import(\"./{first}\")")));
        for name in rest {
            assert!(offline.contains(&format!("new URL(\"{name}\", import.meta.url)")), "{name}");
        }
        for script in LATER_SCRIPTS {
            assert!(!index.contains(&format!("src=\"{script}\"")), "{script}");
        }
    }

    #[test]
    fn what_is_left_of_the_budget_is_said() {
        assert_eq!(left(BUDGET, BUDGET), "0");
        assert_eq!(left(BUDGET, BUDGET + 3), "none, 3 too many");
    }
}
