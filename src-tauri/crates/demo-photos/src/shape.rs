//! Solids, each told by the distance to its surface (negative inside).

use crate::vector::{V3, v};

/// A solid around its own origin.
#[derive(Debug, Clone)]
pub enum Shape {
    /// A block with half sides and rounded edges.
    Block { half: V3, round: f32 },
    /// A block with pockets cut into it: centre, half sides, rounding of each.
    Carved { half: V3, round: f32, pockets: Vec<(V3, V3, f32)> },
    /// Upright round bar.
    Round { radius: f32, half: f32, edge: f32 },
    /// A bar with round ends, its two ends may differ in thickness.
    Bar { from: V3, to: V3, thick: f32, thin: f32 },
    /// Lying ring.
    Ring { radius: f32, thick: f32 },
    /// A sheet of paper: half width and half depth, rise of its edges.
    Sheet { width: f32, depth: f32, curl: f32 },
    /// Several solids flowing into one another.
    Blend { parts: Vec<(V3, Shape)>, softness: f32 },
    /// Everything below y = 0.
    Floor,
}

impl Shape {
    pub fn block(x: f32, y: f32, z: f32, round: f32) -> Self {
        Self::Block { half: v(x, y, z), round }
    }
    pub fn bar(from: V3, to: V3, thick: f32) -> Self {
        Self::Bar { from, to, thick, thin: thick }
    }

    /// Distance from `p` to the surface, never more than the true one.
    pub fn distance(&self, p: V3) -> f32 {
        match self {
            Self::Block { half, round } => block(p, *half, *round),
            Self::Carved { half, round, pockets } => pockets
                .iter()
                .map(|(at, half, round)| -block(p - *at, *half, *round))
                .fold(block(p, *half, *round), f32::max),
            Self::Round { radius, half, edge } => {
                let (side, top) = (p.x.hypot(p.z) - radius + edge, p.y.abs() - half + edge);
                side.max(top).min(0.0) + side.max(0.0).hypot(top.max(0.0)) - edge
            }
            Self::Bar { from, to, thick, thin } => {
                let (along, of) = (*to - *from, p - *from);
                let share = (of.dot(along) / along.dot(along).max(1e-6)).clamp(0.0, 1.0);
                (of - along * share).length() - (thick + (thin - thick) * share)
            }
            Self::Ring { radius, thick } => (p.x.hypot(p.z) - radius).hypot(p.y) - thick,
            Self::Sheet { width, depth, curl } => sheet(p, *width, *depth, *curl),
            Self::Blend { parts, softness } => parts
                .iter()
                .map(|(at, shape)| shape.distance(p - *at))
                .fold(f32::MAX, |near, next| smooth_min(near, next, *softness)),
            Self::Floor => p.y,
        }
    }

    /// Centre and radius of a ball around it.
    pub fn ball(&self) -> (V3, f32) {
        match self {
            Self::Block { half, .. } | Self::Carved { half, .. } => (V3::default(), half.length()),
            Self::Round { radius, half, .. } => (V3::default(), radius.hypot(*half)),
            Self::Bar { from, to, thick, thin } => {
                ((*from + *to) * 0.5, (*to - *from).length() * 0.5 + thick.max(*thin))
            }
            Self::Ring { radius, thick } => (V3::default(), radius + thick),
            Self::Sheet { width, depth, curl } => (V3::default(), width.hypot(*depth) + curl.abs()),
            Self::Blend { parts, softness } => {
                let reach = |(at, shape): &(V3, Shape)| {
                    let (centre, radius) = shape.ball();
                    (*at + centre).length() + radius
                };
                (V3::default(), parts.iter().map(reach).fold(0.0, f32::max) + softness)
            }
            Self::Floor => (V3::default(), f32::INFINITY),
        }
    }
}

fn block(p: V3, half: V3, round: f32) -> f32 {
    let q = p.map(f32::abs) - half + v(round, round, round);
    q.map(|side| side.max(0.0)).length() + q.largest().min(0.0) - round
}

fn sheet(p: V3, width: f32, depth: f32, curl: f32) -> f32 {
    let (x, z) = (p.x / width, p.z / depth);
    let rise = curl * (x * x * 0.6 + (z * z * z).max(0.0) + 0.12 * (x * 5.0 + z * 2.0).sin());
    let flat = (p.x.abs() - width).max(p.z.abs() - depth);
    ((p.y - rise).abs() * 0.7 - 0.02).max(flat)
}

fn smooth_min(a: f32, b: f32, softness: f32) -> f32 {
    let share = (0.5 + 0.5 * (b - a) / softness.max(1e-4)).clamp(0.0, 1.0);
    b + (a - b) * share - softness * share * (1.0 - share)
}
