//! `cargo xtask serve`: builds the page and serves it to this machine alone.

use std::io::{BufRead, BufReader, ErrorKind, Read, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::Duration;

use crate::bundle::{self, Kind};
use crate::http::{self, Policy};
use crate::place;
use crate::trouble::Trouble;

const USUAL_PORT: u16 = 8080;
/// Longest request head read, in bytes, and how long a slow sender is waited for.
const LONGEST_HEAD: u64 = 16 * 1024;
const PATIENCE: Duration = Duration::from_secs(10);

/// What a person asked `serve` to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Wish {
    /// The port; 0 lets the system choose one.
    pub(crate) port: u16,
    /// How to build, or none to serve what is there.
    pub(crate) build: Option<Kind>,
    /// Whether the page's policy is sent as headers.
    pub(crate) policy: Policy,
}

impl Wish {
    /// Reads the words after `serve`.
    ///
    /// # Errors
    /// A word is not known, or the port is no number.
    pub(crate) fn read(words: &[String]) -> Result<Self, Trouble> {
        let mut wish = Self { port: USUAL_PORT, build: Some(Kind::Release), policy: Policy::Sent };
        let mut words = words.iter();
        while let Some(word) = words.next() {
            match word.as_str() {
                "--dev" => wish.build = Some(Kind::Development),
                "--no-build" => wish.build = None,
                "--bare" => wish.policy = Policy::Left,
                "--port" => {
                    let number = words.next().and_then(|number| number.parse().ok());
                    wish.port = number.ok_or_else(|| {
                        Trouble::new(
                            "`--port` needs a number from 0 to 65535.",
                            "For example `cargo xtask serve --port 8090`.",
                        )
                    })?;
                }
                other => {
                    return Err(Trouble::new(
                        format!("`serve` does not know `{other}`."),
                        "It takes `--port N`, `--dev`, `--no-build` and `--bare`.",
                    ));
                }
            }
        }
        Ok(wish)
    }
}

/// Builds and serves until it is stopped.
///
/// # Errors
/// The port is taken, or the page could not be built.
pub(crate) fn serve(wish: Wish) -> Result<(), Trouble> {
    // The port first: nobody should wait minutes for a build to be told that it is taken.
    let listener = listen(wish.port)?;
    match wish.build {
        Some(kind) => bundle::build(kind)?,
        None if place::dist().join("index.html").is_file() => {}
        None => {
            return Err(Trouble::new(
                "There is no built page in dist/ yet.",
                "Run `cargo xtask serve` without `--no-build`, or `cargo xtask build` first.",
            ));
        }
    }
    let address = address(&listener)?;
    println!("\nThe page is at http://{address}/ (on this machine only). Stop it with Ctrl+C.");
    answer_all(&listener, &place::dist(), wish.policy);
    Ok(())
}

/// Serves the built page on a free port in the background, for the browser runs; gives its address.
///
/// # Errors
/// No port could be had.
pub(crate) fn serve_in_background() -> Result<SocketAddr, Trouble> {
    let listener = listen(0)?;
    let address = address(&listener)?;
    thread::spawn(move || answer_all(&listener, &place::dist(), Policy::Sent));
    Ok(address)
}

fn address(listener: &TcpListener) -> Result<SocketAddr, Trouble> {
    listener.local_addr().map_err(|error| port_trouble(0, &error))
}

fn listen(port: u16) -> Result<TcpListener, Trouble> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(|error| port_trouble(port, &error))
}

fn port_trouble(port: u16, error: &std::io::Error) -> Trouble {
    let free = (port.saturating_add(1)..=u16::MAX)
        .take(200)
        .find(|port| TcpListener::bind((Ipv4Addr::LOCALHOST, *port)).is_ok());
    let todo = match free {
        Some(free) => format!("Port {free} is free: `cargo xtask serve --port {free}`."),
        None => "Name another with `cargo xtask serve --port N`.".to_owned(),
    };
    match error.kind() {
        ErrorKind::AddrInUse => {
            Trouble::new(format!("Port {port} is taken by another program."), todo)
        }
        ErrorKind::PermissionDenied => {
            Trouble::new(format!("Port {port} may not be used by this account."), todo)
        }
        _ => Trouble::new(format!("Port {port} could not be opened: {error}."), todo),
    }
}

fn answer_all(listener: &TcpListener, folder: &Path, policy: Policy) {
    for stream in listener.incoming().flatten() {
        let folder: PathBuf = folder.to_path_buf();
        thread::spawn(move || {
            // A browser that hangs up in the middle is its own business.
            let _ = answer_one(&stream, &folder, policy);
        });
    }
}

fn answer_one(mut stream: &TcpStream, folder: &Path, policy: Policy) -> std::io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let mut reader = BufReader::new(stream).take(LONGEST_HEAD);
    let mut request_line = String::new();
    reader.read_line(&mut request_line)?;
    // The rest of the head is read to its end and not used: closing on unread bytes would reset
    // the connection before the answer arrives.
    let mut line = String::new();
    while reader.read_line(&mut line)? > 2 {
        line.clear();
    }
    if request_line.is_empty() {
        return Ok(());
    }
    stream.write_all(&http::answer(request_line.trim_end(), folder).bytes(policy))?;
    stream.flush()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<String> {
        text.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn wishes_are_read() {
        let usual = Wish { port: USUAL_PORT, build: Some(Kind::Release), policy: Policy::Sent };
        assert_eq!(Wish::read(&[]).unwrap(), usual);
        assert_eq!(
            Wish::read(&words("--port 9000 --dev")).unwrap(),
            Wish { port: 9000, build: Some(Kind::Development), ..usual }
        );
        assert_eq!(Wish::read(&words("--bare")).unwrap().policy, Policy::Left);
        assert_eq!(Wish::read(&words("--no-build")).unwrap().build, None);
        for wrong in ["--port", "--port many", "--port 70000", "--fast"] {
            assert!(Wish::read(&words(wrong)).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_taken_port_is_named_and_a_free_one_offered() {
        let taken = listen(0).unwrap();
        let port = address(&taken).unwrap().port();
        let trouble = listen(port).unwrap_err();
        assert_eq!(trouble.what, format!("Port {port} is taken by another program."));
        let free: u16 =
            trouble.todo.split_whitespace().nth(1).and_then(|word| word.parse().ok()).unwrap();
        assert!(free > port);
        assert!(listen(free).is_ok());
    }

    #[test]
    fn one_request_is_answered_over_a_real_socket() {
        let listener = listen(0).unwrap();
        let address = address(&listener).unwrap();
        let folder = place::root().join("public");
        thread::spawn(move || answer_all(&listener, &folder, Policy::Sent));
        let mut stream = TcpStream::connect(address).unwrap();
        stream.write_all(b"GET /boot.js HTTP/1.1\r\nHost: here\r\n\r\n").unwrap();
        let mut text = String::new();
        stream.read_to_string(&mut text).unwrap();
        assert!(text.starts_with("HTTP/1.1 200 OK\r\n"));
        assert!(text.contains("fitting-room:cannot-start"));
    }
}
