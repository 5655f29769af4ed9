//! Things in a scene, and how far the nearest of them is.

use crate::chance::noise;
use crate::material::Material;
use crate::shape::Shape;
use crate::vector::{Pose, V3, v};

/// One solid in its place.
#[derive(Debug, Clone)]
pub struct Thing {
    pub shape: Shape,
    pub pose: Pose,
    pub material: Material,
    /// Height of bumps and how many there are per centimetre.
    pub bumps: (f32, f32),
    centre: V3,
    radius: f32,
}

impl Thing {
    pub fn is_floor(&self) -> bool {
        self.radius.is_infinite()
    }
    fn distance(&self, p: V3) -> f32 {
        let local = self.pose.inside(p);
        let plain = self.shape.distance(local);
        let (height, density) = self.bumps;
        if height == 0.0 || plain > height * 2.0 {
            return plain;
        }
        (plain - height * noise(local * density)) * 0.7
    }
}

/// Everything in front of the camera.
#[derive(Debug, Default)]
pub struct World {
    things: Vec<Thing>,
}

/// A handful of things that a ray can meet.
pub type Near<'a> = Vec<(usize, &'a Thing)>;

impl World {
    pub fn put(&mut self, shape: Shape, pose: Pose, material: Material) {
        self.put_bumpy(shape, pose, material, (0.0, 1.0));
    }
    pub fn put_bumpy(&mut self, shape: Shape, pose: Pose, material: Material, bumps: (f32, f32)) {
        let (middle, radius) = shape.ball();
        let centre = pose.outside(middle);
        self.things.push(Thing { shape, pose, material, bumps, centre, radius: radius + bumps.0 });
    }
    /// A cable or hose through the given points.
    pub fn cable(&mut self, points: &[V3], thick: f32, material: &Material) {
        let smooth = rounded_path(points);
        for (from, to) in smooth.iter().zip(smooth.iter().skip(1)) {
            self.put(Shape::bar(*from, *to, thick), Pose::at(0.0, 0.0, 0.0), material.clone());
        }
    }

    /// Things within `slope` of the ray (a cone), at most `reach` away.
    pub fn near_ray(&self, from: V3, way: V3, slope: f32, reach: f32) -> Near<'_> {
        let meets = |thing: &Thing| {
            if thing.is_floor() {
                return true;
            }
            let to = thing.centre - from;
            let along = to.dot(way);
            let beside = (to.dot(to) - along * along).max(0.0).sqrt();
            along > -thing.radius
                && along < reach + thing.radius
                && beside < thing.radius * 1.02 + slope * (along + thing.radius).max(0.0)
        };
        self.things.iter().enumerate().filter(|(_, thing)| meets(thing)).collect()
    }
    pub fn near_point(&self, p: V3, reach: f32) -> Near<'_> {
        let meets = |thing: &Thing| thing.is_floor() || (thing.centre - p).length() < thing.radius + reach;
        self.things.iter().enumerate().filter(|(_, thing)| meets(thing)).collect()
    }
}

/// Distance to the nearest of some things.
pub fn distance(near: &Near<'_>, p: V3) -> f32 {
    near.iter().map(|(_, thing)| thing.distance(p)).fold(f32::MAX, f32::min)
}

/// The thing whose surface is nearest to `p`.
pub fn nearest<'a>(near: &Near<'a>, p: V3) -> Option<(usize, &'a Thing)> {
    near.iter().copied().min_by(|(_, a), (_, b)| a.distance(p).total_cmp(&b.distance(p)))
}

/// Outward direction of the surface at `p` (four probes of a tetrahedron).
pub fn normal(near: &Near<'_>, p: V3, step: f32) -> V3 {
    let corners = [v(1.0, -1.0, -1.0), v(-1.0, -1.0, 1.0), v(-1.0, 1.0, -1.0), v(1.0, 1.0, 1.0)];
    corners
        .into_iter()
        .fold(V3::default(), |sum, corner| sum + corner * distance(near, p + corner * step))
        .unit()
}

/// Catmull-Rom through the points, six pieces for each span.
fn rounded_path(points: &[V3]) -> Vec<V3> {
    let get =
        |index: usize| points.get(index.min(points.len().saturating_sub(1))).copied().unwrap_or_default();
    let mut path = Vec::new();
    for span in 0..points.len().saturating_sub(1) {
        let (a, b, c, d) = (get(span.saturating_sub(1)), get(span), get(span + 1), get(span + 2));
        for piece in 0..6 {
            let t = piece as f32 / 6.0;
            let (t2, t3) = (t * t, t * t * t);
            let bend =
                (c - a) * t + (a * 2.0 - b * 5.0 + c * 4.0 - d) * t2 + (b * 3.0 - a - c * 3.0 + d) * t3;
            path.push(b + bend * 0.5);
        }
    }
    path.push(get(points.len()));
    path
}
