//! What was measured beyond reach and quiet rest, as rows of a sheet: in the same words as on the
//! settings screen.

use crate::words::{found as words, more_settings as more, number};
use fitting::Settings;
use fitting::measure::RhythmicMovement;
use fitting::summary::{
    Answer, BusyRestFigures, ButtonFigures, Grid, ReturnFigures, RhythmFigures, SummaryBody,
};

/// Rows of what was measured: name and text. What was never asked for is left out.
pub fn found(body: &SummaryBody) -> Vec<(String, String)> {
    let mut rows: Vec<(String, String)> = body.busy_rest.iter().map(busy).collect();
    if let Answer::Known(map) = &body.map {
        let axes = words::swapped(map.swapped, map.right_inverted, map.up_inverted);
        rows.push((words::SWAPPED.to_owned(), axes));
        let (pushes, directions) = (map.pushes as usize, map.directions as usize);
        let turn = words::turn(&map.turn.measured(), pushes, directions, map.repeat_agrees);
        rows.push((words::TURN.to_owned(), turn));
    }
    if let Answer::Known(rhythm) = &body.rhythm {
        rows.push((words::RHYTHM.to_owned(), words::rhythm(&Ok(rhythmic(rhythm)))));
    }
    rows.extend(body.sustained.iter().map(|hold| {
        let (kept, drift) = (hold.kept.measured(), hold.drift_per_minute.measured());
        let text = words::sustained(&kept, hold.seconds.get(), hold.effort, &drift);
        (words::sustained_name(hold.asked), text)
    }));
    let returned = |back: &ReturnFigures| {
        words::returned(back.asked, &back.time.measured(), &back.rests_short.measured())
    };
    let returns: Vec<String> = body.returns.iter().map(returned).collect();
    if !returns.is_empty() {
        rows.push((words::RETURNS.to_owned(), returns.join("; ")));
    }
    rows.extend(body.buttons.iter().map(button));
    rows
}

/// Rows of the settings that were chosen beyond dead zone, full throw and sensitivity; those that
/// leave the stick as it is are left out.
/// `dead_zone_without` is the dead zone that is needed without the smoothing; `counts_on_centre` when it
/// holds only with the resting place set.
pub fn chosen(
    settings: &Settings,
    dead_zone_without: Option<f64>,
    counts_on_centre: bool,
) -> Vec<(String, String)> {
    let plain = Settings::default();
    let mut rows = Vec::new();
    if counts_on_centre {
        let text = crate::words::host::centre(settings.centre);
        rows.push((crate::words::host::HOST_CENTRE.to_owned(), text));
    }
    if settings.direction != plain.direction {
        rows.push((more::DIRECTION.to_owned(), more::direction_figure(&settings.direction)));
    }
    if settings.smoothing != plain.smoothing {
        let mut text = more::smoothing_figure(settings.smoothing);
        if let Some(without) = dead_zone_without {
            text.push_str(". ");
            text.push_str(&crate::words::settings::without_smoothing(without));
        }
        rows.push((more::SMOOTHING.to_owned(), text));
    }
    if settings.buttons != plain.buttons {
        rows.push((more::BUTTONS.to_owned(), more::timing_figure(&settings.buttons)));
    }
    if settings.switches != plain.switches {
        rows.push((more::SWITCHES.to_owned(), more::switches_figure(settings.switches)));
    }
    rows
}

fn busy(busy: &BusyRestFigures) -> (String, String) {
    let name = words::busy_name(busy.meanwhile);
    let text = match &busy.rest {
        Answer::NotEnough(why) => crate::words::settings::not_enough(why.reason()),
        Answer::Known(rest) => {
            let rate = rest.at_chosen.as_ref().map_or_else(String::new, |rate| {
                words::busy_rate(rate.per_minute.get(), rate.low.get(), rate.high.get())
            });
            format!(
                "{}{rate}; {}",
                words::inside(&rest.wander.measured()),
                number::duration(rest.seconds.get())
            )
        }
    };
    (name, text)
}

fn rhythmic(rhythm: &RhythmFigures) -> RhythmicMovement {
    RhythmicMovement {
        found: rhythm.found,
        hertz: rhythm.frequency.measured(),
        resolution_hertz: rhythm.resolution.get(),
        amplitude: rhythm.amplitude.measured(),
        along_degrees: rhythm.along.get(),
        seconds: rhythm.seconds.get(),
    }
}

fn button(button: &ButtonFigures) -> (String, String) {
    let name = more::button(button.button as usize);
    let text = format!(
        "{}; {}",
        words::length(&button.length.measured()),
        more::three_times(
            &button.shortest_press.measured(),
            &button.bounce.measured(),
            &button.repeat_delay.measured(),
        )
    );
    (name, text)
}
