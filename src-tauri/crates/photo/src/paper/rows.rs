//! Which pieces of text stand beside one another, though the paper lies askew or is bent.

use super::{PaperPiece, PaperRow};
use crate::display::plane::Point;

/// How far off the other's line a piece may stand, in heights of the lower one.
const OFF: f32 = 0.5;
/// Height of one piece over that of its neighbor.
const TALLER: f32 = 2.2;

/// Rows from the top down.
pub fn of(pieces: Vec<PaperPiece>) -> Vec<PaperRow> {
    let page = page_direction(&pieces);
    let along = |at: Point| at.0 * page.0 + at.1 * page.1;
    let down = |at: Point| at.1 * page.0 - at.0 * page.1;
    let mut waiting: Vec<Line> = pieces.into_iter().map(Line::of).collect();
    waiting.sort_by(|a, b| along(a.start).total_cmp(&along(b.start)));
    let mut rows: Vec<Vec<Line>> = Vec::new();
    for line in waiting {
        let nearest = rows
            .iter()
            .enumerate()
            .filter_map(|(place, row)| row.last()?.off(&line, page).map(|off| (place, off)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        match nearest.and_then(|(place, _)| rows.get_mut(place)) {
            Some(row) => row.push(line),
            None => rows.push(vec![line]),
        }
    }
    rows.sort_by(|a, b| {
        let first = |row: &Vec<Line>| row.first().map_or(0.0, |line| down(line.start));
        first(a).total_cmp(&first(b))
    });
    rows.into_iter()
        .map(|row| PaperRow { pieces: row.into_iter().map(|line| line.piece).collect() })
        .collect()
}

struct Line {
    piece: PaperPiece,
    /// Middle of its first and last letter's edge.
    start: Point,
    end: Point,
    height: f32,
}

impl Line {
    fn of(piece: PaperPiece) -> Self {
        let [a, b, c, d] = piece.corners;
        let middle = |p: Point, q: Point| ((p.0 + q.0) / 2.0, (p.1 + q.1) / 2.0);
        let height = super::boxes::height(&piece.corners);
        Self { start: middle(a, d), end: middle(b, c), height, piece }
    }

    fn direction(&self) -> Point {
        (self.end.0 - self.start.0, self.end.1 - self.start.1)
    }

    /// How far the next piece stands off this one's line, if they can be one row. The direction is that of both and of the
    /// page, the longer the more: a short piece alone points anywhere.
    fn off(&self, next: &Self, page: Point) -> Option<f32> {
        let low = self.height.min(next.height);
        if self.height.max(next.height) > TALLER * low {
            return None;
        }
        let weight = 6.0 * low;
        let (mine, other) = (self.direction(), next.direction());
        let way = unit((mine.0 + other.0 + weight * page.0, mine.1 + other.1 + weight * page.1));
        let gap = (next.start.0 - self.end.0, next.start.1 - self.end.1);
        let along = gap.0 * way.0 + gap.1 * way.1;
        let across = (gap.1 * way.0 - gap.0 * way.1).abs();
        (across < OFF * low && along > -low).then_some(across)
    }
}

/// Mean direction of all text, the longer a piece the more it counts.
fn page_direction(pieces: &[PaperPiece]) -> Point {
    let sum = pieces.iter().fold((0.0, 0.0), |sum: Point, piece| {
        let [a, b, c, d] = piece.corners;
        (sum.0 + b.0 - a.0 + c.0 - d.0, sum.1 + b.1 - a.1 + c.1 - d.1)
    });
    if sum == (0.0, 0.0) { (1.0, 0.0) } else { unit(sum) }
}

fn unit((x, y): Point) -> Point {
    let size = x.hypot(y).max(1e-6);
    (x / size, y / size)
}
