//! The finished job that the app carries along.

use api::entry::Preferences;
use api::{ApiError, Work, Workshop};
use demo::{PlayError, sample};

#[test]
fn the_sample_is_a_finished_job_in_the_language_of_who_looks_at_it() {
    let folder = tempfile::tempdir().unwrap();
    let spanish = Preferences { language: "es".to_owned(), ..Preferences::default() };
    let job = sample(folder.path(), Some(&spanish), &Work::default()).unwrap();
    let workshop = Workshop::open(folder.path()).unwrap();
    let view = workshop.job_view(&job).unwrap();
    assert_eq!(view.stage, "handed_over");
    assert_eq!(view.reports.len(), 1);
    assert!(view.reports[0].name.contains("-es-"), "{}", view.reports[0].name);
    assert_eq!(workshop.shop_view().unwrap().preferences.language, "es");
}

#[test]
fn who_stops_the_sample_is_told_so() {
    let folder = tempfile::tempdir().unwrap();
    let work = Work::default();
    work.cancel();
    let stopped = sample(folder.path(), None, &work);
    assert!(matches!(stopped, Err(PlayError::Workshop(ApiError::Cancelled))), "{stopped:?}");
}
