//! A vehicle of no existing make in front of the shop's door, as it arrived.

use super::Shot;
use super::setting;
use crate::camera::Camera;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::light::Light;
use crate::list;
use crate::material::{Grain, Material};
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

pub fn shot(vehicle: &list::Vehicle, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = Light {
        towards: v(chance.pick(&[-0.75, 0.75], 0.75), 0.9, 0.45).unit(),
        lamp: v(1.25, 1.18, 1.05),
        sky: v(0.50, 0.56, 0.64),
        ground: v(0.20, 0.19, 0.18),
        hardness: 7.0,
        outdoors: true,
        reach: 500.0,
    };
    yard(&mut world);
    let side = if chance.share() < 0.5 { -1.0 } else { 1.0 };
    let pose = Pose::at(0.0, 0.0, 0.0).turned(side * chance.between(16.0, 28.0));
    let paint = Material::new(paint(&vehicle.colour)).glossy(0.75, 140.0).dirty(0.12);
    let tall = vehicle.kind == "van";
    if tall {
        van(&mut world, &pose, &paint)
    } else {
        car(&mut world, &pose, &paint)
    };
    front(&mut world, &pose, tall, &vehicle.plate);
    let target = v(0.0, if tall { 105.0 } else { 78.0 }, 60.0);
    let eye = v(chance.between(-60.0, 60.0), chance.between(135.0, 165.0), if tall { 560.0 } else { 500.0 });
    let camera = Camera { eye, target, roll: chance.between(-2.0, 2.0), zoom: 1.3, aperture: 0.003 };
    let mut shot = setting::shot(world, light, camera);
    shot.exposure = 1.05;
    shot
}

fn paint(colour: &str) -> V3 {
    match colour {
        "blue" => rgb(34, 62, 118),
        "green" => rgb(48, 84, 66),
        "red" => rgb(132, 30, 30),
        "silver" => rgb(158, 162, 164),
        _ => rgb(216, 217, 214),
    }
}

fn yard(world: &mut World) {
    let slab = Material::new(rgb(128, 126, 120)).grained(Grain::Concrete).glossy(0.05, 6.0).dirty(0.0);
    world.put(Shape::Floor, Pose::at(0.0, 0.0, 0.0), slab);
    let wall = Material::new(rgb(150, 138, 122)).grained(Grain::Concrete).dirty(0.0);
    let door = Material::new(rgb(112, 124, 132)).glossy(0.2, 20.0).dirty(0.0);
    let gap = (v(60.0, -60.0, 20.0), v(190.0, 330.0, 16.0), 1.0);
    world.put(
        Shape::Carved { half: v(1400.0, 320.0, 20.0), round: 2.0, pockets: vec![gap] },
        Pose::at(0.0, 320.0, -420.0),
        wall,
    );
    for slat in 0..20_u8 {
        let y = 12.0 + f32::from(slat) * 28.0;
        world.put(Shape::block(190.0, 13.4, 4.0, 3.0), Pose::at(60.0, y, -408.0), door.clone());
    }
    let line = Material::new(rgb(190, 188, 176)).dirty(0.0);
    for x in [-190.0, 190.0] {
        world.put(Shape::block(6.0, 0.3, 320.0, 0.1), Pose::at(x, 0.2, 60.0), line.clone());
    }
}

fn van(world: &mut World, pose: &Pose, paint: &Material) {
    let parts = vec![
        (v(0.0, 140.0, -140.0), Shape::block(98.0, 98.0, 190.0, 16.0)),
        (v(0.0, 82.0, 70.0), Shape::block(96.0, 44.0, 62.0, 20.0)),
    ];
    world.put(Shape::Blend { parts, softness: 34.0 }, *pose, paint.clone());
    let glass = Material::glass(rgb(20, 26, 30)).dirty(0.05);
    world.put(Shape::block(82.0, 3.0, 40.0, 3.0), pose.place(0.0, 166.0, 62.0).tipped(63.0), glass.clone());
    for x in [-98.0, 98.0] {
        world.put(Shape::block(2.0, 24.0, 34.0, 2.0), pose.place(x, 168.0, -5.0), glass.clone());
    }
    body_details(world, pose, 108.0, 142.0, 132.0);
    wheels(world, pose, 88.0, [72.0, -230.0]);
}

fn car(world: &mut World, pose: &Pose, paint: &Material) {
    let parts = vec![
        (v(0.0, 60.0, -80.0), Shape::block(88.0, 30.0, 210.0, 22.0)),
        (v(0.0, 74.0, -90.0), Shape::block(84.0, 26.0, 190.0, 20.0)),
        (v(0.0, 110.0, -106.0), Shape::block(72.0, 41.0, 84.0, 30.0)),
    ];
    world.put(Shape::Blend { parts, softness: 26.0 }, *pose, paint.clone());
    let glass = Material::glass(rgb(18, 24, 28)).dirty(0.05);
    world.put(Shape::block(62.0, 6.0, 26.0, 5.0), pose.place(0.0, 120.0, -21.0).tipped(58.0), glass.clone());
    for x in [-74.0, 74.0] {
        world.put(Shape::block(5.0, 15.0, 58.0, 4.0), pose.place(x * 0.94, 120.0, -106.0), glass.clone());
    }
    body_details(world, pose, 96.0, 104.0, 30.0);
    wheels(world, pose, 75.0, [66.0, -210.0]);
}

/// Mirrors and wipers.
fn body_details(world: &mut World, pose: &Pose, mirror_x: f32, mirror_y: f32, mirror_z: f32) {
    let black = Material::plastic(rgb(32, 32, 34)).dirty(0.0);
    let z = if mirror_z > 100.0 { 46.0 } else { 0.0 };
    for x in [-mirror_x, mirror_x] {
        world.put(Shape::block(11.0, 10.0, 6.0, 5.0), pose.place(x, mirror_y, z), black.clone());
    }
    let (y, z) = if mirror_z > 100.0 { (134.0, 82.0) } else { (100.0, 0.0) };
    for x in [-30.0, 22.0] {
        world.put(Shape::bar(v(x, y, z), v(x + 42.0, y + 10.0, z - 4.0), 1.2), *pose, black.clone());
    }
}

fn wheels(world: &mut World, pose: &Pose, x: f32, places: [f32; 2]) {
    let tyre = Material::plastic(rgb(30, 30, 31)).glossy(0.06, 6.0).dirty(0.0);
    for z in places {
        for side in [-1.0, 1.0] {
            let at = pose.place(side * x, 33.0, z).rolled(90.0);
            world.put(
                Shape::Round { radius: 46.0, half: 12.0, edge: 8.0 },
                at,
                Material::new(grey(0.006)).dirty(0.0),
            );
            let out = pose.place(side * (x + 3.0), 33.0, z).rolled(90.0);
            world.put(Shape::Round { radius: 33.0, half: 11.0, edge: 5.0 }, out, tyre.clone());
            let rim = pose.place(side * (x + 9.0), 33.0, z).rolled(90.0);
            world.put(
                Shape::Round { radius: 20.0, half: 7.0, edge: 3.0 },
                rim,
                Material::metal(grey(0.4)).dirty(0.0),
            );
        }
    }
}

/// Bumper, lamps, a grille of two bars and the plate.
fn front(world: &mut World, pose: &Pose, tall: bool, plate: &str) {
    let (z, lamp_y, half) = if tall { (131.0, 92.0, 96.0) } else { (129.0, 70.0, 86.0) };
    let black = Material::plastic(rgb(40, 41, 43)).glossy(0.15, 10.0).dirty(0.0);
    world.put(Shape::block(half, 15.0, 16.0, 9.0), pose.place(0.0, 44.0, z - 10.0), black.clone());
    world.put(
        Shape::block(46.0, 11.0, 4.0, 3.0),
        pose.place(0.0, lamp_y, z - 1.0),
        Material::new(grey(0.012)).glossy(0.3, 30.0).dirty(0.0),
    );
    let bright = Material::metal(rgb(176, 178, 180)).dirty(0.0);
    for y in [-5.0, 5.0] {
        world.put(Shape::block(45.0, 1.6, 2.0, 1.0), pose.place(0.0, lamp_y + y, z + 3.0), bright.clone());
    }
    for side in [-1.0, 1.0] {
        let lens = Material::glass(rgb(128, 134, 140)).dirty(0.0);
        let at = pose.place(side * (half - 22.0), lamp_y + 2.0, z - 7.5).turned(side * 14.0);
        world.put(Shape::block(20.0, 12.0, 7.0, 4.0), at, lens);
        let bulb = at.place(-side * 4.0, 0.0, 5.0).tipped(90.0);
        world.put(Shape::Round { radius: 7.5, half: 3.0, edge: 1.5 }, bulb, bright.clone());
        let amber = Material::glass(rgb(206, 120, 30)).dirty(0.0);
        world.put(Shape::block(8.0, 4.0, 4.0, 2.0), pose.place(side * (half - 20.0), 45.0, z + 5.0), amber);
    }
    let mut art = Canvas::filled(600, 300, rgb(228, 226, 212));
    art.rounded(10.0, 10.0, 580.0, 280.0, 30.0, rgb(70, 74, 60));
    art.rounded(18.0, 18.0, 564.0, 264.0, 24.0, rgb(228, 226, 212));
    art.text(300.0, 195.0, plate, Ink::new(118.0, rgb(60, 54, 40)).bold().centred());
    let tin = Material::new(rgb(228, 226, 212)).glossy(0.3, 40.0).dirty(0.0).with_art(art, 15.0, 7.5);
    world.put(Shape::block(15.0, 0.6, 7.5, 0.4), pose.place(0.0, 46.0, z + 7.5).tipped(90.0), tin);
}
