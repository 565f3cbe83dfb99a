//! One way back: out into a ring, a moment's stay, let go, and wait until the stick is at rest.

use super::free::FreeRing;
use super::ring::{BEFORE_RETURN_SECONDS, RingWatch};
use super::{Known, Target};
use crate::{Direction, Position, Span};

/// The stick is at rest when it has moved little for this long within the quiet radius, seconds.
const AT_REST_SECONDS: f64 = 1.0;
/// A stick that comes to rest elsewhere (a sagging spring, or a hand that rests elsewhere) is at
/// rest when it has moved little for this long outside the ring, seconds.
const AT_REST_ELSEWHERE_SECONDS: f64 = 2.0;
/// "Little" is to stay within this share of the quiet radius to each side, on each axis: a resting
/// hand stays within two thirds of the quiet radius nearly always.
const LITTLE_SHARE: f64 = 0.75;
/// A slow way back moves little, too: while the stick, smoothed with this time constant, seconds,
/// comes nearer by more than that from so long after it seemed to rest on, seconds and share of
/// travel, it is on its way.
const SMOOTH_SECONDS: f64 = 0.15;
const HALF_WAY_SECONDS: f64 = 0.6;
const STILL_NEARER: f64 = 0.013;
/// Where nobody looked for this long the stick is not known to have been still, seconds.
const GAP_SECONDS: f64 = 0.25;

/// A stretch of moving little: since when, and between which places.
#[derive(Clone, Copy, Debug)]
struct Still {
    since: f64,
    /// How far from the centre it was, smoothed, [`HALF_WAY_SECONDS`] after that.
    half_way: Option<f64>,
    low: Position,
    high: Position,
}

/// The stay before it: in a ring at its place, or wherever the person stays.
#[derive(Clone, Debug)]
enum Out {
    There(RingWatch),
    Anywhere(FreeRing),
}

impl Out {
    fn hold_for(&mut self, from: f64, to: f64, at: Position) -> bool {
        match self {
            Self::There(ring) => ring.hold_for(from, to, at),
            Self::Anywhere(ring) => ring.hold_for(from, to, at),
        }
    }

    fn target(&self) -> Option<Target> {
        match self {
            Self::There(ring) => Some(ring.target()),
            Self::Anywhere(ring) => ring.target(),
        }
    }
}

/// Watches one way back. Positions are absolute, shares of travel.
#[derive(Clone, Debug)]
pub(super) struct ReturnWatch {
    out: Out,
    /// The ring that was stayed in, once letting go was asked.
    from: Option<Target>,
    centre: Position,
    quiet_radius: f64,
    /// When letting go was asked.
    let_go: Option<f64>,
    left_ring: bool,
    smooth: Position,
    still: Option<Still>,
}

impl ReturnWatch {
    pub(super) fn new(known: &Known, direction: Direction, level: f64) -> Self {
        Self::after(Out::There(RingWatch::before_return(known, direction, level)), known)
    }

    /// A way back from wherever the person stays for a second.
    pub(super) fn from_anywhere(known: &Known) -> Self {
        Self::after(Out::Anywhere(FreeRing::new(known, BEFORE_RETURN_SECONDS)), known)
    }

    fn after(out: Out, known: &Known) -> Self {
        Self {
            out,
            from: None,
            centre: known.centre,
            quiet_radius: known.quiet_radius,
            let_go: None,
            left_ring: false,
            smooth: known.centre,
            still: None,
        }
    }

    /// Takes in that the stick was at `at` from `from` to `to`. True when it is back and at rest.
    pub(super) fn hold_for(&mut self, from: f64, to: f64, at: Position) -> bool {
        if self.let_go.is_none() {
            let ring = self.out.target();
            if self.out.hold_for(from, to, at) {
                self.smooth = at;
                self.let_go = Some(to);
                self.from = self.out.target().or(ring);
            }
            return false;
        }
        let Some(ring) = self.from else { return false };
        let step = to - from;
        self.smooth = self.smooth + (at - self.smooth) * (step / (SMOOTH_SECONDS + step));
        let outside = (at - ring.at).radius() > ring.radius;
        self.left_ring |= outside;
        // Waiting in the ring is no rest, however still.
        if !outside || to - from > GAP_SECONDS {
            self.still = None;
            return false;
        }
        let far = (self.smooth - self.centre).radius();
        let mut still = self.still_from_now(from, at);
        let needs = if (at - self.centre).radius() <= self.quiet_radius {
            AT_REST_SECONDS
        } else {
            AT_REST_ELSEWHERE_SECONDS
        };
        if to - still.since >= HALF_WAY_SECONDS {
            let half_way = *still.half_way.get_or_insert(far);
            if to - still.since >= needs && half_way - far > STILL_NEARER {
                still.since = to - HALF_WAY_SECONDS;
                still.half_way = Some(far);
            }
        }
        self.still = Some(still);
        to - still.since >= needs
    }

    /// Since when the stick has moved little, being at `at` from `from` on.
    fn still_from_now(&self, from: f64, at: Position) -> Still {
        let widest = 2.0 * LITTLE_SHARE * self.quiet_radius;
        let grown = self.still.map(|still| Still {
            low: Position::new(still.low.right.min(at.right), still.low.up.min(at.up)),
            high: Position::new(still.high.right.max(at.right), still.high.up.max(at.up)),
            ..still
        });
        grown
            .filter(|still| {
                let size = still.high - still.low;
                size.right <= widest && size.up <= widest
            })
            .unwrap_or(Still { since: from, half_way: None, low: at, high: at })
    }

    /// Whether letting go is asked.
    pub(super) const fn is_let_go(&self) -> bool {
        self.let_go.is_some()
    }

    /// Since when nothing moves, after letting go was asked: since then, where the stick has not
    /// come to rest anywhere else.
    pub(super) fn still_from(&self) -> Option<f64> {
        self.still.map(|still| still.since).or(self.let_go)
    }

    /// Whether the way back counts when the person says "next": the stick left the ring.
    pub(super) const fn counts_when_ended(&self) -> bool {
        self.left_ring
    }

    /// The way back up to `now`; `None` before letting go was asked.
    pub(super) fn ended(&self, now: f64) -> Option<Span> {
        self.let_go.map(|since| Span { from_seconds: since, to_seconds: now.max(since) })
    }

    /// Whether the stick is in the ring, before letting go was asked.
    pub(super) const fn is_staying(&self) -> bool {
        match &self.out {
            Out::There(ring) => ring.is_staying(),
            Out::Anywhere(ring) => ring.is_staying(),
        }
    }

    /// About which way it is out, where the person stays wherever it is.
    pub(super) fn about(&self) -> Option<Direction> {
        match &self.out {
            Out::There(_) => None,
            Out::Anywhere(ring) => Some(ring.about()),
        }
    }

    /// Where it was let go, from the centre.
    pub(super) fn place(&self) -> Option<Position> {
        self.from.map(|ring| ring.at - self.centre)
    }

    /// How far the stay in the ring has come, 0..=1; 0 once letting go was asked.
    pub(super) fn progress(&self, now: f64) -> f64 {
        match &self.out {
            _ if self.is_let_go() => 0.0,
            Out::There(ring) => ring.progress(now),
            Out::Anywhere(ring) => ring.progress(now),
        }
    }

    /// The ring, until letting go is asked.
    pub(super) fn target(&self) -> Option<Target> {
        self.out.target().filter(|_| !self.is_let_go())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RING: Position = Position::new(0.0, 0.25);

    /// Lets go of the ring after `reaction` seconds: the place at each time after the cue.
    fn play(reaction: f64, at: impl Fn(f64) -> Position) -> (ReturnWatch, Option<f64>) {
        let mut watch = ReturnWatch::new(&Known::default(), Direction::Up, 0.5);
        let step = 0.004;
        let mut now = 0.0;
        while !watch.is_let_go() {
            assert!(!watch.hold_for(now, now + step, RING));
            now += step;
        }
        assert!((now - 1.0).abs() < 0.01, "a stay of a second: {now}");
        let cue = now;
        while now < cue + 30.0 {
            let since = now - cue;
            let place = if since < reaction { RING } else { at(since - reaction) };
            if watch.hold_for(now, now + step, place) {
                return (watch, Some(now + step - cue));
            }
            now += step;
        }
        (watch, None)
    }

    #[test]
    fn it_ends_a_second_after_it_is_back_however_late_the_hand_lets_go() {
        for reaction in [0.2, 1.0, 4.0] {
            let back = |since: f64| RING * (1.0 - since / 0.3).max(0.0);
            let (watch, took) = play(reaction, back);
            let took = took.expect("it ends");
            // The last of the way, inside the square of moving little, counts as still.
            let least = reaction + 0.3 - 0.3 * (0.15 / 0.25) + 1.0;
            assert!(took > least - 0.01 && took < reaction + 1.31, "{reaction}: {took}");
            let span = watch.ended(took).expect("a span");
            assert!((span.from_seconds - 1.0).abs() < 0.01);
        }
    }

    #[test]
    fn a_sagging_spring_rests_off_centre_and_ends_a_second_later() {
        let (_, took) = play(0.4, |since| RING * (1.0 - since / 0.3).max(0.5));
        // It rests 0.125 from the centre: outside the quiet radius of 0.1, and outside the ring,
        // which it left 0.09 s after letting go.
        assert!((took.expect("it ends") - 2.49).abs() < 0.02, "{took:?}");
    }

    #[test]
    fn swinging_is_not_rest_and_a_rocking_hand_within_its_usual_bounds_is() {
        let swing = |size: f64| {
            move |since: f64| {
                let swing = size * libm::sin(30.0 * since);
                RING * (1.0 - since / 0.3).max(0.0) + Position::new(swing, 0.0)
            }
        };
        assert!(play(0.4, swing(0.15)).1.is_none());
        assert!(play(0.4, swing(0.06)).1.is_some_and(|took| took < 2.0));
    }

    #[test]
    fn a_slow_way_back_is_no_rest() {
        for seconds in [1.0, 3.0, 6.0, 12.0] {
            let smooth = move |since: f64| {
                let time = (since / seconds).min(1.0);
                RING * (1.0 - time * time * time * (10.0 + time * (-15.0 + 6.0 * time)))
            };
            let took = play(0.4, smooth).1.expect("it ends");
            let left = smooth(took - 0.4).radius();
            assert!(left < 0.006 * (seconds + 1.0), "{seconds}: {left} left at {took}");
            assert!(took < 0.4 + seconds + 3.1, "{seconds}: {took}");
        }
    }

    #[test]
    fn a_stick_that_stays_in_the_ring_never_ends_by_itself() {
        let (watch, took) = play(0.4, |_| RING);
        assert!(took.is_none() && !watch.counts_when_ended());
        assert!(watch.still_from().is_some_and(|since| since < 1.1));
    }
}
