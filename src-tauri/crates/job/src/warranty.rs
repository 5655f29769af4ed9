//! Until when the shop's warranty on its work runs, where it was agreed in months or a distance.

use crate::Job;
use crate::event::OdometerUnit;
use chrono::{Months, NaiveDate};

/// The end of a warranty: whichever comes first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WarrantyEnd {
    /// Last day, local, counted from the day of the hand-over. A month that is too short ends on its last day.
    pub day: Option<NaiveDate>,
    /// Last odometer reading, counted from the one at hand-over, else from the one at check-in.
    pub odometer: Option<u64>,
    /// What it counts in.
    pub unit: Option<OdometerUnit>,
}

/// The end of a job's warranty; nothing before the hand-over, or where it was agreed in words alone.
#[must_use]
pub fn warranty_end(job: &Job) -> Option<WarrantyEnd> {
    let kept = job.handed_over.as_ref()?;
    let event = &kept.event;
    let handed: NaiveDate = kept.wall.get(..10)?.parse().ok()?;
    let day = event.warranty_months.and_then(|months| handed.checked_add_months(Months::new(months)));
    let at_hand_over = Some(event.odometer.as_str()).filter(|text| !text.is_empty());
    let begins = at_hand_over.or(job.intake.odometer.as_deref()).and_then(|text| text.parse::<u64>().ok());
    let odometer = event.warranty_distance.zip(begins);
    let odometer = odometer.and_then(|(distance, begins)| begins.checked_add(u64::from(distance)));
    let end = WarrantyEnd { day, odometer, unit: job.intake.odometer_unit };
    (end.day.is_some() || end.odometer.is_some()).then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Kept;
    use crate::event::HandedOver;
    use evidence::Digest;

    fn handed(months: Option<u32>, distance: Option<u32>, odometer: &str) -> Job {
        let event = HandedOver {
            warranty: String::new(),
            warranty_months: months,
            warranty_distance: distance,
            odometer: odometer.to_owned(),
            old_parts: String::new(),
            photos: Vec::new(),
        };
        let wall = "2031-11-30T17:05:00.000-06:00".to_owned();
        let mut job = Job::default();
        job.handed_over = Some(Kept { record: Digest::of(b"hand-over"), wall, event });
        job.intake.odometer = Some("61204".to_owned());
        job
    }

    /// Counted by hand on a calendar; 2032 is a leap year.
    #[test]
    fn months_end_on_the_same_day_or_the_months_last() {
        let end = |months| warranty_end(&handed(Some(months), None, "")).unwrap().day.unwrap().to_string();
        assert_eq!(end(12), "2032-11-30");
        assert_eq!(end(3), "2032-02-29", "February has no 30th");
        assert_eq!(end(1), "2031-12-30");
    }

    #[test]
    fn a_distance_counts_from_the_hand_over_or_else_from_the_check_in() {
        let end = |odometer| warranty_end(&handed(None, Some(12_000), odometer)).unwrap().odometer;
        assert_eq!(end(""), Some(73_204));
        assert_eq!(end("61250"), Some(73_250));
        assert_eq!(warranty_end(&handed(None, None, "61250")), None, "agreed in words alone");
    }
}
