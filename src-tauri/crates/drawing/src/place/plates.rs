//! The two leads: a probe at each bull's-eye, and its plate where it covers least.

use super::scene::{Owner, Scene, Sort, around, round};
use crate::layout::Rect;
use crate::picture::{Eye, Lead, Plate};
use crate::text::{self, NAME};

/// Ways a probe may come in, degrees; steep ones first.
const ANGLES: [f64; 16] = [
    50.0, 130.0, -50.0, -130.0, 30.0, 150.0, -30.0, -150.0, 75.0, 105.0, -75.0, -105.0, 15.0, 165.0, -15.0,
    -165.0,
];
/// Lengths of a probe, the usual one first.
const LENGTHS: [f64; 6] = [62.0, 50.0, 76.0, 42.0, 90.0, 104.0];
/// Height of a plate.
const HEIGHT: f64 = 26.0;

impl Scene<'_> {
    pub(super) fn plates(&mut self) {
        for eye in self.picture.eyes.clone() {
            self.plate(&eye);
        }
    }

    fn plate(&mut self, eye: &Eye) {
        let text = match eye.lead {
            Lead::Red => self.speech().red(),
            Lead::Black => self.speech().black(),
        };
        let width = text::width(text, NAME) + 14.0;
        let mut best: Option<(f64, Rect, (f64, f64))> = None;
        for (rank, angle) in ANGLES.into_iter().enumerate() {
            let (sine, cosine) = angle.to_radians().sin_cos();
            for length in LENGTHS {
                let (x, y) = (eye.x + cosine * length, eye.y + sine * length);
                let plate = around(x + cosine * (width / 2.0 - 14.0), y, width, HEIGHT);
                let mut cost = self.covered(plate) + (length - 62.0).abs() * 0.3 + rank as f64;
                for share in [0.4, 0.6, 0.8] {
                    let shaft =
                        around(eye.x + cosine * length * share, eye.y + sine * length * share, 14.0, 14.0);
                    cost += self.under_probe(shaft);
                }
                if best.as_ref().is_none_or(|best| cost < best.0) {
                    best = Some((cost, plate, (x, y)));
                }
            }
        }
        let Some((_, rect, end)) = best else { return };
        self.take(rect, Sort::Plate, Owner::Nobody);
        self.picture.plates.push(Plate {
            x: round(rect.x),
            y: round(rect.y),
            width: round(rect.width),
            height: HEIGHT,
            lead: eye.lead,
            text: text.to_owned(),
            tip: [eye.x, eye.y],
            end: [round(end.0), round(end.1)],
            point: eye.point.clone(),
        });
    }

    /// A plate covers no reading, disc, text or symbol.
    fn covered(&self, plate: Rect) -> f64 {
        let wide =
            Rect { x: plate.x - 2.0, y: plate.y - 2.0, width: plate.width + 4.0, height: plate.height + 4.0 };
        let mut cost = self.in_the_way(plate, Owner::Nobody);
        for taken in &self.taken {
            let (width, height) = wide.shared(taken.rect);
            if width > 0.5 && height > 0.5 {
                cost += match taken.sort {
                    Sort::Disc | Sort::Bead | Sort::Eye | Sort::Plate => 500.0,
                    Sort::Text | Sort::Capsule | Sort::Symbol | Sort::Stub => 250.0,
                    Sort::Frame => 0.0,
                };
            }
        }
        cost
    }

    fn under_probe(&self, shaft: Rect) -> f64 {
        let hit = |taken: &&super::scene::Taken| {
            let (width, height) = shaft.shared(taken.rect);
            width > 0.5 && height > 0.5
        };
        let costs = self.taken.iter().filter(hit).map(|taken| match taken.sort {
            Sort::Frame | Sort::Eye => 0.0,
            Sort::Disc => 400.0,
            Sort::Bead | Sort::Text => 150.0,
            _ => 60.0,
        });
        costs.sum()
    }
}
