//! A summary in a link: the same on the other side, and anything else told for what it is.
#![allow(clippy::expect_used, reason = "tests")]

mod kept;

use fitting::Settings;
use fitting::summary::link::{self, LinkError, MOST_LINK_CHARACTERS};
use fitting::summary::short::{MOST_CHARACTERS, ShortSummary};
use fitting::summary::{ChosenSettings, Grid, MOST_THINNED, Share, Summary};
use kept::{fullest_summary, golden_summary, summary};
use proptest::prelude::*;

/// The links of summaries with every figure, as released: they must open forever.
const FIRST: &str = include_str!("../golden/link-1.txt");
const GOLDEN: &str = include_str!("../golden/link-2.txt");

#[test]
fn the_golden_link_opens_and_is_written_the_same_again() {
    let text = GOLDEN.trim_end();
    let opened = link::decode(text).expect("the golden link");
    assert_eq!(link::encode(&opened, true).expect("it can be written"), text);
    let file = Summary::from_json(include_str!("../golden/summary-2.json")).expect("its file");
    assert_eq!(opened.canonical(), file.canonical());
    assert_eq!(opened.body.label, None);
}

/// A link of schema 1 says what its file says, and may be handed on in the present form.
#[test]
fn the_first_golden_link_opens() {
    let opened = link::decode(FIRST.trim_end()).expect("the first golden link");
    let file = Summary::from_json(include_str!("../golden/summary-1.json")).expect("its file");
    assert_eq!(opened.canonical(), file.canonical());
    let again = link::encode(&opened, true).expect("it can be written");
    assert!(again.starts_with("s2."));
    assert_eq!(link::decode(&again).expect("it opens").canonical(), file.canonical());
}

#[test]
fn the_longest_link_fits_with_its_label() {
    let fullest = fullest_summary();
    let with_label = link::encode(&fullest, true).expect("it fits");
    println!("longest link: {} characters with its label", with_label.len());
    assert!(with_label.len() <= MOST_LINK_CHARACTERS);
    // 100 of the origin and its path, the mark, the fragment.
    assert!(100 + 1 + with_label.len() <= 2_000);
    // It is thinned, says so, and is otherwise what it was; thinned once, it stays as it is.
    let opened = link::decode(&with_label).expect("it opens");
    println!("thinned by {} steps of {MOST_THINNED}", opened.body.thinned);
    assert!((1..=MOST_THINNED).contains(&opened.body.thinned));
    assert_eq!(opened.body.chosen, fullest.body.chosen);
    assert_eq!(opened.body.reach, fullest.body.reach);
    assert_eq!(opened.body.label, fullest.body.label);
    assert_eq!(link::encode(&opened, true).as_ref(), Ok(&with_label));
    assert!(link::encode(&fullest, false).expect("it fits").len() <= MOST_LINK_CHARACTERS);
}

#[test]
fn the_label_is_left_out_unless_asked_for() {
    let fullest = golden_summary();
    let opened = link::decode(&link::encode(&fullest, false).expect("it fits")).expect("it opens");
    assert_eq!(opened.body.label, None);
    assert_eq!(opened.canonical(), fullest.canonical());
    assert_eq!(link::encode(&opened, false), link::encode(&fullest, false));
}

#[test]
fn each_kind_of_wrong_link_is_told_apart() {
    let good = GOLDEN.trim_end();
    for foreign in ["", "#", "rest", "#hands-off", "s", "s1", "s.x", "sx.AAAA", "s0.AAAA", "s01.AA"]
    {
        assert_eq!(link::decode(foreign), Err(LinkError::NotOurs), "{foreign:?}");
    }
    assert_eq!(link::decode("s3.AAAA"), Err(LinkError::Newer { version: 3 }));
    assert_eq!(link::decode("#s17."), Err(LinkError::Newer { version: 17 }));
    let long = format!("s2.{}", "A".repeat(100_000));
    assert_eq!(link::decode(&long), Err(LinkError::TooLong { characters: 100_003 }));
    let crossed = [good.replacen("s2", "s1", 1), FIRST.trim_end().replacen("s1", "s2", 1)];
    for damaged in ["s1.", "s2.A", "s1.AAAA", "s2.AAAAAA", "s2.ü", &good[..good.len() - 1]]
        .into_iter()
        .chain(crossed.iter().map(String::as_str))
    {
        assert_eq!(link::decode(damaged), Err(LinkError::Damaged), "{damaged:?}");
    }
    assert!(link::is_link(good) && link::is_link("#s2.A") && !link::is_link("#reach"));
}

/// Cut anywhere, or any one character changed for any other: told as damaged, never another
/// summary.
#[test]
fn every_small_damage_is_found() {
    let good = GOLDEN.trim_end();
    for end in 3..good.len() {
        assert_eq!(link::decode(&good[..end]), Err(LinkError::Damaged), "cut at {end}");
    }
    for place in 3..good.len() {
        for other in ["A", "B", "_", "-", "9", "z", "=", " ", "%"] {
            let changed = format!("{}{other}{}", &good[..place], &good[place + 1..]);
            if changed != good {
                assert_eq!(link::decode(&changed), Err(LinkError::Damaged), "{other} at {place}");
            }
        }
    }
}

/// A link whose checksum is right but whose numbers may not be: refused with the field.
#[test]
fn a_forged_link_is_refused() {
    let mut forged = Summary::from_json(include_str!("../golden/summary-2.json")).expect("a file");
    forged.body.chosen =
        ChosenSettings { dead_zone: Share::of(0.95), ..ChosenSettings::of(&Settings::default()) };
    let refused = Err(LinkError::OutOfRange { field: "chosen.dead_zone" });
    assert_eq!(link::encode(&forged, false), refused);
    // Forged past the writer: `chosen.dead_zone` of the golden link raised in its own bytes.
    let bytes = data_of(GOLDEN.trim_end());
    let honest = link::decode(GOLDEN.trim_end()).expect("a link").body.chosen.dead_zone.get();
    let (from, to) = (varint((honest * 1000.0).round() as u32 * 2), varint(950 * 2));
    assert_eq!(from.len(), to.len());
    let mut found = Vec::new();
    for at in 0..bytes.len() - from.len() {
        if bytes[at..].starts_with(&from) {
            let mut changed = bytes.clone();
            changed[at..at + to.len()].copy_from_slice(&to);
            found.push(link::decode(&sealed(2, &changed)).map(|_| ()));
        }
    }
    assert!(found.contains(&Err(LinkError::OutOfRange { field: "chosen.dead_zone" })), "{found:?}");
}

fn varint(mut value: u32) -> Vec<u8> {
    let mut bytes = Vec::new();
    while value >= 0x80 {
        bytes.push((value & 0x7f) as u8 | 0x80);
        value >>= 7;
    }
    bytes.push(value as u8);
    bytes
}

const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// The bytes of a link without their checksum, by another hand than the program's.
fn data_of(text: &str) -> Vec<u8> {
    let (mut bits, mut held, mut bytes) = (0_u32, 0, Vec::new());
    for letter in text[3..].bytes() {
        let value = LETTERS.iter().position(|known| *known == letter).expect("a letter");
        bits = bits << 6 | value as u32;
        held += 6;
        if held >= 8 {
            held -= 8;
            bytes.push((bits >> held) as u8);
            bits &= (1 << held) - 1;
        }
    }
    bytes.truncate(bytes.len() - 4);
    bytes
}

/// A link of these bytes with a right checksum, by another hand than the program's.
fn sealed(version: u32, data: &[u8]) -> String {
    let mut sum = u32::MAX;
    for bit in data.iter().flat_map(|byte| (0..8).map(move |bit| u32::from(byte >> bit & 1))) {
        let low = (sum ^ bit) & 1;
        sum = (sum >> 1) ^ if low == 1 { 0xEDB8_8320 } else { 0 };
    }
    let bytes = [data, &(!sum).to_le_bytes()].concat();
    let mut text = format!("s{version}.");
    for chunk in bytes.chunks(3) {
        let bits = chunk.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte));
        let bits = bits << (8 * (3 - chunk.len()));
        for letter in 0..=chunk.len() {
            text.push(char::from(LETTERS[(bits >> (18 - 6 * letter)) as usize & 63]));
        }
    }
    text
}

#[test]
fn the_other_hand_writes_the_same_links() {
    assert_eq!(sealed(2, &data_of(GOLDEN.trim_end())), GOLDEN.trim_end());
    assert_eq!(sealed(1, &data_of(FIRST.trim_end())), FIRST.trim_end());
}

proptest! {
    #[test]
    fn what_is_encoded_is_decoded(summary in summary()) {
        let with_label = link::encode(&summary, true).expect("any summary fits");
        let opened = link::decode(&with_label).expect("it opens");
        prop_assert_eq!(&opened.body.chosen, &summary.body.chosen);
        let mut whole = opened.body.clone();
        if whole.thinned > 0 {
            // What was left out is all that differs.
            whole.rest = summary.body.rest.clone();
            whole.before.jitter = summary.body.before.jitter.clone();
            whole.after.jitter = summary.body.after.jitter.clone();
            whole.full_throw = summary.body.full_throw.clone();
            whole.returns = summary.body.returns.clone();
            whole.sustained = summary.body.sustained.clone();
            whole.busy_rest = summary.body.busy_rest.clone();
            whole.map = summary.body.map.clone();
            whole.buttons = summary.body.buttons.clone();
            whole.before.reach = summary.body.before.reach.clone();
            whole.stick.odd_axes = summary.body.stick.odd_axes.clone();
            whole.thinned = 0;
        }
        prop_assert_eq!(&whole, &summary.body);
        prop_assert_eq!(opened.made_epoch_ms, summary.made_epoch_ms);
        prop_assert_eq!(&opened.core, &summary.core);
        prop_assert!(fitting::summary::is_id(&opened.id));
        let without = link::decode(&link::encode(&summary, false).expect("it fits")).expect("it opens");
        prop_assert!(without.body.thinned <= opened.body.thinned);
        if without.body.thinned == 0 {
            prop_assert_eq!(without.canonical(), summary.canonical());
        }
        prop_assert_eq!(without.body.label, None);
    }

    #[test]
    fn any_text_is_answered(text in prop_oneof![any::<String>(), "#?s[0-9]{0,3}\\.[A-Za-z0-9_-]{0,300}"]) {
        prop_assert!(link::decode(&text).is_err());
    }

    /// Any bytes with a right checksum: an error or a summary that may be written again.
    #[test]
    fn any_sealed_bytes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let text = sealed(2, &bytes);
        if let Ok(summary) = link::decode(&text) {
            prop_assert_eq!(link::encode(&summary, true), Ok(text));
        }
        if let Ok(summary) = link::decode(&sealed(1, &bytes)) {
            prop_assert_eq!(summary.check(), Ok(()));
        }
    }

    /// A right link with bytes changed and sealed again: never a panic, never a summary that
    /// may not be written.
    #[test]
    fn forged_bytes_are_answered(
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..4),
    ) {
        for (version, golden) in [(1, FIRST), (2, GOLDEN)] {
            let mut bytes = data_of(golden.trim_end());
            for (place, byte) in &changes {
                let place = place.index(bytes.len());
                bytes[place] = *byte;
            }
            let text = sealed(version, &bytes);
            if let Ok(summary) = link::decode(&text) {
                prop_assert_eq!(summary.check(), Ok(()));
                let again = link::encode(&summary, true).expect("what was read may be written");
                prop_assert!(version == 1 || again == text);
            }
        }
    }
}

/// A whole assessment's summary fits the short text, in less than what a QR code of version 15-M
/// holds (ISO/IEC 18004, table 7: 600 alphanumeric characters), and comes back.
#[test]
fn a_whole_summary_has_a_short_text() {
    let summary = golden_summary();
    let short = ShortSummary::of(&summary);
    let text = short.to_text().expect("it fits");
    println!("{} {text}", text.len());
    assert!((200..=MOST_CHARACTERS).contains(&text.len()), "{text}");
    assert_eq!(ShortSummary::from_text(&text), Ok(short.clone()));
    assert_eq!(short.chosen, summary.body.chosen);
    assert_eq!(
        short.reach.len(),
        summary.body.reach.iter().filter(|one| one.reach.result().is_ok()).count()
    );
}
