//! A relay socket in its fuse box, or a module's connector, with probes in the cavities that were measured.

use super::Shot;
use super::setting;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::list;
use crate::material::Material;
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

/// A cavity: its name, place on the face, half width and half depth.
struct Cavity {
    name: String,
    x: f32,
    z: f32,
    half: (f32, f32),
}

pub fn shot(socket: &list::Socket, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = setting::hall_light(chance);
    let grid = socket.layout.split_once('x').and_then(|(rows, columns)| {
        Some((rows.parse::<u8>().ok()?.clamp(1, 6), columns.parse::<u8>().ok()?.clamp(1, 16)))
    });
    let pose = Pose::at(0.0, 1.6, 0.0).turned(chance.between(-16.0, 16.0));
    let far = match grid {
        Some((rows, columns)) => {
            setting::bench(&mut world, 7.0, chance);
            connector(&mut world, &pose, rows, columns, socket, chance)
        }
        None => fuse_box(&mut world, &pose, socket, chance),
    };
    let mut camera = setting::bench_camera(v(0.0, 2.6, 0.0), far, chance);
    camera.aperture = 0.02;
    setting::shot(world, light, camera)
}

/// Terminal numbers after ISO 7588 (DIN 72552 numbers); the arrangement is the usual mini relay's, from memory.
fn relay_cavities() -> Vec<Cavity> {
    let cavity = |name: &str, x, z, half| Cavity { name: name.into(), x, z, half };
    vec![
        cavity("87", 0.0, -0.95, (0.38, 0.13)),
        cavity("87a", 0.0, -0.1, (0.38, 0.13)),
        cavity("30", 0.0, 0.95, (0.38, 0.13)),
        cavity("86", -0.95, 0.1, (0.13, 0.38)),
        cavity("85", 0.95, 0.1, (0.13, 0.38)),
    ]
}

fn face(world: &mut World, pose: &Pose, half: V3, cavities: &[Cavity], art: Canvas) {
    let pockets = cavities.iter().map(|c| (v(c.x, half.y, c.z), v(c.half.0, 1.2, c.half.1), 0.03)).collect();
    let black = Material::plastic(rgb(52, 52, 54)).dirty(0.8).with_art(art, half.x, half.z);
    world.put(Shape::Carved { half, round: 0.15, pockets }, *pose, black);
    for c in cavities {
        let blade = Shape::block(c.half.0 * 0.7, 0.5, c.half.1 * 0.45, 0.02);
        world.put(blade, pose.place(c.x, half.y - 0.95, c.z), Material::metal(rgb(196, 176, 120)));
    }
}

/// Raised numbers, printed as the lighter edges that light makes of them.
fn numbers(half: V3, cavities: &[Cavity], place: impl Fn(&Cavity) -> (f32, f32)) -> Canvas {
    const DOTS: f32 = 150.0;
    let mut art = Canvas::clear((half.x * 2.0 * DOTS) as usize, (half.z * 2.0 * DOTS) as usize);
    for c in cavities {
        let (x, z) = place(c);
        let (x, y) = ((x + half.x) * DOTS, (z + half.z) * DOTS + 18.0);
        art.text(x + 3.0, y + 3.0, &c.name, Ink::new(54.0, grey(0.008)).bold().centred());
        art.text(x, y, &c.name, Ink::new(54.0, rgb(170, 170, 168)).bold().centred());
    }
    art
}

fn fuse_box(world: &mut World, pose: &Pose, socket: &list::Socket, chance: &mut Chance) -> f32 {
    setting::engine_bay(world, 8.0, chance);
    let tray = Material::plastic(rgb(40, 40, 42)).dirty(1.0);
    let hollow = (v(0.0, 2.4, 0.0), v(8.8, 2.2, 5.6), 0.6);
    world.put(
        Shape::Carved { half: v(9.4, 2.4, 6.2), round: 0.6, pockets: vec![hollow] },
        pose.place(1.2, -1.6, -0.4),
        tray,
    );
    let cavities = relay_cavities();
    let half = v(1.75, 1.3, 1.75);
    let art = numbers(half, &cavities, |c| match c.name.as_str() {
        "86" => (c.x - 0.42, c.z),
        "85" => (c.x + 0.42, c.z),
        "87a" => (c.x + 0.1, c.z + 0.42),
        "87" => (c.x, c.z - 0.4),
        _ => (c.x, c.z + 0.45),
    });
    face(world, pose, half, &cavities, art);
    neighbours(world, pose, chance);
    probes(world, pose, half.y, &cavities, &socket.marks);
    chance.between(13.0, 15.0)
}

/// Other relays and blade fuses around the empty socket.
fn neighbours(world: &mut World, pose: &Pose, chance: &mut Chance) {
    for (x, z) in [(-4.4, -1.0), (4.6, -3.0), (-4.2, 3.2), (0.4, -4.0)] {
        let tone = chance.pick(&[rgb(34, 34, 36), rgb(70, 72, 74), rgb(196, 194, 186)], grey(0.03));
        let ink = if tone.x > 0.3 { grey(0.03) } else { rgb(168, 168, 164) };
        let mut art = Canvas::clear(280, 280);
        art.text(140.0, 130.0, "12 V", Ink::new(72.0, ink).bold().centred());
        art.text(140.0, 200.0, "30 A", Ink::new(58.0, ink).centred());
        let cover = Material::plastic(tone).glossy(0.35, 30.0).dirty(0.6).with_art(art, 1.2, 1.2);
        world.put(Shape::block(1.4, 1.5, 1.4, 0.18), pose.place(x, chance.between(0.3, 0.7), z), cover);
    }
    // Fuse colours are the standard's own: ISO 8820-3 tan 5, red 10, blue 15, yellow 20, clear 25, green 30.
    let ratings = [
        (rgb(196, 160, 118), "5"),
        (rgb(184, 30, 28), "10"),
        (rgb(40, 92, 170), "15"),
        (rgb(60, 140, 70), "30"),
    ];
    for row in 0..5_u8 {
        for column in 0..2_u8 {
            let at = (chance.share() * 4.0) as usize;
            let (colour, rating) = ratings.get(at).copied().unwrap_or((grey(0.5), "25"));
            let mut art = Canvas::clear(120, 60);
            art.text(60.0, 46.0, rating, Ink::new(46.0, rgb(250, 250, 250)).bold().centred());
            let plastic = Material::new(colour).glossy(0.4, 40.0).with_art(art, 0.5, 0.25);
            let (x, z) = (3.9 + f32::from(column) * 2.2, -0.7 + f32::from(row) * 1.05);
            world.put(Shape::block(0.85, 0.8, 0.28, 0.12), pose.place(x, 0.2, z), plastic);
        }
    }
}

fn connector(
    world: &mut World,
    pose: &Pose,
    rows: u8,
    columns: u8,
    socket: &list::Socket,
    chance: &mut Chance,
) -> f32 {
    let pitch = 0.8;
    let middle = |count: u8| f32::from(count - 1) / 2.0;
    let mut cavities = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let x = (f32::from(column) - middle(columns)) * pitch;
            let z = (f32::from(row) - middle(rows)) * pitch * 1.5;
            let name = (u16::from(row) * u16::from(columns) + u16::from(column) + 1).to_string();
            cavities.push(Cavity { name, x, z, half: (0.24, 0.24) });
        }
    }
    let half = v(f32::from(columns) * pitch / 2.0 + 0.5, 1.3, f32::from(rows) * pitch * 0.75 + 0.35);
    let art = numbers(half, &cavities, |c| (c.x, c.z + 0.46));
    face(world, pose, half, &cavities, art);
    let latch = Material::plastic(rgb(122, 128, 130)).dirty(0.7);
    world.put(Shape::block(1.3, 0.5, 0.35, 0.15), pose.place(0.0, 0.7, half.z + 0.25), latch.clone());
    world.put(Shape::block(half.x * 0.9, 0.35, 0.2, 0.1), pose.place(0.0, 0.4, -half.z - 0.15), latch);
    wires_behind(world, pose, half, chance);
    probes(world, pose, half.y, &cavities, &socket.marks);
    half.x * 1.5 + chance.between(11.0, 13.0)
}

fn wires_behind(world: &mut World, pose: &Pose, half: V3, chance: &mut Chance) {
    let colours =
        [rgb(150, 84, 40), rgb(36, 110, 64), rgb(36, 70, 140), rgb(190, 186, 176), rgb(104, 52, 120)];
    for index in 0..7_u8 {
        let z = (f32::from(index) - 3.0) * half.z / 4.0;
        let colour = chance.pick(&colours, grey(0.1));
        let path = [
            pose.outside(v(-half.x + 0.2, -0.8, z)),
            pose.outside(v(-half.x - 2.5, -1.0, z * 1.6)),
            pose.outside(v(-half.x - 7.0, -1.3, z * 0.8 - 2.0 + chance.between(-1.0, 1.0))),
            pose.outside(v(-half.x - 16.0, -1.3, z * 0.8 - 7.0)),
        ];
        world.cable(&path, 0.17, &Material::plastic(colour).dirty(0.7));
    }
}

/// Test probes whose tips stand in the marked cavities: red first, then black.
fn probes(world: &mut World, pose: &Pose, top: f32, cavities: &[Cavity], marks: &[String]) {
    let colours = [(rgb(176, 28, 24), 1.0), (rgb(24, 24, 26), -1.0)];
    for (mark, (colour, side)) in marks.iter().zip(colours) {
        let Some(c) = cavities.iter().find(|c| c.name == *mark) else { continue };
        // Outwards, so that two probes never cross; in the middle red leans right and black left.
        let side: f32 = if c.x.abs() > 0.3 { c.x.signum() } else { side };
        let lean = v(0.85 * side, 1.0, -0.3);
        let tip = v(c.x, top - 0.12, c.z);
        let along = |out: f32| tip + lean.unit() * out;
        let grip = Material::plastic(colour).glossy(0.35, 26.0).dirty(0.5);
        let shaft = Shape::Bar { from: tip, to: along(2.4), thick: 0.05, thin: 0.1 };
        world.put(shaft, *pose, Material::metal(grey(0.7)));
        world.put(
            Shape::Bar { from: along(2.4), to: along(4.2), thick: 0.2, thin: 0.36 },
            *pose,
            grip.clone(),
        );
        world.put(Shape::Bar { from: along(4.3), to: along(11.0), thick: 0.5, thin: 0.42 }, *pose, grip);
    }
}
