//! What was said of pushes that stand out, after their task.

use super::App;
use fitting::measure::ListedPush;
use fitting::task::Past;
use leptos::prelude::*;
use std::rc::Rc;

impl App {
    /// Takes in whether a push that stands out was meant: everything that rests on it is computed anew,
    /// and its recording is saved again.
    pub fn say_meant(self, push: &ListedPush, is_meant: bool) {
        let Some(odd) = push.odd else { return };
        let mut records = self.records.with_untracked(|records| records.as_ref().clone());
        let record = records.get_mut(push.record);
        let Some(said) = record.and_then(|record| record.repetitions.get_mut(push.repetition))
        else {
            return;
        };
        said.say_meant(odd, is_meant);
        self.task_heads.update_value(|heads| {
            if let Some(head) = heads.get_mut(push.record) {
                head.handed_over = false;
            }
        });
        self.plan.update(|plan| {
            if let Some(old) = plan.take() {
                *plan = Some(old.changed(&Past::of(&records)));
            }
        });
        self.records.set(Rc::new(records));
        self.analyse();
        self.keep_fitting();
    }
}
