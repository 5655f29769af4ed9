//! The instrument cluster with its odometer, photographed over the steering wheel.

use super::Shot;
use super::setting;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::light::Light;
use crate::material::Material;
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

pub fn shot(value: &str, unit: &str, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = Light {
        towards: v(chance.between(-0.9, -0.4), 0.7, 0.6).unit(),
        lamp: v(0.55, 0.58, 0.62),
        hardness: 4.0,
        ..setting::hall_light(chance)
    };
    let upright = Pose::at(0.0, 0.0, 0.0).tipped(72.0);
    let glass =
        Material::glass(grey(0.012)).glossy(0.5, 260.0).with_art(dials(value, unit), 17.0, 7.6).lit(1.5);
    world.put(Shape::block(17.0, 0.3, 7.6, 0.2), upright, glass);
    let soft = Material::plastic(rgb(46, 47, 50)).glossy(0.12, 8.0).dirty(0.9);
    let window = (v(0.0, 1.0, 0.0), v(16.6, 3.0, 7.3), 2.5);
    world.put(
        Shape::Carved { half: v(20.0, 1.6, 10.5), round: 1.4, pockets: vec![window] },
        upright.place(0.0, 0.7, 0.0),
        soft.clone(),
    );
    world.put(Shape::block(27.0, 1.2, 9.0, 1.1), Pose::at(0.0, 10.6, 1.0).tipped(-8.0), soft.clone());
    world.put(Shape::block(60.0, 16.0, 6.0, 3.0), Pose::at(0.0, -14.0, -8.0), soft);
    let rim = Material::plastic(grey(0.03)).glossy(0.2, 14.0).dirty(0.6);
    let wheel = Pose::at(chance.between(-3.0, 3.0), -22.5, 18.0).tipped(64.0);
    world.put(Shape::Ring { radius: 17.0, thick: 1.5 }, wheel, rim.clone());
    world.put(Shape::block(17.0, 0.9, 2.0, 0.8), wheel, rim);
    let mut camera = setting::bench_camera(v(0.0, 0.0, 1.0), 40.0, chance);
    camera.eye = v(chance.between(-5.0, 5.0), chance.between(13.0, 17.0), 36.0);
    camera.zoom = 1.25;
    let mut shot = setting::shot(world, light, camera);
    shot.exposure = 1.5;
    shot
}

/// 40 picture elements for a centimetre.
fn dials(value: &str, unit: &str) -> Canvas {
    let mut art = Canvas::filled(1360, 608, grey(0.008));
    let white = rgb(222, 226, 226);
    let speed: Vec<String> = (0..8_u16).map(|step| (step * 20).to_string()).collect();
    dial(&mut art, 330.0, &speed, 0.0, white);
    let turns: Vec<String> = (0..7_u16).map(|step| step.to_string()).collect();
    dial(&mut art, 1030.0, &turns, 0.0, white);
    art.text(330.0, 420.0, if unit == "km" { "km/h" } else { "mph" }, Ink::new(30.0, white).centred());
    art.text(1030.0, 420.0, "1/min x 1000", Ink::new(24.0, white).centred());
    art.rounded(560.0, 330.0, 240.0, 150.0, 12.0, rgb(30, 58, 66));
    let glow = rgb(190, 240, 236);
    art.text(680.0, 378.0, "ODO", Ink::new(30.0, glow).bold().centred());
    art.text(680.0, 428.0, value, Ink::new(50.0, glow).bold().centred());
    art.text(680.0, 466.0, unit, Ink::new(28.0, glow).centred());
    warning_lamps(&mut art);
    art
}

fn dial(art: &mut Canvas, cx: f32, words: &[String], share: f32, white: V3) {
    let cy = 304.0;
    let at = |share: f32, out: f32| {
        let (s, c) = (share * 250.0 - 125.0).to_radians().sin_cos();
        (cx + s * out, cy - c * out)
    };
    art.circle(cx, cy, 232.0, 4.0, rgb(96, 110, 116));
    let steps = (words.len().max(2) - 1) as f32;
    for small in 0..=(steps as u16 * 4) {
        let share = f32::from(small) / (steps * 4.0);
        let long = if small % 4 == 0 { 192.0 } else { 206.0 };
        art.line(at(share, long), at(share, 222.0), if small % 4 == 0 { 6.0 } else { 3.0 }, white);
    }
    for (index, word) in words.iter().enumerate() {
        let (x, y) = at(index as f32 / steps, 156.0);
        art.text(x, y + 14.0, word, Ink::new(38.0, white).centred());
    }
    art.line(at(share, -30.0), at(share, 186.0), 9.0, rgb(226, 90, 40));
    art.disc(cx, cy, 30.0, grey(0.05));
}

/// Battery and oil can, the standard's signs (ISO 2575) in plain strokes.
fn warning_lamps(art: &mut Canvas) {
    let red = rgb(230, 40, 30);
    art.rect(630.0, 520.0, 44.0, 28.0, red);
    art.rect(635.0, 525.0, 34.0, 18.0, grey(0.008));
    art.rect(636.0, 514.0, 8.0, 6.0, red);
    art.rect(660.0, 514.0, 8.0, 6.0, red);
    let amber = rgb(236, 160, 30);
    art.circle(720.0, 534.0, 15.0, 4.0, amber);
    art.text(720.0, 544.0, "!", Ink::new(28.0, amber).bold().centred());
}
