//! What given settings do to the person's own recordings.

use super::dead_zone::{counted, reach_of};
use super::recorded::{self, HeldFrames, PushedFrames};
use super::smoothing::{Aligned, smoothed};
use super::{Effect, JitterAtLevel, ReachKept};
use crate::measure::events::events;
use crate::measure::rest::tail_and_sudden;
use crate::measure::{Measures, RestMeasures};
use crate::pipeline::FRAME_SECONDS;
use crate::position::fold_degrees;
use crate::settings::{Settings, Shape, Smoothing};
use crate::statistics::order::sort_few;
use crate::task::TaskRecord;
use crate::trace::Piece;
use crate::{Direction, Pipeline, Position, Span, Trace};

/// With fewer false movements than this counted, the model's expectation stands beside the
/// count.
const COUNT_SPEAKS: usize = 10;

/// Holds are judged on a position for every 8 ms (and a little for coarse clocks): a slider must
/// answer at once.
const THIN_SECONDS: f64 = 0.0085;

/// A level whose output lies at an end for more than this share of the time says nothing of steadiness.
const MOST_AT_END: f64 = 0.1;
/// Nearer to all the way than this is all the way: the rounding of arithmetic.
const SAME: f64 = 1e-9;

/// Recordings made ready for being judged again and again, at every move of a slider.
#[derive(Clone, Debug)]
pub struct Prepared {
    rest: Trace,
    /// The rest as smoothing sees it: one piece for each frame of a host.
    rest_frames: Trace,
    rest_seconds: f64,
    rest_measures: Option<RestMeasures>,
    step: f64,
    reach: Vec<Pushes>,
    pushes: Vec<PushedFrames>,
    holds: Vec<Level>,
}

/// One direction's pushes: asked, comfortable reach, and where they ended, absolute.
#[derive(Clone, Debug)]
struct Pushes {
    asked: Direction,
    reach: f64,
    end: Position,
}

/// The holds of one level, each an absolute path, and as frames from a moment before it on.
#[derive(Clone, Debug, Default)]
struct Level {
    level: f64,
    paths: Vec<Vec<Piece>>,
    frames: Vec<HeldFrames>,
}

impl Prepared {
    /// Takes from the records what the figures need.
    #[must_use]
    pub fn new(records: &[TaskRecord], measures: &Measures) -> Self {
        let rest = recorded::quiet_rest(records);
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
        let mut holds: Vec<Level> = Vec::new();
        for hold in crate::measure::hold::holds(records) {
            level_of(&mut holds, hold.level).paths.push(thinned(&hold.path.pieces));
        }
        for hold in recorded::held_frames(records) {
            level_of(&mut holds, hold.level).frames.push(hold);
        }
        sort_few(&mut holds, |one, other| one.level.total_cmp(&other.level).is_lt());
        Self {
            rest_seconds: rest.seconds(),
            rest_frames: recorded::at_frames(&rest),
            rest,
            rest_measures: measures.rest.as_ref().ok().cloned(),
            step: measures.device.step.unwrap_or(0.0),
            reach,
            pushes: recorded::pushed_frames(records),
            holds,
        }
    }

    /// What `settings` do to the recordings: every position goes through the same
    /// [`Pipeline`] as in play, over time where settings remember.
    #[must_use]
    pub fn effect(&self, settings: &Settings) -> Effect {
        let pipeline = Pipeline::new(settings);
        let moving = self.moving(&pipeline);
        let count = events(moving.iter().copied()).len();
        Effect {
            false_per_minute: counted(count, self.rest_seconds),
            expected_false_per_minute: self.expected(&pipeline, count),
            moving_share: share(&moving),
            reach: self
                .reach
                .iter()
                .map(|pushes| kept(pushes, settings.shape, &pipeline))
                .collect(),
            jitter: self.holds.iter().filter_map(|level| jitter(level, &pipeline)).collect(),
            lag_seconds: self.lag(&pipeline),
            degrees_off: self.degrees_off(&pipeline),
        }
    }

    /// The rest as spans in which the output is zero or is not.
    fn moving(&self, pipeline: &Pipeline) -> Vec<(Span, bool)> {
        let moves = |output: Position| output.right != 0.0 || output.up != 0.0;
        if pipeline.smoothing() != Smoothing::Off {
            let out = pipeline.over(&self.rest_frames);
            return out.pieces.iter().map(|piece| (piece.span, moves(piece.at))).collect();
        }
        if pipeline.remembers() {
            let out = pipeline.over(&self.rest);
            return out.pieces.iter().map(|piece| (piece.span, moves(piece.at))).collect();
        }
        let pieces = self.rest.pieces.iter();
        pieces.map(|piece| (piece.span, moves(pipeline.apply(piece.at)))).collect()
    }

    /// What smoothing adds in the person's own pushes; 0 without smoothing.
    fn lag(&self, pipeline: &Pipeline) -> Option<f64> {
        if pipeline.smoothing() == Smoothing::Off {
            return (!self.pushes.is_empty()).then_some(0.0);
        }
        Some(Aligned::of(&self.pushes, pipeline)?.lag(pipeline.smoothing()))
    }

    /// The circular mean of output less asked angle, over the directions whose output is not
    /// zero.
    fn degrees_off(&self, pipeline: &Pipeline) -> Option<f64> {
        let off: Vec<f64> = self
            .reach
            .iter()
            .filter_map(|pushes| {
                let out = pipeline.apply(pushes.end);
                (out.radius() > 0.0).then(|| fold_degrees(out.degrees() - pushes.asked.degrees()))
            })
            .collect();
        crate::statistics::circular::mean(&off).map(|mean| mean.0)
    }

    /// The model's rate where the count is too small to say. The model knows discs about the
    /// measured centre: for a moved centre, a gain or the per-axis shape the largest disc inside
    /// the dead zone is taken, so it never expects too few. With smoothing the tail is fitted
    /// to the smoothed rest. Sudden movements are added as counted. Directions used as switches
    /// have no disc: none.
    fn expected(&self, pipeline: &Pipeline, count: usize) -> Option<f64> {
        let rest = self.rest_measures.as_ref()?;
        if count >= COUNT_SPEAKS || pipeline.switches().is_some() {
            return None;
        }
        let minutes = self.rest_seconds / 60.0;
        if pipeline.smoothing() != Smoothing::Off {
            let path = pipeline.pushes_over(&self.rest_frames);
            let (tail, sudden) = tail_and_sudden(&path, Position::ORIGIN, self.step);
            let radius = pipeline.dead_zone();
            let tail = tail.filter(|tail| radius >= tail.threshold)?;
            let beyond = sudden.sizes.iter().filter(|size| **size > radius).count();
            return Some(tail.rate(radius).middle + beyond as f64 / minutes);
        }
        let tail = rest.tail.as_ref()?;
        let gain = pipeline.direction().right_gain.max(pipeline.direction().up_gain);
        let radius = pipeline.dead_zone() / gain - (pipeline.centre() - rest.centre).radius();
        if radius < tail.threshold {
            return None;
        }
        let sudden = rest.sudden.sizes.iter().filter(|size| **size > radius).count();
        Some(tail.rate(radius).middle + sudden as f64 / minutes)
    }
}

/// The level of a list that is this one, added if it is not there.
fn level_of(levels: &mut Vec<Level>, level: f64) -> &mut Level {
    let index = levels.iter().position(|one| (one.level - level).abs() < 1e-6);
    let index = index.unwrap_or_else(|| {
        levels.push(Level { level, ..Level::default() });
        levels.len() - 1
    });
    &mut levels[index]
}

/// Time in which the output is not zero by all the time that was watched.
fn share(moving: &[(Span, bool)]) -> Option<f64> {
    let (mut outside, mut all) = (0.0, 0.0);
    for (span, moves) in moving {
        all += span.seconds();
        if *moves {
            outside += span.seconds();
        }
    }
    (all > 0.0).then(|| outside / all)
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

/// What is left of one direction's reach.
fn kept(pushes: &Pushes, shape: Shape, pipeline: &Pipeline) -> ReachKept {
    let push = pipeline.push(pushes.end);
    let along = match shape {
        Shape::Radial => push.radius(),
        Shape::PerAxis => push.right.abs().max(push.up.abs()),
    };
    // As a share of the push itself, so that a gain does not pass for reach.
    let share = if along > 0.0 { (1.0 - pipeline.dead_zone() / along).max(0.0) } else { 0.0 };
    ReachKept {
        asked: pushes.asked,
        reach: pushes.reach,
        kept: (pushes.reach * share).min(pushes.reach),
        output: pipeline.apply(pushes.end).radius().min(1.0),
    }
}

/// How unsteady the output is at a level; `None` where it lies at an end for too long to tell.
fn jitter(level: &Level, pipeline: &Pipeline) -> Option<JitterAtLevel> {
    let mut pool = Pool::default();
    if pipeline.smoothing() == Smoothing::Off {
        for path in &level.paths {
            pool.add(path.iter().map(|piece| (pipeline.apply(piece.at), piece.span.seconds())));
        }
    } else {
        for hold in &level.frames {
            let pushes: Vec<Position> = hold.frames.iter().map(|at| pipeline.push(*at)).collect();
            let smooth = smoothed(&pushes, pipeline.smoothing());
            let held = smooth.iter().skip(hold.from);
            pool.add(held.map(|push| (pipeline.answer_to(*push), FRAME_SECONDS)));
        }
    }
    (pool.seconds > 0.0 && pool.at_end_seconds <= MOST_AT_END * pool.seconds).then(|| {
        JitterAtLevel {
            level: level.level,
            deviation: libm::sqrt(pool.squares / pool.seconds),
            seconds: pool.seconds,
        }
    })
}

/// Squares about each hold's own mean.
#[derive(Default)]
struct Pool {
    squares: f64,
    seconds: f64,
    /// Of this, how long the output lay at 0 or was all the way.
    at_end_seconds: f64,
}

impl Pool {
    fn add(&mut self, outputs: impl Iterator<Item = (Position, f64)>) {
        let mut about = None;
        let (mut time, mut sum, mut square) = (0.0, Position::ORIGIN, 0.0);
        for (output, held) in outputs {
            // Sums about the first output keep their digits.
            let off = output - *about.get_or_insert(output);
            time += held;
            let radius = output.radius();
            if radius <= 0.0 || radius >= 1.0 - SAME {
                self.at_end_seconds += held;
            }
            sum = sum + off * held;
            square += held * (off.right * off.right + off.up * off.up);
        }
        if time > 0.0 {
            let of_mean = (sum.right * sum.right + sum.up * sum.up) / time;
            self.squares += 0.5 * (square - of_mean).max(0.0);
            self.seconds += time;
        }
    }
}
