//! A packet far larger than memory: written and verified under a limit, shown in steps, and stopped on request.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{BufReader, Read, Result, Seek, SeekFrom, Write};
use std::ops::ControlFlow;
use std::path::Path;
use std::process::Command;

use evidence::packet::{self, Options, PacketContents, PacketPhoto};
use evidence::{Digest, EvidenceError, PhotoRef};
use serde_json::json;

use crate::folder::{run, text};
use crate::sample::Device;
use crate::vectors::program;

/// One photo of 6 GB with TESTIMETER_FULL=1, more than 32 bits count, else of 1 GB: zeros, so that the disk holds almost
/// nothing of it.
#[test]
fn a_packet_larger_than_memory_is_verified_within_a_limit() {
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    let length: u64 = if full { 6 << 30 } else { 1 << 30 };
    let place = tempfile::TempDir::new().unwrap();
    let path = place.path().join("huge.zip");
    write(&path, length);
    assert!(std::fs::metadata(&path).unwrap().len() > length);
    let within = |bytes: u64| {
        // RLIMIT_DATA counts what a process allocates, not what it maps of files.
        run(Command::new("prlimit").arg(format!("--data={bytes}")).arg(program()).arg("verify").arg(&path))
    };
    let out = within(256 << 20);
    assert_eq!(out.status.code(), Some(0), "{}{}", text(&out.stdout), text(&out.stderr));
    // The limit is real: with less than the program needs to start its threads it can't go on.
    assert_ne!(within(1 << 20).status.code(), Some(0));
    stops_on_request(&path, length);
}

fn stops_on_request(path: &Path, length: u64) {
    let mut seen = Vec::new();
    let mut reader = BufReader::new(File::open(path).unwrap());
    let stopped = packet::verify(&mut reader, &Options::default(), &mut |step| {
        seen.push(step.done);
        if step.done > length / 10 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    });
    assert!(matches!(stopped, Err(EvidenceError::Cancelled)));
    assert!(seen.len() > 50 && seen.is_sorted(), "{} steps", seen.len());
    assert!(seen.last().unwrap() < &(length / 5), "it stops where it is asked to");
}

fn write(path: &Path, length: u64) {
    let zeros = move || Ok(Box::new(std::io::repeat(0).take(length)) as Box<dyn Read>);
    let (sha256, bytes) = Digest::of_reader(&mut zeros().unwrap()).unwrap();
    let photo = PhotoRef { sha256, bytes, media_type: "image/jpeg".into() };
    let mut device = Device::new("bench-phone", 1);
    device.record("photo_kept", json!({}), std::slice::from_ref(&photo), &[], &[]);
    device.sign();
    let photos = vec![PacketPhoto { photo, open: Box::new(zeros) }];
    let contents = PacketContents { logs: vec![device.packet_log()], photos, ..PacketContents::default() };
    let mut out = Sparse { file: File::create(path).unwrap(), blocks: BTreeMap::new() };
    let end = packet::write(&contents, &mut out, &mut |_| ControlFlow::Continue(())).unwrap();
    assert!(out.file.metadata().unwrap().len() == end && out.blocks[&true] > out.blocks[&false]);
}

/// A file in which blocks of zeros are left out; the system gives zeros back where nothing was written.
struct Sparse {
    file: File,
    /// How many blocks were skipped, and how many written.
    blocks: BTreeMap<bool, u64>,
}

impl Write for Sparse {
    fn write(&mut self, bytes: &[u8]) -> Result<usize> {
        let empty = bytes.iter().all(|byte| *byte == 0);
        *self.blocks.entry(empty && bytes.len() > 4096).or_default() += 1;
        if empty && bytes.len() > 4096 {
            self.file.seek_relative(bytes.len() as i64)?;
            return Ok(bytes.len());
        }
        self.file.write(bytes)
    }

    fn flush(&mut self) -> Result<()> {
        self.file.flush()
    }
}

impl Seek for Sparse {
    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        self.file.seek(to)
    }
}
