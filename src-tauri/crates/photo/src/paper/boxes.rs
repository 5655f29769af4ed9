//! Boxes around the places of a map where text is likely.

use crate::display::plane::Point;

/// Corners, around from the upper left.
pub type Box4 = [Point; 4];

/// A place belongs to text from here on. This and the two below are those that the finder is published with.
const LIKELY: f32 = 0.3;
/// Mean over a box from which it is text.
const SURE: f32 = 0.5;
/// The finder is taught smaller boxes than the text has: each grows by its area times this over its edge's length.
const GROWS: f32 = 1.6;
/// Least height of a box before it grows, in pixels of the map.
const LEAST: f32 = 3.0;

/// Boxes of a map, the surest first.
pub fn of_map(map: &[f32], (wide, high): (usize, usize)) -> Vec<Box4> {
    let mut seen: Vec<bool> = map.iter().map(|share| *share <= LIKELY).collect();
    let mut found: Vec<(f32, Box4)> = Vec::new();
    for start in 0..seen.len() {
        if seen.get(start) != Some(&false) {
            continue;
        }
        let places = together(&mut seen, start, (wide, high));
        let sum: f32 = places.iter().filter_map(|at| map.get(*at)).sum();
        let mean = sum / places.len().max(1) as f32;
        let points = edge(&places, wide);
        if let Some(corners) = smallest(&points).filter(|corners| mean >= SURE && shorter(corners) >= LEAST) {
            found.push((mean, grown(corners)));
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().map(|(_, corners)| corners).collect()
}

/// Length along the text.
pub fn width([a, b, c, d]: &Box4) -> f32 {
    (length(*a, *b) + length(*d, *c)) / 2.0
}

/// Length across the text.
pub fn height([a, b, c, d]: &Box4) -> f32 {
    (length(*a, *d) + length(*b, *c)) / 2.0
}

/// The longer one of both.
pub fn longer(corners: &Box4) -> f32 {
    width(corners).max(height(corners))
}

fn shorter(corners: &Box4) -> f32 {
    width(corners).min(height(corners))
}

fn length(a: Point, b: Point) -> f32 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// Places that hang together with one, by their edges or corners.
fn together(seen: &mut [bool], start: usize, (wide, high): (usize, usize)) -> Vec<usize> {
    let mut places = Vec::new();
    let mut open = vec![start];
    if let Some(first) = seen.get_mut(start) {
        *first = true;
    }
    while let Some(at) = open.pop() {
        places.push(at);
        let (x, y) = (at % wide, at / wide);
        for near_y in y.saturating_sub(1)..=(y + 1).min(high.saturating_sub(1)) {
            for near_x in x.saturating_sub(1)..=(x + 1).min(wide.saturating_sub(1)) {
                let near = near_y * wide + near_x;
                if let Some(fresh) = seen.get_mut(near).filter(|seen| !**seen) {
                    *fresh = true;
                    open.push(near);
                }
            }
        }
    }
    places
}

/// The first and last place of every line of the map: the others can't be corners.
fn edge(places: &[usize], wide: usize) -> Vec<Point> {
    let mut sorted = places.to_vec();
    sorted.sort_unstable();
    let mut points = Vec::new();
    for line in sorted.chunk_by(|a, b| a / wide == b / wide) {
        let ends = [line.first(), line.last()];
        points.extend(ends.into_iter().flatten().map(|at| ((at % wide) as f32, (at / wide) as f32)));
    }
    points
}

/// The smallest rectangle around points: one of its sides lies on their hull (Freeman and Shapira, 1975).
fn smallest(points: &[Point]) -> Option<Box4> {
    let hull = hull(points);
    let next = hull.iter().skip(1).chain(hull.first());
    let boxes =
        hull.iter().zip(next).filter(|(a, b)| a != b).map(|(a, b)| along(&hull, (b.0 - a.0, b.1 - a.1)));
    boxes.min_by(|a, b| (width(a) * height(a)).total_cmp(&(width(b) * height(b))))
}

/// The rectangle around points whose first side lies in a direction, begun at its upper left.
fn along(points: &[Point], (dx, dy): Point) -> Box4 {
    let size = dx.hypot(dy).max(1e-6);
    // Of the four directions that the rectangle has, the one that leads most to the right.
    let (mut x, mut y) = (dx / size, dy / size);
    if x.abs() < y.abs() {
        (x, y) = (-y, x);
    }
    if x < 0.0 {
        (x, y) = (-x, -y);
    }
    let (mut left, mut right, mut top, mut bottom) = (f32::MAX, f32::MIN, f32::MAX, f32::MIN);
    for (px, py) in points {
        let (along, across) = (px * x + py * y, py * x - px * y);
        (left, right) = (left.min(along), right.max(along));
        (top, bottom) = (top.min(across), bottom.max(across));
    }
    // A place is a pixel wide.
    let (right, bottom) = (right + 1.0, bottom + 1.0);
    let back = |along: f32, across: f32| (along * x - across * y, along * y + across * x);
    [back(left, top), back(right, top), back(right, bottom), back(left, bottom)]
}

/// Convex hull, around (Andrew's monotone chain, 1979).
fn hull(points: &[Point]) -> Vec<Point> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    sorted.dedup();
    let mut half = chain(sorted.iter().copied());
    let mut other = chain(sorted.iter().rev().copied());
    half.pop();
    other.pop();
    half.extend(other);
    if half.len() == 1 {
        // A single place: a box of one pixel.
        half.extend(half.first().copied().map(|(x, y)| (x + 1.0, y)));
    }
    half
}

fn chain(points: impl Iterator<Item = Point>) -> Vec<Point> {
    let mut chain: Vec<Point> = Vec::new();
    for point in points {
        while let [.., a, b] = chain.as_slice() {
            let turn = (b.0 - a.0) * (point.1 - a.1) - (b.1 - a.1) * (point.0 - a.0);
            if turn > 0.0 {
                break;
            }
            chain.pop();
        }
        chain.push(point);
    }
    chain
}

fn grown(corners: Box4) -> Box4 {
    let (wide, high) = (width(&corners), height(&corners));
    let by = wide * high * GROWS / (2.0 * (wide + high)).max(1.0);
    let [a, b, _, d] = corners;
    let unit = |from: Point, to: Point, size: f32| {
        ((to.0 - from.0) / size.max(1e-6), (to.1 - from.1) / size.max(1e-6))
    };
    let (x, y) = (unit(a, b, wide), unit(a, d, high));
    let signs = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let mut moved = corners;
    moved.iter_mut().zip(signs).for_each(|(corner, (along, across))| {
        corner.0 += by * (along * x.0 + across * y.0);
        corner.1 += by * (along * x.1 + across * y.1);
    });
    moved
}
