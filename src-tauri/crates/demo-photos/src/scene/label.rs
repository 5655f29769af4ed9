//! The vehicle identification label on a door pillar, with its number as Code 39.

use super::Shot;
use super::setting;
use crate::canvas::{Canvas, Ink};
use crate::chance::Chance;
use crate::material::Material;
use crate::shape::Shape;
use crate::vector::{Pose, grey, rgb, v};
use crate::world::World;

pub fn shot(vin: &str, maker: &str, chance: &mut Chance) -> Shot {
    let mut world = World::default();
    let light = setting::hall_light(chance);
    let paint = chance.pick(&[rgb(206, 208, 206), rgb(34, 62, 110), rgb(120, 126, 128)], grey(0.4));
    let coat = Material::new(paint).glossy(0.7, 120.0).dirty(0.9);
    let pose = Pose::at(0.0, 0.0, 0.0).turned(chance.between(-5.0, 5.0));
    world.put(Shape::block(11.0, 3.0, 30.0, 1.6), pose.place(0.0, -3.0, 0.0), coat.clone());
    world.put(Shape::block(14.0, 3.0, 30.0, 1.0), pose.place(24.5, -7.0, 0.0), coat);
    let rubber = Material::plastic(grey(0.02)).dirty(0.9);
    world.put(Shape::bar(v(10.6, -2.6, -30.0), v(10.6, -2.6, 30.0), 1.1), pose, rubber);
    let sticker = Material::new(rgb(226, 226, 220)).glossy(0.35, 60.0).dirty(0.8);
    world.put(Shape::block(8.0, 0.03, 4.6, 0.01), pose, sticker.with_art(label(vin, maker), 8.0, 4.6));
    for z in [-13.0, 12.0] {
        let bolt = Shape::Round { radius: 1.0, half: 0.5, edge: 0.2 };
        world.put(bolt, pose.place(-2.0, 0.3, z), Material::metal(grey(0.45)).dirty(0.9));
    }
    let mut camera = setting::bench_camera(v(0.0, 0.0, 0.0), chance.between(20.0, 22.0), chance);
    camera.aperture = 0.01;
    setting::shot(world, light, camera)
}

/// 80 picture elements for a centimetre.
fn label(vin: &str, maker: &str) -> Canvas {
    let mut art = Canvas::filled(1280, 736, rgb(228, 228, 222));
    let ink = grey(0.012);
    art.rounded(14.0, 14.0, 1252.0, 708.0, 18.0, ink);
    art.rounded(19.0, 19.0, 1242.0, 698.0, 14.0, rgb(228, 228, 222));
    art.text(56.0, 92.0, maker, Ink::new(58.0, ink).bold());
    art.text(1224.0, 84.0, "MADE FOR THE DEMO", Ink::new(32.0, ink).right());
    art.line((40.0, 120.0), (1240.0, 120.0), 3.0, ink);
    art.text(56.0, 184.0, "GVWR 3 200 kg   AXLE F 1 650   R 1 900", Ink::new(42.0, ink));
    art.text(56.0, 244.0, "TIRE 225/65 R16   PAINT 4417   TRIM K2", Ink::new(42.0, ink));
    art.text(56.0, 336.0, "VIN", Ink::new(40.0, ink));
    art.text(1224.0, 340.0, vin, Ink::new(78.0, ink).bold().right());
    bars(&mut art, vin, (80.0, 390.0, 1120.0, 210.0));
    art.text(640.0, 672.0, "TYPE: DELIVERY   SERIES 2", Ink::new(36.0, ink).centred());
    art
}

/// ISO/IEC 16388 (Code 39): nine elements for each sign, three of them wide.
pub fn bars(art: &mut Canvas, text: &str, (left, top, width, height): (f32, f32, f32, f32)) {
    let signs: Vec<char> = std::iter::once('*').chain(text.chars()).chain(std::iter::once('*')).collect();
    // Six narrow and three wide elements (2.5 times as wide) and a narrow gap make 14.5 narrow widths.
    let narrow = width / (signs.len() as f32 * 14.5);
    let mut x = left;
    for sign in signs {
        for (index, wide) in code39(sign).chars().enumerate() {
            let size = if wide == '1' { narrow * 2.5 } else { narrow };
            if index % 2 == 0 {
                art.rect(x, top, size, height, grey(0.012));
            }
            x += size;
        }
        x += narrow;
    }
}

/// Bars and spaces in turn, 1 is wide (ISO/IEC 16388 table 1).
fn code39(sign: char) -> &'static str {
    match sign {
        '0' => "000110100",
        '1' => "100100001",
        '2' => "001100001",
        '3' => "101100000",
        '4' => "000110001",
        '5' => "100110000",
        '6' => "001110000",
        '7' => "000100101",
        '8' => "100100100",
        '9' => "001100100",
        'A' => "100001001",
        'B' => "001001001",
        'C' => "101001000",
        'D' => "000011001",
        'E' => "100011000",
        'F' => "001011000",
        'G' => "000001101",
        'H' => "100001100",
        'I' => "001001100",
        'J' => "000011100",
        'K' => "100000011",
        'L' => "001000011",
        'M' => "101000010",
        'N' => "000010011",
        'O' => "100010010",
        'P' => "001010010",
        'Q' => "000000111",
        'R' => "100000110",
        'S' => "001000110",
        'T' => "000010110",
        'U' => "110000001",
        'V' => "011000001",
        'W' => "111000000",
        'X' => "010010001",
        'Y' => "110010000",
        'Z' => "011010000",
        '-' => "010000101",
        '*' => "010010100",
        _ => "011000100",
    }
}

#[cfg(test)]
mod tests {
    use super::code39;
    use std::collections::BTreeSet;

    /// "3 of 9": each sign has nine elements, three of them wide, and no two signs are alike (ISO/IEC 16388).
    #[test]
    fn three_of_nine_are_wide() {
        let signs: Vec<char> = ('0'..='9').chain('A'..='Z').chain(['-', '*', ' ']).collect();
        let codes: BTreeSet<&str> = signs.iter().map(|sign| code39(*sign)).collect();
        assert_eq!(codes.len(), signs.len());
        assert!(codes.iter().all(|code| code.len() == 9 && code.matches('1').count() == 3));
    }
}
