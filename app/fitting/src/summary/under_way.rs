//! A task that is under way, kept piece by piece, so that a crash loses no more than the last piece.
//!
//! The head is the task as it would be if it ended now, without its samples ([`head`]); the samples
//! come in pieces behind it ([`Piece`]), each with its number, the place of its first sample and a
//! checksum. [`put_together`] makes a task of what is there: up to the first piece that is missing or
//! damaged, and no farther. Head and pieces of a task are its [`Journal`].

use super::checksum::crc32;
use super::kept_file::{Row, read_row};
use super::unreadable::hold;
use super::{Envelope, TaskBody, Unreadable};
use crate::task::{TaskRecord, TaskRun};
use crate::{Sample, Span};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The largest piece that is written and read, bytes: [`MOST_PIECE_SAMPLES`] with the most controls, each
/// value with all its digits.
const MOST_PIECE_BYTES: usize = 1 << 24;

/// The most samples of one piece: half a second at 8,000 reports a second, the fastest a USB device sends
/// (USB 2.0, section 5.7.4).
pub const MOST_PIECE_SAMPLES: usize = 4_000;

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
    /// [`Unreadable::OutOfRange`] of a number that is none, or of more than is read.
    pub fn to_json(&self) -> Result<String, Unreadable> {
        let finite = self.samples.iter().all(|sample| {
            let mut all = sample.axes.iter().chain(&sample.buttons);
            sample.arrival_seconds.is_finite() && all.all(|value| value.is_finite())
        });
        hold(finite, "samples")?;
        let json =
            serde_json::to_string(self).map_err(|_| Unreadable::OutOfRange { field: "samples" })?;
        hold(json.len() <= MOST_PIECE_BYTES, "samples")?;
        Ok(json)
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

/// The next piece of a running task, what goes into the head with it, and the place of the first sample of
/// the piece after it. `first` is the place of its own first sample. Where there are more samples than one
/// piece holds, because pieces could not be kept for a while, the head ends where the piece does.
#[must_use]
pub fn next_piece(
    run: &mut TaskRun,
    number: u32,
    first: usize,
) -> Option<(Piece, TaskRecord, usize)> {
    let samples = run.samples();
    let end = samples.len().min(first.saturating_add(MOST_PIECE_SAMPLES));
    let piece = Piece::new(number, u32::try_from(first).ok()?, samples.get(first..end)?);
    let behind = samples.get(end).map(|sample| sample.arrival_seconds);
    let mut record = run.without_samples();
    if let Some(behind) = behind {
        cut(&mut record, behind);
    }
    Some((piece, record, end.saturating_sub(1)))
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
    let pieces: Vec<Option<Piece>> = pieces.into_iter().collect();
    let count = pieces.len();
    let (samples, used) = joined(pieces);
    put_on(head, samples, used == count).filter(|task| task.to_json().is_ok())
}

/// The samples of the pieces up to the first that does not go on with those before it, and how many
/// pieces that are.
fn joined(pieces: Vec<Option<Piece>>) -> (Vec<Sample>, usize) {
    let mut samples: Vec<Sample> = Vec::new();
    let mut used = 0;
    for (number, piece) in (0_u32..).zip(pieces) {
        let fits = |piece: &Piece| piece.number == number && piece.first as usize <= samples.len();
        let Some(piece) = piece.filter(fits) else { break };
        samples.truncate(piece.first as usize);
        samples.extend(piece.samples);
        used += 1;
    }
    (samples, used)
}

/// A head with its samples; nothing where nothing began in it.
fn put_on(
    head: Envelope<TaskBody>,
    samples: Vec<Sample>,
    whole: bool,
) -> Option<Envelope<TaskBody>> {
    let last = samples.last()?.arrival_seconds;
    let mut task = head;
    let record = &mut task.body.record;
    record.recording.samples = samples;
    // A still stick sends nothing: then the head's end is the true one.
    let end = record.recording.polled.last().map_or(last, |span| span.to_seconds);
    if !whole {
        cut(record, last.min(end));
    }
    (!task.body.record.repetitions.is_empty()).then_some(task)
}

/// The rows of one task that was under way: its head, and its pieces in their order. A piece has the id of
/// its task, a slash, its number.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Journal {
    /// The head; nothing where it is missing.
    pub head: Option<Row>,
    /// The pieces.
    pub pieces: Vec<Row>,
}

/// What a journal holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Recovered {
    /// A task, as far as it can be read, and how many of the pieces are in it.
    Task(Box<Envelope<TaskBody>>, usize),
    /// Nothing began in it.
    Nothing,
    /// It cannot be read, or its beginning cannot.
    Unreadable(Unreadable),
}

impl Journal {
    /// The journals that lie in some rows, by the id of their task.
    #[must_use]
    pub fn of_rows(rows: Vec<Row>) -> BTreeMap<String, Self> {
        let mut all: BTreeMap<String, Self> = BTreeMap::new();
        for row in rows {
            let (task, is_piece) = match row.id.split_once('/') {
                None => (row.id.clone(), false),
                Some((task, _)) => (task.to_owned(), true),
            };
            let journal = all.entry(task).or_default();
            if is_piece { journal.pieces.push(row) } else { journal.head = Some(row) }
        }
        let number = |row: &Row| row.id.split_once('/').and_then(|(_, at)| at.parse::<u32>().ok());
        for journal in all.values_mut() {
            journal.pieces.sort_by_key(|row| number(row).unwrap_or(u32::MAX));
        }
        all
    }

    /// What it holds.
    #[must_use]
    pub fn read(&self) -> Recovered {
        let missing = Unreadable::OutOfRange { field: "pieces" };
        let head = match self.head.as_ref().map(read_row::<TaskBody>) {
            None => return Recovered::Unreadable(missing),
            Some(Err(why)) => return Recovered::Unreadable(why),
            Some(Ok(head)) => head,
        };
        let (samples, used) =
            joined(self.pieces.iter().map(|row| Piece::read(&row.json)).collect());
        if used == 0 && !self.pieces.is_empty() {
            return Recovered::Unreadable(missing);
        }
        match put_on(head, samples, used == self.pieces.len()) {
            None => Recovered::Nothing,
            Some(task) => match task.to_json() {
                Ok(_) => Recovered::Task(Box::new(task), used),
                Err(why) => Recovered::Unreadable(why),
            },
        }
    }

    /// All its rows.
    pub fn into_rows(self) -> impl Iterator<Item = Row> {
        self.head.into_iter().chain(self.pieces)
    }
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

    /// Pieces that could not be kept for long: what comes then is cut into pieces that are read again, and
    /// until the last of them no head says more than the pieces hold.
    #[test]
    fn what_waited_long_comes_in_several_pieces() {
        let at = |place: u32| 1.0 + f64::from(place) * 0.000_125;
        let state = |place: u32| Sample {
            arrival_seconds: at(place),
            // With all their digits, as from no grid.
            axes: (0..32).map(|axis| -1.0 / f64::from(3 + axis + place % 7)).collect(),
            buttons: vec![1.0 / 3.0; 32],
        };
        let ask = TaskAsk::QuietRest { seconds: 60.0 };
        let mut run = TaskRun::start(
            ask,
            crate::StickAxes::default(),
            crate::task::Known::default(),
            1.0,
            &state(0),
        );
        run.command(1.0, crate::task::Command::Begin);
        for place in 1..30_000 {
            run.poll(at(place), Some(&state(place)));
        }
        let mut rows = Vec::new();
        let (mut number, mut first) = (0, 0);
        loop {
            let (piece, record, next) = next_piece(&mut run, number, first).expect("a piece");
            let text = piece.to_json().expect("it may be written");
            assert_eq!(Piece::read(&text).as_ref(), Some(&piece), "it is read");
            let mut top = task(1);
            top.body.record = record;
            rows.retain(|row: &Row| row.id.contains('/'));
            let id = format!("{}/{number:08}", top.id);
            rows.push(Row { id, fitting: String::new(), json: text });
            let json = head(&top).to_json().expect("json");
            rows.push(Row { id: top.id.clone(), fitting: String::new(), json });
            let journal = Journal::of_rows(rows.clone()).remove(&top.id).expect("one");
            let Recovered::Task(read, used) = journal.read() else { panic!("{number}") };
            assert_eq!(used, number as usize + 1);
            let there = &read.body.record.recording;
            assert_eq!(there.samples, run.samples()[..=next]);
            let end = there.polled.last().expect("looked").to_seconds;
            if next + 1 == run.samples().len() {
                assert!(number > 5);
                break;
            }
            let after = run.samples()[next + 1].arrival_seconds;
            assert!(end <= after, "it was not still behind what is there: {end} {after}");
            (number, first) = (number + 1, next);
        }
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
