//! The invented people.

use fitting::invented::Invented;

/// What practice mode is.
pub const WHAT: &str = "Invented people play every task by themselves, so that you can learn the \
    page with no stick and no person. They are made up; they stand for nobody.";

/// Name of an invented person and how they move.
pub const fn person(person: Invented) -> (&'static str, &'static str) {
    match person {
        Invented::SteadyHand => ("Steady hand", "wide reach, little unintended movement"),
        Invented::RhythmicMovement => {
            ("Rhythmic movement", "a quick regular shake, about six times a second")
        }
        Invented::ShortToOneSide => {
            ("Short to one side", "little reach to the right, and the mount is turned")
        }
        Invented::SuddenJerks => {
            ("Sudden jerks", "rare jerks while resting, on a spring that sags")
        }
        Invented::Chin => ("Chin", "short reach, and every breath moves it"),
        Invented::Foot => ("Foot", "wide to the sides, short up and down, now and then a jerk"),
    }
}
