//! What is asked in the minutes a person has.

use super::cue::each;
use super::for_stick::SIDES;
use super::pace::{expected_seconds, muscle_seconds};
use super::{Meanwhile, TaskAsk, TaskKind};
use crate::sample::MOST_CONTROLS;
use crate::{Direction, StickAxes, StickKind};

/// What is asked in so many minutes: the tasks in the order of greatest value, so that any
/// beginning of the plan leaves a usable result.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The minutes it is for, talking and breaks included.
    pub minutes: u32,
    /// The tasks, in order.
    pub tasks: Vec<TaskAsk>,
    /// About how many seconds the tasks take at a middling pace.
    pub expected_seconds: f64,
    /// About how many of these are muscle work.
    pub muscle_seconds: f64,
}

impl Plan {
    /// The minutes plans are made for.
    pub const MINUTES: [u32; 4] = [3, 6, 10, 15];

    /// The plan for this many minutes: the largest of [`Self::MINUTES`] that fits, and the
    /// smallest for less.
    ///
    /// Hands off comes first, then rest, so that everything later can be told from the stick's
    /// own noise and from the person's unintended movement; then reach, then steadiness, then
    /// what can be kept up, which the full throw rests on; with 15 minutes also rest while
    /// talking (which is a rest for the muscles, too) and the way back. The plan for 6 minutes
    /// keeps muscle work under two minutes, for people who tire. The amounts are common practice,
    /// no source; the three seconds of a hold are the least in which rhythmic movement from 4 Hz
    /// up shows (a resolution of a third of a hertz).
    #[must_use]
    pub fn for_minutes(minutes: u32) -> Self {
        let minutes = Self::MINUTES
            .into_iter()
            .rev()
            .find(|some| *some <= minutes)
            .unwrap_or(Self::MINUTES[0]);
        let (four, eight) = (Direction::FOUR.to_vec(), Direction::EIGHT.to_vec());
        let start = |hands_off: f64, rest: f64, directions: Vec<Direction>, rounds: usize| {
            vec![
                TaskAsk::HandsOff { seconds: hands_off },
                TaskAsk::QuietRest { seconds: rest },
                TaskAsk::Reach { directions, rounds },
            ]
        };
        let hold = |directions: &[Direction], levels: &[f64]| TaskAsk::Hold {
            directions: directions.to_vec(),
            levels: levels.to_vec(),
            rounds: 2,
            seconds: 3.0,
        };
        let levels = [0.25, 0.5, 0.75];
        let mut tasks = match minutes {
            15 => start(10.0, 120.0, eight, 4),
            10 => start(10.0, 100.0, eight, 3),
            6 => start(8.0, 60.0, four, 4),
            _ => start(5.0, 30.0, four, 3),
        };
        match minutes {
            15 => tasks.extend([
                hold(&Direction::FOUR, &levels),
                TaskAsk::usual(TaskKind::Sustained, &[]),
                TaskAsk::BusyRest { seconds: 60.0, meanwhile: Meanwhile::Talking },
                TaskAsk::usual(TaskKind::Return, &[]),
            ]),
            10 => {
                tasks.extend([hold(&SIDES, &levels), TaskAsk::usual(TaskKind::Sustained, &[])]);
            }
            6 => tasks.push(hold(&SIDES, &[0.25, 0.5])),
            _ => {}
        }
        Self::of(minutes, tasks)
    }

    /// The plan for this many minutes with a stick of this kind: only along the axis it has, and
    /// without what does not apply to it (see [`TaskAsk::for_stick`]).
    #[must_use]
    pub fn for_stick(minutes: u32, kind: StickKind, axes: StickAxes) -> Self {
        let plan = Self::for_minutes(minutes);
        let suits = |ask: TaskAsk| ask.for_stick(kind, axes);
        Self::of(plan.minutes, plan.tasks.into_iter().filter_map(suits).collect())
    }

    /// The same with a task of presses at the end, where the minutes allow: of the first two of
    /// these buttons (numbers of [`crate::Sample::buttons`]) in ten minutes, of the first three in
    /// fifteen, three times each way. Without a button, and where presses are asked for already,
    /// nothing changes.
    #[must_use]
    pub fn with_presses(self, buttons: &[usize]) -> Self {
        let most = match self.minutes {
            15.. => 3,
            10.. => 2,
            _ => 0,
        };
        let mut buttons = each(buttons);
        buttons.retain(|button| *button < MOST_CONTROLS);
        buttons.truncate(most);
        let asked = self.tasks.iter().any(|ask| ask.kind() == TaskKind::Presses);
        if asked || buttons.is_empty() {
            return self;
        }
        let Self { minutes, mut tasks, .. } = self;
        tasks.push(TaskAsk::usual(TaskKind::Presses, &buttons));
        Self::of(minutes, tasks)
    }

    /// A plan of these tasks, with its times worked out.
    #[must_use]
    pub fn of(minutes: u32, tasks: Vec<TaskAsk>) -> Self {
        let tasks: Vec<TaskAsk> = tasks.into_iter().map(TaskAsk::sound).collect();
        let expected_seconds = tasks.iter().map(expected_seconds).sum();
        let muscle_seconds = tasks.iter().map(muscle_seconds).sum();
        Self { minutes, tasks, expected_seconds, muscle_seconds }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::AxisPick;
    use crate::stick_kind::Moves;

    fn kinds(plan: &Plan) -> Vec<TaskKind> {
        plan.tasks.iter().map(TaskAsk::kind).collect()
    }

    fn fits(plan: &Plan) {
        // A fifth of the minutes is for talking and breaks.
        assert!(plan.expected_seconds < f64::from(plan.minutes) * 48.0, "{plan:?}");
        assert!(plan.muscle_seconds < plan.expected_seconds / 2.0, "{plan:?}");
        let before = kinds(plan);
        assert_eq!(before[..3], [TaskKind::HandsOff, TaskKind::QuietRest, TaskKind::Reach]);
    }

    #[test]
    fn plans_fit_their_minutes_and_begin_with_what_the_rest_needs() {
        for minutes in Plan::MINUTES {
            let plan = Plan::for_minutes(minutes);
            assert_eq!(plan.minutes, minutes);
            fits(&plan);
            fits(&plan.with_presses(&[0, 1, 2, 3, 4, 5, 6, 7]));
        }
        assert!(Plan::for_minutes(6).muscle_seconds <= 120.0);
        assert_eq!(Plan::for_minutes(0), Plan::for_minutes(3));
        assert_eq!(Plan::for_minutes(9), Plan::for_minutes(6));
        assert_eq!(Plan::for_minutes(u32::MAX), Plan::for_minutes(15));
    }

    #[test]
    fn longer_plans_ask_for_more() {
        use TaskKind::{BusyRest, HandsOff, Hold, QuietRest, Reach, Return, Sustained};
        let of = |minutes: u32| kinds(&Plan::for_minutes(minutes));
        assert_eq!(of(3), [HandsOff, QuietRest, Reach]);
        assert_eq!(of(6), [HandsOff, QuietRest, Reach, Hold]);
        assert_eq!(of(10), [HandsOff, QuietRest, Reach, Hold, Sustained]);
        assert_eq!(of(15), [HandsOff, QuietRest, Reach, Hold, Sustained, BusyRest, Return]);
    }

    #[test]
    fn presses_come_last_and_where_there_is_time() {
        let presses = |minutes: u32, buttons: &[usize]| match Plan::for_minutes(minutes)
            .with_presses(buttons)
            .tasks
            .last()
        {
            Some(TaskAsk::Presses { buttons, .. }) => buttons.clone(),
            _ => Vec::new(),
        };
        assert_eq!(presses(15, &[5, 1, 5, 99, 2, 3, 4]), [5, 1, 2]);
        assert_eq!(presses(10, &[5, 1, 2]), [5, 1]);
        assert!(presses(6, &[0]).is_empty() && presses(15, &[]).is_empty());
        let plan = Plan::for_minutes(15).with_presses(&[0]);
        assert_eq!(plan.clone().with_presses(&[1]), plan);
        assert!(plan.expected_seconds > Plan::for_minutes(15).expected_seconds + 30.0);
    }

    #[test]
    fn plans_suit_the_kind_of_stick() {
        let axes = StickAxes { vertical: AxisPick::NONE, ..StickAxes::default() };
        for minutes in Plan::MINUTES {
            let usual = Plan::for_stick(minutes, StickKind::default(), StickAxes::default());
            assert_eq!(usual, Plan::for_minutes(minutes));
            for moves in [Moves::OneAxis, Moves::OneWay] {
                let plan =
                    Plan::for_stick(minutes, StickKind { moves, ..StickKind::default() }, axes);
                fits(&plan);
                let left_out = Plan::for_minutes(minutes).muscle_seconds - plan.muscle_seconds;
                assert!(left_out >= 0.0, "fewer directions are no more work: {left_out}");
                for ask in &plan.tasks {
                    if let TaskAsk::Reach { directions, .. }
                    | TaskAsk::Hold { directions, .. }
                    | TaskAsk::Sustained { directions, .. }
                    | TaskAsk::Return { directions, .. } = ask
                    {
                        let allowed: &[Direction] =
                            if moves == Moves::OneWay { &[Direction::Right] } else { &SIDES };
                        assert!(!directions.is_empty());
                        assert!(directions.iter().all(|way| allowed.contains(way)), "{ask:?}");
                    }
                }
            }
            let stays = StickKind { centres_itself: false, ..StickKind::default() };
            let plan = Plan::for_stick(minutes, stays, StickAxes::default());
            assert!(!kinds(&plan).contains(&TaskKind::Return));
            let switches = StickKind { switches: true, ..StickKind::default() };
            let plan = kinds(&Plan::for_stick(minutes, switches, StickAxes::default()));
            assert!(!plan.contains(&TaskKind::Hold) && !plan.contains(&TaskKind::Sustained));
        }
    }
}
