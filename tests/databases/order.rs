//! The order of steps for one photo and its record: written, synced, renamed, folder synced, committed, written to the
//! journal and synced there, said.

use std::path::{Path, PathBuf};

use crate::sample::Kept;
use crate::trace::{Event, of_keeper};

const LOG: &str = "testimeter.sqlite-wal";
const JOURNAL: &str = "logs/job-1/device-1@shop-1.jsonl";

#[test]
fn every_step_is_durable_before_the_next() {
    let windows = acknowledged_windows();
    assert_eq!(windows.len(), 3);
    for window in windows {
        in_order(&window).unwrap();
    }
}

/// A checker that can't fail proves nothing: without any one of the syncs it must complain.
#[test]
fn a_missing_sync_is_noticed() {
    // The first record begins the journal: it is renamed into place, and its folder and the one above are synced.
    for (window, expected) in acknowledged_windows().iter().zip([4 + 3, 4 + 1, 4 + 1]) {
        let syncs = sync_places(window);
        assert_eq!(syncs.len(), expected, "file, its folder, the folder above, the database, the journal");
        for place in syncs {
            let missing = without(window, place);
            assert!(in_order(&missing).is_err(), "nothing is said about a missing {:?}", window[place]);
        }
    }
}

/// Nor may it pass steps in another order: each step of the real trace moved behind the acknowledgement.
#[test]
fn a_late_sync_is_noticed() {
    for window in acknowledged_windows() {
        for place in sync_places(&window) {
            let mut late = without(&window, place);
            late.push(window[place].clone());
            assert!(in_order(&late).is_err(), "nothing is said about a late {:?}", window[place]);
        }
    }
}

pub fn sync_places(events: &[Event]) -> Vec<usize> {
    (0..events.len()).filter(|place| matches!(events[*place], Event::Sync(_))).collect()
}

pub fn without(events: &[Event], place: usize) -> Vec<Event> {
    let mut events = events.to_vec();
    events.remove(place);
    events
}

/// The system calls from one acknowledgement to the next, beginning when the photo's folder or file is created.
fn acknowledged_windows() -> Vec<Vec<Event>> {
    let folder = tempfile::tempdir().unwrap();
    let events = of_keeper(folder.path(), 3, 3000);
    let windows = events.split_inclusive(|event| matches!(event, Event::Said(_)));
    let photo = |event: &Event| matches!(event, Event::MakeFolder(path) if path.parent() == Some(Path::new("originals")));
    windows
        .filter(|window| matches!(window.last(), Some(Event::Said(_))))
        .map(|window| window[window.iter().position(photo).expect("a folder for the photo")..].to_vec())
        .collect()
}

fn in_order(window: &[Event]) -> Result<(), String> {
    let (said, kept) = first(window, "an acknowledgement", acknowledgement)?;
    let (renamed, (temporary, target)) =
        first(window, "a rename to the photo's hash", |event| match event {
            Event::Rename(from, to) if to.file_stem()? == kept.photo.to_string().as_str() => {
                Some((from.clone(), to.clone()))
            }
            _ => None,
        })?;
    let written = last_write(window, &temporary)?;
    let committed = last_write(window, Path::new(LOG))?;
    let began = first(window, "a database write", |event| writes(event, Path::new(LOG)).then_some(()))?.0;
    sync_between(window, &temporary, written, renamed)?;
    sync_between(window, parent(&target)?, renamed, began)?;
    sync_between(window, Path::new("originals"), renamed, began)?;
    sync_between(window, Path::new(LOG), committed, said)?;
    journalled(window, committed, said)
}

/// The journal must never run ahead of the database, and be durable before anything is said.
fn journalled(window: &[Event], committed: usize, said: usize) -> Result<(), String> {
    let journal = Path::new(JOURNAL);
    let begun = window.iter().enumerate().find_map(|(place, event)| match event {
        Event::Rename(from, to) if to == journal => Some((place, from.clone())),
        _ => None,
    });
    let Some((renamed, temporary)) = begun else {
        let written = last_write(window, journal)?;
        sync_between(window, Path::new(LOG), committed, written)?;
        return sync_between(window, journal, written, said);
    };
    let written = last_write(window, &temporary)?;
    sync_between(window, Path::new(LOG), committed, written)?;
    sync_between(window, &temporary, written, renamed)?;
    sync_between(window, parent(journal)?, renamed, said)?;
    sync_between(window, Path::new("logs"), renamed, said)
}

fn acknowledgement(event: &Event) -> Option<Kept> {
    match event {
        Event::Said(line) => Kept::read(line),
        _ => None,
    }
}

fn first<T>(
    window: &[Event],
    what: &str,
    wanted: impl Fn(&Event) -> Option<T>,
) -> Result<(usize, T), String> {
    let found = window.iter().enumerate().find_map(|(place, event)| Some((place, wanted(event)?)));
    found.ok_or_else(|| format!("there is no {what}"))
}

fn last_write(window: &[Event], path: &Path) -> Result<usize, String> {
    window
        .iter()
        .rposition(|event| writes(event, path))
        .ok_or_else(|| format!("{} isn't written", path.display()))
}

fn writes(event: &Event, path: &Path) -> bool {
    matches!(event, Event::Write(written, _, _) if written == path)
}

fn parent(path: &Path) -> Result<&Path, String> {
    path.parent().ok_or_else(|| "the photo lies in no folder".to_owned())
}

fn sync_between(window: &[Event], path: &Path, after: usize, before: usize) -> Result<(), String> {
    let wanted = Event::Sync(PathBuf::from(path));
    let synced = (after + 1..before).any(|place| window[place] == wanted);
    if synced {
        Ok(())
    } else {
        Err(format!("{} isn't synced between steps {after} and {before}", path.display()))
    }
}
