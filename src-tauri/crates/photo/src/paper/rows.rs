//! Which pieces of text stand beside one another, though the paper lies askew, is tilted or bent.

use super::{PaperPiece, PaperRow};
use crate::display::plane::Point;

/// How far off the other's row a piece may stand, in heights of the lower one.
const OFF: f32 = 0.5;
/// Height of one piece over that of its neighbor.
const TALLER: f32 = 2.2;
/// How strongly rows are held for straight and even, against what the pieces say: a few short pieces say little. Worth a piece
/// of this length, in pixels.
const STRAIGHT: f64 = 60.0;

/// Rows from the top down, each from left to right.
pub fn of(pieces: Vec<PaperPiece>) -> Vec<PaperRow> {
    let paper = Paper::of(&pieces);
    let mut placed: Vec<Placed> = pieces.into_iter().map(|piece| paper.placed(piece)).collect();
    placed.sort_by(|a, b| a.along.total_cmp(&b.along));
    let mut rows: Vec<Vec<Placed>> = Vec::new();
    for piece in placed {
        let off = |row: &Vec<Placed>| row.last().and_then(|last| last.off(&piece));
        let near = rows.iter().enumerate().filter_map(|(place, row)| Some((place, off(row)?)));
        let nearest = near.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(place, _)| place);
        match nearest.and_then(|place| rows.get_mut(place)) {
            Some(row) => row.push(piece),
            None => rows.push(vec![piece]),
        }
    }
    rows.sort_by(|a, b| {
        let level = |row: &Vec<Placed>| row.first().map_or(0.0, |piece| piece.level);
        level(a).total_cmp(&level(b))
    });
    rows.into_iter().map(|row| PaperRow { pieces: row.into_iter().map(|one| one.piece).collect() }).collect()
}

/// A piece with its row's height on the paper.
struct Placed {
    piece: PaperPiece,
    along: f64,
    end: f64,
    level: f64,
    height: f64,
}

impl Placed {
    /// How far off the next piece stands, if both can be one row.
    fn off(&self, next: &Self) -> Option<f64> {
        let low = self.height.min(next.height);
        let off = (self.level - next.level).abs();
        let alike = self.height.max(next.height) <= f64::from(TALLER) * low;
        (alike && off < f64::from(OFF) * low && next.along > self.end - low).then_some(off)
    }
}

/// How rows run: `across = level + (slope + steeper * level) * along + bend * along²`, in pixels from the middle of all text. Tilted
/// papers have rows that fan out, bent ones rows in arcs.
struct Paper {
    middle: Point,
    page: Point,
    slope: f64,
    steeper: f64,
    bend: f64,
}

impl Paper {
    /// Fitted to the slopes of the pieces by least squares, each counting by its length squared, as a slope is the surer the longer
    /// it was seen; then once more without pieces that lie otherwise.
    fn of(pieces: &[PaperPiece]) -> Self {
        let page = page_direction(pieces);
        let corners = || pieces.iter().flat_map(|piece| piece.corners);
        let count = (pieces.len() * 4).max(1) as f32;
        let middle =
            (corners().map(|at| at.0).sum::<f32>() / count, corners().map(|at| at.1).sum::<f32>() / count);
        let mut paper = Self { middle, page, slope: 0.0, steeper: 0.0, bend: 0.0 };
        let mut seen: Vec<Slope> = pieces.iter().filter_map(|piece| paper.slope_of(piece)).collect();
        paper.fit(&seen);
        let mut all: Vec<f64> = seen.iter().map(|one| paper.misses(one)).collect();
        all.sort_by(f64::total_cmp);
        let usual = all.get(all.len() / 2).copied().unwrap_or(0.0);
        seen.retain(|one| paper.misses(one) <= 4.0 * usual + 1.0);
        paper.fit(&seen);
        paper
    }

    fn on_page(&self, at: Point) -> (f64, f64) {
        let (x, y) = (at.0 - self.middle.0, at.1 - self.middle.1);
        let (along, across) = (x * self.page.0 + y * self.page.1, y * self.page.0 - x * self.page.1);
        (f64::from(along), f64::from(across))
    }

    fn slope_of(&self, piece: &PaperPiece) -> Option<Slope> {
        let (start, end) = ends(piece);
        let ((x, y), (to_x, to_y)) = (self.on_page(start), self.on_page(end));
        let length = to_x - x;
        let at = ((x + to_x) / 2.0, (y + to_y) / 2.0);
        (length > 1.0).then(|| Slope { along: at.0, across: at.1, slope: (to_y - y) / length, length })
    }

    /// By how many pixels a piece's end lies beside where it should.
    fn misses(&self, seen: &Slope) -> f64 {
        let run =
            self.slope + self.steeper * self.level((seen.along, seen.across)) + 2.0 * self.bend * seen.along;
        (seen.slope - run).abs() * seen.length
    }

    /// Solves the normal equations of slope, steeper and bend, by Cramer's rule; in thousands of pixels.
    fn fit(&mut self, seen: &[Slope]) {
        let (mut m, mut v) = ([[0.0; 3]; 3], [0.0; 3]);
        for one in seen {
            let row = [1.0, self.level((one.along, one.across)) / 1e3, 2.0 * one.along / 1e3];
            let weight = one.length.powi(2);
            for ((line, value), a) in m.iter_mut().zip(&mut v).zip(row) {
                *value += weight * a * one.slope;
                line.iter_mut().zip(row).for_each(|(cell, b)| *cell += weight * a * b);
            }
        }
        m[1][1] += STRAIGHT.powi(2);
        m[2][2] += STRAIGHT.powi(2);
        let whole = determinant(&m);
        if whole.abs() < 1e-9 {
            return;
        }
        let solved: [f64; 3] = std::array::from_fn(|column| {
            let mut with = m;
            for (line, value) in with.iter_mut().zip(v) {
                line.iter_mut().skip(column).take(1).for_each(|cell| *cell = value);
            }
            determinant(&with) / whole
        });
        (self.slope, self.steeper, self.bend) = (solved[0], solved[1] / 1e3, solved[2] / 1e3);
    }

    /// Where a place's row crosses the middle of the page.
    fn level(&self, (along, across): (f64, f64)) -> f64 {
        let level = across - self.slope * along - self.bend * along.powi(2);
        level / (1.0 + self.steeper * along).max(0.2)
    }

    fn placed(&self, piece: PaperPiece) -> Placed {
        let (start, end) = ends(&piece);
        let (from, to) = (self.on_page(start), self.on_page(end));
        let level = (self.level(from) + self.level(to)) / 2.0;
        let height = f64::from(super::boxes::height(&piece.corners));
        Placed { along: from.0, end: to.0, level, height, piece }
    }
}

/// The slope of a piece, where it stands and how long it is.
struct Slope {
    along: f64,
    across: f64,
    slope: f64,
    length: f64,
}

fn determinant(m: &[[f64; 3]; 3]) -> f64 {
    let [[a, b, c], [d, e, f], [g, h, i]] = *m;
    a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
}

/// The middles of a piece's first and last edge.
fn ends(piece: &PaperPiece) -> (Point, Point) {
    let [a, b, c, d] = piece.corners;
    let middle = |p: Point, q: Point| ((p.0 + q.0) / 2.0, (p.1 + q.1) / 2.0);
    (middle(a, d), middle(b, c))
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

#[cfg(test)]
mod tests {
    use super::*;

    /// A piece of 30 pixels in height, `wide` long, its middle line from `start` in a direction.
    fn piece(text: &str, start: Point, wide: f32, way: Point) -> PaperPiece {
        let (x, y) = unit(way);
        let at =
            |along: f32, across: f32| (start.0 + along * x - across * y, start.1 + along * y + across * x);
        let corners = [at(0.0, -15.0), at(wide, -15.0), at(wide, 15.0), at(0.0, 15.0)];
        PaperPiece { text: text.to_owned(), probability: 1.0, corners }
    }

    /// Rows of a far-tilted and bent paper: they fan out and run in arcs. Each amount stands 700 pixels behind its words.
    #[test]
    fn rows_that_fan_out_in_arcs_keep_their_amounts() {
        let mut pieces = Vec::new();
        for row in 0..9_i16 {
            let level = 60.0 * f32::from(row);
            let (slope, bend) = (f32::from(row - 4) * 0.012, -0.00006);
            let at = |x: f32| (x, 200.0 + level + slope * (x - 600.0) + bend * (x - 600.0).powi(2));
            let piece = |text: String, from: f32, wide: f32| {
                let (start, end) = (at(from), at(from + wide));
                piece(&text, start, wide, (end.0 - start.0, end.1 - start.1))
            };
            pieces.push(piece(format!("words {row}"), 100.0, 220.0));
            pieces.push(piece(format!("{row}.00"), 1020.0, 80.0));
        }
        pieces.reverse();
        let rows: Vec<String> = of(pieces).iter().map(PaperRow::text).collect();
        let expected: Vec<String> = (0..9).map(|row| format!("words {row}  {row}.00")).collect();
        assert_eq!(rows, expected);
    }

    #[test]
    fn nothing_is_no_row_and_letters_of_other_sizes_are_apart() {
        assert_eq!(of(vec![]), vec![]);
        let mut large = piece("LARGE", (400.0, 100.0), 300.0, (1.0, 0.0));
        large.corners = [(400.0, 50.0), (700.0, 50.0), (700.0, 150.0), (400.0, 150.0)];
        assert_eq!(of(vec![piece("small", (100.0, 100.0), 100.0, (1.0, 0.0)), large]).len(), 2);
    }
}
