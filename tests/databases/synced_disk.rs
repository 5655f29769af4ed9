//! A disk that keeps only what was synced, made again from what was done to it.
//!
//! POSIX promises no more than this: `fsync` of a file keeps its bytes, `fsync` of a folder keeps its names.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use crate::trace::Event;

/// What a disk writes whole or not at all, bytes.
const SECTOR: usize = 512;

/// What becomes of bytes and names that were not synced.
#[derive(Clone, Copy, Debug)]
pub enum Unsynced {
    Lost,
    /// About half of them, by this seed; later ones may be there without earlier ones.
    PartlyKept(u64),
    /// All of them, but the last write only in part, by this seed.
    Torn(u64),
}

impl Unsynced {
    /// Whether the disk after this event is the one before it, so that trying it again would show nothing new.
    pub fn leaves_alike(self, event: &Event) -> bool {
        matches!(self, Self::Lost) && !matches!(event, Event::Sync(_) | Event::Said(_))
    }
}

/// Names point to files by number, as in a file system; a file is its synced bytes and the writes since.
#[derive(Default)]
pub struct SyncedDisk {
    files: Vec<FileState>,
    /// Number of the file that was written last.
    last: Option<usize>,
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
    pub fn apply(&mut self, event: &Event) {
        match event {
            Event::MakeFolder(path) => drop(self.names.insert(path.clone(), Node::Folder)),
            Event::Create(path) => self.create(path),
            Event::Write(path, at, bytes) => {
                if let Some(Node::File(number)) = self.names.get(path) {
                    self.last = Some(*number);
                }
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
    pub fn write_out(&self, folder: &Path, unsynced: Unsynced, moment: usize) {
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
                Node::File(number) => {
                    let torn = matches!(unsynced, Unsynced::Torn(_)) && self.last == Some(number);
                    let file = &self.files[number];
                    let bytes = if torn { file.torn(&mut chance) } else { file.after_loss(&mut chance) };
                    let _ = fs::write(&path, bytes);
                }
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

impl FileState {
    /// Everything, but of the last write only some of its sectors, and of the last of those only some bytes.
    fn torn(&self, chance: &mut Chance) -> Vec<u8> {
        let mut bytes = self.synced.clone();
        let Some((last, before)) = self.since.split_last() else { return bytes };
        before.iter().for_each(|change| change.apply(&mut bytes));
        let Change::Bytes(at, written) = last else { return bytes };
        let sectors: Vec<usize> = (0..written.len()).step_by(SECTOR).filter(|_| chance.half()).collect();
        for (number, start) in sectors.iter().enumerate() {
            let whole = &written[*start..written.len().min(start + SECTOR)];
            let part = if number + 1 == sectors.len() { &whole[..chance.below(whole.len())] } else { whole };
            Change::Bytes(at + start, part.to_vec()).apply(&mut bytes);
        }
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
struct Chance {
    unsynced: Unsynced,
    state: u64,
}

impl Chance {
    fn new(unsynced: Unsynced, moment: usize) -> Self {
        let (Unsynced::PartlyKept(seed) | Unsynced::Torn(seed)) = unsynced else {
            return Self { unsynced, state: 1 };
        };
        Self { unsynced, state: (seed << 32 | moment as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1 }
    }

    fn kept(&mut self) -> bool {
        match self.unsynced {
            Unsynced::Lost => false,
            Unsynced::PartlyKept(_) => self.half(),
            Unsynced::Torn(_) => true,
        }
    }

    fn half(&mut self) -> bool {
        self.next() >> 63 == 1
    }

    fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() >> 33).unwrap() % limit.max(1)
    }

    fn next(&mut self) -> u64 {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        self.state
    }
}
