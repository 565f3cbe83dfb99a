//! The sheet of questions for the maker, with lines to write the answers on.

use super::choosing::person;
use super::hand_over::print;
use crate::parts::live::{effect, part, text, yes};
use crate::parts::paper::runs_over;
use crate::route::Screen;
use crate::state::App;
use crate::words::choosing::question as words;
use crate::words::papers as paper_words;
use device::choosing::{Question, QuestionGroup, questions};
use leptos::html;
use leptos::prelude::*;

/// With more questions than this the lines to write on lie closer, so that one page holds them.
const MANY: usize = 26;

/// The screen.
#[component]
pub fn QuestionsScreen() -> impl IntoView {
    let app = App::of_context();
    let person = person(app);
    let node = NodeRef::<html::Article>::new();
    let over = RwSignal::new(false);
    effect(move || {
        person.track();
        request_animation_frame(move || {
            if let Some(Some(node)) = node.try_get_untracked() {
                let _ = over.try_set(runs_over(&node));
            }
        });
    });
    let many = yes(move || person.with(|person| questions(person).len()) > MANY);
    let fits = move || if over.get() { paper_words::OVER } else { paper_words::FITS }.to_owned();
    let head = words::HEAD.map(|name| view! { <div><dt>{name}</dt><dd></dd></div> }).collect_view();
    view! {
        <h1 tabindex="-1" class="no-print">{words::TITLE}</h1>
        <p class="soft no-print">{words::TEXT}</p>
        <div class="controls">
            <button type="button" class="main" on:click=move |_| print(app)>{words::PRINT}</button>
            <a class="button" href=Screen::Choosing.hash()>{words::BACK}</a>
        </div>
        <p class="no-print" role="status">{text(fits)}</p>
        <article class="paper paper-questions" class:many=many node_ref=node aria-label=words::SHEET>
            <header><h2>{words::TITLE}</h2></header>
            <dl class="paper-head">{head}</dl>
            {part(move || asked(&person.with(questions)))}
            <p class="paper-foot">{words::FOOT}</p>
        </article>
    }
}

fn asked(questions: &[Question]) -> AnyView {
    QuestionGroup::ALL
        .into_iter()
        .map(|group| {
            let asked = questions
                .iter()
                .filter(|one| one.group() == group)
                .map(|one| view! { <li><span>{words::question(*one)}</span></li> })
                .collect_view();
            view! {
                <section>
                    <h3>{words::group(group)}</h3>
                    <ul>{asked}</ul>
                </section>
            }
        })
        .collect_view()
        .into_any()
}
