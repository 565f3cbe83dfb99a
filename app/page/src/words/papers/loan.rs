//! The loan card of a lending library.

use super::{between, lines, percent};
use crate::words::found;
use fitting::measure::OddAxis;
use fitting::papers::Facts;
use fitting::stick_kind::Mover;
use fitting::visit::PaperPart;

/// The diary.
pub const DIARY_TITLE: &str = "Diary";
/// A day.
pub const DIARY_DAY: &str = "Day";
/// How long.
pub const DIARY_MINUTES: &str = "Minutes";
/// How comfortable.
pub const DIARY_COMFORT: &str = "Comfort, 0 to 10";

/// A line to write on.
const LINE: &str = "____________________";

/// What stands in a part.
pub(super) fn suggested(part: PaperPart, facts: &Facts, measured: &str) -> String {
    match part {
        PaperPart::LoanItem => item(facts),
        PaperPart::LoanParts => parts(facts),
        PaperPart::LoanCondition => condition(facts, measured),
        PaperPart::LoanOut => format!("To {LINE}\nOn {LINE} until {LINE}"),
        PaperPart::LoanIn => format!("On {LINE} taken by {LINE}\nCondition {LINE}{LINE}"),
        PaperPart::LoanCleaned => cleaned(facts),
        _ => String::new(),
    }
}

fn item(facts: &Facts) -> String {
    let device = &facts.device;
    if facts.practised.is_some() || device.name.is_empty() {
        return format!("[Name of the stick] No. {LINE}");
    }
    let buttons = match device.buttons {
        0 => String::new(),
        1 => ", 1 button".to_owned(),
        many => format!(", {many} buttons"),
    };
    format!("{} ({} axes{buttons}), no. {LINE}", device.name, device.axes)
}

fn parts(facts: &Facts) -> String {
    let place = facts.place.as_ref();
    let named = |name: &str, text: Option<&String>| {
        text.filter(|text| !text.is_empty())
            .map_or_else(String::new, |text| format!("{name}: {text}"))
    };
    lines([
        "Stick and cable".to_owned(),
        named("Topper", place.map(|place| &place.topper)),
        named("Mount, clamp mark", place.map(|place| &place.clamp_mark)),
        "[What else goes with it]".to_owned(),
    ])
}

/// What the recordings say of the stick itself: only what was looked at.
fn condition(facts: &Facts, measured: &str) -> String {
    if facts.practised.is_some() {
        return "[What it looks like: cable, plug, topper, clamp]".to_owned();
    }
    let stick = &facts.stick;
    let mut said = Vec::new();
    if let Ok(noise) = stick.noise.measured() {
        said.push(format!("untouched it shakes by {}", between(&noise, percent)));
    }
    if let Ok(drift) = stick.drift_per_minute.measured() {
        said.push(format!("its middle moves by {} a minute", between(&drift, percent)));
    }
    if let Ok(sag) = stick.sag.measured() {
        said.push(format!("after a push it stays {} off", between(&sag, percent)));
    }
    said.extend(stick.odd_axes.iter().map(|odd| {
        let odd = OddAxis { axis: odd.axis as usize, what: odd.what };
        format!("{} {}", found::odd_axis_name(&odd), found::odd_axis(&odd))
    }));
    let seen = if said.is_empty() {
        String::new()
    } else {
        format!("Measured {measured}: {}.", said.join("; "))
    };
    lines([seen, "[What it looks like: cable, plug, topper, clamp]".to_owned()])
}

fn cleaned(facts: &Facts) -> String {
    let mouth = match facts.mover {
        Mover::Limb | Mover::Chin => "",
        Mover::Lip | Mover::Breath => "A mouthpiece is one person’s: it is not lent on.",
    };
    lines([
        format!("By {LINE} on {LINE}"),
        format!("How (the maker’s method) {LINE}{LINE}"),
        mouth.to_owned(),
    ])
}
