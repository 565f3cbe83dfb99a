//! What was written on the papers by hand, and the diary of a loan.

use super::{of_ten, short};
use crate::summary::plain_lines;
use serde::{Deserialize, Serialize};

/// The most days of a loan's diary: as many rows as one page has room for.
pub const MOST_LOAN_DAYS: usize = 14;

/// The most minutes of one day.
const MOST_MINUTES: u32 = 24 * 60;

/// A paper whose parts can be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// For family and carers: one page.
    Handover,
    /// For whoever pays.
    Letter,
    /// For a lending library.
    Loan,
}

/// A part of a paper whose text can be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PaperPart {
    /// Handover sheet: where the stick goes.
    HandoverPlace,
    /// Handover sheet: where the numbers are typed in, and what to heed there.
    HandoverType,
    /// Handover sheet: what to change first if it goes wrong.
    HandoverFirst,
    /// Handover sheet: the look at the skin.
    HandoverSkin,
    /// Handover sheet: when to stop, and how the person says so.
    HandoverStop,
    /// Handover sheet: whom to ask.
    HandoverAsk,
    /// Need letter: to whom.
    LetterTo,
    /// Need letter: the goal in the person's own words.
    LetterGoal,
    /// Need letter: what limits the person.
    LetterLimitation,
    /// Need letter: what was tried, the cheapest included, and why it does not do.
    LetterOptions,
    /// Need letter: what the stick has to be able to do, matched to what was found.
    LetterFeatures,
    /// Need letter: how long and where it is tried.
    LetterTrial,
    /// Need letter: who learns it, from whom.
    LetterTraining,
    /// Need letter: when it is looked at again.
    LetterFollowUp,
    /// Need letter: what it costs.
    LetterCost,
    /// Need letter: who writes.
    LetterFrom,
    /// Loan card: what is lent.
    LoanItem,
    /// Loan card: its parts.
    LoanParts,
    /// Loan card: its condition.
    LoanCondition,
    /// Loan card: lent to whom, when, until when.
    LoanOut,
    /// Loan card: back when, in which condition.
    LoanIn,
    /// Loan card: cleaned by whom, when and how.
    LoanCleaned,
}

/// How much fits into a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// The most characters.
    pub characters: usize,
    /// The most lines.
    pub lines: usize,
}

impl PaperPart {
    /// All of them, by paper, in the order in which they stand there.
    pub const ALL: [Self; 22] = [
        Self::HandoverPlace,
        Self::HandoverType,
        Self::HandoverFirst,
        Self::HandoverSkin,
        Self::HandoverStop,
        Self::HandoverAsk,
        Self::LetterTo,
        Self::LetterGoal,
        Self::LetterLimitation,
        Self::LetterOptions,
        Self::LetterFeatures,
        Self::LetterTrial,
        Self::LetterTraining,
        Self::LetterFollowUp,
        Self::LetterCost,
        Self::LetterFrom,
        Self::LoanItem,
        Self::LoanParts,
        Self::LoanCondition,
        Self::LoanOut,
        Self::LoanIn,
        Self::LoanCleaned,
    ];

    /// The paper it belongs to.
    #[must_use]
    pub const fn paper(self) -> Paper {
        match self {
            Self::HandoverPlace
            | Self::HandoverType
            | Self::HandoverFirst
            | Self::HandoverSkin
            | Self::HandoverStop
            | Self::HandoverAsk => Paper::Handover,
            Self::LetterTo
            | Self::LetterGoal
            | Self::LetterLimitation
            | Self::LetterOptions
            | Self::LetterFeatures
            | Self::LetterTrial
            | Self::LetterTraining
            | Self::LetterFollowUp
            | Self::LetterCost
            | Self::LetterFrom => Paper::Letter,
            Self::LoanItem
            | Self::LoanParts
            | Self::LoanCondition
            | Self::LoanOut
            | Self::LoanIn
            | Self::LoanCleaned => Paper::Loan,
        }
    }

    /// How much fits into it, so that the handover sheet and the loan card stay on one page
    /// however many words are written, and the need letter usually does.
    #[must_use]
    pub const fn room(self) -> Room {
        let (characters, lines) = match self {
            Self::HandoverPlace => (400, 7),
            Self::HandoverFirst | Self::HandoverStop => (450, 6),
            Self::HandoverType
            | Self::HandoverSkin
            | Self::HandoverAsk
            | Self::LetterTo
            | Self::LetterFrom => (240, 4),
            Self::LetterGoal => (700, 8),
            Self::LetterLimitation | Self::LetterOptions => (800, 8),
            Self::LetterFeatures => (1_200, 10),
            Self::LetterTrial => (400, 5),
            Self::LetterTraining | Self::LetterFollowUp | Self::LetterCost => (300, 4),
            Self::LoanItem => (160, 2),
            Self::LoanParts | Self::LoanCondition => (300, 4),
            Self::LoanOut | Self::LoanIn | Self::LoanCleaned => (240, 4),
        };
        Room { characters, lines }
    }

    /// A text made fit for this part: plain, and no longer than there is room for.
    #[must_use]
    pub fn tidied(self, text: &str) -> String {
        let room = self.room();
        let text = plain_lines(text, room.characters);
        match text.match_indices('\n').nth(room.lines - 1) {
            Some((end, _)) => text[..end].to_owned(),
            None => text,
        }
    }
}

impl Paper {
    /// Its parts, in the order in which they stand there.
    pub fn parts(self) -> impl Iterator<Item = PaperPart> {
        PaperPart::ALL.into_iter().filter(move |part| part.paper() == self)
    }
}

/// A part of a paper with the text that somebody wrote.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperText {
    /// Which part.
    pub part: PaperPart,
    /// What was written; an empty text leaves the part out.
    pub text: String,
    /// The mark ([`crate::papers::mark`]) of the text that was suggested when it was written: a
    /// suggestion with another mark rests on other figures.
    pub instead_of: u32,
}

/// A day with a stick that was lent.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct LoanDay {
    /// Which day, in the words of whoever writes it.
    pub day: String,
    /// How long it was used, minutes.
    pub minutes: Option<u32>,
    /// How comfortable it was, 0 (not at all) to 10.
    pub comfort: Option<u8>,
}

/// What was written on the papers by hand; a part that is missing has the text made from the
/// visit.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Papers {
    /// The changed parts, each once, in the order of [`PaperPart`].
    pub edits: Vec<PaperText>,
    /// The diary of a loan, at most [`MOST_LOAN_DAYS`].
    pub diary: Vec<LoanDay>,
}

impl Papers {
    /// What was written for a part by hand.
    #[must_use]
    pub fn edit(&self, part: PaperPart) -> Option<&PaperText> {
        self.edits.iter().find(|edit| edit.part == part)
    }

    /// Writes a part by hand, in the place of what is suggested for it. Who writes just that takes
    /// the suggestion.
    pub fn write(&mut self, part: PaperPart, text: &str, suggested: &str) {
        self.take_back(part);
        let text = part.tidied(text);
        if text != part.tidied(suggested) {
            let at = self.edits.partition_point(|edit| edit.part < part);
            let instead_of = crate::papers::mark(suggested);
            self.edits.insert(at, PaperText { part, text, instead_of });
        }
    }

    /// Takes back what was written for a part.
    pub fn take_back(&mut self, part: PaperPart) {
        self.edits.retain(|edit| edit.part != part);
    }

    pub(super) fn tidied(&self) -> Self {
        let mut edits: Vec<PaperText> = self
            .edits
            .iter()
            .map(|edit| PaperText { text: edit.part.tidied(&edit.text), ..edit.clone() })
            .collect();
        // Stable: of two texts for one part the first is kept.
        edits.sort_by_key(|edit| edit.part);
        edits.dedup_by_key(|edit| edit.part);
        let day = |day: &LoanDay| LoanDay {
            day: short(&day.day),
            minutes: day.minutes.map(|minutes| minutes.min(MOST_MINUTES)),
            comfort: of_ten(day.comfort),
        };
        Self { edits, diary: self.diary.iter().take(MOST_LOAN_DAYS).map(day).collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn every_part_stands_on_one_paper_in_order() {
        let by_paper: Vec<PaperPart> = [Paper::Handover, Paper::Letter, Paper::Loan]
            .into_iter()
            .flat_map(Paper::parts)
            .collect();
        assert_eq!(by_paper, PaperPart::ALL);
        assert!(PaperPart::ALL.is_sorted());
    }

    #[test]
    fn what_was_written_replaces_the_suggestion_and_can_be_taken_back() {
        let mut papers = Papers::default();
        papers.write(PaperPart::LetterGoal, " To play\n\nwith my brother ", "[The goal]");
        papers.write(PaperPart::HandoverAsk, "Ring the clinic", "[Whom?]");
        assert_eq!(papers.edit(PaperPart::LetterGoal).unwrap().text, "To play\nwith my brother");
        assert_eq!(papers, papers.tidied());
        // Another suggestion than the one that was replaced has another mark.
        let edit = papers.edit(PaperPart::LetterGoal).unwrap();
        assert_eq!(edit.instead_of, crate::papers::mark("[The goal]"));
        assert_ne!(edit.instead_of, crate::papers::mark("[The goals]"));
        papers.write(PaperPart::LetterGoal, "", "[The goal]");
        assert_eq!(papers.edit(PaperPart::LetterGoal).unwrap().text, "");
        papers.write(PaperPart::LetterGoal, " [The goal] ", "[The goal]");
        assert_eq!(papers.edit(PaperPart::LetterGoal), None);
        papers.take_back(PaperPart::HandoverAsk);
        assert_eq!(papers, Papers::default());
    }

    #[test]
    fn lines_beyond_the_room_are_cut() {
        let room = PaperPart::HandoverAsk.room();
        let text = PaperPart::HandoverAsk.tidied(&"a\n".repeat(room.lines + 3));
        assert_eq!(text.lines().count(), room.lines);
        let text = PaperPart::HandoverAsk.tidied(&"ab ".repeat(room.characters));
        assert!(text.chars().count() <= room.characters);
    }

    proptest! {
        #[test]
        fn tidied_twice_is_tidied_once(text in any::<String>(), index in 0..22usize) {
            let part = PaperPart::ALL[index];
            let once = part.tidied(&text);
            prop_assert!(once.chars().count() <= part.room().characters);
            prop_assert!(once.lines().count() <= part.room().lines);
            prop_assert_eq!(part.tidied(&once), once);
        }
    }
}
