//! How the person is asked: chosen before a task and in a pause, remembered for the visit.

use super::live::{attribute, part, text, when, yes};
use super::tick::{choice, tick};
use super::{sound, speech};
use crate::state::App;
use crate::words::asking as words;
use fitting::Direction;
use fitting::task::{Asking, CueKind, PauseCause, Phase, TaskKind, Way};
use fitting::tones::Heard;
use fitting::visit::{Asked, Look};
use leptos::prelude::*;
use web_sys::{ScrollIntoViewOptions, ScrollLogicalPosition};

/// The choices, folded away under what is chosen; there while the task waits to begin and in a
/// pause.
#[component]
pub fn AskingChoices() -> impl IntoView {
    let app = App::of_context();
    let offered = move || {
        app.session.view.with(|view| {
            view.as_ref().is_some_and(|view| match view.paused {
                // Nothing can be begun until the stick is back.
                Some(PauseCause::DeviceGone) => false,
                Some(_) => view.phase != Phase::Done,
                None => view.phase == Phase::Ready,
            })
        })
    };
    when(offered, move || choices(app))
}

fn choices(app: App) -> AnyView {
    let task = Memo::new(move |_| {
        app.session
            .view
            .with(|view| view.as_ref().map(|view| (view.kind, view.way, view.paused.is_some())))
    });
    let way = move || task.get().map_or_else(Way::default, |(_, way, _)| way);
    let asked = move || app.visit.with(|visit| visit.asked);
    let summary = text(move || words::how(way(), asked()));
    let paused = yes(move || task.get().is_some_and(|(_, _, paused)| paused));
    let kind = Memo::new(move |_| task.get().map(|(kind, _, _)| kind));
    let has_cues = move || {
        kind.get() == Some(TaskKind::Reach) && matches!(way().asking, Asking::Told | Asking::Shown)
    };
    let to_cue = move |event| {
        let code = event_target_value(&event);
        let cue = CueKind::ALL.into_iter().find(|cue| words::cue_code(*cue) == code);
        app.ask_in(Way { cue: cue.unwrap_or_default(), ..untrack(way) });
    };
    let cues = move || {
        let options = CueKind::ALL
            .map(|cue| {
                let chosen = yes(move || way().cue == cue);
                view! { <option value=words::cue_code(cue) selected=chosen>{words::cue(cue)}</option> }
            })
            .collect_view();
        view! {
            <p>
                <label>{words::CUES} " " <select on:change=to_cue>{options}</select></label>
            </p>
            <p class="soft small">{words::CUES_TEXT}</p>
        }
        .into_any()
    };
    keep_in_sight(move || (way(), asked().look));
    view! {
        <details class="asking">
            <summary>{summary}</summary>
            {when(move || paused.get(), || view! { <p class="soft">{words::IN_A_PAUSE}</p> }.into_any())}
            <fieldset>
                <legend>{words::WAYS}</legend>
                {part(move || kind.get().map(|kind| ways(app, kind)).into_any())}
            </fieldset>
            {when(has_cues, cues)}
            <Presentation/>
        </details>
    }
    .into_any()
}

/// Another way lays the screen out anew: what was just chosen, and has the focus, stays in sight.
fn keep_in_sight(chosen: impl Fn() -> (Way, Look) + 'static) {
    Effect::new(move |before: Option<(Way, Look)>| {
        let chosen = chosen();
        if before.is_some_and(|before| before != chosen) {
            request_animation_frame(|| {
                if let Some(active) = gloo_utils::document().active_element() {
                    let nearest = ScrollIntoViewOptions::new();
                    nearest.set_block(ScrollLogicalPosition::Nearest);
                    active.scroll_into_view_with_scroll_into_view_options(&nearest);
                }
            });
        }
        chosen
    });
}

/// The four ways, and for each that does not apply the reason.
fn ways(app: App, kind: TaskKind) -> AnyView {
    let is = move |asking: Asking| {
        app.session.view.with(|view| view.as_ref().is_some_and(|view| view.way.asking == asking))
    };
    Asking::ALL
        .map(|asking| match asking.lacks(kind) {
            Some(why) => {
                view! { <p class="soft small">{words::not_in_this_way(asking, why)}</p> }.into_any()
            }
            None => {
                let text = view! {
                    {words::asking(asking)} " "
                    <span class="soft small">{words::asking_text(asking)}</span>
                };
                choice(
                    "asking",
                    text,
                    move || is(asking),
                    move || {
                        let cue = app.session.view.with_untracked(|view| {
                            view.as_ref().map_or_else(CueKind::default, |view| view.way.cue)
                        });
                        app.ask_in(Way { asking, cue });
                    },
                )
            }
        })
        .collect_view()
        .into_any()
}

/// How it looks and sounds.
#[component]
fn Presentation() -> impl IntoView {
    let app = App::of_context();
    let asked = move || app.visit.with(|visit| visit.asked);
    let change =
        move |change: &dyn Fn(&mut Asked)| app.change_visit(|visit| change(&mut visit.asked));
    let to_look = move |event| {
        let code = event_target_value(&event);
        let look =
            [Look::Paper, Look::OneObject].into_iter().find(|look| words::look_code(*look) == code);
        change(&|asked| asked.look = look.unwrap_or_default());
    };
    let looks = [Look::Paper, Look::OneObject]
        .map(|look| {
            let chosen = yes(move || asked().look == look);
            view! { <option value=words::look_code(look) selected=chosen>{words::look(look)}</option> }
        })
        .collect_view();
    let to_volume = move |event| {
        if let Ok(volume) = event_target_value(&event).parse::<u8>() {
            change(&|asked| asked.volume = volume.min(100));
        }
    };
    // A browser names its voices only a moment after it was first asked.
    let voice = RwSignal::new(speech::voice_name());
    set_timeout(move || voice.set(speech::voice_name()), std::time::Duration::from_millis(400));
    let heard = move || asked().sound || asked().speech;
    view! {
        <p>
            <label>{words::LOOKS} " " <select on:change=to_look>{looks}</select></label>
        </p>
        {tick(words::SOUND, move || asked().sound, move |sound| {
            if sound {
                sound::wake();
            }
            change(&|asked| asked.sound = sound);
        })}
        {tick(words::SPEECH, move || asked().speech, move |speech| {
            voice.set(speech::voice_name());
            if !speech {
                speech::hush();
            }
            change(&|asked| asked.speech = speech);
        })}
        <div role="status">
            {when(move || asked().speech, move || view! {
                <p class="soft small">
                    {text(move || voice.get().map_or_else(|| words::NO_VOICE.to_owned(), |name| words::voice(&name)))}
                </p>
            }.into_any())}
        </div>
        {when(heard, move || view! {
            <p class="volume">
                <label>
                    {words::VOLUME} " "
                    <input
                        type="range" min="0" max="100" step="10"
                        prop:value=attribute(move || asked().volume.to_string())
                        aria-valuetext=attribute(move || words::volume(asked().volume))
                        on:input=to_volume
                    />
                </label>
                " "
                <button type="button" on:click=move |_| {
                    sound::play(Heard::Cue(Some(Direction::Right)), asked().volume);
                }>{words::TRY_SOUND}</button>
            </p>
        }.into_any())}
    }
}
