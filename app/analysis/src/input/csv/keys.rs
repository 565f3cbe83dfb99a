//! What was asked: the lines `# key: value` before the columns.

use super::asked::{self, Placed};
use crate::{Trouble, Wrong};
use fitting::estimate::StickTrait;
use fitting::stick_kind::{Mover, Moves};
use fitting::summary::plain_text;
use fitting::task::{
    Asking, CueKind, Known, KnownReach, Meanwhile, Repetition, TaskAsk, TaskKind, TaskRecord,
};
use fitting::{AxisPick, Direction, Position, Recording, Span, StickAxes, StickKind};
use serde::de::DeserializeOwned;
use serde_json::Value;

/// The most gaps that are taken out of what was watched.
const MOST_GAPS: usize = 1_000;

/// No place is farther than this from the centre along an axis, share of travel: from one end to
/// the other.
const FARTHEST: f64 = 2.0;

/// No level or radius is above this: all of it.
pub(super) const WHOLE: f64 = 1.0;

/// All keys.
const KEYS: [&str; 22] = [
    "stick_recording",
    "task",
    "asking",
    "cue",
    "meanwhile",
    "directions",
    "levels_share",
    "buttons",
    "rounds",
    "seconds",
    "stick_right",
    "stick_down",
    "centre_share",
    "quiet_radius_share",
    "known_reach",
    "stick_kind",
    "mover",
    "polled_s",
    "gap_s",
    "pause_s",
    "repetition_s",
    "muscle_s",
];

/// What the keys said so far.
#[derive(Default)]
pub(super) struct Keys {
    pub(super) version: Option<u32>,
    task: Option<TaskKind>,
    asking: Asking,
    cue: CueKind,
    meanwhile: Option<Meanwhile>,
    directions: Option<Vec<Direction>>,
    levels: Option<Vec<f64>>,
    rounds: Option<usize>,
    seconds: Option<f64>,
    buttons: Option<Vec<usize>>,
    right: Option<AxisPick>,
    down: Option<AxisPick>,
    known: Known,
    mover: Option<Mover>,
    polled: Option<Vec<(u64, Span)>>,
    gaps: Vec<(u64, Span)>,
    pauses: Vec<(u64, Span)>,
    repetitions: Option<Vec<Placed>>,
    muscle_seconds: f64,
}

/// Where a value stands, for what is said of it.
#[derive(Clone, Copy)]
pub(super) struct Place<'a> {
    pub(super) line: u64,
    pub(super) key: &'a str,
}

impl Place<'_> {
    pub(super) fn wants(self, wanted: &'static str, found: &str) -> Trouble {
        Trouble::at(self.line, self.key, Wrong::Value { found: plain_text(found, 40), wanted })
    }

    pub(super) fn number(self, text: &str) -> Result<f64, Trouble> {
        let number = text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
        number.ok_or_else(|| self.wants("a number", text))
    }

    pub(super) fn count(self, text: &str) -> Result<usize, Trouble> {
        text.trim().parse().map_err(|_| self.wants("a whole number", text))
    }

    /// One of a few, by its name in everything kept.
    pub(super) fn one_of<T: DeserializeOwned>(
        self,
        text: &str,
        wanted: &'static str,
    ) -> Result<T, Trouble> {
        let name = Value::String(text.trim().to_owned());
        serde_json::from_value(name).map_err(|_| self.wants(wanted, text))
    }

    pub(super) fn span(self, text: &str) -> Result<Span, Trouble> {
        let (from, to) =
            text.split_once(',').ok_or_else(|| self.wants("a beginning and an end", text))?;
        let (from_seconds, to_seconds) = (self.number(from)?, self.number(to)?);
        if from_seconds > to_seconds {
            return Err(self.wants("an end after the beginning", text));
        }
        Ok(Span { from_seconds, to_seconds })
    }

    /// A share: not percent.
    pub(super) fn share(self, text: &str, most: f64) -> Result<f64, Trouble> {
        let share = self.number(text)?;
        if share.abs() <= most {
            return Ok(share);
        }
        let found = format!("{share}, and a share is at most {most}");
        let todo = format!("If this is percent, write {}", share / 100.0);
        Err(Trouble::at(self.line, self.key, Wrong::Implausible { found, todo }))
    }

    fn position(self, text: &str) -> Result<Position, Trouble> {
        let (right, up) = text.split_once(',').ok_or_else(|| self.wants("right and up", text))?;
        Ok(Position::new(self.share(right, FARTHEST)?, self.share(up, FARTHEST)?))
    }

    fn pick(self, text: &str) -> Result<AxisPick, Trouble> {
        let (inverted, name) = match text.trim().strip_prefix('-') {
            Some(name) => (true, name),
            None => (false, text.trim()),
        };
        let index = match name.strip_prefix("axis") {
            Some(index) => self.count(index)?,
            None if name == "none" => AxisPick::NONE.index,
            None => return Err(self.wants("the name of an axis, or none", text)),
        };
        Ok(AxisPick { index, inverted })
    }
}

/// The values of a list; of nothing there are none.
pub(super) fn list(text: &str) -> impl Iterator<Item = &str> {
    text.split(',').filter(move |_| !text.trim().is_empty())
}

impl Keys {
    /// Whether a line without its `#` is one of a key.
    pub(super) fn knows(told: &str) -> bool {
        told.split_once(':').is_some_and(|(key, _)| KEYS.contains(&key.trim()))
    }

    /// Whether it was said when somebody was looking.
    pub(super) fn says_when(&self) -> bool {
        self.polled.is_some()
    }

    /// How long it was asked for, seconds.
    pub(super) fn seconds(&self) -> Option<f64> {
        self.seconds
    }

    /// Takes one line without its `#`. A line without a colon is a remark.
    pub(super) fn take(&mut self, line: u64, told: &str) -> Result<(), Trouble> {
        let Some((key, value)) = told.split_once(':') else { return Ok(()) };
        let (key, value) = (key.trim(), value.trim());
        let at = Place { line, key };
        match key {
            "stick_recording" => {
                self.version = Some(u32::try_from(at.count(value)?).unwrap_or(u32::MAX));
            }
            "task" => self.task = Some(at.one_of(value, "the name of a task")?),
            "asking" => {
                self.asking = at.one_of(value, "told, shown, free_movement or moved_by_helper")?;
            }
            "cue" => self.cue = at.one_of(value, "at_place, central or spoken")?,
            "meanwhile" => {
                self.meanwhile =
                    Some(at.one_of(value, "talking, watching, pressing, breathing or swallowing")?);
            }
            "directions" => {
                let one = |name| at.one_of(name, "the name of a direction");
                self.directions = Some(list(value).map(one).collect::<Result<_, _>>()?);
            }
            "levels_share" => {
                let levels = list(value).map(|level| at.share(level, WHOLE));
                self.levels = Some(levels.collect::<Result<_, _>>()?);
            }
            "buttons" => {
                let buttons = list(value).map(|button| at.count(button));
                self.buttons = Some(buttons.collect::<Result<_, _>>()?);
            }
            "rounds" => self.rounds = Some(at.count(value)?),
            "seconds" => self.seconds = Some(at.number(value)?),
            "stick_right" => self.right = Some(at.pick(value)?),
            "stick_down" => self.down = Some(at.pick(value)?),
            "centre_share" => self.known.centre = at.position(value)?,
            "quiet_radius_share" => self.known.quiet_radius = at.share(value, WHOLE)?,
            "known_reach" => {
                let (asked, end) =
                    value.split_once(',').ok_or_else(|| at.wants("direction and place", value))?;
                let asked = at.one_of(asked, "the name of a direction")?;
                self.known.reach.push(KnownReach { asked, end: at.position(end)? });
            }
            "stick_kind" => self.known.kind = stick_kind(at, value)?,
            "mover" => self.mover = Some(at.one_of(value, "limb, chin, lip or breath")?),
            "polled_s" => {
                let polled = self.polled.get_or_insert_default();
                if value != "none" {
                    polled.push((line, at.span(value)?));
                }
            }
            "gap_s" if self.gaps.len() == MOST_GAPS => {
                return Err(Trouble::at(line, key, Wrong::TooMany("gaps")));
            }
            "gap_s" => self.gaps.push((line, at.span(value)?)),
            "pause_s" => self.pauses.push((line, at.span(value)?)),
            "repetition_s" => {
                let repetitions = self.repetitions.get_or_insert_default();
                if value != "none" {
                    repetitions.push((line, asked::repetition(at, value)?));
                }
            }
            "muscle_s" => self.muscle_seconds = at.number(value)?,
            unknown => {
                let unknown = plain_text(unknown, 40);
                return Err(Trouble::at(line, "key", Wrong::Unknown(unknown)));
            }
        }
        Ok(())
    }

    /// The record of these keys and samples; what was not said is what it usually is.
    pub(super) fn record(
        self,
        mut recording: Recording,
        task: Option<TaskKind>,
    ) -> Result<TaskRecord, Trouble> {
        let missing =
            |key: &str| Trouble { field: Some(key.to_owned()), ..Trouble::of(Wrong::Missing) };
        // The first two axes, as far as there are any.
        let axes = recording.samples.first().map_or(2, |first| first.axes.len());
        let there = |pick: AxisPick| if pick.index < axes { pick } else { AxisPick::NONE };
        let usual = StickAxes::default();
        let axes = StickAxes {
            horizontal: self.right.unwrap_or_else(|| there(usual.horizontal)),
            vertical: self.down.unwrap_or_else(|| there(usual.vertical)),
        };
        let kind = self.task.or(task).ok_or_else(|| missing("task"))?;
        recording.polled = match &self.polled {
            Some(polled) => polled.iter().map(|(_, span)| *span).collect(),
            None => whole(&recording),
        };
        let of_all = asked::extent(&recording);
        asked::check_spans(of_all, "gap_s", &self.gaps)?;
        asked::check_spans(of_all, "pause_s", &self.pauses)?;
        let told = self.polled.iter().flatten().chain(&self.gaps).map(|(line, _)| *line).max();
        recording.polled =
            without(recording.polled, self.gaps.into_iter().map(|(_, gap)| gap).collect());
        asked::check_looks(&recording, told)?;
        let rests = matches!(
            kind,
            TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest | TaskKind::FreeMovement
        );
        let repetitions = match self.repetitions {
            Some(repetitions) => {
                let said = asked::Said {
                    kind,
                    asking: self.asking,
                    levels: self.levels.as_deref().unwrap_or_default(),
                    buttons: self.buttons.as_deref().unwrap_or_default(),
                };
                asked::checked(repetitions, of_all, &said)?
            }
            // A rest is one stretch from beginning to end.
            None if rests => whole(&recording).into_iter().map(Repetition::done).collect(),
            None => {
                let each = "from,to of each push, hold or press, and what was asked in it";
                return Err(Trouble {
                    field: Some("repetition_s".to_owned()),
                    ..Trouble::of(Wrong::Needed(each))
                });
            }
        };
        let seconds = self.seconds.unwrap_or_else(|| recording.watched_seconds());
        let directions = self.directions.unwrap_or_else(|| {
            Direction::EIGHT
                .into_iter()
                .filter(|asked| repetitions.iter().any(|done| done.direction == Some(*asked)))
                .collect()
        });
        let rounds = self.rounds.unwrap_or_else(|| repetitions.len() / directions.len().max(1));
        let levels = self.levels.unwrap_or_else(|| levels_of(&repetitions));
        let level = || levels.first().copied().ok_or_else(|| missing("levels_share"));
        let ask = match kind {
            TaskKind::HandsOff => TaskAsk::HandsOff { seconds },
            TaskKind::QuietRest => TaskAsk::QuietRest { seconds },
            TaskKind::FreeMovement => TaskAsk::FreeMovement { seconds },
            TaskKind::BusyRest => {
                let meanwhile = self.meanwhile.ok_or_else(|| missing("meanwhile"))?;
                TaskAsk::BusyRest { seconds, meanwhile }
            }
            TaskKind::Reach => TaskAsk::Reach { directions, rounds },
            TaskKind::Hold => TaskAsk::Hold { directions, levels, rounds, seconds },
            TaskKind::Sustained => TaskAsk::Sustained { directions, level: level()?, seconds },
            TaskKind::Return => TaskAsk::Return { directions, level: level()?, rounds },
            TaskKind::Presses => {
                let buttons = self.buttons.ok_or_else(|| missing("buttons"))?;
                TaskAsk::Presses { buttons, rounds }
            }
        };
        let mut known = self.known;
        known.kind.mover = self.mover.unwrap_or(known.kind.mover);
        Ok(TaskRecord {
            known,
            axes,
            pauses: self.pauses.into_iter().map(|(_, pause)| pause).collect(),
            muscle_seconds: self.muscle_seconds,
            asking: self.asking,
            cue: self.cue,
            ..TaskRecord::new(ask, recording, repetitions)
        })
    }
}

/// The levels of repetitions, each once.
fn levels_of(repetitions: &[Repetition]) -> Vec<f64> {
    let mut levels: Vec<f64> = repetitions.iter().filter_map(|done| done.level).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    levels
}

/// From the first line to the last, or from the first look to the last where looks are told.
fn whole(recording: &Recording) -> Vec<Span> {
    let samples = &recording.samples;
    let from = recording
        .polled
        .first()
        .map(|span| span.from_seconds)
        .or_else(|| samples.first().map(|sample| sample.arrival_seconds));
    let to = recording
        .polled
        .last()
        .map(|span| span.to_seconds)
        .or_else(|| samples.last().map(|sample| sample.arrival_seconds));
    from.zip(to)
        .map(|(from_seconds, to_seconds)| Span { from_seconds, to_seconds })
        .into_iter()
        .collect()
}

/// Spans without the gaps.
fn without(mut spans: Vec<Span>, mut gaps: Vec<Span>) -> Vec<Span> {
    gaps.sort_by(|one, other| one.from_seconds.total_cmp(&other.from_seconds));
    for gap in gaps {
        // In order, so that only the last can be cut by what is still to come.
        let Some(at) = spans.iter().rposition(|span| span.shared_with(gap).is_some()) else {
            continue;
        };
        let span = spans.remove(at);
        let after = Span { from_seconds: gap.to_seconds, ..span };
        if after.from_seconds < after.to_seconds {
            spans.insert(at, after);
        }
        let before = Span { to_seconds: gap.from_seconds, ..span };
        if before.from_seconds < before.to_seconds {
            spans.insert(at, before);
        }
    }
    spans
}

fn stick_kind(at: Place<'_>, text: &str) -> Result<StickKind, Trouble> {
    let mut kind = StickKind::default();
    for name in list(text) {
        match at.one_of(name, "what it is about the stick")? {
            StickTrait::OneAxis => kind.moves = Moves::OneAxis,
            StickTrait::OneWay => kind.moves = Moves::OneWay,
            StickTrait::NotSelfCentring => kind.centres_itself = false,
            StickTrait::Force => kind.force = true,
            StickTrait::Switches => kind.switches = true,
            StickTrait::Breath => kind.mover = Mover::Breath,
        }
    }
    Ok(kind)
}
