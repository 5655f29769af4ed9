//! One strong lamp with soft shadows, weak light from all around, and the workshop in every reflection.

use crate::material::Surface;
use crate::vector::{V3, v};
use crate::world::{self, World};

/// Light of a scene.
#[derive(Debug, Clone, Copy)]
pub struct Light {
    /// Direction towards the lamp.
    pub towards: V3,
    pub lamp: V3,
    /// Light from above and from below.
    pub sky: V3,
    pub ground: V3,
    /// Size of the lamp: 4 gives soft edges, 30 hard ones.
    pub hardness: f32,
    /// True outdoors: the reflections show sky, not ceiling lamps.
    pub outdoors: bool,
    /// How far shadows and crevices reach, in centimetres.
    pub reach: f32,
}

impl Light {
    /// Light that leaves `p` towards the camera.
    pub fn shade(&self, world: &World, p: V3, normal: V3, view: V3, surface: &Surface, tiny: f32) -> V3 {
        let start = p + normal * (tiny * 3.0);
        let open = self.openness(world, start, normal);
        let facing = normal.dot(self.towards).max(0.0);
        let lamp = if facing > 0.0 { self.lamp * self.unshadowed(world, start, tiny) } else { V3::default() };
        let around = self.ground.mix(self.sky, 0.5 + 0.5 * normal.y) * open;
        let diffuse = if surface.metal { 0.25 } else { 1.0 - 0.4 * surface.gloss };
        let mirrored = (-view).mirror(normal);
        let edge = (1.0 - normal.dot(view).max(0.0)).powi(5);
        let share = surface.gloss * if surface.metal { 0.8 + 0.2 * edge } else { 0.05 + 0.95 * edge };
        let halfway = (self.towards + view).unit();
        let spot =
            normal.dot(halfway).max(0.0).powf(surface.polish) * surface.gloss * surface.polish.sqrt() * 0.12;
        let reflection = (self.surroundings(mirrored, surface.polish) * share
            + lamp * (spot * facing.sqrt()))
            * (0.35 + 0.65 * open);
        let tint = if surface.metal { surface.colour } else { v(1.0, 1.0, 1.0) };
        surface.colour.times(lamp * facing + around) * diffuse + reflection.times(tint) + surface.glow
    }

    /// What a mirror would show: a dim hall with strip lamps, or a bright sky over a dark yard.
    pub fn surroundings(&self, way: V3, polish: f32) -> V3 {
        let soft = 1.5 / polish.max(1.0).sqrt();
        let rise = ((way.y + soft) / (2.0 * soft + 0.02)).clamp(0.0, 1.0);
        let base = self.ground.mix(self.sky, rise);
        if self.outdoors {
            return base * (0.6 + 0.5 * way.y.max(0.0));
        }
        let strip = band((way.x * 1.7 + 0.35).sin() * 1.2, 0.24, soft) * band(way.y - 0.85, 0.32, soft);
        let window = band(way.x + 0.65, 0.28, soft) * band(way.y - 0.35, 0.22, soft);
        base * 0.6 + self.lamp * (strip * 1.5) + self.sky * (window * 3.5)
    }

    fn unshadowed(&self, world: &World, from: V3, tiny: f32) -> f32 {
        let mut near = world.near_ray(from, self.towards, 0.12, self.reach);
        // The floor throws no shadow upwards.
        near.retain(|(_, thing)| !thing.is_floor());
        if near.is_empty() {
            return 1.0;
        }
        let (mut open, mut along) = (1.0_f32, tiny * 4.0);
        for _ in 0..32 {
            let room = world::distance(&near, from + self.towards * along);
            open = open.min(0.5 + 0.5 * self.hardness * room / along);
            along += room.clamp(self.reach * 0.004 + along * 0.1, self.reach * 0.2);
            if open <= 0.0 || along > self.reach {
                break;
            }
        }
        let open = open.clamp(0.0, 1.0);
        open * open * (3.0 - 2.0 * open)
    }

    /// How much of the hall a point sees: near neighbours darken it.
    fn openness(&self, world: &World, from: V3, normal: V3) -> f32 {
        let far = self.reach * 0.06;
        let near = world.near_point(from, far);
        let (mut closed, mut weight) = (0.0, 1.0);
        for step in 1..=4 {
            let out = far * step as f32 / 4.0;
            closed += weight * (out - world::distance(&near, from + normal * out)).max(0.0) / far;
            weight *= 0.7;
        }
        (1.0 - 0.75 * closed).clamp(0.08, 1.0)
    }
}

fn band(offset: f32, half: f32, soft: f32) -> f32 {
    ((half + soft - offset.abs()) / (2.0 * soft).max(0.02)).clamp(0.0, 1.0) * half / (half + soft * 0.5)
}
