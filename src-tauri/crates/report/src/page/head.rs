//! Shop, vehicle and complaint at the top.

use super::wording::Wording;
use crate::FindingsInput;
use serde::Serialize;

/// The head of the page.
#[derive(Serialize)]
pub(crate) struct Head {
    shop: String,
    written: String,
    running: String,
    facts: Vec<(String, String)>,
    complaint: Option<String>,
}

pub(super) fn head(input: &FindingsInput, wording: &Wording) -> Head {
    let opened = &input.job.opened;
    let number = opened.number.to_string();
    let day = wording.date(&input.job.opened_wall);
    Head {
        shop: opened.shop.clone(),
        written: wording.say("page_written", &[("number", &number), ("when", &wording.date(&input.written))]),
        running: wording.say("page_job", &[("shop", &opened.shop), ("number", &number), ("opened", &day)]),
        facts: facts(input, wording),
        complaint: input.job.intake.complaint.clone().filter(|c| !c.trim().is_empty()),
    }
}

/// What is known of vehicle, customer and technician; what is unknown or withheld is left out.
fn facts(input: &FindingsInput, wording: &Wording) -> Vec<(String, String)> {
    let (opened, intake) = (&input.job.opened, &input.job.intake);
    let text = |field: &Option<String>| field.clone().unwrap_or_default();
    let vehicle: Vec<String> = [&intake.year, &intake.make, &intake.model].into_iter().map(text).collect();
    // A job that was opened before the shop wrote its number down.
    let registration = if opened.registration.is_empty() {
        input.shop.registration.clone()
    } else {
        opened.registration.clone()
    };
    let odometer = intake.odometer.as_ref().map_or_else(String::new, |miles| {
        let unit = intake.odometer_unit.map(|unit| wording.code_of("unit", &unit)).unwrap_or_default();
        wording.say("vehicle_odometer", &[("odometer", miles), ("unit", &unit)])
    });
    [
        ("label_vehicle", vehicle.join(" ")),
        ("label_vin", text(&intake.vin)),
        ("label_plate", text(&intake.plate)),
        ("label_odometer", odometer),
        ("label_customer", text(&intake.customer)),
        ("label_technician", opened.technician.clone()),
        ("label_registration", registration),
    ]
    .into_iter()
    .map(|(key, value)| (wording.say(key, &[]), value.trim().to_owned()))
    .filter(|(_, value)| !value.is_empty())
    .collect()
}
