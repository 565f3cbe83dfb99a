//! What is asked in the minutes a person has.

use super::TaskAsk;
use super::pace::{expected_seconds, muscle_seconds};
use crate::Direction;

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
    /// own noise and from the person's unintended movement; then reach, then steadiness. The
    /// plan for 6 minutes keeps muscle work under two minutes, for people who tire. The amounts
    /// are common practice, no source; the three seconds of a hold are the least in which
    /// rhythmic movement from 4 Hz up shows (a resolution of a third of a hertz).
    #[must_use]
    pub fn for_minutes(minutes: u32) -> Self {
        let minutes = Self::MINUTES
            .into_iter()
            .rev()
            .find(|some| *some <= minutes)
            .unwrap_or(Self::MINUTES[0]);
        let (hands_off, rest, directions, rounds, hold) = match minutes {
            15 => (10.0, 120.0, 8, 4, Some((4, vec![0.25, 0.5, 0.75]))),
            10 => (10.0, 100.0, 8, 3, Some((2, vec![0.25, 0.5, 0.75]))),
            6 => (8.0, 60.0, 4, 4, Some((2, vec![0.25, 0.5]))),
            _ => (5.0, 30.0, 4, 3, None),
        };
        let some = |count: usize| match count {
            // Left and right: the two that almost every use of a stick needs.
            2 => vec![Direction::Right, Direction::Left],
            4 => Direction::FOUR.to_vec(),
            _ => Direction::EIGHT.to_vec(),
        };
        let mut tasks = vec![
            TaskAsk::HandsOff { seconds: hands_off },
            TaskAsk::QuietRest { seconds: rest },
            TaskAsk::Reach { directions: some(directions), rounds },
        ];
        if let Some((directions, levels)) = hold {
            tasks.push(TaskAsk::Hold {
                directions: some(directions),
                levels,
                rounds: 2,
                seconds: 3.0,
            });
        }
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
    use crate::task::TaskKind;

    #[test]
    fn plans_fit_their_minutes_and_begin_with_what_the_rest_needs() {
        for minutes in Plan::MINUTES {
            let plan = Plan::for_minutes(minutes);
            assert_eq!(plan.minutes, minutes);
            assert!(plan.expected_seconds < f64::from(minutes) * 60.0, "{plan:?}");
            assert!(plan.muscle_seconds < plan.expected_seconds / 2.0, "{plan:?}");
            let kinds: Vec<TaskKind> = plan.tasks.iter().map(TaskAsk::kind).collect();
            assert_eq!(kinds[..3], [TaskKind::HandsOff, TaskKind::QuietRest, TaskKind::Reach]);
        }
        assert!(Plan::for_minutes(6).muscle_seconds <= 120.0);
        assert_eq!(Plan::for_minutes(0), Plan::for_minutes(3));
        assert_eq!(Plan::for_minutes(9), Plan::for_minutes(6));
        assert_eq!(Plan::for_minutes(u32::MAX), Plan::for_minutes(15));
    }
}
