//! What was asked for on the command line.

use fitting::summary::MOST_FALSE_PER_MINUTE;
use fitting::task::TaskKind;

/// What it does and takes.
pub(crate) const HELP: &str = "\
analyse FILE… [--table | --json] [--together] [--task NAME] [--false-movements-a-minute NUMBER]

Measures recordings from files, with the same core as the page.

  FILE        a file that the page saved with recordings in it (one fitting, everything kept, what
              was saved when the program stopped, one task; JSON), or a plain recording in CSV; all
              are described in public/schema/README.md
  --table     numbers with units, intervals and what they rest on, as a table (the usual)
  --json      one JSON text for each visit, a line each (public/schema/analysis-2.json)
  --together  all files are of one visit with one stick; without it each visit is by itself
  --task NAME what a CSV recording is that does not say so: hands_off, quiet_rest, busy_rest,
              free_movement, reach, hold, sustained, return, presses
  --false-movements-a-minute NUMBER
              the target: so often may it move by itself. Without it as in the file, or 0.5
  --help, -h  this text

What cannot be right in a file is an error: a line says where and what to do, the other files go on,
and the command ends with a failure. What may be a mistake is a warning.";

const OPTIONS: &str = "--table, --json, --together, --task NAME, --false-movements-a-minute NUMBER, \
    --help";

/// What was asked for.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct Options {
    pub(crate) files: Vec<String>,
    pub(crate) json: bool,
    pub(crate) together: bool,
    pub(crate) task: Option<TaskKind>,
    pub(crate) false_per_minute: Option<f64>,
    pub(crate) help: bool,
}

impl Options {
    /// Of the words after the program's name.
    ///
    /// # Errors
    /// A sentence that says what is wrong and what is right.
    pub(crate) fn read(words: &[String]) -> Result<Self, String> {
        let mut options = Self::default();
        let mut words = words.iter();
        let mut only_files = false;
        while let Some(word) = words.next() {
            if only_files || !word.starts_with('-') {
                options.files.push(word.clone());
                continue;
            }
            let (name, joined) = match word.split_once('=') {
                Some((name, value)) => (name, Some(value)),
                None => (word.as_str(), None),
            };
            let mut value = || {
                let value = joined.map(str::to_owned).or_else(|| words.next().cloned());
                value.ok_or_else(|| format!("{name} wants a value behind it."))
            };
            match name {
                "--task" => options.task = Some(task(&value()?)?),
                "--false-movements-a-minute" => options.false_per_minute = Some(rate(&value()?)?),
                _ if joined.is_some() => return Err(unknown(word)),
                "--json" => options.json = true,
                "--table" => options.json = false,
                "--together" => options.together = true,
                "--help" | "-h" => options.help = true,
                "--" => only_files = true,
                _ => return Err(unknown(word)),
            }
        }
        if options.files.is_empty() && !options.help {
            return Err("No file was named.".to_owned());
        }
        Ok(options)
    }
}

fn unknown(word: &str) -> String {
    format!("There is no option {word}. The options are: {OPTIONS}.")
}

fn task(name: &str) -> Result<TaskKind, String> {
    let kind = serde_json::from_value(serde_json::Value::String(name.to_owned()));
    kind.map_err(|_| {
        let known = TaskKind::ALL.map(fitting::exchange::figures::name).join(", ");
        format!("There is no task \"{name}\". The tasks are: {known}.")
    })
}

fn rate(text: &str) -> Result<f64, String> {
    let number = text.trim().parse::<f64>().ok();
    number.filter(|rate| *rate > 0.0 && *rate <= MOST_FALSE_PER_MINUTE).ok_or_else(|| {
        format!(
            "--false-movements-a-minute wants a number above 0 and at most {MOST_FALSE_PER_MINUTE}, \
             such as 0.5 for one in two minutes; not \"{text}\"."
        )
    })
}
