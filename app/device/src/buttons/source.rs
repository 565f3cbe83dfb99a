//! What can be pressed, and how well.

use fitting::measure::ButtonPresses;
use fitting::statistics::counts::clopper_pearson;
use fitting::visit::{AddedSwitch, ButtonNote, Ease};
use std::cmp::Reverse;

/// More often than this a press has to come when it is meant, for certain, to be called reliable:
/// our own limit.
const RELIABLE_SHARE: f64 = 0.5;
/// At most this often a press may come when it is meant to be called unreliable: our own limit.
const UNRELIABLE_SHARE: f64 = 0.8;
/// From so many unmeant presses a minute on a button is called unreliable: our own limit.
const UNMEANT_PER_MINUTE: f64 = 2.0;

/// Something that can be pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pressed {
    /// A button of the stick, by its number from 0.
    Button(u32),
    /// A switch beside it, by its place from 0.
    Switch(usize),
}

/// What was recorded of presses of a button.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reliability {
    /// Nothing yet.
    NotRecorded,
    /// So many presses were asked for.
    Recorded {
        /// Presses that came.
        made: usize,
        /// Presses that were asked for.
        asked: usize,
        /// 95 % interval of the share that comes (Clopper and Pearson 1934).
        share: (f64, f64),
        /// Presses nobody asked for, a minute; the lower end of their interval, where there is one.
        unmeant_per_minute: Option<f64>,
    },
}

/// The same in a word: better ones first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ReliabilityClass {
    /// It comes more often than not, for certain.
    Reliable,
    /// Nothing was recorded, or not enough to tell.
    CannotTell,
    /// Too often it does not come, or comes unmeant, for certain.
    Unreliable,
}

impl Reliability {
    /// Of a button that was asked for in the presses task.
    #[must_use]
    pub fn of(presses: &ButtonPresses) -> Self {
        let asked = presses.made + presses.missed;
        let unmeant_per_minute = presses.unwanted_per_minute.ok().map(|rate| rate.low);
        if asked == 0 && unmeant_per_minute.is_none() {
            return Self::NotRecorded;
        }
        // Of no press at all the share may be anything.
        let share = if asked == 0 { (0.0, 1.0) } else { clopper_pearson(presses.made, asked) };
        Self::Recorded { made: presses.made, asked, share, unmeant_per_minute }
    }

    /// In a word, by the interval and never by the bare share.
    #[must_use]
    pub fn class(&self) -> ReliabilityClass {
        match *self {
            Self::Recorded { share: (_, high), .. } if high < UNRELIABLE_SHARE => {
                ReliabilityClass::Unreliable
            }
            Self::Recorded { unmeant_per_minute: Some(rate), .. } if rate > UNMEANT_PER_MINUTE => {
                ReliabilityClass::Unreliable
            }
            Self::Recorded { share: (low, _), .. } if low > RELIABLE_SHARE => {
                ReliabilityClass::Reliable
            }
            _ => ReliabilityClass::CannotTell,
        }
    }

    /// The middle of the interval in thousandths, for an order within a class; half where nothing
    /// is known.
    fn middle(&self) -> u32 {
        match *self {
            Self::NotRecorded => 500,
            Self::Recorded { share: (low, high), .. } => (500.0 * (low + high)) as u32,
        }
    }
}

/// One of the things that can be pressed, with what is known of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Which.
    pub what: Pressed,
    /// Where it is, in the person's words; may be empty.
    pub name: String,
    /// How easily it is reached and pressed.
    pub ease: Ease,
    /// What was recorded of it.
    pub reliability: Reliability,
}

impl Source {
    /// Where it stands among others: the lower the better. What is unreliable comes last, however
    /// easy it is.
    pub(super) fn rank(&self) -> (bool, Ease, ReliabilityClass, Reverse<u32>) {
        let class = self.reliability.class();
        let unreliable = class == ReliabilityClass::Unreliable;
        (unreliable, self.ease, class, Reverse(self.reliability.middle()))
    }
}

/// Everything that can be pressed: `buttons` of the stick in their order, then the switches.
///
/// Notes are those of this stick. What was recorded of a button that it does not have is left out.
#[must_use]
pub fn sources(
    buttons: u32,
    notes: &[ButtonNote],
    recorded: &[ButtonPresses],
    switches: &[AddedSwitch],
) -> Vec<Source> {
    let button = |number: u32| {
        let note = notes.iter().find(|note| note.button == number);
        let presses = recorded.iter().find(|one| one.button == number as usize);
        Source {
            what: Pressed::Button(number),
            name: note.map(|note| note.name.clone()).unwrap_or_default(),
            ease: note.map(|note| note.ease).unwrap_or_default(),
            reliability: presses.map_or(Reliability::NotRecorded, Reliability::of),
        }
    };
    let switch = |(place, switch): (usize, &AddedSwitch)| Source {
        what: Pressed::Switch(place),
        name: switch.name.clone(),
        ease: switch.ease,
        reliability: Reliability::NotRecorded,
    };
    (0..buttons).map(button).chain(switches.iter().enumerate().map(switch)).collect()
}
