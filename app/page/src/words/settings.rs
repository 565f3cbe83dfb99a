//! Settings: name, number, word, sentence, cost; and on request interval, method and basis.

pub use super::dead_zone::{counts_on_rest, covers_frequent, dead_zone_with_all, not_stationary};
pub use super::method::{INTERVAL, dead_zone_method};

use super::number;
use fitting::measure::Sudden;
use fitting::suggest::{
    CurveAdvice, DeadZoneAdvice, FullThrowAdvice, FullThrowSource, OwnThrow, ReachKept, Remedy,
    ThrowLimit, Weakest,
};
use fitting::task::Meanwhile;
use fitting::{Direction, Estimate, NotEnough, StickTrait, Sureness};

/// Title of the left side.
pub const FIELD_TITLE: &str = "Your field of movement";
/// What it shows.
pub const FIELD_TEXT: &str = "Outline: as far as was comfortable. Shaded: how sure that is. \
    Dashed disc: the dead zone. Dotted circle: full throw. Between the directions asked, the \
    outline is drawn, not measured.";
/// Title of the right side.
pub const TITLE: &str = "Settings to try";
/// Nothing measured.
pub const NOTHING: &str = "Nothing is measured yet. Half a minute of quiet rest gives a first \
    dead zone; a dozen pushes give reach and full throw.";
/// To measuring.
pub const TO_MEASURE: &str = "Go and measure";
/// Names.
pub const DEAD_ZONE: &str = "Dead zone";
/// Names.
pub const FULL_THROW: &str = "Full throw";
/// Names.
pub const SENSITIVITY: &str = "Sensitivity";
/// A push of this much counts as all the way.
pub const OF_TRAVEL: &str = "of travel";

/// The word for how sure a figure is.
pub const fn sureness(sureness: Sureness) -> &'static str {
    match sureness {
        Sureness::Firm => "firm",
        Sureness::Rough => "rough",
        Sureness::NotEnough => "not enough yet",
    }
}

/// Why a measure has no meaning for this kind of stick.
const fn not_for(what: StickTrait) -> &'static str {
    match what {
        StickTrait::OneAxis => "Does not apply: the stick moves on one axis.",
        StickTrait::OneWay => "Does not apply: the stick moves one way only.",
        StickTrait::NotSelfCentring => "Does not apply: the stick does not centre itself.",
        StickTrait::Force => "Does not apply: the stick answers to force and hardly moves.",
        StickTrait::Switches => "Does not apply: its directions are used as switches.",
        StickTrait::Breath => "Does not apply: no breath is held for long.",
    }
}

/// Why there is no figure.
pub fn not_enough(why: NotEnough) -> String {
    match why {
        NotEnough::NothingRecorded => "Not recorded yet.".to_owned(),
        NotEnough::Seconds { have, need } => format!(
            "Not enough recorded yet: {} needed for a first figure.",
            number::of_needed(have, need)
        ),
        NotEnough::Repetitions { have, need } => format!(
            "Not enough recorded yet: {have} of {need} repetitions needed for a first figure."
        ),
        NotEnough::NotFor(what) => not_for(what).to_owned(),
        NotEnough::NotDone => "Asked, and not done.".to_owned(),
        NotEnough::Unsettled => "The repetitions disagree too much for one figure.".to_owned(),
        NotEnough::OutOfRange => "No setting goes this far: even the largest lets more movement \
            through than you asked for. Change posture, support or the place of the stick first."
            .to_owned(),
        NotEnough::CutOff => "The edge of the stick’s travel cut the movement off. Hold nearer to the \
            middle, or set the stick so that you rest in its middle."
            .to_owned(),
        NotEnough::NoSteeringSpan => "No safe setting with one number: between the dead zone and the \
            shortest side too little is left to steer with, so the stick would act as a switch. Try, in \
            this order: a number of its own for each direction, where what you use takes one; the stick \
            turned or moved; another body part or a longer topper; another stick."
            .to_owned(),
        NotEnough::DoesNotApply => "Does not apply to this stick or recording.".to_owned(),
        NotEnough::Hidden => "Cannot be seen: stick, system or browser hides the middle. Measure \
            on another system, or where raw reports can be read."
            .to_owned(),
    }
}

/// A number among those to type in, or why there is none.
pub fn or_why(decided: Result<(), NotEnough>, number: impl FnOnce() -> String) -> String {
    decided.map_or_else(not_enough, |()| number())
}
/// In place of a number where nothing was suggested and nothing chosen.
pub const NO_NUMBER: &str = "–";
/// In place of the word for a number that was chosen by hand.
pub const BY_HAND: &str = "by hand";
/// Beside the word, when the number shown was chosen by hand.
pub fn suggested(figure: &str) -> String {
    format!("is the suggestion, {figure}")
}
/// What the dead zone rests on.
pub fn dead_zone_basis(advice: &DeadZoneAdvice) -> String {
    format!("from {} of rest", number::duration(advice.rest_seconds))
}

/// The sentence of a suggested dead zone.
pub fn dead_zone(advice: &DeadZoneAdvice, wish_per_minute: f64) -> String {
    let mut text = format!(
        "Ignoring the inner {} should keep it still: fewer than {}",
        number::percent(advice.radius.value),
        number::rate_of(wish_per_minute, "false movement", "false movements"),
    );
    if advice.counted_bound_per_minute > wish_per_minute {
        text.push_str(&format!(
            ", if you always rest as in the {} that were recorded. Counting them rules out only more than \
             {}.",
            number::duration(advice.rest_seconds),
            number::per_minute(advice.counted_bound_per_minute),
        ));
    } else {
        text.push('.');
    }
    if let Some(weakest) = &advice.weakest {
        text.push(' ');
        text.push_str(&keeps(weakest, advice.radius.value));
    }
    text
}

/// The sentence of a dead zone where another smoothing than the suggested one was chosen.
pub fn dead_zone_without(dead_zone: f64, wish_per_minute: f64) -> String {
    format!(
        "Without the suggested smoothing the inner {} has to be ignored to keep it still: fewer \
         than {}.",
        number::percent(dead_zone),
        number::rate_of(wish_per_minute, "false movement", "false movements"),
    )
}

fn keeps(weakest: &Weakest, dead_zone: f64) -> String {
    format!(
        "You keep {} of your {} {}.",
        number::bare_percent((weakest.reach - dead_zone).max(0.0)),
        number::percent(weakest.reach),
        number::towards(weakest.asked)
    )
}

/// The sentence of a dead zone changed by hand.
pub fn dead_zone_by_hand(dead_zone: f64, weakest: Option<&ReachKept>) -> String {
    let mut text = format!("Chosen by hand: the inner {} is ignored.", number::percent(dead_zone));
    if let Some(kept) = weakest {
        text.push_str(&format!(
            " You keep {} of your {} {}.",
            number::bare_percent(kept.kept),
            number::percent(kept.reach),
            number::towards(kept.asked)
        ));
    }
    text
}

/// Sudden movements beside a dead zone.
pub fn sudden(sudden: &Sudden, covering: Option<f64>) -> String {
    let per_minute = sudden.per_minute.as_ref().ok();
    let beyond = number::percent(sudden.beyond);
    let movements = match sudden.count {
        1 => format!("1 sudden movement beyond {beyond} was"),
        count => format!("{count} sudden movements beyond {beyond} were"),
    };
    let rate = per_minute.map_or(String::new(), |rate| {
        format!(
            " ({} to {} a minute)",
            number::rate_figure(rate.low),
            number::rate_figure(rate.high)
        )
    });
    let cover = covering.map_or(String::new(), |radius| {
        format!(" Covering them too would take {}.", number::percent(radius))
    });
    format!("{movements} seen{rate}; they are counted apart, not covered.{cover}")
}

/// Rest and reach collide, with what to try, in this order; `is_set` when the dead zone that is set
/// is the one suggested.
pub fn collides(remedies: &[Remedy], is_set: bool) -> String {
    let first: Vec<&str> = remedies.iter().filter_map(|one| remedy(*one)).collect();
    let which = if is_set { "The dead zone" } else { "The suggested dead zone" };
    let mut text = format!(
        "{which} would eat more than a third of the weakest reach. Try, in this order: {}.",
        first.join("; ")
    );
    if remedies.contains(&Remedy::HeavierSpring) {
        text.push_str(
            " A heavier spring only where weakness, pain and joints that slip out were each \
             answered no.",
        );
    }
    if remedies.contains(&Remedy::BothSpringAndForce) {
        text.push_str(" Stiffer is not better in general: try both a spring and a force stick.");
    }
    text
}

/// One remedy in the list; those with a condition are said after it.
const fn remedy(remedy: Remedy) -> Option<&'static str> {
    match remedy {
        Remedy::PostureAndArmSupport => Some("posture and arm support"),
        Remedy::OtherSiteOrTopper => Some("another body part or topper"),
        Remedy::LighterOrShorterThrow => Some("a lighter or shorter throw"),
        Remedy::Software => Some("software"),
        Remedy::HeavierSpring | Remedy::BothSpringAndForce => None,
    }
}

/// What the dead zone would let through while the person does something else.
pub fn busy(meanwhile: Meanwhile, rate: &Estimate, needed: Option<f64>) -> String {
    let needed = needed.map_or(String::new(), |radius| {
        format!(" Keeping the target then would take {}.", number::percent(radius))
    });
    format!(
        "While {}, this dead zone would let {} through ({} to {}).{needed}",
        super::measure::meanwhile(meanwhile),
        number::per_minute(rate.value),
        number::rate_figure(rate.low),
        number::rate_figure(rate.high)
    )
}

/// The dead zone that would do while the person does something else, larger than the one set.
pub fn busy_needed(meanwhile: Meanwhile, needed: f64) -> String {
    format!(
        "While {}, keeping the target would take {}.",
        super::measure::meanwhile(meanwhile),
        number::percent(needed)
    )
}

/// The dead zone where there is no smoothing.
pub fn without_smoothing(without: f64) -> String {
    format!("Where what you use has none, the dead zone has to be {}.", number::percent(without))
}

/// The hidden middle.
pub fn hidden(share: f64) -> String {
    format!(
        "Movement inside {} is hidden here: stick, system or browser leaves it out. A dead zone \
         from this page comes on top of that hidden part. Add it when you set the stick up where \
         it is not hidden, or measure on another system.",
        number::percent(share)
    )
}

/// A hidden middle bends pushes.
pub const HIDDEN_BENDS: &str = "The system seems to hide the middle of each axis, so a slanted push looks \
    straighter than it is. The numbers allow for that. Measure with raw reports, or on another system, \
    to be sure.";
/// The hidden middle, its width unknown.
pub const HIDDEN_UNKNOWN: &str = "The stick reads exactly the middle most of the time: stick, \
    system or browser seems to hide small movements there, and how far cannot be seen from here. A \
    dead zone from this page comes on top of that hidden part. Add it where it is not hidden, or \
    measure on another system.";
/// More rest would help.
pub fn more_rest(seconds: f64) -> String {
    format!("About {} more of quiet rest would make it firm.", number::duration(seconds))
}

/// What the full throw rests on.
pub fn full_throw_basis(advice: &FullThrowAdvice) -> String {
    let basis = advice.radius.basis;
    match advice.source {
        FullThrowSource::ShareOfReach => format!("from {} pushes", basis.repetitions),
        FullThrowSource::Sustained => format!("from {} kept up", number::duration(basis.seconds)),
    }
}

/// The sentence of a suggested full throw.
pub fn full_throw(advice: &FullThrowAdvice) -> String {
    let radius = number::percent(advice.radius.value);
    let side = number::towards(advice.decided_by);
    let reach = number::percent(advice.decided_reach);
    let why = match advice.limit {
        ThrowLimit::ShareOfReach => format!("80 % of the {reach} that were comfortable {side}."),
        ThrowLimit::SurelyReached => format!(
            "what pushes {side} surely reach. They come to {reach} on average, and differ from one to \
             the next."
        ),
        ThrowLimit::LatePushes => format!(
            "what the last pushes {side} surely reach. All of them come to {reach} on average, the last \
             ones to less."
        ),
        ThrowLimit::HardHold => {
            format!("farther out {side} a longer hold was hard, or was not kept up.")
        }
        ThrowLimit::RoomToSteer => format!(
            "less would leave too little room to steer in. Pushes {side} surely reach it, but it may tire you: \
             rest often."
        ),
        ThrowLimit::EasyAndHard => {
            format!("half-way between a longer hold {side} that was easy and one that was hard.")
        }
        ThrowLimit::KeptUp => format!(
            "what was kept up {side} with an effort of at most 3 of 10. More may be possible; a longer \
             hold farther out would tell."
        ),
    };
    format!("A push of {radius} counts as all the way: {why}")
}

/// What each direction could have for itself, where no one number does for all.
pub fn own_throws(throws: &[OwnThrow]) -> String {
    let one = |own: &OwnThrow| {
        let number = own.throw.map_or_else(|| "too little".to_owned(), number::percent);
        format!("{} {number}", number::direction(own.asked))
    };
    let all: Vec<String> = throws.iter().map(one).collect();
    format!("By itself each direction would have: {}.", all.join(", "))
}

/// What was kept up once.
pub const KEPT_UP_ONCE: &str = "It was kept up once. The same hold again, today or on another day, \
    would make it firm.";

/// A full throw by hand.
pub fn full_throw_by_hand(full_throw: f64) -> String {
    format!("Chosen by hand: a push of {} counts as all the way.", number::percent(full_throw))
}

/// What the curve rests on.
pub fn curve_basis(advice: &CurveAdvice) -> String {
    if advice.straight || is_nearly_straight(advice) {
        "as steady far out as near the centre".to_owned()
    } else if advice.exponent > 1.0 {
        "gentler near the centre".to_owned()
    } else {
        "steadier near the centre".to_owned()
    }
}

/// Whether nobody would see the difference from a straight answer.
fn is_nearly_straight(advice: &CurveAdvice) -> bool {
    (advice.exponent - 1.0).abs() < 0.05 && advice.exponent_cost < 0.01
}

/// The sentence of a suggested curve.
pub fn curve(advice: &CurveAdvice) -> String {
    if is_nearly_straight(advice) && !advice.straight {
        return "A straight answer, 1.0: anything else would be steeper at the edge of the dead \
            zone than the target allows, or make no difference."
            .to_owned();
    }
    if advice.straight {
        "A straight answer, 1.0: the recordings do not show that you are less steady further out."
            .to_owned()
    } else {
        format!(
            "Equal steadiness along the whole push. As one number that is {}; it differs from the \
             full curve by at most {} of the output.",
            number::exponent(advice.exponent),
            number::percent(advice.exponent_cost)
        )
    }
}

/// A curve by hand.
pub fn curve_by_hand(exponent: f64) -> String {
    let effect = if exponent > 1.05 {
        "gentler near the centre, quicker further out"
    } else if exponent < 0.95 {
        "quicker near the centre, gentler further out"
    } else {
        "a straight answer"
    };
    format!("Chosen by hand: {effect}.")
}

/// Back to the suggestion.
pub const AS_SUGGESTED: &str = "As suggested";
/// All back to the suggestion.
pub const ALL_AS_SUGGESTED: &str = "All as suggested";
/// A little less.
pub fn less(name: &str) -> String {
    format!("{name}: less")
}
/// A little more.
pub fn more(name: &str) -> String {
    format!("{name}: more")
}

/// Details.
pub const DETAILS: &str = "Interval, method and basis";
/// Method.
pub const METHOD: &str = "Method";
/// Cost.
pub const COST: &str = "What it costs";
/// Basis.
pub const BASIS: &str = "Rests on";
/// Counting alone.
pub const COUNTED: &str = "Counting alone shows";

/// What counting alone shows.
pub fn counted_bound(bound: f64, seconds: f64) -> String {
    format!(
        "fewer than {} is all that {} of rest can prove by counting",
        number::per_minute(bound),
        number::duration(seconds)
    )
}
/// Method of full throw.
pub const fn full_throw_method(source: FullThrowSource) -> &'static str {
    match source {
        FullThrowSource::ShareOfReach => {
            "80 % of comfortable reach in the direction where it is shortest, never above its lower \
             bound. No longer hold at an effort of up to 3 of 10 has been measured, so it is rough \
             by rule."
        }
        FullThrowSource::Sustained => {
            "The level held for about 15 s at an effort of up to 3 of 10, in the direction where it \
             is smallest, never above the lower bound of late pushes."
        }
    }
}
/// Method of the curve.
pub const CURVE_METHOD: &str = "Unsteadiness in holds is fitted as a + b times the push; the \
    curve’s slope goes as one over it, so that the output is equally steady everywhere, with \
    slopes at most 1 to 3. Where b may be nothing, the answer is straight.";
/// Cost of the dead zone.
pub fn eats(weakest: &Weakest) -> String {
    format!("{} of the reach {}", number::percent(weakest.eaten), number::towards(weakest.asked))
}
/// Cost of one full throw for all.
pub fn leaves(direction: Direction, share: f64) -> String {
    format!(
        "{}: {} of travel beyond it is unused",
        number::direction(direction),
        number::percent(share)
    )
}
/// Unsteadiness.
pub fn unsteadiness(at_centre: f64, growth: f64) -> String {
    format!(
        "{} of travel at the centre, growing by {} per full travel",
        number::fine_percent(at_centre),
        number::fine_percent(growth)
    )
}

/// The target of false movements.
pub const WISH: &str = "How often may it move by itself?";
/// The targets offered: false movements a minute and their words.
pub const WISHES: [(f64, &str); 5] = [
    (2.0, "twice a minute"),
    (1.0, "once a minute"),
    (0.5, "once in 2 minutes"),
    (0.2, "once in 5 minutes"),
    (0.1, "once in 10 minutes"),
];

/// A weak or uncertain side.
pub fn uncertain(direction: Direction) -> String {
    format!("The reach {} is uncertain.", number::towards(direction))
}
/// What to do about it.
pub const UNCERTAIN_TO_DO: &str = "Another round of pushes that way would settle it.";
/// Left out.
pub fn left_out(count: usize) -> String {
    if count == 1 {
        "1 repetition was marked or queried and left out.".to_owned()
    } else {
        format!("{count} repetitions were marked or queried and left out.")
    }
}
