//! What a process did to its files, read from `strace`.

use std::path::{Path, PathBuf};

use crate::programs::{KEEPER, run};

/// One system call that matters to durability; paths are relative to the data folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event {
    MakeFolder(PathBuf),
    Create(PathBuf),
    /// At an offset, or after what was written before.
    Write(PathBuf, Option<u64>, Vec<u8>),
    Truncate(PathBuf, u64),
    Sync(PathBuf),
    Rename(PathBuf, PathBuf),
    Remove(PathBuf),
    /// A line on standard output.
    Said(String),
}

/// Traces the keeper while it keeps so many records and ends by itself.
pub fn of_keeper(folder: &Path, records: u32, photo_bytes: u32) -> Vec<Event> {
    let file = tempfile::NamedTempFile::new().unwrap();
    let calls =
        "trace=mkdir,openat,write,pwrite64,ftruncate,fsync,fdatasync,rename,renameat,renameat2,unlink";
    let (trace, folder) = (file.path().display().to_string(), folder.canonicalize().unwrap());
    let (records, photo_bytes) = (records.to_string(), photo_bytes.to_string());
    let arguments = ["-f", "-y", "-xx", "-s", "1000000", "-e", calls, "-o", &trace, KEEPER, "keep"];
    let rest = [folder.to_str().unwrap(), &records, &photo_bytes];
    let output = run("strace", &[&arguments[..], &rest[..]].concat());
    assert!(
        output.status.success(),
        "strace or the keeper failed: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    let text = std::fs::read_to_string(file.path()).unwrap();
    text.lines().filter_map(|line| event(line, &folder)).collect()
}

/// Reads one line such as `123 fsync(3<\x2f\x61>) = 0`; failed calls and files elsewhere are left out.
fn event(line: &str, folder: &Path) -> Option<Event> {
    assert!(!line.contains("<unfinished"), "two threads at once: {line}");
    let (_, call) = line.trim_start().split_once(' ')?;
    let (name, rest) = call.trim_start().split_once('(')?;
    let (arguments, result) = rest.rsplit_once(" = ")?;
    if result.starts_with('-') {
        return None;
    }
    let strings = strings(arguments);
    let path = |index: usize| inside(strings.get(index)?, folder);
    match name {
        "mkdir" => Some(Event::MakeFolder(path(0)?)),
        // The folder the path starts from is printed first.
        "openat" if arguments.contains("O_CREAT") => Some(Event::Create(path(1)?)),
        "write" if arguments.starts_with("1<") => {
            Some(Event::Said(String::from_utf8(strings.get(1)?.clone()).ok()?))
        }
        "write" => Some(Event::Write(path(0)?, None, whole(strings.get(1)?, arguments, result))),
        "pwrite64" => Some(Event::Write(path(0)?, Some(last_number(arguments)?), strings.get(1)?.clone())),
        "ftruncate" => Some(Event::Truncate(path(0)?, last_number(arguments)?)),
        "fsync" | "fdatasync" => Some(Event::Sync(path(0)?)),
        "rename" => Some(Event::Rename(path(0)?, path(1)?)),
        "renameat" | "renameat2" => Some(Event::Rename(path(1)?, path(3)?)),
        "unlink" => Some(Event::Remove(path(0)?)),
        _ => None,
    }
}

/// A write may take fewer bytes than offered; then another follows.
fn whole(bytes: &[u8], arguments: &str, result: &str) -> Vec<u8> {
    let taken: usize = result.trim().parse().unwrap_or_else(|_| panic!("{arguments} = {result}"));
    assert!(taken <= bytes.len(), "the trace cut a write short");
    bytes[..taken].to_vec()
}

/// Every `"…"` and `<…>` of a call, with `\xNN` read back to bytes.
fn strings(arguments: &str) -> Vec<Vec<u8>> {
    let parts = arguments.split(['"', '<', '>']);
    parts.filter(|part| part.starts_with("\\x")).map(unescape).collect()
}

fn unescape(text: &str) -> Vec<u8> {
    text.split("\\x")
        .skip(1)
        .map(|digits| u8::from_str_radix(digits, 16).expect("strace -xx prints hex"))
        .collect()
}

fn last_number(arguments: &str) -> Option<u64> {
    arguments.trim_end_matches(')').rsplit_once(", ")?.1.parse().ok()
}

fn inside(path: &[u8], folder: &Path) -> Option<PathBuf> {
    let path = Path::new(std::str::from_utf8(path).ok()?);
    Some(path.strip_prefix(folder).ok()?.to_path_buf())
}
