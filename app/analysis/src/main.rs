//! `analyse FILE…`: recordings from files, measured by the same core as in the page.

#![forbid(unsafe_code)]

use analysis::analysis::analyse;
use analysis::input::{self, Visit};
use analysis::table::table;
use fitting::suggest::Wish;
use fitting::task::TaskKind;
use std::path::Path;
use std::process::ExitCode;

const HELP: &str = "\
analyse FILE… [--table | --json] [--together] [--task NAME]

  FILE        a file saved by the page (everything kept, one fitting, one task; JSON), or a plain
              recording in CSV; both forms are described in public/schema/README.md
  --table     numbers with units, intervals and what they rest on, as a table (the usual)
  --json      one JSON text for each visit, a line each (public/schema/analysis-1.json)
  --together  all files are of one visit with one stick; without it each visit is by itself
  --task NAME what a CSV recording is that does not say so: hands_off, quiet_rest, …";

#[derive(Default)]
struct Asked {
    files: Vec<String>,
    json: bool,
    together: bool,
    task: Option<TaskKind>,
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match asked(&words) {
        Ok(asked) => run(&asked),
        Err(what) => {
            eprintln!("{what}\n\n{HELP}");
            ExitCode::FAILURE
        }
    }
}

fn asked(words: &[String]) -> Result<Asked, String> {
    let mut asked = Asked::default();
    let mut words = words.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--json" => asked.json = true,
            "--table" => asked.json = false,
            "--together" => asked.together = true,
            "--task" => {
                let name = words.next().map_or("", String::as_str);
                let kind = serde_json::from_value(serde_json::Value::String(name.to_owned()));
                asked.task = Some(kind.map_err(|_| format!("There is no task \"{name}\"."))?);
            }
            option if option.starts_with("--") => {
                return Err(format!("There is no option {option}."));
            }
            file => asked.files.push(file.to_owned()),
        }
    }
    if asked.files.is_empty() { Err("No file was named.".to_owned()) } else { Ok(asked) }
}

fn run(asked: &Asked) -> ExitCode {
    let made = std::time::SystemTime::now()
        .duration_since(std::time::UNIX_EPOCH)
        .ok()
        .and_then(|since| u64::try_from(since.as_millis()).ok())
        .unwrap_or(0);
    let mut bad = 0;
    let mut told = 0;
    let mut tell = |visit: &Visit, files: &[String]| {
        let found = analyse(visit, files, told, made);
        if asked.json {
            match serde_json::to_string(&found) {
                Ok(text) => println!("{text}"),
                Err(error) => eprintln!("{}: {error}", files.join(", ")),
            }
        } else {
            println!("{}", table(&found));
        }
        told += 1;
    };
    let mut all = Visit { label: String::new(), wish: Wish::default(), records: Vec::new() };
    let mut good = Vec::new();
    for file in &asked.files {
        match input::file(Path::new(file), asked.task) {
            Ok(visits) if asked.together => {
                // One visit has one wish: that of the first file.
                if let (true, Some(first)) = (good.is_empty(), visits.first()) {
                    all.wish = first.wish;
                }
                good.push(file.clone());
                all.records.extend(visits.into_iter().flat_map(|visit| visit.records));
            }
            Ok(visits) => {
                for visit in &visits {
                    tell(visit, std::slice::from_ref(file));
                }
            }
            Err(trouble) => {
                bad += 1;
                eprintln!("{file}: {trouble}");
            }
        }
    }
    if asked.together && !good.is_empty() {
        tell(&all, &good);
    }
    if bad == 0 {
        ExitCode::SUCCESS
    } else {
        eprintln!("{bad} of {} files could not be read.", asked.files.len());
        ExitCode::FAILURE
    }
}
