//! Packets made by recipe: where to start from, and what somebody did to it. Large ones need no room that way.

use std::process::Command;

use evidence::packet::Language;
use serde::Deserialize;
use testimeter_checks::venv;

use crate::folder::{Folder, ranges, repack_script, succeed};
use crate::histories;
use crate::sample::Sample;

/// One case: `bad/NAME.recipe.json` or `good/NAME.recipe.json`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recipe {
    /// What was done, in a sentence.
    pub about: String,
    /// What it starts from, see [`start`].
    pub from: String,
    /// What was done, in order.
    #[serde(default)]
    pub steps: Vec<Step>,
    /// What the verifier knows from elsewhere.
    #[serde(default)]
    pub given: Given,
    /// Why `verify.sh` can't judge this case; none if it must agree.
    pub script_cannot: Option<String>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Given {
    /// Whose key's fingerprint was handed over, see [`histories::key`].
    pub fingerprints: Vec<String>,
    /// Checkpoints handed over: the history and the number from 1, see [`histories::note`].
    pub checkpoints: Vec<(String, usize)>,
    /// Only their three lines, without the signature.
    pub bare_checkpoints: bool,
    /// Certificates in `stamped/`.
    pub roots: Vec<String>,
}

/// Paths lie below the bag's folder; `FOLDER/#2` is the third file of a folder in order of names.
#[derive(Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Step {
    /// One bit of a file, at this byte.
    Flip(String, usize),
    /// Text in a file, once.
    Replace(String, String, String),
    /// A file's whole text.
    Write(String, String),
    Remove(String),
    Rename(String, String),
    Copy(String, String),
    Swap(String, String),
    /// Renumbers the records of a log from this one on: up by one, to make room, or down by one, to close a gap.
    Renumber(String, u64, bool),
    /// Packs the folder again, with manifests that fit what lies in it.
    Pack,
    /// Packs the folder again and leaves the manifests as they are.
    PackAsItIs,
    /// One bit of the zip: of a file's bytes, without touching anything else.
    FlipInZip(String, u64),
    /// One bit of the zip, counted from its end.
    FlipFromEnd(usize),
    /// Bytes before the first one.
    Before(String),
    /// Bytes after the last one.
    After(String),
    /// Only so many bytes are left.
    Cut(usize),
    /// Another form of the container, made by Python: see `forms.py`.
    Form(String),
}

impl Recipe {
    /// The bytes of the packet.
    pub fn make(&self) -> Vec<u8> {
        let mut packet = start(&self.from);
        let mut folder = None;
        for step in &self.steps {
            apply(step, &mut packet, &mut folder);
        }
        packet
    }
}

/// What a recipe starts from.
fn start(from: &str) -> Vec<u8> {
    let on_file = |name: &str| std::fs::read(crate::vectors::folder("good").join(name)).unwrap();
    match from {
        "plain" => Sample::new().whole(),
        "plain in English" => Sample::new().packet_in(Language::En, &|_| true),
        "rich" => Sample::rich().whole(),
        "signed one by one" => Sample::signed_one_by_one().whole(),
        "phone withheld" => Sample::new().packet(&|name| name != "phone"),
        "logs alone" => Sample::new().bare(),
        "nothing" => Vec::new(),
        name => histories::packet(name).unwrap_or_else(|| on_file(name)),
    }
}

fn apply(step: &Step, packet: &mut Vec<u8>, folder: &mut Option<Folder>) {
    match step {
        Step::FlipInZip(path, at) => {
            let place = tempfile::TempDir::new().unwrap();
            let zip = place.path().join("packet.zip");
            std::fs::write(&zip, &*packet).unwrap();
            let found = ranges(&zip);
            let path = nth(path, &found.iter().map(|(path, ..)| path.clone()).collect::<Vec<_>>());
            let (_, start, _) = found.iter().find(|(own, ..)| *own == path).unwrap();
            packet[(start + at) as usize] ^= 1;
        }
        Step::FlipFromEnd(at) => {
            let at = packet.len() - at;
            packet[at] ^= 1;
        }
        Step::Before(text) => *packet = [text.as_bytes(), packet].concat(),
        Step::After(text) => packet.extend(text.bytes()),
        Step::Cut(length) => packet.truncate(*length),
        Step::Form(form) => *packet = formed(packet, form),
        in_folder => {
            let open = folder.get_or_insert_with(|| Folder::of(packet));
            match in_folder {
                Step::Pack => *packet = open.repack(),
                Step::PackAsItIs => *packet = open.pack_as_it_is(),
                other => change(other, open),
            }
        }
    }
}

fn change(step: &Step, folder: &Folder) {
    let named = |path: &str| {
        let (parent, _) = path.rsplit_once('/').unwrap_or_default();
        if path.contains('#') { nth(path, &folder.list(parent)) } else { path.to_owned() }
    };
    let file = |path: &str| folder.file(&named(path));
    match step {
        Step::Flip(path, at) => {
            let mut bytes = std::fs::read(file(path)).unwrap();
            bytes[*at] ^= 1;
            std::fs::write(file(path), bytes).unwrap();
        }
        Step::Replace(path, from, to) => folder.replace(&named(path), from, to),
        Step::Write(path, text) => {
            std::fs::create_dir_all(file(path).parent().unwrap()).unwrap();
            std::fs::write(file(path), text).unwrap();
        }
        Step::Remove(path) => std::fs::remove_file(file(path)).unwrap(),
        Step::Rename(from, to) => std::fs::rename(file(from), file(to)).unwrap(),
        Step::Copy(from, to) => drop(std::fs::copy(file(from), file(to)).unwrap()),
        Step::Swap(one, other) => {
            let (one, other) = (file(one), file(other));
            let (first, second) = (std::fs::read(&one).unwrap(), std::fs::read(&other).unwrap());
            std::fs::write(one, second).unwrap();
            std::fs::write(other, first).unwrap();
        }
        Step::Renumber(log, from, up) => renumber(folder, log, *from, *up),
        _ => unreachable!("not a step in the folder"),
    }
}

fn renumber(folder: &Folder, log: &str, from: u64, up: bool) {
    let record = |number: u64| folder.file(&format!("data/logs/{log}/records/{number:06}.json"));
    let count = folder.list(&format!("data/logs/{log}/records")).len() as u64;
    if up {
        (from..count).rev().for_each(|number| std::fs::rename(record(number), record(number + 1)).unwrap());
    } else {
        (from..=count).for_each(|number| std::fs::rename(record(number), record(number - 1)).unwrap());
    }
}

/// `FOLDER/#2` among sorted paths.
fn nth(path: &str, sorted: &[String]) -> String {
    let Some((parent, number)) = path.split_once('#') else { return path.to_owned() };
    let number: usize = number.parse().unwrap();
    sorted.iter().filter(|own| own.starts_with(parent)).nth(number).unwrap().clone()
}

fn formed(packet: &[u8], form: &str) -> Vec<u8> {
    let place = tempfile::TempDir::new().unwrap();
    let (from, to) = (place.path().join("from.zip"), place.path().join("to.zip"));
    std::fs::write(&from, packet).unwrap();
    let script = repack_script().with_file_name("forms.py");
    succeed(Command::new(venv::python()).args(["-W", "ignore"]).arg(script).args([&from, &to]).arg(form));
    std::fs::read(to).unwrap()
}
