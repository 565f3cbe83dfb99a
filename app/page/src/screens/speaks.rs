//! Who is speaking: whether a device speaks as a game controller, a mouse or a keyboard.

use crate::parts::frame::mend_focus;
use crate::parts::listening::{Ears, Shown};
use crate::parts::live::{effect, part, text, when};
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::speaks as words;
use device::speaking::{Conclusion, EndedBy, Step, conclusion};
use fitting::visit::Heard;
use leptos::prelude::*;

/// The screen.
#[component]
pub fn Speaks() -> impl IntoView {
    let app = App::of_context();
    let shown = RwSignal::new(None::<Shown>);
    let ears = StoredValue::new_local(None::<Ears>);
    let ended = RwSignal::new(None::<EndedBy>);
    let listens = Memo::new(move |_| shown.with(Option::is_some));
    let listen = move |_| {
        ended.set(None);
        ears.set_value(Some(Ears::open(app, shown)));
    };
    effect(move || {
        let over = shown.with(|shown| match shown {
            Some(Shown { step: Step::Over(by), heard, .. }) => Some((*by, heard.clone())),
            _ => None,
        });
        if let Some((by, heard)) = over {
            ears.set_value(None);
            app.change_visit(|visit| visit.devices.heard = Some(heard));
            ended.set(Some(by));
            shown.set(None);
        }
    });
    effect(move || {
        listens.track();
        mend_focus();
    });
    on_cleanup(move || {
        let _ = ears.try_update_value(Option::take);
    });
    view! {
        <div class="two">
            <div>
                {part(move || if listens.get() { running(app, ears, shown) } else {
                    before(app, listen)
                })}
            </div>
            <div aria-live="polite">
                {part(move || if listens.get() {
                    so_far(shown)
                } else {
                    let by = ended.get();
                    app.visit.with(|visit| visit.devices.heard.as_ref().map(|one| result(one, by))).into_any()
                })}
            </div>
        </div>
    }
}

/// What the check is, and its beginning.
fn before(app: App, listen: impl Fn(web_sys::MouseEvent) + Copy + 'static) -> AnyView {
    let listened = app.visit.with_untracked(|visit| visit.devices.heard.is_some());
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        <p>{words::WHAT}</p>
        <p>{words::MEANWHILE}</p>
        <p class="notice">{words::OWN_HANDS}</p>
        <div class="controls">
            <button type="button" class="main" on:click=listen>
                {if listened { words::AGAIN } else { words::LISTEN }}
            </button>
        </div>
        <p class="soft small">{words::SYSTEM_KEYS}</p>
    }
    .into_any()
}

/// One sentence, one calm line, one control.
fn running(
    app: App,
    ears: StoredValue<Option<Ears>, LocalStorage>,
    shown: RwSignal<Option<Shown>>,
) -> AnyView {
    let step = Memo::new(move |_| shown.with(|one| one.as_ref().map(|one| one.step)));
    let now = move || step.get().unwrap_or(Step::HandsOff);
    let left = move || {
        let left = shown.with(|one| one.as_ref().map_or(0, |one| one.seconds_left));
        words::left(f64::from(left))
    };
    let go_on = move |_| {
        ears.with_value(|ears| {
            if let Some(ears) = ears {
                ears.go_on(app, shown);
            }
        });
    };
    view! {
        <h1 class="prompt" tabindex="-1" aria-live="polite">{text(move || words::step(now()).to_owned())}</h1>
        <p>{text(move || words::calm(now()).to_owned())}</p>
        <div class="controls">
            <button type="button" class="main" data-listening-control="" on:click=go_on>
                {text(move || words::control(now()).to_owned())}
            </button>
        </div>
        {when(move || now() != Step::HandsOff, move || view! {
            <p class="soft small">{text(left)}</p>
        }.into_any())}
    }
    .into_any()
}

/// What was heard so far.
fn so_far(shown: RwSignal<Option<Shown>>) -> AnyView {
    let lines = Memo::new(move |_| {
        shown.with(|one| one.as_ref().map(|one| words::evidence(&one.heard)).unwrap_or_default())
    });
    view! {
        <h2>{words::SO_FAR}</h2>
        {part(move || if lines.with(Vec::is_empty) {
            view! { <p class="soft">{words::NOTHING_YET}</p> }.into_any()
        } else {
            list(lines.get())
        })}
    }
    .into_any()
}

/// What came of it.
fn result(heard: &Heard, by: Option<EndedBy>) -> AnyView {
    let who = conclusion(heard);
    let evidence = words::evidence(heard);
    let ask: Vec<String> = words::ask(who).iter().map(|one| (*one).to_owned()).collect();
    let takes = words::takes(who).iter().map(|one| (*one).to_owned()).collect();
    let own = !matches!(who, Conclusion::Nobody | Conclusion::Pad);
    view! {
        <section class="card" aria-labelledby="who">
            <h2 id="who">{words::who(who)}</h2>
            <p>{words::means(who)}</p>
            {by.and_then(words::ended).map(|ended| view! { <p class="caution">{ended}</p> })}
            {heard.unasked.then(|| view! { <p class="caution">{words::UNASKED}</p> })}
            {own.then(|| view! { <p class="soft">{words::OWN}</p> })}
            {(!evidence.is_empty()).then(|| view! { <h3>{words::EVIDENCE}</h3> })}
            {list(evidence)}
            <h3>{words::TAKES}</h3>
            {list(takes)}
            {(!ask.is_empty()).then(|| view! { <h3>{words::ASK}</h3> })}
            {list(ask)}
            <div class="controls no-print">
                <button type="button" on:click=move |_| go(&Screen::Through)>{words::ON}</button>
            </div>
        </section>
    }
    .into_any()
}

fn list(lines: Vec<String>) -> AnyView {
    let items = lines.into_iter().map(|line| view! { <li dir="auto">{line}</li> }).collect_view();
    view! { <ul>{items}</ul> }.into_any()
}
