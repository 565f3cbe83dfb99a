//! What was written on the papers by hand.

use super::long;
use serde::{Deserialize, Serialize};

/// A part of a paper whose text can be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PaperPart {
    /// Handover sheet: what to change first if it goes wrong.
    HandoverFirst,
    /// Handover sheet: whom to ask.
    HandoverAsk,
    /// Need letter: the goal in the person's own words.
    LetterGoal,
}

/// A part of a paper with the text that somebody wrote.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperText {
    /// Which part.
    pub part: PaperPart,
    /// What was written.
    pub text: String,
}

/// What was written on the papers by hand; a part that is missing has the text made from the
/// visit.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Papers {
    /// The changed parts, each once, in the order of [`PaperPart`].
    pub edits: Vec<PaperText>,
}

impl Papers {
    /// What was written for a part by hand.
    #[must_use]
    pub fn edit(&self, part: PaperPart) -> Option<&str> {
        self.edits.iter().find(|edit| edit.part == part).map(|edit| edit.text.as_str())
    }

    pub(super) fn tidied(&self) -> Self {
        let mut edits: Vec<PaperText> = self
            .edits
            .iter()
            .map(|edit| PaperText { part: edit.part, text: long(&edit.text) })
            .collect();
        // Stable: of two texts for one part the first is kept.
        edits.sort_by_key(|edit| edit.part);
        edits.dedup_by_key(|edit| edit.part);
        Self { edits }
    }
}
