//! Feel the difference: the stick as it is, and what the settings make of it.

use crate::parts::bars::{Bar, Bars};
use crate::parts::field::{Field, Live, described};
use crate::parts::layers::Layers;
use crate::parts::live::{effect, part, text, when};
use crate::parts::own_game::OwnGameSection;
use crate::parts::practice_field::PracticeField;
use crate::route::Screen;
use crate::state::App;
use crate::words::{hand_over as words, number};
use fitting::pipeline::PipelineRun;
use fitting::{Pipeline, Position};
use leptos::prelude::*;

/// How often the figures are drawn, seconds.
const FIGURES_SECONDS: f64 = 0.12;

/// What the settings make of the stick, over time: computed once a frame, and begun anew when the
/// settings change.
fn follow_output(app: App) -> StoredValue<Position> {
    let run = StoredValue::new_local(None::<PipelineRun<'static>>);
    effect(move || run.set_value(Some(Pipeline::new(&app.settings()).into_run())));
    let output = StoredValue::new(Position::ORIGIN);
    app.input.each_frame(move |frame| {
        let Some(sample) = frame.sample else { return };
        let at = app.axes.get_untracked().position(sample);
        run.update_value(|run| {
            if let Some(run) = run {
                output.set_value(run.advance(frame.now_seconds, at));
            }
        });
    });
    output
}

/// The fifth screen.
#[component]
pub fn TryIt() -> impl IntoView {
    let app = App::of_context();
    let chosen = Memo::new(move |_| app.input.status().with(|status| status.chosen.is_some()));
    let measured = move || app.analysis.with(Option::is_some);
    view! {
        <h1 tabindex="-1">{words::TRY_TITLE}</h1>
        <p>{words::TRY_TEXT}</p>
        {part(move || if chosen.get() {
            view! { <Compared/> }.into_any()
        } else {
            lacks(words::TRY_NO_STICK, words::TRY_TO_STICK, &Screen::Stick)
        })}
        {when(move || !measured(), || {
            lacks(words::TRY_NOT_MEASURED, words::TRY_TO_MEASURE, &Screen::Measure)
        })}
        <p class="caution">{words::TRY_CLAIM}</p>
        <OwnGameSection/>
    }
}

/// What is lacking, and the way to it.
fn lacks(what: &'static str, way: &'static str, screen: &Screen) -> AnyView {
    view! { <p class="notice">{what}" "<a href=screen.hash()>{way}</a></p> }.into_any()
}

/// The stick as it is beside what the settings make of it.
#[component]
fn Compared() -> impl IntoView {
    let app = App::of_context();
    let before = Signal::derive_local(move || {
        Layers::empty().with_settings(&app.settings(), &app.decided())
    });
    let after = Signal::derive_local(Layers::empty);
    let output_at = follow_output(app);
    let output = RwSignal::new(0.0_f64);
    let drawn = StoredValue::new(0.0);
    app.input.each_frame(move |frame| {
        if frame.now_seconds - drawn.get_value() < FIGURES_SECONDS {
            return;
        }
        drawn.set_value(frame.now_seconds);
        let now = output_at.get_value().radius().min(1.0);
        if (now - output.get_untracked()).abs() > 0.004 {
            output.set(now);
        }
    });
    let bars = Signal::derive(move || {
        let output = output.get();
        vec![Bar {
            name: words::TRY_OUTPUT.to_owned(),
            class: "bar-after",
            share: output,
            figure: number::percent(output),
        }]
    });
    let word = move || match output.get() {
        output if output <= 0.0 => words::TRY_HELD,
        output if output >= 0.995 => words::TRY_FULL,
        _ => "\u{a0}",
    };
    view! {
        <div class="two">
            <section aria-labelledby="as-it-is">
                <h2 id="as-it-is">{words::TRY_BEFORE}</h2>
                <PracticeField layers=before/>
            </section>
            <section aria-labelledby="with-these">
                <h2 id="with-these">{words::TRY_AFTER}</h2>
                <div class="field">
                    <Field layers=after live=Live::Output(output_at) description=Signal::derive(move || after.with(described))/>
                </div>
                <Bars bars/>
                <p class="soft">{text(move || word().to_owned())}</p>
            </section>
        </div>
    }
}
