//! Where the main row of a display is: a look at the whole picture, then one from nearer.

use super::cut::{Pyramid, width_in_heights};
use super::networks::{self, LOOK, NUMBERS, PLACES};
use super::plane::{Point, Projection};
use crate::PhotoError;

/// A row that was found.
#[derive(Debug, Clone, Copy)]
pub struct Found {
    /// Corners in pixels of the picture, upper left first.
    pub corners: [Point; 4],
    /// The locator's share of its best place, 0 to 1.
    pub share: f64,
    /// Another row was found that is about as large.
    pub two_rows: bool,
}

/// Below this share there is no row.
const LEAST: f32 = 0.35;
/// Rows whose heights are nearer than this share can't be told apart as main and second.
const ALIKE: f32 = 0.83;

/// Looks for the main row; a picture where nothing is found is also looked at lying on its sides.
pub fn main_row(pyramid: &Pyramid) -> Result<Option<Found>, PhotoError> {
    for turn in [0.0, 0.25, 0.75] {
        let whole = whole(pyramid, turn);
        let Some(first) = look(pyramid, &whole)? else { continue };
        let near = nearer(first.corners);
        return Ok(Some(match look(pyramid, &near)? {
            Some(second) => Found { two_rows: first.two_rows || second.two_rows, ..second },
            None => first,
        }));
    }
    Ok(None)
}

/// From the locator's pixels to the whole picture, turned by a share of a full turn.
fn whole(pyramid: &Pyramid, turn: f32) -> Projection {
    let (wide, high) = pyramid.size();
    let step = wide.max(high) as f32 / LOOK as f32;
    square((wide as f32 / 2.0, high as f32 / 2.0), step, turn * std::f32::consts::TAU)
}

/// From the locator's pixels to the surroundings of a row, made level.
fn nearer(corners: [Point; 4]) -> Projection {
    let [a, b, c, d] = corners;
    let length = |p: Point, q: Point| (p.0 - q.0).hypot(p.1 - q.1);
    let high = (length(a, d) + length(b, c)) / 2.0;
    let wide = high * width_in_heights(corners);
    let side = (wide * 1.6).max(high * 4.0);
    let middle = ((a.0 + b.0 + c.0 + d.0) / 4.0, (a.1 + b.1 + c.1 + d.1) / 4.0);
    let angle = (b.1 - a.1 + c.1 - d.1).atan2(b.0 - a.0 + c.0 - d.0);
    square(middle, (side / LOOK as f32).max(1e-3), angle)
}

fn square(middle: Point, step: f32, angle: f32) -> Projection {
    let (s, c) = angle.sin_cos();
    let half = LOOK as f32 / 2.0;
    let (a, b) = (c * step, s * step);
    Projection([a, -b, middle.0 - half * (a - b), b, a, middle.1 - half * (b + a), 0.0, 0.0, 1.0])
}

fn look(pyramid: &Pyramid, map: &Projection) -> Result<Option<Found>, PhotoError> {
    let answer = networks::locate(&pyramid.cut(map, (LOOK, LOOK)))?;
    Ok(row(&answer).map(|found| Found { corners: found.corners.map(|corner| map.apply(corner)), ..found }))
}

/// One patch of places that belong together.
struct Patch {
    corners: [Point; 4],
    high: f32,
    share: f32,
    count: usize,
}

fn row(answer: &[f32]) -> Option<Found> {
    let planes: Vec<&[f32]> = answer.chunks_exact(PLACES * PLACES).collect();
    let shares: Vec<f32> = planes.first()?.iter().map(|score| 1.0 / (1.0 + (-score).exp())).collect();
    let mut left = shares.clone();
    let mut patches = Vec::new();
    while let Some(patch) = take_patch(&planes, &mut left) {
        patches.push(patch);
        if patches.len() == 6 {
            break;
        }
    }
    let best = patches.iter().map(|patch| patch.share).fold(0.0, f32::max);
    let strong = |patch: &&Patch| patch.share > best * 0.7;
    let main =
        patches.iter().filter(strong).max_by(|a, b| (a.high * a.share).total_cmp(&(b.high * b.share)))?;
    let alike = patches
        .iter()
        .filter(strong)
        .filter(|other| other.high > main.high * ALIKE && other.count * 3 > main.count)
        .count();
    Some(Found { corners: main.corners, share: f64::from(main.share), two_rows: alike > 1 })
}

/// What a place says: the corners, from its own middle.
fn corners_at(planes: &[&[f32]], at: usize) -> [f32; NUMBERS - 1] {
    let (x, y) = ((at % PLACES) as f32 * 8.0 + 4.0, (at / PLACES) as f32 * 8.0 + 4.0);
    std::array::from_fn(|index| {
        let away = planes.get(index + 1).and_then(|plane| plane.get(at)).copied().unwrap_or(0.0);
        away * 64.0 + if index % 2 == 0 { x } else { y }
    })
}

/// Middle and height of a row with these corners.
fn middle_and_height([ax, ay, bx, by, cx, cy, dx, dy]: [f32; NUMBERS - 1]) -> (Point, f32) {
    let high = ((ax - dx).hypot(ay - dy) + (bx - cx).hypot(by - cy)) / 2.0;
    (((ax + bx + cx + dx) / 4.0, (ay + by + cy + dy) / 4.0), high)
}

/// Takes the place with the highest share and all that touch it and mean the same row (rows may stand close above each
/// other); the corners are what these places say, averaged.
fn take_patch(planes: &[&[f32]], left: &mut [f32]) -> Option<Patch> {
    let (start, share) = left.iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
    if !(share > LEAST) {
        return None;
    }
    let (middle, tall) = middle_and_height(corners_at(planes, start));
    let (mut open, mut sums, mut total, mut count) = (vec![start], [0.0_f32; NUMBERS - 1], 0.0, 0);
    while let Some(at) = open.pop() {
        let Some(weight) = left.get(at).copied().filter(|weight| *weight > 0.5 * share) else { continue };
        let said = corners_at(planes, at);
        let (here, _) = middle_and_height(said);
        if at != start && (here.1 - middle.1).abs() > 0.45 * tall {
            continue;
        }
        if let Some(slot) = left.get_mut(at) {
            *slot = 0.0;
        }
        count += 1;
        total += weight * weight;
        sums.iter_mut().zip(said).for_each(|(sum, part)| *sum += part * weight * weight);
        let (column, line) = (at % PLACES, at / PLACES);
        if column > 0 {
            open.push(at - 1);
        }
        if column + 1 < PLACES {
            open.push(at + 1);
        }
        if line > 0 {
            open.push(at - PLACES);
        }
        if line + 1 < PLACES {
            open.push(at + PLACES);
        }
    }
    let sums = sums.map(|sum| sum / f32::max(total, 1e-6));
    let [ax, ay, bx, by, cx, cy, dx, dy] = sums;
    let (_, high) = middle_and_height(sums);
    Some(Patch { corners: [(ax, ay), (bx, by), (cx, cy), (dx, dy)], high, share, count })
}
