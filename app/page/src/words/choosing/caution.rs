//! What to watch.

use crate::words::ready;
use device::choosing::Caution;

/// Title.
pub const TITLE: &str = "What to watch";

/// A caution.
pub const fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::Stop => {
            "Stop at pain, numbness, breathlessness, or a rise in spasm. Keep first sessions short."
        }
        Caution::Pain => {
            "There is pain or fatigue already: choose what eases it, and stop when it rises."
        }
        Caution::Fatigue => {
            "It tires soon: play in short turns, rest between, and ask again after each."
        }
        Caution::MouthClear => {
            "A stick or tube at the face must swing clear, and never block breathing or speaking."
        }
        Caution::Mouthpiece => "A mouthpiece is one person’s and is never shared.",
        Caution::Breathing => {
            "Breath: a few at a time, then rest. Stop at dizziness, and ask the treating team first."
        }
        Caution::HeadAndNeck => {
            "The neck works all the time: small, slow movements, a head that is held up, and the \
             treating team’s yes after any injury of the neck."
        }
        Caution::Skin => {
            "Look at the skin that is touched or strapped before and after, and pad what presses."
        }
        Caution::Sensation => {
            "What is felt poorly is looked at: check the skin often, and fear heat, edges and \
             pressure."
        }
        Caution::Hygiene => {
            "Clean what touches skin or gets wet by its maker’s method, after each person."
        }
        Caution::WheelchairControls => {
            "On a wheelchair the stick must not foul the chair’s own controls. Switch the drive off \
             while playing."
        }
        Caution::Straps => {
            "Straps are wide and padded, never round the neck, and open by themselves in a fall."
        }
        Caution::Care(condition) => ready::caution(condition),
        Caution::NeverDrive => "Never use these settings, or this stick, to drive a wheelchair.",
        Caution::OwnTherapist => {
            "The person’s own therapist, physician and local rules come first: this page measures and \
             suggests, and knows neither."
        }
    }
}

/// What called for it.
pub fn because(reason: &str) -> String {
    format!("Because {reason}.")
}
