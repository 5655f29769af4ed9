//! Shop and job at the top of a page.

use crate::FindingsInput;
use crate::page::wording::Wording;
use serde::Serialize;

/// Who writes, and about which job.
#[derive(Serialize)]
pub(crate) struct Head {
    pub(crate) shop: String,
    pub(crate) shop_lines: Vec<String>,
    pub(crate) job: String,
    pub(crate) job_lines: Vec<String>,
    pub(crate) vin: Option<(String, String)>,
    pub(crate) foot: String,
}

impl Head {
    /// With the words of `title` for what is written.
    pub fn of(input: &FindingsInput, wording: &Wording, title: &str) -> Head {
        let (opened, intake) = (&input.job.opened, &input.job.intake);
        let number = opened.number.to_string();
        let text = |field: &Option<String>| field.clone().unwrap_or_default();
        let vehicle: Vec<String> =
            [&intake.year, &intake.make, &intake.model].into_iter().map(text).collect();
        let plate = intake.plate.as_deref().unwrap_or_default();
        let odometer = intake.odometer.as_ref().map(|miles| {
            let unit = intake.odometer_unit.map(|unit| wording.code_of("unit", &unit)).unwrap_or_default();
            wording.say("vehicle_odometer", &[("odometer", &wording.grouped(miles)), ("unit", &unit)])
        });
        let vehicle = [
            Some(vehicle.join(" ").trim().to_owned()),
            wording.say_if("summary_plate", "plate", plate),
            odometer,
        ];
        let customer = intake.customer.as_deref().unwrap_or_default();
        Head {
            shop: opened.shop.clone(),
            shop_lines: shop_lines(input, wording),
            job: wording.say(title, &[("number", &number), ("when", &wording.day(&input.written))]),
            job_lines: [joined(vehicle), wording.say_if("summary_for", "customer", customer)]
                .into_iter()
                .flatten()
                .collect(),
            vin: intake
                .vin
                .clone()
                .filter(|vin| !vin.is_empty())
                .map(|vin| (wording.say("label_vin", &[]), vin)),
            foot: wording.say(
                "summary_foot",
                &[("shop", &opened.shop), ("number", &number), ("when", &wording.date(&input.written))],
            ),
        }
    }
}

/// Where the shop is and how it is reached; what it hasn't written down is left out.
fn shop_lines(input: &FindingsInput, wording: &Wording) -> Vec<String> {
    let (shop, opened) = (&input.shop, &input.job.opened);
    let registration = if opened.registration.is_empty() { &shop.registration } else { &opened.registration };
    let written = |text: &String| Some(text.clone()).filter(|text| !text.trim().is_empty());
    let contact = [
        written(&shop.phone),
        written(&shop.email),
        wording.say_if("summary_registration", "registration", registration),
    ];
    [written(&shop.address), joined(contact)].into_iter().flatten().collect()
}

fn joined<const N: usize>(parts: [Option<String>; N]) -> Option<String> {
    let parts: Vec<String> = parts.into_iter().flatten().filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| parts.join(" · "))
}
