//! Numbers in a unit other than the one they are said to be in.
//!
//! Nothing in a file can prove a wrong unit, so each check names what no device does, and where a
//! very still stick or a slow logger would look the same it only warns (see [`crate::Trouble`]).

use super::{Column, Scaled, column_name};
use crate::{Trouble, Wrong};
use fitting::task::{Asking, TaskAsk, TaskKind, TaskRecord};
use fitting::{Direction, Recording, StickKind};

/// An axis ends at 1 (W3C Gamepad, "axes"). Beyond this its values are no shares of travel; no
/// full throw is ever taken for farther either.
const NO_SHARE: f64 = 1.5;
/// Some devices go a little beyond their ends; beyond this a warning is due.
const BEYOND_ITS_END: f64 = 1.05;
/// A push of no more than this share of travel is none: no stick's rest is that still.
const NO_PUSH: f64 = 0.01;
/// An axis from 0 to 1 rests within this of a half.
const NEAR_HALF: f64 = 0.1;
/// Fewer lines than this tell nothing of a pace.
const FEWEST_LINES: usize = 20;
/// Device states come more often than this, seconds...
const SLOW_SECONDS: f64 = 0.5;
/// ... and no task lasts longer than this, seconds.
const LONG_SECONDS: f64 = 7_200.0;
/// No device reports more often than once in this long, seconds: half of what a high-speed
/// interrupt endpoint can (USB 2.0, 5.7.4: 125 µs; from memory).
const FASTEST_SECONDS: f64 = 62.5e-6;

/// What is improbable about a record, as a warning each.
///
/// # Errors
/// The first thing that cannot be.
pub(super) fn check(
    header: &(u64, Vec<Scaled>),
    record: &TaskRecord,
    asked_seconds: Option<f64>,
) -> Result<Vec<Trouble>, Trouble> {
    let mut warnings = Vec::new();
    times(header, &record.recording, asked_seconds, &mut warnings)?;
    sizes(header, record, &mut warnings)?;
    one_sided(header, record, &mut warnings)?;
    buttons(header, &record.recording)?;
    Ok(warnings)
}

fn implausible(line: u64, field: &str, found: String, todo: String) -> Trouble {
    Trouble::at(line, field, Wrong::Implausible { found, todo })
}

/// Milliseconds called seconds, and the other way round.
fn times(
    (line, columns): &(u64, Vec<Scaled>),
    recording: &Recording,
    asked_seconds: Option<f64>,
    warnings: &mut Vec<Trouble>,
) -> Result<(), Trouble> {
    let samples = &recording.samples;
    let mut apart: Vec<f64> =
        samples.windows(2).map(|pair| pair[1].arrival_seconds - pair[0].arrival_seconds).collect();
    apart.sort_by(f64::total_cmp);
    let Some(middle) = apart.get(apart.len() / 2).copied() else { return Ok(()) };
    let long = apart.iter().sum::<f64>();
    let in_ms = columns.iter().any(|(column, factor)| *column == Column::Time && *factor != 1.0);
    if in_ms && samples.len() >= FEWEST_LINES && middle < FASTEST_SECONDS {
        return Err(implausible(
            *line,
            "time_ms",
            format!("a line every {:.4} ms, which no device sends", 1000.0 * middle),
            "If these are seconds, call the column time_s".to_owned(),
        ));
    }
    if in_ms || middle < SLOW_SECONDS {
        return Ok(());
    }
    let found = format!("{long:.0} s in all, a line every {middle:.1} s");
    let todo = "If these are milliseconds, call the column time_ms".to_owned();
    // What is said to have been asked for so long may last that long.
    let as_asked = asked_seconds.is_some_and(|asked| long < 10.0 * asked);
    if long > LONG_SECONDS && !as_asked {
        return Err(implausible(*line, "time_s", found, todo));
    }
    if samples.len() >= FEWEST_LINES {
        warnings.push(implausible(*line, "time_s", found, todo));
    }
    Ok(())
}

/// An axis of the stick: its number, its values, and what it is called in the header.
fn stick_axes<'a>(
    columns: &'a [Scaled],
    record: &'a TaskRecord,
) -> impl Iterator<Item = (usize, f64, Vec<f64>)> + 'a {
    let picks = [record.axes.horizontal, record.axes.vertical];
    picks.into_iter().filter_map(move |pick| {
        let of_axis = |(column, _): &&Scaled| *column == Column::Axis(pick.index);
        let (_, factor) = columns.iter().find(of_axis)?;
        let samples = record.recording.samples.iter();
        let values: Vec<f64> =
            samples.filter_map(|one| one.axes.get(pick.index).copied()).collect();
        (!values.is_empty()).then_some((pick.index, *factor, values))
    })
}

const fn is_pushed(kind: TaskKind) -> bool {
    matches!(kind, TaskKind::Reach | TaskKind::Hold | TaskKind::Sustained | TaskKind::Return)
}

/// Percent called shares, and the other way round.
fn sizes(
    (line, columns): &(u64, Vec<Scaled>),
    record: &TaskRecord,
    warnings: &mut Vec<Trouble>,
) -> Result<(), Trouble> {
    let mut farthest_in_percent: Option<f64> = None;
    for (axis, factor, values) in stick_axes(columns, record) {
        let farthest = values.iter().fold(0.0_f64, |far, value| far.max(value.abs()));
        if factor != 1.0 {
            farthest_in_percent =
                Some(farthest_in_percent.map_or(farthest, |far| far.max(farthest)));
        } else if farthest > BEYOND_ITS_END {
            let trouble = implausible(
                *line,
                &column_name(Column::Axis(axis), factor),
                format!("goes as far as {farthest:.3}, and an axis ends at 1"),
                format!("If these are percent, call the column axis{axis}_percent"),
            );
            if farthest > NO_SHARE {
                return Err(trouble);
            }
            warnings.push(trouble);
        }
    }
    if let Some(far) = farthest_in_percent.filter(|far| *far > 0.0 && *far <= NO_PUSH) {
        let trouble = implausible(
            *line,
            "header",
            format!("no axis goes beyond {:.3} % of its travel", 100.0 * far),
            "If these are shares (1 is the end of an axis), call the columns axis0_share …"
                .to_owned(),
        );
        if is_pushed(record.ask.kind()) {
            return Err(trouble);
        }
        warnings.push(trouble);
    }
    Ok(())
}

/// Axes from 0 to 1 with their rest at a half, where −1 to 1 with the rest at 0 is meant.
fn one_sided(
    (line, columns): &(u64, Vec<Scaled>),
    record: &TaskRecord,
    warnings: &mut Vec<Trouble>,
) -> Result<(), Trouble> {
    // A stick that stays where it is left, or has one way only, may well do that.
    let kind = StickKind { mover: record.known.kind.mover, ..StickKind::default() };
    if record.known.kind.lacks_centring().is_some() || record.known.kind.moves != kind.moves {
        return Ok(());
    }
    let task = record.ask.kind();
    if task == TaskKind::Presses || (is_pushed(task) && !asks_both_ways(record)) {
        return Ok(());
    }
    let all: Vec<(usize, f64, Vec<f64>)> = stick_axes(columns, record).collect();
    let looks = |values: &[f64]| {
        let mut sorted = values.to_vec();
        sorted.sort_by(f64::total_cmp);
        sorted[0] >= 0.0 && (sorted[sorted.len() / 2] - 0.5).abs() <= NEAR_HALF
    };
    let such: Vec<String> = all
        .iter()
        .filter(|(_, _, values)| looks(values))
        .map(|(axis, factor, _)| column_name(Column::Axis(*axis), *factor))
        .collect();
    if such.is_empty() {
        return Ok(());
    }
    let trouble = implausible(
        *line,
        &such.join(", "),
        "never below 0 and mostly near a half, as an axis from 0 to 1 is".to_owned(),
        "An axis goes from -1 to 1 with its middle at 0: write 2 * value - 1".to_owned(),
    );
    if such.len() == all.len() {
        return Err(trouble);
    }
    warnings.push(trouble);
    Ok(())
}

/// Whether pushes to both sides were asked, along either axis.
fn asks_both_ways(record: &TaskRecord) -> bool {
    let directions = match &record.ask {
        TaskAsk::Reach { directions, .. }
        | TaskAsk::Hold { directions, .. }
        | TaskAsk::Sustained { directions, .. }
        | TaskAsk::Return { directions, .. } => directions.as_slice(),
        _ => &[],
    };
    let asked =
        |one: Direction, other: Direction| directions.contains(&one) && directions.contains(&other);
    record.asking == Asking::FreeMovement
        || asked(Direction::Right, Direction::Left)
        || asked(Direction::Up, Direction::Down)
}

/// Buttons that were pressed, and by name of their unit only to a hundredth.
fn buttons((line, columns): &(u64, Vec<Scaled>), recording: &Recording) -> Result<(), Trouble> {
    for (column, factor) in columns {
        let Column::Button(index) = column else { continue };
        let values = recording.samples.iter().filter_map(|sample| sample.buttons.get(*index));
        let most = values.copied().fold(0.0, f64::max);
        if *factor != 1.0 && most > 0.0 && most <= *factor {
            return Err(implausible(
                *line,
                &column_name(*column, *factor),
                format!("never beyond {:.2} %", 100.0 * most),
                format!("If 1 is a button pressed down, call the column button{index}_share"),
            ));
        }
    }
    Ok(())
}
