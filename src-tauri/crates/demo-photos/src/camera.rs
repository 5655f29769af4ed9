//! Where the camera stands, and the picture that falls on its sensor.

use crate::light::Light;
use crate::vector::{V3, v};
use crate::world::{self, Near, World};
use rayon::prelude::*;

/// A hand-held camera.
#[derive(Debug, Clone, Copy)]
pub struct Camera {
    pub eye: V3,
    pub target: V3,
    /// Degrees the hand is out of level.
    pub roll: f32,
    /// Focal length as a share of the picture's height.
    pub zoom: f32,
    /// Blur circle, as a share of the picture's height, at twice the focus distance.
    pub aperture: f32,
}

/// Light and distance for each picture element, row by row.
#[derive(Debug)]
pub struct Exposure {
    pub width: usize,
    pub height: usize,
    pub dots: Vec<Dot>,
}

/// What one picture element saw.
#[derive(Debug, Clone, Copy, Default)]
pub struct Dot {
    pub light: V3,
    pub depth: f32,
    thing: usize,
}

const TILE: usize = 12;

/// Everything a ray needs.
struct View<'a> {
    world: &'a World,
    light: &'a Light,
    camera: &'a Camera,
    axes: (V3, V3, V3),
    width: usize,
    height: usize,
}

/// Takes the picture.
pub fn expose(world: &World, light: &Light, camera: &Camera, width: usize, height: usize) -> Exposure {
    let view = View { world, light, camera, axes: camera.axes(), width, height };
    let columns = width.div_ceil(TILE);
    let tiles: Vec<Vec<Dot>> = (0..columns * height.div_ceil(TILE))
        .into_par_iter()
        .map(|at| view.tile(at % columns, at / columns))
        .collect();
    let mut dots = vec![Dot::default(); width * height];
    for (at, tile) in tiles.iter().enumerate() {
        let (left, top) = ((at % columns) * TILE, (at / columns) * TILE);
        for (index, dot) in tile.iter().enumerate() {
            let (x, y) = (left + index % TILE, top + index / TILE);
            if x < width
                && let Some(place) = dots.get_mut(y * width + x)
            {
                *place = *dot;
            }
        }
    }
    Exposure { width, height, dots }
}

impl Camera {
    fn axes(&self) -> (V3, V3, V3) {
        let ahead = (self.target - self.eye).unit();
        let level = ahead.cross(v(0.0, 1.0, 0.0)).unit();
        let up = level.cross(ahead);
        let (s, c) = self.roll.to_radians().sin_cos();
        (level * c + up * s, up * c - level * s, ahead)
    }
    /// Distance that is sharp.
    pub fn focus(&self) -> f32 {
        (self.target - self.eye).length()
    }
}

impl View<'_> {
    fn way(&self, x: f32, y: f32) -> V3 {
        let (right, up, ahead) = self.axes;
        let size = self.height as f32 * self.camera.zoom;
        let (dx, dy) = ((x - self.width as f32 / 2.0) / size, (y - self.height as f32 / 2.0) / size);
        (ahead + right * dx - up * dy).unit()
    }

    fn tile(&self, column: usize, row: usize) -> Vec<Dot> {
        let (left, top) = ((column * TILE) as f32, (row * TILE) as f32);
        let middle = self.way(left + TILE as f32 / 2.0, top + TILE as f32 / 2.0);
        let slope = 0.75 * (TILE as f32 + 2.0) / (self.height as f32 * self.camera.zoom);
        let near = self.world.near_ray(self.camera.eye, middle, slope, f32::MAX / 4.0);
        let at = |x: i32, y: i32, dx: f32, dy: f32| {
            self.look(&near, self.way(left + x as f32 + 0.5 + dx, top + y as f32 + 0.5 + dy))
        };
        // One ring more than the tile, so that edges between tiles are found too.
        let side = TILE as i32 + 2;
        let first: Vec<Dot> =
            (0..side * side).map(|index| at(index % side - 1, index / side - 1, 0.0, 0.0)).collect();
        let get = |x: i32, y: i32| first.get(((y + 1) * side + x + 1) as usize).copied().unwrap_or_default();
        let mut dots = Vec::with_capacity(TILE * TILE);
        for index in 0..(TILE * TILE) as i32 {
            let (x, y) = (index % TILE as i32, index / TILE as i32);
            let here = get(x, y);
            let beside = [get(x - 1, y), get(x + 1, y), get(x, y - 1), get(x, y + 1)];
            dots.push(if beside.iter().any(|other| differs(&here, other)) {
                smoothed(here, |dx, dy| at(x, y, dx, dy))
            } else {
                here
            });
        }
        dots
    }

    fn look(&self, near: &Near<'_>, way: V3) -> Dot {
        let eye = self.camera.eye;
        let per_dot = 1.0 / (self.height as f32 * self.camera.zoom);
        let mut along = self.camera.focus() * 0.02;
        for _ in 0..160 {
            let p = eye + way * along;
            let room = world::distance(near, p);
            let tiny = (along * per_dot * 0.3).max(0.0015);
            if room < tiny {
                return self.hit(near, p, way, along, tiny).unwrap_or_default();
            }
            along += room * 0.95;
            if along > self.camera.focus() * 60.0 {
                break;
            }
        }
        Dot { light: self.light.surroundings(way, 300.0), depth: along, thing: usize::MAX }
    }

    fn hit(&self, near: &Near<'_>, p: V3, way: V3, along: f32, tiny: f32) -> Option<Dot> {
        let (thing, found) = world::nearest(near, p)?;
        let normal = world::normal(near, p, tiny * 1.5);
        let footprint = along / (self.height as f32 * self.camera.zoom);
        let (local, local_normal) = (found.pose.inside(p), found.pose.inside_direction(normal));
        let surface = found.material.at(local, local_normal, footprint);
        let light = self.light.shade(self.world, p, normal, -way, &surface, tiny);
        Some(Dot { light, depth: along, thing })
    }
}

fn differs(a: &Dot, b: &Dot) -> bool {
    let change = (a.light - b.light).map(f32::abs).largest();
    a.thing != b.thing || change > 0.12 + 0.25 * a.light.largest().max(b.light.largest())
}

fn smoothed(here: Dot, at: impl Fn(f32, f32) -> Dot) -> Dot {
    let shifts = [(-0.15, -0.4), (0.4, -0.15), (0.15, 0.4), (-0.4, 0.15)];
    let sum =
        shifts.into_iter().fold(V3::default(), |sum, (dx, dy)| sum + at(dx, dy).light.map(|l| l.min(2.0)));
    Dot { light: sum * 0.25, ..here }
}
