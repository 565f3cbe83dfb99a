//! Settings over time.

use super::Pipeline;
use super::one_euro::OneEuroPlane;
use super::switches::DirectionSwitches;
use crate::recording::GAP_SECONDS;
use crate::settings::{Smoothing, SwitchThresholds};
use crate::trace::Piece;
use crate::{Position, Span, Trace};
use std::borrow::Cow;

/// Smoothing is computed once a frame of a host, seconds.
pub const FRAME_SECONDS: f64 = 1.0 / 60.0;
/// A position that held for longer than this, seconds, has long been reached by every cutoff
/// there is.
const LONG_HELD_SECONDS: f64 = 60.0;
/// A frame that is this close to a moment is at it, seconds: clocks differ in the last bits.
const AT_ONCE_SECONDS: f64 = 1e-9;

/// A [`Pipeline`] with its memory: smoothing, and which switches are on.
///
/// Smoothing is computed at frames of [`FRAME_SECONDS`], counted from the first position, on the
/// position that holds at each: how often a position was reported again makes no difference.
/// Between frames the output stays. The first position passes unchanged.
#[derive(Clone, Debug)]
pub struct PipelineRun<'a> {
    pipeline: Cow<'a, Pipeline>,
    filter: Option<OneEuroPlane>,
    switches: Option<DirectionSwitches>,
    /// From when frames are counted, and how many were computed since.
    began_seconds: f64,
    frames: u32,
    now: Option<Now>,
}

/// What holds now.
#[derive(Clone, Copy, Debug)]
struct Now {
    at_seconds: f64,
    /// The push that goes into smoothing.
    raw: Position,
    /// The push that comes out of it.
    smooth: Position,
}

impl<'a> PipelineRun<'a> {
    pub(super) fn new(pipeline: Cow<'a, Pipeline>) -> Self {
        let filter = match pipeline.smoothing {
            Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => {
                Some(OneEuroPlane::new(cutoff_hertz, speed_coefficient))
            }
            Smoothing::Off => None,
        };
        let switches = pipeline.switches.map(|thresholds| {
            let on = thresholds.on.max(pipeline.dead_zone);
            DirectionSwitches::new(SwitchThresholds { on, ..thresholds })
        });
        Self { pipeline, filter, switches, began_seconds: 0.0, frames: 0, now: None }
    }

    /// The output at `to_seconds`, from when on the stick is at `position`; until then it was
    /// where it was told to be last. With times that run backwards or are not finite the
    /// position changes at the last moment told.
    pub fn advance(&mut self, to_seconds: f64, position: Position) -> Position {
        let last = self.now.map_or(0.0, |now| now.at_seconds);
        let to_seconds = match self.now {
            _ if !to_seconds.is_finite() => last,
            Some(_) => to_seconds.max(last),
            None => to_seconds,
        };
        self.hold(to_seconds, Self::output, &mut |_, _| {});
        self.take(to_seconds, position);
        self.output()
    }

    /// What the settings make of a whole path, over the same time, beginning anew. Where nobody
    /// was looking for more than [`GAP_SECONDS`] the memory begins anew too.
    #[must_use]
    pub fn over(self, path: &Trace) -> Trace {
        if !self.pipeline.remembers() {
            return each(path, |at| self.pipeline.apply(at));
        }
        self.along(path, |run| run.output())
    }

    /// The push that the dead zone sees, over a whole path: after centre, direction and
    /// smoothing.
    pub(super) fn pushes_over(self, path: &Trace) -> Trace {
        if self.filter.is_none() {
            return each(path, |at| self.pipeline.push(at));
        }
        self.along(path, |run| run.now.map_or(Position::ORIGIN, |now| now.smooth))
    }

    fn along(mut self, path: &Trace, read: fn(&Self) -> Position) -> Trace {
        let mut out: Vec<Piece> = Vec::with_capacity(path.pieces.len());
        let mut end_seconds = f64::NEG_INFINITY;
        for piece in &path.pieces {
            if piece.span.from_seconds - end_seconds > GAP_SECONDS {
                self = Self::new(self.pipeline);
            }
            end_seconds = piece.span.to_seconds;
            self.hold(piece.span.from_seconds, read, &mut |_, _| {});
            self.take(piece.span.from_seconds, piece.at);
            self.hold(piece.span.to_seconds, read, &mut |span, at| match out.last_mut() {
                Some(last) if last.at == at && last.span.to_seconds >= span.from_seconds => {
                    last.span.to_seconds = span.to_seconds;
                }
                _ => out.push(Piece { span, at }),
            });
        }
        Trace { pieces: out }
    }

    /// Takes the position that holds from `at_seconds` on.
    fn take(&mut self, at_seconds: f64, position: Position) {
        let raw = self.pipeline.push(position);
        let smooth = match (&mut self.filter, self.now) {
            (None, _) => raw,
            // Nothing moves before the next frame.
            (Some(_), Some(now)) => now.smooth,
            (Some(filter), None) => {
                self.began_seconds = at_seconds;
                filter.step(FRAME_SECONDS, raw)
            }
        };
        self.now = Some(Now { at_seconds, raw, smooth });
        self.frame();
    }

    /// When the next frame is due.
    fn next_frame(&self) -> f64 {
        self.began_seconds + f64::from(self.frames + 1) * FRAME_SECONDS
    }

    /// Computes smoothing if a frame is due, and what that does to the switches.
    fn frame(&mut self) {
        let next_frame = self.next_frame();
        let Some(now) = &mut self.now else { return };
        if let Some(filter) = &mut self.filter
            && next_frame <= now.at_seconds + AT_ONCE_SECONDS
        {
            now.smooth = filter.step(FRAME_SECONDS, now.raw);
            self.frames += 1;
            if self.frames == u32::MAX {
                (self.began_seconds, self.frames) = (now.at_seconds, 0);
            }
        }
        if let Some(switches) = &mut self.switches {
            switches.push(now.at_seconds, now.smooth);
        }
    }

    /// What comes out now.
    fn output(&self) -> Position {
        match (self.now, &self.switches) {
            (None, _) => Position::ORIGIN,
            (Some(now), Some(switches)) => switches.at(now.at_seconds),
            (Some(now), None) => self.pipeline.answer_to(now.smooth),
        }
    }

    /// Lets the present position hold until `to_seconds`, telling each output with its span.
    /// Nothing happens before the first position.
    fn hold(
        &mut self,
        to_seconds: f64,
        read: fn(&Self) -> Position,
        tell: &mut dyn FnMut(Span, Position),
    ) {
        let Some(now) = self.now else { return };
        if to_seconds - now.at_seconds <= LONG_HELD_SECONDS {
            return self.frames_until(to_seconds, read, tell);
        }
        self.frames_until(now.at_seconds + LONG_HELD_SECONDS, read, tell);
        let Some(now) = &mut self.now else { return };
        let span = Span { from_seconds: now.at_seconds, to_seconds };
        now.at_seconds = to_seconds;
        if let Some(filter) = &mut self.filter {
            filter.restart();
            now.smooth = filter.step(FRAME_SECONDS, now.raw);
            // The frames keep their beat.
            let since_frame = (to_seconds - self.began_seconds) % FRAME_SECONDS;
            (self.began_seconds, self.frames) = (to_seconds - since_frame, 0);
        }
        if let (Some(switches), Some(now)) = (&mut self.switches, self.now) {
            switches.push(span.from_seconds, now.smooth);
        }
        tell(span, read(self));
    }

    /// The same for a time that is not long. A frame at the end belongs to what holds then.
    fn frames_until(
        &mut self,
        to_seconds: f64,
        read: fn(&Self) -> Position,
        tell: &mut dyn FnMut(Span, Position),
    ) {
        loop {
            let Some(now) = self.now else { return };
            let mut next = to_seconds;
            if self.filter.is_some() {
                next = next.min(self.next_frame());
            }
            if let Some(switches) = &self.switches {
                next = next.min(switches.next_change(now.at_seconds).unwrap_or(next));
            }
            let last = next >= to_seconds - AT_ONCE_SECONDS;
            let next = if last { to_seconds } else { next }.max(now.at_seconds);
            if next > now.at_seconds {
                tell(Span { from_seconds: now.at_seconds, to_seconds: next }, read(self));
            }
            self.now = Some(Now { at_seconds: next, ..now });
            if last {
                return;
            }
            self.frame();
        }
    }
}

/// A path with each position replaced.
fn each(path: &Trace, of: impl Fn(Position) -> Position) -> Trace {
    let pieces = path.pieces.iter().map(|piece| Piece { at: of(piece.at), ..*piece });
    Trace { pieces: pieces.collect() }
}
