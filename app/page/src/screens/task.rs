//! The running task: one very large sentence, one calm line, progress, four controls.

use super::measure::{following, next_task};
use crate::hid;
use crate::input::Source;
use crate::parts::asking::AskingChoices;
use crate::parts::dialog::Dialog;
use crate::parts::frame::{a_window_is_open, mend_focus};
use crate::parts::layers::Layers;
use crate::parts::live::{effect, part, when};
use crate::parts::practice_field::PracticeField;
use crate::parts::prompting::{Keys, Prompting, class_of};
use crate::parts::push_list::push_lines;
use crate::parts::sign::Sign;
use crate::state::{App, is_rest};
use crate::words::{measure as words, number, plan as plan_words};
use fitting::Position;
use fitting::measure::list_pushes;
use fitting::plot::{svg_path, thinned};
use fitting::task::{Command, MarkReason, Phase, Prompt, StopButton, TaskKind, TaskView};
use leptos::prelude::*;
use web_sys::KeyboardEvent;

/// The task that runs now.
#[component]
pub fn Task() -> impl IntoView {
    let app = App::of_context();
    let marking = RwSignal::new(false);
    let mark_key = RwSignal::new(true);
    app.input.each_frame(move |frame| app.on_task_frame(frame.now_seconds));
    listen_for_mark_key(app, marking, mark_key);

    let ink = follow_ink(app);
    let background = Layers::of_app(app);
    let layers = Signal::derive_local(move || {
        let mut layers = background.get();
        layers.traces.push_str(&ink.get());
        app.session.view.with(|view| match view {
            Some(view) => {
                layers.with_ring(view.target, view.hold_progress).with_sign(Sign::of(view))
            }
            None => layers,
        })
    });
    let part = move |pick: fn(&TaskView) -> String| {
        Memo::new(move |_| {
            app.session.view.with(|view| view.as_ref().map(pick)).unwrap_or_default()
        })
    };
    let helper = part(|view| words::helper(view.kind).to_owned());
    let progress = part(|view| format!("{:.3}", view.progress));
    view! {
        <div class=class_of(app)>
            <div>
                <Prompting/>
                <progress class="progress" max="1" value=progress aria-label=words::PROGRESS></progress>
                <Controls marking/>
                <Asides/>
                <Pushes/>
                <AskingChoices/>
                <TaskFigures/>
                <p class="caution"><strong>{words::HELPER}</strong> " " {helper}</p>
                <OtherDeviceStops/>
                <label class="tick small">
                    <input
                        type="checkbox"
                        prop:checked=mark_key
                        on:change=move |event| mark_key.set(event_target_checked(&event))
                    />
                    <span>{words::MARK_KEY}</span>
                </label>
                <Keys/>
            </div>
            <div class="field-first">
                <PracticeField layers/>
            </div>
        </div>
        <MarkWindow open=marking/>
    }
}

/// With another device connected: its buttons may mean stop, for a helper or a switch.
#[component]
fn OtherDeviceStops() -> impl IntoView {
    let app = App::of_context();
    let status = app.input.status();
    let others = Memo::new(move |_| {
        status.with(|status| {
            // With raw reports the same stick stands in the browser's list, too: it is no other one.
            let raw = status.chosen == Some(Source::Fed);
            let others = status.devices.iter().filter(|seen| !(raw && hid::is_open(seen)));
            let keys = others.map(|device| device.key);
            keys.filter(|key| status.chosen != Some(Source::Pad(*key))).collect::<Vec<_>>()
        })
    });
    let watched = StoredValue::new(Vec::new());
    effect(move || {
        let keys = others.get().into_iter().map(|key| (key, StopButton::pressed()));
        watched.set_value(keys.collect());
    });
    app.input.each_frame(move |frame| {
        if !app.other_device_stops.get_untracked() || app.resting.get_untracked() {
            return;
        }
        let stops = watched.try_update_value(|watched| {
            watched.iter_mut().any(|(key, stop)| {
                let state = app.input.latest_of(*key);
                state.is_some_and(|state| stop.stops(frame.now_seconds, &state))
            })
        });
        if stops == Some(true) {
            app.rest();
        }
    });
    view! {
        {when(move || !others.with(Vec::is_empty), move || view! {
            <label class="tick small">
                <input
                    type="checkbox"
                    prop:checked=app.other_device_stops
                    on:change=move |event| app.other_device_stops.set(event_target_checked(&event))
                />
                <span>{words::OTHER_DEVICE_STOPS}</span>
            </label>
        }.into_any())}
    }
}

/// Real traces of the pushes so far, added to while the task runs.
fn follow_ink(app: App) -> RwSignal<String, LocalStorage> {
    let ink = RwSignal::new_local(String::new());
    let running = StoredValue::new_local(Vec::<Position>::new());
    app.input.each_frame(move |frame| {
        let doing = app.session.view.with_untracked(|view| {
            view.as_ref().is_some_and(|view| {
                let inked = matches!(view.kind, TaskKind::Reach | TaskKind::FreeMovement);
                view.phase == Phase::Doing && inked && view.paused.is_none()
            })
        });
        if doing {
            if let Some(sample) = frame.sample {
                let at = app.axes.get_untracked().position(sample).within_field();
                running.update_value(|running| running.push(at));
            }
        } else if let Some(push) =
            running.try_update_value(std::mem::take).filter(|push| push.len() > 1)
        {
            let path =
                svg_path(&thinned(push.into_iter(), 0.01), crate::parts::field::SCALE, false);
            ink.update(|ink| ink.push_str(&path));
        }
    });
    ink
}

/// The four controls, by phase; Rest is the fifth, always top right.
#[component]
fn Controls(marking: RwSignal<bool>) -> impl IntoView {
    let app = App::of_context();
    let shape = Memo::new(move |_| {
        app.session.view.with(|view| {
            view.as_ref().map(|view| {
                let how_hard = view.prompt == Prompt::HowHard;
                (view.phase, view.kind, view.mark.is_some(), view.paused.is_some(), how_hard)
            })
        })
    });
    let button = move |text: &'static str, command: Command, main: bool| {
        view! {
            <button type="button" class:main=main on:click=move |_| app.command(command)>{text}</button>
        }
    };
    effect(move || {
        shape.track();
        mend_focus();
    });
    view! {
        <div class="controls">
            {part(move || {
                let Some((phase, kind, marked, paused, how_hard)) = shape.get() else { return ().into_any() };
                let mark = move || {
                    if marked {
                        button(words::UNMARK, Command::Unmark, false).into_any()
                    } else {
                        view! {
                            <button type="button" on:click=move |_| marking.set(true)>{words::MARK}</button>
                        }.into_any()
                    }
                };
                if paused {
                    return view! {
                        {button(crate::words::frame::GO_ON, Command::GoOn, true)}
                        {button(crate::words::frame::END_TASK, Command::Stop, false)}
                    }.into_any();
                }
                if how_hard {
                    return efforts(app).into_any();
                }
                match phase {
                    Phase::Ready => view! {
                        {button(words::BEGIN, Command::Begin, true)}
                        <button type="button" on:click=move |_| app.drop_task()>{words::SKIP_TASK}</button>
                    }.into_any(),
                    Phase::Done => view! {
                        <button type="button" class="main" on:click=move |_| go_to_next(app)>
                            {next_words(app)}
                        </button>
                        {is_rest(kind).then(|| button(words::MORE, Command::More, false))}
                        {mark()}
                    }.into_any(),
                    Phase::Doing | Phase::Between if is_rest(kind) => view! {
                        {button(crate::words::frame::END_TASK, Command::Stop, false)}
                        {mark()}
                    }.into_any(),
                    Phase::Doing | Phase::Between => {
                        view! {
                            {button(words::next(kind), Command::Next, true)}
                            {button(words::AGAIN, Command::Again, false)}
                            {button(words::SKIP, Command::Skip, false)}
                            {mark()}
                        }.into_any()
                    }
                }
            })}
        </div>
    }
}

/// How hard was it? Eleven buttons, in words at both ends, and one for no answer.
fn efforts(app: App) -> impl IntoView {
    let buttons = (0..=10_u8)
        .map(|effort| {
            view! {
                <button
                    type="button" aria-label=words::effort_aloud(effort)
                    on:click=move |_| app.command(Command::Effort(effort))
                >
                    {effort.to_string()}
                </button>
            }
        })
        .collect_view();
    view! {
        <div class="controls efforts" role="group" aria-label=words::EFFORT>{buttons}</div>
        <button type="button" on:click=move |_| app.command(Command::Skip)>{words::NO_EFFORT}</button>
    }
}

/// What comes after the running task: the next one, a pause, or nothing. A body part that is
/// looked at is no task of the plan.
fn next_words(app: App) -> String {
    let looks = app.looking_at.get_value().is_some();
    match untrack(|| if looks { None } else { following(app) }) {
        Some(next) if next.after_pause => plan_words::NEXT_PAUSE.to_owned(),
        next => words::next_task(next.map(|next| next.ask.kind())),
    }
}

/// Keeps the running task and goes on to the next one, which waits for somebody to begin; before
/// a pause, to the plan.
fn go_to_next(app: App) {
    let looks = app.looking_at.get_value().is_some();
    app.command(Command::Stop);
    if looks {
        return;
    }
    if let Some(next) = next_task(app).filter(|next| !next.after_pause) {
        app.start_task(next.ask);
    }
}

/// What is said beside the task: paused, a push to ask about, rest offered, nothing moves.
#[component]
fn Asides() -> impl IntoView {
    let app = App::of_context();
    let aside = Memo::new(move |_| {
        app.session.view.with(|view| {
            view.as_ref().map(|view| {
                let pain = view.mark == Some(MarkReason::Pain);
                (view.paused, view.query, pain, view.offer_rest, view.silent)
            })
        })
    });
    view! {
        <div role="status">
            {part(move || {
                let Some((paused, query, pain, offer_rest, silent)) = aside.get() else {
                    return ().into_any();
                };
                if let Some(cause) = paused {
                    return view! { <p class="notice">{words::paused(cause)}</p> }.into_any();
                }
                if let Some(query) = query {
                    return view! {
                        <div class="notice">
                            <p>{words::query(query)}</p>
                            <div class="controls">
                                <button type="button" on:click=move |_| app.command(Command::KeepQueried)>
                                    {words::QUERY_KEEP}
                                </button>
                                <button type="button" on:click=move |_| app.command(Command::Again)>
                                    {words::QUERY_AGAIN}
                                </button>
                            </div>
                        </div>
                    }.into_any();
                }
                let text = if pain {
                    words::PAIN
                } else if offer_rest {
                    words::OFFER_REST
                } else if silent {
                    words::SILENT
                } else {
                    return ().into_any();
                };
                view! { <p class="notice">{text}</p> }.into_any()
            })}
        </div>
    }
}

/// The pushes of a reach task that is done, one by one.
#[component]
fn Pushes() -> impl IntoView {
    let app = App::of_context();
    // Looked at again when a question was answered.
    let done = Memo::new(move |_| {
        app.session.view.with(|view| {
            let view = view.as_ref()?;
            let is_done = view.phase == Phase::Done && view.kind == TaskKind::Reach;
            is_done.then_some((view.query, view.mark, view.of))
        })
    });
    part(move || {
        let record = done.get().and_then(|_| app.session.record_so_far());
        record.map(|record| push_lines(&list_pushes(&[record]))).into_any()
    })
}

/// This push, its direction, muscle work, what is left out.
#[component]
fn TaskFigures() -> impl IntoView {
    let app = App::of_context();
    let figures = Memo::new(move |_| {
        app.session.view.with(|view| {
            view.as_ref().map(|view| {
                let pushes = matches!(
                    view.kind,
                    TaskKind::Reach | TaskKind::Hold | TaskKind::Sustained | TaskKind::Return
                );
                let push = view.push.filter(|_| pushes);
                let nothing = || words::NOTHING.to_owned();
                let reach = push.map_or_else(nothing, |push| number::percent(push.reach));
                let direction = push
                    .and_then(|push| push.degrees_off)
                    .map_or_else(nothing, number::degrees_off);
                (
                    pushes,
                    reach,
                    direction,
                    number::duration(view.muscle_seconds),
                    words::marked(view.marked),
                    number::percent(view.progress),
                )
            })
        })
    });
    let figure =
        |name: &'static str, text: String| view! { <div><dt>{name}</dt><dd>{text}</dd></div> };
    view! {
        <dl class="figures">
            {part(move || figures.get().map(|(moves, reach, direction, muscle, marked, done)| view! {
                {if moves {
                    view! {
                        {figure(words::THIS_PUSH, reach)}
                        {figure(words::THIS_DIRECTION, direction)}
                        {figure(words::MUSCLE, muscle)}
                    }.into_any()
                } else {
                    figure(words::RECORDED, done).into_any()
                }}
                {figure(words::LEFT_OUT, marked)}
            }).into_any())}
        </dl>
    }
}

/// Why a repetition does not count: one press.
#[component]
fn MarkWindow(open: RwSignal<bool>) -> impl IntoView {
    let app = App::of_context();
    let reasons = MarkReason::ALL
        .into_iter()
        .map(|reason| {
            view! {
                <button type="button" on:click=move |_| {
                    app.command(Command::Mark(reason));
                    open.set(false);
                }>{words::mark(reason)}</button>
            }
        })
        .collect_view();
    view! {
        <Dialog open title=words::MARK_TITLE>
            <p>{words::MARK_HELP}</p>
            <div class="controls">{reasons}</div>
            <div class="controls">
                <button type="button" on:click=move |_| open.set(false)>{crate::words::frame::CANCEL}</button>
            </div>
        </Dialog>
    }
}

/// The M key opens the marking window; it can be switched off, and never acts while typing.
fn listen_for_mark_key(app: App, marking: RwSignal<bool>, mark_key: RwSignal<bool>) {
    let listener = window_event_listener(leptos::ev::keydown, move |event: KeyboardEvent| {
        let plain = !event.ctrl_key() && !event.alt_key() && !event.meta_key() && !event.repeat();
        if plain
            && mark_key.get_untracked()
            && event.key().eq_ignore_ascii_case("m")
            && app.session.runs()
            && !a_window_is_open()
        {
            event.prevent_default();
            marking.set(true);
        }
    });
    on_cleanup(move || listener.remove());
}
