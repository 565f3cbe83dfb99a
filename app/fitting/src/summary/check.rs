//! Whether a summary that was read holds what a summary may hold.

use super::answer::MOST_REPETITIONS;
use super::body::{MOST_LISTED, MOST_NAME_BYTES, MOST_POINTS};
use super::fitting::{MOST_LABEL_CHARACTERS, MOST_MINUTES, check_device, is_code};
use super::grid::Grid;
use super::text::is_plain;
use super::unreadable::hold;
use super::{
    Answer, Body, BusyFigures, ButtonFigures, CurveFigures, DeadZoneFigures, DirectionFigures,
    EffectFigures, Envelope, Figure, FullThrowFigures, GateFigures, Interval, Kind, Lacking,
    MOST_THINNED, MapFigures, Place, ReachFigures, RestFigures, ReturnFigures, RhythmFigures,
    Share, SmoothingFigures, Steadiness, StickFigures, SummaryBody, SustainedFigures,
    SwitchFigures, Unreadable, first,
};
use crate::sample::MOST_CONTROLS;

type Checked = Result<(), Unreadable>;

impl Body for SummaryBody {
    const KIND: Kind = Kind::Summary;
    const SCHEMA: u32 = 2;
    const MOST_BYTES: usize = 1 << 16;

    fn check(&self) -> Checked {
        let label = self.label.as_deref();
        hold(
            label.is_none_or(|label| !label.is_empty() && is_plain(label, MOST_LABEL_CHARACTERS)),
            "label",
        )?;
        hold(self.practised.as_deref().is_none_or(is_code), "practised")?;
        check_device(&self.device)?;
        hold(self.device.name.len() <= MOST_NAME_BYTES, "device.name")?;
        hold(self.minutes <= MOST_MINUTES, "minutes")?;
        within(self.wish_false_per_minute, "wish_false_per_minute")?;
        within(self.wish_most_lag, "wish_most_lag")?;
        self.stick.check()?;
        answer(&self.rest, "rest", RestFigures::check)?;
        listed(&self.reach, |reach| reach.asked, MOST_LISTED, "reach")?;
        self.reach.iter().try_for_each(ReachFigures::check)?;
        listed(&self.hold, |hold| hold.level, MOST_LISTED, "hold")?;
        self.hold.iter().try_for_each(Steadiness::check)?;
        listed(&self.busy_rest, |busy| busy.meanwhile, MOST_LISTED, "busy_rest")?;
        for busy in &self.busy_rest {
            answer(&busy.rest, "busy_rest", BusyFigures::check)?;
        }
        answer(&self.map, "map", MapFigures::check)?;
        answer(&self.rhythm, "rhythm", RhythmFigures::check)?;
        listed(&self.sustained, |hold| hold.asked, MOST_LISTED, "sustained")?;
        self.sustained.iter().try_for_each(SustainedFigures::check)?;
        listed(&self.returns, |back| back.asked, MOST_LISTED, "returns")?;
        self.returns.iter().try_for_each(ReturnFigures::check)?;
        listed(&self.buttons, |button| button.button, MOST_LISTED, "buttons")?;
        self.buttons.iter().try_for_each(ButtonFigures::check)?;
        hold(self.left_out <= MOST_REPETITIONS, "left_out")?;
        answer(&self.dead_zone, "dead_zone", DeadZoneFigures::check)?;
        answer(&self.full_throw, "full_throw", FullThrowFigures::check)?;
        answer(&self.curve, "curve", CurveFigures::check)?;
        answer(&self.direction, "direction", DirectionFigures::check)?;
        answer(&self.smoothing, "smoothing", SmoothingFigures::check)?;
        answer(&self.switches, "switches", SwitchFigures::check)?;
        self.chosen.check()?;
        self.before.check("before")?;
        self.after.check("after")?;
        hold(self.thinned <= MOST_THINNED, "thinned")
    }

    fn from_older(schema: u32, json: &str) -> Result<Envelope<Self>, Unreadable> {
        match schema {
            1 => first::from_json(json),
            found => Err(Unreadable::UnknownSchema { found }),
        }
    }
}

impl StickFigures {
    fn check(&self) -> Checked {
        figure(&self.noise, "stick.noise")?;
        maybe(self.step, "stick.step")?;
        maybe(self.hidden_middle, "stick.hidden_middle")?;
        figure(&self.drift_per_minute, "stick.drift_per_minute")?;
        figure(&self.sag, "stick.sag")?;
        answer(&self.gate, "stick.gate", GateFigures::check)?;
        maybe(self.early_full, "stick.early_full")?;
        listed(&self.odd_axes, |axis| axis.axis, MOST_LISTED, "stick.odd_axes")?;
        let known = self.odd_axes.iter().all(|axis| (axis.axis as usize) < MOST_CONTROLS);
        hold(known, "stick.odd_axes")
    }
}

impl RestFigures {
    fn check(&self) -> Checked {
        within(self.seconds, "rest.seconds")?;
        place(self.centre, "rest.centre")?;
        figure(&self.offset, "rest.offset")?;
        figure(&self.wander, "rest.wander")?;
        listed(&self.curve, |step| step.radius, MOST_POINTS, "rest.curve")?;
        for step in &self.curve {
            hold(step.radius.within() && step.radius >= Share::of(0.0), "rest.curve.radius")?;
            within(step.counted, "rest.curve.counted")?;
            let ordered = step.low <= step.per_minute && step.per_minute <= step.high;
            hold(ordered && step.low.within() && step.high.within(), "rest.curve.per_minute")?;
        }
        hold(self.sudden <= MOST_REPETITIONS, "rest.sudden")?;
        figure(&self.sudden_per_minute, "rest.sudden_per_minute")
    }
}

impl ReachFigures {
    fn check(&self) -> Checked {
        figure(&self.reach, "reach.reach")?;
        self.end.map_or(Ok(()), |end| place(end, "reach.end"))?;
        figure(&self.degrees_off, "reach.degrees_off")
    }
}

impl Steadiness {
    fn check(&self) -> Checked {
        within(self.level, "hold.level")?;
        within(self.radius, "hold.radius")?;
        figure(&self.deviation, "hold.deviation")
    }
}

impl DeadZoneFigures {
    fn check(&self) -> Checked {
        interval(&self.radius, "dead_zone.radius")?;
        within(self.rest_seconds, "dead_zone.rest_seconds")?;
        within(self.counted_bound, "dead_zone.counted_bound")?;
        if let Some(weakest) = self.weakest {
            within(weakest.reach, "dead_zone.weakest.reach")?;
            unit(weakest.eaten, "dead_zone.weakest.eaten")?;
        }
        maybe(self.covering_sudden, "dead_zone.covering_sudden")?;
        maybe(self.more_seconds, "dead_zone.more_seconds")?;
        maybe(self.hidden_middle, "dead_zone.hidden_middle")
    }
}

impl FullThrowFigures {
    fn check(&self) -> Checked {
        interval(&self.radius, "full_throw.radius")?;
        listed(&self.by_direction, |by| by.asked, MOST_LISTED, "full_throw.by_direction")?;
        let shares = self.by_direction.iter().all(|by| by.own.within() && by.left.within());
        hold(shares, "full_throw.by_direction")
    }
}

impl CurveFigures {
    fn check(&self) -> Checked {
        within(self.at_centre, "curve.at_centre")?;
        figure(&self.growth, "curve.growth")?;
        within(self.exponent, "curve.exponent")?;
        unit(self.exponent_cost, "curve.exponent_cost")
    }
}

impl EffectFigures {
    fn check(&self, name: &'static str) -> Checked {
        figure(&self.false_per_minute, name)?;
        maybe(self.expected, name)?;
        self.moving_share.map_or(Ok(()), |share| unit(share, name))?;
        listed(&self.reach, |reach| reach.asked, MOST_LISTED, name)?;
        for reach in &self.reach {
            within(reach.kept, name)?;
            unit(reach.output, name)?;
        }
        listed(&self.jitter, |jitter| jitter.level, MOST_LISTED, name)?;
        for jitter in &self.jitter {
            within(jitter.level, name)?;
            within(jitter.deviation, name)?;
        }
        maybe(self.jitter_pooled, name)?;
        maybe(self.lag, name)?;
        maybe(self.degrees_off, name)
    }
}

impl GateFigures {
    fn check(&self) -> Checked {
        hold(self.radius.within() && self.out_of_round.within(), "stick.gate")?;
        hold(self.directions <= 8, "stick.gate.directions")
    }
}

impl BusyFigures {
    fn check(&self) -> Checked {
        within(self.seconds, "busy_rest.seconds")?;
        figure(&self.wander, "busy_rest.wander")?;
        figure(&self.sudden_per_minute, "busy_rest.sudden_per_minute")?;
        self.at_chosen.map_or(Ok(()), |rate| {
            let ordered = rate.low <= rate.per_minute && rate.per_minute <= rate.high;
            hold(ordered && rate.low.within() && rate.high.within(), "busy_rest.at_chosen")
        })
    }
}

impl MapFigures {
    fn check(&self) -> Checked {
        figure(&self.turn, "map.turn")?;
        figure(&self.stretch, "map.stretch")?;
        within(self.stretch_along, "map.stretch_along")?;
        figure(&self.cross_talk, "map.cross_talk")?;
        hold(self.directions <= 8, "map.directions")?;
        hold(self.pushes <= MOST_REPETITIONS, "map.pushes")
    }
}

impl RhythmFigures {
    fn check(&self) -> Checked {
        figure(&self.frequency, "rhythm.frequency")?;
        within(self.resolution, "rhythm.resolution")?;
        figure(&self.amplitude, "rhythm.amplitude")?;
        within(self.along, "rhythm.along")?;
        within(self.seconds, "rhythm.seconds")
    }
}

impl SustainedFigures {
    fn check(&self) -> Checked {
        within(self.level, "sustained.level")?;
        within(self.seconds, "sustained.seconds")?;
        hold(self.effort.is_none_or(|effort| effort <= 10), "sustained.effort")?;
        figure(&self.kept, "sustained.kept")?;
        figure(&self.drift_per_minute, "sustained.drift_per_minute")
    }
}

impl ReturnFigures {
    fn check(&self) -> Checked {
        figure(&self.time, "returns.time")?;
        figure(&self.overshoot, "returns.overshoot")?;
        figure(&self.rests_short, "returns.rests_short")
    }
}

impl ButtonFigures {
    fn check(&self) -> Checked {
        hold((self.button as usize) < MOST_CONTROLS, "buttons.button")?;
        let counts = self.made <= MOST_REPETITIONS && self.missed <= MOST_REPETITIONS;
        hold(counts, "buttons.made")?;
        figure(&self.length, "buttons.length")?;
        figure(&self.gap, "buttons.gap")?;
        figure(&self.unwanted_per_minute, "buttons.unwanted_per_minute")?;
        figure(&self.shortest_press, "buttons.shortest_press")?;
        figure(&self.bounce, "buttons.bounce")?;
        figure(&self.repeat_delay, "buttons.repeat_delay")
    }
}

impl DirectionFigures {
    fn check(&self) -> Checked {
        within(self.turn, "direction.turn")?;
        maybe(self.levelling_gain, "direction.levelling_gain")?;
        maybe(self.dead_zone_with_gain, "direction.dead_zone_with_gain")
    }
}

impl SmoothingFigures {
    fn check(&self) -> Checked {
        self.chosen.check("smoothing.chosen")?;
        figure(&self.jitter_left, "smoothing.jitter_left")?;
        within(self.lag, "smoothing.lag")?;
        maybe(self.dead_zone_without, "smoothing.dead_zone_without")?;
        maybe(self.dead_zone_with, "smoothing.dead_zone_with")
    }
}

impl SwitchFigures {
    fn check(&self) -> Checked {
        let ordered = self.off <= self.on && self.on.within() && self.off.within();
        hold(ordered && self.shortest.within(), "switches.on")?;
        within(self.weakest_reach, "switches.weakest_reach")?;
        interval(&self.false_per_minute, "switches.false_per_minute")
    }
}

fn within<G: Grid>(value: G, field: &'static str) -> Checked {
    hold(value.within(), field)
}

fn maybe<G: Grid>(value: Option<G>, field: &'static str) -> Checked {
    hold(value.is_none_or(Grid::within), field)
}

fn unit(value: Share, field: &'static str) -> Checked {
    hold((0.0..=1.0).contains(&value.get()), field)
}

fn place(at: Place, field: &'static str) -> Checked {
    hold(at.within(), field)
}

/// A list is no longer than it may be and strictly rising in its key, so none comes twice.
fn listed<T, K: PartialOrd>(
    list: &[T],
    key: impl Fn(&T) -> K,
    most: usize,
    field: &'static str,
) -> Checked {
    let rising = list.windows(2).all(|pair| key(&pair[0]) < key(&pair[1]));
    hold(list.len() <= most && rising, field)
}

fn answer<T>(given: &Answer<T>, field: &'static str, known: impl FnOnce(&T) -> Checked) -> Checked {
    match given {
        Answer::Known(value) => known(value),
        Answer::NotEnough(reason) => lacking(*reason, field),
    }
}

fn figure<G: Grid>(given: &Figure<G>, field: &'static str) -> Checked {
    answer(given, field, |known| interval(known, field))
}

fn interval<G: Grid>(given: &Interval<G>, field: &'static str) -> Checked {
    let ordered = given.low <= given.value && given.value <= given.high;
    hold(ordered && given.low.within() && given.high.within(), field)?;
    within(given.seconds, field)?;
    hold(given.repetitions <= MOST_REPETITIONS, field)
}

fn lacking(reason: Lacking, field: &'static str) -> Checked {
    match reason {
        Lacking::Seconds { have, need } => hold(have.within() && need.within(), field),
        Lacking::Repetitions { have, need } => {
            hold(have <= MOST_REPETITIONS && need <= MOST_REPETITIONS, field)
        }
        Lacking::NothingRecorded
        | Lacking::DoesNotApply
        | Lacking::Hidden
        | Lacking::NotFor(_)
        | Lacking::NotDone
        | Lacking::Unsettled
        | Lacking::OutOfRange
        | Lacking::CutOff
        | Lacking::NoSteeringSpan => Ok(()),
    }
}
