use crate::{Happened, PlayError, Script, ShopFile, Stage};
use api::entry::{Preferences, Recipient, ReportEntry};
use api::world::SetClock;
use api::{Work, Workshop};
use chrono::DateTime;
use std::io::{Error, ErrorKind};
use std::path::Path;
use std::sync::Arc;

// The first job of `demo-data`, inside the program: a phone has no folder to read it from.
const SHOP: &str = include_str!("../../../../demo-data/shop.json");
const JOB: &str = include_str!("../../../../demo-data/1-van-radiator-fan/job.json");

macro_rules! photo {
    ($name:literal) => {
        ($name, include_bytes!(concat!("../../../../demo-data/photos/", $name)).as_slice())
    };
}

const PHOTOS: &[(&str, &[u8])] = &[
    photo!("a-01-arrival.jpg"),
    photo!("a-02-odometer.jpg"),
    photo!("a-03-vin.jpg"),
    photo!("a-04-complaint.jpg"),
    photo!("a-05-relay-socket.jpg"),
    photo!("a-06-battery-volts.jpg"),
    photo!("a-07-relay-feed-open.jpg"),
    photo!("a-08-control-loaded.jpg"),
    photo!("a-09-module-output-loaded.jpg"),
    photo!("a-10-control-wire-drop.jpg"),
    photo!("a-11-wire-corroded.jpg"),
    photo!("a-12-wire-repaired.jpg"),
    photo!("a-13-control-loaded.jpg"),
];

/// Puts the sample shop with its one finished job into an empty folder, and gives the job's id. `work` shows how far it is and
/// can stop it; what was put there until then stays, and is for the caller to clear away.
///
/// # Errors
/// A folder that can't be written to; [`api::ApiError::Cancelled`].
pub fn sample(folder: &Path, preferences: Option<&Preferences>, work: &Work) -> Result<String, PlayError> {
    let (shop, script): (ShopFile, Script) = (serde_json::from_str(SHOP)?, serde_json::from_str(JOB)?);
    let clock = Arc::new(SetClock::at(DateTime::UNIX_EPOCH.fixed_offset()));
    let workshop = Workshop::open_at(folder, clock.clone())?;
    workshop.shop_set_up(&shop.shop)?;
    workshop.preferences_keep(preferences.unwrap_or(&shop.preferences))?;
    let stage = Stage { workshop: &workshop, clock: &clock, photo: &photo };
    let mut done = 0;
    let mut watch = |_: Happened| {
        work.count("sample", done, script.steps.len())?;
        done = done.saturating_add(1);
        Ok(())
    };
    let view = stage.play(&script, &mut watch)?;
    let language = preferences.map_or(&shop.preferences.language, |preferences| &preferences.language);
    workshop.report_write(&view.job, &ReportEntry::preset(language, Recipient::Customer))?;
    Ok(view.job)
}

fn photo(name: &str) -> std::io::Result<Vec<u8>> {
    let found = PHOTOS.iter().find(|(photo, _)| *photo == name);
    found.map(|(_, bytes)| bytes.to_vec()).ok_or_else(|| Error::from(ErrorKind::NotFound))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Action;

    #[test]
    fn every_photo_of_the_sample_is_inside_the_program_and_no_other() {
        let script: Script = serde_json::from_str(JOB).unwrap();
        let wanted: Vec<&str> = script
            .steps
            .iter()
            .filter_map(|step| match &step.action {
                Action::PhotoKeep(photo) => Some(photo.file.as_str()),
                _ => None,
            })
            .collect();
        assert!(wanted.iter().all(|name| photo(name).is_ok()));
        assert!(PHOTOS.iter().all(|(name, _)| wanted.contains(name)));
    }
}
