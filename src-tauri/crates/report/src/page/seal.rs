//! The checkpoint before the report, so that the customer can check later that nothing was changed.

use super::Wording;
use crate::{CheckpointPrint, ReportError};
use qrcode::render::svg;
use qrcode::{EcLevel, QrCode};
use serde::Serialize;

/// Path of the QR code among the page's files.
pub(super) const QR: &str = "note.svg";

/// The checkpoint and what it proves.
#[derive(Serialize)]
pub(crate) struct Seal {
    words: String,
    text: Vec<String>,
    fingerprint: String,
    fingerprint_words: String,
    sentences: Vec<String>,
}

pub(super) fn seal(checkpoint: &CheckpointPrint, wording: &Wording) -> Seal {
    let signed = wording.date(&checkpoint.signed);
    let covers = [("signed", signed.as_str()), ("size", &checkpoint.size.to_string())];
    Seal {
        words: checkpoint.root_words.clone(),
        text: checkpoint.text.lines().map(str::to_owned).collect(),
        fingerprint: checkpoint.fingerprint.to_string(),
        fingerprint_words: checkpoint.fingerprint_words.clone(),
        sentences: vec![
            wording.say("seal_proves", &[]),
            wording.say("seal_compare", &[]),
            wording.say("seal_stamp", &[]),
            wording.say("seal_covers", &covers),
        ],
    }
}

/// The note as a QR code, in SVG.
pub(super) fn qr(note: &str) -> Result<Vec<u8>, ReportError> {
    let code =
        [EcLevel::M, EcLevel::L].into_iter().find_map(|l| QrCode::with_error_correction_level(note, l).ok());
    let code = code.ok_or(ReportError::CheckpointTooLong(note.len()))?;
    let drawing = code.render::<svg::Color<'_>>().quiet_zone(true).min_dimensions(240, 240).build();
    Ok(drawing.into_bytes())
}
