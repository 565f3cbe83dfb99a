//! A fitting as it is kept.

use super::envelope::extended;
use super::settings::{brought, check_settings, tidied_settings};
use super::text::is_plain;
use super::unreadable::hold;
use super::{Body, Envelope, Kind, Unreadable, plain_lines, plain_text};
use crate::StickKind;
use crate::sample::MOST_CONTROLS;
use crate::settings::Settings;
use crate::suggest::Wish;
use crate::visit::{MOST_SET_UPS, Visit};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::collections::BTreeSet;

/// The most characters of a label or of a device's name.
pub const MOST_LABEL_CHARACTERS: usize = 80;

/// The most characters of a note.
pub const MOST_NOTE_CHARACTERS: usize = 400;

/// The most minutes a fitting may be planned for.
pub(super) const MOST_MINUTES: u32 = 600;

/// The largest wish: above this a dead zone has no meaning. False movements a minute.
pub const MOST_FALSE_PER_MINUTE: f64 = 160.0;

/// The most lag that smoothing may be allowed, seconds: a whole second is beyond any use.
const MOST_LAG_SECONDS: f64 = 1.0;

const MOST_TASKS: u32 = 10_000;

/// What was seen of the device.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeviceSeen {
    /// Its name, made plain; empty when it has none.
    pub name: String,
    /// How many axes it has.
    pub axes: u32,
    /// How many buttons it has.
    pub buttons: u32,
    /// Whether it follows the open standard layout.
    pub standard: bool,
}

/// The settings chosen for a series that is not in use now.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChosenFor {
    /// The number of the series.
    pub series: u32,
    /// The settings chosen for it.
    pub settings: Settings,
}

/// One visit with one stick.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FittingBody {
    /// What the person calls it; may be empty.
    pub label: String,
    /// The stick.
    pub device: DeviceSeen,
    /// What kind of stick it is.
    #[serde(default)]
    pub stick_kind: StickKind,
    /// The code of the invented person who played, or `practice` for the practice stick; `None`
    /// for a real stick.
    pub practised: Option<String>,
    /// What the person wants of the settings.
    pub wish: Wish,
    /// How many minutes were planned.
    pub minutes: u32,
    /// The settings chosen for the series in use, when they were.
    pub chosen: Option<Settings>,
    /// The same for the other series, at most once for each.
    #[serde(default)]
    pub chosen_aside: Vec<ChosenFor>,
    /// How many tasks are kept for it.
    pub tasks: u32,
    /// The body part that drives the stick, in the person's words.
    pub body_part: Option<String>,
    /// Notes. They never leave in a summary.
    pub notes: Option<String>,
    /// What belongs to the visit and is no measurement.
    #[serde(default)]
    pub visit: Visit,
}

impl Body for FittingBody {
    const KIND: Kind = Kind::Fitting;
    const SCHEMA: u32 = 4;
    // Twice what every text of a visit takes, each as long as it may be and of the widest script.
    const MOST_BYTES: usize = 1 << 20;

    fn check(&self) -> Result<(), Unreadable> {
        hold(is_plain(&self.label, MOST_LABEL_CHARACTERS), "label")?;
        check_device(&self.device)?;
        hold(self.practised.as_deref().is_none_or(is_code), "practised")?;
        let wish = self.wish.false_per_minute;
        hold(wish > 0.0 && wish <= MOST_FALSE_PER_MINUTE, "wish.false_per_minute")?;
        let lag = (0.0..=MOST_LAG_SECONDS).contains(&self.wish.most_lag_seconds);
        hold(lag, "wish.most_lag_seconds")?;
        hold(self.minutes <= MOST_MINUTES, "minutes")?;
        if let Some(settings) = &self.chosen {
            check_settings(settings)?;
        }
        hold(self.chosen_aside.len() <= MOST_SET_UPS, "chosen_aside")?;
        let mut series = BTreeSet::new();
        for aside in &self.chosen_aside {
            hold((aside.series as usize) < MOST_SET_UPS, "chosen_aside.series")?;
            hold(series.insert(aside.series), "chosen_aside.series")?;
            check_settings(&aside.settings)?;
        }
        hold(self.tasks <= MOST_TASKS, "tasks")?;
        let note = |text: &Option<String>| {
            text.as_deref().is_none_or(|text| plain_lines(text, MOST_NOTE_CHARACTERS) == text)
        };
        hold(note(&self.body_part), "body_part")?;
        hold(note(&self.notes), "notes")?;
        hold(self.visit.tidied() == self.visit, "visit")
    }

    /// Schema 1 knew no kind of stick (each was the usual one), no limit of lag, and of the
    /// settings neither direction nor smoothing nor switches nor buttons: all as they come.
    /// Schema 2 knew nothing of the visit but what was measured in it; schema 3 neither what was
    /// wanted of a stick nor what was heard of a device, nor a host.
    fn from_older(schema: u32, json: &str) -> Result<Envelope<Self>, Unreadable> {
        match schema {
            1..=3 => extended(json),
            found => Err(Unreadable::UnknownSchema { found }),
        }
    }

    fn tidied(&self) -> Cow<'_, Self> {
        let note = |text: &Option<String>| {
            text.as_deref()
                .map(|text| plain_lines(text, MOST_NOTE_CHARACTERS))
                .filter(|text| !text.is_empty())
        };
        Cow::Owned(Self {
            label: plain_text(&self.label, MOST_LABEL_CHARACTERS),
            device: DeviceSeen {
                name: plain_text(&self.device.name, MOST_LABEL_CHARACTERS),
                ..self.device.clone()
            },
            wish: Wish {
                most_lag_seconds: brought(self.wish.most_lag_seconds, 0.03, 0.0..=MOST_LAG_SECONDS),
                ..self.wish
            },
            chosen: self.chosen.as_ref().map(tidied_settings),
            chosen_aside: self
                .chosen_aside
                .iter()
                .map(|aside| ChosenFor { settings: tidied_settings(&aside.settings), ..*aside })
                .collect(),
            body_part: note(&self.body_part),
            notes: note(&self.notes),
            visit: self.visit.tidied(),
            ..self.clone()
        })
    }
}

pub(super) fn check_device(device: &DeviceSeen) -> Result<(), Unreadable> {
    hold(is_plain(&device.name, MOST_LABEL_CHARACTERS), "device.name")?;
    hold(device.axes as usize <= MOST_CONTROLS, "device.axes")?;
    hold(device.buttons as usize <= MOST_CONTROLS, "device.buttons")
}

/// Whether a text may be the code of an invented person.
pub(crate) fn is_code(code: &str) -> bool {
    (1..=24).contains(&code.len())
        && code.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'z' | b'-' | b'_'))
}
