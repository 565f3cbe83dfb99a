//! Files out and in.

use super::App;
use crate::parts::file;
use crate::store::{Imported, StoreError, file_of, new_id, note_saved_as_file};
use crate::words::{hand_over as words, share as share_words, storage as storage_words};
use fitting::summary::share::{Included, copy_for_others};
use leptos::prelude::*;

impl App {
    /// Everything kept, as a file.
    pub fn export_all(self) {
        leptos::task::spawn_local(async move {
            let text = self.store_when_open().await.export_all().await;
            if self.offer(words::FILE_ALL, text) {
                note_saved_as_file();
                self.saved_as_file().update(|times| *times += 1);
            }
        });
    }

    /// This fitting with its recordings, as a file, from the page's own memory: it works also
    /// where nothing could be kept.
    pub fn export_fitting(self) {
        let Some(fitting) = self.kept.get_untracked() else { return };
        self.offer(words::FILE_FITTING, file_of(&fitting, &self.tasks_as_kept(&fitting.id)));
    }

    /// A copy of this fitting for others, with what was chosen, as a file.
    pub fn export_copy(self, included: Included) {
        let Some(fitting) = self.kept.get_untracked() else { return };
        let tasks = self.tasks_as_kept(&fitting.id);
        let (fitting, tasks) = copy_for_others(&fitting, &tasks, included, &new_id());
        self.offer(share_words::FILE_COPY, file_of(&fitting, &tasks));
    }

    /// How many recordings go into such a copy.
    pub fn recordings_for_others(self, included: Included) -> usize {
        let Some(fitting) = self.kept.get_untracked() else { return 0 };
        let tasks = self.tasks_as_kept(&fitting.id);
        copy_for_others(&fitting, &tasks, included, "").1.len()
    }

    /// How often everything was saved as a file since the page was opened.
    pub fn saved_as_file(self) -> ArcRwSignal<u32> {
        thread_local! {
            static TIMES: ArcRwSignal<u32> = ArcRwSignal::new(0);
        }
        TIMES.with(Clone::clone)
    }

    /// A fitting of a newer version of this page as a file, as it stands.
    pub fn export_newer(self, id: String) {
        let Some(store) = self.store_now() else { return };
        leptos::task::spawn_local(async move {
            let text = store.export_unread(&id).await;
            self.offer(storage_words::FILE_NEWER, text);
        });
    }

    /// Offers a file; whether that could be done.
    fn offer(self, name: &str, text: Result<String, StoreError>) -> bool {
        match text {
            Ok(text) => match file::offer(name, &text) {
                Ok(()) => return true,
                Err(trouble) => self.tell(trouble, name),
            },
            Err(error) => self.tell_store(&error),
        }
        false
    }

    /// Adds what a file holds; what was added, or nothing where it was refused.
    pub async fn import(self, text: &str) -> Option<Imported> {
        match self.store_when_open().await.import(text).await {
            Ok(imported) => Some(imported),
            Err(error) => {
                self.tell_store(&error);
                None
            }
        }
    }
}
