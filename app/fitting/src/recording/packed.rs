//! A recording as it is kept: small, and the same to the last bit when it is read again.
//!
//! The samples are written column by column (times, each axis, each button) in blocks of one shape,
//! as whole numbers wherever that loses nothing ([`super::column`]), with a CRC-32 behind them, then
//! compressed (DEFLATE, RFC 1951) and put into text (base64url, RFC 4648 section 5, no padding). The
//! form is described for others in `public/schema/README.md`.

use super::bytes::{Reader, put_unsigned};
use super::column::{put_times, put_values, times, values};
use super::{Recording, Span};
use crate::Sample;
use crate::sample::MOST_CONTROLS;
use crate::summary::checksum::crc32;
use data_encoding::BASE64URL_NOPAD;
use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::decompress_to_vec_with_limit;
use serde::de::Error as _;
use serde::ser::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// The form that is written.
const VERSION: u8 = 1;

/// The most memory that samples may take, bytes, when they are written and when they are read. With
/// two axes and seventeen buttons some 17 minutes of unbroken movement in one task; what asks for more
/// was not written by a person's stick.
pub(crate) const MOST_MEMORY_BYTES: usize = 60 << 20;

/// The most bytes that samples may unpack to, in columns: whatever fits [`MOST_MEMORY_BYTES`] fits here.
/// A value takes 8 bytes at most, what is said of its column and its block beside it less than a quarter
/// of a sample's memory (a test holds that).
const MOST_COLUMN_BYTES: usize = MOST_MEMORY_BYTES / 4 * 5;

/// How hard to try, 0 to 10: beyond this the text gets no smaller.
const EFFORT: u8 = 6;

/// What a sample takes beside its values, bytes: at most, on any machine, so that all refuse the same.
const SAMPLE_BYTES: usize = 64;

/// The memory that a sample takes, bytes.
#[must_use]
pub(crate) const fn memory_bytes(sample: &Sample) -> usize {
    SAMPLE_BYTES + 8 * (sample.axes.len() + sample.buttons.len())
}

/// The form in which it is written: packed. Schema 1 to 3 of a task had the samples as a list, which
/// is also easy to write by hand; both are read.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    #[serde(default, skip_serializing)]
    samples: Option<Vec<Sample>>,
    /// How many samples are packed.
    count: Option<usize>,
    packed: Option<String>,
    polled: Vec<Span>,
}

impl Serialize for Recording {
    fn serialize<S: Serializer>(&self, into: S) -> Result<S::Ok, S::Error> {
        let packed = pack(&self.samples);
        let written = Written {
            samples: None,
            count: Some(self.samples.len()),
            packed: Some(packed.ok_or_else(|| S::Error::custom("too many samples to read again"))?),
            polled: self.polled.clone(),
        };
        written.serialize(into)
    }
}

impl<'de> Deserialize<'de> for Recording {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let samples = match Written::deserialize(from)? {
            Written { samples: Some(samples), count: None, packed: None, polled } => {
                return Ok(Self { samples, polled });
            }
            Written { samples: None, count: Some(count), packed: Some(packed), polled } => {
                let samples = unpack(&packed).filter(|samples| samples.len() == count);
                samples.map(|samples| Self { samples, polled })
            }
            Written { .. } => None,
        };
        samples.ok_or_else(|| D::Error::custom("samples are damaged"))
    }
}

/// Samples as text; `None` of more than any recording may hold, which could not be read again.
#[must_use]
pub(super) fn pack(samples: &[Sample]) -> Option<String> {
    let few = |sample: &Sample| {
        sample.axes.len() <= MOST_CONTROLS && sample.buttons.len() <= MOST_CONTROLS
    };
    let memory: usize = samples.iter().map(memory_bytes).sum();
    if memory > MOST_MEMORY_BYTES || !samples.iter().all(few) {
        return None;
    }
    let mut out = columns(samples);
    let sum = crc32(&out);
    out.extend(sum.to_le_bytes());
    Some(BASE64URL_NOPAD.encode(&compress_to_vec(&out, EFFORT)))
}

/// Samples column by column, behind the version.
fn columns(samples: &[Sample]) -> Vec<u8> {
    let mut out = vec![VERSION];
    let shape = |sample: &Sample| (sample.axes.len(), sample.buttons.len());
    for block in samples.chunk_by(|one, other| shape(one) == shape(other)) {
        let Some(first) = block.first() else { continue };
        let (axes, buttons) = shape(first);
        for number in [block.len(), axes, buttons] {
            put_unsigned(&mut out, number as u64);
        }
        let at: Vec<f64> = block.iter().map(|sample| sample.arrival_seconds).collect();
        put_times(&mut out, &at);
        for axis in 0..axes {
            let all: Vec<f64> = block.iter().map(|sample| sample.axes[axis]).collect();
            put_values(&mut out, &all);
        }
        for button in 0..buttons {
            let all: Vec<f64> = block.iter().map(|sample| sample.buttons[button]).collect();
            put_values(&mut out, &all);
        }
    }
    out
}

/// Samples from text; `None` where it is damaged, or asks for more than any recording holds.
#[must_use]
pub(super) fn unpack(text: &str) -> Option<Vec<Sample>> {
    let bytes = BASE64URL_NOPAD.decode(text.as_bytes()).ok()?;
    let bytes = decompress_to_vec_with_limit(&bytes, MOST_COLUMN_BYTES).ok()?;
    let (bytes, sum) = bytes.split_last_chunk::<4>()?;
    if crc32(bytes) != u32::from_le_bytes(*sum) {
        return None;
    }
    let mut from = Reader::new(bytes);
    if from.byte()? != VERSION {
        return None;
    }
    let mut samples: Vec<Sample> = Vec::new();
    let mut memory = 0_usize;
    while !from.is_at_end() {
        let mut number = || usize::try_from(from.unsigned()?).ok();
        let (count, axes, buttons) = (number()?, number()?, number()?);
        if count == 0 || axes > MOST_CONTROLS || buttons > MOST_CONTROLS {
            return None;
        }
        memory = memory.checked_add(count.checked_mul(SAMPLE_BYTES + 8 * (axes + buttons))?)?;
        if memory > MOST_MEMORY_BYTES {
            return None;
        }
        let first = samples.len();
        let sample = |arrival_seconds| Sample {
            arrival_seconds,
            axes: Vec::with_capacity(axes),
            buttons: Vec::with_capacity(buttons),
        };
        samples.extend(times(&mut from, count)?.into_iter().map(sample));
        for _ in 0..axes {
            for (sample, value) in samples[first..].iter_mut().zip(values(&mut from, count)?) {
                sample.axes.push(value);
            }
        }
        for _ in 0..buttons {
            for (sample, value) in samples[first..].iter_mut().zip(values(&mut from, count)?) {
                sample.buttons.push(value);
            }
        }
    }
    Some(samples)
}

#[cfg(test)]
#[path = "packed_tests.rs"]
mod tests;
