//! What opening the shop finds reaches the user: as notices with a code, kept until acknowledged, and on the job concerned.

use crate::shop::*;
use std::process::Command;

fn codes(shop: &Shop) -> Vec<String> {
    shop.workshop.notices_view().unwrap().into_iter().map(|notice| notice.code).collect()
}

#[test]
fn an_ordinary_start_finds_nothing() {
    let mut shop = Shop::open();
    shop.measuring();
    shop.reopen_after(|_| {});
    assert_eq!(codes(&shop), Vec::<String>::new());
}

#[test]
fn a_damaged_database_is_said_until_somebody_has_read_it() {
    let mut shop = Shop::open();
    let job = shop.measuring();
    shop.workshop.reading_keep(&job, &reading("12.4", "V")).unwrap();
    shop.reopen_after(|folder| {
        let path = folder.join("testimeter.sqlite");
        let mut bytes = std::fs::read(&path).unwrap();
        bytes[..3000].fill(0xA5);
        std::fs::write(&path, bytes).unwrap();
    });
    assert_eq!(codes(&shop), ["database_moved_aside", "records_recovered", "database_rebuilt"]);
    let found = shop.workshop.notices_view().unwrap();
    assert!(found[0].values["path"].ends_with("testimeter-damaged-1.sqlite"));
    assert_eq!((found[1].job.as_str(), found[1].values["records"].as_str()), (job.as_str(), "4"));
    assert_eq!(found[2].values["lost"], "0");

    shop.reopen_after(|_| {});
    assert_eq!(codes(&shop).len(), 3, "a start later they are still there");
    for notice in &found {
        shop.workshop.notice_acknowledge(&notice.id).unwrap();
    }
    assert_eq!(codes(&shop), Vec::<String>::new());
    shop.reopen_after(|_| {});
    assert_eq!(codes(&shop), Vec::<String>::new(), "read is read");
    let on_the_job = shop.workshop.job_view(&job).unwrap().notices;
    assert_eq!(on_the_job.len(), 1, "the job keeps what was found about it");
    assert_eq!(on_the_job[0].code, "records_recovered");
}

#[test]
fn a_changed_log_is_said_once_and_stands_on_its_job() {
    let mut shop = Shop::open();
    let job = shop.measuring();
    let other = shop.job().job;
    shop.reopen_after(|folder| {
        let change = "UPDATE records SET bytes = randomblob(32) WHERE sequence = 1";
        let done = Command::new("sqlite3").arg(folder.join("testimeter.sqlite")).arg(change).status();
        assert!(done.unwrap().success());
        // The journal would mend it.
        std::fs::remove_dir_all(folder.join("logs")).unwrap();
    });
    assert_eq!(codes(&shop), ["log_damaged"]);
    shop.reopen_after(|_| {});
    assert_eq!(codes(&shop), ["log_damaged"], "the same finding, not a second one");
    let on = |job: &str| shop.workshop.job_view(job).unwrap().notices.len();
    assert_eq!((on(&job), on(&other)), (2, 0), "the log, and the record that can't be used");
    assert_eq!(
        Shop::code(shop.workshop.meter_choose(&job, &meter())),
        "log_damaged",
        "nothing goes on top of it, and the refusal says why"
    );
}

#[test]
fn what_an_ended_run_left_behind_is_said() {
    let mut shop = Shop::open();
    shop.reopen_after(|folder| {
        std::fs::write(folder.join("incoming").join("7.part"), b"half a photo").unwrap();
    });
    assert_eq!(codes(&shop), ["leftovers_swept"]);
}
