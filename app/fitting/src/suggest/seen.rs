//! The recordings as each stage of the settings sees them: after those before it.

use super::curve::Level;
use super::dead_zone::{Seen, SeenBusy, reach_of};
use super::recorded::{self, HeldFrames, PushedFrames};
use super::smoothing::{about_mean, smoothed};
use crate::measure::busy::busy_paths;
use crate::measure::events::Sustained;
use crate::measure::hold::variance_about_place;
use crate::measure::rest::{distances, independent_of, rest_about};
use crate::measure::{DirectionReach, Measures, Sudden};
use crate::pipeline::direction::Matrix;
use crate::settings::{DirectionMap, Settings, Smoothing};
use crate::task::{Meanwhile, TaskRecord};
use crate::{Direction, Pipeline, Position, Span, Trace};

/// Rest is cut into windows of this length where it stands for a hold of no push, seconds: as
/// long as the holds are.
const WINDOW_SECONDS: f64 = 3.0;
/// The most windows that are looked at: over 16 hours.
const MOST_WINDOWS: usize = 20_000;
/// The fewest windows that stand for a level.
const FEWEST_WINDOWS: usize = 4;
/// A window is left out where the rest went beyond this share of the smallest sudden movement.
const SUDDEN_SHARE: f64 = 0.5;
/// Independent values are told apart at this rate.
const READ_OFF_SECONDS: f64 = 1.0 / 60.0;
/// The weakest direction must gain at least this share of its reach for a gain to be worth it.
const LEAST_GAINED: f64 = 0.005;

/// Everything of the records that settings are judged on.
pub(super) struct Recorded {
    pub(super) rest: Trace,
    busy: Vec<(Meanwhile, Trace)>,
    pub(super) holds: Vec<HeldFrames>,
    pub(super) pushes: Vec<PushedFrames>,
}

impl Recorded {
    pub(super) fn of(records: &[TaskRecord]) -> Self {
        Self {
            rest: recorded::quiet_rest(records),
            busy: busy_paths(records),
            holds: recorded::held_frames(records),
            pushes: recorded::pushed_frames(records),
        }
    }

    /// Rest, busy rests and reach as the dead zone of `settings` sees them.
    pub(super) fn seen(&self, measures: &Measures, settings: &Settings) -> Seen {
        let pipeline = Pipeline::new(settings);
        let map = pipeline.direction();
        let centre = measures.rest.as_ref().map(|rest| rest.centre);
        // Swapping, turning round and turning change no distance.
        let as_measured = pipeline.smoothing() == Smoothing::Off
            && map.right_gain == 1.0
            && map.up_gain == 1.0
            && centre.is_ok_and(|centre| centre == pipeline.centre());
        let reach = reach(measures, settings);
        self.seen_through(measures, map, as_measured, reach, |path| pipeline.pushes_over(path))
    }

    /// The rests on a host that takes this centre, and neither smoothing nor gain, at its frames: it
    /// also meets movements that are over before a frame is, where they are longest, and misses
    /// others. The reach is that which is said of the person, from their place of rest.
    pub(super) fn seen_at_frames(
        &self,
        measures: &Measures,
        centre: Position,
        reach: Vec<(Direction, f64)>,
    ) -> Seen {
        let pipeline = Pipeline::new(&Settings { centre, ..Settings::default() });
        self.seen_through(measures, pipeline.direction(), false, reach, |path| {
            pipeline.pushes_over(&recorded::at_frames(path))
        })
    }

    fn seen_through(
        &self,
        measures: &Measures,
        map: &DirectionMap,
        as_measured: bool,
        reach: Vec<(Direction, f64)>,
        pushes: impl Fn(&Trace) -> Trace,
    ) -> Seen {
        let step = measures.device.step.unwrap_or(0.0) * map.right_gain.max(map.up_gain);
        let rest = match &measures.rest {
            Ok(_) if !as_measured => rest_about(&pushes(&self.rest), Position::ORIGIN, step),
            as_measured => as_measured.clone(),
        };
        let busy = self
            .busy
            .iter()
            .map(|(meanwhile, path)| {
                let path = pushes(path);
                SeenBusy {
                    meanwhile: *meanwhile,
                    rest: rest_about(&path, Position::ORIGIN, step),
                    sustained: Sustained::of(&distances(&path, Position::ORIGIN)),
                }
            })
            .collect();
        Seen { rest, busy, reach }
    }

    /// Steadiness by level as the curve of `settings` sees it: the rest as the level of no push,
    /// where the middle is not hidden, and every level that does not touch the end of the
    /// stick's travel.
    pub(super) fn levels(&self, measures: &Measures, settings: &Settings) -> Vec<Level> {
        let pipeline = Pipeline::new(settings);
        let is_hidden = measures.device.still_middle || measures.device.hidden_middle.is_some();
        let rest = measures.rest.as_ref().ok().filter(|_| !is_hidden);
        let rest = rest.and_then(|rest| self.rest_level(&pipeline, &rest.sudden));
        let holds = measures.hold.iter().filter(|level| !level.at_gate).filter_map(|level| {
            let deviation = level.deviation.ok()?;
            let same = self.holds.iter().filter(|hold| (hold.level - level.level).abs() < 1e-6);
            let (of_spread, of_radius) = changed(same, &pipeline);
            Some(Level {
                radius: level.radius * of_radius,
                deviation: deviation.value * of_spread,
                degrees_of_freedom: level.degrees_of_freedom,
                seconds: deviation.basis.seconds,
            })
        });
        rest.into_iter().chain(holds).collect()
    }

    /// The rest in windows as long as a hold, each about its own place.
    fn rest_level(&self, pipeline: &Pipeline, sudden: &Sudden) -> Option<Level> {
        let path = pipeline.pushes_over(&self.rest);
        let smallest = sudden.sizes.iter().copied().min_by(f64::total_cmp);
        let quiet = smallest.map_or(f64::INFINITY, |size| SUDDEN_SHARE * size);
        let end = path.pieces.last()?.span.to_seconds;
        let mut from_seconds = path.pieces.first()?.span.from_seconds;
        let (mut squares, mut seconds) = (0.0, 0.0);
        let mut axes: [Vec<Vec<f64>>; 2] = [Vec::new(), Vec::new()];
        let mut windows = 0;
        // Clocks that no page has may name an end that no step reaches.
        let mut looked = 0;
        while from_seconds + WINDOW_SECONDS <= end && looked < MOST_WINDOWS {
            looked += 1;
            let span = Span { from_seconds, to_seconds: from_seconds + WINDOW_SECONDS };
            from_seconds = span.to_seconds;
            let window = path.within(span);
            let is_quiet = window.pieces.iter().all(|piece| piece.at.radius() < quiet);
            if window.seconds() < 0.9 * WINDOW_SECONDS || !is_quiet {
                continue;
            }
            windows += 1;
            seconds += window.seconds();
            squares += window.seconds() * variance_about_place(&window);
            for stretch in window.read_off(READ_OFF_SECONDS) {
                axes[0].push(stretch.iter().map(|at| at.right).collect());
                axes[1].push(stretch.iter().map(|at| at.up).collect());
            }
        }
        if windows < FEWEST_WINDOWS {
            return None;
        }
        let freedom = |axis: &[Vec<f64>]| (independent_of(axis).1 - windows as f64).max(0.0);
        let degrees_of_freedom = freedom(&axes[0]) + freedom(&axes[1]);
        Some(Level {
            radius: 0.0,
            deviation: libm::sqrt(squares / seconds),
            degrees_of_freedom,
            seconds,
        })
    }
}

/// Comfortable reach by asked direction, from the centre of `settings` and after their direction map.
pub(super) fn reach(measures: &Measures, settings: &Settings) -> Vec<(Direction, f64)> {
    let stretched = stretched(settings);
    let centre = measures.rest.as_ref().map_or(settings.centre, |rest| rest.centre);
    let off = centre - settings.centre;
    let of = |direction: &DirectionReach| {
        let reach = reach_of(direction)? + off.along(direction.asked.degrees());
        Some((direction.asked, stretched(direction) * reach.max(0.0)))
    };
    measures.reach.iter().filter_map(of).collect()
}

/// By how much a direction's pushes come out longer than they went in, by the gains of
/// `settings`.
pub(super) fn stretched(settings: &Settings) -> impl Fn(&DirectionReach) -> f64 + use<> {
    let matrix = Matrix::of(&settings.direction);
    move |direction| {
        let push = direction.end.unwrap_or(Position::polar(1.0, direction.asked.degrees()));
        let (before, after) = (push.radius(), matrix.apply(push).radius());
        if before > 0.0 { after / before } else { 1.0 }
    }
}

/// Whether a gain brings the weakest direction more, as a share of its reach left outside the
/// dead zone, than it costs any other. Reach by direction and dead zone, without and with it.
pub(super) fn gains_more_than_it_costs(
    without: (&[(Direction, f64)], f64),
    with: (&[(Direction, f64)], f64),
) -> bool {
    let left = |(reach, dead_zone): (&[(Direction, f64)], f64)| -> Vec<f64> {
        let share = |reach: f64| if reach > 0.0 { (1.0 - dead_zone / reach).max(0.0) } else { 0.0 };
        reach.iter().map(|one| share(one.1)).collect()
    };
    let (without, with) = (left(without), left(with));
    let least = |shares: &[f64]| shares.iter().copied().fold(f64::INFINITY, f64::min);
    let gained = least(&with) - least(&without);
    let lost = without.iter().zip(&with).map(|(without, with)| without - with);
    gained > LEAST_GAINED.max(lost.fold(0.0, f64::max))
}

/// Spread and mean distance of holds after direction map and smoothing, each as a share of what
/// they were before.
fn changed<'a>(holds: impl Iterator<Item = &'a HeldFrames>, pipeline: &Pipeline) -> (f64, f64) {
    let (mut before, mut after) = ((0.0, 0.0), (0.0, 0.0));
    for hold in holds {
        let raw: Vec<Position> = hold.frames.iter().map(|at| *at - pipeline.centre()).collect();
        let pushes: Vec<Position> = hold.frames.iter().map(|at| pipeline.push(*at)).collect();
        let smooth = smoothed(&pushes, pipeline.smoothing());
        for (sums, frames) in [(&mut before, raw), (&mut after, smooth)] {
            let held = &frames[hold.from.min(frames.len())..];
            let (mean, squares) = about_mean(held);
            sums.0 += squares;
            sums.1 += mean.radius() * held.len() as f64;
        }
    }
    let share = |after: f64, before: f64| if before > 0.0 { after / before } else { 1.0 };
    (libm::sqrt(share(after.0, before.0)), share(after.1, before.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gain_has_to_bring_more_than_it_costs() {
        use Direction::{Right, Up};
        let short = [(Right, 0.8), (Up, 0.3)];
        let level = [(Right, 0.8), (Up, 0.8)];
        // Up keeps 67 % without and 81 % with; right loses 6 %.
        assert!(gains_more_than_it_costs((&short, 0.1), (&level, 0.15)));
        // The noise lies on the same axis as the short reach: nothing is won, much is lost.
        assert!(!gains_more_than_it_costs((&short, 0.1), (&level, 0.27)));
        assert!(!gains_more_than_it_costs((&[], 0.1), (&[], 0.1)));
    }
}
