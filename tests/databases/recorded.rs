//! Everything that is done to a data folder by our own files and by SQLite's, in the order in which it was done.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use store::{Access, Disk, NewFile, RealDisk};

use crate::recorded_sqlite;
use crate::trace::Event;

/// Writes through to the real disk and notes each step; SQLite's steps come in by [`recorded_sqlite`].
#[derive(Clone)]
pub struct Recorder(Arc<Recording>);

struct Recording {
    folder: PathBuf,
    events: Mutex<Vec<Event>>,
}

/// Folders that are being recorded; SQLite's files in any other one are left alone.
static FOLDERS: Mutex<Vec<Recorder>> = Mutex::new(Vec::new());

impl Recorder {
    /// Records what is done in this folder from now on, to the end of the process.
    pub fn of(folder: &Path) -> Self {
        recorded_sqlite::register();
        let folder = folder.canonicalize().unwrap();
        let recorder = Self(Arc::new(Recording { folder, events: Mutex::default() }));
        folders().push(recorder.clone());
        recorder
    }

    /// The recorder of a path's folder, and the path within it.
    pub fn at(path: &Path) -> Option<(Self, PathBuf)> {
        let folders = folders();
        folders.iter().find_map(|recorder| Some((recorder.clone(), recorder.within(path)?)))
    }

    pub fn note(&self, event: Event) {
        self.0.events.lock().unwrap_or_else(PoisonError::into_inner).push(event);
    }

    pub fn events(&self) -> Vec<Event> {
        self.0.events.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn within(&self, path: &Path) -> Option<PathBuf> {
        Some(path.strip_prefix(&self.0.folder).ok()?.to_path_buf())
    }

    /// Notes a step that was done within the folder.
    fn done<T>(&self, path: &Path, done: T, event: impl FnOnce(PathBuf) -> Event) -> io::Result<T> {
        if let Some(path) = self.within(path) {
            self.note(event(path));
        }
        Ok(done)
    }
}

fn folders() -> MutexGuard<'static, Vec<Recorder>> {
    FOLDERS.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Disk for Recorder {
    fn create_folder(&self, path: &Path) -> io::Result<()> {
        let new: Vec<PathBuf> =
            path.ancestors().filter(|path| !path.exists()).map(Path::to_path_buf).collect();
        RealDisk.create_folder(path)?;
        new.iter().rev().try_for_each(|path| self.done(path, (), Event::MakeFolder))
    }

    fn create(&self, path: &Path, access: Access) -> io::Result<Box<dyn NewFile>> {
        let file = RealDisk.create(path, access)?;
        let file = RecordedFile { recorder: self.clone(), path: path.to_path_buf(), file };
        self.done(path, Box::new(file), Event::Create).map(|file| file as Box<dyn NewFile>)
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn NewFile>> {
        let file = RealDisk.append(path)?;
        Ok(Box::new(RecordedFile { recorder: self.clone(), path: path.to_path_buf(), file }))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)?;
        self.done(path, (), Event::Remove)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        RealDisk.rename(from, to)?;
        let Some(to) = self.within(to) else { return Ok(()) };
        self.done(from, (), |from| Event::Rename(from, to))
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        RealDisk.sync_folder(path)?;
        self.done(path, (), Event::Sync)
    }
}

struct RecordedFile {
    recorder: Recorder,
    path: PathBuf,
    file: Box<dyn NewFile>,
}

impl NewFile for RecordedFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write(bytes)?;
        self.recorder.done(&self.path, (), |path| Event::Write(path, None, bytes.to_vec()))
    }

    fn sync(&mut self) -> io::Result<()> {
        self.file.sync()?;
        self.recorder.done(&self.path, (), Event::Sync)
    }
}
