//! What to look for, what it costs.

use super::reason;
use device::choosing::{Advice, Feature, Group, Reason, Stance, Support, Topper};
use fitting::visit::MountPlace;

/// A heading.
pub const fn group(group: Group) -> &'static str {
    match group {
        Group::First => "Where to begin",
        Group::Movement => "How it moves",
        Group::Touch => "What is touched, and what holds the body up",
        Group::Place => "Where it stands",
        Group::Controls => "Buttons and what gets through",
    }
}

/// What to do, in some words: the beginning of the sentence.
pub fn lead(advice: &Advice) -> String {
    match (advice.feature, advice.stance) {
        (Feature::OrdinaryPad, _) => "Begin with the stick of an ordinary pad".to_owned(),
        (Feature::Trial, _) => "Borrow before you buy".to_owned(),
        (feature, Stance::LookFor) => format!("Look for {}", what(feature)),
        (feature, Stance::Avoid) => format!("Avoid {}", what(feature)),
        (feature, Stance::TryBoth) => format!("Try both, {}", both(feature)),
    }
}

/// The rest of the sentence: why, and what it costs. `subject` is the part of the body.
pub fn rest(advice: &Advice, subject: &str) -> String {
    let always = advice.reasons == [Reason::Always];
    // The figures of the reach stand with the throw; elsewhere that it is short is enough.
    let brief = !matches!(advice.feature, Feature::ShortThrow | Feature::LongThrow);
    let why = || reason::because(&advice.reasons, subject, brief);
    let why = match advice.feature {
        Feature::OrdinaryPad if always => CHEAPEST.to_owned(),
        Feature::OrdinaryPad => format!("{}, and {CHEAPEST}", why()),
        Feature::Trial => "what fits is felt only in use".to_owned(),
        Feature::OwnSettings => "the recordings ask for what stands below".to_owned(),
        _ => why(),
    };
    let cost = match advice.feature {
        Feature::ForceStick if advice.is_about_unwanted_movement() => {
            "with cerebral palsy the first did better, with tremor the second, and buttons on a \
             force grip are pressed with more errors"
        }
        feature => cost(feature, advice.stance),
    };
    format!(", because {why}; {cost}.")
}

/// Why an ordinary pad comes first.
const CHEAPEST: &str = "it is the cheapest and has everything on it";

const fn what(feature: Feature) -> &'static str {
    match feature {
        Feature::OrdinaryPad => "the stick of an ordinary pad",
        Feature::Trial => "a trial",
        Feature::ShortThrow => "a short throw, all the way at a small push",
        Feature::LongThrow => "a long throw, all the way at a large push only",
        Feature::LightForce => "little force to push it and to hold it, and no heavier spring",
        Feature::HeavierSpring => "a heavier spring",
        Feature::AdjustableForce => "a force that can be set, or springs that can be changed",
        Feature::MovingStick => "a stick that moves, not one that answers to force alone",
        Feature::ForceStick => "a stick that answers to force and hardly moves",
        Feature::StaysWherePut => "a stick that stays where it is put",
        Feature::OwnSettings => "settings of its own, or of what it is plugged into",
        Feature::FineSteps => "fine steps, many within a small movement",
        Feature::Topper(topper) => of_topper(topper),
        Feature::ChangeableTopper => "a top that can be changed, on a common thread",
        Feature::SoftSurface => "a surface without edges, padded where it is pressed",
        Feature::WipeClean => "a surface that can be wiped, and a maker who says with what",
        Feature::Support(support) => of_support(support),
        Feature::Mount(place) => of_place(place),
        Feature::FirmBase => "a base that does not slip, move or tilt",
        Feature::TurnableMount => "a mount that can be turned and tilted",
        Feature::SwingsClear => "a mount that gives way and swings clear of the face",
        Feature::CableRelief => "a cable that is long enough and held near the stick",
        Feature::ButtonsOnStick => "buttons at the stick",
        Feature::SeparateSwitches => "sockets for switches that lie where that part is",
        Feature::BreathSwitch => "a switch that is worked by breath",
        Feature::PushAsButton => "a push, or one that is held, that counts as a button",
        Feature::EnoughControls => "enough buttons that get through to the game",
    }
}

const fn of_topper(topper: Topper) -> &'static str {
    match topper {
        Topper::Sphere => "a sphere on top",
        Topper::Grip => "a grip for the whole hand",
        Topper::UShaped => "a U-shaped top that the hand or forearm lies in",
        Topper::Cup => "a cup on top that it rests in",
        Topper::Wide => "a wide, padded top",
        Topper::Flat => "a flat, rough top that it lies on",
        Topper::Tall => "a tall shaft",
        Topper::Mouthpiece => "a smooth mouthpiece that comes off without a tool",
    }
}

const fn of_support(support: Support) -> &'static str {
    match support {
        Support::Palm => "support for the palm",
        Support::Wrist => "support for the wrist",
        Support::Forearm => "support for the forearm",
        Support::Elbow => "support for the elbow",
        Support::Leg => "support for the leg and the heel",
        Support::Head => "support for the head and neck",
        Support::Trunk => "support for the trunk",
    }
}

const fn of_place(place: MountPlace) -> &'static str {
    match place {
        MountPlace::Table => "a clamp, or a plate that does not slip, for a table or tray",
        MountPlace::Wheelchair => "a mount that the wheelchair’s maker or service agrees to",
        MountPlace::Floor => "a wide, heavy base for the floor",
        MountPlace::Bed => "an arm that reaches over the bed",
        MountPlace::Stand => "a short arm with joints that lock",
        MountPlace::OnBody => "a small, light stick on a wide strap",
        MountPlace::OtherPad => "a low stick that can be fixed on another pad",
    }
}

const fn both(feature: Feature) -> &'static str {
    match feature {
        Feature::ShortThrow | Feature::LongThrow => "a short throw and a longer one",
        Feature::HeavierSpring | Feature::LightForce => "the usual spring and a heavier one",
        Feature::ForceStick | Feature::MovingStick => {
            "a spring-centred stick and a force stick, which hardly moves"
        }
        Feature::StaysWherePut => {
            "a stick that comes back by itself and one that stays where it is put"
        }
        Feature::Topper(Topper::Tall) => "a tall shaft and a short one",
        Feature::ButtonsOnStick | Feature::SeparateSwitches => {
            "buttons at the stick and switches elsewhere"
        }
        other => what(other),
    }
}

/// What it costs.
const fn cost(feature: Feature, stance: Stance) -> &'static str {
    match (feature, stance) {
        (Feature::OrdinaryPad, _) => "where it does not do, what is missing is what to look for",
        (Feature::Trial, _) => "a loan takes time, and a wrong stick costs more",
        (Feature::ShortThrow, Stance::TryBoth) => {
            "a short one makes small movements count, those that are not meant as well"
        }
        (Feature::ShortThrow, _) => "in return, what is not meant counts for more as well",
        (Feature::LongThrow, _) => {
            "what is not meant counts for less, but it has farther to go each time"
        }
        (Feature::LightForce, _) => "in return, it is pushed by accident more easily",
        (Feature::HeavierSpring, _) => {
            "a heavier one steadies some people and tires others, and is not better in general"
        }
        (Feature::AdjustableForce, _) => "it costs more, and there is more to set up",
        (Feature::MovingStick, _) => {
            "it needs less force and tires less, but comes back to its middle less exactly"
        }
        (Feature::ForceStick, _) => {
            "the first takes less force and tires less, the second hardly has to be moved"
        }
        (Feature::StaysWherePut, _) => {
            "one that stays asks for no holding, but the game goes on until it is brought back"
        }
        (Feature::OwnSettings, _) => "they cost little, but are needed wherever the person plays",
        (Feature::FineSteps, _) => "few makers say how many there are, so ask",
        (Feature::Topper(topper), stance) => cost_of_topper(topper, stance),
        (Feature::ChangeableTopper, _) => "it is one more thing to come loose, so check it",
        (Feature::SoftSurface, _) => "padding wears, and has to be closed so that it can be wiped",
        (Feature::WipeClean, _) => "smooth surfaces slip more",
        (Feature::Support(_), _) => "it must leave the movement free that drives the stick",
        (Feature::Mount(place), _) => cost_of_place(place),
        (Feature::FirmBase, _) => "it is heavier, or needs a clamp",
        (Feature::TurnableMount, _) => "each joint can slip, so mark how it was set",
        (Feature::SwingsClear, _) => "it has to be set up again each time it gave way",
        (Feature::CableRelief, _) => {
            "a long cable catches more, so keep it clear of wheels and tubes"
        }
        (Feature::ButtonsOnStick, Stance::TryBoth) => {
            "what presses also moves the stick, and what jerks also presses"
        }
        (Feature::ButtonsOnStick, _) => "pressing them moves the stick a little",
        (Feature::SeparateSwitches, _) => "each needs a place, a mount and a cable of its own",
        (Feature::BreathSwitch, Stance::Avoid) => {
            "only the team that looks after the breathing can allow it"
        }
        (Feature::BreathSwitch, _) => "it tires, and nobody speaks with a tube between the lips",
        (Feature::PushAsButton, _) => {
            "it is set off by accident more easily, and a shortest press helps"
        }
        (Feature::EnoughControls, _) => {
            "a hub with stick ports often passes two axes and the first eight buttons only"
        }
    }
}

const fn cost_of_topper(topper: Topper, stance: Stance) -> &'static str {
    match topper {
        Topper::Sphere => "it can be pushed from any side, and slips out of a weak hand",
        Topper::Grip => "it has to be let go to press anything else",
        Topper::UShaped => {
            "it brings the limb along without a grasp, and must let it out in a spasm"
        }
        Topper::Cup => "it needs no grasp, but rubs where it does not fit",
        Topper::Wide => "it is easily found, but takes room and adds weight",
        Topper::Flat => "it needs no grasp, but slips unless it is rough or has a rim",
        Topper::Tall => match stance {
            Stance::Avoid => "it would take less force, but a longer way",
            _ => "the tall one takes less force, but a longer way",
        },
        Topper::Mouthpiece => "each person needs their own, and spares",
    }
}

const fn cost_of_place(place: MountPlace) -> &'static str {
    match place {
        MountPlace::Table => "a clamp fits some edges only, so measure how thick yours is",
        MountPlace::Wheelchair => {
            "it must not foul the chair’s own controls, and has to come off for transfers"
        }
        MountPlace::Floor => "it is heavy to carry, and people trip over it",
        MountPlace::Bed => "it has to swing away for care",
        MountPlace::Stand => "a longer arm reaches farther and gives more",
        MountPlace::OnBody => "it moves with the body, and a strap presses on the skin",
        MountPlace::OtherPad => "the pad becomes heavier, and some of its buttons are covered",
    }
}
