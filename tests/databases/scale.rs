//! The bars of daily use with many jobs: start, list, search, keep. A desktop's times don't stand in for a phone's;
//! they only show that nothing grows with the number of jobs that shouldn't.

use std::time::{Duration, Instant};

use evidence::{LogId, PhotoRef, seal};
use store::{AppendRequest, JobSummary, OpenOptions, Store};

use crate::sample::{log, new_record, photo, sign, summary};

#[test]
fn a_shop_of_years_starts_and_searches_quickly() {
    // 1,000 jobs and 10,000 photos take minutes to write; every push writes a tenth of the jobs.
    let jobs = if std::env::var_os("TESTIMETER_FULL").is_some() { 1000 } else { 100 };
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path(), &OpenOptions::default()).unwrap();
    let slowest = (0..jobs).flat_map(|job| (0..10).map(move |_| job)).map(|job| keep_in(&store, job)).max();
    drop(store);
    let (store, start) = timed(|| Store::open(folder.path(), &OpenOptions::default()).unwrap());
    let (all, list) = timed(|| store.jobs("", 50, None).unwrap().rows);
    let (found, search) = timed(|| store.jobs(&format!("plate{}", jobs - 1), 50, None).unwrap().rows);
    let (records, read) = timed(|| store.job_records("job-7").unwrap());
    assert_eq!((store.notices(), all.len(), found.len(), records.len()), (&[][..], 50, 1, 10));
    eprintln!(
        "{jobs} jobs: slowest keep {slowest:?}, start {start:?}, list {list:?}, search {search:?}, job {read:?}"
    );
    assert!(start < Duration::from_secs(2), "start to usable: {start:?}");
    assert!([list, search, read].iter().all(|time| *time < Duration::from_millis(100)), "tap to paint");
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let start = Instant::now();
    (work(), start.elapsed())
}

/// One photo and its record, as a capture keeps them.
fn keep_in(store: &Store, job: u64) -> Duration {
    let log = LogId { job: format!("job-{job}"), ..log() };
    let start = Instant::now();
    let head = store.head(&log).unwrap();
    let bytes = photo(job * 1000 + head.size, 2000);
    let sha256 = store.keep_original(&bytes, "jpg").unwrap();
    let photos = vec![PhotoRef { sha256, bytes: bytes.len() as u64, media_type: "image/jpeg".into() }];
    let sealed = seal(&log, &head, new_record(head.size, photos), &mut || [8; 16]).unwrap();
    let mut summary =
        JobSummary { cache: vec![1; 4000], search_text: format!("plate{job}"), ..summary(head.size) };
    (summary.row.job, summary.row.number) = (log.job.clone(), job);
    store
        .append(&AppendRequest {
            summary: Some(&summary),
            ..AppendRequest::new(&log, &sealed, sign(store, &log, &sealed).unwrap())
        })
        .unwrap();
    start.elapsed()
}
