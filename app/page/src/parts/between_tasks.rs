//! Between two tasks: a no that was said, fatigue and pain asked again, and the offer to stop.
//! Nothing here holds anybody up.

use super::answer::{Row, of_ten};
use super::frame::mend_focus;
use super::live::{part, when};
use crate::route::Screen;
use crate::state::App;
use crate::words::{ready as ready_words, today as words};
use fitting::visit::{ASK_AGAIN_SECONDS, ConsentTo, Rise};
use leptos::prelude::*;

/// What is said and asked before the next task; nothing most of the time.
#[component]
pub fn BetweenTasks() -> impl IntoView {
    let app = App::of_context();
    let refused = move || app.visit.with(|visit| visit.consent.refuses(ConsentTo::Measuring));
    view! {
        <div role="status">
            {when(refused, || view! {
                <p class="caution">
                    {ready_words::NO_MEASURING} " "
                    <a href=Screen::Ready.hash()>{ready_words::TO_CONSENT}</a>
                </p>
            }.into_any())}
        </div>
        <AskedAgain/>
        <OfferToStop/>
    }
}

/// How fatigue and pain are now, after some muscle work.
#[component]
fn AskedAgain() -> impl IntoView {
    let app = App::of_context();
    let due = move || app.muscle_seconds() - app.asked_at_muscle.get() >= ASK_AGAIN_SECONDS;
    let fatigue = RwSignal::new(None::<u8>);
    let pain = RwSignal::new(None::<u8>);
    let row = |signal: RwSignal<Option<u8>>| {
        Row::new(move || signal.get(), move |value| signal.set(value))
    };
    let asked = move || {
        app.asked_at_muscle.set(app.muscle_seconds());
        fatigue.set(None);
        pain.set(None);
        mend_focus();
    };
    let done = move |_| {
        let (fatigue, pain) = (fatigue.get_untracked(), pain.get_untracked());
        app.change_visit(|visit| visit.today.tell_now(fatigue, pain));
        untrack(asked);
    };
    when(due, move || {
        view! {
            <section class="card" aria-labelledby="asked-again">
                <p id="asked-again"><strong>{words::AGAIN}</strong></p>
                <div class="beside">
                    {of_ten("fatigue-now", words::AGAIN_FATIGUE, words::SCALE, row(fatigue))}
                    {of_ten("pain-now", words::AGAIN_PAIN, words::SCALE, row(pain))}
                </div>
                <div class="controls">
                    <button type="button" on:click=done>{words::AGAIN_DONE}</button>
                    <button type="button" on:click=move |_| untrack(asked)>{words::AGAIN_SKIP}</button>
                </div>
            </section>
        }
        .into_any()
    })
}

/// After a rise: the offer to stop, until it is answered.
#[component]
fn OfferToStop() -> impl IntoView {
    let app = App::of_context();
    let rise = Memo::new(move |_| app.visit.with(|visit| visit.today.offers_to_stop()));
    let went_on = move |rise: Rise| {
        app.went_on_at.set(Some(rise));
        mend_focus();
    };
    view! {
        <div role="status">
            {part(move || {
                let Some(rise) = rise.get().filter(|rise| app.went_on_at.get() != Some(*rise)) else {
                    return ().into_any();
                };
                view! {
                    <div class="caution">
                        <p>{words::offer_to_stop(rise)}</p>
                        <div class="controls">
                            <button type="button" class="rest" on:click=move |_| app.rest()>{words::STOP}</button>
                            <button type="button" on:click=move |_| went_on(rise)>{words::GO_ON}</button>
                        </div>
                    </div>
                }
                .into_any()
            })}
        </div>
    }
}
