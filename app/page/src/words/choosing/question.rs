//! The sheet of questions for the maker.

use device::choosing::{Question, QuestionGroup};

/// Title.
pub const TITLE: &str = "Questions for the maker";
/// What it is for.
pub const TEXT: &str = "Ask before money is spent. The answers given under Choosing a stick decide \
    which questions stand here; nothing about the person stands on the sheet.";
/// Print.
pub const PRINT: &str = "Print the questions";
/// Back.
pub const BACK: &str = "Back to choosing a stick";
/// The sheet itself.
pub const SHEET: &str = "The sheet as it will be printed";
/// What to fill in at its head.
pub const HEAD: [&str; 4] = ["Stick", "Maker or shop", "Answered by", "Date"];
/// What stands at its foot.
pub const FOOT: &str = "HID: the open USB standard for human interface devices. A report descriptor \
    says what a device is; it can be read before anything is bought.";

/// A heading.
pub const fn group(group: QuestionGroup) -> &'static str {
    match group {
        QuestionGroup::Signals => "What it says, and what gets through",
        QuestionGroup::Movement => "How it moves",
        QuestionGroup::Body => "How it is held, mounted and cleaned",
        QuestionGroup::Buying => "Trial, price and service",
    }
}

/// A question.
pub const fn question(question: Question) -> &'static str {
    match question {
        Question::SpeaksAs => {
            "Does it speak as a joystick or gamepad (HID usage page 1, usage 4 or 5), or as a mouse \
             or keyboard (usage 2 or 6)?"
        }
        Question::ReportDescriptor => "May we have its HID report descriptor?",
        Question::AxesAndButtons => "How many axes, of how many bits? How many buttons?",
        Question::FirstEight => "Which eight buttons come first? Some hubs pass no others.",
        Question::BeyondEight => "How do the buttons after the first eight get through?",
        Question::Plug => "Which plug? Does it need software or an adaptor?",
        Question::HiddenSettings => "Has it a dead zone or settings inside? Can they be changed?",
        Question::ModeSwitch => "Can it be switched to speak as something else? How?",
        Question::CentreAtPlugIn => "Does it take its middle when plugged in, untouched?",
        Question::Throw => "How far does it move to full output (degrees or mm)?",
        Question::StepsWithinReach => "How many steps are there in the first third of that?",
        Question::Force => "How much force starts it, and holds it at the end (newtons)?",
        Question::ForceAdjustable => "Can the force be set or the spring changed? To what?",
        Question::WithoutSpring => "Does it work without a spring, staying where it is put?",
        Question::BothKinds => "Can we try a spring-centred and a force stick side by side?",
        Question::Withstands => "How strong a push or pull does it stand?",
        Question::AnyTilt => "Does it work tilted, or on its side?",
        Question::TopperThread => "Which thread has its top? Which other tops are there?",
        Question::MountThread => "Which thread or plate is it mounted by? How heavy is it?",
        Question::Clamp => "Which clamp or arm fits? For edges how thick?",
        Question::OnWheelchair => "Is it made for a wheelchair? What does the chair’s maker say?",
        Question::SwingsClear => "How does it swing clear of the face, and give way?",
        Question::Mouthpieces => "Mouthpieces: of what, how changed, what do spares cost?",
        Question::SkinMaterial => "Of what is it made where skin touches it?",
        Question::Cleaning => "How is it cleaned, and with what?",
        Question::Sealed => "Is it sealed against saliva and other liquids?",
        Question::SwitchSockets => "Has it sockets for separate switches? Which, how many?",
        Question::ButtonForce => "How much force do its buttons need (newtons)?",
        Question::Cable => "How long is the cable? How is it held at the stick?",
        Question::Trial => "Can we borrow it, for how long? Can it be sent back?",
        Question::PriceAndDelivery => "What does it cost with mount and top? When is it here?",
        Question::SpareParts => "Warranty? Who repairs it? Which spare parts are there?",
    }
}
