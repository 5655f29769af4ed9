//! How a display makes its signs visible: dark ink on a reflector, strokes that shine, or a screen of dots.

use crate::chance::Chance;
use crate::raster::{Light, color, mix};
use crate::row::Face;

/// Whether signs take light away or send it out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Darker than their ground.
    Ink,
    /// Brighter than their ground.
    Shine,
}

/// Colors and faults of one display.
#[derive(Debug, Clone)]
pub struct Tint {
    /// What the signs do.
    pub kind: Kind,
    /// The window where nothing is lit.
    pub ground: Light,
    /// A lit stroke.
    pub lit: Light,
    /// How much of the ground a lit stroke hides.
    pub strength: f32,
    /// A stroke that is not lit, and how much of it is seen.
    pub ghost: Light,
    /// See `ghost`.
    pub ghost_share: f32,
    /// Shadow of the ink on the reflector behind.
    pub shadow: f32,
    /// Light that spreads around a stroke, and how far in digit heights.
    pub bloom: f32,
    /// See `bloom`.
    pub bloom_reach: f32,
    /// Step of the mesh of a screen, in digit heights; 0 for none.
    pub grid: f32,
    /// How unevenly strokes shine.
    pub uneven: f32,
}

impl Tint {
    /// By chance, to suit what draws the signs. Held-back displays have hues between those that are learned.
    #[must_use]
    pub fn invent(chance: &mut Chance, face: &Face, held_back: bool) -> Self {
        let shine = match face {
            Face::Segments(_) => 0.42,
            Face::Dots(_) => 0.5,
            Face::Letters(_) => 0.5,
        };
        let mut tint =
            if chance.yes(shine) { Self::shining(chance, held_back) } else { Self::inked(chance, held_back) };
        if !matches!(face, Face::Segments(_)) && chance.yes(0.3) {
            tint.ghost_share *= 0.2;
        }
        tint
    }

    fn inked(chance: &mut Chance, held_back: bool) -> Self {
        let backlit = chance.yes(0.3);
        let (hue, saturation, value) = if backlit {
            (chance.share(), chance.between(0.1, 0.9), chance.between(0.55, 1.0))
        } else if chance.yes(0.2) {
            (chance.share(), chance.between(0.0, 0.08), chance.between(0.6, 1.0))
        } else {
            (chance.between(0.13, 0.5), chance.between(0.02, 0.3), chance.between(0.42, 0.85))
        };
        let hue = if held_back { hue + 0.04 } else { hue };
        let ground = color(hue, saturation, value);
        let dark = color(chance.share(), chance.between(0.0, 0.6), chance.between(0.02, 0.22));
        let pale = chance.yes(0.2);
        Self {
            kind: Kind::Ink,
            ground,
            lit: dark,
            strength: if pale { chance.between(0.4, 0.7) } else { chance.between(0.7, 0.99) },
            ghost: dark,
            ghost_share: if chance.yes(0.4) {
                0.0
            } else {
                chance.between(0.0, if pale { 0.06 } else { 0.13 })
            },
            shadow: if chance.yes(0.5) { 0.0 } else { chance.between(0.03, 0.3) },
            bloom: 0.0,
            bloom_reach: 0.0,
            grid: 0.0,
            uneven: 0.0,
        }
    }

    fn shining(chance: &mut Chance, held_back: bool) -> Self {
        let sort = chance.share();
        let base = if sort < 0.5 {
            // Light-emitting strokes: red most often, then green, amber, blue, white.
            let hue = chance.pick(&[0.0, 0.0, 0.985, 0.01, 0.33, 0.37, 0.09, 0.12, 0.6, 0.66], 0.0);
            (hue + chance.between(-0.015, 0.015), chance.between(0.7, 1.0))
        } else if sort < 0.7 {
            (chance.between(0.42, 0.52), chance.between(0.4, 0.9))
        } else if sort < 0.85 {
            (chance.share(), chance.between(0.0, 0.15))
        } else {
            (chance.share(), chance.between(0.0, 1.0))
        };
        let hue = if held_back { base.0 + 0.03 } else { base.0 };
        let lit = mix(
            color(hue, base.1, 1.0),
            [1.0; 3],
            if chance.yes(0.3) { chance.between(0.0, 0.4) } else { 0.03 },
        );
        let power = chance.scale(0.5, 5.0);
        let dark = if chance.yes(0.3) {
            // A colored filter before the strokes, or a colored light behind a negative display.
            color(hue + chance.between(-0.06, 0.06), chance.between(0.3, 0.95), chance.between(0.08, 0.5))
        } else if chance.yes(0.2) {
            color(chance.share(), chance.between(0.2, 1.0), chance.between(0.15, 0.5))
        } else {
            color(chance.share(), chance.between(0.0, 0.3), chance.between(0.03, 0.3))
        };
        let bright_unlit = chance.yes(0.3);
        Self {
            kind: Kind::Shine,
            ground: dark,
            lit: lit.map(|part| part * power),
            strength: chance.between(0.85, 1.0),
            ghost: color(
                chance.share(),
                chance.between(0.0, 0.15),
                if bright_unlit { chance.between(0.4, 0.85) } else { chance.between(0.1, 0.4) },
            ),
            ghost_share: if chance.yes(0.35) {
                0.0
            } else {
                chance.between(0.1, if bright_unlit { 0.9 } else { 0.5 })
            },
            shadow: 0.0,
            bloom: if chance.yes(0.35) { 0.0 } else { chance.between(0.01, 0.22) },
            bloom_reach: chance.between(0.04, 0.3),
            grid: if chance.yes(0.2) { chance.between(0.03, 0.09) } else { 0.0 },
            uneven: if chance.yes(0.5) { 0.0 } else { chance.between(0.0, 0.5) },
        }
    }
}
