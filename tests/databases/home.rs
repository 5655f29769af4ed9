//! The shop's own folder in the hands of somebody who can write to it: what nobody known signed for never counts, what was
//! changed comes back from the copy that is signed for, and nothing good is overwritten by what isn't.

use std::fs;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

use evidence::{Checkpoint, DeviceKey, Digest, Frontier, Record, Sealed, seal, tree};
use serde_json::json;
use store::{AppendRequest, Notice, OpenOptions, Standing, Store, StoreError};

use crate::programs::run_well;
use crate::sample::{JOB, device_key, keep_next, log, new_record};

fn open(folder: &Path) -> Store {
    Store::open(folder, &OpenOptions::default()).unwrap()
}

/// A shop with so many records, closed.
fn shop(records: u64) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path());
    (0..records).for_each(|_| drop(keep_next(&store, 400).unwrap()));
    folder
}

fn journal(folder: &Path) -> PathBuf {
    folder.join("logs/job-1/device-1@shop-1.jsonl")
}

/// Runs SQL with SQLite's own shell, as somebody with the file in hand would.
fn sql(folder: &Path, statement: &str) -> String {
    run_well("sqlite3", &[folder.join("testimeter.sqlite").to_str().unwrap(), statement])
}

fn standing(store: &Store) -> Vec<Standing> {
    store.job_records(JOB).unwrap().iter().map(|record| record.standing).collect()
}

/// A record that chains on and says what nobody said.
fn forged(head: &evidence::LogHead, amount: &str) -> Sealed {
    let mut new = new_record(head.size, vec![]);
    new.kind = "approval_kept".into();
    new.body = json!({ "amount": amount });
    seal(&log(), head, new, &mut || [0x66; 16]).unwrap()
}

fn line(sealed: &Sealed, signature: Option<String>) -> String {
    let values: Vec<&str> = sealed.disclosures.iter().map(evidence::Disclosure::encoded).collect();
    let record = String::from_utf8(sealed.bytes.clone()).unwrap();
    let signed = signature.map(|text| format!(",\"signature\":\"{text}\"")).unwrap_or_default();
    format!("{{\"disclosures\":{}{signed},\"record\":{record}}}\n", json!(values))
}

fn set_aside(store: &Store) -> Option<(u64, PathBuf)> {
    store.notices().iter().find_map(|notice| match notice {
        Notice::NotVouched { records, to, .. } => Some((*records, to.clone())),
        _ => None,
    })
}

#[test]
fn lines_appended_to_a_journal_are_not_ours() {
    let folder = shop(3);
    let path = journal(folder.path());
    let good = fs::read_to_string(&path).unwrap();
    let head = open(folder.path()).head(&log()).unwrap();
    let first = forged(&head, "999900");
    let second = forged(&first.head(), "999900");
    // The attacker signs with a key of his own, as well as he can.
    let his = DeviceKey::from_seed([66; 32]);
    let mut tree = Frontier::of(&open(folder.path()).leaves(&log()).unwrap());
    tree.push(first.leaf);
    let text = Checkpoint { origin: log().origin(), size: 4, root: tree.root() }.text();
    let signature = base64(&his.sign_bytes(text.as_bytes()));
    let lines = format!("{}{}", line(&first, Some(signature)), line(&second, None));
    fs::write(&path, format!("{good}{lines}")).unwrap();
    let store = open(folder.path());
    assert_eq!(standing(&store), [Standing::Good; 3]);
    let (records, to) = set_aside(&store).unwrap();
    assert_eq!(records, 2);
    assert!(fs::read_to_string(to).unwrap().contains("999900"), "what was found is kept to be looked at");
    assert_eq!(fs::read_to_string(&path).unwrap(), good);
    drop(store);
    // The same without the database: the journal alone would have brought them in.
    fs::write(&path, format!("{good}{lines}")).unwrap();
    for name in ["testimeter.sqlite", "testimeter.sqlite-wal"] {
        let _ = fs::remove_file(folder.path().join(name));
    }
    let store = open(folder.path());
    assert_eq!(standing(&store), [Standing::Good; 3]);
    let told =
        |notice: &Notice| matches!(notice, Notice::RecordsRecovered { records: 3, left_behind: 2, .. });
    assert!(store.notices().iter().any(told), "{:?}", store.notices());
}

/// Rows that agree with themselves in every way that needs no key.
#[test]
fn rows_put_into_the_database_are_not_ours() {
    for also_the_journal in [false, true] {
        let folder = shop(3);
        let path = journal(folder.path());
        let good = fs::read_to_string(&path).unwrap();
        let (leaves, head) = {
            let store = open(folder.path());
            (store.leaves(&log()).unwrap(), store.head(&log()).unwrap())
        };
        let forged = forged(&head, "999900");
        put_row(folder.path(), &leaves, &forged);
        // A key of his own among the known ones, with which the record is signed.
        let his = DeviceKey::from_seed([66; 32]);
        let pem = his.public_pem().unwrap();
        let fingerprint = his.fingerprint().unwrap();
        sql(
            folder.path(),
            &format!(
                "INSERT INTO device_keys (device, fingerprint, pem) VALUES ('device-1', x'{fingerprint}', '{pem}')"
            ),
        );
        let tree = Frontier::of(&[&leaves[..], &[forged.leaf]].concat());
        let text = Checkpoint { origin: log().origin(), size: 4, root: tree.root() }.text();
        let signature = his.sign_bytes(text.as_bytes());
        sql(folder.path(), &format!("INSERT INTO signatures VALUES (1, 3, x'{}')", hex(&signature)));
        if also_the_journal {
            fs::write(&path, format!("{good}{}", line(&forged, Some(base64(&signature))))).unwrap();
        }
        let store = open(folder.path());
        assert_eq!(standing(&store), [Standing::Good; 3], "journal too: {also_the_journal}");
        assert!(set_aside(&store).is_some(), "{:?}", store.notices());
        assert_eq!(fs::read_to_string(&path).unwrap(), good);
        keep_next(&store, 400).unwrap();
        assert_eq!(standing(&store), [Standing::Good; 4]);
        drop(store);
        assert_eq!(sql(folder.path(), "PRAGMA integrity_check; PRAGMA foreign_key_check").trim(), "ok");
    }
}

/// An approval changed with its leaf, its root and its frontier: the journal's copy is signed for, and comes back; the
/// journal isn't written anew from the bad row.
#[test]
fn a_record_changed_with_its_whole_tree_comes_back_from_the_journal() {
    for record in 0..3_u64 {
        let folder = shop(3);
        let path = journal(folder.path());
        let good = fs::read_to_string(&path).unwrap();
        let mut leaves = open(folder.path()).leaves(&log()).unwrap();
        let bytes = sql(folder.path(), &format!("SELECT bytes FROM records WHERE sequence = {record}"));
        let changed = bytes.trim_end().replace("12.61 V", "11.02 V");
        leaves[usize::try_from(record).unwrap()] = tree::leaf(changed.as_bytes());
        let tree = Frontier::of(&leaves);
        let frontier: String = tree.peaks().iter().map(Digest::to_string).collect();
        let changes = format!(
            "PRAGMA foreign_keys = off; UPDATE records SET bytes = x'{}' WHERE sequence = {record};
             UPDATE leaves SET leaf = x'{}' WHERE sequence = {record};
             UPDATE logs SET root = x'{}', last_leaf = x'{}', frontier = x'{frontier}'",
            hex(changed.as_bytes()),
            leaves[usize::try_from(record).unwrap()],
            tree.root(),
            leaves[2],
        );
        sql(folder.path(), &changes);
        let store = open(folder.path());
        assert!(matches!(store.notices(), [Notice::LogMended { .. }]), "{record}: {:?}", store.notices());
        assert_eq!(standing(&store), [Standing::Good; 3]);
        let values: Vec<String> = store.job_records(JOB).unwrap().iter().map(value).collect();
        assert_eq!(values, ["12.61 V"; 3]);
        assert_eq!(fs::read_to_string(&path).unwrap(), good);
        keep_next(&store, 400).unwrap();
    }
}

#[test]
fn a_changed_value_comes_back() {
    let folder = shop(3);
    sql(folder.path(), "UPDATE disclosures SET encoded = replace(encoded, 'W', 'X') WHERE record = 1");
    sql(folder.path(), "DELETE FROM disclosures WHERE record = 2");
    sql(folder.path(), "UPDATE photos SET sha256 = zeroblob(32) WHERE record = 3");
    let store = open(folder.path());
    let mended = |notice: &Notice| matches!(notice, Notice::LogMended { values: 2, .. });
    assert!(store.notices().iter().any(mended), "{:?}", store.notices());
    let notes: Vec<String> =
        store.disclosures(JOB).unwrap().iter().map(|note| note.value().to_string()).collect();
    assert_eq!(notes.len(), 3, "{notes:?}");
    assert!(notes.iter().all(|note| note.contains("at the rear lamp")), "{notes:?}");
    assert_eq!(store.unattached_originals().unwrap(), []);
}

#[test]
fn a_line_lost_from_a_journal_is_told_and_counted() {
    let folder = shop(60);
    let path = journal(folder.path());
    let good = fs::read_to_string(&path).unwrap();
    let without: String = good
        .split_inclusive('\n')
        .enumerate()
        .filter(|(place, _)| *place != 28)
        .map(|(_, line)| line)
        .collect();
    fs::write(&path, &without).unwrap();
    // With the database the journal is simply whole again.
    let store = open(folder.path());
    assert_eq!((fs::read_to_string(&path).unwrap(), standing(&store)), (good, vec![Standing::Good; 60]));
    drop(store);
    fs::write(&path, &without).unwrap();
    for name in ["testimeter.sqlite", "testimeter.sqlite-wal"] {
        let _ = fs::remove_file(folder.path().join(name));
    }
    let store = open(folder.path());
    let told = store.notices().iter().find_map(|notice| match notice {
        Notice::DatabaseRebuilt(rebuilt) => Some(rebuilt.logs[0].clone()),
        _ => None,
    });
    let told = told.unwrap();
    assert_eq!((told.records, told.lost), (27, 33), "{:?}", store.notices());
    assert_eq!(standing(&store), vec![Standing::Good; 27]);
    let aside = fs::read_dir(path.parent().unwrap()).unwrap().count();
    assert_eq!(aside, 2, "the journal with what was left behind is put aside");
}

#[test]
fn an_import_takes_only_what_a_known_key_signed_for() {
    let folder = shop(3);
    let store = open(folder.path());
    let out = folder.path().join("out");
    let go_on = &mut |_| ControlFlow::Continue(());
    store.open_export(&out, &[], go_on).unwrap();
    let exported = out.join("logs/job-1/device-1@shop-1.jsonl");
    let text = fs::read_to_string(&exported).unwrap();
    let first = forged(&store.head(&log()).unwrap(), "999900");
    fs::write(&exported, format!("{text}{}", line(&first, None))).unwrap();
    let brought = store.open_import(&out, go_on).unwrap();
    assert!(brought.refused.iter().any(|refused| refused.why.contains("SHA256SUMS")), "{brought:?}");
    sums(&out);
    let brought = store.open_import(&out, go_on).unwrap();
    assert_eq!(brought.logs.iter().map(|(_, union)| union.added).sum::<u64>(), 0);
    assert!(brought.refused.iter().any(|refused| refused.why.contains("signed by no key")), "{brought:?}");
    // A whole job that nobody ever worked on.
    let invented = evidence::LogId { job: "job-77".into(), ..log() };
    let sealed =
        seal(&invented, &evidence::LogHead::default(), new_record(0, vec![]), &mut || [1; 16]).unwrap();
    let heading = "{\"log\":\"shop-1/job-77/device-1\",\"version\":1}\n";
    fs::create_dir_all(out.join("logs/job-77")).unwrap();
    fs::write(out.join("logs/job-77/device-1@shop-1.jsonl"), format!("{heading}{}", line(&sealed, None)))
        .unwrap();
    sums(&out);
    let brought = store.open_import(&out, go_on).unwrap();
    assert_eq!(brought.logs.len(), 1, "{brought:?}");
    assert!(store.job_records("job-77").unwrap().is_empty());
    fs::remove_file(out.join("SHA256SUMS")).unwrap();
    assert!(matches!(store.open_import(&out, go_on), Err(StoreError::Misfit { .. })));
}

#[test]
fn nothing_unsigned_gets_in() {
    let folder = shop(2);
    let store = open(folder.path());
    let sealed = forged(&store.head(&log()).unwrap(), "1");
    let text = store.next_head(&log(), sealed.leaf).unwrap().text();
    let his = DeviceKey::from_seed([66; 32]).sign_bytes(text.as_bytes());
    for signature in [his, [0; 64], device_key().sign_bytes(b"something else")] {
        let refused = store.append(&AppendRequest::new(&log(), &sealed, signature));
        assert!(matches!(refused, Err(StoreError::NotSigned { .. })), "{refused:?}");
    }
    store.append(&AppendRequest::new(&log(), &sealed, device_key().sign_bytes(text.as_bytes()))).unwrap();
}

/// OpenSSL agrees with each signature, over the text that anybody can write down from the leaves.
#[test]
fn openssl_verifies_the_signature_of_every_record() {
    let folder = shop(3);
    let store = open(folder.path());
    let at = |name: &str| folder.path().join(name).display().to_string();
    fs::write(at("key.pem"), device_key().public_pem().unwrap()).unwrap();
    let leaves = store.leaves(&log()).unwrap();
    let signatures = store.signatures(&log()).unwrap();
    assert_eq!(signatures.iter().map(|(size, _)| *size).collect::<Vec<_>>(), [1, 2, 3]);
    for (size, signature) in signatures {
        let root = base64(&tree::root(&leaves[..usize::try_from(size).unwrap()]).0);
        fs::write(at("text"), format!("shop-1/job-1/device-1\n{size}\n{root}\n")).unwrap();
        fs::write(at("sig"), signature).unwrap();
        let (key, text, sig) = (at("key.pem"), at("text"), at("sig"));
        let verify =
            ["pkeyutl", "-verify", "-rawin", "-pubin", "-inkey", &key, "-in", &text, "-sigfile", &sig];
        assert!(run_well("openssl", &verify).contains("Verified Successfully"));
    }
}

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
    let root: usize = sql(folder.path(), "SELECT rootpage FROM sqlite_schema WHERE name = 'settings'").trim().parse().unwrap();
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

fn put_row(folder: &Path, leaves: &[Digest], forged: &Sealed) {
    let tree = Frontier::of(&[leaves, &[forged.leaf]].concat());
    let frontier: String = tree.peaks().iter().map(Digest::to_string).collect();
    let record = Record::parse(&forged.bytes).unwrap();
    let (leaf, bytes, root) = (forged.leaf, hex(&forged.bytes), tree.root());
    let mut put = format!(
        "INSERT INTO leaves VALUES (1, 3, x'{leaf}');
         INSERT INTO records (log, sequence, kind, wall, bytes) VALUES (1, 3, '{}', '{}', x'{bytes}');
         UPDATE logs SET size = 4, last_leaf = x'{leaf}', root = x'{root}', frontier = x'{frontier}';",
        record.kind, record.wall
    );
    for value in &forged.disclosures {
        put += &format!("INSERT INTO disclosures SELECT max(record), 0, '{}' FROM records;", value.encoded());
    }
    sql(folder, &put);
}

fn value(record: &store::StoredRecord) -> String {
    let record = Record::parse(&record.bytes).unwrap();
    record.body["value"].as_str().unwrap().to_owned()
}

/// Writes the list anew, as somebody who changes files would.
fn sums(folder: &Path) {
    let sums = "cd \"$0\" && rm -f SHA256SUMS && find . -type f | sed 's|^\\./||' | sort | xargs -d '\\n' sha256sum > SHA256SUMS";
    run_well("sh", &["-c", sums, folder.to_str().unwrap()]);
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn base64(bytes: &[u8]) -> String {
    use base64::Engine as _;
    base64::prelude::BASE64_STANDARD.encode(bytes)
}
