//! A wire where it enters its connector: eaten by corrosion, or as it should be.

use super::Shot;
use super::setting;
use crate::chance::Chance;
use crate::list;
use crate::material::{Grain, Material};
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

const COLOURS: [(&str, (u8, u8, u8)); 6] = [
    ("orange", (206, 104, 30)),
    ("green", (40, 118, 62)),
    ("brown", (104, 62, 36)),
    ("blue", (42, 78, 150)),
    ("white", (206, 202, 192)),
    ("violet", (106, 58, 128)),
];

pub fn shot(wire: &list::Wire, corroded: bool, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = setting::hall_light(chance);
    setting::engine_bay(&mut world, 6.0, chance);
    let pose = Pose::at(0.0, 1.0, 0.0).turned(chance.between(-14.0, 14.0)).rolled(chance.between(-6.0, 6.0));
    housing(&mut world, &pose);
    others(&mut world, &pose, &wire.colour, chance);
    let found = COLOURS.iter().find(|(name, _)| *name == wire.colour);
    let (red, green, blue) = found.map_or((206, 104, 30), |(_, colour)| *colour);
    subject(&mut world, &pose, rgb(red, green, blue), corroded, chance);
    let mut camera = setting::bench_camera(v(0.2, 1.2, 0.3), chance.between(14.0, 16.0), chance);
    camera.aperture = 0.024;
    setting::shot(world, light, camera)
}

fn housing(world: &mut World, pose: &Pose) {
    let grey_plastic = Material::plastic(rgb(58, 60, 62)).dirty(1.0);
    let holes =
        (0..4_u8).map(|i| (v(2.6, 0.0, f32::from(i) * 0.95 - 1.42), v(0.8, 0.36, 0.36), 0.3)).collect();
    let half = v(2.6, 1.15, 2.2);
    world.put(
        Shape::Carved { half, round: 0.25, pockets: holes },
        pose.place(-5.0, 0.0, 0.0),
        grey_plastic.clone(),
    );
    world.put(Shape::block(1.3, 0.25, 0.7, 0.15), pose.place(-5.6, 1.3, 0.0), grey_plastic);
    for index in 0..4_u8 {
        let seal = Material::plastic(rgb(150, 78, 46)).glossy(0.3, 20.0);
        let z = f32::from(index) * 0.95 - 1.42;
        world.put(Shape::bar(v(-3.0, 0.0, z), v(-2.25, 0.0, z), 0.34), *pose, seal);
    }
}

fn others(world: &mut World, pose: &Pose, subject: &str, chance: &mut Chance) {
    let rest = COLOURS.iter().filter(|(name, _)| *name != subject);
    for ((_, (red, green, blue)), slot) in rest.zip([0.0, 1.0, 3.0_f32]) {
        let z = slot * 0.95 - 1.42;
        let insulation = Material::plastic(rgb(*red, *green, *blue)).dirty(0.9);
        let local = [
            v(-2.6, 0.0, z),
            v(-0.5, chance.between(-0.3, 0.2), z + chance.between(-0.3, 0.3)),
            v(3.5, -0.7, z * 0.6 - 0.6),
            v(7.0, -1.0, z * 0.3 - 1.6),
            v(15.0, -1.4, z * 0.3 - 4.0),
        ];
        let path: Vec<V3> = local.into_iter().map(|p| pose.outside(p)).collect();
        world.cable(&path, 0.24, &insulation);
    }
    let tape = Material::new(grey(0.02)).glossy(0.25, 12.0).dirty(0.9);
    world.put_bumpy(Shape::bar(v(6.6, -0.95, -1.5), v(13.0, -1.3, -3.3), 0.75), *pose, tape, (0.08, 2.5));
}

fn subject(world: &mut World, pose: &Pose, colour: V3, corroded: bool, chance: &mut Chance) {
    let insulation = Material::plastic(colour).dirty(if corroded { 1.0 } else { 0.4 });
    let z = 0.48;
    let at = |p: V3| pose.outside(p);
    if !corroded {
        let path = [
            v(-2.6, 0.0, z),
            v(-0.5, 0.35, z + 0.7),
            v(3.0, -0.2, z + 0.4),
            v(6.8, -0.9, -0.9),
            v(15.0, -1.3, -3.0),
        ];
        world.cable(&path.map(at), 0.26, &insulation);
        let sleeve = Material::plastic(rgb(30, 30, 32)).glossy(0.35, 22.0).dirty(0.3);
        world.put(Shape::bar(v(-0.4, 0.36, z + 0.7), v(1.5, 0.12, z + 0.68), 0.36), *pose, sleeve);
        return;
    }
    // The insulation stops, bare strands go on, and the salts have grown over them.
    world.cable(
        &[v(-2.6, 0.0, z), v(-1.9, 0.25, z + 0.4), v(-1.1, 0.5, z + 0.75)].map(at),
        0.26,
        &insulation,
    );
    let far = [v(1.5, 0.35, z + 0.75), v(3.6, -0.2, z + 0.35), v(6.8, -0.9, -0.9), v(15.0, -1.3, -3.0)];
    world.cable(&far.map(at), 0.26, &insulation);
    let copper = Material::metal(rgb(148, 86, 52)).glossy(0.3, 18.0).dirty(1.0);
    for _ in 0..9 {
        let mut stray = |reach: f32| v(0.0, chance.between(-reach, reach), chance.between(-reach, reach));
        let path = [
            v(-1.2, 0.5, z + 0.75) + stray(0.13),
            v(0.2, 0.55, z + 0.85) + stray(0.28),
            v(1.6, 0.35, z + 0.75) + stray(0.13),
        ];
        world.cable(&path.map(at), 0.055, &copper);
    }
    let salts = Material::new(rgb(70, 96, 82)).grained(Grain::Verdigris).glossy(0.03, 6.0).dirty(0.5);
    for _ in 0..16 {
        let x = chance.between(-1.5, 1.5);
        let spot = v(x, 0.5 + chance.between(-0.1, 0.1), z + 0.78 + chance.between(-0.12, 0.12));
        let size = chance.between(0.1, 0.3) * (1.15 - x.abs() * 0.4);
        let lump = Shape::bar(spot, spot + v(chance.between(-0.25, 0.25), -0.05, 0.05), size);
        world.put_bumpy(lump, *pose, salts.clone(), (0.1, 6.0));
    }
}
