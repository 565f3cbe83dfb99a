//! A summary as the fragment of a link.
//!
//! `s2.` and the base64url text (RFC 4648 section 5, no padding) of the summary's numbers in
//! the postcard wire format, followed by their CRC-32. The fragment of a link is never sent to
//! a server (RFC 9110 section 7.1). The form holds no notes and no recordings, and the label
//! only when asked. A summary too full for a link is thinned until it fits, and says so
//! ([`SummaryBody::thinned`]). Links of schema 1, `s1.`, are read forever.

use super::checksum::crc32;
use super::envelope::Envelope;
use super::first::FirstBody;
use super::{Body, Kind, Summary, SummaryBody, Unreadable};
use data_encoding::BASE64URL_NOPAD;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// The most characters of a fragment, without its `#`: a whole link of 2,000 with an origin of
/// 100.
pub const MOST_LINK_CHARACTERS: usize = 1_899;

/// The form that is written.
const VERSION: u32 = 2;

/// Why a fragment gives no summary, or a summary no fragment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LinkError {
    /// It is no link of this program.
    NotOurs,
    /// A newer version of this program made it.
    Newer {
        /// The version of its form.
        version: u32,
    },
    /// It is longer than any link of this program.
    TooLong {
        /// How many characters it has.
        characters: usize,
    },
    /// It was cut off or changed on the way.
    Damaged,
    /// It is whole, but a field holds a value it may not hold.
    OutOfRange {
        /// The field.
        field: &'static str,
    },
}

#[derive(Serialize, Deserialize)]
#[serde(bound(deserialize = "B: DeserializeOwned"))]
struct Carried<'a, B: Clone> {
    core: Cow<'a, str>,
    made_epoch_ms: u64,
    body: Cow<'a, B>,
}

/// The summary as the fragment of a link, without `#`. The id is left out, and the label too
/// unless `with_label`: a link cannot be called back.
///
/// # Errors
/// [`LinkError::OutOfRange`] for a summary that may not be written at all;
/// [`LinkError::TooLong`] cannot be reached by a summary that [`Summary::of`] made.
pub fn encode(summary: &Summary, with_label: bool) -> Result<String, LinkError> {
    summary.check().map_err(|error| out_of_range(&error))?;
    let mut body = summary.body.clone();
    if !with_label {
        body.label = None;
    }
    loop {
        let carried = Carried {
            core: summary.core.as_str().into(),
            made_epoch_ms: summary.made_epoch_ms,
            body: Cow::Borrowed(&body),
        };
        let text = write(VERSION, &carried)?;
        if text.len() <= MOST_LINK_CHARACTERS {
            return Ok(text);
        }
        body = body.thinner().ok_or(LinkError::TooLong { characters: text.len() })?;
    }
}

fn write<B: Clone + Serialize>(
    version: u32,
    carried: &Carried<'_, B>,
) -> Result<String, LinkError> {
    let mut bytes = postcard::to_allocvec(carried).map_err(|_| LinkError::Damaged)?;
    let sum = crc32(&bytes);
    bytes.extend(sum.to_le_bytes());
    Ok(format!("s{version}.{}", BASE64URL_NOPAD.encode(&bytes)))
}

/// The summary of a fragment, with or without its `#`. Its id is made from the link's own
/// checksum: the same link opened twice gives the same summary.
///
/// # Errors
/// [`LinkError`] with what is wrong; never panics, whatever the text.
pub fn decode(fragment: &str) -> Result<Summary, LinkError> {
    let text = fragment.strip_prefix('#').unwrap_or(fragment);
    let (version, payload) = taken_apart(text).ok_or(LinkError::NotOurs)?;
    match version {
        0 => return Err(LinkError::NotOurs),
        1..=VERSION => {}
        version => return Err(LinkError::Newer { version }),
    }
    if text.len() > MOST_LINK_CHARACTERS {
        return Err(LinkError::TooLong { characters: text.chars().count() });
    }
    let bytes = BASE64URL_NOPAD.decode(payload.as_bytes()).map_err(|_| LinkError::Damaged)?;
    let (bytes, sum) = bytes.split_last_chunk::<4>().ok_or(LinkError::Damaged)?;
    let sum = u32::from_le_bytes(*sum);
    if crc32(bytes) != sum {
        return Err(LinkError::Damaged);
    }
    let (core, made_epoch_ms, body) = if version == VERSION {
        carried::<SummaryBody>(version, bytes, text)?
    } else {
        let (core, made, first) = carried::<FirstBody>(version, bytes, text)?;
        (core, made, first.forward())
    };
    let summary = Envelope {
        kind: Kind::Summary,
        schema: SummaryBody::SCHEMA,
        core,
        id: format!("link-{sum:08x}"),
        made_epoch_ms,
        body,
    };
    summary.check().map_err(|error| out_of_range(&error))?;
    Ok(summary)
}

/// Core version, time and body of a link's bytes, which `text` was decoded to.
fn carried<B: Clone + Serialize + DeserializeOwned>(
    version: u32,
    bytes: &[u8],
    text: &str,
) -> Result<(String, u64, B), LinkError> {
    let (carried, rest) =
        postcard::take_from_bytes::<Carried<'_, B>>(bytes).map_err(|_| LinkError::Damaged)?;
    // One summary has one form: a number written in more bytes than it needs is not ours.
    if !rest.is_empty() || write(version, &carried)? != text {
        return Err(LinkError::Damaged);
    }
    Ok((carried.core.into_owned(), carried.made_epoch_ms, carried.body.into_owned()))
}

/// Whether a fragment looks like a summary's link of any version, so that a page can tell it
/// from its own places.
#[must_use]
pub fn is_link(fragment: &str) -> bool {
    taken_apart(fragment.strip_prefix('#').unwrap_or(fragment)).is_some()
}

/// `s`, the version, `.`, the rest.
fn taken_apart(text: &str) -> Option<(u32, &str)> {
    let (version, payload) = text.strip_prefix('s')?.split_once('.')?;
    let plain = (1..=6).contains(&version.len())
        && version.bytes().all(|digit| digit.is_ascii_digit())
        && !(version.len() > 1 && version.starts_with('0'));
    if plain { Some((version.parse().ok()?, payload)) } else { None }
}

fn out_of_range(error: &Unreadable) -> LinkError {
    match error {
        Unreadable::OutOfRange { field } => LinkError::OutOfRange { field },
        _ => LinkError::Damaged,
    }
}
