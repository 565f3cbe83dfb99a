//! What a device says it is, as a browser shows it, and how its states become samples.
#![deny(missing_docs)]
