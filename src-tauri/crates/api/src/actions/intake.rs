//! The intake: the vehicle, the customer, the complaint.

use crate::entry::{FaultCodeEntry, Form, IntakeEntry};
use crate::view::{JobView, Verdict, VinView};
use crate::{ApiError, Workshop, typed};
use job::event::{FaultCode, FrameLine, IntakeKept, MOST_CODES, OdometerUnit};
use job::rules::Locale;
use job::vin::Vin;
use job::{Event, Refused, contact};
use std::collections::BTreeMap;

impl Workshop {
    /// Keeps the fields of the intake that were just entered. Fields that say what they said before are not kept again.
    ///
    /// # Errors
    /// A VIN that can't be (the error names the position), a text that is too long.
    pub fn intake_keep(&self, form: impl Into<Form>, entry: &IntakeEntry) -> Result<JobView, ApiError> {
        self.act_unless_same(&form.into(), |loaded| {
            let mut kept = news(entry, &loaded.job.intake, &self.home())?.with_emptied();
            let back = self.comes_back_from(entry.comes_back_from.as_deref(), loaded.job.opened.number)?;
            kept.comes_back_from = changed(back, &loaded.job.intake.comes_back_from);
            Ok((kept != IntakeKept::default()).then_some(Event::IntakeKept(kept)))
        })
    }

    /// A job of this shop that was there before this one; empty for none.
    fn comes_back_from(&self, entered: Option<&str>, own: u32) -> Result<Option<String>, ApiError> {
        let Some(text) = entered.map(|text| text.trim().trim_start_matches('#')) else { return Ok(None) };
        if text.is_empty() {
            return Ok(Some(String::new()));
        }
        let digits = text.len() <= 9 && text.bytes().all(|byte| byte.is_ascii_digit());
        let number = text.parse::<u32>().ok().filter(|number| digits && *number < own);
        let known = number.filter(|number| self.job_of_number(*number).is_ok());
        let unknown =
            || ApiError::Unknown { what: "comes_back_from", value: text.chars().take(40).collect() };
        known.map(|number| Some(number.to_string())).ok_or_else(unknown)
    }

    /// What is said of a VIN while it is typed; nothing is kept.
    pub fn vin_check(&self, text: &str) -> VinView {
        match Vin::parse(text) {
            Ok(vin) => VinView {
                vin: vin.to_string(),
                verdict: Verdict { allowed: true, ..Verdict::default() },
                position: 0,
                region: vin.region().map(|region| region.code().to_owned()).unwrap_or_default(),
                ..self.model_years(&vin)
            },
            Err(error) => VinView {
                vin: text.to_uppercase(),
                verdict: Verdict {
                    allowed: false,
                    reason: error.code().to_owned(),
                    values: BTreeMap::from([("detail".to_owned(), error.to_string())]),
                },
                position: error.position().and_then(|p| u32::try_from(p).ok()).unwrap_or(0),
                ..VinView::default()
            },
        }
    }

    /// The model year by the rule for cars and light trucks, and the other one with the same code. A model year can begin a
    /// year ahead (49 CFR 565.12 lets it last two calendar years); one that is still further away nobody has built.
    fn model_years(&self, vin: &Vin) -> VinView {
        let Some(said) = vin.model_year() else { return VinView::default() };
        let last = i32::from(said.year.max(said.otherwise));
        let wall = self.clock.moment().wall;
        let now: i32 = wall.get(..4).and_then(|year| year.parse().ok()).unwrap_or(i32::MAX);
        let to_come = last > now.saturating_add(2);
        let (first, other) = match (to_come, said.year < said.otherwise) {
            (true, true) => (said.year, None),
            (true, false) => (said.otherwise, None),
            (false, _) => (said.year, Some(said.otherwise)),
        };
        VinView {
            model_year: first.to_string(),
            model_year_otherwise: other.map(|year| year.to_string()).unwrap_or_default(),
            ..VinView::default()
        }
    }
}

/// What an entry says that the job doesn't say already.
fn news(entry: &IntakeEntry, now: &IntakeKept, home: &Locale) -> Result<IntakeKept, ApiError> {
    let vin = changed(vin(entry.vin.as_deref())?, &now.vin);
    Ok(IntakeKept {
        vin_start: changed(vin.as_deref().map(vin_start), &now.vin_start),
        vin,
        plate: changed(typed_text("plate", &entry.plate)?, &now.plate),
        make: changed(typed_text("make", &entry.make)?, &now.make),
        model: changed(typed_text("model", &entry.model)?, &now.model),
        year: changed(typed_text("year", &entry.year)?, &now.year),
        odometer: changed(odometer(entry.odometer.as_deref())?, &now.odometer),
        odometer_unit: odometer_unit(entry, now, home),
        complaint: changed(typed_text("complaint", &entry.complaint)?, &now.complaint),
        customer: changed(typed_text("customer", &entry.customer)?, &now.customer),
        phone: changed(phone("phone", &entry.phone)?, &now.phone),
        email: changed(email(&entry.email)?, &now.email),
        language: changed(language(&entry.language)?, &now.language),
        // Free words of older records; nothing new is written there.
        approver: None,
        emptied: Vec::new(),
        // Held against the shop's jobs by the caller.
        comes_back_from: None,
        warranty: entry.warranty.filter(|claimed| now.warranty.unwrap_or(false) != *claimed),
        approver_name: changed(typed_text("approver_name", &entry.approver_name)?, &now.approver_name),
        approver_role: changed(typed_text("approver_role", &entry.approver_role)?, &now.approver_role),
        approver_phone: changed(phone("approver_phone", &entry.approver_phone)?, &now.approver_phone),
        approver_limit: changed(limit(entry.approver_limit.as_deref(), home.marks())?, &now.approver_limit),
        fault_codes: fault_codes(
            entry.fault_codes.as_deref(),
            now.fault_codes.as_deref().unwrap_or_default(),
        )?,
    })
}

/// A language the app can write in, or none.
fn language(entered: &Option<String>) -> Result<Option<String>, ApiError> {
    let known = |code: &String| typed::one_of("language", code, &["", "en", "es"]);
    entered.as_ref().map(known).transpose()
}

/// The unit that was picked. Where nobody picked one, a first odometer in a region that counts kilometers is in those:
/// what a record doesn't say reads as miles.
fn odometer_unit(entry: &IntakeEntry, now: &IntakeKept, home: &Locale) -> Option<OdometerUnit> {
    let first = now.odometer_unit.is_none() && now.odometer.is_none() && entry.odometer.is_some();
    let usual = Some(home.distance).filter(|unit| first && *unit != OdometerUnit::default());
    entry.odometer_unit.or(usual).filter(|unit| now.odometer_unit != Some(*unit))
}

fn changed(entered: Option<String>, now: &Option<String>) -> Option<String> {
    entered.filter(|value| now.as_deref().unwrap_or_default() != value)
}

/// What of a VIN names no single vehicle: all before the serial number.
fn vin_start(vin: &str) -> String {
    vin.chars().take(11).collect()
}

fn typed_text(field: &'static str, entered: &Option<String>) -> Result<Option<String>, ApiError> {
    entered.as_deref().map(|text| typed::text(field, text)).transpose()
}

/// Nothing takes a number back.
fn phone(field: &'static str, entered: &Option<String>) -> Result<Option<String>, ApiError> {
    let kept = typed_text(field, entered)?;
    kept.iter()
        .filter(|text| !text.is_empty())
        .try_for_each(|text| contact::phone(text))
        .map_err(ApiError::Refused)?;
    Ok(kept)
}

fn email(entered: &Option<String>) -> Result<Option<String>, ApiError> {
    let kept = typed_text("email", entered)?;
    kept.iter()
        .filter(|text| !text.is_empty())
        .try_for_each(|text| contact::email(text))
        .map_err(ApiError::Refused)?;
    Ok(kept)
}

/// An amount in minor units; empty where there is no limit any more.
fn limit(entered: Option<&str>, home: Option<money::Marks>) -> Result<Option<String>, ApiError> {
    let Some(text) = entered.map(str::trim) else { return Ok(None) };
    if text.is_empty() { Ok(Some(String::new())) } else { Ok(Some(typed::price(text, home)?.into())) }
}

/// All codes, where they are others than before.
fn fault_codes(
    entered: Option<&[FaultCodeEntry]>,
    now: &[FaultCode],
) -> Result<Option<Vec<FaultCode>>, ApiError> {
    let Some(entered) = entered else { return Ok(None) };
    if entered.len() > MOST_CODES {
        return Err(ApiError::Refused(
            Refused::because("fault_codes_too_many").with("most", &MOST_CODES.to_string()),
        ));
    }
    let mut codes: Vec<FaultCode> = Vec::new();
    for one in entered {
        let code = fault_code(one)?;
        if codes.iter().any(|known| known.is_same(&code)) {
            let twice = Refused::because("fault_code_twice").with("value", &code.written());
            return Err(ApiError::Refused(twice));
        }
        codes.push(code);
    }
    Ok((codes != now).then_some(codes))
}

fn fault_code(entered: &FaultCodeEntry) -> Result<FaultCode, ApiError> {
    let read = FaultCode::read(&entered.code).map_err(ApiError::Refused)?;
    let line = |line: &FrameLine| {
        let name = typed::text("frame_name", &line.name)?;
        let value = typed::text("frame_value", &line.value)?;
        Ok::<_, ApiError>(FrameLine { name, value, unit: typed::text("frame_unit", &line.unit)? })
    };
    let lines = entered.freeze_frame.iter().map(line).collect::<Result<Vec<_>, _>>()?;
    Ok(FaultCode {
        status: entered.status,
        module: typed::text("fault_module", &entered.module)?,
        freeze_frame: lines
            .into_iter()
            .filter(|line| !line.name.is_empty() || !line.value.is_empty())
            .collect(),
        ..read
    })
}

fn vin(entered: Option<&str>) -> Result<Option<String>, ApiError> {
    let Some(text) = entered.map(str::trim) else { return Ok(None) };
    if text.is_empty() { Ok(Some(String::new())) } else { Ok(Some(Vin::parse(text)?.to_string())) }
}

/// Digits only; separators of thousands are dropped.
pub(super) fn odometer(entered: Option<&str>) -> Result<Option<String>, ApiError> {
    let Some(text) = entered.map(str::trim) else { return Ok(None) };
    let digits: String = text.chars().filter(|c| !matches!(c, ',' | '.' | ' ' | '\'' | '\u{a0}')).collect();
    if digits.len() <= 9 && digits.bytes().all(|b| b.is_ascii_digit()) {
        Ok(Some(digits))
    } else {
        Err(ApiError::Refused(job::Refused::because("odometer_digits").with("value", text)))
    }
}
