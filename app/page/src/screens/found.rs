//! Everything that was measured, in tables: the person's movement, the buttons, the device.

use crate::parts::live::part;
use crate::screens::advice;
use crate::state::{Analysis, App};
use crate::words::{
    asking as asking_words, device as device_words, found as words, settings as setting_words,
};
use fitting::NotEnough;
use fitting::measure::Measures;
use leptos::prelude::*;

/// The tables, folded away under the settings they explain.
#[component]
pub fn Found() -> impl IntoView {
    let app = App::of_context();
    let of = move |view: fn(&Analysis) -> AnyView| {
        part(move || {
            app.analysis.with(|analysis| analysis.as_ref().map(|one| view(one)).into_any())
        })
    };
    view! {
        <details class="no-print">
            <summary>{words::PERSON}</summary>
            {of(|analysis| advice::two_columns(movement(&analysis.measures)).into_any())}
        </details>
        {of(|analysis| {
            let rows = buttons(&analysis.measures);
            (!rows.is_empty()).then(|| view! {
                <details class="no-print">
                    <summary>{words::BUTTONS}</summary>
                    {advice::two_columns(rows)}
                </details>
            }).into_any()
        })}
        <details class="no-print">
            <summary>{device_words::DEVICE_TITLE}</summary>
            {of(|analysis| advice::device_table(&analysis.measures).into_any())}
        </details>
    }
}

/// What the person's movement came to. What was never asked for is left out: the plan says what
/// could still be done.
pub fn movement(measures: &Measures) -> Vec<(String, String)> {
    let mut rows = Vec::new();
    let asked = |why: &NotEnough| *why != NotEnough::NothingRecorded;
    for busy in &measures.busy_rest {
        rows.push((words::busy_name(busy.meanwhile), words::busy(busy)));
    }
    if measures.free.as_ref().err().is_none_or(asked) {
        rows.push((words::FREE.to_owned(), words::free(&measures.free)));
    }
    for cued in &measures.cued {
        let reach = cued.reach.iter().map(|one| words::cued(one.asked, &one.reach));
        rows.push((asking_words::cued(cued.cue), reach.collect::<Vec<_>>().join("; ")));
    }
    let free: Vec<String> = measures
        .reach
        .iter()
        .filter(|one| one.free)
        .map(|one| words::cued(one.asked, &one.reach))
        .collect();
    if !free.is_empty() {
        rows.push((words::FREE_REACH.to_owned(), free.join("; ")));
    }
    match &measures.map {
        Err(why) if asked(why) => {
            rows.push((words::TURN.to_owned(), setting_words::not_enough(*why)));
        }
        _ => {}
    }
    if let Ok(map) = &measures.map {
        let turn = words::turn(&map.turn, map.pushes, map.directions, map.repeat_agrees);
        rows.push((words::TURN.to_owned(), turn));
        let axes = words::swapped(map.swapped, map.right_inverted, map.up_inverted);
        rows.push((words::SWAPPED.to_owned(), axes));
        rows.push((words::STRETCH.to_owned(), words::fine(&map.stretch)));
        rows.push((words::CROSS_TALK.to_owned(), words::fine(&map.cross_talk)));
    }
    for level in &measures.hold {
        let name =
            format!("{}, {}", device_words::STEADINESS, crate::words::number::percent(level.level));
        rows.push((name, words::fine(&level.deviation)));
        if level.wander.is_ok() {
            rows.push((words::wander_at(level.level), words::fine(&level.wander)));
        }
    }
    if measures.rhythm.as_ref().err().is_none_or(asked) {
        rows.push((words::RHYTHM.to_owned(), words::rhythm(&measures.rhythm)));
    }
    for hold in &measures.sustained {
        let text = words::sustained(&hold.kept, hold.seconds, hold.effort, &hold.drift_per_minute);
        rows.push((words::sustained_name(hold.asked), text));
    }
    for back in &measures.returns {
        rows.push((words::return_name(back), words::came_back(back)));
    }
    rows
}

/// What the presses came to.
fn buttons(measures: &Measures) -> Vec<(String, String)> {
    measures.presses.iter().flat_map(words::presses).collect()
}
