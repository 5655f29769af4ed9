//! Marks as filled and stroked paths, in the picture's own pixels.

use super::lettering::Letters;
use super::{Mark, MarkShape, Rgb8, Spot};
use crate::redact::{Area, WHOLE};
use image::{Rgb, RgbImage};
use tiny_skia::{
    Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, Transform,
};

/// A line's width: this part of the picture's shorter side.
const LINE: f32 = 1.0 / 80.0;
/// Height of the letters' em: this part of it.
const EM: f32 = 1.0 / 16.0;
/// The casing reaches this many line widths beyond the line, on each side.
const CASING: f32 = 0.5;
/// Length of an arrow's barbs, in line widths, at most this part of the arrow; and the angle between barb and shaft.
const BARB: (f32, f32) = (6.0, 0.6);
const BARB_ANGLE: f32 = std::f32::consts::FRAC_PI_6;
/// Around a text on its plate, in ems: left and right, above and below; and the corners' radius.
const PADDING: (f32, f32) = (0.35, 0.2);
const CORNER: f32 = 0.25;

/// A picture that is being drawn on.
pub(super) struct Sheet {
    pixels: Pixmap,
}

impl Sheet {
    /// `None` for a picture with no pixels, or too many for this device.
    pub fn of(picture: &RgbImage) -> Option<Sheet> {
        let mut pixels = Pixmap::new(picture.width(), picture.height())?;
        for (to, Rgb([red, green, blue])) in pixels.data_mut().chunks_exact_mut(4).zip(picture.pixels()) {
            to.copy_from_slice(&[*red, *green, *blue, u8::MAX]);
        }
        Some(Sheet { pixels })
    }

    pub fn into_picture(self) -> RgbImage {
        let mut picture = RgbImage::new(self.pixels.width(), self.pixels.height());
        // Nothing here is see-through: the colors stand in the pixels as they are.
        for (to, from) in picture.pixels_mut().zip(self.pixels.pixels()) {
            *to = Rgb([from.red(), from.green(), from.blue()]);
        }
        picture
    }

    pub fn draw(&mut self, mark: &Mark, letters: &Letters<'_>) {
        let (core, casing) = mark.tone.colors();
        match &mark.shape {
            MarkShape::Arrow { from, tip } => self.line(self.arrow(*from, *tip), core, casing),
            MarkShape::Ellipse(area) => self.line(self.ellipse(area), core, casing),
            MarkShape::Text { at, text } => self.plate(*at, text, letters, core, casing),
        }
    }

    fn side(&self) -> f32 {
        self.width().min(self.height())
    }

    fn width(&self) -> f32 {
        self.pixels.width() as f32
    }

    fn height(&self) -> f32 {
        self.pixels.height() as f32
    }

    fn stroke(&self) -> f32 {
        (self.side() * LINE).max(1.0)
    }

    fn place(&self, spot: Spot) -> (f32, f32) {
        let share = |part: u32, side: f32| part as f32 * side / WHOLE as f32;
        (share(spot.x, self.width()), share(spot.y, self.height()))
    }

    /// Shaft and two barbs.
    fn arrow(&self, from: Spot, tip: Spot) -> Option<Path> {
        let ((x, y), (to_x, to_y)) = (self.place(from), self.place(tip));
        let (across, along) = (to_x - x, to_y - y);
        let barb = (self.stroke() * BARB.0).min(across.hypot(along) * BARB.1);
        let back = along.atan2(across) + std::f32::consts::PI;
        let mut path = PathBuilder::new();
        path.move_to(x, y);
        path.line_to(to_x, to_y);
        let end = |angle: f32| (to_x + barb * angle.cos(), to_y + barb * angle.sin());
        let (one, other) = (end(back - BARB_ANGLE), end(back + BARB_ANGLE));
        path.move_to(one.0, one.1);
        path.line_to(to_x, to_y);
        path.line_to(other.0, other.1);
        path.finish()
    }

    fn ellipse(&self, area: &Area) -> Option<Path> {
        let (left, top) = self.place(Spot { x: area.left, y: area.top });
        let (width, height) = self.place(Spot { x: area.width, y: area.height });
        PathBuilder::from_oval(Rect::from_xywh(left, top, width, height)?)
    }

    fn line(&mut self, path: Option<Path>, core: Rgb8, casing: Rgb8) {
        let Some(path) = path else { return };
        let width = self.stroke();
        for (color, width) in [(casing, width * (1.0 + 2.0 * CASING)), (core, width)] {
            let stroke =
                Stroke { width, line_cap: LineCap::Round, line_join: LineJoin::Round, ..Stroke::default() };
            self.pixels.stroke_path(&path, &paint(color), &stroke, Transform::identity(), None);
        }
    }

    /// A plate in the core's color, edged and lettered in the casing's.
    fn plate(&mut self, at: Spot, text: &str, letters: &Letters<'_>, core: Rgb8, casing: Rgb8) {
        let edge = self.stroke() * CASING;
        let ems = letters.ems(text) + 2.0 * PADDING.0;
        // A text that is wider than the picture is set smaller.
        let em = (self.side() * EM).min((self.width() - 2.0 * edge) / ems).max(1.0);
        let (width, height) = (em * ems, em * (1.0 + 2.0 * PADDING.1));
        let (x, y) = self.place(at);
        let within = |start: f32, length: f32, side: f32| start.min(side - length - edge).max(edge);
        let (x, y) = (within(x, width, self.width()), within(y, height, self.height()));
        let Some(plate) = rounded(x, y, width, height, em * CORNER) else { return };
        self.fill(&plate, core);
        let stroke = Stroke { width: edge * 2.0, line_join: LineJoin::Round, ..Stroke::default() };
        self.pixels.stroke_path(&plate, &paint(casing), &stroke, Transform::identity(), None);
        if let Some(lettered) = letters.line(text, x + em * PADDING.0, y + em * PADDING.1, em) {
            self.fill(&lettered, casing);
        }
    }

    fn fill(&mut self, path: &Path, color: Rgb8) {
        self.pixels.fill_path(path, &paint(color), FillRule::Winding, Transform::identity(), None);
    }
}

fn paint([red, green, blue]: Rgb8) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color(Color::from_rgba8(red, green, blue, u8::MAX));
    paint
}

/// A rectangle with round corners; quadratic curves are near enough to circles at this size.
fn rounded(x: f32, y: f32, width: f32, height: f32, radius: f32) -> Option<Path> {
    let (right, bottom) = (x + width, y + height);
    let mut path = PathBuilder::new();
    path.move_to(x + radius, y);
    path.line_to(right - radius, y);
    path.quad_to(right, y, right, y + radius);
    path.line_to(right, bottom - radius);
    path.quad_to(right, bottom, right - radius, bottom);
    path.line_to(x + radius, bottom);
    path.quad_to(x, bottom, x, bottom - radius);
    path.line_to(x, y + radius);
    path.quad_to(x, y, x + radius, y);
    path.close();
    path.finish()
}
