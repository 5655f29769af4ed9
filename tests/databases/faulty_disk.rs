//! A disk layer whose steps can be made to fail or to lie, and whose power can be cut.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use store::{Access, Disk, NewFile, RealDisk};

/// What happens at one step, counted from 0 over all calls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    None,
    /// The step fails with this error, and nothing else does.
    Fails(usize, io::ErrorKind),
    /// This step and all later ones fail: power is gone.
    PowerCut(usize),
    /// The step says it was done and, if it is a sync, wasn't.
    Lies(usize),
}

/// Writes through to the real disk and remembers what was never synced.
#[derive(Clone)]
pub struct FaultyDisk(Arc<Mutex<Memory>>);

struct Memory {
    fault: Fault,
    steps: Vec<String>,
    /// Files by their present path, and how many of their bytes are synced.
    files: BTreeMap<PathBuf, u64>,
    /// Names that their folder hasn't been synced for.
    unsynced_names: Vec<PathBuf>,
    /// What stood under a name before an unsynced rename replaced it: it would be there again.
    replaced: BTreeMap<PathBuf, Vec<u8>>,
}

impl FaultyDisk {
    pub fn new(fault: Fault) -> Self {
        let (files, unsynced_names, replaced) = (BTreeMap::new(), Vec::new(), BTreeMap::new());
        Self(Arc::new(Mutex::new(Memory { fault, steps: Vec::new(), files, unsynced_names, replaced })))
    }

    /// Steps taken so far, in words.
    pub fn steps(&self) -> Vec<String> {
        self.0.lock().unwrap().steps.clone()
    }

    /// Takes from the real folder what a loss of power would take.
    pub fn drop_unsynced(&self) {
        let memory = self.0.lock().unwrap();
        for (path, synced) in &memory.files {
            let cut = fs::OpenOptions::new().write(true).open(path);
            let _ = cut.and_then(|file| file.set_len((*synced).min(file.metadata()?.len())));
        }
        for path in &memory.unsynced_names {
            if let Some(bytes) = memory.replaced.get(path) {
                fs::write(path, bytes).unwrap();
                continue;
            }
            let _ = if path.is_dir() { fs::remove_dir_all(path) } else { fs::remove_file(path) };
        }
    }

    /// Counts a step; returns whether it is to be really done.
    fn step(&self, what: String) -> io::Result<bool> {
        let mut memory = self.0.lock().unwrap();
        let number = memory.steps.len();
        memory.steps.push(what);
        match memory.fault {
            Fault::Fails(at, kind) if at == number => Err(io::Error::from(kind)),
            Fault::PowerCut(at) if at <= number => Err(io::Error::other("power is gone")),
            Fault::Lies(at) => Ok(at != number),
            _ => Ok(true),
        }
    }
}

impl Disk for FaultyDisk {
    fn create_folder(&self, path: &Path) -> io::Result<()> {
        self.step(format!("create folder {}", path.display()))?;
        if !path.exists() {
            self.0.lock().unwrap().unsynced_names.push(path.to_path_buf());
        }
        RealDisk.create_folder(path)
    }

    fn create(&self, path: &Path, access: Access) -> io::Result<Box<dyn NewFile>> {
        self.step(format!("create {}", path.display()))?;
        let file = RealDisk.create(path, access)?;
        let mut memory = self.0.lock().unwrap();
        memory.files.insert(path.to_path_buf(), 0);
        memory.unsynced_names.push(path.to_path_buf());
        Ok(Box::new(FaultyFile { disk: self.clone(), path: path.to_path_buf(), file }))
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn NewFile>> {
        self.step(format!("append {}", path.display()))?;
        let file = RealDisk.append(path)?;
        let length = fs::metadata(path)?.len();
        self.0.lock().unwrap().files.entry(path.to_path_buf()).or_insert(length);
        Ok(Box::new(FaultyFile { disk: self.clone(), path: path.to_path_buf(), file }))
    }

    /// What a loss of power would bring back isn't brought back: a removal counts as done.
    fn remove(&self, path: &Path) -> io::Result<()> {
        self.step(format!("remove {}", path.display()))?;
        RealDisk.remove(path)?;
        let mut memory = self.0.lock().unwrap();
        memory.files.remove(path);
        memory.unsynced_names.retain(|name| name != path);
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.step(format!("rename {}", from.display()))?;
        let before = fs::read(to).ok();
        RealDisk.rename(from, to)?;
        let mut memory = self.0.lock().unwrap();
        if let Some(bytes) = before.filter(|_| !memory.unsynced_names.iter().any(|name| name == to)) {
            memory.replaced.insert(to.to_path_buf(), bytes);
        }
        let synced = memory.files.remove(from).unwrap_or(u64::MAX);
        memory.files.insert(to.to_path_buf(), synced);
        memory.unsynced_names.retain(|name| name != from);
        memory.unsynced_names.push(to.to_path_buf());
        Ok(())
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        if self.step(format!("sync folder {}", path.display()))? {
            RealDisk.sync_folder(path)?;
            let mut memory = self.0.lock().unwrap();
            memory.unsynced_names.retain(|name| name.parent() != Some(path));
            memory.replaced.retain(|name, _| name.parent() != Some(path));
        }
        Ok(())
    }
}

struct FaultyFile {
    disk: FaultyDisk,
    path: PathBuf,
    file: Box<dyn NewFile>,
}

impl NewFile for FaultyFile {
    /// A failing write leaves half of the bytes behind, as a full disk does.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        let step = self.disk.step(format!("write {}", self.path.display()));
        let share = if step.is_ok() { bytes.len() } else { bytes.len() / 2 };
        self.file.write(&bytes[..share])?;
        step.map(drop)
    }

    fn sync(&mut self) -> io::Result<()> {
        if self.disk.step(format!("sync {}", self.path.display()))? {
            self.file.sync()?;
            let length = fs::metadata(&self.path)?.len();
            self.disk.0.lock().unwrap().files.insert(self.path.clone(), length);
        }
        Ok(())
    }
}
