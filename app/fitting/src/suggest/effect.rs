//! What given settings do to the person's own recordings.

use super::dead_zone::reach_of;
use super::{Effect, ReachKept};
use crate::estimate::{Basis, Estimate, NotEnough};
use crate::measure::events::events;
use crate::measure::hold::holds;
use crate::measure::windows::settled_path;
use crate::measure::{Measures, RestMeasures};
use crate::settings::{Settings, Shape};
use crate::statistics::counts::poisson_mid_p;
use crate::statistics::order::sort_few;
use crate::task::{TaskKind, TaskRecord};
use crate::trace::Piece;
use crate::{Direction, Pipeline, Position};

/// With fewer false movements than this counted, the model's expectation stands beside the
/// count.
const COUNT_SPEAKS: usize = 10;

/// Holds are judged on a position for every 8 ms (and a little for coarse clocks): a slider must
/// answer at once.
const THIN_SECONDS: f64 = 0.0085;

/// Recordings made ready for being judged again and again, at every move of a slider.
#[derive(Clone, Debug)]
pub struct Prepared {
    rest: Vec<Piece>,
    rest_seconds: f64,
    rest_measures: Option<RestMeasures>,
    reach: Vec<Pushes>,
    holds: Vec<Level>,
}

/// One direction's pushes: asked, comfortable reach, and where they ended, absolute.
#[derive(Clone, Debug)]
struct Pushes {
    asked: Direction,
    reach: f64,
    end: Position,
}

/// The holds of one level, each an absolute path.
#[derive(Clone, Debug)]
struct Level {
    level: f64,
    paths: Vec<Vec<Piece>>,
}

impl Prepared {
    /// Takes from the records what the figures need.
    #[must_use]
    pub fn new(records: &[TaskRecord], measures: &Measures) -> Self {
        let rest = settled_path(records, TaskKind::QuietRest);
        let centre = crate::measure::visit_centre(records).unwrap_or(Position::ORIGIN);
        let reach = measures
            .reach
            .iter()
            .filter_map(|direction| {
                Some(Pushes {
                    asked: direction.asked,
                    reach: reach_of(direction)?,
                    end: centre + direction.end?,
                })
            })
            .collect();
        let mut levels: Vec<Level> = Vec::new();
        for hold in holds(records) {
            let same = levels.iter_mut().find(|level| (level.level - hold.level).abs() < 1e-6);
            match same {
                Some(level) => level.paths.push(thinned(&hold.path.pieces)),
                None => {
                    let paths = vec![thinned(&hold.path.pieces)];
                    levels.push(Level { level: hold.level, paths });
                }
            }
        }
        sort_few(&mut levels, |one, other| one.level.total_cmp(&other.level).is_lt());
        Self {
            rest_seconds: rest.seconds(),
            rest: rest.pieces,
            rest_measures: measures.rest.as_ref().ok().cloned(),
            reach,
            holds: levels,
        }
    }

    /// What `settings` do to the recordings: every position goes through the same
    /// [`Pipeline`] as in play.
    #[must_use]
    pub fn effect(&self, settings: &Settings) -> Effect {
        let pipeline = Pipeline::new(settings);
        let count = self.false_movements(&pipeline);
        let jitter: Vec<(f64, f64, f64)> =
            self.holds.iter().map(|level| jitter(level, &pipeline)).collect();
        let seconds: f64 = jitter.iter().map(|level| level.2).sum();
        let squares: f64 = jitter.iter().map(|level| level.1 * level.2).sum();
        Effect {
            false_per_minute: self.counted(count),
            expected_false_per_minute: self.expected(&pipeline, count),
            moving_share: self.moving_share(&pipeline),
            reach: self
                .reach
                .iter()
                .map(|pushes| kept(pushes, settings.shape, &pipeline))
                .collect(),
            jitter: jitter.iter().map(|level| (level.0, libm::sqrt(level.1))).collect(),
            jitter_pooled: (seconds > 0.0).then(|| libm::sqrt(squares / seconds)),
            lag_seconds: None,
            degrees_off: None,
        }
    }

    fn false_movements(&self, pipeline: &Pipeline) -> usize {
        let answers = self.rest.iter().map(|piece| (piece.span, moves(&pipeline.apply(piece.at))));
        events(answers).len()
    }

    /// Time in which the output is not zero by all the time that was watched.
    fn moving_share(&self, pipeline: &Pipeline) -> Option<f64> {
        let (mut moving, mut all) = (0.0, 0.0);
        for piece in &self.rest {
            let seconds = piece.span.seconds();
            all += seconds;
            if moves(&pipeline.apply(piece.at)) {
                moving += seconds;
            }
        }
        (all > 0.0).then(|| moving / all)
    }

    fn counted(&self, count: usize) -> Result<Estimate, NotEnough> {
        let minutes = self.rest_seconds / 60.0;
        if minutes <= 0.0 {
            return Err(NotEnough::NothingRecorded);
        }
        let (low, high) = poisson_mid_p(count as f64);
        let basis = Basis { seconds: self.rest_seconds, repetitions: count };
        Estimate::new(count as f64 / minutes, low / minutes, high / minutes, basis)
            .ok_or(NotEnough::DoesNotApply)
    }

    /// The model's rate where the count is too small to say. The model knows discs about the
    /// measured centre: for a moved centre the largest disc inside the dead zone is taken, and
    /// for the per-axis shape the disc inside the square, so it never expects too few. Sudden
    /// movements are added as counted.
    fn expected(&self, pipeline: &Pipeline, count: usize) -> Option<f64> {
        let rest = self.rest_measures.as_ref()?;
        let tail = rest.tail.as_ref().filter(|_| count < COUNT_SPEAKS)?;
        let minutes = rest.seconds / 60.0;
        let radius = pipeline.dead_zone() - (pipeline.centre() - rest.centre).radius();
        if radius < tail.threshold {
            return None;
        }
        let sudden = rest.sudden.sizes.iter().filter(|size| **size > radius).count();
        Some(tail.rate(radius).middle + sudden as f64 / minutes)
    }
}

/// One piece for every [`THIN_SECONDS`], standing for the ones that follow it. Chosen and not
/// averaged, so that the spread keeps its size; a hold moves far slower than that.
fn thinned(path: &[Piece]) -> Vec<Piece> {
    let mut kept: Vec<Piece> = Vec::new();
    for piece in path {
        match kept.last_mut() {
            Some(last) if piece.span.to_seconds - last.span.from_seconds <= THIN_SECONDS => {
                last.span.to_seconds = piece.span.to_seconds;
            }
            _ => kept.push(*piece),
        }
    }
    kept
}

/// Whether an output is not zero.
fn moves(output: &Position) -> bool {
    output.right != 0.0 || output.up != 0.0
}

/// What is left of one direction's reach.
fn kept(pushes: &Pushes, shape: Shape, pipeline: &Pipeline) -> ReachKept {
    let push = pushes.end - pipeline.centre();
    let along = match shape {
        Shape::Radial => push.radius(),
        Shape::PerAxis => push.right.abs().max(push.up.abs()),
    };
    let share = if along > 0.0 { (1.0 - pipeline.dead_zone() / along).max(0.0) } else { 0.0 };
    ReachKept {
        asked: pushes.asked,
        reach: pushes.reach,
        kept: (push.radius() * share).min(pushes.reach),
        output: pipeline.apply(pushes.end).radius().min(1.0),
    }
}

/// Level, mean squared distance of the output from the held output (both axes pooled), and
/// seconds.
fn jitter(level: &Level, pipeline: &Pipeline) -> (f64, f64, f64) {
    let (mut squares, mut seconds) = (0.0, 0.0);
    for path in &level.paths {
        let Some(first) = path.first() else { continue };
        // Sums about the first output keep their digits.
        let about = pipeline.apply(first.at);
        let (mut time, mut sum, mut square) = (0.0, Position::ORIGIN, 0.0);
        for piece in path {
            let off = pipeline.apply(piece.at) - about;
            let held = piece.span.seconds();
            time += held;
            sum = sum + off * held;
            square += held * (off.right * off.right + off.up * off.up);
        }
        let of_mean = (sum.right * sum.right + sum.up * sum.up) / time;
        squares += 0.5 * (square - of_mean).max(0.0);
        seconds += time;
    }
    (level.level, if seconds > 0.0 { squares / seconds } else { 0.0 }, seconds)
}
