//! The need letter. It claims nothing that was not measured or said.

use super::{between, lines, percent, seconds, sure};
use crate::words::{effect, found, measure, number};
use fitting::Sureness;
use fitting::papers::{AtRest, Facts, Feature, Limit, Need, Unmeasured};
use fitting::visit::{PaperPart, SiteTrial};

/// What stands in a part.
pub(super) fn suggested(part: PaperPart, facts: &Facts, measured: &str) -> String {
    match part {
        PaperPart::LetterTo => "[To whom this letter goes]".to_owned(),
        PaperPart::LetterGoal => {
            "[What the person wants to play, and with whom, in their own words]".to_owned()
        }
        PaperPart::LetterLimitation => limitation(facts, measured),
        PaperPart::LetterOptions => options(facts),
        PaperPart::LetterFeatures => features(facts),
        PaperPart::LetterTrial => trial(facts),
        PaperPart::LetterTraining => {
            "[Who shows it to whom, and how long that takes] Whoever helps has the handover sheet: \
             where the stick goes, which numbers, when to stop."
                .to_owned()
        }
        PaperPart::LetterFollowUp => {
            "[When, and by whom] The same measures again in about three months, and sooner if pain, \
             skin, seat or medication change."
                .to_owned()
        }
        PaperPart::LetterCost => {
            "[Stick, mount and topper, delivery, training, repair: in all]".to_owned()
        }
        PaperPart::LetterFrom => "[Name, profession, address, date, signature]".to_owned(),
        _ => String::new(),
    }
}

fn limitation(facts: &Facts, measured: &str) -> String {
    let why = "[What makes other controllers hard, in a sentence]".to_owned();
    let when =
        if facts.limits.is_empty() { String::new() } else { format!("Measured {measured}:") };
    let unmeasured = match facts.unmeasured.as_slice() {
        [] => String::new(),
        some => {
            let names: Vec<&str> = some.iter().map(|what| unmeasured(*what)).collect();
            format!(" Not measured, or not enough: {}.", names.join(", "))
        }
    };
    let not = format!("Strength, pain and hours of play were not measured.{unmeasured}");
    let limits = facts.limits.iter().map(limit);
    lines([why, when].into_iter().chain(limits).chain([not]))
}

const fn unmeasured(what: Unmeasured) -> &'static str {
    match what {
        Unmeasured::Rest => "movement at rest",
        Unmeasured::Reach => "reach",
        Unmeasured::Hold => "how steady holds are",
        Unmeasured::LongerHold => "what can be kept up",
        Unmeasured::Presses => "presses of buttons",
    }
}

/// One limit with its figure.
fn limit(limit: &Limit) -> String {
    match limit {
        Limit::Reach { shortest, farthest, sureness } => {
            let far = farthest.map_or_else(String::new, |(asked, reach)| {
                format!(
                    "; the farthest, {}, is {}",
                    number::towards(asked),
                    between(&reach, percent)
                )
            });
            format!(
                "Comfortable reach {} is {} of the stick’s travel{far}.",
                number::towards(shortest.0),
                sure(&shortest.1, *sureness, percent)
            )
        }
        Limit::Wander { inside, sureness } => format!(
            "At rest the stick moves by itself within {} of its travel, 95 % of the time.",
            sure(inside, *sureness, percent)
        ),
        Limit::Sudden { count, per_minute } => {
            let movements = if *count == 1 {
                "1 sudden movement".to_owned()
            } else {
                format!("{count} sudden movements")
            };
            format!("{movements} at rest: {}.", between(per_minute, number::per_minute))
        }
        Limit::Busy { meanwhile, inside } => format!(
            "While {} it moves within {}.",
            measure::meanwhile(*meanwhile),
            between(inside, percent)
        ),
        Limit::Rhythm { hertz } => format!(
            "A regular movement while holding, {} times a second.",
            between(hertz, |value| format!("{value:.1}"))
        ),
        Limit::KeptUp { asked, kept, seconds, effort, sureness } => format!(
            "{}: {} of travel for {}, with an effort of {effort} of 10.",
            found::sustained_name(*asked),
            sure(kept, *sureness, percent),
            number::duration(*seconds)
        ),
        Limit::Press { button, length } => {
            format!("A press of button {button} lasts {}.", between(length, seconds))
        }
    }
}

fn options(facts: &Facts) -> String {
    let cheapest = "[The cheapest ways that were tried, such as posture and arm support, another \
        topper or a borrowed stick, and why each does not do]"
        .to_owned();
    let sites: Vec<String> = facts.sites.iter().map(site).collect();
    let sites = match sites.is_empty() {
        true => String::new(),
        false => format!("Body parts looked at: {}.", sites.join("; ")),
    };
    let toppers = match facts.toppers.is_empty() {
        true => String::new(),
        false => format!("; toppers: {}", facts.toppers.join(", ")),
    };
    let set_ups = match facts.set_ups {
        0 | 1 if toppers.is_empty() => String::new(),
        1 => format!("1 place of the stick was tried{toppers}."),
        many => format!("{many} places of the stick were tried{toppers}."),
    };
    let settings = facts.by_settings.map_or_else(String::new, |by| {
        let moving = |rest: AtRest| effect::moving(rest.moving_share, rest.per_minute);
        format!(
            "Settings alone, which cost nothing: moving by itself at rest as it is: {}; with them: \
             {}. [What they leave undone]",
            moving(by.before),
            moving(by.after)
        )
    });
    lines([cheapest, sites, set_ups, settings])
}

/// A body part with what was said of it.
fn site(site: &SiteTrial) -> String {
    let said: Vec<&str> = [
        (site.repeatable, "again and again", "not again and again"),
        (site.comfortable, "comfortable", "not comfortable"),
        (site.screen_in_view, "screen in view", "screen out of view"),
        (site.sets_off_spasm, "sets off spasm", "sets off no spasm"),
        (site.only_movement, "needed for speaking, driving or calling", "not needed elsewhere"),
    ]
    .into_iter()
    .filter_map(|(answer, yes, no)| answer.map(|is| if is { yes } else { no }))
    .collect();
    if said.is_empty() {
        site.body_part.clone()
    } else {
        format!("{} ({})", site.body_part, said.join(", "))
    }
}

/// Before what is rough.
const AGAIN: &str = "Rough so far, and to be measured again before a stick is bought for it:";

fn features(facts: &Facts) -> String {
    if facts.needs.is_empty() {
        return "[What the stick has to do: nothing measured so far calls for a feature]"
            .to_owned();
    }
    let (rough, sure): (Vec<&Need>, Vec<&Need>) =
        facts.needs.iter().partition(|need| need.sureness != Sureness::Firm);
    let again = (!rough.is_empty()).then(|| AGAIN.to_owned());
    lines(sure.into_iter().map(need).chain(again).chain(rough.into_iter().map(need)))
}

/// One feature with the finding behind it.
pub fn need(need: &Need) -> String {
    let word = need.sureness;
    match &need.feature {
        Feature::FullThrow { at, because: (asked, reach) } => {
            let reach = reach.map_or_else(String::new, |reach| {
                format!(
                    ", as comfortable reach {} is {}",
                    number::towards(*asked),
                    between(&reach, percent)
                )
            });
            format!("Full output at a push of {} of travel{reach}.", sure(at, word, percent))
        }
        Feature::DeadZone { radius, per_minute } => format!(
            "A dead zone that can be set to {}, so that it moves by itself less than {}.",
            sure(radius, word, percent),
            often(*per_minute)
        ),
        Feature::Sensitivity { exponent, growth } => format!(
            "A sensitivity that can be set, near {} as one number ({}): unsteadiness grows with the \
             push, by {} of travel over the whole of it.",
            number::exponent(*exponent),
            crate::words::settings::sureness(word),
            between(growth, percent)
        ),
        Feature::Turn { degrees } => {
            let side = if degrees.value > 0.0 { "anticlockwise" } else { "clockwise" };
            let whole = |value: f64| format!("{:.0}°", value.abs());
            format!(
                "First turn the mount that is there, and measure again: pushes come out {} {side}. Only \
                 where it cannot be turned, a mount or software that can.",
                sure(&ends_in_order(degrees), word, whole)
            )
        }
        Feature::Axes { swapped, right_inverted, up_inverted } => format!(
            "Axes that can be changed over ({}): they come out {}.",
            crate::words::settings::sureness(word),
            found::swapped(*swapped, *right_inverted, *up_inverted)
        ),
        Feature::Smoothing { left, lag_seconds } => format!(
            "Smoothing that can be set: it leaves {} of the unsteadiness in holds, {} later.",
            sure(left, word, percent),
            number::milliseconds(*lag_seconds)
        ),
        Feature::ShortestPress { button, shortest } => format!(
            "Buttons for which a shortest press can be set: {} for button {button}.",
            sure(shortest, word, seconds)
        ),
        Feature::Switches { on, off, weakest } => format!(
            "Directions that can be used as switches, on at {} and off at {} of travel ({}): the \
             weakest push, {}, is {}.",
            percent(*on),
            percent(*off),
            crate::words::settings::sureness(word),
            number::towards(weakest.0),
            percent(weakest.1)
        ),
    }
}

/// A turn to the right told without its sign: what was the lower end is the upper.
fn ends_in_order(degrees: &fitting::Estimate) -> fitting::Estimate {
    if degrees.value < 0.0 {
        fitting::Estimate { low: degrees.high, high: degrees.low, ..*degrees }
    } else {
        *degrees
    }
}

fn often(per_minute: f64) -> String {
    let wish = crate::words::settings::WISHES.iter().find(|wish| wish.0 == per_minute);
    wish.map_or_else(|| number::per_minute(per_minute), |wish| wish.1.to_owned())
}

fn trial(facts: &Facts) -> String {
    let own = facts.own_game.as_ref().map_or_else(String::new, |own| {
        let minutes = own.minutes.map_or_else(
            || "Tried in the person’s own game".to_owned(),
            |minutes| format!("Tried for {minutes} minutes in the person’s own game"),
        );
        let said: Vec<String> = [(own.effort, "effort"), (own.comfort, "comfort")]
            .into_iter()
            .filter_map(|(of_ten, name)| Some(format!("{name} {} of 10", of_ten?)))
            .collect();
        let said = if said.is_empty() { String::new() } else { format!(": {}", said.join(", ")) };
        format!("{minutes}{said}.")
    });
    lines([own, "[How long it is to be tried before it is bought, and where]".to_owned()])
}
