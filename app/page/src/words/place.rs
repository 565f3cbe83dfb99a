//! Where the stick is, for somebody with a tape measure.

use fitting::visit::SetUp;

/// A space that does not break.
const SPACE: char = '\u{a0}';

/// The title.
pub const TITLE: &str = "Where the stick goes";
/// No number is known.
pub const NONE: &str = "Where the stick is was not measured yet.";
/// The view from the side.
pub const FROM_SIDE: &str = "Seen from the person’s right side";
/// The view from above.
pub const FROM_ABOVE: &str = "Seen from above";
/// The way the person looks.
pub const FORWARD: &str = "the person looks this way";
/// At the reference.
pub const FROM_HERE: &str = "from here";
/// A length nobody measured.
pub const UNMEASURED: &str = "not measured";
/// The same in two lines.
pub const UNMEASURED_IN_TWO: (&str, &str) = ("not", "measured");
/// What is measured to.
pub const FOOT: &str = "Measure to where the stick leaves its box, in the middle.";

/// What a reference is called that nobody named.
const UNNAMED: &str = "the reference (nobody named it)";

fn side(number: i32, plus: &'static str, minus: &'static str) -> &'static str {
    match number {
        0 => "",
        1.. => plus,
        _ => minus,
    }
}

fn length(number: i32) -> String {
    format!("{}{SPACE}mm", number.unsigned_abs())
}

/// A length forward, for the picture: number, and where to.
pub fn forward(number: i32) -> (String, &'static str) {
    (length(number), side(number, "forward", "back"))
}

/// A length to the right, for the picture.
pub fn right(number: i32) -> (String, &'static str) {
    (length(number), side(number, "right", "left"))
}

/// A length upwards, for the picture.
pub fn up(number: i32) -> (String, &'static str) {
    (length(number), side(number, "up", "down"))
}

/// An angle, for the picture.
pub fn angle(degrees: i32) -> String {
    format!("{}°", degrees.unsigned_abs())
}

/// The steps with a tape measure, in the order in which they are done.
pub fn steps(set_up: &SetUp) -> Vec<String> {
    let reference = match set_up.reference.as_str() {
        "" => UNNAMED,
        named => named,
    };
    let mut steps = vec![format!("Start at: {reference}.")];
    let level = |number: i32, said: &str, none: &str| match number {
        0 => format!("{none}."),
        _ => format!("{} {said}.", length(number)),
    };
    if let Some(number) = set_up.forward_mm {
        let to =
            side(number, "forward, away from the person’s back", "back, towards the person’s back");
        steps.push(level(number, to, "Neither forward nor back (0 mm)"));
    }
    if let Some(number) = set_up.right_mm {
        let to = side(number, "to the person’s right", "to the person’s left");
        steps.push(level(number, to, "Neither to the right nor to the left (0 mm)"));
    }
    if let Some(number) = set_up.up_mm {
        let to = side(number, "up", "down");
        steps.push(level(number, to, "At the same height (0 mm)"));
    }
    steps.push(FOOT.to_owned());
    if let Some(degrees) = set_up.tilt_degrees {
        let to = side(degrees, "away from the person", "towards the person");
        steps.push(match degrees {
            0 => "Upright: no tilt.".to_owned(),
            _ => format!("Tilt it {} {to}.", angle(degrees)),
        });
    }
    if let Some(degrees) = set_up.turn_degrees {
        let to = side(degrees, "clockwise", "against the clock");
        steps.push(match degrees {
            0 => "Straight ahead: no turn.".to_owned(),
            _ => format!("Turn it {} {to}, seen from above.", angle(degrees)),
        });
    }
    if !set_up.clamp_mark.is_empty() {
        steps.push(format!("The clamp’s mark: {}.", set_up.clamp_mark));
    }
    if !set_up.topper.is_empty() {
        steps.push(format!("On top of it: {}.", set_up.topper));
    }
    steps
}

/// A picture in words.
pub fn described(view: &str, parts: &[String]) -> String {
    format!("{view}: {}.", parts.join(", "))
}

/// A labelled length or angle in words.
pub fn labelled((number, to): &(String, &'static str)) -> String {
    format!("{number} {to}").trim_end().to_owned()
}

/// The tilt, for the description of a picture.
pub fn tilted(degrees: i32) -> String {
    let to = side(degrees, " away from the person", " towards the person");
    format!("tilted {}{to}", angle(degrees))
}

/// The turn, for the description of a picture.
pub fn turned(degrees: i32) -> String {
    let to = side(degrees, " clockwise", " against the clock");
    format!("turned {}{to}", angle(degrees))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_steps_name_every_number_with_its_side() {
        let set_up = SetUp {
            reference: "Front edge of the left arm rest".to_owned(),
            forward_mm: Some(-40),
            right_mm: Some(0),
            up_mm: Some(15),
            tilt_degrees: Some(-10),
            turn_degrees: Some(20),
            clamp_mark: "B3".to_owned(),
            ..SetUp::default()
        };
        assert_eq!(
            steps(&set_up),
            [
                "Start at: Front edge of the left arm rest.",
                "40\u{a0}mm back, towards the person’s back.",
                "Neither to the right nor to the left (0 mm).",
                "15\u{a0}mm up.",
                FOOT,
                "Tilt it 10° towards the person.",
                "Turn it 20° clockwise, seen from above.",
                "The clamp’s mark: B3.",
            ]
        );
    }
}
