//! Where the person and the stick are.

use super::{long, short};
use serde::{Deserialize, Serialize};

/// The farthest a stick is placed from its reference, millimetres.
pub const FARTHEST_MM: i32 = 3_000;

/// How the stick is connected.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Connection {
    /// Nobody said.
    #[default]
    Unknown,
    /// Directly.
    Direct,
    /// Through something, in the person's words.
    Through(String),
}

/// Where the person and the stick are. A change of any of it starts a new series.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct SetUp {
    /// The device, as its place among those used together; 0 for the only one.
    pub device: u32,
    /// The body part that drives the stick.
    pub body_part: String,
    /// The seat.
    pub seat: String,
    /// What supports the trunk.
    pub trunk: String,
    /// What supports the head.
    pub head: String,
    /// What supports the arm, or the limb that drives.
    pub arm: String,
    /// A splint.
    pub splint: String,
    /// Glasses.
    pub glasses: Option<bool>,
    /// What the place of the stick is measured from.
    pub reference: String,
    /// Where the stick leaves its box, forward of the reference, millimetres; behind it where
    /// negative.
    pub forward_mm: Option<i32>,
    /// To the person's right of the reference, millimetres; left where negative.
    pub right_mm: Option<i32>,
    /// Above the reference, millimetres; below where negative.
    pub up_mm: Option<i32>,
    /// Tilted away from the person, degrees; towards where negative.
    pub tilt_degrees: Option<i32>,
    /// Turned clockwise seen from above, degrees.
    pub turn_degrees: Option<i32>,
    /// The mark on the clamp.
    pub clamp_mark: String,
    /// The topper.
    pub topper: String,
    /// How the stick is connected.
    pub connection: Connection,
    /// Anything else.
    pub else_set_up: String,
}

impl SetUp {
    /// Whether any number of the stick's place is known.
    #[must_use]
    pub const fn has_place(&self) -> bool {
        self.forward_mm.is_some()
            || self.right_mm.is_some()
            || self.up_mm.is_some()
            || self.tilt_degrees.is_some()
            || self.turn_degrees.is_some()
    }

    pub(super) fn tidied(&self) -> Self {
        let place = |place: Option<i32>| place.map(|mm| mm.clamp(-FARTHEST_MM, FARTHEST_MM));
        let angle = |angle: Option<i32>| angle.map(|degrees| degrees.clamp(-180, 180));
        Self {
            device: self.device,
            body_part: short(&self.body_part),
            seat: short(&self.seat),
            trunk: short(&self.trunk),
            head: short(&self.head),
            arm: short(&self.arm),
            splint: short(&self.splint),
            glasses: self.glasses,
            reference: short(&self.reference),
            forward_mm: place(self.forward_mm),
            right_mm: place(self.right_mm),
            up_mm: place(self.up_mm),
            tilt_degrees: angle(self.tilt_degrees),
            turn_degrees: angle(self.turn_degrees),
            clamp_mark: short(&self.clamp_mark),
            topper: short(&self.topper),
            connection: match &self.connection {
                Connection::Through(what) => Connection::Through(short(what)),
                other => other.clone(),
            },
            else_set_up: long(&self.else_set_up),
        }
    }
}
