//! The whole shop in one encrypted file, and back; Debian's `age` and `tar` open it without us.

use std::fs;
use std::io::ErrorKind;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use evidence::DeviceKey;
use evidence::packet::Progress;
use serde_json::json;
use store::{
    BackupContents, BackupKey, OpenOptions, RestoreAs, RestoreReport, Store, StoreError, check_backup,
    restore,
};

use crate::faulty_disk::{Fault, FaultyDisk};
use crate::programs::{run, run_well};
use crate::sample::{JOB, keep_next, log};

const WORDS: &str = "corral pistachio vellum 42";
const SEED: [u8; 32] = [5; 32];
/// scrypt's least work, for the tests that don't measure it.
const QUICK: u8 = 1;

fn go_on(_: Progress) -> ControlFlow<()> {
    ControlFlow::Continue(())
}

/// A shop with four records, each with its photo, a key, a checkpoint, a setting and a draft.
fn shop() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    for _ in 0..4 {
        keep_next(&store, 90_000).unwrap();
    }
    let key = DeviceKey::from_seed(SEED);
    let root = store.root(&log()).unwrap().unwrap();
    let checkpoint = evidence::Checkpoint { origin: log().origin(), size: 4, root };
    store.append_checkpoint(&log(), &key.sign(&checkpoint)).unwrap();
    store.set_setting("shop", &json!({ "name": "Ñuflo's bench" })).unwrap();
    store.keep_draft(JOB, "note", &json!({ "text": "half a sentence" })).unwrap();
    (folder, store)
}

fn quick(store: &Store) -> Vec<u8> {
    let mut bytes = Vec::new();
    store.backup_to(&mut bytes, WORDS, QUICK, BackupKey::LeftOut, &mut go_on).unwrap();
    bytes
}

fn restored(
    bytes: &[u8],
    folder: &Path,
    words: &str,
    who: &RestoreAs<'_>,
) -> Result<RestoreReport, StoreError> {
    restore(&mut &bytes[..], words, folder, who, &OpenOptions::default(), &mut go_on)
}

#[test]
fn a_bare_machine_gets_everything_back_byte_for_byte() {
    let (folder, store) = shop();
    let file = folder.path().join("shop.age");
    let report = store.backup(&file, WORDS, BackupKey::Included, &mut go_on).unwrap();
    assert_eq!((report.files, report.damaged_originals.len()), (1 + 3 + 4, 0));
    let sum = run_well("sha256sum", &[&file]);
    assert_eq!(report.sha256.unwrap().to_string(), sum.split(' ').next().unwrap());
    let bare = tempfile::tempdir().unwrap();
    let target = bare.path().join("data");
    let bytes = fs::read(&file).unwrap();
    let back = restored(&bytes, &target, WORDS, &RestoreAs::SameDevice).unwrap();
    assert_eq!((back.contents.damage, back.contents.files_missing.len()), (None, 0));
    assert_eq!((back.originals_missing.len(), back.contents.jobs[0].records), (0, 4));
    assert_eq!(back.logs, store.verify_logs().unwrap());
    let again = Store::open(&target, &OpenOptions::default()).unwrap();
    assert_eq!(again.notices(), []);
    assert_eq!(again.job_records(JOB).unwrap(), store.job_records(JOB).unwrap());
    assert_eq!(again.disclosures(JOB).unwrap(), store.disclosures(JOB).unwrap());
    assert_eq!(again.checkpoints(JOB).unwrap()[0].signed, store.checkpoints(JOB).unwrap()[0].signed);
    assert_eq!(again.device_key().unwrap().unwrap().key.public(), DeviceKey::from_seed(SEED).public());
    assert_eq!(again.setting("shop").unwrap(), Some(json!({ "name": "Ñuflo's bench" })));
    assert_eq!(again.draft(JOB, "note").unwrap(), Some(json!({ "text": "half a sentence" })));
    for record in again.job_records(JOB).unwrap() {
        let photo = &evidence::Record::parse(&record.bytes).unwrap().photos[0].sha256;
        assert_eq!(again.original(photo).unwrap(), store.original(photo).unwrap());
    }
    let journal = "logs/job-1/device-1@shop-1.jsonl";
    assert_eq!(fs::read(target.join(journal)).unwrap(), fs::read(folder.path().join(journal)).unwrap());
    keep_next(&again, 500).unwrap();
}

/// The private key's own characters are looked for in the unpacked backup, not only its file's name.
#[test]
fn the_signing_key_goes_in_only_when_asked_for() {
    let (_folder, store) = shop();
    let secret = DeviceKey::from_seed(SEED).private_pem().unwrap().lines().nth(1).unwrap().to_owned();
    for (key, inside) in [(BackupKey::LeftOut, false), (BackupKey::Included, true)] {
        let (bare, mut bytes) = (tempfile::tempdir().unwrap(), Vec::new());
        store.backup_to(&mut bytes, WORDS, QUICK, key, &mut go_on).unwrap();
        assert_eq!(check_backup(&mut &bytes[..], WORDS, &mut go_on).unwrap().has_key, inside);
        let back = restored(&bytes, bare.path(), WORDS, &RestoreAs::SameDevice).unwrap();
        assert_eq!(back.contents.has_key, inside);
        assert_eq!(back.public_keys, [DeviceKey::from_seed(SEED).public_pem().unwrap()], "known either way");
        let found = run("grep", &["-rq", &secret, bare.path().to_str().unwrap()]);
        assert_eq!(found.status.success(), inside);
        let again = Store::open(bare.path(), &OpenOptions::default()).unwrap();
        assert_eq!(again.device_key().unwrap().is_some(), inside);
        assert_eq!(again.verify_logs().unwrap(), store.verify_logs().unwrap());
    }
}

#[test]
fn a_second_device_gets_the_logs_and_a_key_of_its_own() {
    let (_folder, store) = shop();
    let (bare, bytes) = (tempfile::tempdir().unwrap(), quick(&store));
    let key = DeviceKey::from_seed([10; 32]);
    let back = restored(&bytes, bare.path(), WORDS, &RestoreAs::SecondDevice(&key)).unwrap();
    assert_eq!(back.public_keys, [DeviceKey::from_seed(SEED).public_pem().unwrap()]);
    let again = Store::open(bare.path(), &OpenOptions::default()).unwrap();
    assert_eq!(again.device_key().unwrap().unwrap().key.public(), key.public());
    assert_eq!(again.verify_logs().unwrap(), store.verify_logs().unwrap());
    let seed = evidence::DeviceKey::from_seed(SEED).private_pem().unwrap();
    let secret = seed.lines().nth(1).unwrap().to_owned();
    let found = run("grep", &["-r", &secret, bare.path().to_str().unwrap()]);
    assert!(!found.status.success(), "the first device's private key is on the second");
}

/// Drives `age` over a terminal of Python's, because it takes passphrases from nothing else; `tar`, `sqlite3` and
/// `sha256sum` then read what it gives.
#[test]
fn age_and_tar_open_it_without_us() {
    let (folder, store) = shop();
    let at = |name: &str| folder.path().join(name).display().to_string();
    store.backup(Path::new(&at("shop.age")), WORDS, BackupKey::Included, &mut go_on).unwrap();
    let script = "\
import os, pty, sys
words, source, target = sys.argv[1:]
pid, terminal = pty.fork()
if pid == 0:
    os.execvp('age', ['age', '-d', '-o', target, source])
asked = b''
while b'assphrase' not in asked:
    asked += os.read(terminal, 1000)
os.write(terminal, words.encode() + b'\\n')
try:
    while os.read(terminal, 1000):
        pass
except OSError:
    pass
sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
";
    run_well("python3", &["-c", script, WORDS, &at("shop.age"), &at("shop.tar")]);
    let listed = run_well("tar", &["-tf", &at("shop.tar")]);
    assert_eq!(listed.lines().next(), Some("testimeter-backup/manifest.json"));
    assert_eq!(listed.lines().last(), Some("testimeter-backup/end.json"));
    assert_eq!(listed.lines().filter(|line| line.contains("/originals/")).count(), 4);
    run_well("tar", &["-xf", &at("shop.tar"), "-C", folder.path().to_str().unwrap()]);
    let inside = folder.path().join("testimeter-backup");
    let database = inside.join("testimeter.sqlite").display().to_string();
    assert_eq!(run_well("sqlite3", &[&database, "PRAGMA integrity_check"]).trim(), "ok");
    assert_eq!(run_well("sqlite3", &[&database, "SELECT count(*) FROM records"]).trim(), "4");
    let sums = run_well("sh", &["-c", "sha256sum \"$0\"/originals/*/*", inside.to_str().unwrap()]);
    for line in sums.lines() {
        let (sum, path) = line.split_once("  ").unwrap();
        assert_eq!(Path::new(path).file_stem().unwrap(), sum);
    }
}

#[test]
fn refusals_name_what_is_wrong_and_leave_nothing_behind() {
    let (folder, store) = shop();
    let (bytes, bare) = (quick(&store), tempfile::tempdir().unwrap());
    let target = bare.path().join("data");
    let left = || fs::read_dir(bare.path()).unwrap().count();
    let wrong = restored(&bytes, &target, "corral pistachio vellum 43", &RestoreAs::SameDevice);
    assert!(matches!(wrong, Err(StoreError::WrongPassphrase)), "{wrong:?}");
    let full = restored(&bytes, folder.path(), WORDS, &RestoreAs::SameDevice);
    assert!(matches!(full, Err(StoreError::NotEmpty { .. })), "{full:?}");
    for not in [&b""[..], b"PK\x03\x04 something else", &[b'a'; 10_000], b"age-encryption.org/v1\n"] {
        let refused = restored(not, &target, WORDS, &RestoreAs::SameDevice);
        assert!(matches!(refused, Err(StoreError::NotABackup { .. })), "{refused:?}");
    }
    let stop = &mut |_: Progress| ControlFlow::Break(());
    let stopped =
        restore(&mut &bytes[..], WORDS, &target, &RestoreAs::SameDevice, &OpenOptions::default(), stop);
    assert!(matches!(stopped, Err(StoreError::Cancelled)));
    let stopped = store
        .backup(&bare.path().join("shop.age"), WORDS, BackupKey::LeftOut, &mut |_| ControlFlow::Break(()));
    assert!(matches!(stopped, Err(StoreError::Cancelled)));
    assert_eq!(left(), 0);
    restored(&bytes, &target, WORDS, &RestoreAs::SameDevice).unwrap();
    assert_eq!(left(), 1);
}

/// A file that asks for 2^30 is refused before a byte of memory is taken for it.
#[test]
fn hostile_work_is_not_done() {
    let (_folder, store) = shop();
    let bytes = quick(&store);
    let line_end = bytes.iter().skip(30).position(|byte| *byte == b'\n').unwrap() + 30;
    assert_eq!(bytes[line_end - 2..line_end], *b" 1");
    let hostile = [&bytes[..line_end - 1], b"30", &bytes[line_end..]].concat();
    let start = std::time::Instant::now();
    let refused = check_backup(&mut &hostile[..], WORDS, &mut go_on);
    assert!(matches!(refused, Err(StoreError::TooCostly { work: 30 })), "{refused:?}");
    assert!(start.elapsed().as_secs() < 2);
}

#[test]
fn a_cut_backup_tells_what_can_be_read() {
    let (_folder, store) = shop();
    let bytes = quick(&store);
    let told = |length: usize| match check_backup(&mut &bytes[..length], WORDS, &mut go_on) {
        Err(StoreError::BackupDamaged(contents)) => *contents,
        other => panic!("cut to {length} bytes: {other:?}"),
    };
    // A whole chunk has 64 KiB and a tag of 16 bytes; the header and nonce come before.
    let early = told(20_000);
    assert_eq!((early.jobs.len(), early.files_readable), (0, 0));
    let half = told(bytes.len() * 2 / 3);
    assert_eq!((half.jobs.len(), half.jobs[0].number, half.jobs[0].records), (1, 1, 4));
    assert!(half.jobs[0].records_readable, "the database comes first");
    assert!((1..4).contains(&half.jobs[0].originals_missing), "{half:?}");
    assert_eq!(half.files_missing.len() as u64, half.jobs[0].originals_missing);
    let almost = told(bytes.len() - 1);
    assert!(almost.damage.is_some());
    let whole = check_backup(&mut &bytes[..], WORDS, &mut go_on).unwrap();
    assert_eq!((whole.damage, whole.files_readable), (None, 7));
}

/// Every change of one byte, every cut and every addition is refused. The reduced run tries 300, the full one 3,000.
#[test]
fn no_mutation_is_taken_for_the_backup() {
    let (_folder, store) = shop();
    let bytes = quick(&store);
    let times = if std::env::var_os("TESTIMETER_FULL").is_some() { 3_000_u64 } else { 300 };
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    let mut next = |below: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state % below as u64).unwrap()
    };
    for number in 0..times {
        let mut changed = bytes.clone();
        let at = if number % 3 == 0 { next(300) } else { next(bytes.len()) };
        match number % 5 {
            0 => changed.truncate(at),
            1 => changed.insert(at, u8::try_from(next(256)).unwrap()),
            2 => drop(changed.remove(at)),
            _ => changed[at] ^= u8::try_from(1 + next(255)).unwrap(),
        }
        if changed == bytes {
            continue;
        }
        let verdict = check_backup(&mut &changed[..], WORDS, &mut go_on);
        assert!(verdict.is_err(), "mutation {number} at {at} was taken for whole");
    }
}

/// An original that was damaged before is told when it is written and when it is read.
#[test]
fn a_damaged_original_is_told() {
    let (_folder, store) = shop();
    let photo = evidence::Record::parse(&store.job_records(JOB).unwrap()[1].bytes).unwrap().photos[0].sha256;
    let path = store.original_path(&photo).unwrap();
    let mut bytes = fs::read(&path).unwrap();
    bytes[700] ^= 1;
    fs::write(&path, bytes).unwrap();
    let mut backup = Vec::new();
    let report = store.backup_to(&mut backup, WORDS, QUICK, BackupKey::LeftOut, &mut go_on).unwrap();
    assert_eq!(report.damaged_originals, [photo]);
    let contents: BackupContents = check_backup(&mut &backup[..], WORDS, &mut go_on).unwrap();
    assert_eq!(contents.damaged_before, [photo]);
}

/// Each step made to fail is told and leaves no file; each sync that wasn't done loses the backup.
#[test]
fn the_file_is_durable_when_it_is_said_to_be() {
    let run_with = |fault: Fault| {
        let (shop, out) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let disk = FaultyDisk::new(fault);
        let options = OpenOptions { disk: Arc::new(disk.clone()), ..OpenOptions::default() };
        let store = Store::open(shop.path(), &options);
        let before = disk.steps().len();
        let file: PathBuf = out.path().join("shop.age");
        let done = store.and_then(|store| {
            keep_next(&store, 500)?;
            store.backup(&file, WORDS, BackupKey::Included, &mut go_on)
        });
        (shop, out, disk, before, file, done)
    };
    let (_shop, _out, disk, opened, _, done) = run_with(Fault::None);
    done.unwrap();
    let steps = disk.steps();
    let begun =
        steps.iter().position(|step| step.starts_with("create ") && step.contains("shop.age")).unwrap();
    assert!(begun > opened);
    for (step, what) in steps.iter().enumerate().skip(begun) {
        let (_shop, out, _, _, _, done) = run_with(Fault::Fails(step, ErrorKind::StorageFull));
        assert!(matches!(done, Err(StoreError::DiskFull)), "{what}: {done:?}");
        let left = fs::read_dir(out.path()).unwrap().count();
        assert!(left == 0 || what.starts_with("sync folder"), "{what} left a file");
    }
    let syncs = (begun..steps.len()).filter(|step| steps[*step].starts_with("sync"));
    assert_eq!(syncs.clone().count(), 2, "the file and its folder");
    for step in syncs {
        let (_shop, _out, disk, _, file, done) = run_with(Fault::Lies(step));
        done.unwrap();
        disk.drop_unsynced();
        let read = fs::File::open(&file).map(|mut open| check_backup(&mut open, WORDS, &mut go_on));
        assert!(!matches!(read, Ok(Ok(_))), "nothing is lost without: {}", steps[step]);
    }
}
