//! Running other programs, with their output shown as it comes.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::place;
use crate::trouble::Trouble;

/// A command in the project's folder that finds the project's own tools first.
pub(crate) fn command(program: impl AsRef<Path>) -> Command {
    let mut command = Command::new(program.as_ref());
    command.current_dir(place::root()).env("PATH", place::search_path());
    command
}

/// Cargo, as the person runs it.
pub(crate) fn cargo() -> Command {
    let program = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    command(Path::new(&program))
}

/// Runs to the end, output straight to the terminal.
///
/// # Errors
/// The program is missing, or ended with a failure.
pub(crate) fn run(command: &mut Command, todo: &str) -> Result<(), Trouble> {
    let name = display(command);
    println!("  $ {name}");
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(_) => Err(Trouble::new(format!("`{name}` failed; its own words stand above."), todo)),
        Err(error) => Err(Trouble::new(format!("`{name}` could not be started: {error}."), todo)),
    }
}

/// What a program printed, and whether it ended well.
pub(crate) struct Printed {
    /// Its standard output.
    pub(crate) text: String,
    /// Whether it ended with success.
    pub(crate) success: bool,
}

/// Runs to the end, shows the output as it comes, and keeps it to be counted.
///
/// # Errors
/// The program could not be started.
pub(crate) fn watch(command: &mut Command) -> Result<Printed, Trouble> {
    let name = display(command);
    println!("  $ {name}");
    let missing = |error: std::io::Error| {
        Trouble::new(
            format!("`{name}` could not be started: {error}."),
            "Install it, or run `cargo xtask help` for what is needed.",
        )
    };
    let mut child = command.stdout(Stdio::piped()).spawn().map_err(missing)?;
    let mut text = String::new();
    if let Some(output) = child.stdout.take() {
        let mut reader = BufReader::new(output);
        let mut line = Vec::new();
        while reader.read_until(b'\n', &mut line).map_err(missing)? > 0 {
            let shown = String::from_utf8_lossy(&line);
            print!("{shown}");
            text.push_str(&shown);
            line.clear();
        }
    }
    let status = child.wait().map_err(missing)?;
    Ok(Printed { text, success: status.success() })
}

/// The standard output of a short question such as `--version`; none where it fails.
pub(crate) fn ask(command: &mut Command) -> Option<String> {
    let output = command.stderr(Stdio::null()).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// A command as a person would type it, without the folders of this machine.
fn display(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let name = program.file_stem().unwrap_or(program.as_os_str()).to_string_lossy().into_owned();
    let root = place::root().to_string_lossy().into_owned();
    command.get_args().fold(name, |mut line, argument| {
        line.push(' ');
        line.push_str(&argument.to_string_lossy().replace(&format!("{root}/"), ""));
        line
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commands_are_shown_without_the_machine() {
        let mut command = Command::new("/somewhere/bin/tool");
        command.arg("--root").arg(place::root().join(".tools"));
        assert_eq!(display(&command), "tool --root .tools");
    }

    #[test]
    fn a_missing_program_is_told_with_its_name() {
        let trouble = run(&mut Command::new("no-program-has-this-name-4711"), "Install it.");
        let trouble = trouble.unwrap_err();
        assert!(trouble.what.contains("no-program-has-this-name-4711"));
        assert_eq!(trouble.todo, "Install it.");
    }

    #[test]
    fn output_is_kept_and_failure_noticed() {
        let printed = watch(cargo().arg("--version")).unwrap();
        assert!(printed.success);
        assert!(printed.text.starts_with("cargo "));
        let printed = watch(cargo().arg("no-such-subcommand-4711").stderr(Stdio::null())).unwrap();
        assert!(!printed.success);
    }
}
