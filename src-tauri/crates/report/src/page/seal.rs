//! The checkpoint before the report, so that the customer can check later that nothing was changed.

use super::wording::Wording;
use crate::{FindingsInput, OutsideTimePrint, ReportError};
use qrcode::render::svg;
use qrcode::{EcLevel, QrCode};
use serde::Serialize;

/// Path of the QR code among the page's files.
pub(crate) const QR: &str = "note.svg";

/// The checkpoint and what it proves.
#[derive(Serialize)]
pub(crate) struct Seal {
    words: String,
    text: Vec<String>,
    fingerprint: String,
    fingerprint_words: String,
    sentences: Vec<String>,
}

pub(crate) fn seal(input: &FindingsInput, wording: &Wording) -> Seal {
    let checkpoint = &input.checkpoint;
    let signed = wording.date(&checkpoint.signed);
    let covers = [("signed", signed.as_str()), ("size", &checkpoint.size.to_string())];
    Seal {
        words: checkpoint.root_words.clone(),
        text: checkpoint.text.lines().map(str::to_owned).collect(),
        fingerprint: checkpoint.fingerprint.to_string(),
        fingerprint_words: checkpoint.fingerprint_words.clone(),
        sentences: [
            wording.say("seal_proves", &[]),
            wording.say("seal_compare", &[]),
            wording.say("seal_stamp", &[]),
            wording.say("seal_covers", &covers),
        ]
        .into_iter()
        .chain(input.outside_times.iter().map(|time| stated(time, wording)))
        .collect(),
    }
}

fn stated(time: &OutsideTimePrint, wording: &Wording) -> String {
    let (when, size) = (wording.date(&time.time), time.size.to_string());
    let values = [("time", when.as_str()), ("signer", &time.signer), ("size", &size)];
    wording.say(if time.trusted { "seal_time" } else { "seal_time_unknown" }, &values)
}

/// The note as a QR code, in SVG.
pub(crate) fn qr(note: &str) -> Result<Vec<u8>, ReportError> {
    let code =
        [EcLevel::M, EcLevel::L].into_iter().find_map(|l| QrCode::with_error_correction_level(note, l).ok());
    let code = code.ok_or(ReportError::CheckpointTooLong(note.len()))?;
    let drawing = code.render::<svg::Color<'_>>().quiet_zone(true).min_dimensions(240, 240).build();
    Ok(drawing.into_bytes())
}
