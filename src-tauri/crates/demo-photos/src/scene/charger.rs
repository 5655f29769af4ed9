//! A battery support unit at work during programming: its volts in lit digits, clamps on the battery.

use super::Shot;
use super::setting;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::material::Material;
use crate::segments::Digits;
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

pub fn shot(volts: &str, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = setting::hall_light(chance);
    setting::engine_bay(&mut world, 10.0, chance);
    battery(&mut world, &Pose::at(11.0, -4.0, -3.0).turned(6.0), chance);
    let pose = Pose::at(-6.5, 0.0, 1.0).turned(chance.between(-6.0, 10.0)).tipped(chance.between(18.0, 26.0));
    unit(&mut world, &pose, volts);
    for (colour, z, x) in [(rgb(166, 28, 24), -3.4, 5.0), (rgb(26, 26, 28), -0.4, 16.4)] {
        let rubber = Material::plastic(colour).dirty(0.6);
        let path =
            [pose.outside(v(8.6, 0.0, z)), v(4.0, 0.8, z - 1.0), v(x - 2.0, 3.0, -3.0), v(x, 2.6, -5.6)];
        world.cable(&path, 0.45, &rubber);
        world.put(Shape::block(0.9, 0.7, 2.6, 0.4), Pose::at(x, 2.6, -5.8).turned(14.0).tipped(12.0), rubber);
    }
    let mut camera = setting::bench_camera(v(0.0, 0.0, 0.0), chance.between(36.0, 39.0), chance);
    camera.aperture = 0.014;
    setting::shot(world, light, camera)
}

fn unit(world: &mut World, pose: &Pose, volts: &str) {
    let shell = Material::plastic(rgb(52, 84, 88)).dirty(0.7);
    world.put(Shape::block(8.8, 3.2, 6.2, 0.7), pose.place(0.0, -2.0, 0.0), shell);
    let mut art = Canvas::filled(1000, 680, rgb(40, 42, 44));
    let pale = rgb(214, 214, 206);
    art.rounded(60.0, 110.0, 620.0, 330.0, 20.0, grey(0.006));
    let digits = |colour: V3| Digits { height: 210.0, lean: 0.1, colour };
    digits(rgb(46, 14, 12)).draw(&mut art, 600.0, 385.0, "88.8");
    digits(rgb(255, 96, 60)).draw(&mut art, 600.0, 385.0, volts);
    art.text(632.0, 380.0, "V", Ink::new(56.0, rgb(255, 96, 60)).bold());
    art.text(60.0, 80.0, "BATTERY SUPPORT", Ink::new(52.0, pale).bold());
    art.text(60.0, 520.0, "12 V   70 A MAX", Ink::new(44.0, pale));
    art.text(60.0, 620.0, "HOLD VOLTAGE", Ink::new(44.0, pale));
    art.disc(430.0, 604.0, 22.0, rgb(120, 255, 130));
    art.text(830.0, 560.0, "V set", Ink::new(44.0, pale).centred());
    let panel =
        Material::plastic(rgb(40, 42, 44)).glossy(0.3, 60.0).dirty(0.4).with_art(art, 7.6, 5.17).lit(0.5);
    world.put(Shape::block(7.6, 0.1, 5.17, 0.08), pose.place(0.0, 1.2, 0.0), panel);
    let knob = Material::plastic(rgb(190, 188, 178)).dirty(0.6);
    world.put(Shape::Round { radius: 1.3, half: 0.7, edge: 0.2 }, pose.place(5.0, 1.8, 0.8), knob);
    world.put(Shape::bar(v(5.0, 2.5, 0.7), v(5.0, 2.5, -0.3), 0.12), *pose, Material::new(grey(0.02)));
}

fn battery(world: &mut World, pose: &Pose, chance: &mut Chance) {
    let case = Material::plastic(rgb(36, 37, 40)).dirty(1.0);
    let mut art = Canvas::clear(900, 600);
    art.rounded(180.0, 200.0, 560.0, 260.0, 20.0, rgb(196, 190, 170));
    art.text(460.0, 310.0, "12 V  72 Ah", Ink::new(80.0, rgb(30, 40, 60)).bold().centred());
    art.text(460.0, 400.0, "wear eye protection", Ink::new(44.0, rgb(120, 30, 30)).centred());
    world.put(Shape::block(11.0, 6.0, 8.0, 0.5), *pose, case.with_art(art, 11.0, 8.0));
    for x in [-6.5, 5.5] {
        let lead = Material::metal(grey(0.35)).glossy(0.4, 20.0).dirty(1.0);
        let post = Shape::Round { radius: 0.9, half: 0.9, edge: 0.15 };
        world.put(post, pose.place(x, 6.6, -3.0 + chance.between(-0.2, 0.2)), lead);
    }
}
