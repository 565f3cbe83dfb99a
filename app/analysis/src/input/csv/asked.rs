//! Repetitions and spans of a recording in CSV: whether they lie in it, and say what was asked.

use super::keys::{Place, WHOLE, list};
use crate::{Trouble, Wrong};
use fitting::summary::plain_text;
use fitting::task::{Asking, Outcome, PressAsk, Repetition, ShortPush, TaskKind};
use fitting::{Recording, Span};

/// A repetition and its line.
pub(super) type Placed = (u64, Repetition);

/// A still stick may send nothing for this long before a repetition ends, seconds; for longer it has
/// to be said that somebody was looking.
const STILL_SECONDS: f64 = 0.5;

/// What was said of the whole task.
pub(super) struct Said<'a> {
    pub(super) kind: TaskKind,
    pub(super) asking: Asking,
    pub(super) levels: &'a [f64],
    pub(super) buttons: &'a [usize],
}

/// From the first to the last that is known of a recording; nothing of an empty one.
pub(super) fn extent(recording: &Recording) -> Option<Span> {
    let samples = recording.samples.iter().map(|sample| sample.arrival_seconds);
    let polled = recording.polled.iter().flat_map(|span| [span.from_seconds, span.to_seconds]);
    samples.chain(polled).fold(None, |span: Option<Span>, at| {
        Some(span.map_or(Span { from_seconds: at, to_seconds: at }, |span| Span {
            from_seconds: span.from_seconds.min(at),
            to_seconds: span.to_seconds.max(at),
        }))
    })
}

/// Somebody looked while there was something to be seen. `line` is the last that says when.
pub(super) fn check_looks(recording: &Recording, line: Option<u64>) -> Result<(), Trouble> {
    let samples = &recording.samples;
    let (Some(first), Some(last)) = (samples.first(), samples.last()) else { return Ok(()) };
    let of_all = Span { from_seconds: first.arrival_seconds, to_seconds: last.arrival_seconds };
    match recording.polled.last() {
        Some(looked) if looked.to_seconds < of_all.from_seconds => {
            Err(Trouble { line, ..outside(0, "polled_s", of_all) })
        }
        _ => Ok(()),
    }
}

/// Whether spans lie within the recording.
pub(super) fn check_spans(
    of_all: Option<Span>,
    key: &str,
    spans: &[(u64, Span)],
) -> Result<(), Trouble> {
    for (line, span) in spans {
        let within = |all: &Span| {
            span.from_seconds >= all.from_seconds - STILL_SECONDS
                && span.to_seconds <= all.to_seconds + STILL_SECONDS
        };
        if let Some(all) = of_all.filter(|all| !within(all)) {
            return Err(outside(*line, key, all));
        }
    }
    Ok(())
}

fn outside(line: u64, key: &str, all: Span) -> Trouble {
    let recording = format!("{} to {}", all.from_seconds, all.to_seconds);
    Trouble::at(line, key, Wrong::Outside { recording })
}

/// The repetitions, where each lies in the recording and says what its task has to know: one that was
/// done and does not is in none of the figures. What was said once for the whole task need not be said
/// again.
pub(super) fn checked(
    mut repetitions: Vec<Placed>,
    of_all: Option<Span>,
    said: &Said<'_>,
) -> Result<Vec<Repetition>, Trouble> {
    let spans: Vec<(u64, Span)> = repetitions.iter().map(|(line, one)| (*line, one.span)).collect();
    check_spans(of_all, "repetition_s", &spans)?;
    for (line, one) in &mut repetitions {
        // What a person did of its own accord is sorted by where it went.
        let free = said.asking == Asking::FreeMovement && said.kind != TaskKind::Presses;
        if one.outcome != Outcome::Done || free {
            continue;
        }
        let needed = match said.kind {
            TaskKind::Presses => {
                one.press = one.press.or(Some(PressAsk::Once));
                one.button = one.button.or(only(said.buttons));
                one.button.is_none().then_some("button=, the number of the button, from 0")
            }
            TaskKind::Reach | TaskKind::Return | TaskKind::Sustained | TaskKind::Hold
                if one.direction.is_none() =>
            {
                Some("direction=, the way that was asked")
            }
            TaskKind::Hold => {
                one.level = one.level.or(only(said.levels));
                let level = "level=, the share of own reach that was held, from 0 to 1";
                one.level.is_none().then_some(level)
            }
            _ => None,
        };
        if let Some(needed) = needed {
            return Err(Trouble::at(*line, "repetition_s", Wrong::Needed(needed)));
        }
    }
    Ok(repetitions.into_iter().map(|(_, one)| one).collect())
}

fn only<T: Copy>(of: &[T]) -> Option<T> {
    if let [one] = of { Some(*one) } else { None }
}

fn short(done: &mut Repetition) -> &mut ShortPush {
    done.queried_short.get_or_insert(ShortPush { reach: 0.0, usual: 0.0 })
}

/// `from,to` and then, in any order, an outcome and `field=value`.
pub(super) fn repetition(at: Place<'_>, text: &str) -> Result<Repetition, Trouble> {
    let mut parts = text.splitn(3, ',');
    let (from, to) = (parts.next().unwrap_or(""), parts.next().unwrap_or(""));
    let mut done = Repetition::done(at.span(&format!("{from},{to}"))?);
    for part in list(parts.next().unwrap_or("")) {
        let Some((field, value)) = part.split_once('=') else {
            done.outcome = at.one_of(part, "an outcome")?;
            continue;
        };
        match field.trim() {
            "direction" => done.direction = Some(at.one_of(value, "the name of a direction")?),
            "level" => done.level = Some(at.share(value, WHOLE)?),
            "mark" => done.mark = Some(at.one_of(value, "a reason")?),
            "queried_degrees" => done.queried_degrees = Some(at.number(value)?),
            "queried_reach" => short(&mut done).reach = at.share(value, WHOLE)?,
            "usual_reach" => short(&mut done).usual = at.share(value, WHOLE)?,
            "button" => done.button = Some(at.count(value)?),
            "press" => done.press = Some(at.one_of(value, "once, long or twice")?),
            "effort" => {
                let effort = u8::try_from(at.count(value)?).ok().filter(|effort| *effort <= 10);
                done.effort = Some(effort.ok_or_else(|| at.wants("0 to 10", value))?);
            }
            unknown => {
                let unknown = plain_text(unknown, 40);
                return Err(Trouble::at(at.line, at.key, Wrong::Unknown(unknown)));
            }
        }
    }
    Ok(done)
}
