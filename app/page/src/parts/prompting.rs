//! What is asked at this moment: in one very large sentence, in tones, by a voice; in the way of
//! asking that was chosen.

use super::live::{effect, text, when};
use super::{sound, speech};
use crate::input::Source;
use crate::state::App;
use crate::words::{asking as asking_words, measure as words, people};
use fitting::task::{Asking, CueKind, Phase, TaskView};
use fitting::tones::heard;
use fitting::visit::Look;
use leptos::prelude::*;

/// The class of a running task: what is seen of its words, and how it looks.
pub fn class_of(app: App) -> Signal<String> {
    let shown = Memo::new(move |_| {
        app.session.view.with(|view| {
            view.as_ref().is_some_and(|view| {
                view.way.asking == Asking::Shown
                    && view.paused.is_none()
                    && view.phase != Phase::Done
                    && !is_read_aloud(view)
            })
        })
    });
    Signal::derive(move || {
        let mut class = "two measuring".to_owned();
        if shown.get() {
            class.push_str(" shown");
        }
        if app.visit.with(|visit| visit.asked.look == Look::OneObject) {
            class.push_str(" one-object");
        }
        class
    })
}

/// The sentence of a view as it is said and read aloud.
fn sentence_of(view: &TaskView) -> String {
    let sentence = words::prompt(view.prompt, view.phase, view.paused.is_some());
    let moves = matches!(view.phase, Phase::Ready | Phase::Doing) && view.paused.is_none();
    if moves && view.way.asking == Asking::MovedByHelper {
        return asking_words::helper_moves(&sentence);
    }
    sentence
}

/// Whether a helper has to read the sentence aloud: the voice is the cue, and there is none.
fn is_read_aloud(view: &TaskView) -> bool {
    view.way.cue == CueKind::Spoken && speech::voice_name().is_none()
}

/// What is read where the words must not name the way: the cue is the sign in the middle, or the
/// voice.
fn instead_of(view: &TaskView) -> Option<String> {
    let names_way = matches!(view.phase, Phase::Ready | Phase::Doing) && view.paused.is_none();
    match view.way.cue {
        CueKind::Central if names_way => Some(asking_words::LOOK_IN_THE_MIDDLE.to_owned()),
        CueKind::Spoken if names_way && is_read_aloud(view) => {
            Some(asking_words::say_aloud(&sentence_of(view)))
        }
        CueKind::Spoken if names_way => Some(asking_words::LISTEN.to_owned()),
        _ => None,
    }
}

/// The sentence, the line above it and the calm one below.
#[component]
pub fn Prompting() -> impl IntoView {
    let app = App::of_context();
    sounds(app);
    let part = move |pick: fn(&TaskView) -> String| {
        Memo::new(move |_| {
            app.session.view.with(|view| view.as_ref().map(pick)).unwrap_or_default()
        })
    };
    let step =
        part(|view| words::step(view.kind, view.phase, view.step, view.of, view.left_seconds));
    let sentence = part(sentence_of);
    let instead = part(|view| instead_of(view).unwrap_or_default());
    let calm = part(|view| words::calm(view.prompt, view.phase, view.paused.is_some()).to_owned());
    let plays = move || match app.input.status().with(|status| status.chosen) {
        Some(Source::Invented(person)) => words::invented(people::person(person).0),
        _ => String::new(),
    };
    let is_cued = Memo::new(move |_| !instead.with(String::is_empty));
    view! {
        <div class="words">
            <p class="step">{step}</p>
            <h1 class="prompt" class:unseen=is_cued tabindex="-1" aria-live="polite">{sentence}</h1>
            {when(move || is_cued.get(), move || view! {
                <p class="prompt" aria-hidden="true">{instead}</p>
            }.into_any())}
            <p class="soft">{calm} " " {text(plays)}</p>
        </div>
    }
}

/// Lets the changes of a task be heard, as far as that was chosen.
fn sounds(app: App) {
    let before = StoredValue::new_local(None::<TaskView>);
    let said = StoredValue::new(String::new());
    effect(move || {
        let Some(now) = app.session.view.get() else { return };
        let asked = app.visit.with_untracked(|visit| visit.asked);
        let was = before.try_update_value(|before| before.replace(now.clone())).flatten();
        if asked.sound
            && let Some(heard) = heard(was.as_ref(), &now)
        {
            sound::play_soon(heard, asked.volume);
        }
        let speaks = asked.speech || now.way.cue == CueKind::Spoken;
        let sentence = sentence_of(&now);
        if speaks && now.phase != Phase::Ready && said.with_value(|said| *said != sentence) {
            said.set_value(sentence.clone());
            // Said a moment later, so that it is not in the way of what is drawn now.
            set_timeout(move || speech::say(&sentence, asked.volume), std::time::Duration::ZERO);
        }
    });
    on_cleanup(speech::hush);
}

/// The keys and what they do.
#[component]
pub fn Keys() -> impl IntoView {
    let keys = asking_words::KEY_LIST
        .map(|(key, does)| view! { <div><dt><kbd>{key}</kbd></dt><dd>{does}</dd></div> })
        .collect_view();
    view! { <dl class="keys small" aria-label=asking_words::KEYS>{keys}</dl> }
}
