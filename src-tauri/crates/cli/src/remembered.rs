//! The newest head of each log that earlier checks saw, in a file, after Go's client of a checksum database
//! (golang.org/x/mod/sumdb): what was seen once must be the same or have grown when it is seen again.

use evidence::packet::Verdict;
use evidence::{HandedOver, SignedCheckpoint};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fs::File;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// The file: by the log's origin its newest checkpoint, a C2SP signed note.
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Kept {
    testimeter_heads: u32,
    heads: BTreeMap<String, String>,
}

/// The heads and where they are kept.
pub struct Remembered {
    path: PathBuf,
    heads: BTreeMap<String, SignedCheckpoint>,
}

impl Remembered {
    /// Reads the file; a file that isn't there yet remembers nothing. One that can't be understood is an error and stays as
    /// it is: taken for empty, it would forget what it was kept for.
    pub fn read(path: &Path) -> Result<Self, String> {
        let said = |cause: String| format!("{}: {cause}", path.display());
        let broken = |cause: String| {
            said(format!(
                "this is not a whole file of remembered heads ({cause}). It was left as it is: restore it from a copy, or \
                 name another file to start anew"
            ))
        };
        let text = match std::fs::read_to_string(path) {
            Ok(text) => text,
            Err(error) if error.kind() == ErrorKind::NotFound => {
                return Ok(Self { path: path.to_owned(), heads: BTreeMap::new() });
            }
            Err(error) if error.kind() == ErrorKind::InvalidData => return Err(broken(error.to_string())),
            Err(error) => return Err(said(format!("could not be read: {error}"))),
        };
        let kept: Kept = serde_json::from_str(&text).map_err(|error| broken(error.to_string()))?;
        if kept.testimeter_heads != VERSION {
            return Err(broken(format!("its form is {}", kept.testimeter_heads)));
        }
        let mut heads = BTreeMap::new();
        for (origin, note) in kept.heads {
            let read = HandedOver::read(&note).map_err(|error| broken(error.to_string()))?;
            let signed = read.signed.filter(|_| read.checkpoint.origin == origin);
            let signed =
                signed.ok_or_else(|| broken(format!("what stands under {origin} is not its head")))?;
            heads.insert(origin, signed);
        }
        Ok(Self { path: path.to_owned(), heads })
    }

    /// Every head, to compare with.
    pub fn notes(&self) -> Vec<SignedCheckpoint> {
        self.heads.values().cloned().collect()
    }

    /// Takes up the heads of a good verdict and writes the file, whole or not at all. It is read again first, so that another
    /// check that ended meanwhile isn't forgotten, and no head ever gets shorter.
    pub fn keep(&self, verdict: &Verdict) -> Result<(), String> {
        let mut heads = Self::read(&self.path)?.heads;
        for note in verdict.logs.iter().filter_map(|log| log.note.as_deref()) {
            let seen = SignedCheckpoint::from_note(note).map_err(|error| error.to_string())?;
            let checkpoint = seen.checkpoint().map_err(|error| error.to_string())?;
            let before = heads.get(&checkpoint.origin).and_then(|before| before.checkpoint().ok());
            if before.is_none_or(|before| before.size < checkpoint.size) {
                heads.insert(checkpoint.origin, seen);
            }
        }
        let heads = heads.into_iter().map(|(origin, signed)| (origin, signed.note)).collect();
        let text = serde_json::to_string_pretty(&Kept { testimeter_heads: VERSION, heads })
            .map_err(|error| error.to_string())?;
        replace(&self.path, format!("{text}\n").as_bytes())
            .map_err(|error| format!("{}: could not be written: {error}", self.path.display()))
    }
}

/// A new file beside the old one, durable before it takes its name.
fn replace(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{}.new", std::process::id()));
    let beside = path.with_file_name(name);
    let written = (|| {
        let mut file = File::create_new(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        std::fs::rename(&beside, path)
    })();
    if written.is_err() {
        // What could not take its name is of no use to anybody.
        let _ = std::fs::remove_file(&beside);
        return written;
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    // A folder can't be opened as a file on every system; there the rename is durable enough.
    File::open(folder.unwrap_or(Path::new("."))).and_then(|folder| folder.sync_all()).or(Ok(()))
}

/// The form of the file.
const VERSION: u32 = 1;
