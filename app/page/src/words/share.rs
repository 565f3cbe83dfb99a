//! Words of sharing: what goes in, the forms, short summaries, pictures.

/// The section.
pub const TITLE: &str = "Share with others";
/// What goes in.
pub const INCLUDED: &str = "What goes in";
/// The label.
pub fn label(label: &str) -> String {
    format!("The name on it: “{label}”")
}
/// Notes.
pub const NOTES: &str = "Notes, and everything told at the visit (file only)";
/// Recordings.
pub const RECORDINGS: &str = "The recordings of every movement (file only)";
/// The preview.
pub const PREVIEW: &str = "This is what others get to see";
/// Always in it.
pub fn always(device: &str, day: &str) -> String {
    format!("In it: the settings, what was measured, the stick ({device}), the day ({day})")
}
/// With the name.
pub const WITH_LABEL: &str = ", the name";
/// With notes.
pub const WITH_NOTES: &str = ", notes and what was told at the visit";
/// With recordings.
pub fn with_recordings(count: usize) -> String {
    format!(", {count} {}", if count == 1 { "recording" } else { "recordings" })
}
/// Not in it.
pub fn not_in_it(things: &[&str]) -> String {
    format!("Not in it: {}.", things.join(", "))
}
/// The label, left out.
pub const NO_LABEL: &str = "the name";
/// Notes, left out.
pub const NO_NOTES: &str = "notes, pain, help and all else told at the visit";
/// Recordings, left out.
pub const NO_RECORDINGS: &str = "recordings";
/// What sharing is.
pub const CAUTION: &str = "Nothing is sent by this page: you pass it on yourself. How somebody \
    moves says something about their health, so ask them first. A link cannot be called back; \
    whoever has it can read it and pass it on.";
/// A file for others.
pub const SAVE_COPY: &str = "Save a copy for others as a file";
/// A short summary.
pub const MAKE_SHORT: &str = "Make a short text and a code";
/// What it is.
pub const SHORT_HELP: &str = "Settings and main figures as a text for a message, and as a code for \
    a camera to read from this screen or from paper. Never with a name.";
/// The text.
pub const SHORT: &str = "The short text";
/// How long it is.
pub fn short_length(characters: usize, most: usize) -> String {
    format!("{characters} of at most {most} characters.")
}
/// Copy it.
pub const COPY_SHORT: &str = "Copy the short text";
/// The code, for those who cannot see it.
pub const CODE: &str = "The short text as a code to be read by a camera";
/// It does not fit.
pub fn short_too_long(characters: usize, most: usize) -> String {
    format!(
        "This summary does not fit a short text: it would take {characters} characters, and {most} \
         are the most. Save the file instead, or make a link."
    )
}
/// Take it from a message.
pub const PASTE: &str = "Paste a link or a short text";
/// What for.
pub const PASTE_HELP: &str =
    "From a message or from what a camera read. It is shown, and not kept.";
/// Show it.
pub const SHOW: &str = "Show it";
/// Cannot be read.
pub const NOT_OURS: &str =
    "This is neither a link nor a short text of this page. Nothing was changed.";
/// Newer.
pub const NEWER: &str = "A newer version of this page made this text. Load the page anew with a \
    network, then try again.";
/// Damaged.
pub const DAMAGED: &str = "This text was cut off or changed on the way. Ask for it again, or for the \
    file.";
/// Heading of what was read.
pub const READ: &str = "From a short text";
/// What it lacks.
pub fn read_text(day: &str, axes: u32, buttons: u32) -> String {
    format!(
        "Made on {day} with a stick of {axes} {} and {buttons} {}. A short text holds the settings and \
         the main figures only.",
        if axes == 1 { "axis" } else { "axes" },
        if buttons == 1 { "button" } else { "buttons" },
    )
}
/// Played by nobody.
pub const READ_PRACTISED: &str = "Made with the practice stick or an invented person.";
/// Reach.
pub const READ_REACH: &str = "Comfortable reach";
/// Wander.
pub const READ_WANDER: &str = "Moves by itself while resting, mostly within";
/// Before.
pub const READ_BEFORE: &str = "False movements a minute, stick as it is";
/// After.
pub const READ_AFTER: &str = "False movements a minute, with these settings";

/// Pictures.
pub const PICTURES: &str = "Save the pictures on this page";
/// None there.
pub const NO_PICTURES: &str = "There is no picture on this page yet.";
/// As a drawing.
pub const AS_SVG: &str = "Save as SVG";
/// As an image.
pub const AS_PNG: &str = "Save as PNG";
/// What the two are.
pub const PICTURES_HELP: &str = "SVG stays sharp at any size; PNG goes into any document.";
/// A picture without a name.
pub const PICTURE: &str = "Picture";
/// The file's name.
pub const FILE_COPY: &str = "stick-fitting-copy.json";
