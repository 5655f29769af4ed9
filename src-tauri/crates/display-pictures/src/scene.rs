//! The camera before a face: where it stands, what light falls, and the picture that comes out.

use crate::chance::{Chance, noise};
use crate::lens::{self, Finish};
use crate::panel::Panel;
use crate::raster::{Light, color, mix};
use photo::display::plane::{Point, Projection};

/// Something before the display: a finger, a lead; in digit heights.
#[derive(Debug, Clone, Copy)]
struct Cable {
    from: Point,
    to: Point,
    radius: f32,
    paint: Light,
}

/// A reflection on the glass, in digit heights.
#[derive(Debug, Clone, Copy)]
struct Glare {
    at: Point,
    size: Point,
    turn: (f32, f32),
    hard: bool,
    strength: f32,
}

/// Something in the background, in shares of the picture's longer side.
#[derive(Debug, Clone, Copy)]
struct Thing {
    at: Point,
    size: Point,
    turn: (f32, f32),
    paint: Light,
}

/// A face and a camera; pictures of any part of it can be taken.
#[derive(Debug)]
pub struct Scene {
    /// What is photographed.
    pub panel: Panel,
    /// Size of the whole photo in pixels.
    pub size: (f32, f32),
    /// From digit heights on the face to pixels of the photo.
    pub view: Projection,
    /// Pixels a digit is high, about.
    pub tall: f32,
    back: Projection,
    light: Light,
    slope: Point,
    shade: Option<(Point, f32, f32)>,
    veil: f32,
    glare: Vec<Glare>,
    cables: Vec<Cable>,
    ground: (Light, Light, u32, f32),
    things: Vec<Thing>,
    finish: Finish,
}

/// How a photo is to be taken.
#[derive(Debug, Clone, Copy)]
pub struct Stand {
    /// Size of the photo in pixels.
    pub size: (f32, f32),
    /// Pixels a digit is to be high.
    pub tall: f32,
    /// Middle of the main row in the photo, in pixels.
    pub middle: Point,
    /// Degrees the camera is turned.
    pub roll: f32,
    /// How often light, glare and covers are hard: 1 as learned.
    pub hardship: f32,
}

impl Scene {
    /// Places camera and light by chance.
    #[must_use]
    pub fn new(panel: Panel, stand: Stand, chance: &mut Chance) -> Self {
        let hard = stand.hardship;
        let row = panel.field.unwrap_or([0.0, 0.0, 3.0, 1.0]);
        let center = ((row[0] + row[2]) / 2.0, 0.5);
        let tilt = |chance: &mut Chance| if chance.yes(0.25) { 0.0 } else { chance.normal() * 16.0 };
        let (tilt_x, tilt_y) = (tilt(chance).clamp(-45.0, 45.0), tilt(chance).clamp(-45.0, 45.0));
        let far = (row[2] - row[0] + 2.0) * chance.between(1.2, 5.0);
        let view = view(center, stand, (tilt_x, tilt_y), far);
        let span = row[2] - row[0];
        let mut glare = Vec::new();
        while chance.yes(0.3 * hard) && glare.len() < 3 {
            glare.push(Glare {
                at: (chance.between(row[0] - 1.5, row[2] + 1.5), chance.between(-1.0, 2.0)),
                size: (chance.scale(0.2, 2.5), chance.scale(0.1, 1.5)),
                turn: chance.between(-1.6, 1.6).sin_cos(),
                hard: chance.yes(0.4),
                strength: chance.scale(0.05, 1.6),
            });
        }
        let mut cables = Vec::new();
        if chance.yes(0.09 * hard) {
            let (x, angle) = (chance.between(row[0] - 0.5, row[2] + 0.5), chance.between(-0.9, 0.9));
            let reach = (angle.sin() * 6.0, angle.cos() * 6.0);
            let through = (x, chance.between(0.1, 0.9));
            let from = if chance.yes(0.5) { through } else { (through.0 - reach.0, through.1 - reach.1) };
            let hue = chance.pick(&[0.0, 0.0, 0.06, 0.07, 0.6], 0.0);
            cables.push(Cable {
                from,
                to: (through.0 + reach.0, through.1 + reach.1),
                radius: chance.scale(0.06, 0.6),
                paint: color(hue, chance.between(0.0, 0.9), chance.between(0.03, 0.9)),
            });
        }
        let warm = chance.normal() * 0.12;
        let bright = if panel.tint.kind == crate::tint::Kind::Shine {
            chance.scale(0.05, 1.2)
        } else {
            chance.scale(0.5, 1.2)
        };
        let shade = chance.yes(0.25 * hard).then(|| {
            let angle = chance.between(0.0, std::f32::consts::TAU);
            ((angle.cos(), angle.sin()), chance.between(-0.3, 0.7) * span, chance.between(0.25, 0.85))
        });
        let base = |chance: &mut Chance| {
            let (hue, saturation) = (chance.share(), chance.between(0.0, 0.5));
            color(hue, saturation, chance.between(0.05, 0.9))
        };
        let ground = (base(chance), base(chance), chance.seed(), chance.scale(2.0, 60.0));
        let things = (0..chance.below(14))
            .map(|_| Thing {
                at: (chance.share(), chance.share()),
                size: (chance.scale(0.01, 0.4), chance.scale(0.01, 0.4)),
                turn: chance.between(-1.6, 1.6).sin_cos(),
                paint: base(chance),
            })
            .collect();
        let mut scene = Self {
            back: view.inverse(),
            size: stand.size,
            view,
            tall: stand.tall,
            light: [bright * (1.0 + warm), bright, bright * (1.0 - warm)],
            slope: (chance.normal() * 0.06 * hard, chance.normal() * 0.06 * hard),
            shade,
            veil: if chance.yes(0.35 * hard) { chance.scale(0.005, 0.3) } else { 0.0 },
            glare,
            cables,
            ground,
            things,
            finish: Finish::invent(chance, stand.tall, hard),
            panel,
        };
        scene.meter(chance, hard);
        scene
    }

    /// Chooses the exposure as a camera does, from what is around the row, and errs.
    fn meter(&mut self, chance: &mut Chance, hard: f32) {
        let row = self.panel.field.unwrap_or([0.0, 0.0, 3.0, 1.0]);
        let (mut sum, mut count) = (0.0, 0.0);
        for at in 0..60 {
            let (fx, fy) = ((at % 10) as f32 / 9.0, (at / 10) as f32 / 5.0);
            let place = (row[0] - 1.2 + (row[2] - row[0] + 2.4) * fx, -0.8 + 2.6 * fy);
            let light = self.arriving(place, self.panel.scale * 0.2);
            sum += light.iter().sum::<f32>() / 3.0;
            count += 1.0;
        }
        let error = if chance.yes(0.25 * hard) { chance.scale(0.3, 3.0) } else { chance.scale(0.65, 1.6) };
        let wanted = 0.25;
        self.finish.exposure = wanted / (sum / count + 0.015_f32) * error;
    }

    /// Light that comes from a place of the face, reflections included.
    fn arriving(&self, place: Point, spread: f32) -> Light {
        let panel = &self.panel;
        let (x, y) = (panel.origin.0 + place.0 * panel.scale, panel.origin.1 + place.1 * panel.scale);
        self.lit(panel.sheet.sample(x, y, spread), place)
    }

    fn lit(&self, paint: Light, place: Point) -> Light {
        let mut share = (1.0 + self.slope.0 * place.0 + self.slope.1 * place.1).clamp(0.15, 3.0);
        if let Some((along, at, depth)) = self.shade {
            let across = place.0 * along.0 + place.1 * along.1 - at;
            share *= 1.0 - depth * (across / 0.3 + 0.5).clamp(0.0, 1.0);
        }
        let mut light: Light = std::array::from_fn(|at| {
            let get = |from: &Light| from.get(at).copied().unwrap_or(0.0);
            get(&paint)
                * (get(&self.light) * share).max(if self.panel.tint.kind == crate::tint::Kind::Shine {
                    0.3
                } else {
                    0.0
                })
        });
        let veil = self.veil + self.glare.iter().map(|glare| glare.at(place)).sum::<f32>();
        if veil > 0.0 {
            light.iter_mut().for_each(|part| *part += veil);
        }
        light
    }

    /// Whether a stroke at a place would be told from its surroundings, in steps of 256.
    #[must_use]
    pub fn contrast(&self, place: Point) -> f32 {
        if self.cables.iter().any(|cable| cable.distance(place) < 0.02) {
            return 0.0;
        }
        let tint = &self.panel.tint;
        let off = self.lit(tint.ground, place);
        let on = self.lit(mix(tint.ground, tint.lit, tint.strength), place);
        let (off, on) = (self.finish.tone(off), self.finish.tone(on));
        let span = off.iter().zip(on).map(|(off, on)| (on - off).abs()).fold(0.0, f32::max) * 255.0;
        span / (1.0 + self.finish.noise * 255.0 * 0.12)
    }

    /// The picture of a part of the photo, three bytes a pixel.
    #[must_use]
    pub fn picture(&self, left: i32, top: i32, wide: usize, high: usize, chance: &mut Chance) -> Vec<u8> {
        let pad = 4;
        let (full_wide, full_high) = (wide + 2 * pad, high + 2 * pad);
        let mut light = Vec::with_capacity(full_wide * full_high);
        let spread = self.panel.scale / self.tall;
        for y in 0..full_high {
            for x in 0..full_wide {
                let at =
                    ((left + x as i32 - pad as i32) as f32 + 0.5, (top + y as i32 - pad as i32) as f32 + 0.5);
                light.push(self.ray(at, spread));
            }
        }
        self.finish.develop(light, (full_wide, full_high), pad, chance)
    }

    fn ray(&self, at: Point, spread: f32) -> Light {
        let place = self.back.apply(at);
        for cable in &self.cables {
            let distance = cable.distance(place);
            if distance < 0.0 {
                let round = (1.0 - (1.0 + distance / cable.radius).powi(2)).max(0.0).sqrt();
                return cable.paint.map(|part| part * (0.25 + 0.75 * round) * self.light[1]);
            }
        }
        let panel = &self.panel;
        let (x, y) = (panel.origin.0 + place.0 * panel.scale, panel.origin.1 + place.1 * panel.scale);
        if x > 0.0 && y > 0.0 && x < panel.size.0 && y < panel.size.1 {
            return self.lit(panel.sheet.sample(x, y, spread), place);
        }
        lens::times(self.behind(at), self.light)
    }

    fn behind(&self, at: Point) -> Light {
        let side = self.size.0.max(self.size.1);
        let (u, w) = (at.0 / side, at.1 / side);
        let (one, other, seed, fine) = self.ground;
        let share =
            0.6 * noise(u * fine, w * fine, seed) + 0.4 * noise(u * fine * 3.7, w * fine * 2.1, seed ^ 7);
        let mut light = mix(one, other, share);
        for thing in &self.things {
            let (dx, dy) = (u - thing.at.0, w - thing.at.1);
            if dx.abs() + dy.abs() > 1.5 * (thing.size.0 + thing.size.1) {
                continue;
            }
            let (s, c) = thing.turn;
            let (x, y) = ((dx * c + dy * s).abs() - thing.size.0, (dy * c - dx * s).abs() - thing.size.1);
            if x < 0.0 && y < 0.0 {
                light = thing.paint;
            }
        }
        light
    }
}

impl Cable {
    fn distance(&self, (x, y): Point) -> f32 {
        let (ex, ey) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        let (px, py) = (x - self.from.0, y - self.from.1);
        let share = ((px * ex + py * ey) / (ex * ex + ey * ey).max(1e-6)).clamp(0.0, 1.0);
        (px - ex * share).hypot(py - ey * share) - self.radius
    }
}

impl Glare {
    fn at(&self, (x, y): Point) -> f32 {
        let (dx, dy) = (x - self.at.0, y - self.at.1);
        if dx.abs() + dy.abs() > 9.0 {
            return 0.0;
        }
        let (s, c) = self.turn;
        let (u, w) = ((dx * c + dy * s) / self.size.0, (dy * c - dx * s) / self.size.1);
        if self.hard {
            let edge = (1.0 - u.abs().max(w.abs())) / 0.15;
            self.strength * edge.clamp(0.0, 1.0)
        } else {
            self.strength * (-(u * u + w * w)).exp()
        }
    }
}

/// The face turned and tilted before a camera `far` digit heights away.
fn view(center: Point, stand: Stand, (tilt_x, tilt_y): (f32, f32), far: f32) -> Projection {
    let (sx, cx) = tilt_x.to_radians().sin_cos();
    let (sy, cy) = tilt_y.to_radians().sin_cos();
    let (sr, cr) = stand.roll.to_radians().sin_cos();
    let corner = |x: f32, y: f32| {
        let (y1, z1) = (y * cx, y * sx);
        let (x2, z2) = (x * cy + z1 * sy, z1 * cy - x * sy);
        let (x3, y3) = (x2 * cr - y1 * sr, x2 * sr + y1 * cr);
        let shrink = stand.tall / (1.0 + z2 / far).max(0.2);
        (stand.middle.0 + x3 * shrink, stand.middle.1 + y3 * shrink)
    };
    let square = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
    Projection::stretch(0.5, 0.5, 0.5 - center.0 / 2.0, 0.5 - center.1 / 2.0)
        .then(&Projection::of_square(square))
}
