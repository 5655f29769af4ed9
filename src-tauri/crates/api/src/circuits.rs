//! Meter, circuit, pins, cautions, tests that can't be reached.

use crate::entry::{MeterEntry, PinEntry};
use crate::view::{BothLanguages, CircuitRow, JobView, MeterView};
use crate::{ApiError, Workshop, show, typed};
use job::Event;
use job::event::{CautionAcknowledged, CircuitChosen, MeterChosen, PinNoted, TestUnreachable};

impl Workshop {
    /// Meter profiles: those of this shop's jobs are remembered, then ordinary ones.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn meters(&self) -> Result<Vec<MeterView>, ApiError> {
        let mut meters: Vec<MeterView> = Vec::new();
        if let Some(last) = self.store.setting("meter")?
            && let Ok(chosen) = serde_json::from_value::<MeterChosen>(last)
        {
            meters.push(show::meter("last", &chosen));
        }
        let ordinary = circuit::Meter::default();
        meters.push(show::meter("ordinary", &ordinary_meter(&ordinary)));
        Ok(meters)
    }

    /// Chooses the meter whose readings follow.
    ///
    /// # Errors
    /// A number that can't be read or makes no sense.
    pub fn meter_choose(&self, job: &str, entry: &MeterEntry) -> Result<JobView, ApiError> {
        let megohms = number("volts_input_megohms", &entry.volts_input_megohms, 0.01, 100_000.0)?;
        let low = match entry.low_impedance_kilohms.trim() {
            "" => String::new(),
            text => plain(number("low_impedance_kilohms", text, 0.1, 10_000.0)? * 1e3),
        };
        let chosen = MeterChosen {
            name: typed::required("meter_name", &entry.name)?,
            volts_input_ohms: plain(megohms * 1e6),
            low_impedance_ohms: low,
            accuracy_percent: plain(number("accuracy_percent", &entry.accuracy_percent, 0.0, 20.0)?),
            accuracy_counts: counts(&entry.accuracy_counts)?,
        };
        let value = serde_json::to_value(&chosen).map_err(|e| job::JobError::Event(e.to_string()))?;
        self.keep_and_settle(job, &Event::MeterChosen(chosen), Some("meter"))?;
        self.store.set_setting("meter", &value)?;
        self.job_view(job)
    }

    /// The library of circuits, then the shop's own.
    ///
    /// # Errors
    /// A circuit file that contradicts itself; a store that can't be read.
    pub fn circuits(&self) -> Result<Vec<CircuitRow>, ApiError> {
        let row = |c: circuit::Circuit| CircuitRow { id: c.id, title: show::both(&c.title), own: false };
        let own = self.own_circuits()?.into_iter().map(|own| CircuitRow {
            id: own.id,
            title: BothLanguages { en: own.title.clone(), es: own.title },
            own: true,
        });
        Ok(circuit::library::all()?.into_iter().map(row).chain(own).collect())
    }

    /// Chooses the circuit that is tested; its file is frozen into the record.
    ///
    /// # Errors
    /// An unknown id.
    pub fn circuit_choose(&self, job: &str, id: &str) -> Result<JobView, ApiError> {
        let circuit = match self.own_made(id)? {
            Some(own) => own,
            None => circuit::library::find(id)?,
        };
        let definition = serde_json::to_string(&circuit).map_err(|e| job::JobError::Event(e.to_string()))?;
        let event = Event::CircuitChosen(CircuitChosen { circuit: circuit.id, definition });
        self.keep(job, &event)?;
        self.job_view(job)
    }

    /// Notes what was found at a pin.
    ///
    /// # Errors
    /// A connector, pin or photo that isn't there.
    pub fn pin_keep(&self, job: &str, entry: &PinEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        let circuit =
            show::chosen_circuit(&loaded.job)?.ok_or_else(|| ApiError::refused("choose_circuit_first"))?;
        let known = circuit.connectors.iter().any(|connector| {
            connector.id == entry.connector && connector.pins.iter().any(|pin| pin.number == entry.pin)
        });
        if !known {
            return Err(ApiError::Unknown {
                what: "pin",
                value: format!("{} {}", entry.connector, entry.pin),
            });
        }
        let event = Event::PinNoted(PinNoted {
            connector: entry.connector.clone(),
            pin: entry.pin.clone(),
            colour: typed::text("colour", &entry.colour)?.to_uppercase(),
            function: typed::text("function", &entry.function)?,
            note: typed::text("note", &entry.note)?,
            in_doubt: entry.in_doubt,
            photos: typed::photos(&entry.photos)?,
        });
        self.keep_and_settle(job, &event, Some("pin"))?;
        self.job_view(job)
    }

    /// Acknowledges a caution, once per job.
    ///
    /// # Errors
    /// An unknown job.
    pub fn caution_acknowledge(&self, job: &str, caution: &str) -> Result<JobView, ApiError> {
        let caution = typed::required("caution", caution)?;
        if !job::cautions::is_known(&caution) {
            return Err(ApiError::Unknown { what: "caution", value: caution });
        }
        if !self.load(job)?.job.cautions.contains(&caution) {
            self.keep(job, &Event::CautionAcknowledged(CautionAcknowledged { caution }))?;
        }
        self.job_view(job)
    }

    /// "Can't reach it", or can again.
    ///
    /// # Errors
    /// An unknown job.
    pub fn test_unreachable(&self, job: &str, test: &str, unreachable: bool) -> Result<JobView, ApiError> {
        let event = TestUnreachable { test: typed::required("test", test)?, unreachable };
        self.keep(job, &Event::TestUnreachable(event))?;
        self.job_view(job)
    }
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
