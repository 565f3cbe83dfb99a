//! One series for each set-up: what was recorded with one never mixes with another's.

use super::{MOST_SET_UPS, SetUp, Visit};
use std::collections::BTreeSet;

/// In which series something was recorded.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recorded {
    /// Series with a task of the assessment.
    pub assessed: BTreeSet<u32>,
    /// Series with any recording, also one of a body part that was only looked at.
    pub any: BTreeSet<u32>,
}

/// What a change of the set-up came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetUpChange {
    /// It is as it was.
    Same,
    /// It was told anew; nothing was recorded with it yet.
    Told,
    /// Something was recorded with the one before, of this number: a new series began.
    NewSeries(u32),
    /// It is the set-up of another series, which goes on.
    Back,
    /// A fitting has no room for another set-up: nothing was changed.
    Full,
}

/// The number of the last series; 0 where no set-up was told.
pub(super) fn last(set_ups: &[SetUp]) -> u32 {
    u32::try_from(set_ups.len().saturating_sub(1)).unwrap_or(u32::MAX)
}

impl Visit {
    /// The number of the series that is recorded now.
    #[must_use]
    pub const fn series(&self) -> u32 {
        self.series_in_use
    }

    /// The set-up in use, once one was told.
    #[must_use]
    pub fn set_up(&self) -> Option<&SetUp> {
        self.set_ups.get(self.series_in_use as usize)
    }

    /// Takes up a set-up. Once something of the assessment was recorded, any change of it starts a
    /// new series; one that is word for word that of an earlier series goes on with that series.
    pub fn change_set_up(&mut self, new: &SetUp, recorded: &Recorded) -> SetUpChange {
        let new = new.tidied();
        let in_use = self.series_in_use;
        if self.set_up().cloned().unwrap_or_default() == new {
            return SetUpChange::Same;
        }
        let same = |one: &SetUp| *one == new;
        if let Some(series) = self.set_ups.iter().position(same) {
            self.go_back_to(u32::try_from(series).unwrap_or(u32::MAX), recorded);
            return SetUpChange::Back;
        }
        if !recorded.assessed.contains(&in_use) {
            match self.set_ups.get_mut(in_use as usize) {
                Some(told) => *told = new,
                None => self.set_ups.push(new),
            }
            return SetUpChange::Told;
        }
        if self.set_ups.is_empty() {
            // What was recorded without a word about the set-up has one of its own.
            self.set_ups.push(SetUp::default());
        }
        if self.set_ups.len() >= MOST_SET_UPS {
            return SetUpChange::Full;
        }
        self.set_ups.push(new);
        self.series_in_use = last(&self.set_ups);
        SetUpChange::NewSeries(in_use)
    }

    /// Goes on with another series: the person sits and the stick stands as they did then. The last
    /// one, where nothing was recorded with it, goes. Whether there is such a series.
    pub fn go_back_to(&mut self, series: u32, recorded: &Recorded) -> bool {
        if series as usize >= self.set_ups.len() {
            return false;
        }
        if series != self.series_in_use {
            self.leave_empty(recorded);
            self.series_in_use = series;
        }
        true
    }

    /// The set-up in use, with which nothing of the assessment was recorded yet, was so all along:
    /// that of an earlier series of the same device was told wrongly. Puts it there, and goes on
    /// with that series. Whether it could.
    pub fn correct_set_up(&mut self, earlier: u32, recorded: &Recorded) -> bool {
        let in_use = self.series_in_use;
        if recorded.assessed.contains(&in_use) || earlier >= in_use {
            return false;
        }
        let Some(told) = self.set_up().cloned() else { return false };
        if self.set_ups.get(earlier as usize).is_none_or(|one| one.device != told.device) {
            return false;
        }
        self.leave_empty(recorded);
        self.series_in_use = earlier;
        if let Some(corrected) = self.set_ups.get_mut(earlier as usize) {
            *corrected = told;
        }
        true
    }

    /// Drops the series in use if it is the last and nothing at all was recorded with it; but what
    /// was told of a device stays.
    pub(super) fn leave_empty(&mut self, recorded: &Recorded) {
        let in_use = self.series_in_use;
        let device = self.device_in_use();
        let of_device = self.set_ups.iter().filter(|set_up| set_up.device == device).count();
        if in_use > 0
            && in_use == last(&self.set_ups)
            && !recorded.any.contains(&in_use)
            && of_device > 1
        {
            self.set_ups.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn on(reference: &str) -> SetUp {
        SetUp { reference: reference.to_owned(), ..SetUp::default() }
    }

    fn recorded(series: &[u32]) -> Recorded {
        let series: BTreeSet<u32> = series.iter().copied().collect();
        Recorded { assessed: series.clone(), any: series }
    }

    #[test]
    fn what_is_told_before_anything_is_recorded_is_one_series() {
        let mut visit = Visit::default();
        let none = recorded(&[]);
        assert_eq!(visit.change_set_up(&SetUp::default(), &none), SetUpChange::Same);
        assert_eq!(visit.change_set_up(&on("tray"), &none), SetUpChange::Told);
        assert_eq!(visit.change_set_up(&on("arm rest"), &none), SetUpChange::Told);
        assert_eq!((visit.set_ups.len(), visit.series()), (1, 0));
        assert_eq!(visit.set_up(), Some(&on("arm rest")));
    }

    #[test]
    fn a_change_after_a_task_starts_a_new_series() {
        let mut visit = Visit::default();
        visit.change_set_up(&on("tray"), &recorded(&[]));
        assert_eq!(visit.change_set_up(&on("tray"), &recorded(&[0])), SetUpChange::Same);
        let change = visit.change_set_up(&on("arm rest"), &recorded(&[0]));
        assert_eq!(change, SetUpChange::NewSeries(0));
        assert_eq!((visit.set_ups.len(), visit.series()), (2, 1));
        // More of the card: still that one series.
        assert_eq!(visit.change_set_up(&on("arm rest, left"), &recorded(&[0])), SetUpChange::Told);
        assert_eq!((visit.set_ups.len(), visit.series()), (2, 1));
        assert_eq!(visit.set_ups[0], on("tray"), "the earlier one stays as it was");
    }

    #[test]
    fn tasks_before_any_set_up_have_a_series_of_their_own() {
        let mut visit = Visit::default();
        let change = visit.change_set_up(&on("tray"), &recorded(&[0]));
        assert_eq!(change, SetUpChange::NewSeries(0));
        assert_eq!(visit.set_ups, [SetUp::default(), on("tray")]);
        assert_eq!(visit.series(), 1);
        // It was so all along.
        assert!(visit.correct_set_up(0, &recorded(&[0])));
        assert_eq!((visit.set_ups.as_slice(), visit.series()), ([on("tray")].as_slice(), 0));
        assert!(!visit.correct_set_up(0, &recorded(&[0])), "nothing to put right");
    }

    #[test]
    fn a_set_up_can_be_gone_back_to() {
        let mut visit = Visit::default();
        visit.change_set_up(&on("tray"), &recorded(&[]));
        visit.change_set_up(&on("arm rest"), &recorded(&[0]));
        let both = recorded(&[0, 1]);
        assert!(visit.go_back_to(0, &both));
        assert_eq!((visit.set_ups.len(), visit.series()), (2, 0));
        assert_eq!(visit.set_up(), Some(&on("tray")));
        // Told word for word, it is the same series too.
        assert_eq!(visit.change_set_up(&on("arm rest"), &both), SetUpChange::Back);
        assert_eq!(visit.series(), 1);
        assert!(!visit.go_back_to(2, &both));
        // One with nothing recorded goes when it is left.
        visit.change_set_up(&on("lap"), &both);
        assert_eq!(visit.series(), 2);
        assert!(visit.go_back_to(0, &both));
        assert_eq!(visit.set_ups.len(), 2);
        // One with which only a body part was looked at stays.
        visit.change_set_up(&on("lap"), &both);
        let looked = Recorded { any: [0, 1, 2].into(), ..both.clone() };
        assert!(visit.go_back_to(0, &looked));
        assert_eq!(visit.set_ups.len(), 3);
    }

    #[test]
    fn there_is_an_end_of_series() {
        let mut visit = Visit::default();
        let all: Vec<u32> = (0..40).collect();
        for number in 0..40 {
            visit.change_set_up(&on(&format!("hole {number}")), &recorded(&all));
        }
        assert_eq!(visit.set_ups.len(), MOST_SET_UPS);
        let before = visit.clone();
        assert_eq!(visit.change_set_up(&on("one more"), &recorded(&all)), SetUpChange::Full);
        assert_eq!(visit, before);
    }

    proptest! {
        /// Whatever is done in whatever order: a series with records keeps its set-up unless it was
        /// put right, and the one in use is always one of them.
        #[test]
        fn no_recorded_set_up_is_lost(
            steps in proptest::collection::vec((0..4_u8, 0..5_u32, proptest::bool::ANY), 0..40),
        ) {
            let mut visit = Visit::default();
            let mut seen: Vec<(u32, SetUp)> = Vec::new();
            let mut so_far = Recorded::default();
            for (what, which, record) in steps {
                match what {
                    0 | 1 => {
                        visit.change_set_up(&on(&format!("hole {which}")), &so_far);
                    }
                    2 => {
                        visit.go_back_to(which, &so_far);
                    }
                    _ => {
                        if visit.correct_set_up(which, &so_far) {
                            seen.retain(|(series, _)| *series != which);
                        }
                    }
                }
                let series = visit.series();
                prop_assert!(series == 0 || visit.set_up().is_some());
                prop_assert_eq!(visit.tidied(), visit.clone());
                if record {
                    so_far.assessed.insert(series);
                    so_far.any.insert(series);
                    seen.push((series, visit.set_up().cloned().unwrap_or_default()));
                }
                for (series, set_up) in &seen {
                    let kept = visit.set_ups.get(*series as usize).cloned().unwrap_or_default();
                    prop_assert_eq!(&kept, set_up);
                }
            }
        }
    }
}
