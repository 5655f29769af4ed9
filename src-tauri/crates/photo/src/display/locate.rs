//! Where the main row of a display is: a look at the whole picture, then one from nearer.

use super::cut::{Pyramid, width_in_heights};
use super::networks::{self, LOOK, NUMBERS, PLACES};
use super::plane::{Point, Projection};
use crate::PhotoError;

/// A row that was found.
#[derive(Debug, Clone)]
pub struct Found {
    /// Corners in pixels of the picture, upper left first: what most places say, then what others say of the same row.
    pub corners: Vec<[Point; 4]>,
    /// The locator's share of its best place, 0 to 1.
    pub share: f64,
    /// Another row was found that is about as large.
    pub two_rows: bool,
}

/// Below this share there is no row.
const LEAST: f32 = 0.35;
/// Rows whose heights are nearer than this share can't be told apart as main and second.
const ALIKE: f32 = 0.75;

/// Looks for the main row; a picture where nothing is found is also looked at lying on its sides.
pub fn main_row(pyramid: &Pyramid) -> Result<Option<Found>, PhotoError> {
    for turn in [0.0, 0.25, 0.75] {
        if let Some(first) = look(pyramid, &whole(pyramid, turn))? {
            return Ok(Some(first));
        }
    }
    Ok(None)
}

/// Looks again from nearer around one opinion of the first look: a row that was taken too far is seen too small the
/// second time.
pub fn nearer_look(pyramid: &Pyramid, opinion: [Point; 4]) -> Result<Option<Found>, PhotoError> {
    look(pyramid, &nearer(opinion))
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
    let back = |corners: [Point; 4]| corners.map(|corner| map.apply(corner));
    Ok(row(&answer).map(|found| Found { corners: found.corners.into_iter().map(back).collect(), ..found }))
}

/// Places that mean the same row.
struct Patch {
    corners: [Point; 4],
    middle: f32,
    high: f32,
    share: f32,
    weight: f32,
}

/// What one place says.
#[derive(Clone, Copy)]
struct Vote {
    corners: [f32; NUMBERS - 1],
    share: f32,
}

/// Most places that vote; more than these only say the same again.
const VOTES: usize = 400;
/// Votes whose corners are all nearer than this, in digit heights, mean the same row.
const SAME: f32 = 0.4;

/// Most opinions of one row that are tried.
const OPINIONS: usize = 3;

fn row(answer: &[f32]) -> Option<Found> {
    let mut votes = votes(answer);
    let mut patches = Vec::new();
    while let Some(patch) = take_patch(&mut votes) {
        patches.push(patch);
        if patches.len() == 8 {
            break;
        }
    }
    let best = patches.iter().map(|patch| patch.weight).fold(0.0, f32::max);
    let strong = |patch: &&Patch| patch.weight > best * 0.3;
    let main =
        patches.iter().filter(strong).max_by(|a, b| (a.high * a.share).total_cmp(&(b.high * b.share)))?;
    let apart = |other: &Patch| (other.middle - main.middle).abs() > 0.6 * main.high;
    let two_rows = patches.iter().filter(strong).any(|other| apart(other) && other.high > main.high * ALIKE);
    // Votes come out by the number of those who agree, so the first of a line is the likeliest.
    let line = patches.iter().filter(|patch| !apart(patch) && patch.high > main.high * 0.6);
    let corners = line.map(|patch| patch.corners).take(OPINIONS).collect();
    Some(Found { corners, share: f64::from(main.share), two_rows })
}

fn votes(answer: &[f32]) -> Vec<Vote> {
    let planes: Vec<&[f32]> = answer.chunks_exact(PLACES * PLACES).collect();
    let scores = planes.first().copied().unwrap_or_default();
    let vote = |(at, score): (usize, &f32)| Vote {
        corners: corners_at(&planes, at),
        share: 1.0 / (1.0 + (-score).exp()),
    };
    let mut votes: Vec<Vote> =
        scores.iter().enumerate().map(vote).filter(|vote| vote.share > LEAST).collect();
    votes.sort_by(|a, b| b.share.total_cmp(&a.share));
    votes.truncate(VOTES);
    votes
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

/// Takes the row that most places agree on; corners are averaged over those that agree. A mean over all would be drawn away by the few that took a dial or a unit for a part of the row.
fn take_patch(votes: &mut Vec<Vote>) -> Option<Patch> {
    let agree = |one: &Vote, other: &Vote, high: f32| {
        one.corners.iter().zip(other.corners).all(|(a, b)| (a - b).abs() < SAME * high)
    };
    let support = |vote: &Vote| {
        let (_, high) = middle_and_height(vote.corners);
        votes.iter().filter(|other| agree(vote, other, high)).map(|other| other.share).sum::<f32>()
    };
    let (winner, _) = votes.iter().map(|vote| (*vote, support(vote))).max_by(|a, b| a.1.total_cmp(&b.1))?;
    let (_, tall) = middle_and_height(winner.corners);
    let agreed: Vec<&Vote> = votes.iter().filter(|vote| agree(&winner, vote, tall)).collect();
    let weight: f32 = agreed.iter().map(|vote| vote.share).sum();
    let mut sums = [0.0_f32; NUMBERS - 1];
    for vote in &agreed {
        sums.iter_mut()
            .zip(vote.corners)
            .for_each(|(sum, part)| *sum += part * vote.share / weight.max(1e-6));
    }
    let share = agreed.iter().map(|vote| vote.share).fold(0.0, f32::max);
    votes.retain(|vote| !agree(&winner, vote, tall));
    let [ax, ay, bx, by, cx, cy, dx, dy] = sums;
    let (middle, high) = middle_and_height(sums);
    let corners = [(ax, ay), (bx, by), (cx, cy), (dx, dy)];
    Some(Patch { corners, middle: middle.1, high, share, weight })
}
