//! In which way a task is asked, and how its directions are cued.

use super::{Outcome, Repetition, TaskKind, TaskRecord};
use serde::{Deserialize, Serialize};

/// In which way a task was asked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Asking {
    /// Told in words, read or heard.
    #[default]
    Told,
    /// Shown: a picture to follow, no words needed.
    Shown,
    /// By cause and effect: no way is asked for, anything moves something. What was done is sorted
    /// afterwards by where it went. It gives the range seen; comfortable reach only of a direction
    /// that came back several times, see [`crate::measure::FEWEST_FREE_PUSHES`].
    FreeMovement,
    /// Moved by a helper: recorded, counted, and left out of the person's figures. What it shows of
    /// the stick itself (its steps, its opening) is used.
    MovedByHelper,
}

/// How the direction of a push was cued. Reach that was cued in different ways is never pooled
/// or compared.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CueKind {
    /// By a mark at the place to reach, as usual.
    #[default]
    AtPlace,
    /// By a sign in the middle of the picture.
    Central,
    /// By the voice.
    Spoken,
}

/// Why a way of asking does not apply to a task.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotInThisWay {
    /// Nothing is to be moved in it.
    NothingMoves,
    /// One place is to be kept for long, and how hard that was is told.
    OnePlace,
    /// What the person can keep up by themselves is what is asked.
    OwnEffort,
}

impl Asking {
    /// All ways, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Told, Self::Shown, Self::FreeMovement, Self::MovedByHelper];

    /// Why a task of this kind is not asked in this way; `None` where it is.
    ///
    /// Everything can be told and shown. Free movement and a helper's hand are for what moves, and
    /// neither is for the longer hold. The task of free movement is asked by cause and effect
    /// however it is asked.
    #[must_use]
    pub const fn lacks(self, kind: TaskKind) -> Option<NotInThisWay> {
        match (self, kind) {
            (
                Self::FreeMovement | Self::MovedByHelper,
                TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest,
            ) => Some(NotInThisWay::NothingMoves),
            (Self::FreeMovement, TaskKind::Sustained) => Some(NotInThisWay::OnePlace),
            (Self::MovedByHelper, TaskKind::Sustained) => Some(NotInThisWay::OwnEffort),
            _ => None,
        }
    }
}

impl CueKind {
    /// All kinds, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::AtPlace, Self::Central, Self::Spoken];
}

/// In which way a task is asked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Way {
    /// In which way.
    pub asking: Asking,
    /// How directions are cued.
    pub cue: CueKind,
}

impl Way {
    /// This way as it suits a task of this kind. Where it does not apply, free movement becomes
    /// shown, which needs no words either, and moved by a helper becomes told. Only reach that is
    /// told or shown has cues: in every other task a ring stands at its place, or no way is asked.
    #[must_use]
    pub fn suited(self, kind: TaskKind) -> Self {
        let asking = match self.asking {
            asking if asking.lacks(kind).is_none() => asking,
            Asking::FreeMovement => Asking::Shown,
            Asking::Told | Asking::Shown | Asking::MovedByHelper => Asking::Told,
        };
        let has_cues = kind == TaskKind::Reach && matches!(asking, Asking::Told | Asking::Shown);
        Self { asking, cue: if has_cues { self.cue } else { CueKind::AtPlace } }
    }
}

impl TaskRecord {
    /// In which way it was asked.
    #[must_use]
    pub const fn way(&self) -> Way {
        Way { asking: self.asking, cue: self.cue }
    }

    /// Whether the person moved: a helper's hand on the stick says nothing of the person.
    #[must_use]
    pub fn is_of_person(&self) -> bool {
        self.asking != Asking::MovedByHelper
    }

    /// Whether no way was asked, and anything moved something.
    #[must_use]
    pub fn is_free(&self) -> bool {
        self.asking == Asking::FreeMovement
    }

    /// The repetitions that count in the person's figures: none where a helper moved the stick.
    pub fn counting(&self) -> impl Iterator<Item = &Repetition> {
        let counts = self.is_of_person();
        self.repetitions.iter().filter(move |one| counts && one.counts())
    }

    /// How many repetitions a helper's hand made; 0 where the person moved.
    #[must_use]
    pub fn moved_by_helper(&self) -> usize {
        if self.is_of_person() {
            return 0;
        }
        self.repetitions.iter().filter(|one| one.outcome == Outcome::Done).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_apply_becomes_what_is_nearest() {
        for kind in TaskKind::ALL {
            for asking in Asking::ALL {
                for cue in CueKind::ALL {
                    let way = Way { asking, cue }.suited(kind);
                    assert_eq!(way.asking.lacks(kind), None, "{asking:?} {kind:?}");
                    assert_eq!(way.suited(kind), way, "settled");
                    if asking.lacks(kind).is_none() {
                        assert_eq!(way.asking, asking);
                    }
                    let directed = matches!(way.asking, Asking::Told | Asking::Shown);
                    let keeps_cue = kind == TaskKind::Reach && directed;
                    assert_eq!(way.cue, if keeps_cue { cue } else { CueKind::AtPlace });
                }
            }
        }
        let free =
            |kind| Way { asking: Asking::FreeMovement, cue: CueKind::Central }.suited(kind).asking;
        assert_eq!(free(TaskKind::QuietRest), Asking::Shown);
        assert_eq!(free(TaskKind::Sustained), Asking::Shown);
        assert_eq!(free(TaskKind::Return), Asking::FreeMovement);
    }
}
