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

pub fn open(folder: &Path) -> Store {
    Store::open(folder, &OpenOptions::default()).unwrap()
}

/// A shop with so many records, closed.
pub fn shop(records: u64) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let store = open(folder.path());
    for _ in 0..records {
        keep_next(&store, 400).unwrap();
    }
    folder
}

pub fn journal(folder: &Path) -> PathBuf {
    folder.join("logs/job-1/device-1@shop-1.jsonl")
}

/// Runs SQL with SQLite's own shell, as somebody with the file in hand would.
pub fn sql(folder: &Path, statement: &str) -> String {
    run_well("sqlite3", &[folder.join("testimeter.sqlite").to_str().unwrap(), statement])
}

pub fn standing(store: &Store) -> Vec<Standing> {
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
