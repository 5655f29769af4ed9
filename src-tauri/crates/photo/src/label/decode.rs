//! The decoder of `rxing`, for the four sorts of bar code that labels carry.

use super::Symbology;
use crate::display::plane::Point;
use image::GrayImage;
use rxing::common::{GlobalHistogramBinarizer, HybridBinarizer};
use rxing::{
    BarcodeFormat, Binarizer, BinaryBitmap, DecodeHints, Luma8LuminanceSource, MultiFormatReader, Reader,
};
use std::collections::HashSet;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// How dark is told from light.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Threshold {
    /// Place by place: shadows and glare beside the bars.
    Local,
    /// One for each row or the whole picture: noise.
    Global,
}

/// What was read, with places in the pixels that were looked at.
pub struct Found {
    pub text: String,
    pub symbology: Symbology,
    pub points: Vec<Point>,
}

/// The first bar code in the pixels.
pub fn first(pixels: &GrayImage, threshold: Threshold, inverted_too: bool) -> Option<Found> {
    let (wide, high) = pixels.dimensions();
    let source = Luma8LuminanceSource::new(pixels.as_raw().clone(), wide, high).ok()?;
    let formats =
        [BarcodeFormat::CODE_39, BarcodeFormat::CODE_128, BarcodeFormat::DATA_MATRIX, BarcodeFormat::QR_CODE];
    let hints = DecodeHints {
        PossibleFormats: Some(HashSet::from(formats)),
        TryHarder: Some(true),
        AlsoInverted: inverted_too.then_some(true),
        ..DecodeHints::default()
    };
    // The decoder indexes without asking; a picture that breaks it is one without a bar code, and no end of the app.
    catch_unwind(AssertUnwindSafe(|| match threshold {
        Threshold::Local => decoded(HybridBinarizer::new(source), &hints),
        Threshold::Global => decoded(GlobalHistogramBinarizer::new(source), &hints),
    }))
    .ok()
    .flatten()
}

fn decoded<B: Binarizer>(binarizer: B, hints: &DecodeHints) -> Option<Found> {
    let mut bitmap = BinaryBitmap::new(binarizer);
    let result = MultiFormatReader::default().decode_with_hints(&mut bitmap, hints).ok()?;
    let symbology = match result.getBarcodeFormat() {
        BarcodeFormat::CODE_39 => Symbology::Code39,
        BarcodeFormat::CODE_128 => Symbology::Code128,
        BarcodeFormat::DATA_MATRIX => Symbology::DataMatrix,
        BarcodeFormat::QR_CODE => Symbology::Qr,
        _ => return None,
    };
    // The decoder halves the place of a Code 39's end.
    let known = if symbology == Symbology::Code39 { 1 } else { usize::MAX };
    let points = result.getPoints().iter().take(known).map(|point| (point.x, point.y)).collect();
    Some(Found { text: result.getText().to_owned(), symbology, points })
}
