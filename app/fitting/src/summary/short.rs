//! A summary as a short text: for a chat message, and for a QR code.
//!
//! Only characters of the alphanumeric mode of QR codes (ISO/IEC 18004, table 5) without the space,
//! which messages break at, and without `%`, which addresses change: digits, capitals, `$*+-./:`.
//! At most [`MOST_CHARACTERS`], so that it fits a code of version 15 at error correction level M
//! (ISO/IEC 18004, table 7). It carries the settings and the main figures; no name, no label, no
//! notes, no recording.
//!
//! Fields stand behind each other with a slash between them, each a key and its values with colons:
//! `STICK-FITTING:1/MADE:2026-05-04/STICK:2:17/DEAD-ZONE:0.12/…/SUM:1A2B3C4D`. What has its usual
//! value is left out. Estimates are the value and the two ends of its 95 % interval. The last field
//! is the CRC-32 of everything before its slash. Shares are of the stick's travel.

use super::checksum::crc32;
use super::chosen::{ChosenCurve, ChosenSettings, ChosenSmoothing, ChosenSwitches};
use super::grid::{Degrees, Grid, PerMinute, Share};
use super::{Answer, Figure, Place, Summary};
use crate::settings::Shape;
use crate::{Direction, Settings};
use std::fmt::Write;

/// The most characters of a short summary.
pub const MOST_CHARACTERS: usize = 600;

/// The newest form. The first asks for a dead zone and a full throw: whatever has both is written in
/// it, so that older pages read it.
const VERSION: u32 = 2;

const NAME: &str = "STICK-FITTING";

/// The most days since 1970: the year 9999, the last that is written with four digits.
const LAST_DAY: u32 = 2_932_896;

/// How directions are written, in the order of [`Direction::EIGHT`].
const DIRECTIONS: [&str; 8] = ["R", "UR", "U", "UL", "L", "DL", "D", "DR"];

/// Why a summary gives no short text, or a text no summary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShortError {
    /// It is no short summary.
    NotOurs,
    /// A newer version of this program made it.
    Newer {
        /// The version of its form.
        version: u32,
    },
    /// It is longer than fits; its file and its link still hold it.
    TooLong {
        /// How many characters it has.
        characters: usize,
    },
    /// It was cut off or changed on the way, or holds what it may not hold.
    Damaged,
}

/// An estimate with its 95 % interval; `low <= value <= high`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Estimated<G> {
    /// The best single number.
    pub value: G,
    /// Lower end.
    pub low: G,
    /// Upper end.
    pub high: G,
}

/// What a short text carries.
#[derive(Clone, Debug, PartialEq)]
pub struct ShortSummary {
    /// The day it was made, days since 1970 UTC.
    pub made_day: u32,
    /// Whether an invented person or the practice stick played.
    pub practised: bool,
    /// How many axes and buttons the stick has.
    pub controls: (u32, u32),
    /// The settings that were chosen.
    pub chosen: ChosenSettings,
    /// Whether their dead zone is one to type in: else there is not enough for any.
    pub has_dead_zone: bool,
    /// The same of their full throw.
    pub has_full_throw: bool,
    /// Comfortable reach by asked direction, in the order of [`Direction::EIGHT`].
    pub reach: Vec<(Direction, Estimated<Share>)>,
    /// Inside this distance from the centre the resting stick stays 95 % of the time.
    pub wander: Option<Estimated<Share>>,
    /// False movements a minute as it is, and with these settings.
    pub false_per_minute: [Option<Estimated<PerMinute>>; 2],
}

impl ShortSummary {
    /// What a short text carries of a summary.
    #[must_use]
    pub fn of(summary: &Summary) -> Self {
        let body = &summary.body;
        let day = summary.made_epoch_ms / 86_400_000;
        let reach = Direction::EIGHT.into_iter().filter_map(|direction| {
            let one = body.reach.iter().find(|reach| reach.asked == direction)?;
            Some((direction, estimated(&one.reach)?))
        });
        let wander = match &body.rest {
            Answer::Known(rest) => estimated(&rest.wander),
            Answer::NotEnough(_) => None,
        };
        Self {
            made_day: u32::try_from(day).unwrap_or(LAST_DAY).min(LAST_DAY),
            practised: body.practised.is_some(),
            controls: (body.device.axes, body.device.buttons),
            chosen: body.chosen.clone(),
            has_dead_zone: body.dead_zone_to_type_in().is_ok(),
            has_full_throw: body.full_throw_to_type_in().is_ok(),
            reach: reach.collect(),
            wander,
            false_per_minute: [&body.before, &body.after]
                .map(|effect| estimated(&effect.false_per_minute)),
        }
    }

    /// As text.
    ///
    /// # Errors
    /// [`ShortError::TooLong`] where it does not fit.
    pub fn to_text(&self) -> Result<String, ShortError> {
        let form = if self.has_dead_zone && self.has_full_throw { 1 } else { VERSION };
        let mut text = format!("{NAME}:{form}");
        let (year, month, day) = date(self.made_day);
        put(&mut text, "MADE", &[format!("{year:04}-{month:02}-{day:02}")]);
        let usual = ChosenSettings::of(&Settings::default());
        if self.practised {
            put(&mut text, "PRACTICE", &[]);
        }
        put(&mut text, "STICK", &[self.controls.0.to_string(), self.controls.1.to_string()]);
        self.put_settings(&mut text, &usual);
        for (direction, reach) in &self.reach {
            let name =
                DIRECTIONS[Direction::EIGHT.iter().position(|one| one == direction).unwrap_or(0)];
            put(&mut text, &format!("REACH-{name}"), &three(reach));
        }
        if let Some(wander) = &self.wander {
            put(&mut text, "REST", &three(wander));
        }
        for (key, rate) in ["FALSE-BEFORE", "FALSE-AFTER"].into_iter().zip(&self.false_per_minute) {
            if let Some(rate) = rate {
                put(&mut text, key, &three(rate));
            }
        }
        let sum = crc32(text.as_bytes());
        put(&mut text, "SUM", &[format!("{sum:08X}")]);
        if text.len() > MOST_CHARACTERS {
            return Err(ShortError::TooLong { characters: text.len() });
        }
        Ok(text)
    }

    fn put_settings(&self, text: &mut String, usual: &ChosenSettings) {
        let chosen = &self.chosen;
        if self.has_dead_zone {
            put(text, "DEAD-ZONE", &[number(chosen.dead_zone)]);
        }
        if self.has_full_throw {
            put(text, "FULL-THROW", &[number(chosen.full_throw)]);
        }
        if chosen.shape != usual.shape {
            put(text, "BY-AXIS", &[]);
        }
        match &chosen.curve {
            ChosenCurve::Linear => {}
            ChosenCurve::Exponent(exponent) => put(text, "EXPONENT", &[number(*exponent)]),
            ChosenCurve::Points(points) => {
                let all: Vec<String> =
                    points.iter().flat_map(|(x, y)| [number(*x), number(*y)]).collect();
                put(text, "POINTS", &all);
            }
        }
        if chosen.centre != usual.centre {
            put(text, "CENTRE", &[number(chosen.centre.right), number(chosen.centre.up)]);
        }
        let (direction, plain) = (chosen.direction, usual.direction);
        for (key, turned) in [
            ("SWAPPED", direction.swapped),
            ("RIGHT-INVERTED", direction.right_inverted),
            ("UP-INVERTED", direction.up_inverted),
        ] {
            if turned {
                put(text, key, &[]);
            }
        }
        if direction.turn != plain.turn {
            put(text, "TURN", &[number(direction.turn)]);
        }
        if (direction.right_gain, direction.up_gain) != (plain.right_gain, plain.up_gain) {
            put(text, "GAIN", &[number(direction.right_gain), number(direction.up_gain)]);
        }
        if let ChosenSmoothing::OneEuro { cutoff, speed_coefficient } = chosen.smoothing {
            put(text, "SMOOTHING", &[number(cutoff), number(speed_coefficient)]);
        }
        if let Some(switches) = chosen.switches {
            let all = [number(switches.on), number(switches.off), number(switches.shortest)];
            put(text, "SWITCH", &all);
        }
        let (buttons, plain) = (chosen.buttons, usual.buttons);
        if buttons.shortest_press != plain.shortest_press {
            put(text, "PRESS", &[number(buttons.shortest_press)]);
        }
        if buttons.bounce != plain.bounce {
            put(text, "BOUNCE", &[number(buttons.bounce)]);
        }
        if let Some(delay) = buttons.repeat_delay {
            put(text, "REPEAT", &[number(delay)]);
        }
    }

    /// From text: as it was written, or with the breaks and small letters that a message made of it.
    ///
    /// # Errors
    /// [`ShortError`] with what is wrong; never panics, whatever the text.
    pub fn from_text(text: &str) -> Result<Self, ShortError> {
        let text: String = text
            .chars()
            .filter(|one| !one.is_whitespace())
            .take(MOST_CHARACTERS + 1)
            .map(|one| one.to_ascii_uppercase())
            .collect();
        let version = text
            .strip_prefix(NAME)
            .and_then(|rest| rest.strip_prefix(':'))
            .and_then(|rest| rest.split('/').next()?.parse::<u32>().ok())
            .ok_or(ShortError::NotOurs)?;
        if version > VERSION {
            return Err(ShortError::Newer { version });
        }
        if text.len() > MOST_CHARACTERS {
            return Err(ShortError::TooLong { characters: text.len() });
        }
        let (before, sum) = text.rsplit_once("/SUM:").ok_or(ShortError::Damaged)?;
        if format!("{:08X}", crc32(before.as_bytes())) != sum {
            return Err(ShortError::Damaged);
        }
        let read = Self::read(before).ok_or(ShortError::Damaged)?;
        // One summary has one form; and what it holds is checked as everything from outside.
        let same = read.to_text().is_ok_and(|again| again == text);
        if same && read.chosen.check().is_ok() { Ok(read) } else { Err(ShortError::Damaged) }
    }

    /// The fields of a whole text. What is odd in them shows when it is written again.
    fn read(text: &str) -> Option<Self> {
        let mut read = Self {
            made_day: 0,
            practised: false,
            controls: (0, 0),
            chosen: ChosenSettings::of(&Settings::default()),
            has_dead_zone: false,
            has_full_throw: false,
            reach: Vec::new(),
            wander: None,
            false_per_minute: [None; 2],
        };
        for field in text.split('/').skip(1) {
            let mut parts = field.split(':');
            let key = parts.next()?;
            let parts: Vec<&str> = parts.collect();
            if let Some(name) = key.strip_prefix("REACH-") {
                let place = DIRECTIONS.iter().position(|one| *one == name)?;
                read.reach.push((Direction::EIGHT[place], back(&parts)?));
                continue;
            }
            match (key, parts.as_slice()) {
                ("MADE", [made]) => read.made_day = day(made)?,
                ("PRACTICE", []) => read.practised = true,
                ("STICK", [axes, buttons]) => {
                    read.controls = (axes.parse().ok()?, buttons.parse().ok()?);
                }
                ("REST", three) => read.wander = Some(back(three)?),
                ("FALSE-BEFORE", three) => read.false_per_minute[0] = Some(back(three)?),
                ("FALSE-AFTER", three) => read.false_per_minute[1] = Some(back(three)?),
                (key, parts) => read.read_setting(key, parts)?,
            }
        }
        Some(read)
    }

    fn read_setting(&mut self, key: &str, parts: &[&str]) -> Option<()> {
        let chosen = &mut self.chosen;
        match (key, parts) {
            ("DEAD-ZONE", [one]) => {
                chosen.dead_zone = grid(one)?;
                self.has_dead_zone = true;
            }
            ("FULL-THROW", [one]) => {
                chosen.full_throw = grid(one)?;
                self.has_full_throw = true;
            }
            ("BY-AXIS", []) => chosen.shape = Shape::PerAxis,
            ("EXPONENT", [one]) => chosen.curve = ChosenCurve::Exponent(grid(one)?),
            ("POINTS", all) => {
                let pair = |two: &[&str]| Some((grid(two.first()?)?, grid(two.get(1)?)?));
                chosen.curve = ChosenCurve::Points(all.chunks(2).map(pair).collect::<Option<_>>()?);
            }
            ("CENTRE", [right, up]) => chosen.centre = Place { right: grid(right)?, up: grid(up)? },
            ("SWAPPED", []) => chosen.direction.swapped = true,
            ("RIGHT-INVERTED", []) => chosen.direction.right_inverted = true,
            ("UP-INVERTED", []) => chosen.direction.up_inverted = true,
            ("TURN", [one]) => chosen.direction.turn = grid::<Degrees>(one)?,
            ("GAIN", [right, up]) => {
                chosen.direction.right_gain = grid(right)?;
                chosen.direction.up_gain = grid(up)?;
            }
            ("SMOOTHING", [cutoff, speed]) => {
                chosen.smoothing = ChosenSmoothing::OneEuro {
                    cutoff: grid(cutoff)?,
                    speed_coefficient: grid(speed)?,
                };
            }
            ("SWITCH", [on, off, shortest]) => {
                chosen.switches = Some(ChosenSwitches {
                    on: grid(on)?,
                    off: grid(off)?,
                    shortest: grid(shortest)?,
                });
            }
            ("PRESS", [one]) => chosen.buttons.shortest_press = grid(one)?,
            ("BOUNCE", [one]) => chosen.buttons.bounce = grid(one)?,
            ("REPEAT", [one]) => chosen.buttons.repeat_delay = Some(grid(one)?),
            _ => return None,
        }
        Some(())
    }
}

/// Whether a text begins as a short summary does, so that a page can tell it from others.
#[must_use]
pub fn is_short(text: &str) -> bool {
    let mut letters = text.trim_start().chars().map(|one| one.to_ascii_uppercase());
    NAME.chars().all(|one| letters.next() == Some(one))
}

fn estimated<G: Grid>(figure: &Figure<G>) -> Option<Estimated<G>> {
    match figure {
        Answer::Known(known) => {
            Some(Estimated { value: known.value, low: known.low, high: known.high })
        }
        Answer::NotEnough(_) => None,
    }
}

fn put(text: &mut String, key: &str, values: &[String]) {
    // Writing into a text cannot fail.
    let _ = write!(text, "/{key}");
    for value in values {
        let _ = write!(text, ":{value}");
    }
}

fn number<G: Grid>(value: G) -> String {
    value.get().to_string()
}

fn three<G: Grid>(estimate: &Estimated<G>) -> [String; 3] {
    [number(estimate.value), number(estimate.low), number(estimate.high)]
}

fn grid<G: Grid>(text: &str) -> Option<G> {
    let number: f64 = text.parse().ok()?;
    let on_grid = G::rounded(number);
    on_grid.within().then_some(on_grid)
}

fn back<G: Grid>(parts: &[&str]) -> Option<Estimated<G>> {
    let [value, low, high] = parts else { return None };
    let all = Estimated { value: grid::<G>(value)?, low: grid(low)?, high: grid(high)? };
    (all.low <= all.value && all.value <= all.high).then_some(all)
}

/// The day of the Gregorian calendar, from days since 1970: eras of 400 years that begin in March,
/// so that the leap day comes last.
const fn date(days: u32) -> (u32, u32, u32) {
    let days = days + 719_468;
    let (era, day) = (days / 146_097, days % 146_097);
    let year = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
    let day = day - (365 * year + year / 4 - year / 100);
    let month = (5 * day + 2) / 153;
    let day = day - (153 * month + 2) / 5 + 1;
    let (year, month) =
        if month < 10 { (year + era * 400, month + 3) } else { (year + era * 400 + 1, month - 9) };
    (year, month, day)
}

/// Days since 1970 of a date as it is written.
fn day(text: &str) -> Option<u32> {
    let mut parts = text.split('-').map(|part| part.parse::<u32>().ok());
    let wanted = (parts.next()??, parts.next()??, parts.next()??);
    // The years up to that day are at most so long, and dates rise with the days.
    let first = wanted.0.checked_sub(1970)?.min(8_030) * 365;
    (first..first + 2_400).take_while(|day| *day <= LAST_DAY).find(|day| date(*day) == wanted)
}

#[cfg(test)]
#[path = "short_tests.rs"]
mod tests;
