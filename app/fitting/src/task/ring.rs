//! One hold: into the ring, and stay. Also the longer hold, and the way out before a return.

use super::{Known, Target};
use crate::{Direction, Position, Span};

/// A stay counts from this long after it began, seconds: the movement into the ring settles.
const SETTLE_SECONDS: f64 = 0.5;
/// Whoever moves slowly is still on the way then. From twice the ring's radius to its edge a
/// minimum-jerk movement takes a fifth of its time, and from there to its end 1.9 times as long
/// (Flash and Hogan 1985; the ring's radius being three tenths of the way). At most so many seconds.
const SETTLE_SHARE: f64 = 1.9;
const LONGEST_SETTLE_SECONDS: f64 = 2.0;
const NEAR_RADII: f64 = 2.0;
const NEAR_SHARE: f64 = 1.2;
/// Leaving the ring for less than this does not break a stay, seconds: tremor at 4 Hz and faster
/// is outside for at most half of that at a time.
const LEAVE_SECONDS: f64 = 0.25;
/// In a longer hold, leaving for less than this does not end the stay, seconds: time to notice a
/// slip or a jerk and to come back. Common practice, no source.
const LEAVE_LONGER_SECONDS: f64 = 1.5;
/// A stay of a longer hold that lasted at least this long ends it when it is left, seconds; less
/// was a way through the ring.
const SUSTAINED_SECONDS: f64 = 1.0;
/// A return starts from a stay of this long beyond the settling, seconds: a second in all.
pub(super) const BEFORE_RETURN_SECONDS: f64 = 0.5;
/// The smallest ring, share of travel, and its size as a share of the distance to it.
const SMALLEST_RING: f64 = 0.06;
const RING_SHARE: f64 = 0.3;
/// The ring never grows beyond this share of the distance to it, so that a stick at rest is
/// never inside.
const LARGEST_RING_SHARE: f64 = 0.7;
/// After this long of trying the ring grows by a quarter, seconds: nobody fails for being
/// unsteady, and a ring that is hardly ever kept would hide how unsteady.
const TRY_SECONDS: f64 = 10.0;
/// The reach that is assumed in a direction of which nothing is known, share of travel.
const ASSUMED_REACH: f64 = 0.5;

/// Where the ring of a hold is.
///
/// It lies at `level` of the person's own reach in that direction, in the direction in which the
/// person's pushes really went. Where no reach is known it lies at `level` of half the travel,
/// straight in the asked direction.
pub(super) fn target(known: &Known, direction: Direction, level: f64) -> Target {
    let end = known
        .reach
        .iter()
        .find(|reach| reach.asked == direction)
        .map(|reach| reach.end)
        .filter(|end| end.radius().is_finite() && end.radius() > 0.0)
        .unwrap_or_else(|| Position::polar(ASSUMED_REACH, direction.degrees()));
    let offset = end * level;
    Target { at: known.centre + offset, radius: ring_radius(offset.radius(), known.quiet_radius) }
}

/// The radius of a ring so far from the centre.
fn ring_radius(distance: f64, quiet_radius: f64) -> f64 {
    SMALLEST_RING
        .max(RING_SHARE * distance)
        .max(0.6 * quiet_radius)
        .min(LARGEST_RING_SHARE * distance)
}

/// Watches one hold. Positions are absolute, shares of travel.
#[derive(Clone, Debug)]
pub(super) struct RingWatch {
    target: Target,
    largest_radius: f64,
    seconds: f64,
    /// Leaving for less than this does not break a stay, seconds.
    leave_seconds: f64,
    /// A stay of this long counts when the person says "next", seconds.
    enough_seconds: f64,
    /// Whether leaving the ring after a stay that is enough ends the hold.
    ends_when_left: bool,
    tried_seconds: f64,
    /// Since when the stick has been near the ring on its way into it; not after it was there.
    near: Option<f64>,
    /// How long the movement into the ring settles in the present stay, seconds.
    settles: f64,
    /// When the present stay began, and when it was left if the stick is outside at the moment.
    stay: Option<(f64, Option<f64>)>,
    longest: Option<Span>,
}

impl RingWatch {
    /// A hold that is asked to last `seconds`.
    pub(super) fn new(known: &Known, direction: Direction, level: f64, seconds: f64) -> Self {
        let target = target(known, direction, level);
        let largest_radius = LARGEST_RING_SHARE * (target.at - known.centre).radius();
        Self::in_ring(target, largest_radius, seconds)
    }

    /// A hold about the place `at`, wherever that is, in a ring that is larger than usual by the
    /// factor `wider`.
    pub(super) fn about(
        centre: Position,
        quiet_radius: f64,
        at: Position,
        seconds: f64,
        wider: f64,
    ) -> Self {
        let distance = (at - centre).radius();
        let largest_radius = LARGEST_RING_SHARE * distance;
        let radius = (ring_radius(distance, quiet_radius) * wider).min(largest_radius);
        Self::in_ring(Target { at, radius }, largest_radius, seconds)
    }

    fn in_ring(target: Target, largest_radius: f64, seconds: f64) -> Self {
        Self {
            target,
            largest_radius,
            seconds,
            leave_seconds: LEAVE_SECONDS,
            enough_seconds: seconds / 2.0,
            ends_when_left: false,
            tried_seconds: 0.0,
            near: None,
            settles: SETTLE_SECONDS,
            stay: None,
            longest: None,
        }
    }

    /// A longer hold: one stay of at most `seconds`. Leaving the ring and not coming back ends it
    /// without failing; how long it lasted is what is asked.
    pub(super) fn sustained(known: &Known, direction: Direction, level: f64, seconds: f64) -> Self {
        Self {
            leave_seconds: LEAVE_LONGER_SECONDS,
            enough_seconds: SUSTAINED_SECONDS.min(seconds),
            ends_when_left: true,
            ..Self::new(known, direction, level, seconds)
        }
    }

    /// The stay of about a second before letting go.
    pub(super) fn before_return(known: &Known, direction: Direction, level: f64) -> Self {
        Self::new(known, direction, level, BEFORE_RETURN_SECONDS)
    }

    /// Takes in that the stick was at `at` from `from` to `to`. True when the hold is done.
    pub(super) fn hold_for(&mut self, from: f64, to: f64, at: Position) -> bool {
        // Nobody looked for so long that the stay is not known to have gone on.
        if to - from > LEAVE_SECONDS {
            self.end_stay(from);
            return self.is_left_for_good();
        }
        let off = (at - self.target.at).radius();
        let inside = off <= self.target.radius;
        // The ring of somebody unsteady may be so large that a stick at rest is near it.
        let near = (NEAR_RADII * self.target.radius).min(NEAR_SHARE * self.largest_radius);
        if off > near {
            self.near = Some(to);
        }
        match (&mut self.stay, inside) {
            (None, true) => {
                let way = self.near.map_or(0.0, |near| from - near);
                let settles = (SETTLE_SHARE * way).min(LONGEST_SETTLE_SECONDS);
                self.settles = settles.max(SETTLE_SECONDS);
                self.stay = Some((from, None));
            }
            (None, false) => {}
            (Some((_, left)), true) => *left = None,
            (Some((_, left)), false) => {
                let left = *left.get_or_insert(from);
                if to - left >= self.leave_seconds {
                    self.end_stay(left);
                    if self.is_left_for_good() {
                        return true;
                    }
                }
            }
        }
        if self.stay.is_none() {
            self.tried_seconds += to - from;
            if self.tried_seconds >= TRY_SECONDS {
                self.tried_seconds = 0.0;
                self.target.radius = (self.target.radius * 1.25).min(self.largest_radius);
            }
        }
        let done = inside && self.present_seconds(to) >= self.seconds;
        if done {
            self.end_stay(to);
        }
        done
    }

    fn end_stay(&mut self, at: f64) {
        if let Some((since, left)) = self.stay.take() {
            let from_seconds = since + self.settles;
            let stay = Span { from_seconds, to_seconds: left.unwrap_or(at) };
            self.near = None;
            if stay.seconds() > self.longest.map_or(0.0, Span::seconds) {
                self.longest = Some(stay);
            }
        }
    }

    fn is_left_for_good(&self) -> bool {
        self.ends_when_left && self.is_enough()
    }

    fn is_enough(&self) -> bool {
        self.longest.map_or(0.0, Span::seconds) >= self.enough_seconds
    }

    fn present_seconds(&self, now: f64) -> f64 {
        self.stay.map_or(0.0, |(since, left)| (left.unwrap_or(now) - since - self.settles).max(0.0))
    }

    /// Ends the hold here: the longest stay, if there was one.
    pub(super) fn ended(&mut self, now: f64) -> Option<Span> {
        self.end_stay(now);
        self.longest
    }

    /// Ends the hold here because the person says "next": whether it counts.
    pub(super) fn counts_when_ended(&mut self, now: f64) -> bool {
        self.end_stay(now);
        self.is_enough()
    }

    /// How far the present stay has come, 0..=1.
    pub(super) fn progress(&self, now: f64) -> f64 {
        if self.seconds > 0.0 {
            (self.present_seconds(now) / self.seconds).clamp(0.0, 1.0)
        } else {
            0.0
        }
    }

    /// Whether a stay is going on.
    pub(super) const fn is_staying(&self) -> bool {
        self.stay.is_some()
    }

    /// The ring.
    pub(super) const fn target(&self) -> Target {
        self.target
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::task::KnownReach;

    fn known() -> Known {
        let end = Position::polar(0.8, 110.0);
        Known { reach: vec![KnownReach { asked: Direction::Up, end }], ..Known::default() }
    }

    #[test]
    fn the_ring_lies_where_the_person_pushes_and_never_holds_the_centre() {
        let ring = target(&known(), Direction::Up, 0.5);
        assert!((ring.at.radius() - 0.4).abs() < 1e-9 && (ring.at.degrees() - 110.0).abs() < 1e-9);
        assert!((ring.radius - 0.12).abs() < 1e-9);
        let unknown = target(&known(), Direction::Left, 0.5);
        assert!((unknown.at.radius() - 0.25).abs() < 1e-9);
        for level in [0.05, 0.25, 0.5, 0.75, 1.0] {
            for reach in [0.01, 0.1, 0.5, 1.0] {
                let end = Position::polar(reach, 0.0);
                let reach = vec![KnownReach { asked: Direction::Right, end }];
                let ring = target(&Known { reach, ..known() }, Direction::Right, level);
                assert!(ring.radius < ring.at.radius(), "{level} {ring:?}");
            }
        }
    }

    /// Plays a hold whose place at each time is given; when it was done, if it was.
    fn play(watch: &mut RingWatch, seconds: f64, at: impl Fn(f64) -> Position) -> Option<f64> {
        let step = 0.004;
        let mut now = 0.0;
        while now < seconds {
            if watch.hold_for(now, now + step, at(now)) {
                return Some(now + step);
            }
            now += step;
        }
        None
    }

    #[test]
    fn a_stay_of_the_asked_length_after_settling_is_done() {
        let mut watch = RingWatch::new(&known(), Direction::Up, 0.5, 3.0);
        let ring = watch.target().at;
        let done = play(&mut watch, 20.0, |now| if now < 1.0 { Position::ORIGIN } else { ring });
        assert!((done.expect("done") - 4.5).abs() < 0.01, "{done:?}");
        let span = watch.ended(9.0).expect("a stay");
        assert!((span.from_seconds - 1.5).abs() < 0.01 && (span.seconds() - 3.0).abs() < 0.01);
    }

    #[test]
    fn a_short_leave_does_not_break_it_and_a_long_one_does() {
        let mut watch = RingWatch::new(&known(), Direction::Up, 0.5, 3.0);
        let ring = watch.target().at;
        let short =
            play(
                &mut watch,
                20.0,
                |now| {
                    if (2.0..2.2).contains(&now) { Position::ORIGIN } else { ring }
                },
            );
        assert!((short.expect("done") - 3.5).abs() < 0.01, "{short:?}");

        let mut watch = RingWatch::new(&known(), Direction::Up, 0.5, 3.0);
        let long =
            play(
                &mut watch,
                20.0,
                |now| {
                    if (2.0..2.4).contains(&now) { Position::ORIGIN } else { ring }
                },
            );
        assert!((long.expect("done") - 5.9).abs() < 0.01, "{long:?}");
    }

    /// However slowly somebody comes, the hold begins when they are there.
    #[test]
    fn the_way_into_the_ring_is_no_hold() {
        for seconds in [0.5, 1.0, 2.0, 4.0, 6.0] {
            let mut watch = RingWatch::new(&known(), Direction::Up, 0.5, 3.0);
            let ring = watch.target();
            let way = move |now: f64| {
                let time = (now / seconds).min(1.0);
                ring.at * (time * time * time * (10.0 + time * (-15.0 + 6.0 * time)))
            };
            let done = play(&mut watch, 30.0, way).expect("it is done");
            let span = watch.ended(done).expect("a stay");
            let off = (way(span.from_seconds) - ring.at).radius();
            assert!(off < 0.2 * ring.radius, "{seconds}: {off} off at {span:?}");
            assert!(span.from_seconds < 1.1 * seconds + 0.6, "{seconds}: {span:?}");
        }
    }

    #[test]
    fn a_gap_in_looking_breaks_a_stay() {
        let mut watch = RingWatch::new(&known(), Direction::Up, 0.5, 3.0);
        let ring = watch.target().at;
        assert_eq!(play(&mut watch, 2.5, |_| ring), None);
        assert!(!watch.hold_for(2.5, 3.5, ring));
        assert_eq!(play(&mut watch, 0.1, |_| Position::ORIGIN), None);
        let span = watch.ended(3.6).expect("the stay before the gap");
        assert!((span.seconds() - 2.0).abs() < 0.01, "{span:?}");
    }

    #[test]
    fn a_longer_hold_lasts_as_long_as_it_is_kept() {
        let sustained = || RingWatch::sustained(&known(), Direction::Up, 0.5, 15.0);
        let ring = sustained().target().at;
        // Slips of up to a second and a half do not break it; staying away ends it, and the stay
        // ends when the ring was left.
        let mut watch = sustained();
        let slips = |now: f64| {
            if (3.0..4.0).contains(&now) || now >= 8.0 { Position::ORIGIN } else { ring }
        };
        let done = play(&mut watch, 60.0, slips).expect("it ends");
        assert!((done - 9.5).abs() < 0.01, "{done}");
        let span = watch.ended(done).expect("a stay");
        assert!((span.from_seconds - 0.5).abs() < 0.01 && (span.to_seconds - 8.0).abs() < 0.01);
        // It never goes on for more than was asked.
        let done = play(&mut sustained(), 60.0, |_| ring).expect("it ends");
        assert!((done - 15.5).abs() < 0.01, "{done}");
        // A way through the ring is no stay.
        let through = |now: f64| {
            if (1.0..2.0).contains(&now) { ring } else { Position::ORIGIN }
        };
        let mut watch = sustained();
        assert_eq!(play(&mut watch, 60.0, through), None);
        assert!(!watch.counts_when_ended(60.0));
    }

    #[test]
    fn trying_in_vain_widens_the_ring_up_to_a_bound() {
        let mut watch = RingWatch::new(&known(), Direction::Up, 0.5, 3.0);
        let before = watch.target().radius;
        assert_eq!(play(&mut watch, 200.0, |_| Position::ORIGIN), None);
        let after = watch.target().radius;
        assert!(after > before && after < watch.target().at.radius());
        assert_eq!(watch.ended(300.0), None);
    }
}
