//! Plays invented people and prints how near the truth the core comes.
//!
//! `accuracy [--people N] [--seeds tuning|reporting] [--first SEED] [--threads N] [--json FILE]
//! [--cases FILE]`
//!
//! `--seeds` says which people: those that everything was set on (as it is without), or those that
//! nothing was set on; `--first` begins with this person of either.
//! `--json` keeps the result; `--cases` keeps every single figure beside its truth as CSV, for
//! looking into a bar that is missed.

use checks::accuracy::people;
use checks::accuracy::person::Person;
use checks::accuracy::report::report;
use checks::accuracy::seeds::Seeds;
use std::process::ExitCode;

/// What was asked for.
struct Wish {
    people: u64,
    seeds: Seeds,
    first: u64,
    threads: usize,
    json: Option<String>,
    cases: Option<String>,
}

fn read(words: &[String]) -> Result<Wish, String> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let seeds = Seeds::Tuning;
    let first = seeds.people().start;
    let mut wish = Wish { people: 300, seeds, first, threads, json: None, cases: None };
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let value = words.next().ok_or_else(|| format!("`{word}` wants a value"))?;
        let number = || value.parse::<u64>().map_err(|_| format!("`{value}` is no number"));
        match word.as_str() {
            "--people" => wish.people = number()?,
            "--seeds" => {
                wish.seeds = Seeds::of_code(value).ok_or_else(|| format!("`{value}` is no set"))?;
                wish.first = wish.seeds.people().start;
            }
            "--first" => {
                wish.first = number()?;
                wish.seeds =
                    Seeds::of_seed(wish.first).ok_or_else(|| format!("`{value}` is in no set"))?;
            }
            "--threads" => wish.threads = number()? as usize,
            "--json" => wish.json = Some(value.clone()),
            "--cases" => wish.cases = Some(value.clone()),
            other => return Err(format!("`{other}` is not known")),
        }
    }
    if wish.first.saturating_add(wish.people) > wish.seeds.people().end {
        return Err(format!("there are not so many people in `{}`", wish.seeds.code()));
    }
    Ok(wish)
}

/// Every figure beside its truth, one a line.
fn cases(people: &[Person]) -> String {
    let mut text = String::from("seed,minutes,figure,of,truth,low,value,high,groups\n");
    for one in people {
        let groups: Vec<&str> = one.groups.iter().map(|group| group.code()).collect();
        let groups = groups.join("+");
        for case in &one.cases {
            let told = case.told.map_or_else(
                |_| ",,".to_owned(),
                |told| format!("{},{},{}", told.low, told.value, told.high),
            );
            let (seed, minutes, of) = (one.seed, one.minutes, &case.of);
            text += &format!(
                "{seed},{minutes},{},{of},{},{told},{groups}\n",
                case.figure.code(),
                case.truth
            );
        }
        let zone = &one.dead_zone;
        if let Some(radius) = zone.radius {
            let first = zone.first_radius.unwrap_or(0.0);
            let (seed, minutes, asked) = (one.seed, one.minutes, zone.asked_seconds);
            text += &format!(
                "{seed},{minutes},dead_zone,{asked},{},{first},{radius},{},{groups}\n",
                zone.needed, zone.rest_quantile
            );
        }
    }
    text
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let wish = match read(&words) {
        Ok(wish) => wish,
        Err(why) => {
            eprintln!(
                "{why}; accuracy [--people N] [--seeds SET] [--first SEED] [--threads N] [--json FILE]"
            );
            return ExitCode::FAILURE;
        }
    };
    let every = (wish.people / 10).max(1);
    let told = |done: u64| {
        if done.is_multiple_of(every) {
            eprintln!("{done} of {}", wish.people);
        }
    };
    let people = people(wish.first, wish.people, wish.threads, &told);
    let report = report(&people, wish.seeds);
    print!("{}", report.table());
    let files = [
        wish.json.map(|path| (path, report.file())),
        wish.cases.map(|path| (path, cases(&people))),
    ];
    for (path, text) in files.into_iter().flatten() {
        if let Err(error) = std::fs::write(&path, text) {
            eprintln!("{path}: {error}");
            return ExitCode::FAILURE;
        }
    }
    if report.holds() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
