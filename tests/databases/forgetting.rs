//! What is forgotten stands in no byte of any file any more, even when power fails in the middle; every proof holds.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use evidence::{Checkpoint, DeviceKey, Digest, Disclosure, LogId, seal};
use serde_json::json;
use store::{
    AppendRequest, ForgetReport, ForgetRequest, JobSummary, Notice, OpenOptions, Store, StoreError,
    ToBeForgotten,
};

use crate::faulty_disk::{Fault, FaultyDisk};
use crate::programs::run_well;
use crate::sample::{JOB, log, new_record, sign, summary};

/// Words of the customer that must be gone, and of another customer that must stay.
const GONE: [&str; 3] = ["Quillonia", "Vexborough", "kept-by-the-photo"];
const STAYS: &str = "Otherwise-Fine";

struct Told {
    disclosures: Vec<Digest>,
    originals: Vec<Digest>,
}

/// One record with the customer's words and photo, one of another job with others'; previews, draft, export, backup of
/// the journal: everywhere the words get to.
fn fill(store: &Store) -> Result<Told, StoreError> {
    let photo = store.keep_original(b"\xff\xd8 kept-by-the-photo", "jpg")?;
    store.keep_preview(&photo, "small.jpg", b"kept-by-the-photo, smaller")?;
    let mut told = Told { disclosures: Vec::new(), originals: vec![photo] };
    for (number, name) in ["Quillonia", "Quillonia Vexborough"].iter().enumerate() {
        told.disclosures.extend(append(store, &log(), number as u64, name, Some(photo))?);
    }
    let elsewhere = LogId { job: "job-2".into(), ..log() };
    append(store, &elsewhere, 9, STAYS, None)?;
    store.keep_draft(JOB, "note", &json!({ "text": "ring Quillonia" }))?;
    store.keep_intent(&json!({ "for": "Vexborough" }))?;
    fs::create_dir_all(store.folder().join("exports")).unwrap();
    fs::write(store.folder().join("exports/report.pdf"), "for Quillonia").unwrap();
    let root = store.root(&log())?.unwrap();
    let checkpoint = Checkpoint { origin: log().origin(), size: 2, root };
    store.append_checkpoint(&log(), &DeviceKey::from_seed([5; 32]).sign(&checkpoint))?;
    Ok(told)
}

fn append(
    store: &Store,
    log: &LogId,
    number: u64,
    name: &str,
    photo: Option<Digest>,
) -> Result<Vec<Digest>, StoreError> {
    let bytes = 20;
    let photos = photo.map(|sha256| evidence::PhotoRef { sha256, bytes, media_type: "image/jpeg".into() });
    let mut new = new_record(number, photos.into_iter().collect());
    new.withheld = vec![("name".into(), json!(name)), ("note".into(), json!(format!("{name} rang")))];
    let mut salts = (1_u8..).map(|salt| [salt.wrapping_add(number as u8 * 16); 16]);
    let sealed = seal(log, &store.head(log)?, new, &mut || salts.next().unwrap())?;
    let mut summary = named(name);
    summary.row.job.clone_from(&log.job);
    store.append(&AppendRequest {
        summary: Some(&summary),
        ..AppendRequest::new(log, &sealed, sign(store, log, &sealed)?)
    })?;
    Ok(sealed.disclosures.iter().map(Disclosure::digest).collect())
}

fn named(name: &str) -> JobSummary {
    let mut summary = JobSummary { cache: name.as_bytes().to_vec(), ..summary(0) };
    summary.row.customer = name.into();
    summary
}

fn forget(store: &Store, told: &Told) -> Result<ForgetReport, StoreError> {
    let after = named("-");
    store.forget(&ForgetRequest {
        job: JOB,
        disclosures: &told.disclosures,
        originals: &told.originals,
        exports: &["report.pdf".to_owned()],
        damaged_copies: true,
        summary: Some(&after),
    })
}

/// Reads every byte of every file; the words also as the disclosures encode them (base64url at each of three offsets).
fn found(folder: &Path, word: &str) -> Vec<String> {
    let search = "\
import base64, os, sys
word = sys.argv[2].encode()
forms = [word]
for before in range(3):
    coded = base64.urlsafe_b64encode(b'x' * before + word).decode().rstrip('=')
    forms.append(coded[(0, 2, 3)[before]:-2].encode())
for at, _, names in os.walk(sys.argv[1]):
    for name in names:
        data = open(os.path.join(at, name), 'rb').read()
        if any(form in data for form in forms):
            print(os.path.join(at, name))
";
    let lines = run_well("python3", &["-c", search, folder.to_str().unwrap(), word]);
    lines.lines().map(str::to_owned).collect()
}

fn all_gone(store: &Store) {
    for word in GONE {
        assert_eq!(found(store.folder(), word), Vec::<String>::new(), "{word}");
    }
    assert!(!found(store.folder(), STAYS).is_empty(), "another customer's words are gone, too");
    assert_eq!(store.verify_logs().unwrap().len(), 2);
    assert_eq!(store.checkpoints(JOB).unwrap().len(), 1);
    assert_eq!(store.disclosures(JOB).unwrap(), []);
    assert_eq!(store.disclosures("job-2").unwrap().len(), 2);
    assert_eq!(store.jobs("quillonia", 9, None).unwrap().rows, []);
    assert_eq!(store.originals_missing().unwrap(), []);
}

#[test]
fn no_byte_of_it_is_left() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let told = fill(&store).unwrap();
    for word in GONE {
        assert!(!found(folder.path(), word).is_empty(), "the search must be able to find {word}");
    }
    let before = store.job_records(JOB).unwrap();
    let report = forget(&store, &told).unwrap();
    assert_eq!((report.disclosures, report.originals, report.originals_shared.len()), (4, 1, 0));
    all_gone(&store);
    assert_eq!(store.job_records(JOB).unwrap(), before, "records stay as they were signed for");
    drop(store);
    let again = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    assert_eq!(again.notices(), []);
    all_gone(&again);
}

/// Everywhere a copy may have been put aside: the list names it beforehand, and nothing of it is left.
#[test]
fn what_was_put_aside_is_named_beforehand_and_goes() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let told = fill(&store).unwrap();
    let aside = [
        "logs/job-1/device-1@shop-1.differs-1",
        "logs/job-1/device-1@shop-1.differs-27",
        "logs/job-1/device-9@shop-1.differs",
        "logs/job-1/unreadable@shop-1.jsonl",
        "testimeter-damaged-1.sqlite",
        "testimeter-damaged-1.sqlite-shm",
        "testimeter-damaged-1.sqlite-wal",
        "testimeter.damaged",
        "testimeter.damaged-wal",
    ];
    for name in aside {
        fs::write(folder.path().join(name), "about Quillonia").unwrap();
    }
    fs::create_dir_all(folder.path().join("logs/job-2")).unwrap();
    let elsewhere = folder.path().join("logs/job-2/device-1@shop-1.differs-1");
    fs::write(&elsewhere, "another job's").unwrap();
    let exports = ["report.pdf".to_owned(), "not there".to_owned()];
    let there = store.to_be_forgotten(JOB, &told.originals, &exports).unwrap();
    let named: Vec<&str> = there.put_aside.iter().map(|file| file.name.as_str()).collect();
    assert_eq!(named, aside);
    assert!(there.put_aside.iter().all(|file| file.bytes == 15), "{:?}", there.put_aside);
    assert_eq!((there.originals, there.originals_bytes, there.previews, there.drafts), (1, 20, 1, 1));
    assert_eq!(
        there.exports.iter().map(|file| file.name.as_str()).collect::<Vec<_>>(),
        ["exports/report.pdf"]
    );
    forget(&store, &told).unwrap();
    all_gone(&store);
    for name in aside {
        assert!(!folder.path().join(name).exists(), "{name}");
    }
    assert!(elsewhere.exists(), "another job's journal was not asked about");
    let left = store.to_be_forgotten(JOB, &told.originals, &exports).unwrap();
    assert_eq!(left, ToBeForgotten::default());
}

/// What was forgotten doesn't return with an export that was made before.
#[test]
fn an_old_export_does_not_bring_it_back() {
    let (folder, out) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let told = fill(&store).unwrap();
    let go_on = &mut |_| std::ops::ControlFlow::Continue(());
    store.open_export(&out.path().join("out"), &[], go_on).unwrap();
    forget(&store, &told).unwrap();
    let brought = store.open_import(&out.path().join("out"), go_on).unwrap();
    assert_eq!(brought.refused.len(), 1, "the photo: {brought:?}");
    all_gone(&store);
}

#[test]
fn an_original_that_another_job_names_stays() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let told = fill(&store).unwrap();
    append(&store, &LogId { job: "job-3".into(), ..log() }, 3, "Third", Some(told.originals[0])).unwrap();
    let report = forget(&store, &told).unwrap();
    assert_eq!((report.originals, report.originals_shared), (0, told.originals.clone()));
    assert!(store.original(&told.originals[0]).is_ok());
}

/// Power fails at each step in turn; the next start finishes what was begun.
#[test]
fn lost_power_in_the_middle_is_made_up_for() {
    let run = |fault: Fault| {
        let folder = tempfile::tempdir().unwrap();
        let disk = FaultyDisk::new(fault);
        let options = OpenOptions { disk: Arc::new(disk.clone()), ..OpenOptions::default() };
        let store = Store::open(folder.path(), &options).unwrap();
        let told = fill(&store).unwrap();
        let from = disk.steps().len();
        let done = forget(&store, &told);
        (folder, disk, from, done.is_ok())
    };
    let (_folder, disk, from, well) = run(Fault::None);
    assert!(well);
    let steps = disk.steps();
    assert!(steps.len() - from > 8, "{:?}", &steps[from..]);
    for (step, what) in steps.iter().enumerate().skip(from) {
        let (folder, disk, _, well) = run(Fault::PowerCut(step));
        assert!(!well, "{what} failed and nobody was told");
        disk.drop_unsynced();
        let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
        assert!(store.notices().contains(&Notice::ForgettingFinished), "{what}: {:?}", store.notices());
        all_gone(&store);
    }
}
