//! The face of an invented instrument: its window with the main row, and what surrounds it.

use crate::body::{self, Paint};
use crate::chance::{Chance, noise};
use crate::letters::Typeface;
use crate::place::{Glyph, Place};
use crate::raster::{Cover, Light, Sheet, mix};
use crate::row::{Drawn, Face};
use crate::tint::{Kind, Tint};
use crate::value::{self, Said, Sign};

/// A face, flat; lengths in digit heights of the main row, whose cells start at (0, 0) and end at y = 1.
#[derive(Debug, Clone)]
pub struct Panel {
    /// The face as it sends out light.
    pub sheet: Sheet,
    /// Dots for one digit height.
    pub scale: f32,
    /// Dots at (0, 0).
    pub origin: (f32, f32),
    /// Size in dots.
    pub size: (f32, f32),
    /// Left, top, right, bottom of the window.
    pub window: [f32; 4],
    /// Signs of the main row that a reader has to account for.
    pub glyphs: Vec<Glyph>,
    /// Left, top, right, bottom of the main row's cells; none when nothing is shown.
    pub field: Option<[f32; 4]>,
    /// A second row of equal size.
    pub second: Option<[f32; 4]>,
    /// What the main row says.
    pub said: Said,
    /// Light of a lit stroke and of its surroundings.
    pub tint: Tint,
}

/// What kind of face is wanted.
#[derive(Debug, Clone, Copy)]
pub struct Wish {
    /// Dots for one digit height.
    pub scale: f32,
    /// From styles never learned from.
    pub held_back: bool,
    /// Letters beyond those of `OL` may be shown.
    pub words: bool,
    /// Nothing but the number.
    pub bare: bool,
    /// Most of the shell that is to be seen around the window, in digit heights.
    pub shell: f32,
}

const UNITS: [&str; 10] = ["V", "mV", "A", "mA", "kΩ", "Ω", "MΩ", "Hz", "°C", "%"];
const MARKS: [&str; 8] = ["AUTO", "DC", "AC", "HOLD", "MAX", "MIN", "REL", "TRUE"];

/// Invents a face.
#[must_use]
pub fn invent(chance: &mut Chance, wish: Wish) -> Panel {
    let face = Face::invent(chance, wish.held_back);
    let said = value::invent(chance, wish.words);
    let tint = Tint::invent(chance, &face, wish.held_back);
    let nowhere = Place { left: 0.0, top: 0.0, scale: wish.scale.min(16.0) };
    let measured = face.draw(&mut Cover::new(1, 1), &mut Cover::new(1, 1), &nowhere, &said).end;
    let width = measured + chance.pick(&[0.0, 0.0, 0.8], 0.0);
    let twin = !wish.bare && chance.yes(0.03);
    let mut inner = [
        chance.between(0.1, 1.6),
        chance.between(0.12, 1.3),
        chance.between(0.1, 1.9),
        chance.between(0.12, 1.1),
    ];
    if twin {
        inner[3] = chance.between(1.5, 2.0);
    }
    let mut outer: [f32; 4] = std::array::from_fn(|at| {
        if at % 2 == 0 {
            chance.between(0.3, 2.6).min(wish.shell)
        } else {
            chance.between(0.3, 2.4).min(wish.shell)
        }
    });
    if wish.shell > 1.0 && chance.yes(0.4) {
        // Room for a dial beside the window.
        outer[2] = chance.between(2.0, 5.5);
    }
    let s = wish.scale;
    let origin = ((inner[0] + outer[0]) * s, (inner[1] + outer[1]) * s);
    let wide = ((inner[0] + inner[2] + outer[0] + outer[2] + width) * s) as usize;
    let high = ((inner[1] + inner[3] + outer[1] + outer[3] + 1.0) * s) as usize;
    let (mut lit, mut ghost) = (Cover::new(wide, high), Cover::new(wide, high));
    let place = Place { left: origin.0, top: origin.1, scale: s };
    let mut drawn = face.draw(&mut lit, &mut ghost, &place, &said);
    let off = chance.yes(0.03);
    if off {
        lit = Cover::new(wide, high);
        drawn.glyphs.clear();
    }
    let window = [-inner[0], -inner[1], width + inner[2], 1.0 + inner[3]];
    let mut second = None;
    if !off && twin {
        let spot = Place { left: origin.0, top: origin.1 + 1.3 * s, scale: s };
        let other = face.draw(&mut lit, &mut ghost, &spot, &value::invent(chance, false));
        second = (!other.glyphs.is_empty()).then_some([other.field.0, 1.3, other.field.1, 2.3]);
    } else if !off && !wish.bare {
        beside(chance, &face, &mut lit, &mut ghost, &place, &mut drawn, &window);
    }
    let mut dots = body::paint(chance, Paint { wide, high, place, window, tint: &tint, bare: wish.bare });
    show(chance, &mut dots, &lit, &ghost, &tint, &place, &window);
    let field = (!drawn.glyphs.is_empty()).then_some([drawn.field.0, 0.0, drawn.field.1, 1.0]);
    Panel {
        sheet: Sheet::new(wide, high, dots),
        scale: s,
        origin,
        size: (wide as f32, high as f32),
        window,
        glyphs: drawn.glyphs,
        field,
        second,
        said,
        tint,
    }
}

/// What else stands in the window: a unit, small words, a bar, a second row.
fn beside(
    chance: &mut Chance,
    face: &Face,
    lit: &mut Cover,
    ghost: &mut Cover,
    place: &Place,
    drawn: &mut Drawn,
    window: &[f32; 4],
) {
    let letters = Typeface::printed(chance);
    let at = |x: f32, y: f32, size: f32| {
        let (left, top) = place.dots(x, y);
        Place { left, top, scale: size * place.scale }
    };
    let unit = chance.pick(&UNITS, "V");
    if face.has_letters() && chance.yes(0.3) {
        // A unit as large as the digits, in their own letters.
        let spot = at(drawn.end + chance.between(0.1, 0.5), 0.0, 1.0);
        let said =
            Said { signs: unit.chars().filter(char::is_ascii).map(Sign::Letter).collect(), value: None };
        let shift = (spot.left - place.left) / place.scale;
        let row = face.draw(lit, &mut Cover::new(1, 1), &spot, &said);
        drawn.glyphs.extend(row.glyphs.into_iter().map(|glyph| Glyph {
            ink: [glyph.ink[0] + shift, glyph.ink[1], glyph.ink[2] + shift, glyph.ink[3]],
            probes: glyph.probes.iter().map(|(x, y)| (x + shift, *y)).collect(),
            ..glyph
        }));
    } else if chance.yes(0.75) {
        let size = chance.between(0.18, 0.5);
        let top = if chance.yes(0.5) { 1.0 - size } else { chance.between(0.0, 1.0 - size) };
        letters.words(lit, &at(drawn.end + chance.between(0.12, 0.5), top, size), unit);
        if chance.yes(0.4) {
            let size = chance.between(0.15, 0.28);
            letters.words(
                lit,
                &at(drawn.end + chance.between(0.1, 0.4), 0.0, size),
                chance.pick(&MARKS, "DC"),
            );
        }
    }
    if chance.yes(0.5) {
        let mut x = window[0] + 0.1;
        let size = chance.between(0.12, 0.3).min(-window[1] * 0.6).max(0.06);
        for _ in 0..chance.below(4) + 1 {
            let spot = at(x, window[1] + (-window[1] - size) * 0.5, size);
            x += letters.words(lit, &spot, chance.pick(&MARKS, "AUTO")) * size + chance.between(0.2, 1.0);
        }
    }
    let room = window[3] - 1.0;
    if room > 0.35 && chance.yes(0.35) {
        bar(chance, lit, place, window, room);
    } else if room > 0.75 && chance.yes(0.4) {
        let size = chance.between(0.3, 0.62).min(room - 0.25);
        let spot = at(chance.between(0.0, 1.2), 1.0 + (room - size) * 0.6, size);
        face.draw(lit, ghost, &spot, &value::invent(chance, false));
    }
    if -window[1] > 0.8 && chance.yes(0.15) {
        let size = chance.between(0.3, 0.55).min(-window[1] - 0.25);
        let spot = at(chance.between(0.5, 2.0), window[1] + 0.1, size);
        face.draw(lit, ghost, &spot, &value::invent(chance, false));
    }
}

fn bar(chance: &mut Chance, lit: &mut Cover, place: &Place, window: &[f32; 4], room: f32) {
    let (step, thick) = (chance.between(0.05, 0.14), chance.between(0.06, 0.2));
    let filled = chance.share();
    let top = 1.0 + room * chance.between(0.4, 0.7);
    let count = ((window[2] - window[0] - 0.4) / step) as usize;
    for at in 0..count.min(80) {
        let high = if (at as f32) < filled * count as f32 { thick } else { thick * 0.25 };
        let (x, y) = place.dots(window[0] + 0.2 + at as f32 * step, top + thick - high);
        lit.rectangle(x, y, step * 0.6 * place.scale, high * place.scale, 0.0, 1.0);
    }
}

/// Lights what is lit: ink with its shadow, or light with its bloom.
fn show(
    chance: &mut Chance,
    dots: &mut [Light],
    lit: &Cover,
    ghost: &Cover,
    tint: &Tint,
    place: &Place,
    window: &[f32; 4],
) {
    let soft = (tint.bloom > 0.01).then(|| lit.soft(tint.bloom_reach * place.scale));
    let shadow = (chance.between(-0.06, 0.06) * place.scale, chance.between(0.015, 0.07) * place.scale);
    let (left, top) = place.dots(window[0], window[1]);
    let (right, bottom) = place.dots(window[2], window[3]);
    let grid = tint.grid * place.scale;
    let seed = chance.seed();
    for (at, dot) in dots.iter_mut().enumerate() {
        let (x, y) = ((at % lit.wide) as f32, (at / lit.wide) as f32);
        if x < left || y < top || x > right || y > bottom {
            continue;
        }
        let mut ink = lit.dots.get(at).copied().unwrap_or(0.0);
        let unlit = (ghost.dots.get(at).copied().unwrap_or(0.0) - ink).max(0.0);
        if grid > 1.2 && (x.rem_euclid(grid) < grid * 0.18 || y.rem_euclid(grid) < grid * 0.18) {
            ink *= 0.75;
        }
        *dot = mix(*dot, tint.ghost, unlit * tint.ghost_share);
        if tint.shadow > 0.01 {
            let under = lit.at((x - shadow.0) as i32, (y - shadow.1) as i32);
            *dot = mix(*dot, tint.lit, under * tint.shadow);
        }
        if let Some(soft) = &soft {
            let glow = soft.dots.get(at).copied().unwrap_or(0.0) * tint.bloom;
            dot.iter_mut().zip(tint.lit).for_each(|(part, lit)| *part += lit * glow);
        }
        let uneven = 1.0 - tint.uneven * noise(x / place.scale * 0.9, y / place.scale * 0.9, seed);
        let lit_here = if tint.kind == Kind::Ink { tint.lit } else { tint.lit.map(|part| part * uneven) };
        *dot = mix(*dot, lit_here, ink * tint.strength);
    }
}
