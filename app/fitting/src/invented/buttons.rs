//! An invented person's presses, wanted and unwanted, through switches that bounce.

use super::body::Pressing;
use super::random::Random;
use crate::task::PressAsk;

/// The most stretches of contact kept of one button; one more press is left out.
const MOST_STRETCHES: usize = 24;

/// One button under a finger.
#[derive(Clone, Debug)]
struct Button {
    habit: Pressing,
    random: Random,
    /// When the next unwanted press begins, seconds.
    next_unwanted: f64,
    /// When its contact is closed: from, to, seconds.
    closed: Vec<(f64, f64)>,
}

impl Button {
    /// A press from `from` to `to`, with what its contact does at both ends: it closes, opens
    /// once within the bounce and closes for good, and the other way round.
    fn press(&mut self, from: f64, to: f64, bounce_seconds: f64) {
        if self.closed.len() + 3 > MOST_STRETCHES {
            return;
        }
        if bounce_seconds > 0.0 {
            let (one, two) = self.bounce(bounce_seconds);
            self.closed.push((from, from + one));
            self.closed.push((from + two, to.max(from + two)));
            let (one, two) = self.bounce(bounce_seconds);
            self.closed.push((to + one, to + two));
        } else {
            self.closed.push((from, to));
        }
    }

    /// Two moments within a bounce, in order.
    fn bounce(&mut self, seconds: f64) -> (f64, f64) {
        let (one, two) = (self.random.even() * seconds, self.random.even() * seconds);
        if one < two { (one, two) } else { (two, one) }
    }
}

/// All buttons of a stick.
#[derive(Clone, Debug)]
pub(super) struct Buttons {
    buttons: Vec<Button>,
    bounce_seconds: f64,
}

impl Buttons {
    /// For as many buttons as the stick has; a button of which the person has no habit is never
    /// pressed.
    pub(super) fn new(habits: &[Pressing], count: usize, bounce_seconds: f64, seed: u64) -> Self {
        let buttons = habits.iter().take(count).enumerate().map(|(index, habit)| {
            let mut random = Random::new(seed, 60 + index as u64);
            let next_unwanted = waits(habit, &mut random);
            Button { habit: *habit, random, next_unwanted, closed: Vec::new() }
        });
        Self { buttons: buttons.collect(), bounce_seconds }
    }

    /// From now on, after a pause in which nothing was played.
    pub(super) fn begin(&mut self, now: f64) {
        for button in &mut self.buttons {
            button.next_unwanted = now + waits(&button.habit, &mut button.random);
        }
    }

    /// A button at `share` (0..1) of all, where any may be pressed.
    pub(super) fn any(&self, share: f64) -> usize {
        let count = self.buttons.len();
        ((share * count as f64) as usize).min(count.saturating_sub(1))
    }

    /// How long the person takes to press `button` from the cue, seconds; `None` for a cue that
    /// is missed and for a button that is not there.
    pub(super) fn reaction_seconds(&mut self, button: usize) -> Option<f64> {
        let button = self.buttons.get_mut(button)?;
        if button.random.chance(button.habit.missed) {
            return None;
        }
        Some(button.random.about(button.habit.reaction_seconds, button.habit.spread))
    }

    /// The person presses `button` the way that is asked.
    pub(super) fn press(&mut self, button: usize, how: PressAsk, now: f64) {
        let bounce = self.bounce_seconds;
        let Some(button) = self.buttons.get_mut(button) else { return };
        let Pressing { length_seconds, long_seconds, gap_seconds, spread, .. } = button.habit;
        let first = match how {
            PressAsk::Long => long_seconds,
            PressAsk::Once | PressAsk::Twice => length_seconds,
        };
        let to = now + button.random.about(first, spread);
        button.press(now, to, bounce);
        if how == PressAsk::Twice {
            let from = to + button.random.about(gap_seconds, spread);
            let to = from + button.random.about(length_seconds, spread);
            button.press(from, to, bounce);
        }
    }

    /// Which buttons' contacts are closed now, a bit each; unwanted presses come only while the
    /// hand is on the stick.
    pub(super) fn pressed(&mut self, now: f64, hand_on: bool) -> u32 {
        let mut pressed = 0;
        for (index, button) in self.buttons.iter_mut().enumerate() {
            while button.next_unwanted <= now {
                let from = button.next_unwanted;
                if hand_on {
                    let seconds = button.random.about(button.habit.unwanted_seconds, UNWANTED);
                    button.press(from, from + seconds, self.bounce_seconds);
                }
                button.next_unwanted = from + waits(&button.habit, &mut button.random);
            }
            if button.closed.is_empty() {
                continue;
            }
            if button.closed.iter().any(|(from, to)| *from <= now && now < *to) {
                pressed |= 1 << index.min(31);
            }
            button.closed.retain(|(_, to)| now < *to);
        }
        pressed
    }
}

/// Standard deviation of the logarithm of an unwanted press's length.
const UNWANTED: f64 = 0.4;

/// The time to the next unwanted press, seconds; endless where there are none.
fn waits(habit: &Pressing, random: &mut Random) -> f64 {
    if habit.unwanted_per_minute > 0.0 {
        // Never so short that looking for the next one would not end.
        random.waits(60.0 / habit.unwanted_per_minute).max(1e-3)
    } else {
        f64::INFINITY
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HABIT: Pressing = Pressing {
        reaction_seconds: 0.45,
        length_seconds: 0.18,
        long_seconds: 0.9,
        gap_seconds: 0.2,
        spread: 0.25,
        unwanted_per_minute: 0.0,
        unwanted_seconds: 0.1,
        missed: 0.1,
    };

    /// The stretches in which button 0 was closed, read every 0.1 ms.
    fn stretches(buttons: &mut Buttons, from: f64, seconds: f64) -> Vec<(f64, f64)> {
        let mut found: Vec<(f64, f64)> = Vec::new();
        let mut down = false;
        for step in 0..(seconds * 1e4) as u32 {
            let now = from + f64::from(step) * 1e-4;
            let is = buttons.pressed(now, true) & 1 == 1;
            if is && !down {
                found.push((now, now));
            } else if is && let Some(last) = found.last_mut() {
                last.1 = now;
            }
            down = is;
        }
        found
    }

    fn median(mut values: Vec<f64>) -> f64 {
        values.sort_by(f64::total_cmp);
        values[values.len() / 2]
    }

    #[test]
    fn presses_have_their_medians() {
        let mut buttons = Buttons::new(&[HABIT], 1, 0.0, 4);
        let (mut lengths, mut longs, mut gaps) = (Vec::new(), Vec::new(), Vec::new());
        for round in 0..400 {
            let now = f64::from(round) * 10.0;
            buttons.press(0, PressAsk::Once, now);
            let once = stretches(&mut buttons, now, 1.5);
            buttons.press(0, PressAsk::Long, now + 2.0);
            let long = stretches(&mut buttons, now + 2.0, 4.0);
            buttons.press(0, PressAsk::Twice, now + 6.0);
            let twice = stretches(&mut buttons, now + 6.0, 3.0);
            assert_eq!((once.len(), long.len(), twice.len()), (1, 1, 2));
            lengths.push(once[0].1 - once[0].0);
            longs.push(long[0].1 - long[0].0);
            gaps.push(twice[1].0 - twice[0].1);
        }
        // Four standard errors of a median: 1.25 × 0.25 / sqrt(400) = 1.6 % each.
        for (seen, said) in [(lengths, 0.18), (longs, 0.9), (gaps, 0.2)] {
            let seen = median(seen);
            assert!((seen / said - 1.0).abs() < 0.065, "{seen} against {said}");
        }
        let reactions: Vec<Option<f64>> = (0..2000).map(|_| buttons.reaction_seconds(0)).collect();
        let missed = reactions.iter().filter(|one| one.is_none()).count();
        assert!((missed as f64 / 2000.0 - 0.1).abs() < 0.03, "{missed}");
        let seen = median(reactions.into_iter().flatten().collect());
        assert!((seen / 0.45 - 1.0).abs() < 0.03, "{seen}");
        assert_eq!(buttons.reaction_seconds(1), None);
    }

    #[test]
    fn unwanted_presses_come_at_their_rate_while_the_hand_is_on() {
        let habit = Pressing { unwanted_per_minute: 2.0, ..HABIT };
        let mut buttons = Buttons::new(&[habit], 1, 0.0, 4);
        buttons.begin(0.0);
        let count = |buttons: &mut Buttons, from: u32, hand_on: bool| {
            let (mut count, mut down) = (0_u32, false);
            for step in 0..6_000_000_u32 {
                let now = f64::from(from) + f64::from(step) * 0.002;
                let is = buttons.pressed(now, hand_on) == 1;
                count += u32::from(is && !down);
                down = is;
            }
            count
        };
        let seen = count(&mut buttons, 0, true);
        // 400 expected in 200 minutes; four Poisson standard deviations, and a few that overlap.
        assert!((f64::from(seen) - 400.0).abs() < 80.0, "{seen}");
        assert_eq!(count(&mut buttons, 20_000, false), 0);
    }

    #[test]
    fn a_bouncing_contact_opens_within_its_bounce_only() {
        let mut buttons = Buttons::new(&[HABIT], 1, 0.008, 6);
        let mut bounced = 0;
        for round in 0..100 {
            let now = f64::from(round) * 3.0;
            buttons.press(0, PressAsk::Long, now);
            let seen = stretches(&mut buttons, now, 2.5);
            bounced += usize::from(seen.len() > 1);
            assert!(seen.len() <= 3);
            let long = seen.iter().map(|(from, to)| to - from).fold(0.0, f64::max);
            let whole = seen[seen.len() - 1].1 - seen[0].0;
            assert!(whole - long < 2.0 * 0.008 + 1e-3, "{seen:?}");
        }
        assert!(bounced > 90, "{bounced}");
    }
}
