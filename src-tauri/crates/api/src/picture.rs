//! Small drawings made here: QR codes.

use qrcode::{EcLevel, QrCode, render::svg};

/// A QR code as SVG in the colour of the text around it; empty when the text is too long for one.
pub(crate) fn qr(text: &str) -> String {
    let Ok(code) = QrCode::with_error_correction_level(text, EcLevel::M) else { return String::new() };
    code.render::<svg::Color<'_>>()
        .min_dimensions(200, 200)
        .dark_color(svg::Color("#000000"))
        .light_color(svg::Color("#ffffff"))
        .build()
}
