//! Rows that order something, or vouch for somebody, in the hands of whoever can write to the database.

use std::fs;
use std::ops::ControlFlow;

use evidence::{Checkpoint, DeviceKey, Digest, Record};
use serde_json::json;
use store::{Notice, Standing};

use crate::home::{journal, open, shop, sql, standing};
use crate::sample::{JOB, device_key, log};

/// A plan to destroy files that nobody here signed destroys nothing, inside the folder or outside.
#[test]
fn an_order_to_destroy_that_nobody_signed_destroys_nothing() {
    let folder = shop(2);
    let elsewhere = tempfile::NamedTempFile::new().unwrap();
    let store = open(folder.path());
    let originals: Vec<Digest> = store
        .job_records(JOB)
        .unwrap()
        .iter()
        .map(|record| Record::parse(&record.bytes).unwrap().photos[0].sha256)
        .collect();
    drop(store);
    let plan =
        json!({ "job": JOB, "originals": originals, "exports": [elsewhere.path()], "damaged_copies": true });
    let signed = json!({ "plan": plan.to_string(), "signature": vec![0_u8; 64] });
    for row in [plan, signed] {
        sql(folder.path(), &format!("INSERT INTO forgetting VALUES (1, '{row}')"));
        let store = open(folder.path());
        assert_eq!(store.notices(), [Notice::ForgettingNotOurs]);
        assert!(originals.iter().all(|original| store.original(original).is_ok()));
        assert!(elsewhere.path().exists());
    }
}

/// Values that are gone from the rows, under digests that somebody put on the list of forgotten ones: the journal that still
/// has them is put aside, not written over.
#[test]
fn a_forged_list_of_the_forgotten_destroys_no_copy() {
    let folder = shop(2);
    let path = journal(folder.path());
    let good = fs::read_to_string(&path).unwrap();
    let value = open(folder.path()).disclosures(JOB).unwrap()[0].digest();
    sql(
        folder.path(),
        &format!(
            "INSERT INTO forgotten VALUES (x'{value}', '{JOB}'); DELETE FROM disclosures WHERE record = 1"
        ),
    );
    let store = open(folder.path());
    let found = store.check(&mut |_| ControlFlow::Continue(())).unwrap().found;
    let [Notice::JournalDiffers { to, .. }] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(fs::read_to_string(to).unwrap(), good);
    drop(store);
    // And in the journal alone, once the database is lost.
    let folder = shop(2);
    let path = journal(folder.path());
    let text = format!("{}{{\"forgotten\":[\"{value}\"]}}\n", fs::read_to_string(&path).unwrap());
    fs::write(&path, text).unwrap();
    for name in ["testimeter.sqlite", "testimeter.sqlite-wal"] {
        let _ = fs::remove_file(folder.path().join(name));
    }
    assert_eq!(open(folder.path()).disclosures(JOB).unwrap().len(), 2);
}

/// Checkpoints that are gone, and signatures that were overwritten, come back from the journal.
#[test]
fn checkpoints_and_signatures_come_back() {
    let folder = shop(3);
    let store = open(folder.path());
    let root = store.root(&log()).unwrap().unwrap();
    let signed = device_key().sign(&Checkpoint { origin: log().origin(), size: 3, root });
    store.append_checkpoint(&log(), &signed).unwrap();
    let signatures = store.signatures(&log()).unwrap();
    drop(store);
    for change in [
        "DELETE FROM checkpoints",
        "UPDATE checkpoints SET signature = zeroblob(64)",
        "UPDATE signatures SET signature = zeroblob(64) WHERE sequence = 1",
        "DELETE FROM signatures WHERE sequence < 2",
    ] {
        sql(folder.path(), change);
        let store = open(folder.path());
        let found = store.check(&mut |_| ControlFlow::Continue(())).unwrap().found;
        assert!(matches!(found.as_slice(), [Notice::LogMended { .. }]), "{change}: {found:?}");
        assert_eq!(store.checkpoints(JOB).unwrap().len(), 1, "{change}");
        assert_eq!(store.checkpoints(JOB).unwrap()[0].signed, signed, "{change}");
        assert_eq!(store.signatures(&log()).unwrap(), signatures, "{change}");
    }
}

/// A planted key in a database that is then damaged isn't taken over into the signed list.
#[test]
fn a_rebuilt_database_brings_no_key() {
    let folder = shop(6);
    let his = DeviceKey::from_seed([66; 32]);
    let (pem, fingerprint) = (his.public_pem().unwrap(), his.fingerprint().unwrap());
    sql(
        folder.path(),
        &format!(
            "INSERT INTO device_keys (device, fingerprint, pem) VALUES ('device-1', x'{fingerprint}', '{pem}')"
        ),
    );
    let path = folder.path().join("testimeter.sqlite");
    let mut bytes = fs::read(&path).unwrap();
    let root: usize = sql(folder.path(), "SELECT rootpage FROM sqlite_schema WHERE name = 'leaves'")
        .trim()
        .parse()
        .unwrap();
    bytes[(root - 1) * 4096..root * 4096].fill(0xFF);
    fs::write(&path, &bytes).unwrap();
    let store = open(folder.path());
    assert!(
        store.notices().iter().any(|notice| matches!(notice, Notice::DatabaseRebuilt(_))),
        "{:?}",
        store.notices()
    );
    assert!(!store.public_keys_of("device-1").unwrap().contains(&his.public()));
    assert_eq!(standing(&store), [Standing::Good; 6]);
}
