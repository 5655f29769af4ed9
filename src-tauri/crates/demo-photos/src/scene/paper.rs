//! Papers on the bench: a till receipt, a letter-size bill or quotation, a note in the customer's own hand.

use super::Shot;
use super::setting;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::list;
use crate::material::{Grain, Material};
use crate::shape::Shape;
use crate::vector::{Pose, V3, grey, rgb, v};
use crate::world::World;

pub fn receipt(paper: &list::Paper, chance: &mut Chance) -> Shot {
    // 80 picture elements for a centimetre; the roll is 8 cm wide.
    let height = 620.0 + 62.0 * paper.lines.len() as f32;
    let mut art = Canvas::filled(640, height as usize, rgb(236, 235, 228));
    let ink = rgb(52, 52, 60);
    art.text(320.0, 80.0, &paper.supplier, Ink::new(48.0, ink).bold().centred());
    art.text(
        320.0,
        130.0,
        if paper.title.is_empty() { "RECEIPT" } else { &paper.title },
        Ink::new(34.0, ink).centred(),
    );
    dashes(&mut art, 165.0, ink);
    let y = rows(&mut art, paper, (36.0, 604.0, 225.0), 33.0, ink);
    dashes(&mut art, y, ink);
    art.text(36.0, y + 72.0, "TOTAL", Ink::new(50.0, ink).bold());
    art.text(604.0, y + 72.0, &paper.total, Ink::new(50.0, ink).bold().right());
    dashes(&mut art, y + 110.0, ink);
    art.text(320.0, y + 170.0, &paper.note, Ink::new(30.0, ink).centred());
    art.text(320.0, y + 222.0, "THANK YOU", Ink::new(32.0, ink).centred());
    on_bench(art, 8.0, 1.1, chance)
}

pub fn bill(paper: &list::Paper, chance: &mut Chance) -> Shot {
    // US letter, 21.6 by 27.9 cm, 58 picture elements for a centimetre; photographed close, so set large.
    let mut art = Canvas::filled(1250, 1250, rgb(240, 240, 236));
    let ink = grey(0.02);
    art.rect(0.0, 0.0, 26.0, 1250.0, rgb(64, 96, 128));
    art.text(90.0, 120.0, &paper.supplier, Ink::new(62.0, rgb(44, 74, 108)).bold());
    art.text(90.0, 225.0, &paper.title, Ink::new(74.0, ink).bold());
    art.line((90.0, 262.0), (1160.0, 262.0), 4.0, ink);
    let y = rows(&mut art, paper, (90.0, 1160.0, 350.0), 46.0, ink);
    art.line((700.0, y), (1160.0, y), 3.0, ink);
    art.text(700.0, y + 88.0, "Total", Ink::new(62.0, ink).bold());
    art.text(1160.0, y + 88.0, &paper.total, Ink::new(62.0, ink).bold().right());
    art.text(90.0, y + 190.0, &paper.note, Ink::new(40.0, ink));
    on_bench(art, 20.0, 1.0, chance)
}

pub fn note(text: &str, chance: &mut Chance) -> Shot {
    let mut art = Canvas::filled(900, 900, rgb(238, 232, 206));
    for line in 0..9_u8 {
        let y = 150.0 + 84.0 * f32::from(line);
        art.line((0.0, y), (900.0, y), 2.0, rgb(150, 174, 196));
    }
    art.line((90.0, 0.0), (90.0, 900.0), 2.0, rgb(206, 120, 120));
    let (mut x, mut y) = (110.0, 140.0);
    for word in text.split_whitespace() {
        let wide = word.chars().count() as f32 * 32.0;
        if x + wide > 870.0 {
            (x, y) = (110.0 + chance.between(-8.0, 14.0), y + 84.0);
        }
        for letter in word.chars() {
            let ink = Ink::new(chance.between(54.0, 61.0), rgb(30, 44, 110));
            x += art.text(x, y + chance.between(-5.0, 4.0), &letter.to_string(), ink) - 3.0;
        }
        x += 20.0 + chance.between(0.0, 8.0);
    }
    on_bench(art, 13.0, 0.5, chance)
}

/// Texts on the left, amounts on the right. Returns where the next line would stand.
fn rows(
    art: &mut Canvas,
    paper: &list::Paper,
    (left, right, top): (f32, f32, f32),
    size: f32,
    ink: V3,
) -> f32 {
    let mut y = top;
    for (words, amount) in &paper.lines {
        art.text(left, y, words, Ink::new(size, ink));
        art.text(right, y, amount, Ink::new(size, ink).right());
        y += size * 1.75;
    }
    y
}

fn dashes(art: &mut Canvas, y: f32, ink: V3) {
    let width = art.size().0;
    let mut x = 36.0;
    while x < width - 40.0 {
        art.line((x, y), (x + 9.0, y), 3.0, ink);
        x += 20.0;
    }
}

fn on_bench(art: Canvas, width: f32, curl: f32, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = setting::hall_light(chance);
    let (dots_wide, dots_high) = art.size();
    let depth = width * dots_high / dots_wide;
    let span = width.max(depth);
    setting::bench(&mut world, span * 0.62, chance);
    let white = Material::new(rgb(238, 236, 230)).grained(Grain::Paper).glossy(0.04, 8.0).dirty(0.35);
    let pose = Pose::at(0.0, 0.15, 0.0).turned(chance.between(-9.0, 9.0));
    let sheet = Shape::Sheet { width: width / 2.0, depth: depth / 2.0, curl };
    world.put(sheet, pose, white.with_art(art, width / 2.0, depth / 2.0));
    pen(&mut world, Pose::at(width * 0.5 + 3.0, 0.55, depth * 0.1).turned(chance.between(72.0, 104.0)));
    let mut camera = setting::bench_camera(v(0.0, 0.3, 0.0), span * 1.62, chance);
    camera.aperture = 0.006;
    setting::shot(world, light, camera)
}

fn pen(world: &mut World, pose: Pose) {
    let barrel = Material::plastic(rgb(40, 76, 70)).glossy(0.5, 60.0);
    world.put(Shape::bar(v(-5.5, 0.0, 0.0), v(5.0, 0.0, 0.0), 0.45), pose, barrel);
    let tip = Shape::Bar { from: v(5.0, 0.0, 0.0), to: v(6.8, -0.2, 0.0), thick: 0.4, thin: 0.08 };
    world.put(tip, pose, Material::metal(grey(0.5)));
}
