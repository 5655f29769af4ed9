//! What the records of one log knew of the job's other logs.

use std::collections::BTreeMap;

use crate::Digest;

/// Sequence of our record, device and leaf hash of theirs. Every record may name every other device, so each device's
/// name is kept once.
#[derive(Debug, Default)]
pub struct Others {
    /// Its number by the device's name.
    devices: BTreeMap<String, u32>,
    /// Sequence, number of the device, leaf hash.
    known: Vec<(u32, u32, Digest)>,
}

impl Others {
    /// Takes up what the record with this sequence knew.
    pub fn push(&mut self, sequence: u64, device: &str, leaf: Digest) {
        // Neither reaches 32 bits: a log in a packet has at most a million records of at most 1 MiB.
        let number = self.devices.get(device).copied().unwrap_or(self.devices.len() as u32);
        if number as usize == self.devices.len() {
            self.devices.insert(device.to_owned(), number);
        }
        self.known.push((sequence as u32, number, leaf));
    }

    /// In the order in which they were taken up.
    pub fn iter(&self) -> impl Iterator<Item = (u64, &str, &Digest)> {
        let mut names = vec![""; self.devices.len()];
        for (name, number) in &self.devices {
            names.get_mut(*number as usize).into_iter().for_each(|slot| *slot = name);
        }
        self.known.iter().map(move |(sequence, number, leaf)| {
            let device = names.get(*number as usize).copied().unwrap_or_default();
            (u64::from(*sequence), device, leaf)
        })
    }

    /// Whether a record knew of this device.
    pub fn names(&self, device: &str) -> bool {
        self.devices.contains_key(device)
    }
}
