//! What shows which way to go, without words: a mark at the place, a sign in the middle, a dot that
//! goes ahead.

use super::field::SCALE;
use fitting::task::{Asking, CueKind, Phase, PressAsk, Prompt, TaskView};
use fitting::{Direction, Position};
use leptos::prelude::*;

/// How far out the mark at the place stands, share of travel.
const PLACE: f64 = 0.88;

/// A sign in the field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sign {
    /// What it shows.
    pub shows: Shows,
    /// Whether a dot goes ahead, to be followed.
    pub leads: bool,
}

/// What a sign shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shows {
    /// A mark at the place to reach.
    There(Direction),
    /// An arrow in the middle.
    Middle(Direction),
    /// The middle, to come back to.
    Home,
    /// Nothing is to be touched.
    HandsOff,
    /// A hand that rests.
    Rest,
    /// Any way.
    Anywhere,
    /// A button: once, long or twice; any without a number.
    Button(Option<usize>, PressAsk),
}

impl Sign {
    /// The sign of a running task at this moment; none where the voice is the sign.
    pub fn of(view: &TaskView) -> Option<Self> {
        let shown = view.way.asking == Asking::Shown;
        let runs = view.phase == Phase::Doing || view.phase == Phase::Ready;
        if view.paused.is_some() || !runs {
            return None;
        }
        let still = |shows| Some(Self { shows, leads: false });
        let only_shown = |shows| if shown { still(shows) } else { None };
        match (view.prompt, view.way.cue) {
            (Prompt::Push(way), CueKind::AtPlace) => {
                Some(Self { shows: Shows::There(way), leads: shown })
            }
            (Prompt::Push(way), CueKind::Central) => still(Shows::Middle(way)),
            (Prompt::Push(_), CueKind::Spoken) => None,
            (Prompt::ToRing(way), _) if shown => {
                Some(Self { shows: Shows::There(way), leads: true })
            }
            (Prompt::ComeBack | Prompt::LetGo(_), _) => only_shown(Shows::Home),
            (Prompt::HandsOff, _) => only_shown(Shows::HandsOff),
            (Prompt::Rest | Prompt::RestWhile(_), _) => only_shown(Shows::Rest),
            (Prompt::PushAnywhere | Prompt::HoldAnywhere | Prompt::MoveFreely, _) => {
                still(Shows::Anywhere)
            }
            (Prompt::Press { button, press }, _) => only_shown(Shows::Button(Some(button), press)),
            (Prompt::PressAny, _) => still(Shows::Button(None, PressAsk::Once)),
            (Prompt::ToRing(_) | Prompt::StayInRing(_) | Prompt::HowHard, _) => None,
        }
    }

    /// The dot that goes ahead: an element of its own that moves by transform alone.
    pub fn ghost(self) -> Option<AnyView> {
        let Shows::There(way) = self.shows else { return None };
        let class = format!("ghost-way {}", towards(way));
        self.leads
            .then(|| view! { <span class=class><span class="ghost"></span></span> }.into_any())
    }

    /// What stands still of it, in the units of the field.
    pub fn drawn(self) -> AnyView {
        match self.shows {
            Shows::There(way) => there(way),
            Shows::Middle(way) => middle(way),
            Shows::Home => view! {
                <g class="sign">
                    <circle class="open" r="20"></circle>
                    <circle class="full" r="5"></circle>
                </g>
            }
            .into_any(),
            Shows::Anywhere => Direction::FOUR.into_iter().map(small).collect_view().into_any(),
            Shows::HandsOff => view! {
                <g class="sign">
                    {hand(-34)}
                    <path class="cross" d="M-44 -58L44 30M44 -58L-44 30"></path>
                </g>
            }
            .into_any(),
            Shows::Rest => view! { <g class="sign">{stick()}{hand(-52)}</g> }.into_any(),
            Shows::Button(number, press) => button(number, press),
        }
    }
}

/// The class that sends the dot ahead.
const fn towards(way: Direction) -> &'static str {
    match way {
        Direction::Right => "to-right",
        Direction::UpRight => "to-up-right",
        Direction::Up => "to-up",
        Direction::UpLeft => "to-up-left",
        Direction::Left => "to-left",
        Direction::DownLeft => "to-down-left",
        Direction::Down => "to-down",
        Direction::DownRight => "to-down-right",
    }
}

/// The turn of an arrow that is drawn to the right.
fn turned(way: Direction) -> String {
    format!("rotate({})", -way.degrees())
}

/// A mark at the place to reach: a disc with an arrow to it.
fn there(way: Direction) -> AnyView {
    let at = Position::polar(PLACE * SCALE, way.degrees());
    view! {
        <g class="sign">
            <g transform=turned(way)>
                <path class="shaft" d="M30 0H58M48 -11L62 0L48 11"></path>
            </g>
            <circle class="full" cx=format!("{:.1}", at.right) cy=format!("{:.1}", -at.up) r="13"></circle>
        </g>
    }
    .into_any()
}

/// A large arrow in the middle.
fn middle(way: Direction) -> AnyView {
    view! {
        <g class="sign" transform=turned(way)>
            <path class="full" d="M-38 -11H6V-30L42 0L6 30V11H-38Z"></path>
        </g>
    }
    .into_any()
}

/// One of the four small arrows of "any way".
fn small(way: Direction) -> AnyView {
    view! {
        <g class="sign" transform=turned(way)>
            <path class="shaft" d="M66 0H84M76 -9L87 0L76 9"></path>
        </g>
    }
    .into_any()
}

/// A stick from the side: a base, a shaft, a ball.
fn stick() -> AnyView {
    view! { <path class="open" d="M-30 52H30V40H-30ZM0 40V4"></path><circle class="open" cy="-6" r="11"></circle> }
        .into_any()
}

/// A hand from the side, lying, its fingers to the right.
fn hand(up: i32) -> AnyView {
    let place = format!("translate(0 {up})");
    view! {
        <path
            class="open" transform=place
            d="M-52 6C-40 2 -30 -6 -18 -8C-2 -11 16 -10 34 -6C41 -4 41 4 34 5L8 6C20 8 30 11 38 15C44 18 41 25 34 23C20 19 6 18 -6 19C-22 20 -38 22 -52 22"
        ></path>
    }
    .into_any()
}

/// A button from above, with one, a long or two presses beside it.
fn button(number: Option<usize>, press: PressAsk) -> AnyView {
    let presses = match press {
        PressAsk::Once => "M-6 62H6",
        PressAsk::Long => "M-34 62H34",
        PressAsk::Twice => "M-22 62H-10M10 62H22",
    };
    view! {
        <g class="sign">
            <circle class="open" r="42"></circle>
            <circle class="full" r="32"></circle>
            <path class="presses" d=presses></path>
            {number.map(|number| view! {
                <text class="number" y="13" text-anchor="middle" font-size="38">{number.to_string()}</text>
            })}
        </g>
    }
    .into_any()
}
