//! Several devices in one fitting: each is checked and fitted by itself, in series of its own.

use super::super::series::{Recorded, SetUpChange, last};
use super::super::{MOST_SET_UPS, SetUp, Visit};
use super::{DeviceUsed, MOST_DEVICES};

impl Visit {
    /// The place of the device in use among those used together; 0 where there is one alone.
    #[must_use]
    pub fn device_in_use(&self) -> u32 {
        self.set_up().map_or(0, |set_up| set_up.device)
    }

    /// The device in use, where there are several.
    #[must_use]
    pub fn used_now(&self) -> Option<&DeviceUsed> {
        self.devices.used.get(self.device_in_use() as usize)
    }

    /// Takes another device into the fitting, beside the `present` one where that was alone.
    /// Nothing is changed where there is no room. Its place.
    pub fn add_device(&mut self, present: &DeviceUsed, added: &DeviceUsed) -> Option<u32> {
        let used = &mut self.devices.used;
        if used.len() >= MOST_DEVICES {
            return None;
        }
        if used.is_empty() {
            used.push(present.clone());
        }
        let place = u32::try_from(used.len()).ok()?;
        // Each in a port of its own, as far as there are ports.
        used.push(DeviceUsed { port: place, ..added.clone() });
        *self = self.tidied();
        Some(place)
    }

    /// Goes on with another device: with the last series told of it. Where there is none, one
    /// begins in which the person sits as before, and of the stick's place nothing is told yet.
    pub fn use_device(&mut self, place: u32, recorded: &Recorded) -> SetUpChange {
        if place == self.device_in_use() || place as usize >= self.devices.used.len() {
            return SetUpChange::Same;
        }
        if let Some(series) = self.set_ups.iter().rposition(|set_up| set_up.device == place) {
            self.go_back_to(u32::try_from(series).unwrap_or(u32::MAX), recorded);
            return SetUpChange::Back;
        }
        let before = self.series_in_use;
        let now = self.set_up().cloned().unwrap_or_default();
        if self.set_ups.is_empty() {
            self.set_ups.push(SetUp::default());
        }
        if self.set_ups.len() >= MOST_SET_UPS {
            return SetUpChange::Full;
        }
        self.set_ups.push(SetUp {
            device: place,
            seat: now.seat,
            trunk: now.trunk,
            head: now.head,
            glasses: now.glasses,
            ..SetUp::default()
        });
        self.series_in_use = last(&self.set_ups);
        SetUpChange::NewSeries(before)
    }

    /// Takes out a device with which nothing was recorded and that is not in use. The one that is
    /// left is alone again. Whether it could.
    pub fn remove_device(&mut self, place: u32, recorded: &Recorded) -> bool {
        let of_it = |set_up: &SetUp| set_up.device == place;
        let any_recorded = (0_u32..)
            .zip(&self.set_ups)
            .any(|(series, set_up)| of_it(set_up) && recorded.any.contains(&series));
        if any_recorded
            || place == self.device_in_use()
            || place as usize >= self.devices.used.len()
        {
            return false;
        }
        // Series go by their place: those of this device can only be taken off the end.
        let kept = self.set_ups.iter().rposition(|set_up| !of_it(set_up)).map_or(0, |at| at + 1);
        if self.set_ups.iter().take(kept).any(of_it) {
            return false;
        }
        self.set_ups.truncate(kept);
        self.devices.used.remove(place as usize);
        self.devices.buttons.retain(|note| note.device != place);
        let alone = self.devices.used.len() == 1;
        let moved = |device: u32| if alone { 0 } else { device - u32::from(device > place) };
        self.set_ups.iter_mut().for_each(|set_up| set_up.device = moved(set_up.device));
        self.devices.buttons.iter_mut().for_each(|note| note.device = moved(note.device));
        if alone {
            self.devices.port = self.devices.used.first().map_or(0, |used| used.port);
            self.devices.used.clear();
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::summary::DeviceSeen;
    use crate::visit::{ButtonNote, Ease};
    use proptest::prelude::*;
    use std::collections::BTreeSet;

    fn device(name: &str) -> DeviceUsed {
        let device = DeviceSeen { name: name.to_owned(), axes: 2, ..DeviceSeen::default() };
        DeviceUsed { device, ..DeviceUsed::default() }
    }

    fn recorded(series: &[u32]) -> Recorded {
        let series: BTreeSet<u32> = series.iter().copied().collect();
        Recorded { assessed: series.clone(), any: series }
    }

    fn two() -> Visit {
        let mut visit = Visit {
            set_ups: vec![SetUp {
                seat: "Armchair".to_owned(),
                reference: "Tray".to_owned(),
                ..SetUp::default()
            }],
            ..Visit::default()
        };
        assert_eq!(visit.add_device(&device("stick"), &device("pad")), Some(1));
        visit
    }

    #[test]
    fn each_device_has_series_of_its_own() {
        let mut visit = two();
        assert_eq!(visit.devices.used.len(), 2);
        assert_eq!(visit.device_in_use(), 0);
        let change = visit.use_device(1, &recorded(&[]));
        assert_eq!(change, SetUpChange::NewSeries(0), "nothing of the first is written over");
        assert_eq!((visit.series(), visit.device_in_use()), (1, 1));
        let set_up = visit.set_up().expect("a set-up");
        assert_eq!((set_up.seat.as_str(), set_up.reference.as_str()), ("Armchair", ""));
        // What was told of it stays, though nothing was recorded with it yet.
        let told = SetUp { reference: "Knee".to_owned(), ..set_up.clone() };
        visit.change_set_up(&told, &recorded(&[]));
        assert_eq!(visit.use_device(0, &recorded(&[])), SetUpChange::Back);
        assert_eq!((visit.series(), visit.set_ups.len()), (0, 2));
        assert_eq!(visit.use_device(1, &recorded(&[0])), SetUpChange::Back);
        assert_eq!(visit.set_up().map(|one| one.reference.as_str()), Some("Knee"));
        assert_eq!(visit.use_device(1, &recorded(&[0])), SetUpChange::Same);
        assert_eq!(visit.use_device(7, &recorded(&[0])), SetUpChange::Same, "no such device");
        assert!(!visit.correct_set_up(0, &recorded(&[0])), "the first is another device's");
    }

    #[test]
    fn a_device_can_be_taken_out_while_nothing_was_recorded_with_it() {
        let mut visit = two();
        let note = |device| ButtonNote { device, ease: Ease::Easy, ..ButtonNote::default() };
        visit.devices.buttons = vec![note(0), note(1)];
        visit.use_device(1, &recorded(&[0]));
        assert!(!visit.remove_device(1, &recorded(&[0])), "it is in use");
        visit.use_device(0, &recorded(&[0]));
        assert!(!visit.remove_device(1, &recorded(&[0, 1])), "something was recorded with it");
        assert!(visit.remove_device(1, &recorded(&[0])));
        assert_eq!((visit.devices.used.len(), visit.set_ups.len()), (0, 1), "one alone again");
        assert_eq!(visit.devices.buttons, [note(0)]);
    }

    #[test]
    fn there_is_room_for_so_many() {
        let mut visit = two();
        for number in 2..9 {
            let place = visit.add_device(&device("stick"), &device(&format!("number {number}")));
            assert_eq!(place.is_some(), number < MOST_DEVICES);
        }
        assert_eq!(visit.devices.used.len(), MOST_DEVICES);
    }

    proptest! {
        /// Whatever is done in whatever order: the device in use is one of them, every series with
        /// records stays with its device, and the visit is in the form that is kept.
        #[test]
        fn no_series_changes_its_device(
            steps in proptest::collection::vec((0..4_u8, 0..4_u32, proptest::bool::ANY), 0..40),
        ) {
            let mut visit = Visit::default();
            let mut so_far = Recorded::default();
            let mut names: Vec<(u32, String)> = Vec::new();
            let name = |visit: &Visit, series: u32| {
                let place = visit.set_ups.get(series as usize).map_or(0, |one| one.device);
                let used = visit.devices.used.get(place as usize);
                used.map_or_else(|| "stick 9".to_owned(), |used| used.device.name.clone())
            };
            for (number, (what, which, record)) in steps.into_iter().enumerate() {
                match what {
                    0 => {
                        visit.add_device(&device("stick 9"), &device(&format!("added {number}")));
                    }
                    1 => {
                        visit.use_device(which, &so_far);
                    }
                    2 => {
                        visit.remove_device(which, &so_far);
                    }
                    _ => {
                        let set_up = SetUp {
                            reference: format!("hole {which}"),
                            ..visit.set_up().cloned().unwrap_or_default()
                        };
                        visit.change_set_up(&set_up, &so_far);
                    }
                }
                let used = visit.devices.used.len();
                prop_assert!(used != 1 && (visit.device_in_use() as usize) < used.max(1));
                prop_assert_eq!(visit.tidied(), visit.clone());
                if record {
                    let series = visit.series();
                    so_far.assessed.insert(series);
                    so_far.any.insert(series);
                    names.push((series, name(&visit, series)));
                }
                for (series, then) in &names {
                    // The last one left has no entry of its own any more.
                    let now = name(&visit, *series);
                    prop_assert!(now == *then || used == 0, "{} {}", now, then);
                }
            }
        }
    }
}
