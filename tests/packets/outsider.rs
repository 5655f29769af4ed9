//! A checker that was written from the packet's README and schema alone (`outsider.py`) finds the same as ours.

use std::path::Path;
use std::process::Command;

use evidence::packet::Language;
use testimeter_checks::venv;

use crate::folder::{Folder, run, text};
use crate::recipe::Recipe;
use crate::sample::Sample;
use crate::vectors::folder;

/// What it says of a bag, and whether everything fits.
pub fn says(bag: &Path) -> (bool, String) {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("packets/outsider.py");
    let out = run(Command::new(venv::python()).arg(script).arg(bag));
    (out.status.success(), text(&out.stdout) + &text(&out.stderr))
}

/// The folder; none where `unzip` itself refuses the bytes.
fn unzipped(packet: &[u8]) -> Option<Folder> {
    let place = tempfile::TempDir::new().unwrap();
    let zip = place.path().join("packet.zip");
    std::fs::write(&zip, packet).unwrap();
    let sound = run(Command::new("unzip").arg("-tq").arg(&zip)).status.success();
    sound.then(|| Folder::of(packet))
}

#[test]
fn it_finds_good_packets_good() {
    let rich = [Sample::rich(), Sample::signed_one_by_one()].map(|sample| sample.whole());
    for packet in [Sample::new().packet_in(Language::En, &|_| true)].into_iter().chain(rich) {
        let (fits, said) = says(&Folder::of(&packet).bag);
        assert!(fits, "{said}");
    }
}

/// Cases that tamper with what the README describes: not the container, which it never sees, nor the certificates, for
/// which it sends its reader to `openssl ts`.
#[test]
fn it_finds_bad_packets_bad() {
    let wanted = [
        "bit-in-record",
        "bit-in-last",
        "checkpoint-rewritten",
        "consistency-",
        "covered-photo-",
        "disclosure-",
        "first-record-",
        "head-signature-",
        "key-exchanged",
        "last-",
        "middle-",
        "note-of",
        "old-key-",
        "photo-",
        "photos-",
        "record-",
        "records-",
        "report-",
        "second-device-",
        "signature-empty",
        "signatures-",
        "statement-",
        "withheld-digest-",
    ];
    let mut count = 0;
    for entry in std::fs::read_dir(folder("bad")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if !name.ends_with(".recipe.json") || !wanted.iter().any(|start| name.starts_with(start)) {
            continue;
        }
        let recipe: Recipe = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
        if !recipe.given.fingerprints.is_empty() || !recipe.given.checkpoints.is_empty() {
            continue;
        }
        let Some(folder) = unzipped(&recipe.make()) else { continue };
        let (fits, said) = says(&folder.bag);
        assert!(!fits, "{name}: {said}");
        count += 1;
    }
    assert!(count > 25, "{count} cases");
}
