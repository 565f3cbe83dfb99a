//! What of a fitting goes to others: only what was chosen.

use super::{Envelope, FittingBody, TaskBody};
use crate::visit::Visit;

/// What goes in, beside the settings and what was measured. Off by default.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Included {
    /// What the person calls it.
    pub label: bool,
    /// Notes, the body part, and everything that was told and asked at the visit.
    pub notes: bool,
    /// The recordings.
    pub recordings: bool,
}

/// A copy of a fitting with what was chosen, under an id of its own: it is another thing than what is
/// kept here. `id` has at most 32 characters. Without what was told of the visit, recordings go of the set-up in use only, as nothing
/// says then what the others were.
#[must_use]
pub fn copy_for_others(
    fitting: &Envelope<FittingBody>,
    tasks: &[Envelope<TaskBody>],
    included: Included,
    id: &str,
) -> (Envelope<FittingBody>, Vec<Envelope<TaskBody>>) {
    let mut fitting = fitting.clone();
    id.clone_into(&mut fitting.id);
    let body = &mut fitting.body;
    let series = body.visit.series();
    if !included.label {
        body.label = String::new();
    }
    if !included.notes {
        body.body_part = None;
        body.notes = None;
        body.visit = Visit::default();
        body.chosen_aside = Vec::new();
    }
    let goes = |task: &&Envelope<TaskBody>| {
        let told = included.notes || (task.body.series == series && task.body.site.is_none());
        included.recordings && told
    };
    let mut tasks: Vec<Envelope<TaskBody>> = tasks.iter().filter(goes).cloned().collect();
    for (number, task) in tasks.iter_mut().enumerate() {
        // An id of their own, too: taken in beside the fitting they were made of, or twice, they are
        // known again.
        task.id = format!("{id}-{number}");
        id.clone_into(&mut task.body.fitting);
        if !included.notes {
            task.body.series = 0;
        }
    }
    body.tasks = u32::try_from(tasks.len()).unwrap_or(u32::MAX);
    (fitting, tasks)
}
