//! Any bytes as a log of an open export: taken in whole or refused, and what is taken in verifies.
#![no_main]

use std::fs;
use std::ops::ControlFlow;

use libfuzzer_sys::fuzz_target;
use store::{OpenOptions, Store};

fuzz_target!(|journal: &[u8]| {
    let (folder, export) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let job = export.path().join("logs/job-1");
    fs::create_dir_all(&job).unwrap();
    fs::write(job.join("device-1@shop-1.jsonl"), journal).unwrap();
    let sum = evidence::Digest::of(journal);
    fs::write(export.path().join("SHA256SUMS"), format!("{sum}  logs/job-1/device-1@shop-1.jsonl\n")).unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let report = store.open_import(export.path(), &mut |_| ControlFlow::Continue(())).unwrap();
    // A log may be taken in as far as it is signed, and its rest refused.
    assert!((1..=2).contains(&(report.logs.len() + report.refused.len())));
    store.verify_logs().unwrap();
});
