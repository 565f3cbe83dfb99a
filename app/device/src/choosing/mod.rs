//! Choosing a stick: from the person to what to look for, and what to ask its maker.
//!
//! - [`Person`]: what was answered and measured, in one place.
//! - [`advise`]: what to look for, what to avoid, what to try both ways, each with its reasons.
//! - [`cautions`]: what the answers call for watching.
//! - [`questions`]: what to ask the maker before money is spent.
//!
//! The words are the page's. Nothing here is a score or a product: the rules are those of the
//! trade, each with its source or with the note that it has none, and where the evidence differs
//! the advice is to try both. A movement is never turned into newtons: only handbook figures have
//! a force, and they come from healthy operators.

mod advice;
mod caution;
mod controls;
mod motion;
mod person;
mod place;
mod question;
mod source;
mod touch;

#[cfg(test)]
mod people_tests;
#[cfg(test)]
mod tests;

pub use advice::{Advice, Feature, Group, Reason, Stance, Support, Topper};
pub use caution::{Caution, CautionItem, cautions};
pub use person::{Answered, Found, Person};
pub use question::{Question, QuestionGroup, questions};
pub use source::{Figure, Paragraph, Source, Unit};

use advice::Adviser;

/// What to look for in a stick, in the order in which it is told. Never empty; no feature is told
/// twice, and each has a reason.
#[must_use]
pub fn advise(person: &Person) -> Vec<Advice> {
    let mut adviser = Adviser::default();
    begin(person, &mut adviser);
    motion::advise(person, &mut adviser);
    touch::advise(person, &mut adviser);
    place::advise(person, &mut adviser);
    controls::advise(person, &mut adviser);
    adviser.told()
}

/// Where anybody begins: with what is cheapest and has everything on it, and with a loan.
fn begin(person: &Person, adviser: &mut Adviser) {
    use fitting::visit::PadReach;
    let reasons = match person.wanted.pad_reach {
        Some(PadReach::No) => None,
        Some(reach) => Some(vec![Reason::Answer(Answered::PadReach(reach))]),
        None => Some(vec![Reason::Always]),
    };
    if let Some(reasons) = reasons {
        adviser.look_for(Feature::OrdinaryPad, reasons);
    }
    adviser.look_for(Feature::Trial, vec![Reason::Always]);
}
