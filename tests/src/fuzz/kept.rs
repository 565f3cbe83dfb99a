//! Any text, taken for what comes from outside: links, short summaries, rows of the store, files of
//! the page and of the rescue script. Half of them get the right checksums after they were changed,
//! so that what lies behind these is tried, too.

use super::Came;
use super::chance::Chance;
use data_encoding::BASE64URL_NOPAD;
use fitting::summary::kept_file::{self, FileError, KeptFile, read_file};
use fitting::summary::short::{ShortError, ShortSummary};
use fitting::summary::{Body, Envelope, FittingBody, SummaryBody, TaskBody, link, read};
use fitting::visit::Host;
use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::decompress_to_vec;
use serde_json::Value;

/// Checks what the readers make of any text. The first byte says what it is taken for.
///
/// # Panics
/// Where a reader breaks a promise: that is what is looked for.
pub fn kept(data: &[u8]) -> Came {
    let Some((way, data)) = data.split_first() else { return Came::Refused };
    let text = String::from_utf8_lossy(data);
    match way % 4 {
        0 => link::decode(&text).map_or(Came::Refused, |summary| {
            super::linked(&summary);
            Came::Measured
        }),
        1 => match ShortSummary::from_text(&text) {
            Ok(short) => {
                let again = short.to_text().map(|text| ShortSummary::from_text(&text));
                assert_eq!(again, Ok(Ok(short)), "it comes back");
                Came::Measured
            }
            Err(ShortError::TooLong { characters }) => {
                assert!(characters > 600);
                Came::Refused
            }
            Err(_) => Came::Refused,
        },
        2 => {
            let came = [row::<TaskBody>, row::<FittingBody>, row::<SummaryBody>, row::<Host>];
            if came.iter().any(|read| read(&text)) { Came::Measured } else { Came::Refused }
        }
        _ => match read_file(&text) {
            Ok(file) => {
                whole(&file);
                Came::Measured
            }
            Err(FileError::Damaged { place, .. }) => {
                assert!(place.ends_with(']'), "a place in the file: {place}");
                Came::Refused
            }
            Err(_) => Came::Refused,
        },
    }
}

/// What was read may be written, and is the same again, but for what is made plain when it is written
/// (an empty note is none).
fn row<T: Body + PartialEq + std::fmt::Debug>(text: &str) -> bool {
    read::<T>(text).is_ok_and(|kept| {
        let again = kept.to_json().map(|json| read::<T>(&json));
        let body = kept.body.tidied().into_owned();
        assert_eq!(again, Ok(Ok(Envelope { body, ..kept })), "it comes back");
        true
    })
}

fn whole(file: &KeptFile) {
    let again = written(file);
    // What was tidied once is tidied, so the second writing changes nothing any more.
    let again = read_file(&again).expect("what was read may be written and read");
    assert_eq!(written(&again), written(file), "it comes back");
    assert_eq!((again.fittings.len(), again.tasks.len()), (file.fittings.len(), file.tasks.len()));
}

/// A file of kept things.
///
/// # Panics
/// Where one of them may not be written.
#[must_use]
pub fn written(file: &KeptFile) -> String {
    fn all<T: Body>(things: &[Envelope<T>]) -> Vec<String> {
        things.iter().map(|one| one.to_json().expect("it may be written")).collect()
    }
    let (fittings, tasks) = (all(&file.fittings), all(&file.tasks));
    kept_file::write(1, fittings, tasks, file.set_aside.clone()).expect("texts of JSON")
}

/// Makes texts: good ones, changed.
#[derive(Debug)]
pub struct Outside {
    chance: Chance,
    good: Vec<(u8, String)>,
}

impl Outside {
    /// Of this seed.
    ///
    /// # Panics
    /// Where a golden file is not read.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        let fittings = [
            include_str!("../../golden/fitting-1.json"),
            include_str!("../../golden/fitting-3.json"),
            include_str!("../../golden/fitting-4.json"),
        ];
        let tasks = [
            include_str!("../../golden/task-1.json"),
            include_str!("../../golden/task-3.json"),
            include_str!("../../golden/task-4.json"),
        ];
        let summary = include_str!("../../golden/summary-2.json");
        let links =
            [include_str!("../../golden/link-1.txt"), include_str!("../../golden/link-2.txt")];
        let mut good: Vec<(u8, String)> = Vec::new();
        good.extend(links.map(|link| (0, link.trim_end().to_owned())));
        let read_summary = read::<SummaryBody>(summary).expect("a golden summary");
        let short = ShortSummary::of(&read_summary).to_text().expect("it fits");
        good.push((1, short));
        let host = include_str!("../../golden/host-1.json");
        let rows = fittings.into_iter().chain(tasks).chain([summary, host]);
        good.extend(rows.map(|row| (2, row.to_owned())));
        let one = |list: &str| vec![list.to_owned()];
        for (fitting, task) in fittings.into_iter().zip(tasks) {
            let file = kept_file::write(1, one(fitting), one(task), Vec::new());
            good.push((3, file.expect("texts of JSON")));
        }
        good.push((3, rescued(fittings[2], tasks[2])));
        Self { chance: Chance(seed), good }
    }

    /// The next one.
    pub fn make(&mut self) -> Vec<u8> {
        let chance = &mut self.chance;
        let (way, good) = &self.good[chance.below(self.good.len())];
        let mut text = good.clone();
        let sealed = chance.below(2) == 0;
        if sealed && *way == 0 {
            text = resealed_link(&text, chance);
        } else if sealed && *way == 1 {
            text = resealed_short(&text, chance);
        } else if sealed {
            text = repacked(&text, chance);
        }
        // Now and then as it was made: what is behind the checksums is the matter then.
        if !sealed || chance.below(4) == 0 {
            for _ in 0..1 + chance.below(3) {
                change(&mut text, chance);
            }
        }
        [&[*way], text.as_bytes()].concat()
    }
}

/// A file of the rescue script, with a running task in it.
fn rescued(fitting: &str, task: &str) -> String {
    let fitting_body: Value = serde_json::from_str(fitting).expect("json");
    let id = &fitting_body["id"];
    let row = |id: &Value, json: &str| serde_json::json!({ "value": { "id": id, "fitting": fitting_body["id"], "json": json } });
    let task_id = serde_json::from_str::<Value>(task).expect("json")["id"].clone();
    serde_json::json!({
        "kind": "rescue", "schema": 1,
        "stores": {
            "fittings": [row(id, fitting)],
            "tasks": [row(&task_id, task)],
            "running": [row(&Value::from("r"), &task.replacen("\"0f3a-78\"", "\"r\"", 1)),
                row(&Value::from("r/0"), "{}")],
        },
    })
    .to_string()
}

/// CRC-32 of IEEE 802.3, bit by bit.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| {
            if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 }
        })
    })
}

fn changed_bytes(bytes: &mut Vec<u8>, chance: &mut Chance) {
    for _ in 0..1 + chance.below(4) {
        let at = chance.below(bytes.len());
        match chance.below(4) {
            0 => bytes.truncate(at.max(1)),
            1 => bytes.insert(at, chance.below(256) as u8),
            _ => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte = [0, 1, 0x7F, 0x80, 0xFF, chance.below(256) as u8][chance.below(6)];
                }
            }
        }
    }
}

fn resealed_link(text: &str, chance: &mut Chance) -> String {
    let Some((head, payload)) = text.split_once('.') else { return text.to_owned() };
    let mut bytes = BASE64URL_NOPAD.decode(payload.as_bytes()).expect("a good link");
    bytes.truncate(bytes.len() - 4);
    changed_bytes(&mut bytes, chance);
    let sum = crc32(&bytes);
    bytes.extend(sum.to_le_bytes());
    format!("{head}.{}", BASE64URL_NOPAD.encode(&bytes))
}

fn resealed_short(text: &str, chance: &mut Chance) -> String {
    let Some((before, _)) = text.rsplit_once("/SUM:") else { return text.to_owned() };
    let mut text = before.to_owned();
    change(&mut text, chance);
    format!("{text}/SUM:{:08X}", crc32(text.as_bytes()))
}

/// The same with the packed samples changed behind their checksum, where there are any.
fn repacked(text: &str, chance: &mut Chance) -> String {
    let mark = "\"packed\":";
    let Some(from) = text.find(mark).map(|at| at + mark.len()) else {
        let mut text = text.to_owned();
        change(&mut text, chance);
        return text;
    };
    let Some(from) = text[from..].find('"').map(|at| from + at + 1) else { return text.to_owned() };
    let Some(to) = text[from..].find('"').map(|at| from + at) else { return text.to_owned() };
    let Some(mut bytes) = BASE64URL_NOPAD
        .decode(&text.as_bytes()[from..to])
        .ok()
        .and_then(|packed| decompress_to_vec(&packed).ok())
    else {
        return text.to_owned();
    };
    bytes.truncate(bytes.len().saturating_sub(4));
    changed_bytes(&mut bytes, chance);
    let sum = crc32(&bytes);
    bytes.extend(sum.to_le_bytes());
    let packed = BASE64URL_NOPAD.encode(&compress_to_vec(&bytes, 3));
    format!("{}{packed}{}", &text[..from], &text[to..])
}

/// What breaks what is not prepared for it.
const ODD: [&str; 14] = [
    "0",
    "-1",
    "1e308",
    "1e-320",
    "4294967296",
    "99999999999999999999",
    "null",
    "[]",
    "{}",
    "\"\"",
    "\u{202e}",
    "</script>",
    "\\u0000",
    "\"kind\":\"kept\",",
];

fn change(text: &mut String, chance: &mut Chance) {
    let place = |text: &str, chance: &mut Chance| {
        let mut at = chance.below(text.len() + 1);
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let at = place(text, chance);
    match chance.below(6) {
        0 => text.truncate(at),
        1 => text.insert(at, char::from(chance.below(128) as u8)),
        2 => {
            let to = place(text, chance).max(at);
            let part = text[at..to].chars().take(300).collect::<String>();
            let into = place(text, chance);
            text.insert_str(into, &part);
        }
        3 => {
            let to = place(text, chance);
            text.replace_range(at.min(to)..at.max(to), "");
        }
        4 => text.insert_str(at, ODD[chance.below(ODD.len())]),
        // A number for another one.
        _ => {
            let digit = |byte: &u8| byte.is_ascii_digit();
            let Some(from) = text.as_bytes()[at..].iter().position(digit).map(|found| at + found)
            else {
                return;
            };
            let length = text.as_bytes()[from..].iter().take_while(|byte| digit(byte)).count();
            text.replace_range(from..from + length, ODD[chance.below(6)]);
        }
    }
}
