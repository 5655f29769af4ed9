//! The check of everything: at one go, in pieces, and against one bit flipped anywhere.

use std::fs;
use std::ops::ControlFlow;
use std::path::Path;

use evidence::Record;
use store::{Notice, OpenOptions, Standing, Store};

use crate::home::{open, shop, sql, standing};
use crate::programs::run_well;
use crate::sample::JOB;

#[test]
fn a_damaged_original_is_told_and_a_sound_copy_takes_its_place() {
    let folder = shop(2);
    let store = open(folder.path());
    let go_on = &mut |_| ControlFlow::Continue(());
    let out = folder.path().join("out");
    store.open_export(&out, &[], go_on).unwrap();
    let photo = Record::parse(&store.job_records(JOB).unwrap()[0].bytes).unwrap().photos[0].sha256;
    let lost = Record::parse(&store.job_records(JOB).unwrap()[1].bytes).unwrap().photos[0].sha256;
    fs::write(store.original_path(&photo).unwrap(), b"something else").unwrap();
    fs::remove_file(store.original_path(&lost).unwrap()).unwrap();
    let report = store.check(go_on).unwrap();
    let told = [Notice::OriginalsLost { damaged: vec![photo], missing: vec![lost] }];
    assert_eq!((report.records, report.found.as_slice()), (2, &told[..]));
    store.open_import(&out, go_on).unwrap();
    assert_eq!(store.check(go_on).unwrap().found, []);
    assert!(store.original(&photo).is_ok() && store.original(&lost).is_ok());
}

/// The check in pieces finds what the check at one go finds.
#[test]
fn pieces_come_to_the_whole() {
    let folder = shop(2);
    let store = open(folder.path());
    let photo = Record::parse(&store.job_records(JOB).unwrap()[0].bytes).unwrap().photos[0].sha256;
    fs::write(store.original_path(&photo).unwrap(), b"something else").unwrap();
    let (mut state, mut pieces) = (store::CheckState::default(), 0);
    while !state.done() {
        store.check_piece(&mut state).unwrap();
        pieces += 1;
    }
    assert_eq!((pieces, state.found), (1 + 256, 1), "a log, 256 folders of originals");
    assert_eq!(store.take_findings(), [Notice::OriginalsLost { damaged: vec![photo], missing: vec![] }]);
}

/// A page that goes bad in a database too large to be read through at every start: whoever comes upon it leaves a mark, and
/// the next start sets the file aside and builds it anew.
#[test]
fn a_bad_page_of_a_large_database_is_found_when_it_is_asked_for() {
    let folder = shop(6);
    let padding = "CREATE TABLE padding (x); INSERT INTO padding VALUES (zeroblob(17000000)); PRAGMA wal_checkpoint(TRUNCATE)";
    sql(folder.path(), padding);
    let path = folder.path().join("testimeter.sqlite");
    let mut bytes = fs::read(&path).unwrap();
    let root: usize = sql(folder.path(), "SELECT rootpage FROM sqlite_schema WHERE name = 'settings'")
        .trim()
        .parse()
        .unwrap();
    let start = (root - 1) * 4096;
    bytes[start..start + 4096].fill(0xA5);
    fs::write(&path, &bytes).unwrap();
    let store = open(folder.path());
    let told = |notice: &Notice| matches!(notice, Notice::DatabaseMovedAside { .. });
    let store = match store.notices().iter().any(told) {
        true => store,
        false => {
            assert!(store.check(&mut |_| ControlFlow::Continue(())).is_err());
            drop(store);
            open(folder.path())
        }
    };
    assert!(store.notices().iter().any(told), "{:?}", store.notices());
    assert_eq!(standing(&store), [Standing::Good; 6]);
    drop(store);
    assert_eq!(open(folder.path()).notices(), []);
}

/// One bit of any file: it is noticed, or it changes nothing that counts.
#[test]
fn a_flipped_bit_is_noticed_or_harmless() {
    let folder = shop(6);
    let flips = if std::env::var_os("TESTIMETER_FULL").is_some() { 400 } else { 40 };
    let files = run_well("find", &[folder.path().to_str().unwrap(), "-type", "f", "-not", "-name", "lock"]);
    let files: Vec<&str> = files.lines().filter(|file| !file.ends_with("device.pem")).collect();
    let good = {
        let store = open(folder.path());
        (store.job_records(JOB).unwrap(), store.disclosures(JOB).unwrap().len())
    };
    let mut chance = 0x2545_F491_4F6C_DD1D_u64;
    let mut next = |below: usize| {
        chance ^= chance << 13;
        chance ^= chance >> 7;
        chance ^= chance << 17;
        usize::try_from(chance % u64::try_from(below).unwrap()).unwrap()
    };
    let (mut noticed, mut harmless) = (0, 0);
    for flip in 0..flips {
        let copy = tempfile::tempdir().unwrap();
        run_well("cp", &["-a", &format!("{}/.", folder.path().display()), copy.path().to_str().unwrap()]);
        // The database and the journal get most of them; each file some.
        let file = files[if flip % 3 == 0 { next(files.len()) } else { flip % 3 % files.len() }];
        let path = copy.path().join(Path::new(file).strip_prefix(folder.path()).unwrap());
        let mut bytes = fs::read(&path).unwrap();
        let (place, bit) = (next(bytes.len()), next(8));
        bytes[place] ^= 1 << bit;
        fs::write(&path, &bytes).unwrap();
        let opened = Store::open(copy.path(), &OpenOptions::default());
        let Ok(store) = opened else {
            noticed += 1;
            continue;
        };
        let checked = store.check(&mut |_| ControlFlow::Continue(()));
        let told =
            !store.notices().is_empty() || checked.as_ref().map_or(true, |report| !report.found.is_empty());
        let records = store.job_records(JOB);
        let same = records.as_ref().is_ok_and(|records| *records == good.0)
            && store.disclosures(JOB).is_ok_and(|values| values.len() == good.1);
        assert!(told || same, "flip {flip}, bit {bit} of byte {place} of {file}: {checked:?}");
        if told { noticed += 1 } else { harmless += 1 }
    }
    eprintln!("{flips} flips: {noticed} noticed, {harmless} harmless");
    assert!(noticed > 0 && harmless > 0);
}
