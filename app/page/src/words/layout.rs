//! The places of the open standard's layout (W3C Gamepad, "Standard Gamepad").

/// A button, by its number there.
pub const fn button(number: u8) -> &'static str {
    match number {
        0 => "right cluster, bottom",
        1 => "right cluster, right",
        2 => "right cluster, left",
        3 => "right cluster, top",
        4 => "left shoulder",
        5 => "right shoulder",
        6 => "left trigger",
        7 => "right trigger",
        8 => "centre, left",
        9 => "centre, right",
        10 => "left stick pressed",
        11 => "right stick pressed",
        12 => "left cluster, top",
        13 => "left cluster, bottom",
        14 => "left cluster, left",
        15 => "left cluster, right",
        _ => "centre, middle",
    }
}
