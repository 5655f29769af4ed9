//! Straight lines stay straight: places on a flat display and in its picture.

/// A place in a picture, in pixels, or on a plane.
pub type Point = (f32, f32);

/// A projective map between two planes, row by row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Projection(pub [f32; 9]);

impl Projection {
    /// From the unit square to four corners: upper left, upper right, lower right, lower left. The closed form is
    /// Heckbert's (Fundamentals of Texture Mapping and Image Warping, 1989, section 2.2.3).
    #[must_use]
    pub fn of_square([a, b, c, d]: [Point; 4]) -> Self {
        let (sx, sy) = (a.0 - b.0 + c.0 - d.0, a.1 - b.1 + c.1 - d.1);
        let (dx1, dy1, dx2, dy2) = (b.0 - c.0, b.1 - c.1, d.0 - c.0, d.1 - c.1);
        let area = dx1 * dy2 - dx2 * dy1;
        let area = if area.abs() < 1e-9 { 1e-9 } else { area };
        let g = (sx * dy2 - dx2 * sy) / area;
        let h = (dx1 * sy - sx * dy1) / area;
        Self([
            b.0 - a.0 + g * b.0,
            d.0 - a.0 + h * d.0,
            a.0,
            b.1 - a.1 + g * b.1,
            d.1 - a.1 + h * d.1,
            a.1,
            g,
            h,
            1.0,
        ])
    }

    /// Where a place goes. Places at infinity come out very far away, never as no number.
    #[must_use]
    pub fn apply(&self, (x, y): Point) -> Point {
        let m = &self.0;
        let w = m[6] * x + m[7] * y + m[8];
        let w = if w.abs() < 1e-9 { 1e-9 } else { w };
        ((m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w)
    }

    /// First this, then `after`.
    #[must_use]
    pub fn then(&self, after: &Self) -> Self {
        let (a, b) = (&after.0, &self.0);
        let cell = |r: [f32; 3], c: [f32; 3]| r[0] * c[0] + r[1] * c[1] + r[2] * c[2];
        let rows = [[a[0], a[1], a[2]], [a[3], a[4], a[5]], [a[6], a[7], a[8]]];
        let columns = [[b[0], b[3], b[6]], [b[1], b[4], b[7]], [b[2], b[5], b[8]]];
        let [r, s, t] = rows;
        let [c, d, e] = columns;
        Self([
            cell(r, c),
            cell(r, d),
            cell(r, e),
            cell(s, c),
            cell(s, d),
            cell(s, e),
            cell(t, c),
            cell(t, d),
            cell(t, e),
        ])
    }

    /// The way back (up to scale, by the adjugate, so that a flat map gives far places instead of a failure).
    #[must_use]
    pub fn inverse(&self) -> Self {
        let m = &self.0;
        Self([
            m[4] * m[8] - m[5] * m[7],
            m[2] * m[7] - m[1] * m[8],
            m[1] * m[5] - m[2] * m[4],
            m[5] * m[6] - m[3] * m[8],
            m[0] * m[8] - m[2] * m[6],
            m[2] * m[3] - m[0] * m[5],
            m[3] * m[7] - m[4] * m[6],
            m[1] * m[6] - m[0] * m[7],
            m[0] * m[4] - m[1] * m[3],
        ])
    }

    /// Stretches and shifts: `x * sx + tx`, `y * sy + ty`.
    #[must_use]
    pub fn stretch(sx: f32, sy: f32, tx: f32, ty: f32) -> Self {
        Self([sx, 0.0, tx, 0.0, sy, ty, 0.0, 0.0, 1.0])
    }
}
