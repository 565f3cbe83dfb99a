//! The everyday screens speak in plain words: a researcher's words stand on the researcher's page
//! and behind "interval, method and basis" only.
#![allow(clippy::expect_used, reason = "tests")]

use std::fs;
use std::path::{Path, PathBuf};

/// The catalogues of these are a step away from the everyday screens.
const RESEARCHERS: [&str; 2] = ["details.rs", "method.rs"];

/// Words that nobody should have to know to fit a stick; in small letters, parts of words too.
const TOO_LEARNED: [&str; 37] = [
    "percentile",
    "quantile",
    "standard deviation",
    "standard error",
    "variance",
    "covariance",
    "spectrum",
    "spectra",
    "bootstrap",
    "jackknife",
    "confidence interval",
    "95 % interval",
    "poisson",
    "chi-square",
    "student’s t",
    "gaussian",
    "normal distribution",
    "regression",
    "least squares",
    "correlation",
    "hypothesis",
    "p-value",
    "significan",
    "degrees of freedom",
    "autoregressive",
    "stochastic",
    "estimator",
    "likelihood",
    "low-pass",
    "cutoff",
    "fourier",
    "power law",
    "polar decomposition",
    "throughput",
    "amplitude",
    "tail of the",
    "gaps over",
];

fn words() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../app/page/src/words")
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the catalogue") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files(&path, found);
        } else {
            found.push(path);
        }
    }
}

/// The texts of a source: what stands between quotation marks, outside comments, its broken lines
/// joined.
fn texts(source: &str) -> Vec<String> {
    let code: Vec<&str> =
        source.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
    let code = code.join("\n");
    let mut texts = Vec::new();
    let mut characters = code.chars().peekable();
    while let Some(character) = characters.next() {
        // A quotation mark as a character of its own opens no text.
        if character == '\'' && characters.peek() == Some(&'"') {
            characters.next();
            continue;
        }
        if character != '"' {
            continue;
        }
        let mut text = String::new();
        while let Some(inner) = characters.next() {
            match inner {
                '"' => break,
                '\\' => match characters.next() {
                    Some('\n') => {
                        while characters.peek().is_some_and(|next| next.is_whitespace()) {
                            characters.next();
                        }
                    }
                    Some('u') => {
                        // `\u{a0}` and the like: spaces that do not break.
                        while characters.next().is_some_and(|next| next != '}') {}
                        text.push(' ');
                    }
                    Some(other) => text.push(other),
                    None => break,
                },
                other => text.push(other),
            }
        }
        texts.push(text);
    }
    texts
}

/// A text without the names of what is put into it.
fn without_placeholders(text: &str) -> String {
    let mut plain = String::new();
    let mut depth = 0;
    for character in text.chars() {
        match character {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ if depth == 0 => plain.push(character),
            _ => {}
        }
    }
    plain
}

#[test]
fn texts_are_found_where_they_stand() {
    let source = "// \"a percentile\"\nconst A: &str = \"one \\\n    two\\u{a0}three \\\"four\\\"\";\nlet b = ('\"', \"five\");";
    assert_eq!(texts(source), ["one two three \"four\"", "five"]);
}

#[test]
fn everyday_words_are_plain() {
    let mut found = Vec::new();
    files(&words(), &mut found);
    assert!(found.len() > 20, "{} files", found.len());
    let mut seen = 0;
    let mut learned = Vec::new();
    for path in found {
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
        let source = fs::read_to_string(&path).expect("a source");
        if RESEARCHERS.contains(&name) {
            continue;
        }
        for text in texts(&source) {
            seen += 1;
            let small = without_placeholders(&text).to_lowercase().replace('\u{a0}', " ");
            for word in TOO_LEARNED.iter().filter(|word| small.contains(**word)) {
                learned.push(format!("{name}: “{word}” in “{text}”"));
            }
        }
    }
    assert!(seen > 500, "{seen} texts");
    assert!(learned.is_empty(), "{}", learned.join("\n"));
}

/// The list finds what it is for: the researcher's page uses many of its words.
#[test]
fn the_researchers_page_would_be_found() {
    let source = fs::read_to_string(words().join("details.rs")).expect("a source");
    let all = texts(&source).join(" ").to_lowercase();
    let used = TOO_LEARNED.iter().filter(|word| all.contains(**word)).count();
    assert!(used >= 8, "{used} words");
}
