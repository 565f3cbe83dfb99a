//! The researcher's page: the one place where the researcher's own words stand.

use super::{measure, number};
use fitting::estimate::NotEnough;
use fitting::exchange::figures::{Asked, Line, Unit, name};

/// Title.
pub const TITLE: &str = "All figures";
/// What it is.
pub const TEXT: &str = "Everything that was measured and suggested, with units, 95 % intervals and \
    what each rests on, under the names that the program’s own documentation uses. Shares are of the \
    stick’s travel unless said otherwise; angles go from right towards up.";
/// The link from other screens.
pub const LINK: &str = "All figures, for researchers";
/// Back.
pub const BACK: &str = "Back to the settings";
/// Copy it.
pub const COPY: &str = "Copy as text";
/// Save it.
pub const SAVE: &str = "Save as text";
/// Print it.
pub const PRINT: &str = "Print";
/// Copied.
pub const COPIED: &str = "Copied.";
/// The file's name.
pub const FILE: &str = "stick-figures.txt";

/// What it was made with.
pub fn made_with(core: &str, invented: Option<(&str, u64)>) -> String {
    let who = invented.map_or_else(String::new, |(code, seed)| {
        format!(" Invented person “{code}”, seed {seed}: made up, stands for nobody.")
    });
    format!("Computing core {core}.{who}")
}

/// Column heads of all tables.
pub const HEAD: [&str; 6] = ["What", "Of", "Value", "95 % interval", "Unit", "Rests on"];

/// The recordings.
pub const RECORDINGS: &str = "Recordings, and what was left out";
/// How they are read.
pub const RECORDINGS_METHOD: &str = "Marked repetitions, pushes that stand out and that nobody called \
    meant, and what was skipped or cut short are kept in the recording and left out of every figure. \
    The form of the CSV files is described in schema/README.md beside the program.";
/// Column heads of the recordings.
pub const RECORDINGS_HEAD: [&str; 9] = [
    "Task",
    "Asked",
    "Watched",
    "Changes",
    "Repetitions",
    "Counted",
    "Marked",
    "Queried",
    "Muscle work",
];
/// Head of the column in which one is saved.
pub const FILES: &str = "File";
/// Save one.
pub const CSV: &str = "Save as CSV";
/// The file's name of one.
pub fn csv_file(asked: &Asked) -> String {
    format!("recording-{}-{}.csv", asked.place + 1, name(asked.kind))
}
/// A recording's name.
pub fn recording(asked: &Asked) -> String {
    format!("{}. {}", asked.place + 1, measure::task(asked.kind))
}
/// A recording's row, without its name.
pub fn recording_row(asked: &Asked) -> [String; 8] {
    let marked: Vec<String> = asked
        .marked
        .iter()
        .map(|(reason, times)| format!("{} {times}", measure::mark(*reason)))
        .collect();
    let count = |count: usize| count.to_string();
    [
        format!("{}, cue {}", name(asked.asking), name(asked.cue)).replace('_', " "),
        number::duration(asked.watched_seconds),
        count(asked.changes),
        count(asked.repetitions),
        format!("{} ({} not done)", asked.counted, asked.not_done),
        if marked.is_empty() { count(0) } else { marked.join(", ") },
        count(asked.queried),
        number::duration(asked.muscle_seconds),
    ]
}

/// A table: its title, where the documentation describes it, and how it is computed, in a line.
#[derive(Clone, Copy, Debug)]
pub struct About {
    /// The first part of its lines' names.
    pub key: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Its name in the documentation.
    pub docs: &'static str,
    /// The method.
    pub method: &'static str,
}

const fn about(
    key: &'static str,
    title: &'static str,
    docs: &'static str,
    method: &'static str,
) -> About {
    About { key, title, docs, method }
}

/// All tables, in the order in which they stand on the page.
pub const TABLES: [About; 25] = [
    about(
        "device",
        "Stick, system and browser",
        "fitting::measure::DeviceMeasures",
        "Noise: pooled standard deviation of the untouched stick, chi-square interval. Step: the \
         smallest between two values. Gaps: more than 12 ms without polling. Drift: slope by Theil and \
         Sen. Sag: resting places after pushes by least squares. Opening: where pushes touched its end.",
    ),
    about(
        "rest",
        "Quiet rest",
        "fitting::measure::RestMeasures",
        "Settled, unmarked, watched time, weighted by its length. Centre: median by axis. Wander: the \
         95th percentile of distance; its interval by blocks of time and by chi-square on the \
         independent values. Sudden movements: told apart by size and quickness, mid-P Poisson interval.",
    ),
    about(
        "events",
        "Events by radius, quiet rest",
        "fitting::measure::RatePoint",
        "An event is a maximal run beyond the radius of at least 1/60 s; runs less than 250 ms apart \
         are one. Counted with a mid-P Poisson band where there are enough, else from peaks over a \
         threshold with a fitted tail and its uncertainty.",
    ),
    about(
        "busy_rest",
        "Busy rests",
        "fitting::measure::BusyRest",
        "As quiet rest, each kind by itself and about the same centre; never pooled with the quiet one.",
    ),
    about(
        "busy_events",
        "Events by radius, busy rests",
        "fitting::measure::RatePoint",
        "As in quiet rest.",
    ),
    about(
        "free",
        "Free movement",
        "fitting::measure::FreeMovement",
        "The range seen, never comfortable reach: by eight directions the farthest distance held for \
         150 ms.",
    ),
    about(
        "reach",
        "Reach by direction",
        "fitting::measure::DirectionReach",
        "The plateau of each push that counts; mean, t interval on the variance pooled over directions \
         (its own from ten pushes on), what a coarse step leaves untold added; fewer than 3 are not \
         enough.",
    ),
    about(
        "map",
        "From asked to performed: polar decomposition",
        "fitting::measure::PerformedMap",
        "Least squares from asked directions to mean ends, each direction weighing the same; performed \
         = turn × stretch × (swap and inversions) × asked. Intervals by the delta method from the \
         scatter of single pushes.",
    ),
    about(
        "hold",
        "Holds by level",
        "fitting::measure::LevelSteadiness",
        "Standard deviation about the held place, both axes pooled, what short holds miss of slow \
         movement added; chi-square interval on the independent values.",
    ),
    about(
        "rhythm",
        "Rhythm",
        "fitting::measure::RhythmicMovement",
        "A peak of the spectrum above a power-law background, 2 to 15 Hz; intervals by leaving out one \
         hold after another (jackknife).",
    ),
    about(
        "spectrum",
        "Spectrum of the holds",
        "fitting::measure::SpectrumPoint",
        "Hann windows of 3 s that overlap by half, less a straight line, averaged; both axes together, \
         one-sided. Not corrected for the holding of values between reports.",
    ),
    about(
        "sustained",
        "Longer holds",
        "fitting::measure::SustainedHold",
        "The longest stay in the ring; mean distance and its drift by a line through batch means, with \
         what neighbouring batches share.",
    ),
    about(
        "return",
        "Return",
        "fitting::measure::DirectionReturn",
        "From the cue to let go until it stays at rest; means with t intervals on the variance pooled \
         over directions.",
    ),
    about(
        "presses",
        "Presses",
        "fitting::measure::ButtonPresses",
        "Medians with intervals by order statistics, or of logarithms where presses are few; unwanted \
         presses with a mid-P Poisson interval.",
    ),
    about(
        "switches",
        "Directions as switches",
        "fitting::measure::SwitchUse, fitting::suggest::SwitchAdvice",
        "On lies between what rest sustains for one frame and the smallest plateau of the weakest \
         direction, off above the rest and below the deepest dip within a push.",
    ),
    about(
        "left_out",
        "Left out",
        "fitting::measure::Measures::left_out",
        "Repetitions that were marked or queried.",
    ),
    about(
        "centre",
        "Suggested centre",
        "fitting::Settings::centre",
        "The median of the quiet rest by axis, else of the untouched stick; its interval is that of the \
         distance from the middle, both axes pooled. Firm within 1 % of travel to each side.",
    ),
    about(
        "dead_zone",
        "Suggested dead zone",
        "fitting::suggest::DeadZoneAdvice",
        "The smallest radius whose rate of events has its upper bound under the target, on the rest as \
         it comes out of direction and smoothing.",
    ),
    about(
        "full_throw",
        "Suggested full throw",
        "fitting::suggest::FullThrowAdvice",
        "What was kept up at an effort of up to 3 of 10, else 80 % of comfortable reach; never above the \
         lower bound of late pushes.",
    ),
    about(
        "curve",
        "Suggested sensitivity",
        "fitting::suggest::CurveAdvice",
        "sd(r) = a + b r by weighted least squares, a and b not negative; the slope goes as 1/sd(r) \
         (the variance-stabilising transform), at most 1 to 3.",
    ),
    about(
        "direction",
        "Suggested direction",
        "fitting::suggest::DirectionAdvice",
        "Turned only where the interval clears 10° and a repeat agrees.",
    ),
    about(
        "smoothing",
        "Suggested smoothing",
        "fitting::suggest::SmoothingAdvice",
        "Least spread of the output in holds within the lag allowed, of the candidates of a low-pass \
         whose cutoff rises with speed (Casiez, Roussel and Vogel 2012); jitter and lag of each.",
    ),
    about(
        "timing",
        "Suggested button timing",
        "fitting::suggest::ButtonAdvice",
        "Above the limit that 95 % of unwanted presses stay under and below the one that 95 % of plain \
         presses stay over (tolerance limits); bounce from gaps too short for a person.",
    ),
    about(
        "effect",
        "What settings do to the recordings",
        "fitting::suggest::Effect",
        "The same pipeline as in the live view, on the recorded rests, pushes and holds: raw is the \
         stick as it is, chosen are the settings now.",
    ),
    about("", "Others", "fitting", ""),
];

/// A line as the cells of its row.
pub fn row(line: &Line) -> [String; 6] {
    let number = |value: f64| match line.unit {
        Unit::YesNo => if value == 0.0 { "no" } else { "yes" }.to_owned(),
        unit => unit.number(value),
    };
    let interval = line.low.zip(line.high);
    let unit = match line.unit {
        Unit::YesNo => String::new(),
        unit => self::unit(unit).to_owned(),
    };
    [
        line.name.clone(),
        line.of.replace('_', " "),
        line.value.map_or_else(|| "–".to_owned(), number),
        interval
            .map_or_else(String::new, |(low, high)| format!("{} to {}", number(low), number(high))),
        unit,
        rests_on(line),
    ]
}

fn rests_on(line: &Line) -> String {
    let mut parts = Vec::new();
    if let Some(seconds) = line.seconds.filter(|seconds| *seconds > 0.0) {
        parts.push(format!("{seconds:.1}\u{a0}s"));
    }
    if let Some(times) = line.repetitions.filter(|times| *times > 0) {
        parts.push(format!("{times} repetitions"));
    }
    let sureness = line.sureness.map(super::settings::sureness);
    match (sureness, line.lacking.map(lacking)) {
        (Some(sureness), Some(why)) => parts.push(format!("{sureness}: {why}")),
        (Some(sureness), None) => parts.push(sureness.to_owned()),
        (None, why) => parts.extend(why),
    }
    parts.join(", ")
}

/// Why there is no number, shortly.
fn lacking(why: NotEnough) -> String {
    match why {
        NotEnough::NothingRecorded => "nothing recorded".to_owned(),
        NotEnough::Seconds { have, need } => {
            format!("{} needed", number::of_needed(have, need))
        }
        NotEnough::Repetitions { have, need } => format!("{have} of {need} repetitions needed"),
        NotEnough::NotDone => "never done from beginning to end".to_owned(),
        NotEnough::Unsettled => "the repetitions disagree".to_owned(),
        why => super::settings::not_enough(why),
    }
}

/// A unit.
const fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Travel => "share of travel",
        Unit::TravelPerMinute => "share of travel / min",
        Unit::Output => "share of output",
        Unit::Share => "share",
        Unit::PerMinute => "1 / min",
        Unit::Seconds => "s",
        Unit::Degrees => "°",
        Unit::Hertz => "Hz",
        Unit::HertzPerSpeed => "Hz / (share / s)",
        Unit::Bits => "bit",
        Unit::Count => "",
        Unit::OfTen => "of 10",
        Unit::Exponent => "exponent",
        Unit::Factor => "factor",
        Unit::YesNo => "",
        Unit::TravelSquared => "travel²",
        Unit::TravelSquaredPerHertz => "travel² / Hz",
    }
}
