//! Direction: swapped and inverted axes, a turn, and levelling the reach of the two axes.
//!
//! Where performed = turn × stretch × (swap and inversions) × asked, the settings that put it
//! right undo the swap and the inversions first, then the turn, then the stretch along the two
//! axes: the order in which settings are applied.

use super::{DirectionAdvice, RepeatReason};
use crate::estimate::{Estimate, NotEnough};
use crate::measure::PerformedMap;
use crate::position::fold_degrees;
use crate::settings::DirectionMap;

/// A turn is worth undoing when all of its interval lies beyond this, degrees: NUREG-0700 Rev. 2,
/// 3.2.3-1, wants what follows a control to move within ±10 degrees of it. It speaks of
/// equipment; no figure for people was found.
pub const TURN_DEGREES: f64 = 10.0;
/// Axes are put right only where the turn that is left is surely less than this, degrees:
/// halfway to a quarter turn, a swap and a turn cannot be told apart.
const SURELY_ONE_WAY_DEGREES: f64 = 40.0;
/// A turn whose interval is no wider than this to each side is narrow, degrees.
const NARROW_DEGREES: f64 = 5.0;
/// Whichever direction is left out, this share of the turn must be left.
const SHARE_WITHOUT_ONE: f64 = 0.5;
/// Reach is levelled only where the weaker axis surely reaches less than this share of the
/// stronger (our own choice).
const UNEVEN: f64 = 0.8;
/// And where the stronger axis lies within this of one of the stick's own, degrees: gains stretch
/// along those only.
const ALONG_AXIS_DEGREES: f64 = 22.5;
/// The largest levelling gain.
const MOST_GAIN: f64 = 3.0;

/// The suggestion without levelling: that needs the rest beside it, see [`Levelling`].
pub(super) fn direction(
    map: Result<&PerformedMap, NotEnough>,
) -> Result<(DirectionAdvice, Option<Levelling>), NotEnough> {
    let map = map?;
    let turn = map.turn?;
    let is_one_way = is_one_way(&turn, map.repeat_agrees);
    let otherwise = map.swapped || map.right_inverted || map.up_inverted;
    // What comes out swapped and then turned round is undone by turning round, then swapping:
    // the same as swapping first and turning the other axis round.
    let axes = if map.swapped {
        DirectionMap {
            swapped: true,
            right_inverted: map.up_inverted,
            up_inverted: map.right_inverted,
            ..DirectionMap::default()
        }
    } else {
        DirectionMap {
            right_inverted: map.right_inverted,
            up_inverted: map.up_inverted,
            ..DirectionMap::default()
        }
    };
    let mut suggested = if is_one_way { axes } else { DirectionMap::default() };
    let clears = turn.low > TURN_DEGREES || turn.high < -TURN_DEGREES;
    // A turned mount turns every direction; one side pushed askew is another matter.
    let of_all = map
        .turn_without_one
        .is_some_and(|without| without * turn.value >= SHARE_WITHOUT_ONE * turn.value * turn.value);
    // Without the axes put right, the rest of the turn is no turn of its own.
    let turns = clears && of_all && map.repeat_agrees && (is_one_way || !otherwise);
    if turns {
        // A mirror changes the sense of what follows it.
        let mirrors = map.swapped ^ map.right_inverted ^ map.up_inverted;
        suggested.turn_degrees = fold_degrees(if mirrors { turn.value } else { -turn.value });
    }
    let may_turn = turn.value.abs() > TURN_DEGREES && !turns;
    let repeat = (may_turn || (otherwise && !is_one_way)).then(|| {
        if is_halfway(&turn) && (clears || otherwise) {
            RepeatReason::TurnedOrSwapped
        } else if !map.repeat_agrees {
            RepeatReason::RoundsDisagree
        } else if clears {
            RepeatReason::OneSideOnly
        } else {
            RepeatReason::TooWide
        }
    });
    let narrow = turn.width() <= 2.0 * NARROW_DEGREES;
    let stays = turn.low >= -TURN_DEGREES && turn.high <= TURN_DEGREES;
    let is_firm = map.repeat_agrees && !map.behind_hidden_middle && narrow && (turns || stays);
    // A turn is put right at the mount or not, and measured again: what to level shows only then.
    let levelling = if turns { None } else { Levelling::of(map, &suggested) };
    let advice = DirectionAdvice {
        map: suggested,
        sureness: turn.sureness(is_firm),
        turn: map.turn,
        turns,
        repeat,
        levelling_gain: levelling.map(|levelling| levelling.gain),
        dead_zone_with_gain: None,
    };
    Ok((advice, levelling))
}

/// Whether the interval of a turn comes near halfway to a quarter turn.
fn is_halfway(turn: &Estimate) -> bool {
    turn.low <= -SURELY_ONE_WAY_DEGREES || turn.high >= SURELY_ONE_WAY_DEGREES
}

/// Whether swapped and inverted axes are told from a turn, so that they may be put right.
pub(crate) fn is_one_way(turn: &Estimate, repeat_agrees: bool) -> bool {
    !is_halfway(turn) && repeat_agrees
}

/// A gain that would level the reach of the two axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Levelling {
    pub(super) gain: f64,
    is_up: bool,
}

impl Levelling {
    /// After `map`, where the difference is sure and lies along the axes.
    fn of(performed: &PerformedMap, map: &DirectionMap) -> Option<Self> {
        let stretch = performed.stretch.ok()?;
        if stretch.high >= UNEVEN || stretch.value <= 0.0 {
            return None;
        }
        let pipeline = crate::pipeline::direction::Matrix::of(map);
        let column = |index: usize| {
            let [right, up] = performed.matrix;
            pipeline.apply(crate::Position::new(right[index], up[index]))
        };
        // The symmetric square of the map tells along which line it reaches farthest as it
        // comes out.
        let (right, up) = (column(0), column(1));
        let rr = right.right * right.right + up.right * up.right;
        let uu = right.up * right.up + up.up * up.up;
        let ru = right.right * right.up + up.right * up.up;
        let stronger = 0.5 * libm::atan2(2.0 * ru, rr - uu).to_degrees();
        let is_up = if stronger.abs() <= ALONG_AXIS_DEGREES {
            true
        } else if 90.0 - stronger.abs() <= ALONG_AXIS_DEGREES {
            false
        } else {
            return None;
        };
        Some(Self { gain: (1.0 / stretch.value).min(MOST_GAIN), is_up })
    }

    /// `map` with this gain.
    pub(super) fn on(&self, map: &DirectionMap) -> DirectionMap {
        if self.is_up {
            DirectionMap { up_gain: self.gain, ..*map }
        } else {
            DirectionMap { right_gain: self.gain, ..*map }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::{Basis, Sureness};
    use crate::settings::Settings;
    use crate::{Pipeline, Position};

    fn estimate(value: f64, half: f64) -> Estimate {
        Estimate::new(value, value - half, value + half, Basis::default()).unwrap()
    }

    /// A performed map put together from its parts.
    fn performed(turn: f64, half: f64, up_stretch: f64, ways: [bool; 3]) -> PerformedMap {
        let [swapped, right_inverted, up_inverted] = ways;
        let of = |asked: Position| {
            let mut push = asked;
            if swapped {
                push = Position::new(push.up, push.right);
            }
            let sign = |inverted: bool| if inverted { -1.0 } else { 1.0 };
            push.right *= sign(right_inverted);
            push.up *= sign(up_inverted) * up_stretch;
            push.turned(turn)
        };
        let (right, up) = (of(Position::new(1.0, 0.0)), of(Position::new(0.0, 1.0)));
        PerformedMap {
            behind_hidden_middle: false,
            matrix: [[right.right, up.right], [right.up, up.up]],
            swapped,
            right_inverted,
            up_inverted,
            turn: Ok(estimate(turn, half)),
            repeat_agrees: true,
            turn_without_one: Some(turn),
            stretch: Ok(estimate(up_stretch.min(1.0 / up_stretch), 0.05)),
            stretch_degrees: 0.0,
            cross_talk: Ok(estimate(0.0, 0.05)),
            directions: 8,
            pushes: 24,
        }
    }

    /// With the suggested map every asked direction comes out as asked; a turn is put right before
    /// anything is levelled.
    #[test]
    fn the_suggestion_undoes_the_map() {
        for way in 0..8_u8 {
            let ways = [way & 1 != 0, way & 2 != 0, way & 4 != 0];
            for turn in [-25.0, 25.0] {
                let map = performed(turn, 4.0, 1.0, ways);
                let (advice, levelling) = direction(Ok(&map)).unwrap();
                assert!(advice.turns && advice.repeat.is_none(), "{advice:?}");
                assert!(levelling.is_none());
                let settings = Settings { direction: advice.map, ..Settings::default() };
                let pipeline = Pipeline::new(&settings);
                for asked in crate::Direction::EIGHT {
                    let unit = Position::polar(1.0, asked.degrees());
                    let [[a, b], [c, d]] = map.matrix;
                    let pushed =
                        Position::new(a * unit.right + b * unit.up, c * unit.right + d * unit.up);
                    let out = pipeline.push(pushed);
                    assert!((out - unit).radius() < 1e-9, "{ways:?} {turn} {out:?} {unit:?}");
                }
            }
        }
    }

    #[test]
    fn only_what_is_sure_is_suggested() {
        let as_it_comes = DirectionMap::default();
        let upright = [false; 3];
        let small = direction(Ok(&performed(4.0, 3.0, 1.0, upright))).unwrap();
        assert_eq!((small.0.map, small.0.sureness), (as_it_comes, Sureness::Firm));
        assert!(small.0.repeat.is_none() && small.1.is_none());
        // Beyond ten degrees, but its interval is not.
        let unsure = direction(Ok(&performed(14.0, 6.0, 1.0, upright))).unwrap().0;
        assert!(!unsure.turns && unsure.map == as_it_comes);
        assert_eq!(unsure.repeat, Some(RepeatReason::TooWide));
        let mut alone = performed(25.0, 4.0, 1.0, upright);
        alone.repeat_agrees = false;
        let alone = direction(Ok(&alone)).unwrap().0;
        assert!(!alone.turns && alone.map == as_it_comes);
        assert_eq!(alone.repeat, Some(RepeatReason::RoundsDisagree));
        // One side pushed askew: nothing is left of the turn without it.
        let mut askew = performed(25.0, 4.0, 1.0, upright);
        askew.turn_without_one = Some(2.0);
        let askew = direction(Ok(&askew)).unwrap().0;
        assert!(!askew.turns && askew.map == as_it_comes);
        assert_eq!(askew.repeat, Some(RepeatReason::OneSideOnly));
        assert_eq!(direction(Err(NotEnough::NothingRecorded)), Err(NotEnough::NothingRecorded));
    }

    /// So far turned that a swap may as well be a turn: that is said, whether or not the rounds agree.
    /// Where the axes come out as asked the turn is suggested all the same: either name of it is
    /// put right by the same numbers.
    #[test]
    fn near_45_degrees_turned_and_swapped_are_not_told_apart() {
        for turn in [-43.0, -38.0, 36.0, 44.0] {
            for ways in [[true, false, true], [true, false, false], [false, true, false]] {
                for repeat_agrees in [true, false] {
                    let map = PerformedMap { repeat_agrees, ..performed(turn, 6.0, 1.0, ways) };
                    let advice = direction(Ok(&map)).unwrap().0;
                    assert_eq!(advice.repeat, Some(RepeatReason::TurnedOrSwapped), "{advice:?}");
                    assert_eq!((advice.map, advice.turns), (DirectionMap::default(), false));
                }
            }
            let upright = direction(Ok(&performed(turn, 6.0, 1.0, [false; 3]))).unwrap().0;
            assert!(upright.turns && upright.repeat.is_none(), "{upright:?}");
        }
    }
}
