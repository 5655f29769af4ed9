//! A packet unzipped by `unzip`, changed by hand, and zipped again by Python.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;
use testimeter_checks::venv;

/// The unzipped packet in a temporary place.
pub struct Folder {
    place: TempDir,
    pub bag: PathBuf,
}

impl Folder {
    pub fn of(packet: &[u8]) -> Self {
        let place = TempDir::new().unwrap();
        let zip = place.path().join("packet.zip");
        std::fs::write(&zip, packet).unwrap();
        succeed(Command::new("unzip").arg("-q").arg(&zip).arg("-d").arg(place.path()));
        let bag = place.path().join("packet-job-0042");
        assert!(bag.is_dir(), "the zip holds one folder named after the job");
        Self { place, bag }
    }

    pub fn zip(&self) -> PathBuf {
        self.place.path().join("packet.zip")
    }

    pub fn file(&self, path: &str) -> PathBuf {
        self.bag.join(path)
    }

    pub fn read(&self, path: &str) -> String {
        std::fs::read_to_string(self.file(path)).unwrap()
    }

    /// Replaces text in a file; it must be there.
    pub fn replace(&self, path: &str, from: &str, to: &str) {
        let old = self.read(path);
        assert!(old.contains(from), "{path} holds {from}");
        std::fs::write(self.file(path), old.replacen(from, to, 1)).unwrap();
    }

    /// The paths below `folder`, sorted.
    pub fn list(&self, folder: &str) -> Vec<String> {
        let entries = std::fs::read_dir(self.file(folder)).unwrap();
        let mut names: Vec<_> = entries
            .map(|entry| format!("{folder}/{}", entry.unwrap().file_name().into_string().unwrap()))
            .collect();
        names.sort();
        names
    }

    /// Zips the folder again, manifests rewritten so that they fit.
    pub fn repack(&self) -> Vec<u8> {
        let out = self.place.path().join("again.zip");
        succeed(Command::new(venv::python()).arg(repack_script()).arg(&self.bag).arg(&out));
        std::fs::read(out).unwrap()
    }

    /// Zips the folder again, manifests as they lie there.
    pub fn pack_as_it_is(&self) -> Vec<u8> {
        let out = self.place.path().join("as-it-is.zip");
        succeed(Command::new(venv::python()).arg(repack_script()).arg("--as-it-is").arg(&self.bag).arg(&out));
        std::fs::read(out).unwrap()
    }

    /// What `sh verify.sh` says in this folder.
    pub fn script(&self) -> Output {
        run(Command::new("sh").arg(self.file("data/verify.sh")))
    }
}

/// Path below the bag, start and length of every file in a zip, as Python's `zipfile` sees it.
pub fn ranges(zip: &Path) -> Vec<(String, u64, u64)> {
    let out = succeed(Command::new(venv::python()).arg(repack_script()).arg("--ranges").arg(zip));
    serde_json::from_slice(&out.stdout).unwrap()
}

/// Runs a program that must be there; its exit code is the caller's business.
pub fn run(command: &mut Command) -> Output {
    command.output().unwrap_or_else(|cause| panic!("{command:?} could not start ({cause}); run the set-up"))
}

/// Runs a program that must end well.
pub fn succeed(command: &mut Command) -> Output {
    let out = run(command);
    assert!(out.status.success(), "{command:?}\n{}\n{}", text(&out.stdout), text(&out.stderr));
    out
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

pub fn repack_script() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("packets/repack.py")
}
