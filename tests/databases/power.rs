//! Lost power: what the traced calls would leave on a disk that keeps only what was synced.
//!
//! POSIX promises no more than this: `fsync` of a file keeps its bytes, `fsync` of a folder keeps its names. Real file
//! systems keep more at times, so each moment is tried with everything unsynced lost and with a random part of it kept.

use store::{OpenOptions, Store};

use crate::order::{sync_places, without};
use crate::sample::Kept;
use crate::sound::{all_kept, all_kept_without_database};
use crate::synced_disk::{SyncedDisk, Unsynced};
use crate::trace::{Event, of_keeper};

#[test]
fn lost_power_at_any_moment_loses_nothing_acknowledged() {
    let events = two_runs();
    let moments = events.len();
    assert!(moments > 100, "the trace is too short to mean anything: {moments}");
    for unsynced in
        [Unsynced::Lost, Unsynced::PartlyKept(1), Unsynced::PartlyKept(2), Unsynced::PartlyKept(3)]
    {
        survives_every_moment(&events, unsynced).unwrap();
    }
}

/// The same trial must fail when any one sync between the first acknowledgement and the last is taken out.
#[test]
fn a_missing_sync_loses_something_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let events = of_keeper(folder.path(), 3, 3000);
    let said = |event: &Event| matches!(event, Event::Said(_));
    let (first, last) = (events.iter().position(said).unwrap(), events.iter().rposition(said).unwrap());
    let syncs: Vec<usize> =
        sync_places(&events).into_iter().filter(|place| (first..last).contains(place)).collect();
    assert_eq!(syncs.len(), 10, "five for each of two records");
    for place in syncs {
        let lost = survives_every_moment(&without(&events, place), Unsynced::Lost);
        assert!(lost.is_err(), "nothing is lost without {:?}", events[place]);
    }
}

/// A run from nothing, and one that continues it; both end by closing the database, which moves the
/// write-ahead log into the file.
fn two_runs() -> Vec<Event> {
    let folder = tempfile::tempdir().unwrap();
    [of_keeper(folder.path(), 3, 3000), of_keeper(folder.path(), 2, 20_000)].concat()
}

fn survives_every_moment(events: &[Event], unsynced: Unsynced) -> Result<(), String> {
    let (mut disk, mut kept) = (SyncedDisk::default(), Vec::new());
    for (moment, event) in events.iter().enumerate() {
        match event {
            Event::Said(line) => kept.extend(Kept::read(line)),
            event => disk.apply(event),
        }
        if unsynced.leaves_alike(event) {
            continue;
        }
        let folder = tempfile::tempdir().unwrap();
        disk.write_out(folder.path(), unsynced, moment);
        let store = Store::open(folder.path(), &OpenOptions::default());
        let sound = store.map_err(|error| error.to_string()).and_then(|store| all_kept(&store, &kept));
        sound.map_err(|why| format!("{unsynced:?}, after step {moment}: {why}"))?;
        if matches!(unsynced, Unsynced::Lost) {
            let folder = tempfile::tempdir().unwrap();
            disk.write_out(folder.path(), unsynced, moment);
            let sound = all_kept_without_database(folder.path(), &kept);
            sound.map_err(|why| format!("without database, after step {moment}: {why}"))?;
        }
    }
    Ok(())
}
