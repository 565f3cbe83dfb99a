//! Summaries of schema 1, as they were kept and linked, and the way forward from there.
//!
//! These forms never change: what they name by types of the present form is the same in both.

use super::chosen::{ChosenDirection, ChosenSmoothing, ChosenTiming};
use super::grid::{Degrees, Gain, Grid, Moment, PerMinute, Seconds, Share, Spread};
use super::{
    Answer, Body, ChosenCurve, ChosenSettings, CurveFigures, DeadZoneFigures, DeviceSeen,
    EffectFigures, Envelope, Figure, FullThrowFigures, Interval, JitterLevel, Place, ReachFigures,
    ReachLeft, RestFigures, Steadiness, StickFigures, SummaryBody, Unreadable, WeakestLeft,
};
use crate::estimate::Sureness;
use crate::settings::Shape;
use crate::suggest::{FullThrowSource, Wish};
use crate::{Direction, StickKind};
use serde::{Deserialize, Serialize};

/// The body of schema 1.
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FirstBody {
    label: Option<String>,
    practised: Option<String>,
    device: DeviceSeen,
    minutes: u32,
    wish_false_per_minute: PerMinute,
    stick: FirstStick,
    rest: Answer<RestFigures>,
    reach: Vec<ReachFigures>,
    hold: Vec<Steadiness>,
    left_out: u32,
    dead_zone: Answer<FirstDeadZone>,
    full_throw: Answer<FirstFullThrow>,
    curve: Answer<CurveFigures>,
    chosen: FirstChosen,
    before: FirstEffect,
    after: FirstEffect,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FirstStick {
    noise: Figure<Spread>,
    step: Option<Spread>,
    hidden_middle: Option<Share>,
    still_middle: bool,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FirstDeadZone {
    radius: Interval<Share>,
    sureness: Sureness,
    rest_seconds: Seconds,
    counted_bound: PerMinute,
    from_model: bool,
    weakest: Option<WeakestLeft>,
    covering_sudden: Option<Share>,
    collides: bool,
    more_seconds: Option<Seconds>,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FirstFullThrow {
    radius: Interval<Share>,
    sureness: Sureness,
    decided_by: Direction,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FirstChosen {
    centre: Place,
    dead_zone: Share,
    full_throw: Share,
    shape: Shape,
    curve: ChosenCurve,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FirstEffect {
    false_per_minute: Figure<PerMinute>,
    expected: Option<PerMinute>,
    moving_share: Option<Share>,
    reach: Vec<ReachLeft>,
    jitter: Vec<JitterLevel>,
    jitter_pooled: Option<Spread>,
}

/// Reads an envelope of schema 1 and brings it forward.
pub(super) fn from_json(json: &str) -> Result<Envelope<SummaryBody>, Unreadable> {
    let first: Envelope<FirstBody> =
        serde_json::from_str(json).map_err(|error| Unreadable::from_json(&error))?;
    Ok(Envelope {
        kind: first.kind,
        schema: SummaryBody::SCHEMA,
        core: first.core,
        id: first.id,
        made_epoch_ms: first.made_epoch_ms,
        body: first.body.forward(),
    })
}

impl FirstBody {
    /// In the present form: what was not asked for then was not recorded.
    pub(super) fn forward(self) -> SummaryBody {
        SummaryBody {
            label: self.label,
            practised: self.practised,
            device: self.device,
            stick_kind: StickKind::default(),
            minutes: self.minutes,
            wish_false_per_minute: self.wish_false_per_minute,
            wish_most_lag: Moment::of(Wish::default().most_lag_seconds),
            stick: self.stick.forward(),
            rest: self.rest,
            busy_rest: Vec::new(),
            reach: self.reach,
            hold: self.hold,
            map: Answer::NOTHING,
            rhythm: Answer::NOTHING,
            sustained: Vec::new(),
            returns: Vec::new(),
            buttons: Vec::new(),
            left_out: self.left_out,
            dead_zone: self.dead_zone.map(FirstDeadZone::forward),
            full_throw: self.full_throw.map(FirstFullThrow::forward),
            curve: self.curve,
            direction: Answer::NOTHING,
            smoothing: Answer::NOTHING,
            switches: Answer::NOTHING,
            chosen: self.chosen.forward(),
            before: self.before.forward(),
            after: self.after.forward(),
            thinned: 0,
        }
    }
}

impl FirstStick {
    fn forward(self) -> StickFigures {
        StickFigures {
            noise: self.noise,
            step: self.step,
            hidden_middle: self.hidden_middle,
            still_middle: self.still_middle,
            drift_per_minute: Figure::NOTHING,
            sag: Figure::NOTHING,
            gate: Answer::NOTHING,
            early_full: None,
            odd_axes: Vec::new(),
        }
    }
}

impl FirstDeadZone {
    fn forward(self) -> DeadZoneFigures {
        DeadZoneFigures {
            radius: self.radius,
            sureness: self.sureness,
            rest_seconds: self.rest_seconds,
            counted_bound: self.counted_bound,
            from_model: self.from_model,
            weakest: self.weakest,
            covering_sudden: self.covering_sudden,
            collides: self.collides,
            more_seconds: self.more_seconds,
            hidden_middle: None,
        }
    }
}

impl FirstFullThrow {
    /// Nothing else than a share of reach was known then.
    fn forward(self) -> FullThrowFigures {
        FullThrowFigures {
            radius: self.radius,
            sureness: self.sureness,
            source: FullThrowSource::ShareOfReach,
            decided_by: self.decided_by,
            by_direction: Vec::new(),
        }
    }
}

impl FirstChosen {
    fn forward(self) -> ChosenSettings {
        ChosenSettings {
            centre: self.centre,
            direction: ChosenDirection {
                swapped: false,
                right_inverted: false,
                up_inverted: false,
                turn: Degrees::of(0.0),
                right_gain: Gain::of(1.0),
                up_gain: Gain::of(1.0),
            },
            smoothing: ChosenSmoothing::Off,
            dead_zone: self.dead_zone,
            full_throw: self.full_throw,
            shape: self.shape,
            curve: self.curve,
            switches: None,
            buttons: ChosenTiming {
                shortest_press: Moment::of(0.0),
                bounce: Moment::of(0.0),
                repeat_delay: None,
            },
        }
    }
}

impl FirstEffect {
    fn forward(self) -> EffectFigures {
        EffectFigures {
            false_per_minute: self.false_per_minute,
            expected: self.expected,
            moving_share: self.moving_share,
            reach: self.reach,
            jitter: self.jitter,
            jitter_pooled: self.jitter_pooled,
            lag: None,
            degrees_off: None,
        }
    }
}
