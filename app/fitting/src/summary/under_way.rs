//! A task that is under way, kept piece by piece, so that a crash loses no more than the last piece.
//!
//! The head is the task as it would be if it ended now, without its samples ([`head`]); the samples
//! come in pieces behind it ([`Piece`]), each with its number, the place of its first sample and a
//! checksum. [`put_together`] makes a task of what is there: up to the first piece that is missing or
//! damaged, and no farther.

use super::checksum::crc32;
use super::unreadable::hold;
use super::{Envelope, TaskBody, Unreadable};
use crate::task::TaskRecord;
use crate::{Sample, Span};
use serde::{Deserialize, Serialize};

/// The largest piece that is read, bytes: some minutes of samples, where one holds half a second.
const MOST_PIECE_BYTES: usize = 1 << 24;

/// A piece of the samples of a task.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    /// Its number, from 0.
    pub number: u32,
    /// The place of its first sample. The last sample of the piece before may come once more: while
    /// it was the newest, its values could still change.
    pub first: u32,
    /// CRC-32 of the samples as text.
    sum: u32,
    /// The samples.
    pub samples: Vec<Sample>,
}

impl Piece {
    /// A piece of these samples, the first of which has the place `first`.
    #[must_use]
    pub fn new(number: u32, first: u32, samples: &[Sample]) -> Self {
        Self { number, first, sum: sum_of(samples), samples: samples.to_vec() }
    }

    /// As text.
    ///
    /// # Errors
    /// [`Unreadable::OutOfRange`] of a number that is none.
    pub fn to_json(&self) -> Result<String, Unreadable> {
        let finite = self.samples.iter().all(|sample| {
            let mut all = sample.axes.iter().chain(&sample.buttons);
            sample.arrival_seconds.is_finite() && all.all(|value| value.is_finite())
        });
        hold(finite, "samples")?;
        serde_json::to_string(self).map_err(|_| Unreadable::OutOfRange { field: "samples" })
    }

    /// Reads a piece; `None` of anything else and of a damaged one.
    #[must_use]
    pub fn read(json: &str) -> Option<Self> {
        if json.len() > MOST_PIECE_BYTES {
            return None;
        }
        let piece: Self = serde_json::from_str(json).ok()?;
        (piece.sum == sum_of(&piece.samples)).then_some(piece)
    }
}

fn sum_of(samples: &[Sample]) -> u32 {
    // Numbers are written so that they come back to the last bit, so the text stands for them.
    serde_json::to_vec(samples).map_or(0, |text| crc32(&text))
}

/// The head of a task: all but its samples.
#[must_use]
pub fn head(task: &Envelope<TaskBody>) -> Envelope<TaskBody> {
    let mut head = task.clone();
    head.body.record.recording.samples.clear();
    head
}

/// The task of a head and the pieces behind it, in their order, `None` in the place of one that
/// cannot be read. Nothing where nothing of the task is there.
///
/// A head counts for what lies before its last sample: where pieces are missing, spans end with
/// the last sample that is there, and repetitions that had not begun by then are left out.
#[must_use]
pub fn put_together(
    head: Envelope<TaskBody>,
    pieces: impl IntoIterator<Item = Option<Piece>>,
) -> Option<Envelope<TaskBody>> {
    let mut samples: Vec<Sample> = Vec::new();
    let mut whole = true;
    for (number, piece) in (0_u32..).zip(pieces) {
        let fits = |piece: &Piece| piece.number == number && piece.first as usize <= samples.len();
        let Some(piece) = piece.filter(fits) else {
            whole = false;
            break;
        };
        let first = piece.first as usize;
        samples.truncate(first);
        samples.extend(piece.samples);
    }
    let last = samples.last()?.arrival_seconds;
    let mut task = head;
    let record = &mut task.body.record;
    record.recording.samples = samples;
    // A still stick sends nothing: then the head's end is the true one.
    let end = record.recording.polled.last().map_or(last, |span| span.to_seconds);
    if !whole {
        cut(record, last.min(end));
    }
    let readable = task.to_json().is_ok() && !task.body.record.repetitions.is_empty();
    readable.then_some(task)
}

/// Ends a record at a time, as if it had been stopped then.
fn cut(record: &mut TaskRecord, end_seconds: f64) {
    let cut = |span: &mut Span| span.to_seconds = span.to_seconds.min(end_seconds);
    let began = |span: Span| span.from_seconds <= end_seconds;
    record.recording.polled.retain(|span| began(*span));
    record.recording.polled.iter_mut().for_each(cut);
    record.repetitions.retain(|one| began(one.span));
    record.repetitions.iter_mut().for_each(|one| cut(&mut one.span));
    record.pauses.retain(|span| began(*span));
    record.pauses.iter_mut().for_each(cut);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Recording;
    use crate::task::{Repetition, TaskAsk};
    use proptest::prelude::*;

    /// A task of so many samples, one every 4 ms, with a repetition each second.
    fn task(samples: usize) -> Envelope<TaskBody> {
        let at = |place: usize| place as f64 * 0.004;
        let sample = |place: usize| Sample {
            arrival_seconds: at(place),
            axes: vec![(place % 7) as f64 / 7.0, -0.1],
            buttons: vec![0.0],
        };
        let span = |from_seconds: f64, to_seconds: f64| Span { from_seconds, to_seconds };
        let end = at(samples) + 0.002;
        let recording = Recording {
            samples: (0..samples).map(sample).collect(),
            polled: vec![span(0.0, end / 2.0), span(end / 2.0, end)],
        };
        let starts = (0_u32..).map(f64::from).take_while(|second| *second < end);
        let repetitions =
            starts.map(|second| Repetition::done(span(second, (second + 1.0).min(end)))).collect();
        let record = TaskRecord::new(TaskAsk::HandsOff { seconds: 20.0 }, recording, repetitions);
        let body = TaskBody {
            fitting: "f".repeat(32),
            order: 0,
            started_epoch_ms: 1,
            series: 0,
            site: None,
            record,
        };
        Envelope::new("a".repeat(32), 1, body)
    }

    /// Pieces as they are kept: each begins with the last sample of the one before.
    fn pieces(task: &Envelope<TaskBody>, length: usize) -> Vec<Option<Piece>> {
        let samples = &task.body.record.recording.samples;
        let starts: Vec<usize> = (0..samples.len()).step_by(length).collect();
        (0_u32..)
            .zip(starts)
            .map(|(number, start)| {
                let first = start.saturating_sub(1);
                let end = (start + length).min(samples.len());
                Some(Piece::new(number, u32::try_from(first).expect("few"), &samples[first..end]))
            })
            .collect()
    }

    fn through_text(pieces: Vec<Option<Piece>>) -> Vec<Option<Piece>> {
        pieces.into_iter().map(|piece| Piece::read(&piece?.to_json().expect("finite"))).collect()
    }

    #[test]
    fn all_pieces_make_the_task_to_the_last_bit() {
        let whole = task(1_000);
        let kept = through_text(pieces(&whole, 125));
        assert_eq!(put_together(head(&whole), kept), Some(whole));
    }

    #[test]
    fn a_changed_digit_is_noticed() {
        let text = pieces(&task(50), 50)[0].as_ref().expect("one").to_json().expect("finite");
        assert!(Piece::read(&text).is_some());
        assert!(Piece::read(&text.replacen("0.004", "0.005", 1)).is_none());
        assert!(Piece::read(&text[..text.len() - 4]).is_none());
        assert!(Piece::read("{}").is_none());
    }

    #[test]
    fn nothing_is_made_of_nothing() {
        let whole = task(100);
        assert_eq!(put_together(head(&whole), []), None);
        assert_eq!(put_together(head(&whole), [None]), None);
    }

    proptest! {
        /// Whichever piece is missing or damaged: what is before it is there, to the last bit, in a
        /// task that can be kept, and nothing in it lies behind its last sample.
        #[test]
        fn up_to_the_first_damage_everything_is_there(
            samples in 1..900_usize,
            length in 1..200_usize,
            damaged in 0..40_usize,
        ) {
            let whole = task(samples);
            let mut kept = pieces(&whole, length);
            let damaged = damaged % kept.len();
            kept[damaged] = None;
            let made = put_together(head(&whole), kept);
            if damaged == 0 {
                prop_assert_eq!(made, None);
                return Ok(());
            }
            let made = made.expect("a task");
            prop_assert!(made.to_json().is_ok());
            let record = &made.body.record;
            let there = &record.recording.samples;
            prop_assert_eq!(there.as_slice(), &whole.body.record.recording.samples[..damaged * length]);
            let last = there.last().expect("samples").arrival_seconds;
            let spans = record.repetitions.iter().map(|one| one.span);
            let spans = spans.chain(record.recording.polled.iter().copied());
            for span in spans {
                prop_assert!(span.to_seconds <= last && span.from_seconds <= span.to_seconds);
            }
        }
    }
}
