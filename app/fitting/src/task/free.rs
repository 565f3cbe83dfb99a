//! Where no way is asked, and anything moves something: what is watched then, and how it is sorted.

use super::press::PressWatch;
use super::ring::RingWatch;
use super::{Known, PressAsk, Target, TaskAsk};
use crate::position::fold_degrees;
use crate::sample::MOST_CONTROLS;
use crate::{Direction, Position, Span};

/// What goes further than this from each direction of the task is sorted into none, degrees: half
/// of what lies between two of four.
const SORTED_DEGREES: f64 = 45.0;
/// What is held further than this from each level of the task is sorted into none, share of own
/// reach: half of what lies between two of the usual levels.
const SORTED_SHARE: f64 = 0.125;
/// A ring is put where the stick has stayed for so long, seconds, within the share of the travel
/// that rhythmic movement leaves once it is smoothed.
const STAYED_SECONDS: f64 = 0.4;
const STAYED_WITHIN: f64 = 0.06;
/// Whoever is slow goes no further than that in a moment while still on the way: so the stay has to
/// last this share of the time since the stick went out, too, up to so many seconds.
const STAYED_SHARE: f64 = 0.3;
const LONGEST_STAYED_SECONDS: f64 = 2.0;
/// Time constant of that smoothing, seconds; see the pushes.
const SMOOTH_SECONDS: f64 = 0.15;
/// Going out begins this far beyond the nearest place since the cue, share of travel.
const START_BEYOND: f64 = 0.05;
/// A ring that was left too soon comes back larger by this factor: nobody fails for being unsteady.
const WIDER: f64 = 1.25;

/// What a task without an asked way is sorted into.
#[derive(Clone, Debug, Default)]
pub(super) struct Sorting {
    directions: Vec<Direction>,
    levels: Vec<f64>,
    buttons: Vec<usize>,
}

/// What a repetition turned out to be.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Sorted {
    pub(super) direction: Option<Direction>,
    pub(super) level: Option<f64>,
    pub(super) button: Option<usize>,
}

impl Sorting {
    /// The directions, levels and buttons of a task.
    pub(super) fn of(ask: &TaskAsk) -> Self {
        let (mut directions, mut levels, mut buttons) = (Vec::new(), Vec::new(), Vec::new());
        match ask {
            TaskAsk::Reach { directions: asked, .. }
            | TaskAsk::Return { directions: asked, .. } => {
                directions.clone_from(asked);
            }
            TaskAsk::Hold { directions: asked, levels: shares, .. } => {
                directions.clone_from(asked);
                levels.clone_from(shares);
            }
            TaskAsk::Presses { buttons: asked, .. } => buttons.clone_from(asked),
            TaskAsk::HandsOff { .. }
            | TaskAsk::QuietRest { .. }
            | TaskAsk::BusyRest { .. }
            | TaskAsk::FreeMovement { .. }
            | TaskAsk::Sustained { .. } => {}
        }
        Self { directions, levels, buttons }
    }

    /// Where a push or a hold went, `at` being from the centre.
    pub(super) fn place(&self, at: Position, known: &Known) -> Sorted {
        let direction = nearest_direction(&self.directions, at);
        let reach = direction
            .and_then(|went| known.reach.iter().find(|reach| reach.asked == went))
            .map(|reach| reach.end.radius())
            .filter(|reach| *reach > 0.0);
        let level = reach.and_then(|reach| {
            let held = at.radius() / reach;
            let off = |level: &f64| (*level - held).abs();
            let near = self.levels.iter().copied().filter(|level| off(level) <= SORTED_SHARE);
            near.min_by(|one, other| off(one).total_cmp(&off(other)))
        });
        Sorted { direction, level, button: None }
    }

    /// The buttons that count, a bit each.
    pub(super) fn buttons(&self) -> u32 {
        let bits = self.buttons.iter().filter(|button| **button < MOST_CONTROLS);
        bits.fold(0, |mask, button| mask | 1_u32 << button)
    }
}

/// Of these the direction in which a place lies, to within 45 degrees.
fn nearest_direction(among: &[Direction], at: Position) -> Option<Direction> {
    let off = |one: &Direction| fold_degrees(at.degrees() - one.degrees()).abs();
    let near = among.iter().copied().filter(|one| off(one) <= SORTED_DEGREES);
    near.min_by(|one, other| off(one).total_cmp(&off(other)))
}

/// A hold wherever the person holds: the ring comes to where the stick stays, and goes with it
/// when it leaves. Positions are absolute, shares of travel.
#[derive(Clone, Debug)]
pub(super) struct FreeRing {
    centre: Position,
    quiet_radius: f64,
    seconds: f64,
    nearest: f64,
    out: bool,
    /// Since when the stick has been outside the quiet radius.
    out_since: Option<f64>,
    smooth: Option<Position>,
    /// Since when the stick has stayed, and about which place.
    stays: Option<(f64, Position)>,
    ring: Option<RingWatch>,
    wider: f64,
    /// The longest stay so far and its ring.
    best: Option<(Span, Target)>,
}

impl FreeRing {
    /// A hold that is to last `seconds`.
    pub(super) const fn new(known: &Known, seconds: f64) -> Self {
        Self {
            centre: known.centre,
            quiet_radius: known.quiet_radius,
            seconds,
            nearest: f64::INFINITY,
            out: false,
            out_since: None,
            smooth: None,
            stays: None,
            ring: None,
            wider: 1.0,
            best: None,
        }
    }

    /// Takes in that the stick was at `at` from `from` to `to`. True when the hold is done.
    pub(super) fn hold_for(&mut self, from: f64, to: f64, at: Position) -> bool {
        let radius = (at - self.centre).radius();
        self.nearest = self.nearest.min(radius);
        self.out |= radius > self.quiet_radius.max(self.nearest + START_BEYOND);
        let step = to - from;
        let before = self.smooth.unwrap_or(at);
        let smooth = before + (at - before) * (step / (SMOOTH_SECONDS + step));
        self.smooth = Some(smooth);
        if let Some(ring) = &mut self.ring {
            let done = ring.hold_for(from, to, at);
            if done || !ring.is_staying() {
                self.leave(to);
            }
            return done;
        }
        let is_out = self.out && (smooth - self.centre).radius() > self.quiet_radius;
        let (since, place) = match self.stays {
            Some((since, place)) if is_out && (smooth - place).radius() <= STAYED_WITHIN => {
                (since, place)
            }
            _ => (to, smooth),
        };
        self.stays = is_out.then_some((since, place));
        self.out_since = self.out_since.or(Some(to)).filter(|_| is_out);
        let out_seconds = self.out_since.map_or(0.0, |since| to - since);
        let stay = (STAYED_SHARE * out_seconds).clamp(STAYED_SECONDS, LONGEST_STAYED_SECONDS);
        if is_out && to - since >= stay {
            let mut ring =
                RingWatch::about(self.centre, self.quiet_radius, smooth, self.seconds, self.wider);
            ring.hold_for(from, to, at);
            if ring.is_staying() {
                self.ring = Some(ring);
            }
        }
        false
    }

    /// The ring is left: what was stayed in it is remembered.
    fn leave(&mut self, now: f64) {
        let Some(mut ring) = self.ring.take() else { return };
        self.stays = None;
        self.wider *= WIDER;
        if let Some(stay) = ring.ended(now)
            && stay.seconds() > self.best.map_or(0.0, |best| best.0.seconds())
        {
            self.best = Some((stay, ring.target()));
        }
    }

    /// Ends the hold here: the longest stay, if there was one.
    pub(super) fn ended(&mut self, now: f64) -> Option<Span> {
        self.leave(now);
        self.best.map(|best| best.0)
    }

    /// Ends the hold here because somebody says "next": whether it counts, being half of what is
    /// wanted.
    pub(super) fn counts_when_ended(&mut self, now: f64) -> bool {
        self.ended(now).map_or(0.0, Span::seconds) >= self.seconds / 2.0
    }

    /// Whether a stay is going on.
    pub(super) const fn is_staying(&self) -> bool {
        self.ring.is_some()
    }

    /// How far the present stay has come, 0..=1.
    pub(super) fn progress(&self, now: f64) -> f64 {
        self.ring.as_ref().map_or(0.0, |ring| ring.progress(now))
    }

    /// The ring, while there is one.
    pub(super) fn target(&self) -> Option<Target> {
        self.ring.as_ref().map(RingWatch::target)
    }

    /// Where it was held for longest, from the centre.
    pub(super) fn place(&self) -> Option<Position> {
        let now = self.target().or(self.best.map(|best| best.1));
        now.map(|ring| ring.at - self.centre)
    }

    /// About which of the eight ways that is.
    pub(super) fn about(&self) -> Direction {
        let at = self.place().unwrap_or(Position::ORIGIN);
        nearest_direction(&Direction::EIGHT, at).unwrap_or(Direction::Up)
    }
}

/// One press of whichever button.
#[derive(Clone, Debug)]
pub(super) struct FreePress {
    among: u32,
    /// The buttons that were up since the cue: some sticks rest with one down.
    up: u32,
    pressed: Option<usize>,
    watch: PressWatch,
}

impl FreePress {
    /// Of the buttons of this mask.
    pub(super) const fn new(among: u32) -> Self {
        Self { among, up: 0, pressed: None, watch: PressWatch::new(PressAsk::Once) }
    }

    /// Takes in which buttons were down from `from` to `to`, a bit each. True when a press is over.
    pub(super) fn hold_for(&mut self, from: f64, to: f64, down: u32) -> bool {
        let fresh = down & self.up & self.among;
        self.up |= !down;
        if self.pressed.is_none() && fresh != 0 {
            self.pressed = Some(fresh.trailing_zeros() as usize);
            // It was up until now.
            self.watch.hold_for(from, from, false);
        }
        let Some(button) = self.pressed else { return false };
        self.watch.hold_for(from, to, down >> button & 1 == 1)
    }

    /// Whether it counts when somebody says "next".
    pub(super) const fn counts_when_ended(&self) -> bool {
        self.watch.counts_when_ended()
    }

    /// Which button it was.
    pub(super) const fn pressed(&self) -> Option<usize> {
        self.pressed
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::task::KnownReach;
    use proptest::prelude::*;

    const STEP: f64 = 0.004;

    /// Plays a hold; when it was done, if it was.
    fn play(ring: &mut FreeRing, seconds: f64, at: impl Fn(f64) -> Position) -> Option<f64> {
        (0..(seconds / STEP) as u32).find_map(|tick| {
            let now = f64::from(tick) * STEP;
            ring.hold_for(now, now + STEP, at(now)).then_some(now + STEP)
        })
    }

    #[test]
    fn the_ring_comes_to_where_the_stick_stays() {
        let mut ring = FreeRing::new(&Known::default(), 3.0);
        let out = Position::polar(0.5, 200.0);
        let way = |now: f64| out * (now - 1.0).clamp(0.0, 1.0);
        let done = play(&mut ring, 10.0, way).expect("it is done");
        // Out at 2 s; smoothed and stayed by some 2.6 s, half a second of settling, and 3 s.
        assert!((5.7..6.4).contains(&done), "{done}");
        let place = ring.place().expect("a place");
        assert!((place - out).radius() < 0.03, "{place:?}");
        assert!((ring.ended(done).expect("a stay").seconds() - 3.0).abs() < 0.01);
    }

    #[test]
    fn a_slow_way_out_is_no_stay() {
        for seconds in [2.0, 5.0, 9.0] {
            let mut ring = FreeRing::new(&Known::default(), 1.0);
            let out = Position::polar(0.6, 200.0);
            let way = |now: f64| {
                let time = (now / seconds).min(1.0);
                out * (time * time * time * (10.0 + time * (-15.0 + 6.0 * time)))
            };
            let done = play(&mut ring, 30.0, way).expect("it is done");
            let place = ring.place().expect("a place");
            assert!((place - out).radius() < 0.03, "{seconds}: {place:?}");
            assert!(done < seconds + 4.0, "{seconds}: {done}");
        }
    }

    #[test]
    fn a_stick_that_was_out_already_and_a_way_through_hold_nothing() {
        let mut ring = FreeRing::new(&Known::default(), 1.0);
        assert_eq!(play(&mut ring, 5.0, |_| Position::new(0.6, 0.0)), None);
        let mut ring = FreeRing::new(&Known::default(), 1.0);
        let swings = |now: f64| Position::new(0.7 * libm::sin(2.0 * now), 0.0);
        assert_eq!(play(&mut ring, 8.0, swings), None);
        assert!(!ring.counts_when_ended(8.0));
    }

    #[test]
    fn leaving_gives_the_ring_up_and_the_next_one_is_larger() {
        let mut ring = FreeRing::new(&Known::default(), 3.0);
        let way = |now: f64| match now {
            now if now < 0.5 || (3.0..4.0).contains(&now) => Position::ORIGIN,
            now if now < 3.0 => Position::new(0.5, 0.0),
            _ => Position::new(0.0, 0.5),
        };
        play(&mut ring, 2.8, way);
        let first = ring.target().expect("a ring");
        play(&mut ring, 3.5, way);
        assert!(ring.target().is_none());
        let done = (0..2000).find_map(|tick| {
            let now = 3.5 + f64::from(tick) * STEP;
            ring.hold_for(now, now + STEP, way(now)).then_some(ring.place())
        });
        let place = done.flatten().expect("done in the other place");
        assert!((place - Position::new(0.0, 0.5)).radius() < 0.03);
        assert!(ring.best.expect("a stay").1.radius > 1.1 * first.radius);
    }

    #[test]
    fn pushes_and_holds_are_sorted_by_where_they_went() {
        let end = Position::new(0.8, 0.0);
        let known =
            Known { reach: vec![KnownReach { asked: Direction::Right, end }], ..Known::default() };
        let ask = TaskAsk::Hold {
            directions: vec![Direction::Right, Direction::Left],
            levels: vec![0.25, 0.5, 0.75],
            rounds: 1,
            seconds: 3.0,
        };
        let sorting = Sorting::of(&ask);
        let sorted = |radius, degrees| sorting.place(Position::polar(radius, degrees), &known);
        let right = Some(Direction::Right);
        assert_eq!(sorted(0.4, 44.0), Sorted { direction: right, level: Some(0.5), button: None });
        assert_eq!(sorted(0.72, 10.0).level, None);
        assert_eq!(sorted(0.4, 60.0).direction, None);
        let left = sorted(0.4, 170.0);
        assert_eq!((left.direction, left.level), (Some(Direction::Left), None));
    }

    #[test]
    fn any_button_that_was_up_is_the_one() {
        let mut press = FreePress::new(0b1110);
        // Button 1 rests down, button 0 does not belong to it, button 3 is pressed for 0.2 s.
        let down = |now: f64| {
            0b10 | u32::from(now < 0.5) | if (1.0..1.2).contains(&now) { 0b1000 } else { 0 }
        };
        let over = (0..1000).find_map(|tick| {
            let now = f64::from(tick) * STEP;
            press.hold_for(now, now + STEP, down(now)).then_some(now)
        });
        assert_eq!(press.pressed(), Some(3));
        assert!((over.expect("it is over") - 1.8).abs() < 0.02, "{over:?}");
        assert!(FreePress::new(0b1).pressed().is_none());
    }

    proptest! {
        #[test]
        fn every_place_is_sorted_into_one_of_eight(degrees in -180.0..180.0_f64, far in 0.01..1.4_f64) {
            let ask = TaskAsk::Reach { directions: Direction::EIGHT.to_vec(), rounds: 1 };
            let sorted = Sorting::of(&ask).place(Position::polar(far, degrees), &Known::default());
            let went = sorted.direction.expect("one of eight is near");
            prop_assert!(fold_degrees(degrees - went.degrees()).abs() <= 22.5 + 1e-9);
        }
    }
}
