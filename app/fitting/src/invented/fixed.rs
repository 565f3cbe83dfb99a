//! A fixed order of tasks, the same for everybody.
//!
//! What an assessment asks when nobody looks at what is known already: the accuracy runs and the
//! golden figures play it, so that they stay comparable from one version to the next, and it is
//! what the planner of [`crate::task::Plan`] has to beat.

use crate::Direction;
use crate::task::{Meanwhile, TaskAsk, TaskKind};

/// The tasks for 3, 6, 10 or 15 minutes (the largest of these that fits, the smallest for less):
/// hands off, rest, reach, then steadiness, what can be kept up, busy rest and the way back. The
/// amounts are common practice, no source.
#[must_use]
pub fn fixed_order(minutes: u32) -> Vec<TaskAsk> {
    let (four, eight) = (Direction::FOUR.to_vec(), Direction::EIGHT.to_vec());
    let sides = [Direction::Right, Direction::Left];
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
    match minutes {
        15.. => {
            let mut tasks = start(10.0, 120.0, eight, 4);
            tasks.extend([
                hold(&Direction::FOUR, &levels),
                TaskAsk::usual(TaskKind::Sustained, &[]),
                TaskAsk::BusyRest { seconds: 60.0, meanwhile: Meanwhile::Talking },
                TaskAsk::usual(TaskKind::Return, &[]),
            ]);
            tasks
        }
        10.. => {
            let mut tasks = start(10.0, 100.0, eight, 3);
            tasks.extend([hold(&sides, &levels), TaskAsk::usual(TaskKind::Sustained, &[])]);
            tasks
        }
        6.. => {
            let mut tasks = start(8.0, 60.0, four, 4);
            tasks.push(hold(&sides, &[0.25, 0.5]));
            tasks
        }
        _ => start(5.0, 30.0, four, 3),
    }
}
