//! In which way a task is asked, how it looks and sounds, and what a weak side may mean.

use super::number;
use fitting::measure::{SideVerdict, WeakSide};
use fitting::task::{Asking, CueKind, NotInThisWay, Way};
use fitting::visit::{Asked, Look};

/// The choice, with what is chosen.
pub fn how(way: Way, asked: Asked) -> String {
    let mut parts = vec![asking(way.asking)];
    if way.cue != CueKind::AtPlace {
        parts.push(cue(way.cue));
    }
    if asked.look == Look::OneObject {
        parts.push(look(Look::OneObject));
    }
    if asked.sound {
        parts.push("with tones");
    }
    if asked.speech {
        parts.push("with speech");
    }
    format!("How to ask: {}", parts.join(", "))
}
/// The ways.
pub const WAYS: &str = "In which way";
/// One way.
pub const fn asking(asking: Asking) -> &'static str {
    match asking {
        Asking::Told => "told in words",
        Asking::Shown => "shown, follow me",
        Asking::FreeMovement => "free: anything moves something",
        Asking::MovedByHelper => "moved by a helper",
    }
}
/// What it means.
pub const fn asking_text(asking: Asking) -> &'static str {
    match asking {
        Asking::Told => "One sentence says what to do.",
        Asking::Shown => "A picture shows what to do. No reading needed.",
        Asking::FreeMovement => {
            "No way is asked for; whatever is pushed moves the picture, and is sorted by where it \
             went. It shows the range seen. A direction that came back three times or more, and was \
             never asked for, gives its reach as well: what the person does of their own accord, \
             perhaps less than could be done."
        }
        Asking::MovedByHelper => {
            "A helper’s hand moves the stick. It is recorded and counted, and left out of every \
             figure of the person; what it shows of the stick itself is used. Move slowly, never \
             against stiffness, and stop at pain or spasm."
        }
    }
}
/// Why a way is not offered for a task.
pub fn not_in_this_way(asking: Asking, why: NotInThisWay) -> String {
    let why = match why {
        NotInThisWay::NothingMoves => "not for this task: nothing is to move in it",
        NotInThisWay::OnePlace => {
            "not for this task: one place is to be kept, and how hard that was is told"
        }
        NotInThisWay::OwnEffort => {
            "not for this task: it asks what the person can keep up without help"
        }
    };
    format!("{}: {why}.", number::capital(self::asking(asking)))
}
/// The cue of a direction.
pub const CUES: &str = "The direction is shown by";
/// One cue.
pub const fn cue(cue: CueKind) -> &'static str {
    match cue {
        CueKind::AtPlace => "a mark at the place",
        CueKind::Central => "a sign in the middle",
        CueKind::Spoken => "the voice",
    }
}
/// Its value in the page.
pub const fn cue_code(cue: CueKind) -> &'static str {
    match cue {
        CueKind::AtPlace => "at_place",
        CueKind::Central => "central",
        CueKind::Spoken => "spoken",
    }
}
/// What choosing a cue means.
pub const CUES_TEXT: &str = "Reach that was cued in different ways is measured apart and never \
    compared.";
/// The look.
pub const LOOKS: &str = "It looks like";
/// One look.
pub const fn look(look: Look) -> &'static str {
    match look {
        Look::Paper => "graph paper",
        Look::OneObject => "one large object on black",
    }
}
/// Its value in the page.
pub const fn look_code(look: Look) -> &'static str {
    match look {
        Look::Paper => "paper",
        Look::OneObject => "one_object",
    }
}
/// Tones.
pub const SOUND: &str = "Soft tones: which way, in the ring, done";
/// How loud.
pub const VOLUME: &str = "How loud";
/// One loudness.
pub fn volume(percent: u8) -> String {
    format!("{percent} %")
}
/// Hear it.
pub const TRY_SOUND: &str = "Hear the tones";
/// Speech.
pub const SPEECH: &str = "Say it aloud, by a voice of this machine";
/// No local voice.
pub const NO_VOICE: &str = "This browser names no voice of this machine itself. A voice elsewhere \
    would send the words away, so nothing is spoken: a helper can read the sentence aloud.";
/// Which voice.
pub fn voice(name: &str) -> String {
    format!("Spoken by {name}, a voice of this machine.")
}
/// The change in a pause.
pub const IN_A_PAUSE: &str = "Changing the way in a pause keeps what was done and asks for the rest \
    in the new way.";

/// What is said to the helper who moves the stick.
pub fn helper_moves(sentence: &str) -> String {
    format!("The helper moves the stick. {sentence}")
}
/// In place of a sentence that names the way, where the cue must not.
pub const LOOK_IN_THE_MIDDLE: &str = "Go where the sign in the middle points.";
/// The same for the voice.
pub const LISTEN: &str = "Listen, and go that way.";
/// The same where there is no voice.
pub fn say_aloud(sentence: &str) -> String {
    format!("Helper, say it aloud: {sentence}")
}

/// The keys.
pub const KEYS: &str = "Keys";
/// Each key and what it does.
pub const KEY_LIST: [(&str, &str); 4] = [
    ("Escape", "rest, at once"),
    ("M", "mark this one"),
    ("Tab", "to the next control"),
    ("Enter or space", "press it"),
];

/// A side that looks weak.
pub fn weak_side(weak: &WeakSide) -> String {
    format!(
        "{} looks weak: {} there ({}), at least {} everywhere else.",
        number::capital(number::towards(weak.side)),
        number::percent(weak.reach.value),
        number::percent_interval(&weak.reach),
        number::percent(weak.least_other.value),
    )
}
/// What the repeat says.
pub const fn verdict(verdict: SideVerdict) -> &'static str {
    match verdict {
        SideVerdict::AskAgain => {
            "Before that is called reach, ask it again with a sign in the middle or by voice, that \
             side and the one across, five times each: it may be seeing or attention, not reach. \
             Common practice, no source."
        }
        SideVerdict::Reach => {
            "Asked again with that cue it still fell short of the other side: what limits it is \
             reach, as far as this can tell."
        }
        SideVerdict::Attention => {
            "Asked again with that cue it went about as far as the other side: seeing or attention \
             may be what limits it when the mark is at the place, or practice in between. This is \
             no diagnosis; tell whoever looks after sight and attention."
        }
        SideVerdict::CannotTell => {
            "The repeat cannot tell reach from seeing or attention. Ask it once more, rested."
        }
    }
}
/// Repeat with a sign in the middle.
pub const REPEAT_CENTRAL: &str = "Ask that side with a sign in the middle";
/// Repeat by voice.
pub const REPEAT_SPOKEN: &str = "Ask that side by voice";
/// Cued reach.
pub fn cued(cue: CueKind) -> String {
    format!("Reach, cued by {}; never compared with reach at the place", self::cue(cue))
}
/// Moved by a helper.
pub fn moved_by_helper(count: usize) -> String {
    match count {
        1 => "1 repetition moved by a helper".to_owned(),
        more => format!("{more} repetitions moved by a helper"),
    }
}
/// What becomes of them.
pub const MOVED_BY_HELPER: &str = "Recorded, and in none of the person’s figures.";
