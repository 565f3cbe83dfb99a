//! The fields in which a paper is changed: one for each part, and the diary of a loan.

use super::answer::typed_line;
use super::live::{attribute, part, text, when, yes};
use super::paper::Making;
use crate::state::App;
use crate::words::papers as words;
use fitting::papers::mark;
use fitting::visit::{LoanDay, MOST_LOAN_DAYS, Paper, PaperPart, Papers};
use leptos::html;
use leptos::prelude::*;
use std::sync::Arc;

/// All fields of a paper.
#[component]
#[expect(clippy::needless_pass_by_value, reason = "a component owns what it is given")]
pub fn PaperFields(
    /// What the paper is made from.
    making: Arc<Making>,
) -> impl IntoView {
    let app = App::of_context();
    let paper = making.paper;
    // What is typed is in the visit at once, and kept when a field is left, or the screen.
    on_cleanup(move || app.keep_fitting());
    let fields = paper.parts().map(|part| field(app, &making, part)).collect_view();
    view! {
        <section class="no-print" aria-labelledby="paper-fields">
            <h2 id="paper-fields">{words::FIELDS}</h2>
            <p class="soft">{words::EDIT_TEXT}</p>
            {fields}
            {(paper == Paper::Loan).then(|| diary(app))}
        </section>
    }
}

fn field(app: App, making: &Arc<Making>, of: PaperPart) -> AnyView {
    let making = Arc::clone(making);
    let room = of.room();
    let id = format!("paper-{of:?}");
    // What the field shows. Typing leaves it alone: a text that is made plain at every stroke
    // would lose the space at its end.
    let shown = RwSignal::new(making.text_untracked(app, of));
    let node = NodeRef::<html::Textarea>::new();
    let is_edited = move || app.visit.with(|visit| visit.papers.edit(of).is_some());
    let suggestion = making.suggested(of);
    let is_cut = suggestion.is_cut();
    let whole = suggestion.whole.clone();
    let write = move |event| {
        let typed = event_target_value(&event);
        app.visit.update(|visit| visit.papers.write(of, &typed, &whole));
    };
    // A field that still has the focus is left by the browser when its screen goes away: nothing of
    // the screen may be asked for then without looking whether it is there.
    let leave = {
        let making = Arc::clone(&making);
        move |_| {
            app.keep_fitting();
            let text = making.text_untracked(app, of);
            // The same text as before changes no signal, but what was typed may be longer.
            if let Some(Some(node)) = node.try_get_untracked() {
                node.set_value(&text);
            }
            let _ = shown.try_set(text);
        }
    };
    let fits = suggestion.fitting.clone();
    let take_back = move |_| {
        app.change_visit(|visit| visit.papers.take_back(of));
        if let Some(node) = node.get_untracked() {
            node.set_value(&fits);
            // The button goes away by its own press: the focus must not go with it.
            let _ = node.focus();
        }
        shown.set(fits.clone());
    };
    let now = mark(&suggestion.whole);
    let is_changed = move || {
        app.visit.with(|visit| visit.papers.edit(of).is_some_and(|edit| edit.instead_of != now))
    };
    view! {
        <div class="paper-field">
            <label for=id.clone()>{words::part(of)}</label>
            <textarea
                id=id
                node_ref=node
                dir="auto"
                rows=room.lines.min(5).to_string()
                maxlength=room.characters.to_string()
                prop:value=attribute(move || shown.get())
                on:input=write
                on:change=leave
            ></textarea>
            {when(move || is_cut && !is_edited(), || view! {
                <p class="soft small">{words::CUT}</p>
            }.into_any())}
            {when(is_changed, move || view! {
                <div class="notice small">
                    <p>{words::CHANGED}</p>
                    <p class="lines"><strong>{words::NOW_SUGGESTED}": "</strong>{suggestion.fitting.clone()}</p>
                </div>
            }.into_any())}
            {when(is_edited, move || view! {
                <div class="controls">
                    <button
                        type="button"
                        aria-label=format!("{}: {}", words::AS_SUGGESTED, words::part(of))
                        on:click=take_back.clone()
                    >
                        {words::AS_SUGGESTED}
                    </button>
                </div>
            }.into_any())}
        </div>
    }
    .into_any()
}

fn change_papers(app: App, change: impl FnOnce(&mut Papers)) {
    app.change_visit(|visit| {
        change(&mut visit.papers);
        // What is typed is brought into range at once.
        *visit = visit.tidied();
    });
}

/// The diary of a loan, as far as it is written here.
fn diary(app: App) -> AnyView {
    let count = Memo::new(move |_| app.visit.with(|visit| visit.papers.diary.len()));
    let add = move |_| change_papers(app, |papers| papers.diary.push(LoanDay::default()));
    view! {
        <fieldset>
            <legend>{words::DIARY_TITLE}</legend>
            {part(move || (0..count.get()).map(|place| day(app, place)).collect_view().into_any())}
            <div class="controls">
                <button type="button" disabled=yes(move || count.get() >= MOST_LOAN_DAYS) on:click=add>
                    {words::ADD_DAY}
                </button>
            </div>
        </fieldset>
    }
    .into_any()
}

fn day(app: App, place: usize) -> AnyView {
    let get = move |read: fn(&LoanDay) -> String| {
        app.visit.with(|visit| visit.papers.diary.get(place).map(read).unwrap_or_default())
    };
    let change = move |change: &dyn Fn(&mut LoanDay)| {
        change_papers(app, |papers| {
            if let Some(day) = papers.diary.get_mut(place) {
                change(day);
            }
        });
    };
    let remove = move |_| {
        change_papers(app, |papers| {
            if place < papers.diary.len() {
                papers.diary.remove(place);
            }
        });
        super::frame::mend_focus();
    };
    let of_ten = move |day: &LoanDay| day.comfort.map_or_else(String::new, |one| one.to_string());
    let options = std::iter::once(String::new())
        .chain((0..=10_u8).map(|of_ten| of_ten.to_string()))
        .map(|option| {
            let value = option.clone();
            let is = yes(move || {
                app.visit.with(|visit| {
                    visit.papers.diary.get(place).is_some_and(|day| of_ten(day) == value)
                })
            });
            view! { <option value=option.clone() selected=is>{option.clone()}</option> }
        })
        .collect_view();
    view! {
        <div class="paper-day" role="group" aria-label=words::of_day(words::DIARY_DAY, place)>
            <label>
                {words::DIARY_DAY}
                <input
                    type="text" maxlength="80" autocomplete="off"
                    aria-label=words::of_day(words::DIARY_DAY, place)
                    prop:value=attribute(move || get(|day| day.day.clone()))
                    on:change=move |event| {
                        let text = typed_line(&event);
                        change(&|day| day.day.clone_from(&text));
                    }
                />
            </label>
            <label>
                {words::DIARY_MINUTES}
                <input
                    type="number" min="0" max="1440" step="1" inputmode="numeric"
                    aria-label=words::of_day(words::DIARY_MINUTES, place)
                    prop:value=attribute(move || get(|day| {
                        day.minutes.map_or_else(String::new, |minutes| minutes.to_string())
                    }))
                    on:change=move |event| {
                        let minutes = event_target_value(&event).parse::<u32>().ok();
                        change(&|day| day.minutes = minutes);
                    }
                />
            </label>
            <label>
                {words::DIARY_COMFORT}
                <select
                    aria-label=words::of_day(words::DIARY_COMFORT, place)
                    on:change=move |event| {
                        let of_ten = event_target_value(&event).parse::<u8>().ok();
                        change(&|day| day.comfort = of_ten);
                    }
                >
                    {options}
                </select>
            </label>
            <button type="button" aria-label=words::of_day(words::REMOVE_DAY, place) on:click=remove>
                {text(|| words::REMOVE_DAY.to_owned())}
            </button>
        </div>
    }
    .into_any()
}
