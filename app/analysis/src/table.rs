//! An analysis as a table for people.

use crate::analysis::Analysis;
use fitting::estimate::{NotEnough, Sureness};
use fitting::exchange::figures::{Line, Unit, aligned, name};

/// The table of one analysis, its columns aligned.
#[must_use]
pub fn table(analysis: &Analysis) -> String {
    let body = &analysis.body;
    let tasks: Vec<String> = body.tasks.iter().map(name).collect();
    let head = ["what", "of", "value", "95 % interval", "unit", "rests on"].map(str::to_owned);
    let parts: Vec<(String, Vec<[String; 6]>)> = [
        ("measured", &body.measures),
        ("suggested: what to type in, in the order in which it is applied", &body.suggestions),
        ("effect of the suggested settings", &body.effects),
    ]
    .into_iter()
    .map(|(title, lines)| (title.to_owned(), lines.iter().map(row).collect()))
    .collect();
    let mut text = body.files.join(", ");
    if !body.label.is_empty() {
        text.push_str(&format!(" ({})", body.label));
    }
    text.push_str(&format!("\ntasks: {}\n", tasks.join(", ")));
    text.push_str(&format!(
        "target: at most {} false movements a minute; smoothing may add {:.0} ms\n",
        body.wish.false_per_minute,
        1000.0 * body.wish.most_lag_seconds
    ));
    text.push_str(&aligned(&head, &parts));
    text
}

fn row(line: &Line) -> [String; 6] {
    let number = |value: f64| match line.unit {
        Unit::YesNo => if value == 0.0 { "no" } else { "yes" }.to_owned(),
        unit => unit.number(value),
    };
    let interval = line.low.zip(line.high);
    let mut rests_on = Vec::new();
    if let Some(seconds) = line.seconds.filter(|seconds| *seconds > 0.0) {
        rests_on.push(format!("{seconds:.1} s"));
    }
    if let Some(times) = line.repetitions.filter(|times| *times > 0) {
        rests_on.push(format!("{times} repetitions"));
    }
    match (line.sureness.map(sureness), line.lacking.map(lacking)) {
        (Some(sureness), Some(why)) => rests_on.push(format!("{sureness}: {why}")),
        (Some(sureness), None) => rests_on.push(sureness.to_owned()),
        (None, why) => rests_on.extend(why),
    }
    let unit = match line.unit {
        Unit::YesNo => String::new(),
        unit => name(unit).replace('_', " "),
    };
    [
        line.name.clone(),
        line.of.clone(),
        line.value.map_or_else(|| "-".to_owned(), number),
        interval
            .map_or_else(String::new, |(low, high)| format!("{} to {}", number(low), number(high))),
        unit,
        rests_on.join(", "),
    ]
}

fn sureness(of: Sureness) -> &'static str {
    match of {
        Sureness::NotEnough => "not enough yet",
        Sureness::Rough => "rough",
        Sureness::Firm => "firm",
    }
}

fn lacking(why: NotEnough) -> String {
    match why {
        NotEnough::NothingRecorded => "nothing recorded".to_owned(),
        NotEnough::Seconds { have, need } => format!("{have:.1} s of {need:.1} s needed"),
        NotEnough::Repetitions { have, need } => format!("{have} of {need} repetitions needed"),
        NotEnough::DoesNotApply => "does not apply".to_owned(),
        NotEnough::Hidden => "the middle of the stick is hidden".to_owned(),
        NotEnough::NotFor(what) => format!("not for this stick: {}", name(what).replace('_', " ")),
        NotEnough::NotDone => "never done from beginning to end".to_owned(),
        NotEnough::Unsettled => "the repetitions disagree".to_owned(),
        NotEnough::OutOfRange => "outside what a setting can hold".to_owned(),
        NotEnough::CutOff => "cut off at the edge of travel".to_owned(),
        NotEnough::NoSteeringSpan => "no safe setting with one number".to_owned(),
    }
}
