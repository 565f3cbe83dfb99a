//! Placeholder header, replaced by the room's own.
