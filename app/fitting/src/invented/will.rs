//! Movement on purpose: smooth strokes laid over one another.

use super::random::Random;
use crate::Position;

/// One stroke.
#[derive(Clone, Copy, Debug)]
struct Stroke {
    from_seconds: f64,
    seconds: f64,
    by: Position,
}

/// The place a person means to be at. A movement is one large stroke and a small one that
/// corrects it (sub-movements; Meyer and others 1988), each of minimum jerk; strokes add up, so a
/// movement may begin while another runs.
#[derive(Clone, Debug, Default)]
pub(super) struct Will {
    reached: Position,
    strokes: Vec<Stroke>,
}

/// The shortest stroke, seconds.
const SHORTEST_SECONDS: f64 = 0.25;
/// The first stroke covers between this share of the way and all of it.
const FIRST_SHARE: f64 = 0.9;
/// Shares of the way that the first stroke may cover, in even steps: for means over them.
pub(super) fn first_shares() -> impl Iterator<Item = f64> {
    (0..5_u8).map(|step| FIRST_SHARE + (1.0 - FIRST_SHARE) * (f64::from(step) + 0.5) / 5.0)
}

/// When the correcting stroke begins, as a share of the first one.
const CORRECTS_AT: f64 = 0.8;

impl Will {
    /// Means to be at `goal`, where a movement over the whole travel takes `whole_seconds`.
    /// Returns when the movement will have ended.
    pub(super) fn go_to(
        &mut self,
        goal: Position,
        now: f64,
        whole_seconds: f64,
        random: &mut Random,
    ) -> f64 {
        let share = random.between(FIRST_SHARE, 1.0);
        self.stroke(goal, now, whole_seconds, share)
    }

    /// The same, where the first stroke covers `share` of the way.
    fn stroke(&mut self, goal: Position, now: f64, whole_seconds: f64, share: f64) -> f64 {
        let way = goal - self.goal();
        let seconds = SHORTEST_SECONDS + (whole_seconds - SHORTEST_SECONDS).max(0.0) * way.radius();
        let corrects = now + CORRECTS_AT * seconds;
        self.strokes.push(Stroke { from_seconds: now, seconds, by: way * share });
        self.strokes.push(Stroke {
            from_seconds: corrects,
            seconds: SHORTEST_SECONDS,
            by: way * (1.0 - share),
        });
        (now + seconds).max(corrects + SHORTEST_SECONDS)
    }

    /// A movement from `from` back to the middle, whose first stroke covers `share` of the way.
    pub(super) fn back_from(from: Position, whole_seconds: f64, share: f64) -> Self {
        let mut will = Self { reached: from, strokes: Vec::new() };
        will.stroke(Position::ORIGIN, 0.0, whole_seconds, share);
        will
    }

    /// Where all strokes that are under way will lead.
    pub(super) fn goal(&self) -> Position {
        self.strokes.iter().fold(self.reached, |sum, stroke| sum + stroke.by)
    }

    /// Where the person means to be at this moment; strokes that are over are put together.
    pub(super) fn at(&mut self, now: f64) -> Position {
        let mut at = self.reached;
        for stroke in &self.strokes {
            at = at + stroke.by * minimum_jerk((now - stroke.from_seconds) / stroke.seconds);
        }
        let reached = &mut self.reached;
        self.strokes.retain(|stroke| {
            let runs = now < stroke.from_seconds + stroke.seconds;
            if !runs {
                *reached = *reached + stroke.by;
            }
            runs
        });
        at
    }
}

/// The smoothest movement from 0 to 1 as time goes from 0 to 1 (minimum jerk, Flash and Hogan
/// 1985, *Journal of Neuroscience* 5: 1688): `10 t³ − 15 t⁴ + 6 t⁵`, held at its ends.
pub(super) fn minimum_jerk(time: f64) -> f64 {
    let time = time.clamp(0.0, 1.0);
    time * time * time * (10.0 + time * (-15.0 + 6.0 * time))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minimum_jerk_has_its_published_shape() {
        assert_eq!((minimum_jerk(-1.0), minimum_jerk(0.0)), (0.0, 0.0));
        assert_eq!((minimum_jerk(0.5), minimum_jerk(1.0), minimum_jerk(2.0)), (0.5, 1.0, 1.0));
        // Its peak speed is 15/8 of the mean speed (Flash and Hogan 1985).
        let speed = (minimum_jerk(0.5001) - minimum_jerk(0.4999)) / 0.0002;
        assert!((speed - 1.875).abs() < 1e-6);
    }

    #[test]
    fn strokes_add_up_smoothly_and_end_at_the_goal() {
        let mut random = Random::new(4, 4);
        let mut will = Will::default();
        let goal = Position::new(0.6, -0.3);
        let ends = will.go_to(goal, 0.0, 0.8, &mut random);
        let mut before = will.at(0.0);
        let mut turned_back = false;
        let mut now = 0.0;
        while now < 4.0 {
            if !turned_back && now > ends / 2.0 {
                turned_back = true;
                will.go_to(Position::ORIGIN, now, 0.8, &mut random);
            }
            let at = will.at(now);
            assert!((at - before).radius() < 0.02, "no jump");
            before = at;
            now += 0.004;
        }
        assert!(before.radius() < 1e-9);
    }
}
