//! A new part beside its box, with the label that tells its number.

use super::Shot;
use super::label::bars;
use super::setting;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::material::{Grain, Material};
use crate::shape::Shape;
use crate::vector::{Pose, grey, rgb, v};
use crate::world::World;

pub fn shot(number: &str, name: &str, supplier: &str, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = setting::hall_light(chance);
    setting::bench(&mut world, 15.0, chance);
    carton(&mut world, number, name, supplier, chance);
    module(&mut world, number, chance);
    let camera = setting::bench_camera(v(0.0, 2.5, 1.0), chance.between(33.0, 36.0), chance);
    setting::shot(world, light, camera)
}

fn carton(world: &mut World, number: &str, name: &str, supplier: &str, chance: &mut Chance) {
    let board = Material::new(rgb(186, 148, 104)).grained(Grain::Board).glossy(0.03, 6.0).dirty(0.5);
    let pose = Pose::at(-5.4, 3.0, -1.5).turned(chance.between(-4.0, 14.0));
    world.put(Shape::block(7.2, 3.0, 5.6, 0.15), pose, board.clone());
    world.put(Shape::block(7.1, 0.06, 2.5, 0.03), pose.place(0.0, 3.4, -6.2).tipped(-38.0), board);
    let mut art = Canvas::filled(960, 640, rgb(234, 232, 226));
    let ink = grey(0.012);
    art.rect(0.0, 0.0, 960.0, 120.0, rgb(28, 84, 88));
    art.text(36.0, 84.0, supplier, Ink::new(64.0, rgb(240, 240, 236)).bold());
    art.text(36.0, 210.0, name, Ink::new(58.0, ink).bold());
    art.text(36.0, 282.0, "PART No.", Ink::new(38.0, ink));
    art.text(36.0, 368.0, number, Ink::new(92.0, ink).bold());
    bars(&mut art, number, (36.0, 410.0, 760.0, 130.0));
    art.text(36.0, 600.0, "QTY 1    NEW    12 V", Ink::new(42.0, ink));
    let sticker = Material::new(rgb(234, 232, 226)).glossy(0.18, 30.0).dirty(0.3).with_art(art, 6.0, 4.0);
    world.put(Shape::block(6.0, 0.02, 4.0, 0.01), pose.place(0.3, 3.02, 0.6), sticker);
}

/// A control module: cast lid with ribs, flanges with holes, connector on its near side.
fn module(world: &mut World, number: &str, chance: &mut Chance) {
    let pose = Pose::at(8.2, 1.3, 2.5).turned(chance.between(-26.0, -6.0));
    let black = Material::plastic(rgb(44, 45, 48)).dirty(0.15);
    let cast = Material::metal(rgb(168, 170, 172)).glossy(0.45, 18.0).dirty(0.1);
    world.put(Shape::block(5.0, 1.0, 3.9, 0.25), pose, black.clone());
    world.put(Shape::block(4.6, 0.3, 3.5, 0.15), pose.place(0.0, 1.1, 0.0), cast.clone());
    for rib in 0..5_u8 {
        world.put(
            Shape::block(0.14, 0.25, 1.2, 0.1),
            pose.place(-3.6 + f32::from(rib) * 0.75, 1.5, -1.9),
            cast.clone(),
        );
    }
    for x in [-5.6, 5.6] {
        let holes = vec![(v(0.0, 0.0, 0.0), v(0.32, 1.0, 0.32), 0.3)];
        let flange = Shape::Carved { half: v(0.9, 0.2, 1.1), round: 0.15, pockets: holes };
        world.put(flange, pose.place(x, -0.8, 0.0), black.clone());
    }
    let slots =
        (0..6_u8).map(|slot| (v(f32::from(slot) * 0.75 - 1.9, 0.0, 1.0), v(0.26, 0.4, 0.8), 0.05)).collect();
    world.put(
        Shape::Carved { half: v(2.7, 0.8, 1.0), round: 0.15, pockets: slots },
        pose.place(0.0, 0.0, 4.4),
        black,
    );
    let mut art = Canvas::filled(520, 200, rgb(222, 222, 214));
    art.text(260.0, 70.0, "CONTROL MODULE", Ink::new(44.0, grey(0.02)).bold().centred());
    art.text(260.0, 140.0, number, Ink::new(58.0, grey(0.02)).bold().centred());
    art.text(260.0, 186.0, "NOT PROGRAMMED", Ink::new(34.0, grey(0.02)).centred());
    let sticker = Material::new(rgb(222, 222, 214)).glossy(0.25, 30.0).dirty(0.2).with_art(art, 3.2, 1.23);
    world.put(Shape::block(3.2, 0.02, 1.23, 0.01), pose.place(0.9, 1.42, 1.6), sticker);
}
