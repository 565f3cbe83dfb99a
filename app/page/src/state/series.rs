//! The series of a fitting: only the records of the one in use are in the figures.

use super::{Analysis, App, ByHand, TaskHead};
use fitting::Settings;
use fitting::summary::ChosenFor;
use fitting::task::TaskRecord;
use fitting::visit::{Recorded, SetUp, SetUpChange, Visit};
use leptos::prelude::*;
use std::rc::Rc;

impl App {
    /// In which series something was recorded.
    pub fn recorded(self) -> Recorded {
        let mut recorded = Recorded::default();
        self.heads(|heads| {
            for head in heads {
                recorded.any.insert(head.series);
                if head.site.is_none() {
                    recorded.assessed.insert(head.series);
                }
            }
        });
        recorded
    }

    /// Changes the set-up; what was recorded with it as it was stays a series of its own.
    pub fn change_set_up(self, change: impl FnOnce(&mut SetUp)) -> SetUpChange {
        let mut told =
            self.visit.with_untracked(|visit| visit.set_up().cloned()).unwrap_or_default();
        change(&mut told);
        let recorded = self.recorded();
        let mut came_to = SetUpChange::Same;
        self.use_series(|visit| came_to = visit.change_set_up(&told, &recorded));
        came_to
    }

    /// Goes on with another series.
    pub fn go_back_to(self, series: u32) {
        let recorded = self.recorded();
        self.use_series(|visit| {
            visit.go_back_to(series, &recorded);
        });
    }

    /// The set-up in use was so all along: it is that of an earlier series.
    pub fn correct_set_up(self, earlier: u32) {
        let recorded = self.recorded();
        self.use_series(|visit| {
            visit.correct_set_up(earlier, &recorded);
        });
    }

    /// Changes the set-ups, takes up the device of the series in use, sorts the records out anew where another series is in use, and keeps
    /// all of it.
    pub(crate) fn use_series(self, change: impl FnOnce(&mut Visit)) {
        self.note_device_in_use();
        let device = self.visit.with_untracked(Visit::device_in_use);
        let before = self.visit.with_untracked(Visit::series);
        self.visit.update(change);
        if self.visit.with_untracked(Visit::device_in_use) != device {
            self.device_changed();
        }
        let now = self.visit.with_untracked(Visit::series);
        if now != before {
            let chosen = self.analysis.with_untracked(Option::is_some);
            let chosen = chosen.then(|| self.settings_untracked());
            let back = self.chosen_aside.try_update_value(|aside| {
                aside.retain(|one| one.series != before);
                aside.extend(chosen.map(|settings| ChosenFor { series: before, settings }));
                let now = aside.iter().position(|one| one.series == now);
                now.map(|now| aside.swap_remove(now).settings)
            });
            self.sort_out();
            self.take_as_chosen(back.flatten().as_ref());
        }
        self.keep_fitting();
    }

    /// Puts the records of the series in use where the figures come from, all others aside.
    pub(crate) fn sort_out(self) {
        let mut all = self.all_records();
        all.sort_by_key(|(_, head)| head.order);
        let in_use = self.visit.with_untracked(Visit::series);
        let (of_series, aside): (Vec<_>, Vec<_>) =
            all.into_iter().partition(|(_, head)| head.series == in_use && head.site.is_none());
        let (records, heads): (Vec<TaskRecord>, Vec<TaskHead>) = of_series.into_iter().unzip();
        self.aside.set(Rc::new(aside));
        self.task_heads.set_value(heads);
        self.records.set(Rc::new(records));
        self.analyse();
    }

    /// Takes up what was chosen for the records of the series in use: what differs from what they
    /// suggest was changed by hand.
    pub(crate) fn take_as_chosen(self, chosen: Option<&Settings>) {
        let by_hand = self.analysis.with_untracked(|analysis| {
            let analysis = analysis.as_ref()?;
            chosen.map(|chosen| ByHand::between(&analysis.suggestions, chosen))
        });
        self.by_hand.set(by_hand.unwrap_or_default());
    }

    /// Takes all records out of where they are.
    fn all_records(self) -> Vec<(TaskRecord, TaskHead)> {
        let aside = self.aside.try_update(std::mem::take).unwrap_or_default();
        let mut all = Rc::try_unwrap(aside).unwrap_or_else(|shared| shared.as_ref().clone());
        let heads = self.task_heads.try_update_value(std::mem::take).unwrap_or_default();
        let records = self.records.try_update(std::mem::take).unwrap_or_default();
        // The analysis may still hold them.
        self.analysis.set(None);
        let records = Rc::try_unwrap(records).unwrap_or_else(|shared| shared.as_ref().clone());
        all.extend(records.into_iter().zip(heads));
        all
    }

    /// Takes one record out, because it was deleted.
    pub(crate) fn forget_record(self, task: &str) {
        let mut all = self.all_records();
        all.retain(|(_, head)| head.id != task);
        self.aside.set(Rc::new(all));
        self.sort_out();
    }

    /// What the records of another series say.
    pub fn analysis_of(self, series: u32) -> Option<Analysis> {
        let records: Vec<TaskRecord> = self.aside.with_untracked(|aside| {
            let of_it =
                aside.iter().filter(|(_, head)| head.series == series && head.site.is_none());
            of_it.map(|(record, _)| record.clone()).collect()
        });
        (!records.is_empty()).then(|| Analysis::of(Rc::new(records), self.wish.get_untracked()))
    }

    /// Muscle work recorded in this fitting, whatever series it is of, seconds.
    pub fn muscle_seconds(self) -> f64 {
        let of_series: f64 =
            self.records.with(|records| records.iter().map(|record| record.muscle_seconds).sum());
        let aside: f64 =
            self.aside.with(|aside| aside.iter().map(|(record, _)| record.muscle_seconds).sum());
        of_series + aside
    }
}
