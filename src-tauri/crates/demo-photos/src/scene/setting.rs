//! Where pictures are taken: the bench, the open engine bay; and the light there.

use super::Shot;
use crate::camera::Camera;
use crate::chance::Chance;
use crate::light::Light;
use crate::material::{Grain, Material};
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

/// Work lamp over a bench.
pub fn hall_light(chance: &mut Chance) -> Light {
    Light {
        towards: v(chance.between(-0.7, 0.5), 1.0, chance.between(-0.7, 0.1)).unit(),
        lamp: v(1.0, 0.95, 0.86) * chance.between(1.25, 1.6),
        sky: v(0.26, 0.29, 0.34),
        ground: v(0.14, 0.12, 0.10),
        hardness: chance.between(3.0, 9.0),
        outdoors: false,
        reach: 40.0,
    }
}

/// A hand-held view of something on the bench, from in front and above.
pub fn bench_camera(target: V3, far: f32, chance: &mut Chance) -> Camera {
    let lean = chance.between(48.0, 66.0_f32).to_radians();
    let swing = chance.between(-14.0, 14.0_f32).to_radians();
    let eye = target + v(lean.cos() * swing.sin(), lean.sin(), lean.cos() * swing.cos()) * far;
    Camera { eye, target, roll: chance.between(-4.0, 4.0), zoom: 1.35, aperture: 0.012 }
}

pub fn shot(world: World, light: Light, camera: Camera) -> Shot {
    Shot { world, light, camera, exposure: 1.3 }
}

/// A bench top with a few things lying about, out of the way of what is photographed.
pub fn bench(world: &mut World, free: f32, chance: &mut Chance) {
    let top = match (chance.share() * 3.0) as u32 {
        0 => Material::new(rgb(168, 124, 80)).grained(Grain::Wood).glossy(0.1, 14.0).dirty(0.9),
        1 => Material::new(rgb(44, 50, 52)).grained(Grain::Pebbled).glossy(0.08, 8.0).dirty(1.0),
        _ => Material::metal(rgb(150, 152, 150)).glossy(0.35, 14.0).dirty(0.8),
    };
    world.put(Shape::Floor, Pose::at(0.0, 0.0, 0.0).turned(chance.between(-20.0, 20.0)), top);
    screwdriver(world, Pose::at(-free * 0.7, 1.3, -free * 1.3 - 2.0).turned(chance.between(-30.0, 30.0)));
    washers(world, free, chance);
    rag(world, Pose::at(free * 1.5 + 3.0, 0.6, -free * 1.1).turned(chance.between(0.0, 90.0)), chance);
}

fn screwdriver(world: &mut World, pose: Pose) {
    let grip = Material::plastic(rgb(60, 92, 96)).dirty(0.7);
    world.put(Shape::bar(v(-5.0, 0.0, 0.0), v(3.0, 0.0, 0.0), 1.3), pose, grip);
    world.put(Shape::bar(v(4.0, -0.4, 0.0), v(14.0, -0.6, 0.0), 0.32), pose, Material::metal(grey(0.6)));
}

fn washers(world: &mut World, free: f32, chance: &mut Chance) {
    for _ in 0..4 {
        let (x, z) = (chance.between(-1.5, 1.4) * free, chance.between(-1.3, -0.8) * free);
        let ring = Shape::Ring { radius: chance.between(0.4, 0.8), thick: 0.16 };
        world.put(ring, Pose::at(x, 0.16, z), Material::metal(rgb(170, 166, 150)).dirty(0.6));
    }
}

fn rag(world: &mut World, pose: Pose, chance: &mut Chance) {
    let parts = (0..6)
        .map(|_| {
            let at = v(chance.between(-4.0, 4.0), chance.between(-0.4, 0.5), chance.between(-3.0, 3.0));
            (at, Shape::block(chance.between(1.5, 4.0), 0.5, chance.between(1.2, 2.6), 0.45))
        })
        .collect();
    let cloth = Material::new(rgb(128, 62, 48)).grained(Grain::Knit).glossy(0.02, 4.0).dirty(1.0);
    world.put_bumpy(Shape::Blend { parts, softness: 1.6 }, pose, cloth, (0.35, 0.9));
}

/// Dark shapes of an engine bay, far enough below to be out of focus.
pub fn engine_bay(world: &mut World, depth: f32, chance: &mut Chance) {
    let floor = Material::new(rgb(38, 38, 40)).grained(Grain::Pebbled).dirty(1.0);
    world.put(Shape::Floor, Pose::at(0.0, -depth - 22.0, 0.0), floor);
    for _ in 0..16 {
        let place = Pose::at(
            chance.between(-48.0, 48.0),
            -depth - chance.between(4.0, 16.0),
            chance.between(-46.0, 26.0),
        )
        .turned(chance.between(-25.0, 25.0));
        let tone =
            chance.pick(&[rgb(30, 30, 32), rgb(58, 60, 64), rgb(96, 98, 100), rgb(44, 40, 36)], grey(0.05));
        let block =
            Shape::block(chance.between(4.0, 11.0), chance.between(2.0, 6.0), chance.between(3.0, 9.0), 1.0);
        world.put(block, place, Material::plastic(tone).dirty(1.0));
    }
    for _ in 0..5 {
        let (y, z) = (-depth - chance.between(0.0, 5.0), chance.between(-36.0, 18.0));
        let path = [
            v(-60.0, y - 4.0, z + chance.between(-14.0, 14.0)),
            v(-18.0, y, z),
            v(16.0, y + 1.0, z + chance.between(-10.0, 10.0)),
            v(60.0, y - 5.0, z + chance.between(-20.0, 20.0)),
        ];
        let hose = Material::plastic(rgb(28, 28, 30)).glossy(0.3, 18.0).dirty(0.8);
        world.cable(&path, chance.between(0.8, 2.2), &hose);
    }
}
