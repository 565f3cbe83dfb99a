//! Which axes and buttons of a device get through a port.

use super::facts::DeviceFacts;
use fitting::visit::{AxesTaken, Hat, Port};

/// Usages of the axes a port takes by name (HID Usage Tables, Generic Desktop).
const X: u32 = 0x1_0030;
const Y: u32 = 0x1_0031;

/// What gets through a port, by numbers from 0 in the order of the device's report.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Passes {
    /// The axes, in the order in which the port takes them; hats among them where it passes these.
    pub axes: Vec<usize>,
    /// Those that are lost.
    pub axes_lost: Vec<usize>,
    /// Whether a hat is lost, or nobody knows.
    pub hat: HatPasses,
    /// How many buttons get through: the first ones.
    pub buttons: u32,
    /// How many are lost: the last ones.
    pub buttons_lost: u32,
}

/// What becomes of a device's hat.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HatPasses {
    /// The device has none, or nobody knows of one.
    #[default]
    None,
    /// It gets through.
    Through,
    /// It gets through, as axes.
    AsAxes,
    /// It is lost.
    Lost,
    /// Nobody knows what the port does with it.
    Unknown,
}

/// What of a device gets through a port.
///
/// Buttons: the first ones of the report, as common practice has it (no source). Axes: the first
/// ones, or X and Y by their usage where the port goes by it and the usages are known.
#[must_use]
pub fn passes(device: &DeviceFacts, port: &Port) -> Passes {
    let axes = device.axes.as_deref().unwrap_or_default();
    let hats = axes.iter().any(|axis| axis.is_hat);
    let hat = match (hats, port.hat) {
        (false, _) => HatPasses::None,
        (true, Hat::Dropped) => HatPasses::Lost,
        (true, Hat::Through) => HatPasses::Through,
        (true, Hat::AsAxes) => HatPasses::AsAxes,
        (true, Hat::Unknown) => HatPasses::Unknown,
    };
    let mut order: Vec<usize> = (0..axes.len()).filter(|index| !axes[*index].is_hat).collect();
    if port.axes_taken == AxesTaken::XAndYFirst {
        // A stable sort: X, Y, then the rest as they come.
        order.sort_by_key(|index| match axes[*index].usage {
            Some(X) => 0,
            Some(Y) => 1,
            _ => 2,
        });
    }
    if hat == HatPasses::AsAxes {
        order.extend((0..axes.len()).filter(|index| axes[*index].is_hat));
    }
    let lost = order.split_off(order.len().min(port.axes as usize));
    let has = device.buttons.unwrap_or(0);
    let buttons = has.min(port.buttons);
    Passes { axes: order, axes_lost: lost, hat, buttons, buttons_lost: has - buttons }
}
