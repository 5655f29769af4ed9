//! Meters: the ones this shop has used, and the one of a job.

use crate::entry::{Form, MeterEntry};
use crate::view::{JobView, MeterView};
use crate::{ApiError, Workshop, settings, show, typed};
use job::Event;
use job::event::MeterChosen;

/// The meters the shop has used, latest first.
const SETTING: &str = "meters";
/// The one meter that older versions remembered.
const OLDER_SETTING: &str = "meter";
/// Meters that are remembered: a shop's drawer, not a catalog.
const REMEMBERED: usize = 20;

impl Workshop {
    /// Meter profiles: those this shop has used, latest first, then an ordinary one. Each name stands once.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn meters(&self) -> Result<Vec<MeterView>, ApiError> {
        let mut used = self.used_meters()?;
        remember(&mut used, ordinary_meter(&circuit::Meter::default()), Place::Last);
        let view = |(number, meter): (usize, &MeterChosen)| show::meter(&number.to_string(), meter);
        Ok(used.iter().enumerate().map(view).collect())
    }

    /// Chooses the meter whose readings follow.
    ///
    /// # Errors
    /// A number that can't be read or makes no sense.
    pub fn meter_choose(&self, form: impl Into<Form>, entry: &MeterEntry) -> Result<JobView, ApiError> {
        let chosen = chosen(entry)?;
        let view = self.act(&form.into(), |_| Ok(Event::MeterChosen(chosen.clone())))?;
        // The record is kept: a list that can't be written must not have it kept twice.
        let _ = self.remember_meter(chosen);
        Ok(view)
    }

    fn remember_meter(&self, chosen: MeterChosen) -> Result<(), ApiError> {
        let _turn = self.store.turn();
        let mut used = self.used_meters().unwrap_or_default();
        remember(&mut used, chosen, Place::First);
        used.truncate(REMEMBERED);
        Ok(self.store.set_setting(SETTING, &settings::written(SETTING, &used)?)?)
    }

    fn used_meters(&self) -> Result<Vec<MeterChosen>, ApiError> {
        if let Some(used) = self.store.setting(SETTING)? {
            return settings::read(SETTING, used);
        }
        let older = self.store.setting(OLDER_SETTING)?;
        Ok(older.and_then(|value| serde_json::from_value(value).ok()).into_iter().collect())
    }
}

/// Where a meter goes in the list.
#[derive(PartialEq, Eq)]
enum Place {
    First,
    Last,
}

/// A meter of the same name is the same meter: the newer profile takes the older one's place.
fn remember(used: &mut Vec<MeterChosen>, meter: MeterChosen, place: Place) {
    if place == Place::First {
        used.retain(|known| known.name != meter.name);
        used.insert(0, meter);
    } else if used.iter().all(|known| known.name != meter.name) {
        used.push(meter);
    }
}

fn chosen(entry: &MeterEntry) -> Result<MeterChosen, ApiError> {
    let megohms = number("volts_input_megohms", &entry.volts_input_megohms, 0.01, 100_000.0)?;
    let low = match entry.low_impedance_kilohms.trim() {
        "" => String::new(),
        text => plain(number("low_impedance_kilohms", text, 0.1, 10_000.0)? * 1e3),
    };
    Ok(MeterChosen {
        name: typed::required("meter_name", &entry.name)?,
        volts_input_ohms: plain(megohms * 1e6),
        low_impedance_ohms: low,
        accuracy_percent: plain(number("accuracy_percent", &entry.accuracy_percent, 0.0, 20.0)?),
        accuracy_counts: counts(&entry.accuracy_counts)?,
    })
}

fn ordinary_meter(meter: &circuit::Meter) -> MeterChosen {
    MeterChosen {
        name: meter.name.clone(),
        volts_input_ohms: plain(meter.volts_input_ohms),
        low_impedance_ohms: meter.low_impedance_ohms.map(plain).unwrap_or_default(),
        accuracy_percent: plain(meter.volts_accuracy.percent),
        accuracy_counts: 2,
    }
}

/// A number as typed, with point or comma, between two limits.
fn number(field: &'static str, typed: &str, least: f64, most: f64) -> Result<f64, ApiError> {
    let value = typed.trim().replace(',', ".").parse::<f64>().ok();
    value
        .filter(|v| v.is_finite() && (least..=most).contains(v))
        .ok_or_else(|| ApiError::Unknown { what: field, value: typed.to_owned() })
}

fn counts(typed: &str) -> Result<u32, ApiError> {
    let counts = typed.trim().parse::<u32>().ok().filter(|counts| *counts <= 1_000);
    counts.ok_or_else(|| ApiError::Unknown { what: "accuracy_counts", value: typed.to_owned() })
}

/// A decimal without exponent and without needless zeros.
fn plain(value: f64) -> String {
    let text = format!("{value:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
