//! The instrument around the window: its shell, frame, printed words, buttons and a dial with numbers.

use crate::chance::{Chance, noise};
use crate::letters::Typeface;
use crate::place::Place;
use crate::raster::{Cover, Light, color, greyish, mix};
use crate::tint::Tint;

/// What is to be painted.
#[derive(Debug)]
pub struct Paint<'a> {
    /// Dots across.
    pub wide: usize,
    /// Dots down.
    pub high: usize,
    /// The main row.
    pub place: Place,
    /// Left, top, right, bottom of the window in digit heights.
    pub window: [f32; 4],
    /// The window's color.
    pub tint: &'a Tint,
    /// Only shell and window.
    pub bare: bool,
}

const PRINTED: [&str; 12] =
    ["V", "Ω", "mA", "COM", "10A", "CAT III 600V", "200", "2000m", "20k", "HOLD", "MODE", "200m"];

/// The face without its signs.
#[must_use]
pub fn paint(chance: &mut Chance, paint: Paint<'_>) -> Vec<Light> {
    let shell = if chance.yes(0.4) {
        color(chance.share(), chance.between(0.3, 0.95), chance.between(0.2, 0.95))
    } else {
        let value = chance.between(0.06, 0.95);
        greyish(chance, value)
    };
    let mut dots = vec![shell; paint.wide * paint.high];
    let place = &paint.place;
    let s = place.scale;
    let (left, top) = place.dots(paint.window[0], paint.window[1]);
    let (right, bottom) = place.dots(paint.window[2], paint.window[3]);
    if !paint.bare {
        print(chance, &paint, &mut dots, [left, top, right, bottom]);
    }
    let round = if chance.yes(0.4) { 0.0 } else { chance.between(0.0, 0.35) * s };
    let frame = if chance.yes(0.35) { 0.0 } else { chance.scale(0.03, 0.5) * s };
    let layer = |dots: &mut [Light], grow: f32, paint_color: Light| {
        let mut cover = Cover::new(paint.wide, paint.high);
        cover.rectangle(
            left - grow,
            top - grow,
            right - left + 2.0 * grow,
            bottom - top + 2.0 * grow,
            round + grow * 0.5,
            1.0,
        );
        blend(dots, &cover, paint_color);
    };
    if frame > 0.0 {
        let value = if chance.yes(0.6) { chance.between(0.02, 0.2) } else { chance.between(0.2, 1.0) };
        let edge = greyish(chance, value);
        layer(&mut dots, frame, edge);
    }
    layer(&mut dots, 0.0, paint.tint.ground);
    let (strength, seed) = (chance.between(0.0, 0.12), chance.seed());
    let (slope_x, slope_y) = (chance.normal() * 0.05, chance.normal() * 0.05);
    let step = 0.7 / s;
    for (at, dot) in dots.iter_mut().enumerate() {
        let (x, y) = ((at % paint.wide) as f32 * step, (at / paint.wide) as f32 * step);
        let change = 1.0
            + strength * (noise(x, y, seed) - 0.5)
            + slope_x * (x - 3.0) * 0.3
            + slope_y * (y - 2.0) * 0.3;
        *dot = dot.map(|part| part * change.max(0.2));
    }
    if chance.yes(0.5) {
        inner_shadow(chance, &mut dots, &paint, [left, top, right, bottom]);
    }
    dots
}

/// The frame's shadow on the display behind it: a dark line along one or two edges, as a stroke of a digit could be.
fn inner_shadow(
    chance: &mut Chance,
    dots: &mut [Light],
    paint: &Paint<'_>,
    [left, top, right, bottom]: [f32; 4],
) {
    let s = paint.place.scale;
    let (wide, strength) = (chance.between(0.02, 0.22) * s, chance.between(0.2, 0.85));
    let soft = chance.between(0.3, 1.0);
    let (from_left, from_top) = (chance.yes(0.6), chance.yes(0.6));
    for (at, dot) in dots.iter_mut().enumerate() {
        let (x, y) = ((at % paint.wide) as f32, (at / paint.wide) as f32);
        if x < left || y < top || x > right || y > bottom {
            continue;
        }
        let near = |distance: f32| ((1.0 - distance / wide) / soft).clamp(0.0, 1.0);
        let side = if from_left { near(x - left) } else { near(right - x) };
        let lid = if from_top { near(y - top) } else { near(bottom - y) };
        let shade = 1.0 - strength * side.max(lid);
        *dot = dot.map(|part| part * shade);
    }
}

fn print(chance: &mut Chance, paint: &Paint<'_>, dots: &mut [Light], window: [f32; 4]) {
    let s = paint.place.scale;
    let letters = Typeface::printed(chance);
    let mut cover = Cover::new(paint.wide, paint.high);
    for _ in 0..chance.below(9) {
        let size = chance.scale(0.12, 0.6);
        let spot = Place {
            left: chance.share() * paint.wide as f32,
            top: if chance.yes(0.5) {
                window[3] + chance.share() * (paint.high as f32 - window[3])
            } else {
                chance.share() * window[1]
            },
            scale: size * s,
        };
        letters.words(&mut cover, &spot, chance.pick(&PRINTED, "V"));
    }
    let value = chance.share();
    let ink = greyish(chance, value);
    if chance.yes(0.5) {
        dial(chance, paint, dots, window, &letters, &mut cover);
    }
    let mut buttons = Cover::new(paint.wide, paint.high);
    for _ in 0..chance.below(5) {
        let (x, y) = (chance.share() * paint.wide as f32, window[3] + chance.share() * s * 2.0);
        buttons.rectangle(x, y, chance.between(0.3, 1.2) * s, chance.between(0.2, 0.6) * s, 0.1 * s, 1.0);
    }
    let push = color(chance.share(), chance.between(0.0, 0.9), chance.between(0.1, 0.9));
    blend(dots, &buttons, push);
    blend(dots, &cover, ink);
}

/// A knob with the ranges printed around it: numbers that are no reading.
fn dial(
    chance: &mut Chance,
    paint: &Paint<'_>,
    dots: &mut [Light],
    window: [f32; 4],
    letters: &Typeface,
    cover: &mut Cover,
) {
    let s = paint.place.scale;
    let radius = chance.between(0.5, 1.6) * s;
    // Below the window, or beside it.
    let aside = radius * chance.between(1.0, 1.8);
    let (cx, cy) = match chance.share() {
        side if side < 0.4 => (chance.share() * paint.wide as f32, window[3] + aside),
        side if side < 0.85 => (window[2] + aside, chance.between(window[1], window[3])),
        _ => (window[0] - aside, chance.between(window[1], window[3])),
    };
    let mut knob = Cover::new(paint.wide, paint.high);
    knob.disc(cx, cy, radius * 0.75, 1.0);
    let (sin, cos) = chance.between(0.0, std::f32::consts::TAU).sin_cos();
    let ridge = [(-0.7, -0.16), (0.7, -0.16), (0.7, 0.16), (-0.7, 0.16)];
    let ridge = ridge
        .map(|(x, y): (f32, f32)| (cx + (x * cos - y * sin) * radius, cy + (x * sin + y * cos) * radius));
    let value = chance.between(0.02, 0.6);
    let shade = greyish(chance, value);
    blend(dots, &knob, shade);
    let mut bar = Cover::new(paint.wide, paint.high);
    bar.polygon(&ridge, 0.0, 1.0);
    blend(dots, &bar, shade.map(|part| part * if value > 0.3 { 0.4 } else { 2.2 }));
    let step = chance.between(0.3, 0.6);
    for at in 0..12_u8 {
        let (sin, cos) = (f32::from(at) * step).sin_cos();
        let spot = Place {
            left: cx + cos * radius * 1.1,
            top: cy - sin * radius * 1.1,
            scale: chance.between(0.14, 0.3) * s,
        };
        letters.words(cover, &spot, chance.pick(&PRINTED, "20"));
    }
}

/// Lays a color over dots where they are covered.
pub fn blend(dots: &mut [Light], cover: &Cover, paint: Light) {
    for (dot, share) in dots.iter_mut().zip(&cover.dots) {
        if *share > 0.0 {
            *dot = mix(*dot, paint, *share);
        }
    }
}
