//! The hosts that come with the program: generic ones, described in plain words.

use super::{Accepts, AxesTaken, CurveSet, Hat, Host, HostSets, Job, Port, Slider, SliderRange};
use crate::sample::MOST_CONTROLS;
use crate::settings::Shape;
use serde::{Deserialize, Serialize};

/// A host that comes with the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ShippedHost {
    /// A web page that plays by the open standard's layout.
    WebPage,
    /// A hub with two stick ports.
    HubTwoPorts,
    /// A hub or adapter with one stick port.
    OnePort,
    /// A computer whose programs take any joystick as it is.
    AnythingGoes,
}

impl ShippedHost {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 4] =
        [Self::WebPage, Self::HubTwoPorts, Self::OnePort, Self::AnythingGoes];

    /// What it accepts and lets through.
    ///
    /// The web page is as in W3C Gamepad ("Standard Gamepad": 4 axes, 17 buttons), which says
    /// nothing of settings. Hub and port are common practice, no source: two axes and the first
    /// eight buttons of a stick get through.
    #[must_use]
    pub fn host(self) -> Host {
        let sticks = Accepts { joystick: true, game_pad: true, ..Accepts::default() };
        match self {
            Self::WebPage => Host {
                accepts: Accepts { multi_axis: true, ..sticks },
                wants_standard_layout: true,
                ports: vec![Port {
                    axes: 4,
                    buttons: 17,
                    hat: Hat::AsAxes,
                    jobs: positions(0..17),
                    can_be_reassigned: Some(false),
                    ..Port::default()
                }],
                ..Host::default()
            },
            Self::HubTwoPorts => Host {
                accepts: sticks,
                // The jobs of two ports may overlap, as common practice has it.
                ports: vec![stick_port(positions(0..8)), stick_port(positions(0..8))],
                joins_two: true,
                sets: HostSets {
                    dead_zone: Some(Slider {
                        shape: Shape::Radial,
                        range: SliderRange { low: 0.0, high: 0.5, step: 0.01 },
                    }),
                    inverts: true,
                    swaps: true,
                    ..HostSets::default()
                },
                ..Host::default()
            },
            Self::OnePort => Host {
                accepts: sticks,
                ports: vec![stick_port(positions(0..8))],
                ..Host::default()
            },
            Self::AnythingGoes => Host {
                accepts: Accepts { multi_axis: true, mouse: true, keyboard: true, ..sticks },
                ports: vec![Port {
                    axes: MOST_CONTROLS as u32,
                    buttons: MOST_CONTROLS as u32,
                    hat: Hat::Through,
                    can_be_reassigned: Some(true),
                    ..Port::default()
                }],
                joins_two: true,
                sets: HostSets {
                    dead_zone: Some(Slider { shape: Shape::Radial, range: SliderRange::WHOLE }),
                    full_throw: Some(SliderRange::WHOLE),
                    curve: CurveSet::Points,
                    inverts: true,
                    swaps: true,
                    turns: true,
                    smooths: true,
                    times_buttons: true,
                },
                ..Host::default()
            },
        }
    }
}

fn positions(of: impl IntoIterator<Item = u8>) -> Vec<Job> {
    of.into_iter().map(Job::Position).collect()
}

/// Two axes and the first eight buttons; their jobs can be changed (common practice, no source).
fn stick_port(jobs: Vec<Job>) -> Port {
    Port {
        axes_taken: AxesTaken::XAndYFirst,
        hat: Hat::Dropped,
        jobs,
        can_be_reassigned: Some(true),
        ..Port::default()
    }
}
