//! Warranty, old parts, what comes next.

use super::headline::Status;
use crate::FindingsInput;
use crate::page::warranty::warranty;
use crate::page::wording::Wording;
use serde::Serialize;

/// A heading with its words.
#[derive(Serialize)]
pub(crate) struct Closing {
    pub(crate) label: String,
    pub(crate) text: String,
}

pub(crate) fn closing(input: &FindingsInput, status: Status, wording: &Wording) -> Vec<Closing> {
    let handed = input.job.handed_over.as_ref().map(|kept| &kept.event);
    let agreed =
        input.job.approval_in_force().map(|kept| wording.code_of("summary_old_parts", &kept.event.old_parts));
    let old_parts = handed.map(|kept| kept.old_parts.clone()).filter(|text| !text.trim().is_empty());
    let nothing = || wording.say("summary_not_agreed", &[]);
    let one = |label: &str, text: String| Closing { label: wording.say(label, &[]), text };
    vec![
        one("summary_warranty", warranty(input.job, wording).unwrap_or_else(nothing)),
        one("summary_old", old_parts.or(agreed).unwrap_or_else(nothing)),
        one("summary_next", next(input, status, wording)),
    ]
}

fn next(input: &FindingsInput, status: Status, wording: &Wording) -> String {
    if status != Status::Fixed {
        return wording.say("summary_next_open", &[]);
    }
    let call = wording.say_if("summary_next_call", "phone", &input.shop.phone);
    call.unwrap_or_else(|| wording.say("summary_next_none", &[]))
}
