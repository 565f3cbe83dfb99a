//! Plays invented people and prints how near the truth the core comes.
//!
//! `accuracy [--people N] [--first SEED] [--threads N] [--json FILE]`

use checks::accuracy::people;
use checks::accuracy::report::report;
use std::process::ExitCode;

/// What was asked for.
struct Wish {
    people: u64,
    first: u64,
    threads: usize,
    json: Option<String>,
}

fn read(words: &[String]) -> Result<Wish, String> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let mut wish = Wish { people: 300, first: 0, threads, json: None };
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let value = words.next().ok_or_else(|| format!("`{word}` wants a value"))?;
        let number = || value.parse::<u64>().map_err(|_| format!("`{value}` is no number"));
        match word.as_str() {
            "--people" => wish.people = number()?,
            "--first" => wish.first = number()?,
            "--threads" => wish.threads = number()? as usize,
            "--json" => wish.json = Some(value.clone()),
            other => return Err(format!("`{other}` is not known")),
        }
    }
    Ok(wish)
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let wish = match read(&words) {
        Ok(wish) => wish,
        Err(why) => {
            eprintln!("{why}; accuracy [--people N] [--first SEED] [--threads N] [--json FILE]");
            return ExitCode::FAILURE;
        }
    };
    let every = (wish.people / 10).max(1);
    let told = |done: u64| {
        if done % every == 0 {
            eprintln!("{done} of {}", wish.people);
        }
    };
    let report = report(&people(wish.first, wish.people, wish.threads, &told));
    print!("{}", report.table());
    if let Some(path) = wish.json
        && let Err(error) = std::fs::write(&path, report.file())
    {
        eprintln!("{path}: {error}");
        return ExitCode::FAILURE;
    }
    if report.holds() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
