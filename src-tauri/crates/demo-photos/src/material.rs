//! What surfaces are made of, and the wear on them.

use crate::canvas::Canvas;
use crate::chance::{cloud, noise};
use crate::vector::{V3, grey, rgb, v};
use std::sync::Arc;

/// Structure of a surface beyond its plain colour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Grain {
    Smooth,
    /// Fine-pebbled plastic or rubber.
    Pebbled,
    Wood,
    /// Sheet metal with wiping scratches.
    Brushed,
    Concrete,
    /// Corrugated board.
    Board,
    /// A knitted, coated work glove.
    Knit,
    /// Green and white copper salts.
    Verdigris,
    Paper,
}

/// What a surface does with light.
#[derive(Debug, Clone)]
pub struct Material {
    pub colour: V3,
    /// Strength of reflections from 0 to 1.
    pub gloss: f32,
    /// Sharpness of highlights; about 10 is satin, 200 is glass.
    pub polish: f32,
    pub metal: bool,
    pub grain: Grain,
    /// Amount of dust and stains from 0 to 1.
    pub dirt: f32,
    /// Artwork on the upper (+y) side, with its half width and half depth.
    pub art: Option<(Arc<Canvas>, f32, f32)>,
    /// Light given off by the artwork.
    pub lit: f32,
}

/// A surface at one point, ready for light.
#[derive(Debug, Clone, Copy)]
pub struct Surface {
    pub colour: V3,
    pub gloss: f32,
    pub polish: f32,
    pub metal: bool,
    pub glow: V3,
}

impl Material {
    pub fn new(colour: V3) -> Self {
        Self {
            colour,
            gloss: 0.12,
            polish: 20.0,
            metal: false,
            grain: Grain::Smooth,
            dirt: 0.3,
            art: None,
            lit: 0.0,
        }
    }
    pub fn plastic(colour: V3) -> Self {
        Self { gloss: 0.25, polish: 24.0, grain: Grain::Pebbled, ..Self::new(colour) }
    }
    pub fn metal(colour: V3) -> Self {
        Self { gloss: 0.8, polish: 60.0, metal: true, grain: Grain::Brushed, ..Self::new(colour) }
    }
    pub fn glass(colour: V3) -> Self {
        Self { gloss: 0.9, polish: 240.0, dirt: 0.15, ..Self::new(colour) }
    }
    pub fn grained(self, grain: Grain) -> Self {
        Self { grain, ..self }
    }
    pub fn dirty(self, dirt: f32) -> Self {
        Self { dirt, ..self }
    }
    pub fn glossy(self, gloss: f32, polish: f32) -> Self {
        Self { gloss, polish, ..self }
    }
    pub fn with_art(self, art: Canvas, half_width: f32, half_depth: f32) -> Self {
        Self { art: Some((Arc::new(art), half_width, half_depth)), ..self }
    }
    pub fn lit(self, lit: f32) -> Self {
        Self { lit, ..self }
    }

    /// The surface at `p` with outward `normal`, both in the thing's own axes; `footprint` is the size of
    /// one picture element there.
    pub fn at(&self, p: V3, normal: V3, footprint: f32) -> Surface {
        let (colour, gloss) = self.grained_colour(p);
        let mut seen = Surface { colour, gloss, polish: self.polish, metal: self.metal, glow: V3::default() };
        if let Some((art, half_width, half_depth)) = &self.art
            && normal.y > 0.6
            && p.x.abs() <= *half_width
            && p.z.abs() <= *half_depth
        {
            let (u, w) = (0.5 + 0.5 * p.x / half_width, 0.5 + 0.5 * p.z / half_depth);
            let dots = footprint * art.size().0 / (2.0 * half_width);
            let (ink, cover) = art.sample(u, w, dots * 1.1);
            seen.colour = seen.colour.mix(ink, cover);
            seen.glow = ink * (self.lit * cover);
        }
        seen.colour = self.dusty(seen.colour, p);
        seen
    }

    fn grained_colour(&self, p: V3) -> (V3, f32) {
        let c = self.colour;
        match self.grain {
            Grain::Smooth => (c, self.gloss),
            Grain::Pebbled => {
                (c * (0.94 + 0.12 * noise(p * 14.0)), self.gloss * (0.7 + 0.6 * noise(p * 14.0)))
            }
            Grain::Wood => {
                let ring = noise(v(p.x * 0.16, p.y, p.z * 1.9) + grey(cloud(p * 0.15) * 2.5));
                let fibre = noise(v(p.x * 0.9, p.y, p.z * 22.0));
                (c * (0.55 + 0.45 * ring + 0.25 * fibre), self.gloss * (0.5 + fibre))
            }
            Grain::Brushed => {
                let fine = noise(v(p.x * 0.7, p.y * 9.0, p.z * 40.0));
                (c * (0.75 + 0.3 * fine + 0.15 * cloud(p * 0.6)), self.gloss * (0.6 + 0.5 * fine))
            }
            Grain::Concrete => {
                let patch = cloud(p * 0.035) * 0.7 + cloud(p * 0.6) * 0.5;
                (c * (0.55 + 0.7 * patch), self.gloss * patch)
            }
            Grain::Board => {
                (c * (0.88 + 0.12 * (p.x * 18.0).sin() * 0.3 + 0.14 * cloud(p * 2.0)), self.gloss)
            }
            Grain::Knit => {
                let stitch = (p.x * 16.0 + p.y * 9.0).sin() * (p.z * 16.0 + p.y * 7.0).sin();
                (c * (0.78 + 0.18 * stitch + 0.3 * cloud(p * 0.8)), self.gloss)
            }
            Grain::Verdigris => {
                let (green, white) = (rgb(84, 158, 140), rgb(208, 222, 206));
                let share = cloud(p * 5.0);
                let salt = green.mix(white, ((share - 0.4) * 3.0).clamp(0.0, 1.0));
                (salt.mix(c, ((noise(p * 3.0) - 0.6) * 4.0).clamp(0.0, 1.0)), 0.04)
            }
            Grain::Paper => (c * (0.96 + 0.05 * cloud(p * 1.5)), self.gloss),
        }
    }

    /// Grease lies in patches, dust in specks.
    fn dusty(&self, colour: V3, p: V3) -> V3 {
        let patch = ((cloud(p * 0.45 + grey(7.0)) - 0.52) * 3.0).clamp(0.0, 1.0) * self.dirt * 0.55;
        let speck = ((noise(p * 6.5 + grey(31.0)) - 0.86) * 9.0).clamp(0.0, 1.0) * self.dirt;
        colour.mix(rgb(70, 60, 48), patch * 0.7).mix(rgb(128, 118, 100), speck * 0.8)
    }
}
