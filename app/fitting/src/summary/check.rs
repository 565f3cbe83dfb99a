//! Whether a summary that was read holds what a summary may hold.

use super::answer::MOST_REPETITIONS;
use super::body::{MOST_LISTED, MOST_NAME_BYTES, MOST_POINTS};
use super::fitting::{MOST_LABEL_CHARACTERS, MOST_MINUTES, check_device, is_code};
use super::grid::Grid;
use super::settings::is_curve;
use super::text::is_plain;
use super::unreadable::hold;
use super::{
    Answer, Body, ChosenCurve, ChosenSettings, CurveFigures, DeadZoneFigures, EffectFigures,
    Figure, FullThrowFigures, Interval, Kind, Lacking, Place, ReachFigures, RestFigures, Share,
    Steadiness, StickFigures, SummaryBody, Unreadable,
};

type Checked = Result<(), Unreadable>;

impl Body for SummaryBody {
    const KIND: Kind = Kind::Summary;
    const SCHEMA: u32 = 1;
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
        self.stick.check()?;
        answer(&self.rest, "rest", RestFigures::check)?;
        listed(&self.reach, |reach| reach.asked, MOST_LISTED, "reach")?;
        self.reach.iter().try_for_each(ReachFigures::check)?;
        listed(&self.hold, |hold| hold.level, MOST_LISTED, "hold")?;
        self.hold.iter().try_for_each(Steadiness::check)?;
        hold(self.left_out <= MOST_REPETITIONS, "left_out")?;
        answer(&self.dead_zone, "dead_zone", DeadZoneFigures::check)?;
        answer(&self.full_throw, "full_throw", FullThrowFigures::check)?;
        answer(&self.curve, "curve", CurveFigures::check)?;
        self.chosen.check()?;
        self.before.check("before")?;
        self.after.check("after")
    }
}

impl StickFigures {
    fn check(&self) -> Checked {
        figure(&self.noise, "stick.noise")?;
        maybe(self.step, "stick.step")?;
        maybe(self.hidden_middle, "stick.hidden_middle")
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
        maybe(self.more_seconds, "dead_zone.more_seconds")
    }
}

impl FullThrowFigures {
    fn check(&self) -> Checked {
        interval(&self.radius, "full_throw.radius")
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

impl ChosenSettings {
    fn check(&self) -> Checked {
        place(self.centre, "chosen.centre")?;
        let (dead_zone, full_throw) = (self.dead_zone.get(), self.full_throw.get());
        hold((0.0..=0.9).contains(&dead_zone), "chosen.dead_zone")?;
        hold(full_throw > dead_zone && full_throw <= 1.5, "chosen.full_throw")?;
        match &self.curve {
            ChosenCurve::Linear => Ok(()),
            ChosenCurve::Exponent(exponent) => within(*exponent, "chosen.curve.exponent"),
            ChosenCurve::Points(points) => {
                let points: Vec<_> = points.iter().map(|(x, y)| (x.get(), y.get())).collect();
                hold(is_curve(&points), "chosen.curve.points")
            }
        }
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
        maybe(self.jitter_pooled, name)
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
    hold(at.right.within() && at.up.within(), field)
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
        | Lacking::Unsettled => Ok(()),
    }
}
