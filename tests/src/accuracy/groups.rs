//! The groups that people belong to: a person may be in several.

use fitting::Position;
use fitting::invented::{Model, System};
use fitting::stick_kind::Mover;

/// A movement over the whole travel that lasts longer is slow, seconds.
const SLOW_SECONDS: f64 = 1.5;
/// Wander of this standard deviation or more is large, share of travel.
const LARGE_WANDER: f64 = 0.02;
/// Whose shortest reach is less than this share of the longest reaches to one side.
const ONE_SIDED: f64 = 0.35;
/// Who loses more of the reach a minute of muscle work tires.
const TIRING_PER_MINUTE: f64 = 0.01;
/// Who rests further out than this rests at the edge, share of travel.
const AT_THE_EDGE: f64 = 0.5;
/// A stick of so many bits or fewer is coarse.
const COARSE_BITS: u32 = 8;

/// A group.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Slow movement.
    Slow,
    /// Movement in parts with stops.
    Stops,
    /// Movement that goes past its goal.
    Overshoot,
    /// Rhythmic movement.
    Tremor,
    /// Sudden movements.
    Jerks,
    /// Large wander.
    Wander,
    /// A posture that drifts.
    Posture,
    /// Hardly any reach to one side.
    OneSided,
    /// Tires within the visit.
    Tiring,
    /// Notices cues late.
    Lapses,
    /// Rests beside the middle.
    RestsBeside,
    /// Rests at the edge of the opening.
    RestsAtEdge,
    /// A stick of few bits.
    CoarseStick,
    /// A system that hides the middle.
    HiddenMiddle,
    /// Moves by a limb.
    Limb,
    /// Moves by the chin.
    Chin,
    /// Moves by lip or tongue.
    Lip,
}

impl Group {
    /// All of them, in the order of the table.
    pub const ALL: [Self; 17] = [
        Self::Slow,
        Self::Stops,
        Self::Overshoot,
        Self::Tremor,
        Self::Jerks,
        Self::Wander,
        Self::Posture,
        Self::OneSided,
        Self::Tiring,
        Self::Lapses,
        Self::RestsBeside,
        Self::RestsAtEdge,
        Self::CoarseStick,
        Self::HiddenMiddle,
        Self::Limb,
        Self::Chin,
        Self::Lip,
    ];

    /// Its name in files and tables.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Slow => "slow",
            Self::Stops => "stops",
            Self::Overshoot => "overshoot",
            Self::Tremor => "tremor",
            Self::Jerks => "jerks",
            Self::Wander => "wander",
            Self::Posture => "posture",
            Self::OneSided => "one_sided",
            Self::Tiring => "tiring",
            Self::Lapses => "lapses",
            Self::RestsBeside => "beside",
            Self::RestsAtEdge => "edge",
            Self::CoarseStick => "coarse",
            Self::HiddenMiddle => "hidden",
            Self::Limb => "limb",
            Self::Chin => "chin",
            Self::Lip => "lip",
        }
    }

    /// Whether the person of `model` is in it.
    #[must_use]
    pub fn has(self, model: &Model) -> bool {
        let body = &model.body;
        let reach = || body.reach.iter().copied();
        match self {
            Self::Slow => body.movement_seconds > SLOW_SECONDS,
            Self::Stops => body.stops.is_some(),
            Self::Overshoot => body.overshoot.is_some(),
            Self::Tremor => body.rhythm.is_some(),
            Self::Jerks => body.jerks.is_some(),
            Self::Wander => body.wander >= LARGE_WANDER,
            Self::Posture => body.posture.is_some(),
            Self::OneSided => reach().fold(1.0, f64::min) < ONE_SIDED * reach().fold(0.0, f64::max),
            Self::Tiring => body.fatigue_per_minute > TIRING_PER_MINUTE,
            Self::Lapses => body.lapses.is_some(),
            Self::RestsBeside => {
                body.rests_at != Position::ORIGIN && body.rests_at.radius() <= AT_THE_EDGE
            }
            Self::RestsAtEdge => body.rests_at.radius() > AT_THE_EDGE,
            Self::CoarseStick => model.stick.bits <= COARSE_BITS,
            Self::HiddenMiddle => model.stick.system == System::HiddenMiddle,
            Self::Limb => model.mover == Mover::Limb,
            Self::Chin => model.mover == Mover::Chin,
            Self::Lip => model.mover == Mover::Lip,
        }
    }

    /// The groups of the person of `model`.
    #[must_use]
    pub fn of(model: &Model) -> Vec<Self> {
        Self::ALL.into_iter().filter(|group| group.has(model)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_group_is_large_enough_to_be_judged() {
        let people: Vec<Model> = (0..2000).map(Model::varied).collect();
        for group in Group::ALL {
            let count = people.iter().filter(|model| group.has(model)).count();
            assert!(count > 180, "{}: {count} of 2000", group.code());
        }
    }
}
