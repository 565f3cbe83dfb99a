//! Direction, smoothing, button timing, directions as switches.

use super::number;
use super::settings::not_enough;
use fitting::NotEnough;
use fitting::estimate::Measured;
use fitting::settings::{ButtonTiming, DirectionMap, Smoothing, SwitchThresholds};
use fitting::suggest::{
    ButtonAdvice, DirectionAdvice, RepeatReason, SmoothingAdvice, SmoothingPoint, SwitchAdvice,
};

/// Direction.
pub const DIRECTION: &str = "Direction";
/// Smoothing.
pub const SMOOTHING: &str = "Smoothing";
/// Buttons.
pub const BUTTONS: &str = "Button timing";
/// Switches.
pub const SWITCHES: &str = "Directions as switches";
/// Use what is suggested.
pub const USE_IT: &str = "Use it";
/// Turn in software, in place of the mount.
pub const TURN_IN_SOFTWARE: &str = "The mount cannot be turned: turn it in software";
/// It is turned in software.
pub const TURNED_IN_SOFTWARE: &str = "It is turned in software now, so leave the mount as it is: both \
    together would turn it too far.";
/// As it is.
pub const AS_IT_COMES: &str = "as it comes";
/// None.
pub const OFF: &str = "none";

/// An angle with its side.
fn turned(degrees: f64) -> String {
    let side = if degrees > 0.0 { "anticlockwise" } else { "clockwise" };
    format!("{:.0}° {side}", degrees.abs())
}

/// The direction setting as a figure.
pub fn direction_figure(map: &DirectionMap) -> String {
    let mut parts = Vec::new();
    if map.swapped {
        parts.push("axes swapped".to_owned());
    }
    if map.right_inverted {
        parts.push("left and right turned round".to_owned());
    }
    if map.up_inverted {
        parts.push("up and down turned round".to_owned());
    }
    if map.turn_degrees.abs() >= 0.5 {
        parts.push(turned(map.turn_degrees));
    }
    for (gain, axis) in [(map.right_gain, "sideways"), (map.up_gain, "up and down")] {
        if (gain - 1.0).abs() >= 0.005 {
            parts.push(format!("{axis} × {gain:.2}"));
        }
    }
    if parts.is_empty() { AS_IT_COMES.to_owned() } else { parts.join(", ") }
}

/// The sentence about direction.
pub fn direction(advice: &DirectionAdvice) -> String {
    let turn = advice.turn.as_ref().map_or_else(
        |why| not_enough(*why),
        |turn| {
            format!(
                "Pushes come out {} of what was asked ({} to {}).",
                turned(turn.value),
                number::degrees(turn.low),
                number::degrees(turn.high)
            )
        },
    );
    if advice.turns {
        format!(
            "{turn} It may be the mount, or the person’s own pattern of movement. Turn the mount by as \
             much the other way and measure again. Where the mount cannot be turned, software can."
        )
    } else if let Some(reason) = advice.repeat {
        format!("{turn} {}", repeat(reason))
    } else if advice.map != DirectionMap::default() {
        format!("{turn} The axes come out otherwise than asked: this puts them right.")
    } else {
        format!("{turn} Too little, or too unsure, to change anything.")
    }
}

/// Why pushes are asked for once more, and what to do.
const fn repeat(reason: RepeatReason) -> &'static str {
    match reason {
        RepeatReason::TurnedOrSwapped => {
            "That is close to 45°, halfway between straight and sideways. So nobody can tell yet \
             whether the stick is turned or its axes are swapped. Check how it is mounted, then \
             measure reach once more."
        }
        RepeatReason::RoundsDisagree => {
            "The first pushes and the later ones disagree. Measure reach once more before you \
             believe it."
        }
        RepeatReason::OneSideOnly => {
            "Most of it comes from one direction alone. Measure reach once more before you believe it."
        }
        RepeatReason::TooWide => {
            "It may be less than 10°, too little to matter. Measure reach once more before you \
             believe it."
        }
    }
}

/// Levelling the reach of the two axes.
pub fn levelling(gain: f64, dead_zone: Option<f64>, is_used: bool) -> String {
    let cost = dead_zone.map_or(String::new(), |radius| {
        format!(
            " Unintended movement grows with it: the dead zone would have to be {}.",
            number::percent(radius)
        )
    });
    let used = if is_used {
        "It is part of the suggestion."
    } else {
        "It is not suggested: it costs more than it brings."
    };
    format!("Multiplying the weaker axis by {gain:.2} would level the reach.{cost} {used}")
}

/// A smoothing as a figure.
pub fn smoothing_figure(smoothing: Smoothing) -> String {
    match smoothing {
        Smoothing::Off => OFF.to_owned(),
        Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => {
            format!("{cutoff_hertz:.1}\u{a0}Hz, speed {speed_coefficient:.1}")
        }
    }
}

/// The sentence of a smoothing chosen by hand.
pub fn smoothing_by_hand(point: &SmoothingPoint) -> String {
    format!(
        "Chosen by hand: {} of unsteadiness in holds is left, and all movement comes {} later.",
        number::fine_percent(point.jitter),
        number::milliseconds(point.lag_seconds)
    )
}

/// A candidate in the list.
pub fn smoothing_point(point: &SmoothingPoint) -> String {
    format!(
        "{}: unsteadiness {}, {} later",
        smoothing_figure(point.smoothing),
        number::fine_percent(point.jitter),
        number::milliseconds(point.lag_seconds)
    )
}

/// The list.
pub const SMOOTHING_CHOICE: &str = "Less unsteady for a later answer";
/// The table.
pub const SMOOTHING_TABLE: &str = "Unsteadiness against added lag";
/// Table heads.
pub const LAG: &str = "Added lag";
/// Table heads.
pub const MARK: &str = "Mark";
/// The chosen one.
pub const CHOSEN: &str = "chosen";

/// The sentence about smoothing.
pub fn smoothing(advice: &SmoothingAdvice) -> String {
    if advice.chosen == Smoothing::Off {
        return "None. Within the lag allowed nothing steadies the output enough to be worth it."
            .to_owned();
    }
    let left = advice.jitter_left.as_ref().map_or_else(
        |_| String::new(),
        |left| {
            format!(
                " What is left of the unsteadiness in holds: {} ({}).",
                number::percent(left.value),
                number::percent_interval(left)
            )
        },
    );
    format!(
        "Slow movement is smoothed more than quick movement; all of it comes {} later.{left} \
         Whether it helps play, only play can tell.",
        number::milliseconds(advice.lag_seconds)
    )
}
/// Smoothing lets the dead zone be smaller.
pub fn smaller_dead_zone(without: f64, with: f64) -> String {
    format!(
        "With the resting place set, the dead zone has to be {} without smoothing and {} with it.",
        number::percent(without),
        number::percent(with)
    )
}
/// A long lag.
pub fn late(seconds: f64) -> String {
    format!(
        "{} is long: the whole way from hand to picture should stay under 100 ms \
         (MIL-STD-1472E 5.4.3.2.2.1.2).",
        number::milliseconds(seconds)
    )
}
/// How smoothing was chosen.
pub const SMOOTHING_METHOD: &str = "Least spread of the output in the person’s own holds, of all \
    candidates that add no more lag to the person’s own pushes than allowed. The filter is that of \
    Casiez, Roussel and Vogel (2012), at 60 steps a second.";

/// Button timing as a figure.
pub fn timing_figure(timing: &ButtonTiming) -> String {
    let mut parts = Vec::new();
    if timing.shortest_press_seconds > 0.0 {
        parts.push(format!("from {}", number::milliseconds(timing.shortest_press_seconds)));
    }
    if timing.bounce_seconds > 0.0 {
        parts.push(format!("deaf for {}", number::milliseconds(timing.bounce_seconds)));
    }
    if let Some(delay) = timing.repeat_delay_seconds {
        parts.push(format!("repeats after {}", number::milliseconds(delay)));
    }
    if parts.is_empty() { AS_IT_COMES.to_owned() } else { parts.join(", ") }
}
/// What the three times mean.
pub const TIMING: &str = "A press shorter than the first time does not count; after a press the \
    button is deaf for the second; a press held for the third begins to repeat. From your own \
    presses and gaps.";
/// One button’s times, as a row of details.
pub fn timing_rows(advice: &ButtonAdvice) -> (&'static str, String) {
    let text = format!(
        "{}: {}; from {} presses",
        button(advice.button),
        three_times(&advice.shortest_press, &advice.bounce, &advice.repeat_delay),
        advice.presses
    );
    (TIMES, text)
}
/// A button’s times.
const TIMES: &str = "Times";
/// No shortest press is safe.
pub fn no_safe_time(index: usize) -> String {
    format!(
        "{}: no safe shortest press was found. Wanted and unwanted presses are equally short, so \
         any limit would lose some or let some through.",
        button(index)
    )
}
/// A time of nothing.
const NO_LIMIT: &str = "none needed";
/// The three times of a button.
pub fn three_times(
    shortest_press: &Measured,
    bounce: &Measured,
    repeat_delay: &Measured,
) -> String {
    let one = |figure: &Measured| match figure {
        Ok(estimate) if estimate.value <= 0.0 => NO_LIMIT.to_owned(),
        Ok(estimate) => format!(
            "{} ({} to {})",
            number::milliseconds(estimate.value),
            number::milliseconds(estimate.low),
            number::milliseconds(estimate.high)
        ),
        Err(NotEnough::Unsettled) => "no safe setting found".to_owned(),
        Err(why) => not_enough(*why),
    };
    format!(
        "shortest press {}; bounce window {}; repeat delay {}",
        one(shortest_press),
        one(bounce),
        one(repeat_delay)
    )
}
/// One button.
pub fn button(index: usize) -> String {
    format!("Button {index}")
}

/// Switch thresholds as a figure.
pub fn switches_figure(switches: Option<SwitchThresholds>) -> String {
    switches.map_or_else(
        || OFF.to_owned(),
        |one| format!("on {}, off {}", number::percent(one.on), number::percent(one.off)),
    )
}
/// The sentence about switches.
pub fn switches(advice: &SwitchAdvice) -> String {
    format!(
        "A push past {} is on and stays on until it is under {}; one shorter than {} does not \
         count. Your weakest push, {}, reaches {}.",
        number::percent(advice.thresholds.on),
        number::percent(advice.thresholds.off),
        number::milliseconds(advice.thresholds.shortest_seconds),
        number::towards(advice.weakest.0),
        number::percent(advice.weakest.1)
    )
}
/// False presses.
pub const FALSE_PRESSES: &str = "False presses at rest";

#[cfg(test)]
mod tests {
    use super::*;
    use fitting::Estimate;
    use fitting::estimate::Basis;

    #[test]
    fn the_interval_of_a_turn_has_real_minus_signs() {
        let advice = DirectionAdvice {
            map: DirectionMap::default(),
            sureness: fitting::Sureness::Firm,
            turn: Ok(Estimate::new(-3.0, -6.4, -0.3, Basis::default()).expect("finite")),
            turns: false,
            repeat: None,
            levelling_gain: None,
            dead_zone_with_gain: None,
        };
        let text = direction(&advice);
        assert!(text.contains("3° clockwise of what was asked (−6° to 0°)"), "{text}");
    }
}
