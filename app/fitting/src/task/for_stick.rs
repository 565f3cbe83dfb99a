//! What is asked with which kind of stick, and the usual amount of each task.

use super::cue::each;
use super::{Meanwhile, TaskAsk, TaskKind};
use crate::stick_kind::{LONGEST_BREATH_SECONDS, Mover, Moves};
use crate::{AxisPick, Direction, StickAxes, StickKind};

/// The most rounds that fewer directions are made up for with.
const MOST_ROUNDS: usize = 8;

/// Left and right: the two that almost every use of a stick needs.
pub(super) const SIDES: [Direction; 2] = [Direction::Right, Direction::Left];

/// Which of the `wanted` directions a stick of this kind can go in, each once.
///
/// - On two axes: all of them.
/// - On one axis: those along the axis that is picked, both its ways where none of the wanted lies
///   along it. Where both axes are picked it is the horizontal one.
/// - One way only: one direction, the way in which its value grows: right, on the vertical axis
///   down, or up where its sign is turned round. The other way along that axis only where it is
///   the only wanted one there.
///
/// Empty when nothing is wanted.
#[must_use]
pub fn directions_for(kind: StickKind, axes: StickAxes, wanted: &[Direction]) -> Vec<Direction> {
    let wanted = each(wanted);
    if wanted.is_empty() || kind.moves == Moves::TwoAxes {
        return wanted;
    }
    let is_picked = |pick: AxisPick| pick.index != AxisPick::NONE.index;
    let grows_and_falls = if is_picked(axes.horizontal) || !is_picked(axes.vertical) {
        [Direction::Right, Direction::Left]
    } else if axes.vertical.inverted {
        [Direction::Up, Direction::Down]
    } else {
        [Direction::Down, Direction::Up]
    };
    let mut along = wanted;
    along.retain(|direction| grows_and_falls.contains(direction));
    match (kind.moves, along.len()) {
        (Moves::OneWay, 1) => along,
        (Moves::OneWay, _) => vec![grows_and_falls[0]],
        (_, 0) => grows_and_falls.to_vec(),
        _ => along,
    }
}

impl TaskAsk {
    /// The usual amount of a task outside of a plan, for a stick with these buttons that moves on
    /// two axes; [`Self::for_stick`] suits it to another. The amounts are common practice, no
    /// source; three rounds are the fewest from which a spread is told.
    #[must_use]
    pub fn usual(kind: TaskKind, buttons: &[usize]) -> Self {
        match kind {
            TaskKind::HandsOff => Self::HandsOff { seconds: 10.0 },
            TaskKind::QuietRest => Self::QuietRest { seconds: 60.0 },
            TaskKind::BusyRest => Self::BusyRest { seconds: 60.0, meanwhile: Meanwhile::Talking },
            TaskKind::FreeMovement => Self::FreeMovement { seconds: 45.0 },
            TaskKind::Reach => Self::Reach { directions: Direction::EIGHT.to_vec(), rounds: 3 },
            TaskKind::Hold => Self::Hold {
                directions: SIDES.to_vec(),
                levels: vec![0.25, 0.5, 0.75],
                rounds: 2,
                seconds: 3.0,
            },
            TaskKind::Sustained => {
                Self::Sustained { directions: SIDES.to_vec(), level: 0.5, seconds: 15.0 }
            }
            TaskKind::Return => {
                Self::Return { directions: Direction::FOUR.to_vec(), level: 0.5, rounds: 3 }
            }
            TaskKind::Presses => Self::Presses { buttons: each(buttons), rounds: 3 },
        }
        .sound()
    }

    /// This task as it suits a stick of this kind, or `None` where it does not apply
    /// ([`StickKind::lacks`] says why). Fewer directions are asked for in more rounds (up to
    /// eight), so that about as much is known in the end. With breath a hold lasts at most
    /// [`LONGEST_BREATH_SECONDS`]; where chin, lip or breath moves the stick, a busy rest for
    /// which something else was meant is one with what moves the face.
    #[must_use]
    pub fn for_stick(self, kind: StickKind, axes: StickAxes) -> Option<Self> {
        let fewer = |directions: Vec<Direction>, rounds: usize| {
            let fewer = directions_for(kind, axes, &directions);
            let pushes = each(&directions).len().saturating_mul(rounds);
            let rounds = if fewer.is_empty() {
                rounds
            } else {
                pushes.div_ceil(fewer.len()).min(MOST_ROUNDS).max(rounds)
            };
            (fewer, rounds)
        };
        if kind.lacks(self.kind()).is_some() {
            return None;
        }
        match self {
            Self::HandsOff { .. }
            | Self::QuietRest { .. }
            | Self::FreeMovement { .. }
            | Self::Presses { .. } => Some(self),
            Self::BusyRest { seconds, meanwhile } => {
                let suits = kind.mover.meanwhile();
                let meanwhile = if suits.contains(&meanwhile) { meanwhile } else { suits[0] };
                Some(Self::BusyRest { seconds, meanwhile })
            }
            Self::Reach { directions, rounds } => {
                let (directions, rounds) = fewer(directions, rounds);
                Some(Self::Reach { directions, rounds })
            }
            Self::Hold { directions, levels, rounds, seconds } => {
                let (directions, rounds) = fewer(directions, rounds);
                let seconds = match kind.mover {
                    Mover::Breath => seconds.min(LONGEST_BREATH_SECONDS),
                    Mover::Limb | Mover::Chin | Mover::Lip => seconds,
                };
                Some(Self::Hold { directions, levels, rounds, seconds })
            }
            Self::Sustained { directions, level, seconds } => {
                let directions = directions_for(kind, axes, &directions);
                Some(Self::Sustained { directions, level, seconds })
            }
            Self::Return { directions, level, rounds } => {
                let (directions, rounds) = fewer(directions, rounds);
                Some(Self::Return { directions, level, rounds })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Direction::{Down, Left, Right, Up};

    const FLAT: StickAxes =
        StickAxes { horizontal: AxisPick { index: 0, inverted: false }, vertical: AxisPick::NONE };

    fn upright(inverted: bool) -> StickAxes {
        StickAxes { horizontal: AxisPick::NONE, vertical: AxisPick { index: 0, inverted } }
    }

    fn moving(moves: Moves) -> StickKind {
        StickKind { moves, ..StickKind::default() }
    }

    #[test]
    fn two_axes_go_everywhere() {
        for axes in [StickAxes::default(), FLAT, upright(false)] {
            let wanted = [Left, Left, Direction::UpRight];
            let ways = directions_for(StickKind::default(), axes, &wanted);
            assert_eq!(ways, [Left, Direction::UpRight]);
        }
    }

    #[test]
    fn one_axis_goes_along_the_picked_one() {
        let one = moving(Moves::OneAxis);
        assert_eq!(directions_for(one, FLAT, &Direction::EIGHT), [Right, Left]);
        assert_eq!(directions_for(one, StickAxes::default(), &Direction::FOUR), [Right, Left]);
        assert_eq!(directions_for(one, FLAT, &[Left]), [Left]);
        assert_eq!(directions_for(one, upright(false), &Direction::EIGHT), [Up, Down]);
        assert_eq!(directions_for(one, upright(true), &SIDES), [Up, Down]);
        assert!(directions_for(one, FLAT, &[]).is_empty());
    }

    #[test]
    fn one_way_goes_one_way() {
        let one = moving(Moves::OneWay);
        assert_eq!(directions_for(one, FLAT, &Direction::EIGHT), [Right]);
        assert_eq!(directions_for(one, FLAT, &[Left, Up]), [Left]);
        assert_eq!(directions_for(one, upright(false), &SIDES), [Down]);
        assert_eq!(directions_for(one, upright(true), &SIDES), [Up]);
        // The way in which the position goes when the value grows.
        for axes in [FLAT, upright(false), upright(true)] {
            let sample = |value: f64| crate::Sample {
                arrival_seconds: 0.0,
                axes: vec![value],
                buttons: Vec::new(),
            };
            let goes = axes.position(&sample(0.5)) - axes.position(&sample(0.0));
            let ways = directions_for(one, axes, &Direction::FOUR);
            assert!((goes.degrees() - ways[0].degrees()).abs() < 1e-9, "{axes:?}");
        }
    }

    #[test]
    fn what_does_not_apply_is_left_out_and_fewer_directions_come_more_often() {
        let kinds = [TaskKind::Hold, TaskKind::Sustained, TaskKind::Return, TaskKind::Reach];
        let asked = |kind: StickKind| {
            kinds.map(|task| TaskAsk::usual(task, &[]).for_stick(kind, FLAT).is_some())
        };
        assert_eq!(asked(StickKind::default()), [true; 4]);
        let switches = StickKind { switches: true, ..StickKind::default() };
        assert_eq!(asked(switches), [false, false, true, true]);
        let stays = StickKind { centres_itself: false, ..StickKind::default() };
        assert_eq!(asked(stays), [true, true, false, true]);
        let reach = TaskAsk::usual(TaskKind::Reach, &[]);
        assert_eq!(reach.clone().for_stick(StickKind::default(), FLAT), Some(reach.clone()));
        let fewer = reach.for_stick(moving(Moves::OneAxis), FLAT);
        assert_eq!(fewer, Some(TaskAsk::Reach { directions: SIDES.to_vec(), rounds: 8 }));
    }

    #[test]
    fn each_kind_has_its_usual_amount() {
        for kind in [
            TaskKind::HandsOff,
            TaskKind::QuietRest,
            TaskKind::BusyRest,
            TaskKind::FreeMovement,
            TaskKind::Reach,
            TaskKind::Hold,
            TaskKind::Sustained,
            TaskKind::Return,
            TaskKind::Presses,
        ] {
            let ask = TaskAsk::usual(kind, &[0, 2, 2, usize::MAX]);
            assert_eq!(ask.kind(), kind);
            assert_eq!(ask.clone().sound(), ask);
        }
        let presses = TaskAsk::usual(TaskKind::Presses, &[2, 0, 2, usize::MAX]);
        assert_eq!(presses, TaskAsk::Presses { buttons: vec![2, 0], rounds: 3 });
    }

    /// Every kind of stick with every mover.
    fn all_kinds() -> Vec<StickKind> {
        let mut kinds = Vec::new();
        for moves in [Moves::TwoAxes, Moves::OneAxis, Moves::OneWay] {
            for mover in Mover::ALL {
                for bits in 0..8_u8 {
                    let is = |bit: u8| bits & bit != 0;
                    let (centres_itself, force, switches) = (is(1), is(2), is(4));
                    kinds.push(StickKind { moves, centres_itself, force, switches, mover });
                }
            }
        }
        kinds
    }

    /// What each task says to each kind of stick: asked, or why not.
    #[test]
    fn every_task_suits_every_kind_or_says_why_not() {
        use crate::StickTrait::{Breath, NotSelfCentring, Switches};
        for kind in all_kinds() {
            for task in TaskKind::ALL {
                let why = match task {
                    TaskKind::HandsOff
                    | TaskKind::QuietRest
                    | TaskKind::BusyRest
                    | TaskKind::FreeMovement
                    | TaskKind::Reach
                    | TaskKind::Presses => None,
                    TaskKind::Hold => kind.switches.then_some(Switches),
                    TaskKind::Sustained if kind.switches => Some(Switches),
                    TaskKind::Sustained => (kind.mover == Mover::Breath).then_some(Breath),
                    TaskKind::Return => (!kind.centres_itself).then_some(NotSelfCentring),
                };
                assert_eq!(kind.lacks(task), why, "{task:?} {kind:?}");
                for axes in [StickAxes::default(), FLAT, upright(true)] {
                    let usual = TaskAsk::usual(task, &[0, 1]);
                    let Some(ask) = usual.clone().for_stick(kind, axes) else {
                        assert!(why.is_some(), "{task:?} {kind:?}");
                        continue;
                    };
                    assert!(why.is_none(), "{task:?} {kind:?}");
                    assert_eq!(ask.kind(), task);
                    assert_eq!(ask.clone().for_stick(kind, axes), Some(ask.clone()), "settled");
                    let limit = if kind.mover == Mover::Breath { 3.0 } else { 60.0 };
                    match ask {
                        TaskAsk::Reach { directions, rounds }
                        | TaskAsk::Return { directions, rounds, .. } => {
                            assert_eq!(directions, directions_for(kind, axes, &directions));
                            assert!(!directions.is_empty() && (3..=8).contains(&rounds));
                        }
                        TaskAsk::Hold { directions, seconds, .. }
                        | TaskAsk::Sustained { directions, seconds, .. } => {
                            assert_eq!(directions, directions_for(kind, axes, &directions));
                            assert!(!directions.is_empty() && seconds <= limit);
                        }
                        TaskAsk::BusyRest { meanwhile, .. } => {
                            assert!(kind.mover.meanwhile().contains(&meanwhile));
                        }
                        other => assert_eq!(other, usual),
                    }
                }
            }
        }
    }

    #[test]
    fn a_longer_hold_of_breath_is_cut_and_pressing_becomes_what_moves_the_face() {
        let breath = StickKind { mover: Mover::Breath, ..StickKind::default() };
        let hold =
            TaskAsk::Hold { directions: vec![Right], levels: vec![0.5], rounds: 1, seconds: 8.0 };
        match hold.for_stick(breath, FLAT) {
            Some(TaskAsk::Hold { seconds, .. }) => assert_eq!(seconds, LONGEST_BREATH_SECONDS),
            other => panic!("{other:?}"),
        }
        let pressing = TaskAsk::BusyRest { seconds: 30.0, meanwhile: Meanwhile::Pressing };
        let chin = StickKind { mover: Mover::Chin, ..StickKind::default() };
        let talking = TaskAsk::usual(TaskKind::BusyRest, &[]);
        let breathing = TaskAsk::BusyRest { seconds: 60.0, meanwhile: Meanwhile::Breathing };
        assert_eq!(talking.clone().for_stick(chin, FLAT), Some(talking.clone()));
        assert_eq!(talking.for_stick(breath, FLAT), Some(breathing));
        let swallowing = TaskAsk::BusyRest { seconds: 30.0, meanwhile: Meanwhile::Swallowing };
        assert_eq!(pressing.clone().for_stick(chin, FLAT), Some(swallowing));
        assert_eq!(pressing.clone().for_stick(StickKind::default(), FLAT), Some(pressing));
    }
}
