//! Choosing a stick: the questions to the person, and the answers.

pub mod advice;
pub mod caution;
pub mod question;
pub mod reason;
pub mod source;

use super::answer::NOT_SAID;
use super::ready::joined;
use fitting::visit::{
    Actions, BodyPart, Endurance, Grasp, MountPlace, PadReach, Posture, Pressing, Strength, Travel,
    Unwanted, Wanted,
};

/// Title.
pub const TITLE: &str = "Choosing a stick";
/// What it is for.
pub const TEXT: &str = "Answer what you know; every answer can be left out. What to look for follows \
    from the answers, and from what was measured. It names no product.";
/// The advice.
pub const ADVICE: &str = "What to look for";
/// How to read it.
pub const ADVICE_TEXT: &str = "Each line says what, why, and what it costs. Nothing here replaces a \
    trial with the person, or the advice of their own therapist.";
/// Nothing was said.
pub const NOTHING_YET: &str = "Nothing is answered or measured yet, so this is only where anybody \
    begins.";
/// To the sheet.
pub const TO_QUESTIONS: &str = "Questions for the maker";
/// Back.
pub const BACK: &str = "Back to the stick";

/// How many pieces of advice there are.
pub fn count(advice: usize, cautions: usize) -> String {
    let things = if advice == 1 { "1 thing".to_owned() } else { format!("{advice} things") };
    let watch = if cautions == 1 { "1 caution".to_owned() } else { format!("{cautions} cautions") };
    format!("{things} to look for, {watch}.")
}

/// A card.
pub const MOVES: &str = "What moves the stick";
/// A card.
pub const HOLDS: &str = "How it holds on, and for how long";
/// A card.
pub const PLACE: &str = "Where a stick can be";
/// A card.
pub const CONTROLS: &str = "Buttons and breath";
/// A card.
pub const CARE: &str = "Skin, mouth and cleaning";

/// A question.
pub const BODY: &str = "Which part of the body?";
/// A question.
pub const BODY_WORDS: &str = "In your own words";
/// A question.
pub const BODY_WORDS_HELP: &str = "Such as left hand, two fingers, side of the knee.";
/// A question.
pub const TRAVEL: &str = "How far does it move in comfort?";
/// A question.
pub const STRENGTH: &str = "How strongly does it push?";
/// A question.
pub const UNWANTED: &str = "Does it move without being meant to?";
/// A question.
pub const GRASP: &str = "Can it hold on to something?";
/// A question.
pub const ENDURANCE: &str = "For how long in comfort?";
/// A question.
pub const WEAK: &str = "Are its muscles weak?";
/// A question.
pub const HURTS: &str = "Does moving it hurt?";
/// A question.
pub const POSTURE: &str = "How does the person sit or lie?";
/// A question.
pub const PLACES: &str = "Where can a stick be? All that apply";
/// A question.
pub const PAD_REACH: &str = "Can any part reach the stick of an ordinary pad?";
/// A question.
pub const PRESSING: &str = "What can press buttons?";
/// A question.
pub const ACTIONS: &str = "How many buttons are needed?";
/// A question.
pub const BREATH: &str = "Can breath be used, in and out of a tube?";
/// A question.
pub const SORE_SKIN: &str = "Does skin that is touched get sore or break?";
/// A question.
pub const WET: &str = "Do saliva or other liquids get at it?";
/// A question.
pub const SHARED: &str = "Will more than one person use it?";
/// Where the same answers stand.
pub const SAME_ANSWERS: &str = "The same answer as on Ready: changed here, it is changed there.";

/// An answer.
pub const fn body(body: BodyPart) -> &'static str {
    match body {
        BodyPart::Hand => "hand",
        BodyPart::Finger => "finger",
        BodyPart::Thumb => "thumb",
        BodyPart::Forearm => "forearm or elbow",
        BodyPart::Shoulder => "shoulder or upper arm",
        BodyPart::Foot => "foot",
        BodyPart::Toe => "toe",
        BodyPart::Knee => "knee or thigh",
        BodyPart::Chin => "chin",
        BodyPart::Lip => "lip, tongue or mouth",
        BodyPart::Head => "head",
        BodyPart::Other => "another part",
    }
}

/// An answer.
pub const fn travel(travel: Travel) -> &'static str {
    match travel {
        Travel::Hardly => "hardly at all",
        Travel::Small => "a little",
        Travel::Middling => "middling",
        Travel::Large => "far",
    }
}

/// An answer.
pub const fn strength(strength: Strength) -> &'static str {
    match strength {
        Strength::HardlyPresses => "can hardly press",
        Strength::Light => "lightly",
        Strength::Usual => "as usual",
        Strength::StrongOrJerky => "strongly, or in jerks",
    }
}

/// An answer.
pub const fn unwanted(unwanted: Unwanted) -> &'static str {
    match unwanted {
        Unwanted::Still => "no",
        Unwanted::Shakes => "it shakes",
        Unwanted::Jerks => "sudden jerks",
        Unwanted::Both => "it shakes and jerks",
    }
}

/// An answer.
pub const fn grasp(grasp: Grasp) -> &'static str {
    match grasp {
        Grasp::Full => "it closes and holds",
        Grasp::Weak => "weakly",
        Grasp::HookOrFlat => "it hooks over, or lies flat",
        Grasp::Nothing => "no",
    }
}

/// An answer.
pub const fn endurance(endurance: Endurance) -> &'static str {
    match endurance {
        Endurance::Minutes => "some minutes",
        Endurance::HalfHour => "half an hour",
        Endurance::Longer => "longer",
    }
}

/// An answer.
pub const fn posture(posture: Posture) -> &'static str {
    match posture {
        Posture::Upright => "upright",
        Posture::Reclined => "leaning back",
        Posture::OnSide => "on the side",
        Posture::Lying => "lying down",
    }
}

/// An answer.
pub const fn place(place: MountPlace) -> &'static str {
    match place {
        MountPlace::Table => "on a table or tray",
        MountPlace::Wheelchair => "on a wheelchair",
        MountPlace::Floor => "on the floor",
        MountPlace::Bed => "on or over a bed",
        MountPlace::Stand => "on a stand or arm",
        MountPlace::OnBody => "strapped to the body",
        MountPlace::OtherPad => "on another pad",
    }
}

/// An answer.
pub const fn pad_reach(reach: PadReach) -> &'static str {
    match reach {
        PadReach::Yes => "yes",
        PadReach::IfHeld => "if the pad is held or fixed",
        PadReach::No => "no",
    }
}

/// An answer.
pub const fn pressing(pressing: Pressing) -> &'static str {
    match pressing {
        Pressing::SamePart => "only the part that moves the stick",
        Pressing::AnotherPart => "another part",
        Pressing::Nothing => "nothing can",
        Pressing::NotNeeded => "no button is needed",
    }
}

/// An answer.
pub const fn actions(actions: Actions) -> &'static str {
    match actions {
        Actions::UpToFour => "one to four",
        Actions::UpToEight => "five to eight",
        Actions::More => "more than eight",
    }
}

/// The answers offered, and that nothing is said.
pub fn offered<T: Copy>(all: &[T], word: fn(T) -> &'static str) -> Vec<&'static str> {
    all.iter().map(|one| word(*one)).chain([NOT_SAID]).collect()
}

/// What moves the stick, in one line.
pub fn moves_line(wanted: &Wanted) -> String {
    joined(&[
        wanted.body.map_or("", body),
        &wanted.body_words,
        wanted.travel.map_or("", |one| match one {
            Travel::Hardly => "hardly moves",
            Travel::Small => "moves a little",
            Travel::Middling => "moves middling far",
            Travel::Large => "moves far",
        }),
        wanted.strength.map_or("", strength),
        wanted.unwanted.map_or("", |one| match one {
            Unwanted::Still => "still",
            other => unwanted(other),
        }),
    ])
}

/// How it holds on, in one line.
pub fn holds_line(wanted: &Wanted) -> String {
    joined(&[
        wanted.grasp.map_or("", |one| match one {
            Grasp::Full => "holds on",
            Grasp::Weak => "holds weakly",
            Grasp::HookOrFlat => "hooks over, or lies flat",
            Grasp::Nothing => "cannot hold on",
        }),
        wanted.endurance.map_or("", endurance),
        told(wanted.weak, "weak", "not weak"),
        told(wanted.hurts, "hurts", "does not hurt"),
    ])
}

/// Where a stick can be, in one line.
pub fn place_line(wanted: &Wanted) -> String {
    let places: Vec<&str> = wanted.places.iter().map(|one| place(*one)).collect();
    joined(&[
        wanted.posture.map_or("", posture),
        &places.join(", "),
        wanted.pad_reach.map_or("", |one| match one {
            PadReach::Yes => "reaches an ordinary pad",
            PadReach::IfHeld => "reaches a pad that is fixed",
            PadReach::No => "reaches no ordinary pad",
        }),
    ])
}

/// Buttons and breath, in one line.
pub fn controls_line(wanted: &Wanted) -> String {
    joined(&[
        wanted.pressing.map_or("", |one| match one {
            Pressing::SamePart => "the same part presses",
            Pressing::AnotherPart => "another part presses",
            Pressing::Nothing => "nothing can press",
            Pressing::NotNeeded => "no button needed",
        }),
        wanted.actions.map_or("", |one| match one {
            Actions::UpToFour => "one to four buttons",
            Actions::UpToEight => "five to eight buttons",
            Actions::More => "more than eight buttons",
        }),
        told(wanted.breath, "breath can be used", "no breath"),
    ])
}

/// Skin, mouth and cleaning, in one line.
pub fn care_line(wanted: &Wanted) -> String {
    joined(&[
        told(wanted.sore_skin, "skin gets sore", "skin is well"),
        told(wanted.wet, "gets wet", "stays dry"),
        told(wanted.shared, "shared", "one person’s"),
    ])
}

/// All of it in one line, for the card that leads here.
pub fn line(wanted: &Wanted) -> String {
    joined(&[
        wanted.body.map_or("", body),
        &wanted.body_words,
        wanted.travel.map_or("", |_| "movement told"),
        if wanted.places.is_empty() { "" } else { "place told" },
    ])
}

fn told(answer: Option<bool>, yes: &'static str, no: &'static str) -> &'static str {
    match answer {
        Some(true) => yes,
        Some(false) => no,
        None => "",
    }
}
