//! What the two networks learn from: cuts with their letters, and small pictures with their corners.

use crate::chance::Chance;
use crate::panel::{self, Panel, Wish};
use crate::place::Glyph;
use crate::scene::{Scene, Stand};
use image::RgbImage;
use photo::display::cut::{CUT, Framing, Pyramid};
use photo::display::plane::{Point, Projection};

/// Side of what the locator looks at, in pixels.
pub const LOOK: usize = 320;
/// Letters of the recognizer after the blank, in the order of its outputs: `u` stands for a display upside down.
pub const LETTERS: &str = "0123456789.-Lx?u";
/// Most letters of a cut.
pub const MOST: usize = 15;
/// Contrast in steps of 256 below which a stroke can't be told from its ground.
const SEEN: f32 = 9.0;

/// A cut as the recognizer sees it, and what it is to say.
#[derive(Debug)]
pub struct Line {
    /// Three bytes a pixel, [`CUT`] pixels.
    pub pixels: Vec<u8>,
    /// Letters of [`LETTERS`].
    pub letters: String,
}

/// A picture as the locator sees it, and where the cells are.
#[derive(Debug)]
pub struct Look {
    /// Three bytes a pixel, [`LOOK`] by [`LOOK`] pixels.
    pub pixels: Vec<u8>,
    /// Corners of the cells, in pixels, upper left first as the picture lies.
    pub corners: Vec<[Point; 4]>,
}

/// Corners of cells in a scene's photo.
#[must_use]
pub fn corners_of(scene: &Scene, [left, top, right, bottom]: [f32; 4]) -> [Point; 4] {
    [(left, top), (right, top), (right, bottom), (left, bottom)].map(|corner| scene.view.apply(corner))
}

/// Whether a sign can be read in the scene, wherever a cut is made.
fn readable(scene: &Scene, glyph: &Glyph) -> bool {
    let hidden = glyph.probes.iter().filter(|place| scene.contrast(**place) < SEEN).count();
    hidden * 15 < glyph.probes.len().max(1) * 2
}

/// What is read of the whole photo: the value, or none when it is no number, not all of it can be seen, or two rows of
/// the same size can't be told apart.
#[must_use]
pub fn truth(scene: &Scene) -> Option<String> {
    let value = scene.panel.said.value.clone()?;
    let all = scene.panel.glyphs.iter().filter(|glyph| glyph.letter != 'x').all(|glyph| {
        readable(scene, glyph) && visible(glyph, |place| inside(scene, scene.view.apply(place))) > 0.88
    });
    (all && scene.panel.field.is_some() && scene.panel.second.is_none()).then_some(value)
}

fn inside(scene: &Scene, (x, y): Point) -> bool {
    x >= 0.0 && y >= 0.0 && x <= scene.size.0 && y <= scene.size.1
}

/// The share of a sign's ink box that passes.
fn visible(glyph: &Glyph, passes: impl Fn(Point) -> bool) -> f32 {
    let [left, top, right, bottom] = glyph.ink;
    let mut seen = 0.0;
    for at in 0..27 {
        let (fx, fy) = ((at % 9) as f32 / 8.0, (at / 9) as f32 / 2.0);
        if passes((left + (right - left) * fx, top + (bottom - top) * fy)) {
            seen += 1.0 / 27.0;
        }
    }
    seen
}

/// Cuts of two photos of one face, by chance.
#[must_use]
pub fn lines(chance: &mut Chance, held_back: bool) -> Vec<Line> {
    let tall = chance.scale(13.0, 72.0);
    let scale = (tall * 1.15).clamp(24.0, 64.0);
    let bare = chance.yes(0.15);
    let panel = panel::invent(chance, Wish { scale, held_back, words: true, bare, shell: 0.8 });
    let mut lines = lines_of(panel.clone(), tall, chance);
    let other = (tall * chance.between(0.6, 1.3)).clamp(13.0, 72.0);
    lines.extend(lines_of(panel, other, chance));
    lines
}

fn lines_of(panel: Panel, tall: f32, chance: &mut Chance) -> Vec<Line> {
    let size = (4000.0, 3000.0);
    let mut middle = (2000.0, 1500.0);
    if chance.yes(0.06) {
        let reach = panel.said.signs.len() as f32 * 0.35 * tall;
        let edges = [
            (reach * 0.8, 1500.0),
            (4000.0 - reach * 0.8, 1500.0),
            (2000.0, tall * 0.3),
            (2000.0, 2999.0 - tall * 0.3),
        ];
        middle = chance.pick(&edges, middle);
    }
    let roll = chance.normal() * 9.0;
    let hardship = if chance.yes(0.3) { 0.2 } else { 1.0 };
    let scene = Scene::new(panel, Stand { size, tall, middle, roll, hardship }, chance);
    let row = scene.panel.field.unwrap_or([0.0, 0.0, 3.0, 1.0]);
    let corners = corners_of(&scene, row);
    // A part of the photo is enough for every cut.
    let (low, high) = bounds(corners, (2.1 * tall, 0.8 * tall), scene.size);
    let (wide, tall_px) = (((high.0 - low.0) as usize).max(8), ((high.1 - low.1) as usize).max(8));
    if wide * tall_px > 600_000 {
        return Vec::new();
    }
    let pixels = scene.picture(low.0 as i32, low.1 as i32, wide, tall_px, chance);
    let Some(picture) = RgbImage::from_raw(wide as u32, tall_px as u32, pixels) else { return Vec::new() };
    let pyramid = Pyramid::new(picture);
    let readable: Vec<bool> = scene.panel.glyphs.iter().map(|glyph| readable(&scene, glyph)).collect();
    let twice = if chance.yes(0.5) { 2 } else { 1 };
    (0..twice).map(|_| line(&scene, &pyramid, low, corners, &readable, chance)).collect()
}

fn line(
    scene: &Scene,
    pyramid: &Pyramid,
    low: Point,
    corners: [Point; 4],
    readable: &[bool],
    chance: &mut Chance,
) -> Line {
    let tall = scene.tall;
    let loose = if chance.yes(0.15) { 0.1 } else { 0.035 };
    let mut corners =
        corners.map(|(x, y)| (x + chance.normal() * loose * tall, y + chance.normal() * loose * tall));
    let (dx, dy) = (chance.normal() * 0.04 * tall, chance.normal() * 0.04 * tall);
    corners.iter_mut().for_each(|corner| *corner = (corner.0 + dx, corner.1 + dy));
    let upside_down = chance.yes(0.06);
    if upside_down {
        corners.rotate_left(2);
    }
    let grown = chance.share();
    let framing = Framing {
        before: if grown < 0.15 { 1.7 } else { 0.8 },
        after: if (0.15..0.3).contains(&grown) { 1.7 } else { 0.8 },
        shift: (chance.normal() * 0.12, chance.normal() * 0.03),
        zoom: 1.0 + chance.normal() * 0.07,
    };
    // Sometimes the locator saw only a part of the row, or something that is no row at all.
    if chance.yes(0.06) {
        let share = chance.between(0.15, 0.6);
        let toward = |a: Point, b: Point| (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share);
        let [a, b, c, d] = corners;
        corners = if chance.yes(0.5) {
            [toward(a, b), b, c, toward(d, c)]
        } else {
            [a, toward(b, a), toward(c, d), d]
        };
    } else if chance.yes(0.03) {
        let off = (
            chance.pick(&[-1.0, 1.0], 1.0) * chance.between(0.0, 1.0) * tall,
            chance.pick(&[-1.4, 1.4], 1.4) * tall,
        );
        corners.iter_mut().for_each(|corner| *corner = (corner.0 + off.0, corner.1 + off.1));
    }
    let map = framing.map(corners);
    let shifted = map.then(&Projection::stretch(1.0, 1.0, -low.0, -low.1));
    let pixels = pyramid.cut(&shifted, CUT);
    let back = map.inverse();
    let letters = if upside_down { upside(scene) } else { letters(scene, &back, readable) };
    Line { pixels, letters }
}

/// `u` when there is anything to be upside down.
fn upside(scene: &Scene) -> String {
    if scene.panel.glyphs.is_empty() { String::new() } else { "u".to_owned() }
}

fn letters(scene: &Scene, back: &Projection, readable: &[bool]) -> String {
    let mut found: Vec<(f32, char)> = Vec::new();
    for (glyph, readable) in scene.panel.glyphs.iter().zip(readable) {
        let seen = visible(glyph, |place| {
            let at = scene.view.apply(place);
            let (x, y) = back.apply(at);
            inside(scene, at) && x >= 0.0 && y >= -2.0 && x <= CUT.0 as f32 && y <= CUT.1 as f32 + 2.0
        });
        if seen < 0.2 {
            continue;
        }
        let [left, top, right, bottom] = glyph.ink;
        let (x, _) = back.apply(scene.view.apply(((left + right) / 2.0, (top + bottom) / 2.0)));
        found.push((x, if seen > 0.88 && *readable { glyph.letter } else { '?' }));
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut letters = String::new();
    for (_, letter) in found {
        if letter != '?' || !letters.ends_with('?') {
            letters.push(letter);
        }
    }
    letters.chars().take(MOST).collect()
}

fn bounds(corners: [Point; 4], reach: Point, size: Point) -> (Point, Point) {
    let low = |pick: fn(&Point) -> f32| corners.iter().map(pick).fold(f32::MAX, f32::min);
    let high = |pick: fn(&Point) -> f32| corners.iter().map(pick).fold(f32::MIN, f32::max);
    (
        ((low(|c| c.0) - reach.0).max(0.0).floor(), (low(|c| c.1) - reach.1).max(0.0).floor()),
        ((high(|c| c.0) + reach.0).min(size.0).ceil(), (high(|c| c.1) + reach.1).min(size.1).ceil()),
    )
}

/// A small picture for the locator: the whole photo, or what its second look sees.
#[must_use]
pub fn look(chance: &mut Chance, held_back: bool) -> Look {
    let closer = chance.yes(0.45);
    let tall = if closer { chance.scale(26.0, 100.0) } else { chance.scale(7.0, 46.0) };
    let scale = (tall * 1.1).clamp(12.0, 64.0);
    let bare = chance.yes(0.06);
    let panel = panel::invent(chance, Wish { scale, held_back, words: true, bare, shell: 3.0 });
    let side = LOOK as f32;
    // A second look keeps its row in the middle; a photo may have it anywhere, now and then cut by the edge.
    let reach = ((panel.said.signs.len() as f32 * 0.35) * tall).min(side * 0.45);
    let middle = if closer {
        (side / 2.0 + chance.normal() * 22.0, side / 2.0 + chance.normal() * 18.0)
    } else if chance.yes(0.08) {
        (chance.between(0.0, side), chance.between(0.0, side))
    } else {
        (chance.between(reach, side - reach), chance.between(tall, side - tall))
    };
    let turned = chance.share();
    let quarter = match turned {
        t if t < 0.05 => 180.0,
        t if t < 0.065 => 90.0,
        t if t < 0.08 => -90.0,
        _ => 0.0,
    };
    let slant = if chance.yes(0.15) { chance.between(-35.0, 35.0) } else { chance.normal() * 8.0 };
    let hardship = if chance.yes(0.3) { 0.2 } else { 1.0 };
    let stand = Stand { size: (side, side), tall, middle, roll: quarter + slant, hardship };
    let scene = Scene::new(panel, stand, chance);
    let mut pixels = scene.picture(0, 0, LOOK, LOOK, chance);
    // A photo is no square: what is beyond its edges is even grey.
    let band = if chance.yes(0.55) { chance.between(0.0, 0.23) * side } else { 0.0 };
    let lying_bands = chance.yes(0.65);
    let beyond = |(x, y): Point| {
        let along = if lying_bands { y } else { x };
        along < band || along > side - band
    };
    for (at, pixel) in pixels.chunks_exact_mut(3).enumerate() {
        if beyond(((at % LOOK) as f32 + 0.5, (at / LOOK) as f32 + 0.5)) {
            pixel.fill(118);
        }
    }
    let mut corners = Vec::new();
    let in_sight = |row: [f32; 4]| {
        let middle = scene.view.apply(((row[0] + row[2]) / 2.0, (row[1] + row[3]) / 2.0));
        inside(&scene, middle) && !beyond(middle)
    };
    let seen = scene.panel.glyphs.iter().filter(|glyph| readable(&scene, glyph)).count();
    let lying = quarter.abs() > 80.0 && quarter.abs() < 100.0;
    if !lying && seen * 2 > scene.panel.glyphs.len() {
        for row in scene.panel.field.into_iter().chain(scene.panel.second).filter(|row| in_sight(*row)) {
            let mut found = corners_of(&scene, row);
            if quarter > 100.0 {
                found.rotate_left(2);
            }
            corners.push(found);
        }
    }
    Look { pixels, corners }
}
