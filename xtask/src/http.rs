//! Answering one request for one file: pure, so that it can be tested without a socket.

use std::fs;
use std::path::{Path, PathBuf};

/// The page's policy as headers. The page carries the first one itself too, as far as a page can;
/// these add what only a server can say.
pub(crate) const HEADERS: [(&str, &str); 7] = [
    (
        "Content-Security-Policy",
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
         connect-src 'self'; img-src 'self' data: blob:; font-src 'self'; manifest-src 'self'; \
         worker-src 'self'; base-uri 'none'; form-action 'none'; object-src 'none'; \
         frame-ancestors 'none'",
    ),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Cross-Origin-Embedder-Policy", "require-corp"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    (
        // Only names that browsers know: they warn of others.
        "Permissions-Policy",
        "gamepad=(self), hid=(self), accelerometer=(), autoplay=(), browsing-topics=(), \
         camera=(), clipboard-read=(), compute-pressure=(), digital-credentials-get=(), \
         display-capture=(), encrypted-media=(), fullscreen=(), geolocation=(), gyroscope=(), \
         identity-credentials-get=(), idle-detection=(), keyboard-map=(), local-fonts=(), \
         magnetometer=(), microphone=(), midi=(), otp-credentials=(), payment=(), \
         picture-in-picture=(), publickey-credentials-create=(), publickey-credentials-get=(), \
         screen-wake-lock=(), serial=(), storage-access=(), usb=(), window-management=(), \
         xr-spatial-tracking=()",
    ),
];

/// Sent with every answer, policy or not. Names are not hashed: a browser must ask before it uses
/// what it has.
const ALWAYS: [(&str, &str); 2] = [("Cache-Control", "no-cache"), ("Connection", "close")];

/// Whether the page's policy is sent as headers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Policy {
    /// Every one of [`HEADERS`].
    Sent,
    /// None: a host that can send no headers. The page's own `meta` element is all there is.
    Left,
}

/// An answer, ready to be written.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Answer {
    /// The status line's number and words.
    pub(crate) status: &'static str,
    /// The type of the body.
    pub(crate) mime: &'static str,
    /// The body, as a GET would have it.
    pub(crate) body: Vec<u8>,
    /// Whether the body itself is sent (not for HEAD).
    pub(crate) with_body: bool,
}

impl Answer {
    fn plain(status: &'static str, words: &str) -> Self {
        let body = words.as_bytes().to_vec();
        Self { status, mime: "text/plain; charset=utf-8", body, with_body: true }
    }

    /// The bytes that go over the wire.
    pub(crate) fn bytes(&self, policy: Policy) -> Vec<u8> {
        let mut head = format!("HTTP/1.1 {}\r\nContent-Type: {}\r\n", self.status, self.mime);
        head.push_str(&format!("Content-Length: {}\r\n", self.body.len()));
        let of_policy = if policy == Policy::Sent { &HEADERS[..] } else { &[] };
        for (name, value) in of_policy.iter().chain(&ALWAYS) {
            head.push_str(&format!("{name}: {value}\r\n"));
        }
        if self.status.starts_with("405") {
            head.push_str("Allow: GET, HEAD\r\n");
        }
        head.push_str("\r\n");
        let mut bytes = head.into_bytes();
        if self.with_body {
            bytes.extend_from_slice(&self.body);
        }
        bytes
    }
}

/// Answers a request line such as `GET /boot.js HTTP/1.1` out of one folder.
pub(crate) fn answer(request_line: &str, folder: &Path) -> Answer {
    let mut words = request_line.split_whitespace();
    let (Some(method), Some(target), Some(version), None) =
        (words.next(), words.next(), words.next(), words.next())
    else {
        return Answer::plain("400 Bad Request", "This is not a request for a file.\n");
    };
    if !version.starts_with("HTTP/1.") {
        return Answer::plain("505 HTTP Version Not Supported", "Only HTTP/1.1 is spoken here.\n");
    }
    if method != "GET" && method != "HEAD" {
        return Answer::plain("405 Method Not Allowed", "Files can only be read here.\n");
    }
    let mut answer = match file_for(target, folder).and_then(|path| {
        let body = fs::read(&path).ok()?;
        Some(Answer { status: "200 OK", mime: mime(&path), body, with_body: true })
    }) {
        Some(found) => found,
        None => Answer::plain("404 Not Found", "There is no such file here.\n"),
    };
    answer.with_body = method == "GET";
    answer
}

/// The file a target names, if it lies inside the folder. Links that lead out are refused too.
fn file_for(target: &str, folder: &Path) -> Option<PathBuf> {
    let path = target.split(['?', '#']).next()?.strip_prefix('/')?;
    let path = decode(path)?;
    let path = if path.is_empty() { "index.html" } else { path.as_str() };
    let safe = path.split('/').all(|segment| {
        !segment.is_empty()
            && !segment.starts_with('.')
            && !segment.contains(['\\', ':'])
            && !segment.contains(char::is_control)
    });
    if !safe {
        return None;
    }
    let folder = folder.canonicalize().ok()?;
    let file = folder.join(path).canonicalize().ok()?;
    (file.starts_with(&folder) && file.is_file()).then_some(file)
}

/// Undoes percent-encoding; none where it is malformed or not UTF-8.
fn decode(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let high = char::from(rest.next()?).to_digit(16)?;
            let low = char::from(rest.next()?).to_digit(16)?;
            bytes.push(u8::try_from(high * 16 + low).ok()?);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok()
}

fn mime(path: &Path) -> &'static str {
    match path.extension().and_then(|ending| ending.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("json") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("woff2") => "font/woff2",
        Some("txt") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Folder(PathBuf);

    impl Folder {
        fn new(name: &str) -> Self {
            let base =
                std::env::temp_dir().join(format!("xtask-http-{}-{name}", std::process::id()));
            let dist = base.join("dist");
            fs::create_dir_all(dist.join("styles")).unwrap();
            fs::write(base.join("secret.txt"), "secret").unwrap();
            fs::write(dist.join("index.html"), "<p>here</p>").unwrap();
            fs::write(dist.join(".hidden"), "hidden").unwrap();
            fs::write(dist.join("page_bg.wasm"), [0, 97, 115, 109]).unwrap();
            fs::write(dist.join("styles/page.css"), "p{}").unwrap();
            Self(base)
        }

        fn get(&self, target: &str) -> Answer {
            answer(&format!("GET {target} HTTP/1.1"), &self.0.join("dist"))
        }
    }

    impl Drop for Folder {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    #[test]
    fn files_come_with_their_type() {
        let folder = Folder::new("types");
        assert_eq!(folder.get("/").mime, "text/html; charset=utf-8");
        assert_eq!(folder.get("/?x=1").body, b"<p>here</p>");
        assert_eq!(folder.get("/page_bg.wasm").mime, "application/wasm");
        assert_eq!(folder.get("/styles/page.css").mime, "text/css; charset=utf-8");
        assert_eq!(folder.get("/styles/p%61ge.css").body, b"p{}");
    }

    #[test]
    fn no_way_leads_out_of_the_folder() {
        let folder = Folder::new("escape");
        for target in [
            "/../secret.txt",
            "/%2e%2e/secret.txt",
            "/styles/../../secret.txt",
            "/styles/%2e%2e/%2e%2e/secret.txt",
            "/..%2fsecret.txt",
            "/..%5csecret.txt",
            "//secret.txt",
            "/.hidden",
            "/styles",
            "/styles/",
            "/missing.js",
            "/%zz",
            "/%",
            "/page.css%00",
            "secret.txt",
            "http://elsewhere.invalid/index.html",
        ] {
            assert_eq!(folder.get(target).status, "404 Not Found", "{target}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_out_of_the_folder_is_refused() {
        let folder = Folder::new("link");
        let link = folder.0.join("dist/link.txt");
        std::os::unix::fs::symlink(folder.0.join("secret.txt"), link).unwrap();
        assert_eq!(folder.get("/link.txt").status, "404 Not Found");
    }

    #[test]
    fn only_reading_is_allowed() {
        let folder = Folder::new("methods");
        let dist = folder.0.join("dist");
        let posted = answer("POST / HTTP/1.1", &dist);
        assert_eq!(posted.status, "405 Method Not Allowed");
        assert!(
            String::from_utf8(posted.bytes(Policy::Sent)).unwrap().contains("Allow: GET, HEAD\r\n")
        );
        let head = String::from_utf8(answer("HEAD / HTTP/1.1", &dist).bytes(Policy::Sent)).unwrap();
        assert!(head.contains("Content-Length: 11\r\n"));
        assert!(head.ends_with("\r\n\r\n"));
        assert_eq!(answer("GET /", &dist).status, "400 Bad Request");
        assert_eq!(answer("GET / HTTP/2", &dist).status, "505 HTTP Version Not Supported");
    }

    #[test]
    fn every_answer_carries_the_policy() {
        let folder = Folder::new("policy");
        for target in ["/", "/missing"] {
            let text =
                |policy| String::from_utf8_lossy(&folder.get(target).bytes(policy)).into_owned();
            let (sent, left) = (text(Policy::Sent), text(Policy::Left));
            for (name, value) in HEADERS {
                assert!(sent.contains(&format!("\r\n{name}: {value}\r\n")), "{name}");
                assert!(!left.contains(name), "{name}");
            }
            for (name, value) in ALWAYS {
                assert!(left.contains(&format!("\r\n{name}: {value}\r\n")), "{name}");
            }
        }
    }

    #[test]
    fn the_readme_lists_exactly_the_headers_that_are_sent() {
        let readme = fs::read_to_string(crate::place::root().join("README.md")).unwrap();
        for (name, value) in HEADERS.iter().chain(&ALWAYS[..1]) {
            assert!(readme.contains(&format!("\n{name}: {value}\n")), "{name}");
            assert!(readme.contains(&format!("| `{name}` |")), "{name}");
        }
    }

    #[test]
    fn the_page_itself_carries_the_same_policy_as_far_as_a_page_can() {
        let page = crate::place::root().join("public/index.html");
        let page = fs::read_to_string(page).unwrap();
        let policy = HEADERS[0].1.replace("; frame-ancestors 'none'", "");
        assert!(page.contains(&format!("content=\"{policy}\"")));
    }
}
