//! Several devices on one host.

use fitting::visit::{DeviceRole, DeviceUsed, Host};

/// What has to be known of devices that are used together on one host. Devices go by their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Together {
    /// What comes from all of them makes up one controller.
    Joined,
    /// The host takes each for a player of its own, if it takes more than one.
    Apart,
    /// There are more devices than ports for them.
    TooFewPorts {
        /// How many ports the host has.
        ports: usize,
        /// How many devices.
        devices: usize,
    },
    /// Two devices in one port.
    SamePort {
        /// The port, by its place.
        port: u32,
        /// One device.
        first: usize,
        /// The other.
        second: usize,
    },
    /// Two sticks that are to do the same job.
    SameStick {
        /// Left or right stick.
        role: DeviceRole,
        /// One device.
        first: usize,
        /// The other.
        second: usize,
    },
    /// Somebody else plays along, and the host does not join the two.
    SharedNeedsJoining(usize),
}

/// What has to be known of devices on one host, the worst last. Nothing of one alone.
///
/// A host with several ports has one place for a stick in each. Of one with a single port that
/// joins devices (a computer) the port stands for all its sockets.
#[must_use]
pub fn together(host: &Host, used: &[DeviceUsed]) -> Vec<Together> {
    if used.len() < 2 {
        return Vec::new();
    }
    let mut found = vec![if host.joins_two { Together::Joined } else { Together::Apart }];
    let pairs = || {
        let all = used.iter().enumerate();
        all.clone().flat_map(move |(first, one)| {
            all.clone().skip(first + 1).map(move |(second, other)| (first, one, second, other))
        })
    };
    for (first, one, second, other) in pairs() {
        let stick = matches!(one.role, DeviceRole::LeftStick | DeviceRole::RightStick);
        if stick && one.role == other.role {
            found.push(Together::SameStick { role: one.role, first, second });
        }
    }
    if !host.joins_two {
        let shared = used.iter().position(|one| one.role == DeviceRole::Shared);
        found.extend(shared.map(Together::SharedNeedsJoining));
    }
    let ports = host.ports.len();
    if ports > 1 {
        for (first, one, second, other) in pairs() {
            if one.port == other.port {
                found.push(Together::SamePort { port: one.port, first, second });
            }
        }
    }
    if used.len() > ports && (ports > 1 || !host.joins_two) {
        found.push(Together::TooFewPorts { ports, devices: used.len() });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use fitting::visit::ShippedHost;

    fn used(role: DeviceRole, port: u32) -> DeviceUsed {
        DeviceUsed { role, port, ..DeviceUsed::default() }
    }

    #[test]
    fn a_hub_joins_a_stick_in_each_port() {
        let hub = ShippedHost::HubTwoPorts.host();
        let both = [used(DeviceRole::LeftStick, 0), used(DeviceRole::RightStick, 1)];
        assert_eq!(together(&hub, &both), [Together::Joined]);
        assert_eq!(together(&hub, &both[..1]), []);
        let same = [used(DeviceRole::LeftStick, 0), used(DeviceRole::LeftStick, 0)];
        assert_eq!(
            together(&hub, &same),
            [
                Together::Joined,
                Together::SameStick { role: DeviceRole::LeftStick, first: 0, second: 1 },
                Together::SamePort { port: 0, first: 0, second: 1 },
            ]
        );
        let three = [both[0].clone(), both[1].clone(), used(DeviceRole::Buttons, 1)];
        assert_eq!(
            together(&hub, &three),
            [
                Together::Joined,
                Together::SamePort { port: 1, first: 1, second: 2 },
                Together::TooFewPorts { ports: 2, devices: 3 },
            ]
        );
    }

    #[test]
    fn a_computer_has_sockets_enough_and_one_port_has_not() {
        let both = [used(DeviceRole::LeftStick, 0), used(DeviceRole::Shared, 0)];
        assert_eq!(together(&ShippedHost::AnythingGoes.host(), &both), [Together::Joined]);
        assert_eq!(
            together(&ShippedHost::OnePort.host(), &both),
            [
                Together::Apart,
                Together::SharedNeedsJoining(1),
                Together::TooFewPorts { ports: 1, devices: 2 },
            ]
        );
    }
}
