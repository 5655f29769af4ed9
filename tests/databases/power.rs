//! Lost power: what the traced calls would leave on a disk that keeps only what was synced.
//!
//! POSIX promises no more than this: `fsync` of a file keeps its bytes, `fsync` of a folder keeps its names. Real file
//! systems keep more at times, so each moment is tried with everything unsynced lost and with a random part of it kept.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use store::{OpenOptions, Store};

use crate::order::{sync_places, without};
use crate::sample::Kept;
use crate::sound::{all_kept, all_kept_without_database};
use crate::trace::{Event, of_keeper};

#[test]
fn lost_power_at_any_moment_loses_nothing_acknowledged() {
    let events = two_runs();
    let moments = events.len();
    assert!(moments > 100, "the trace is too short to mean anything: {moments}");
    for unsynced in
        [Unsynced::Lost, Unsynced::PartlyKept(1), Unsynced::PartlyKept(2), Unsynced::PartlyKept(3)]
    {
        survives_every_moment(&events, unsynced).unwrap();
    }
}

/// The same trial must fail when any one sync between the first acknowledgement and the last is taken out.
#[test]
fn a_missing_sync_loses_something_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let events = of_keeper(folder.path(), 3, 3000);
    let said = |event: &Event| matches!(event, Event::Said(_));
    let (first, last) = (events.iter().position(said).unwrap(), events.iter().rposition(said).unwrap());
    let syncs: Vec<usize> =
        sync_places(&events).into_iter().filter(|place| (first..last).contains(place)).collect();
    assert_eq!(syncs.len(), 10, "five for each of two records");
    for place in syncs {
        let lost = survives_every_moment(&without(&events, place), Unsynced::Lost);
        assert!(lost.is_err(), "nothing is lost without {:?}", events[place]);
    }
}

/// A run from nothing, and one that continues it; both end by closing the database, which moves the
/// write-ahead log into the file.
fn two_runs() -> Vec<Event> {
    let folder = tempfile::tempdir().unwrap();
    [of_keeper(folder.path(), 3, 3000), of_keeper(folder.path(), 2, 20_000)].concat()
}

/// What becomes of bytes and names that were not synced.
#[derive(Clone, Copy, Debug)]
enum Unsynced {
    Lost,
    /// About half of them, by this seed.
    PartlyKept(u64),
}

impl Unsynced {
    /// Whether the disk after this event is the one before it, so that trying it again would show nothing new.
    fn leaves_alike(self, event: &Event) -> bool {
        matches!(self, Self::Lost) && !matches!(event, Event::Sync(_) | Event::Said(_))
    }
}

fn survives_every_moment(events: &[Event], unsynced: Unsynced) -> Result<(), String> {
    let (mut disk, mut kept) = (SyncedDisk::default(), Vec::new());
    for (moment, event) in events.iter().enumerate() {
        match event {
            Event::Said(line) => kept.extend(Kept::read(line)),
            event => disk.apply(event),
        }
        if unsynced.leaves_alike(event) {
            continue;
        }
        let folder = tempfile::tempdir().unwrap();
        disk.write_out(folder.path(), unsynced, moment);
        let store = Store::open(folder.path(), &OpenOptions::default());
        let sound = store.map_err(|error| error.to_string()).and_then(|store| all_kept(&store, &kept));
        sound.map_err(|why| format!("{unsynced:?}, after step {moment}: {why}"))?;
        if matches!(unsynced, Unsynced::Lost) {
            let folder = tempfile::tempdir().unwrap();
            disk.write_out(folder.path(), unsynced, moment);
            let sound = all_kept_without_database(folder.path(), &kept);
            sound.map_err(|why| format!("without database, after step {moment}: {why}"))?;
        }
    }
    Ok(())
}

/// Names point to files by number, as in a file system; a file is its synced bytes and the writes since.
#[derive(Default)]
struct SyncedDisk {
    files: Vec<FileState>,
    names: BTreeMap<PathBuf, Node>,
    synced_names: BTreeMap<PathBuf, Node>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Node {
    Folder,
    File(usize),
}

#[derive(Default)]
struct FileState {
    synced: Vec<u8>,
    now: Vec<u8>,
    since: Vec<Change>,
}

enum Change {
    Bytes(usize, Vec<u8>),
    Length(usize),
}

impl SyncedDisk {
    fn apply(&mut self, event: &Event) {
        match event {
            Event::MakeFolder(path) => drop(self.names.insert(path.clone(), Node::Folder)),
            Event::Create(path) => self.create(path),
            Event::Write(path, at, bytes) => {
                let file = self.file(path);
                let at = at.map_or(file.now.len(), |at| usize::try_from(at).unwrap());
                file.change(Change::Bytes(at, bytes.clone()));
            }
            Event::Truncate(path, length) => {
                self.file(path).change(Change::Length(usize::try_from(*length).unwrap()))
            }
            Event::Sync(path) => self.sync(path),
            Event::Rename(from, to) => {
                let node = self.names.remove(from).expect("only what exists is renamed");
                self.names.insert(to.clone(), node);
            }
            Event::Remove(path) => drop(self.names.remove(path)),
            Event::Said(_) => {}
        }
    }

    fn create(&mut self, path: &Path) {
        if !self.names.contains_key(path) {
            self.names.insert(path.to_path_buf(), Node::File(self.files.len()));
            self.files.push(FileState::default());
        }
    }

    fn file(&mut self, path: &Path) -> &mut FileState {
        match self.names.get(path) {
            Some(Node::File(number)) => &mut self.files[*number],
            _ => panic!("{} is written and was never created", path.display()),
        }
    }

    fn sync(&mut self, path: &Path) {
        if let Some(Node::File(number)) = self.names.get(path) {
            let file = &mut self.files[*number];
            file.synced.clone_from(&file.now);
            file.since.clear();
            return;
        }
        self.synced_names.retain(|name, _| name.parent() != Some(path));
        let inside = self.names.iter().filter(|(name, _)| name.parent() == Some(path));
        self.synced_names.extend(inside.map(|(name, node)| (name.clone(), *node)));
    }

    /// Writes into a real folder what would be there when power returns.
    fn write_out(&self, folder: &Path, unsynced: Unsynced, moment: usize) {
        let mut chance = Chance::new(unsynced, moment);
        let mut names = self.synced_names.clone();
        let all: Vec<&PathBuf> = self.names.keys().chain(self.synced_names.keys()).collect();
        for name in all.into_iter().filter(|name| self.names.get(*name) != self.synced_names.get(*name)) {
            if chance.kept() {
                match self.names.get(name) {
                    Some(node) => drop(names.insert(name.clone(), *node)),
                    None => drop(names.remove(name)),
                }
            }
        }
        // A folder stands before what it holds; what lies in a lost folder is lost.
        for (name, node) in names {
            let path = folder.join(name);
            match node {
                Node::Folder => drop(fs::create_dir(&path)),
                Node::File(number) => drop(fs::write(&path, self.files[number].after_loss(&mut chance))),
            }
        }
    }
}

impl FileState {
    fn change(&mut self, change: Change) {
        change.apply(&mut self.now);
        self.since.push(change);
    }

    fn after_loss(&self, chance: &mut Chance) -> Vec<u8> {
        let mut bytes = self.synced.clone();
        self.since.iter().filter(|_| chance.kept()).for_each(|change| change.apply(&mut bytes));
        bytes
    }
}

impl Change {
    fn apply(&self, bytes: &mut Vec<u8>) {
        match self {
            Self::Bytes(at, new) => {
                bytes.resize(bytes.len().max(at + new.len()), 0);
                bytes[*at..at + new.len()].copy_from_slice(new);
            }
            Self::Length(length) => bytes.resize(*length, 0),
        }
    }
}

/// Decides for each unsynced change whether it reached the disk; the same seed and moment decide the same.
struct Chance(Option<u64>);

impl Chance {
    fn new(unsynced: Unsynced, moment: usize) -> Self {
        match unsynced {
            Unsynced::Lost => Self(None),
            Unsynced::PartlyKept(seed) => {
                Self(Some((seed << 32 | moment as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1))
            }
        }
    }

    fn kept(&mut self) -> bool {
        let Some(state) = &mut self.0 else { return false };
        *state ^= *state << 13;
        *state ^= *state >> 7;
        *state ^= *state << 17;
        *state >> 63 == 1
    }
}
