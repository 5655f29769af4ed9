//! Records that don't count: those that nobody known signed for, and those whose bytes can't be read.

use crate::doubt::RecordDoubt;
use crate::event::RecordsTakenIn;
use crate::{Job, TimelineRecord};
use evidence::{Digest, Record};

impl Job {
    /// Adds a record that nobody known signed for: it is seen and counts nowhere.
    pub fn add_not_vouched(&mut self, leaf: Digest, record: &Record) {
        self.places.insert(leaf, self.timeline.len());
        self.timeline.push(TimelineRecord {
            record: leaf,
            device: record.device.clone(),
            sequence: record.sequence,
            kind: record.kind.clone(),
            wall: record.wall.clone(),
            event: None,
            unusable: String::new(),
            photos: record.photos.iter().map(|photo| photo.sha256).collect(),
            doubts: vec![RecordDoubt::NotVouched],
            vouched: false,
        });
    }

    pub(crate) fn mark_taken_in(&mut self, device: &str, taken: &RecordsTakenIn) {
        let (first, count) = (u64::from(taken.first), u64::from(taken.count));
        let taken = first..first.saturating_add(count);
        let within = |entry: &&mut TimelineRecord| entry.device == device && taken.contains(&entry.sequence);
        self.timeline.iter_mut().filter(within).for_each(|entry| entry.doubts.push(RecordDoubt::SignedLater));
    }

    /// Adds a record whose bytes can't be read at all, in its place.
    pub fn add_unreadable(&mut self, leaf: Digest, device: &str, sequence: u64, why: &str) {
        self.places.insert(leaf, self.timeline.len());
        self.timeline.push(TimelineRecord {
            record: leaf,
            device: device.to_owned(),
            sequence,
            kind: String::new(),
            wall: self.changed_wall.clone(),
            event: None,
            unusable: why.to_owned(),
            photos: Vec::new(),
            doubts: vec![RecordDoubt::Unusable],
            vouched: true,
        });
    }
}
