//! `analyse FILE…`: recordings from files, measured by the same core as in the page.

#![forbid(unsafe_code)]

mod options;

use analysis::analysis::analyse;
use analysis::input::{self, Contents, Visit};
use analysis::table::table;
use analysis::{Trouble, Wrong};
use fitting::suggest::Wish;
use options::{HELP, Options};
use std::io::{ErrorKind, Write};
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<String> =
        std::env::args_os().skip(1).map(|word| word.to_string_lossy().into_owned()).collect();
    let done = match Options::read(&words) {
        Ok(options) if options.help => print(HELP).map(|()| true),
        Ok(options) => run(&options),
        Err(what) => {
            complain(&format!("{what}\n\n{HELP}"));
            Ok(false)
        }
    };
    match done {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        // Whoever reads, such as `head`, has enough: nothing went wrong.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            complain(&format!(
                "The results could not be written ({error}). The files that were read are as they \
                 were: run it again and send the results to where there is room."
            ));
            ExitCode::FAILURE
        }
    }
}

/// Writes a line of results, all of it.
fn print(text: &str) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{text}")?;
    out.flush()
}

/// Says what is wrong; where nobody can hear it, nothing can be done.
fn complain(what: &str) {
    let _ = writeln!(std::io::stderr(), "{what}");
}

/// Whether every file could be read.
fn run(options: &Options) -> std::io::Result<bool> {
    let made = std::time::SystemTime::now()
        .duration_since(std::time::UNIX_EPOCH)
        .ok()
        .and_then(|since| u64::try_from(since.as_millis()).ok())
        .unwrap_or(0);
    let mut bad = 0;
    let mut told = 0;
    let mut tell = |mut visit: Visit, files: &[String]| {
        if let Some(wanted) = options.false_per_minute {
            visit.wish.false_per_minute = wanted;
        }
        let found = analyse(&visit, files, told, made);
        told += 1;
        print(&if options.json { serde_json::to_string(&found)? } else { table(&found) })
    };
    let mut all = Visit { label: String::new(), wish: Wish::default(), records: Vec::new() };
    let mut good = Vec::new();
    for file in &options.files {
        match read(file, options) {
            Ok(Contents { visits, warnings }) => {
                for warning in warnings {
                    complain(&format!("{file}: warning: {warning}"));
                }
                if !options.together {
                    for visit in visits {
                        tell(visit, std::slice::from_ref(file))?;
                    }
                    continue;
                }
                // One visit has one wish: that of the first file.
                if let (true, Some(first)) = (good.is_empty(), visits.first()) {
                    all.wish = first.wish;
                }
                good.push(file.clone());
                all.records.extend(visits.into_iter().flat_map(|visit| visit.records));
            }
            Err(trouble) => {
                bad += 1;
                complain(&format!("{file}: {trouble}"));
            }
        }
    }
    if !good.is_empty() {
        tell(all, &good)?;
    }
    if bad > 0 {
        complain(&format!("{bad} of {} files could not be read.", options.files.len()));
    }
    Ok(bad == 0)
}

fn read(file: &str, options: &Options) -> Result<Contents, Trouble> {
    let contents = input::file(Path::new(file), options.task)?;
    // Set-ups and fittings never mix.
    match contents.visits.len() {
        count if options.together && count > 1 => {
            Err(Trouble { line: None, column: None, field: None, wrong: Wrong::ManyVisits(count) })
        }
        _ => Ok(contents),
    }
}
