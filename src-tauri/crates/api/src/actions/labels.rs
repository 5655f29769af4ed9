//! Bar codes of labels: a VIN for the check-in, a part's number. Read, proposed, and not kept.

use crate::entry::{LabelEntry, LabelKind};
use crate::view::LabelView;
use crate::{ApiError, Workshop};
use job::label::{part_number_on, vin_on};
use photo::Effort;

impl Workshop {
    /// Reads a label in a picture's bytes; nothing of it is kept.
    ///
    /// # Errors
    /// As [`label_in`].
    pub fn label_read(&self, entry: &LabelEntry, bytes: &[u8]) -> Result<Option<LabelView>, ApiError> {
        label_in(entry, bytes)
    }
}

/// What the label in a picture says; nothing where none can be read, or none says what is asked for.
///
/// # Errors
/// Bytes that are no picture, or a broken one.
pub fn label_in(entry: &LabelEntry, bytes: &[u8]) -> Result<Option<LabelView>, ApiError> {
    let says = |text: &str| match entry.what {
        LabelKind::Vin => vin_on(text).map(|vin| vin.to_string()),
        LabelKind::Part => part_number_on(text),
    };
    let effort = entry.frame.map_or(Effort::Photo, Effort::Frame);
    let label = photo::read_label(bytes, effort, &|text| says(text).is_some())?;
    Ok(label.and_then(|label| {
        let text = says(&label.text)?;
        Some(LabelView { text, symbology: label.symbology.code().to_owned(), corners: label.corners })
    }))
}
