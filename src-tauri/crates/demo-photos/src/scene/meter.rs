//! A meter of our own design: wide, plum, display left, dial right, sockets in its right end.

use super::Shot;
use super::setting;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::list;
use crate::material::{Grain, Material};
use crate::segments::Digits;
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

const DIAL: (f32, f32) = (5.5, 0.1);
/// Names in the list, what is printed, and the direction in degrees clockwise from the far side.
const SETTINGS: [(&str, &str, f32); 7] = [
    ("off", "off", -135.0),
    ("V~", "V~", -90.0),
    ("V=", "V=", -45.0),
    ("mV", "mV=", 0.0),
    ("Ω", "Ω", 45.0),
    ("beep", "♪", 90.0),
    ("A=", "A=", 135.0),
];

pub fn shot(meter: &list::Meter, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let mut light = setting::hall_light(chance);
    let mut camera = setting::bench_camera(v(0.8, 1.5, 0.6), chance.between(27.0, 31.0), chance);
    let pose = if meter.held {
        setting::engine_bay(&mut world, 14.0, chance);
        camera.aperture = 0.028;
        light.reach = 70.0;
        let pose =
            Pose::at(0.0, 0.0, 0.0).turned(chance.between(-9.0, 9.0)).tipped(chance.between(2.0, 16.0));
        hand(&mut world, &pose);
        pose
    } else {
        setting::bench(&mut world, 13.0, chance);
        Pose::at(0.0, 1.65, 0.0).turned(chance.between(-12.0, 12.0))
    };
    body(&mut world, &pose, meter);
    leads(&mut world, &pose, chance);
    setting::shot(world, light, camera)
}

fn body(world: &mut World, pose: &Pose, meter: &list::Meter) {
    let plum = Material::plastic(rgb(84, 38, 66)).dirty(0.7);
    let window = (v(-3.7, 1.6, 0.0), v(4.7, 0.55, 2.75), 0.3);
    let shell = Shape::Carved { half: v(9.6, 1.6, 4.7), round: 1.1, pockets: vec![window] };
    world.put(shell, *pose, plum);
    let plate = Material::plastic(rgb(206, 200, 186)).dirty(0.6).with_art(face(), 9.0, 4.1);
    let hole = (v(-3.7, 0.0, 0.0), v(4.7, 1.0, 2.75), 0.3);
    let panel = Shape::Carved { half: v(9.0, 0.12, 4.1), round: 0.1, pockets: vec![hole] };
    world.put(panel, pose.place(0.0, 1.56, 0.0), plate);
    let glass = Material::glass(rgb(132, 142, 122)).glossy(0.5, 200.0).with_art(display(meter), 4.6, 2.65);
    world.put(Shape::block(4.65, 0.1, 2.7, 0.05), pose.place(-3.7, 1.25, 0.0), glass);
    dial(world, pose, &meter.setting);
}

fn dial(world: &mut World, pose: &Pose, setting: &str) {
    let degrees =
        SETTINGS.iter().find(|(name, ..)| *name == setting).map_or(-135.0, |(.., degrees)| *degrees);
    let dark = Material::plastic(rgb(46, 44, 48)).glossy(0.3, 20.0).dirty(0.6);
    let at = pose.place(DIAL.0, 2.0, DIAL.1);
    world.put(Shape::Round { radius: 1.75, half: 0.42, edge: 0.2 }, at, dark.clone());
    let (s, c) = degrees.to_radians().sin_cos();
    let along = |out: f32, y: f32| v(s * out, y, -c * out);
    let ridge = Shape::Bar { from: along(-1.3, 0.45), to: along(1.2, 0.45), thick: 0.34, thin: 0.26 };
    world.put(ridge, at, dark);
    let tip = Shape::bar(along(0.75, 0.68), along(1.3, 0.66), 0.1);
    world.put(tip, at, Material::new(rgb(240, 236, 224)));
}

/// Printed on the face plate: 60 picture elements for a centimetre.
fn face() -> Canvas {
    let mut art = Canvas::clear(1080, 492);
    let ink = rgb(58, 44, 56);
    let (cx, cy) = ((9.0 + DIAL.0) * 60.0, (4.1 + DIAL.1) * 60.0);
    for (_, words, degrees) in SETTINGS {
        let (s, c) = degrees.to_radians().sin_cos();
        let at = |out: f32| (cx + s * out, cy - c * out);
        art.line(at(116.0), at(128.0), 5.0, ink);
        let (x, y) = at(158.0);
        let set = Ink::new(38.0, ink).bold().centred();
        match words.strip_suffix('=') {
            Some(words) => {
                let width = art.text(x - 16.0, y + 13.0, words, set);
                direct_sign(&mut art, x - 12.0 + width / 2.0, y, ink);
            }
            None => {
                art.text(x, y + 13.0, words, set);
            }
        }
    }
    art.text(cx, 40.0, "VARDELL 27", Ink::new(30.0, rgb(110, 52, 84)).bold().centred());
    art.text(cx, 478.0, "CAT III 600 V", Ink::new(22.0, ink).centred());
    art
}

/// The sign for direct current (IEC 60417-5031): a stroke over three dashes; the typeface does not have it.
fn direct_sign(art: &mut Canvas, x: f32, y: f32, ink: V3) {
    art.rect(x, y - 5.0, 32.0, 4.0, ink);
    for dash in 0..3_u8 {
        art.rect(x + f32::from(dash) * 12.0, y + 4.0, 8.0, 4.0, ink);
    }
}

/// The liquid crystal display: digits with their shadow on the reflector behind, and faint unlit strokes.
fn display(meter: &list::Meter) -> Canvas {
    let (paper, dark) = (rgb(150, 160, 138), rgb(14, 18, 17));
    let mut art = Canvas::filled(920, 530, paper);
    let digits = |colour: V3| Digits { height: 250.0, lean: 0.09, colour };
    digits(paper.mix(dark, 0.045)).draw(&mut art, 720.0, 410.0, "88.88");
    digits(paper.mix(dark, 0.28)).draw(&mut art, 729.0, 419.0, &meter.value);
    digits(dark).draw(&mut art, 720.0, 410.0, &meter.value);
    art.text(900.0, 405.0, &meter.unit, Ink::new(104.0, dark).bold().right());
    art.text(900.0, 250.0, &meter.mode, Ink::new(62.0, dark).bold().right());
    let mut x = 40.0;
    for word in &meter.annunciators {
        x += art.text(x, 72.0, word, Ink::new(50.0, dark).bold()) + 36.0;
    }
    bar_graph(&mut art, &meter.value, dark);
    art
}

/// A row of dots under the digits, filled as far as the first two digits of the value go.
fn bar_graph(art: &mut Canvas, value: &str, dark: V3) {
    let shown = value.trim_start_matches('-').parse::<f32>().unwrap_or(99.0);
    let mut full = 1.0;
    while full < shown {
        full *= 10.0;
    }
    for step in 0..31_u8 {
        let x = 60.0 + f32::from(step) * 21.0;
        if shown > 0.0 && f32::from(step) <= shown / full * 30.0 {
            art.rect(x, 466.0, 12.0, 26.0, dark);
        } else {
            art.rect(x, 488.0, 12.0, 4.0, dark);
        }
    }
}

fn leads(world: &mut World, pose: &Pose, chance: &mut Chance) {
    let colours = [(rgb(168, 26, 24), -1.7), (rgb(26, 26, 28), 1.7)];
    for (colour, z) in colours {
        let rubber = Material::plastic(colour).glossy(0.3, 22.0).dirty(0.5);
        world.put(Shape::bar(v(9.3, 0.2, z), v(11.4, 0.2, z), 0.62), *pose, rubber.clone());
        let turn = chance.between(2.0, 7.0) * z.signum();
        let local = [
            v(11.0, 0.2, z),
            v(13.5, 0.1, z + turn * 0.2),
            v(16.0, -0.6, z + turn),
            v(chance.between(17.0, 21.0), -1.1, z + turn * 2.2),
            v(chance.between(18.0, 26.0), -1.2, z.signum() * chance.between(14.0, 22.0)),
        ];
        let path: Vec<V3> = local.into_iter().map(|p| pose.outside(p)).collect();
        world.cable(&path, 0.3, &rubber);
    }
}

/// A left hand in a coated work glove that holds the meter from the near edge.
fn hand(world: &mut World, pose: &Pose) {
    let bar = |from: V3, to: V3, thick: f32, thin: f32| (V3::default(), Shape::Bar { from, to, thick, thin });
    let mut parts = vec![
        bar(v(-4.0, -7.0, 22.0), v(-4.5, -3.2, 9.0), 3.6, 3.2),
        bar(v(-4.5, -3.4, 9.0), v(-4.2, -3.4, 1.0), 3.3, 2.4),
        bar(v(-5.4, -2.2, 9.2), v(-7.6, 1.2, 6.2), 1.7, 1.15),
        bar(v(-7.6, 1.2, 6.2), v(-7.3, 2.6, 4.4), 1.15, 1.0),
    ];
    for (index, x) in [-7.6, -5.4, -3.2, -1.1].into_iter().enumerate() {
        let reach = if index == 3 { 0.3 } else { 0.0 };
        parts.push(bar(v(x * 0.9, -2.4, 0.0), v(x, -1.8, -5.2), 1.2, 1.05));
        parts.push(bar(v(x, -1.6, -5.4), v(x + 0.1, 1.3, -5.5 + reach), 1.05, 0.95));
        parts.push(bar(v(x + 0.1, 1.3, -5.5 + reach), v(x + 0.15, 2.3, -4.5 + reach), 0.95, 0.8));
    }
    let glove = Material::new(grey(0.035).mix(rgb(40, 66, 92), 0.5))
        .grained(Grain::Knit)
        .glossy(0.12, 10.0)
        .dirty(0.8);
    world.put_bumpy(Shape::Blend { parts, softness: 0.55 }, *pose, glove, (0.05, 2.2));
}
