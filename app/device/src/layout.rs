//! The words of the open standard layout: where each axis and button of a pad lies.
//!
//! Source: W3C Gamepad, "Standard Gamepad". Only a device whose mapping is `standard` follows
//! it; of any other device nothing but the number of an axis or button is known.

/// The mapping string of devices that follow the standard layout.
pub const STANDARD_MAPPING: &str = "standard";

/// The axes of the standard layout, in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StandardAxis {
    /// Left stick, negative to the left.
    LeftStickHorizontal,
    /// Left stick, negative up (away from the person).
    LeftStickVertical,
    /// Right stick, negative to the left.
    RightStickHorizontal,
    /// Right stick, negative up (away from the person).
    RightStickVertical,
}

/// The buttons of the standard layout, in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StandardButton {
    /// Bottom button in the right cluster.
    RightClusterBottom,
    /// Right button in the right cluster.
    RightClusterRight,
    /// Left button in the right cluster.
    RightClusterLeft,
    /// Top button in the right cluster.
    RightClusterTop,
    /// Top left front button: the left shoulder.
    LeftShoulder,
    /// Top right front button: the right shoulder.
    RightShoulder,
    /// Bottom left front button: the left trigger.
    LeftTrigger,
    /// Bottom right front button: the right trigger.
    RightTrigger,
    /// Left button in the centre cluster.
    CentreClusterLeft,
    /// Right button in the centre cluster.
    CentreClusterRight,
    /// The left stick pressed in.
    LeftStickPressed,
    /// The right stick pressed in.
    RightStickPressed,
    /// Top button in the left cluster.
    LeftClusterTop,
    /// Bottom button in the left cluster.
    LeftClusterBottom,
    /// Left button in the left cluster.
    LeftClusterLeft,
    /// Right button in the left cluster.
    LeftClusterRight,
    /// Centre button in the centre cluster.
    CentreClusterCentre,
}

impl StandardAxis {
    /// All four, in the order of the standard.
    pub const ALL: [Self; 4] = [
        Self::LeftStickHorizontal,
        Self::LeftStickVertical,
        Self::RightStickHorizontal,
        Self::RightStickVertical,
    ];

    /// The axis of this number, for a device with this mapping.
    #[must_use]
    pub fn of(mapping: &str, index: usize) -> Option<Self> {
        if mapping == STANDARD_MAPPING { Self::ALL.get(index).copied() } else { None }
    }
}

impl StandardButton {
    /// All seventeen, in the order of the standard.
    pub const ALL: [Self; 17] = [
        Self::RightClusterBottom,
        Self::RightClusterRight,
        Self::RightClusterLeft,
        Self::RightClusterTop,
        Self::LeftShoulder,
        Self::RightShoulder,
        Self::LeftTrigger,
        Self::RightTrigger,
        Self::CentreClusterLeft,
        Self::CentreClusterRight,
        Self::LeftStickPressed,
        Self::RightStickPressed,
        Self::LeftClusterTop,
        Self::LeftClusterBottom,
        Self::LeftClusterLeft,
        Self::LeftClusterRight,
        Self::CentreClusterCentre,
    ];

    /// The button of this number, for a device with this mapping.
    #[must_use]
    pub fn of(mapping: &str, index: usize) -> Option<Self> {
        if mapping == STANDARD_MAPPING { Self::ALL.get(index).copied() } else { None }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_standard_mapping_has_words() {
        assert_eq!(StandardAxis::of("standard", 3), Some(StandardAxis::RightStickVertical));
        assert_eq!(StandardAxis::of("standard", 4), None);
        assert_eq!(StandardAxis::of("", 0), None);
        assert_eq!(StandardButton::of("xr-standard", 0), None);
        assert_eq!(StandardButton::of("standard", 17), None);
    }
}
