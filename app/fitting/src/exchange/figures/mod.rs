//! Everything measured and suggested, one number a line, with its unit, its interval and what it
//! rests on: for researchers, and for programs.

mod lines;
mod more;
mod suggested;
mod table;

#[cfg(test)]
mod tests;

pub use lines::{effect, measured, name};
pub use more::{Asked, asked, more};
pub use suggested::suggested;
pub use table::aligned;

use crate::estimate::{Measured, NotEnough, Sureness};
use serde::Serialize;

/// One number with its unit, its 95 % interval and what it rests on, or why there is none.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// Of what: a direction, a level, a button; empty when there is one only.
    pub of: String,
    /// The unit.
    pub unit: Unit,
    /// The best single number.
    pub value: Option<f64>,
    /// Lower end of the 95 % interval.
    pub low: Option<f64>,
    /// Upper end of the 95 % interval.
    pub high: Option<f64>,
    /// Seconds of recording behind it.
    pub seconds: Option<f64>,
    /// Repetitions behind it.
    pub repetitions: Option<usize>,
    /// How much weight a suggestion can bear.
    pub sureness: Option<Sureness>,
    /// Why there is no number, where a reason is known.
    pub lacking: Option<NotEnough>,
}

/// Units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// A share of the stick's travel.
    #[serde(rename = "share_of_travel")]
    Travel,
    /// A share of the stick's travel a minute.
    #[serde(rename = "share_of_travel_per_minute")]
    TravelPerMinute,
    /// A share of full output.
    #[serde(rename = "share_of_output")]
    Output,
    /// A share of a whole that the name tells.
    Share,
    /// How often a minute.
    PerMinute,
    /// Seconds.
    Seconds,
    /// Degrees, from right towards up.
    Degrees,
    /// Hertz.
    Hertz,
    /// Hertz for each share of the stick's travel a second.
    #[serde(rename = "hertz_per_share_of_travel_per_second")]
    HertzPerSpeed,
    /// Bits.
    Bits,
    /// A number of things.
    Count,
    /// 0 to 10.
    OfTen,
    /// Output is input to this power.
    Exponent,
    /// Multiplies.
    Factor,
    /// 1 for yes, 0 for no.
    YesNo,
    /// Shares of the stick's travel, squared.
    TravelSquared,
    /// The same for each hertz: the density of a spectrum.
    TravelSquaredPerHertz,
}

impl Unit {
    /// A number in this unit, with as many digits as a researcher needs.
    #[must_use]
    pub fn number(self, value: f64) -> String {
        match self {
            Self::Count | Self::OfTen | Self::YesNo => format!("{value:.0}"),
            Self::Degrees | Self::Bits => format!("{value:.1}"),
            Self::PerMinute | Self::Hertz => format!("{value:.2}"),
            Self::TravelSquared | Self::TravelSquaredPerHertz => format!("{value:.3e}"),
            // No sign on nothing, and no small step told as none.
            _ if value == 0.0 => "0.0000".to_owned(),
            _ if value.abs() < 0.001 => format!("{value:.6}"),
            _ => format!("{value:.4}"),
        }
    }
}

impl Line {
    /// The part of the name before its first full stop: what it belongs to.
    #[must_use]
    pub fn about(&self) -> &str {
        self.name.split_once('.').map_or(self.name.as_str(), |(about, _)| about)
    }

    pub(super) fn plain(name: &str, of: &str, unit: Unit, value: Option<f64>) -> Self {
        Self {
            name: name.to_owned(),
            of: of.to_owned(),
            unit,
            value,
            low: None,
            high: None,
            seconds: None,
            repetitions: None,
            sureness: None,
            lacking: None,
        }
    }

    pub(super) fn measured(name: &str, of: &str, unit: Unit, told: &Measured) -> Self {
        let mut line = Self::plain(name, of, unit, None);
        match told {
            Ok(estimate) => {
                line.value = Some(estimate.value);
                (line.low, line.high) = (Some(estimate.low), Some(estimate.high));
                line.seconds = Some(estimate.basis.seconds);
                line.repetitions = Some(estimate.basis.repetitions);
            }
            Err(why) => line.lacking = Some(*why),
        }
        line
    }
}
