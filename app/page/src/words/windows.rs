//! One fitting in two windows.

use crate::state::Elsewhere;

/// Asked for here.
pub const TITLE: &str = "This fitting is open in another window";
/// What can be done.
pub const TEXT: &str = "Only one window can keep a fitting. If you use it here, the other window \
    keeps what it has, also of a running task, and stops.";
/// Here.
pub const USE_HERE: &str = "Use it here";
/// There.
pub const LEAVE: &str = "Leave it there";
/// Back again.
pub const TAKE_BACK: &str = "Use it here again";
/// Away.
pub const CLOSE: &str = "Close it here";
/// It is open elsewhere and cannot be deleted.
pub const CLOSE_FIRST: &str = "This fitting is open in another window. Close it there first.";

/// What became of it.
pub const fn what(elsewhere: Elsewhere) -> &'static str {
    match elsewhere {
        Elsewhere::TakenOver => {
            "This fitting goes on in another window. What was kept is kept; nothing you do here is \
             kept any more."
        }
        Elsewhere::Deleted => {
            "This fitting was deleted in another window. Nothing of it is kept any more; what you \
             see is gone when you leave it."
        }
    }
}
