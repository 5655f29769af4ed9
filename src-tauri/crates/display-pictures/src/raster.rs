//! Pictures in memory: a plane of coverage, and light in three colors.

use crate::chance::Chance;

/// Light in red, green and blue, linear; 1 is white paper in even light.
pub type Light = [f32; 3];

/// Component by component.
#[must_use]
pub fn mix(a: Light, b: Light, share: f32) -> Light {
    [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, a[2] + (b[2] - a[2]) * share]
}

/// A color as painters name it: hue in turns, saturation, brightness as it looks.
#[must_use]
pub fn color(hue: f32, saturation: f32, value: f32) -> Light {
    let part = |shift: f32| {
        let k = (shift + hue * 6.0).rem_euclid(6.0);
        let v = value - value * saturation * k.min(4.0 - k).clamp(0.0, 1.0);
        v.max(0.0).powf(2.2)
    };
    [part(5.0), part(3.0), part(1.0)]
}

/// A grey that looks `value` bright, a little off neutral.
#[must_use]
pub fn greyish(chance: &mut Chance, value: f32) -> Light {
    let (hue, saturation) = (chance.share(), chance.between(0.0, 0.12));
    color(hue, saturation, value)
}

/// How much of each dot is covered, 0 to 1.
#[derive(Debug, Clone)]
pub struct Cover {
    /// Dots across.
    pub wide: usize,
    /// Dots down.
    pub high: usize,
    /// Row by row.
    pub dots: Vec<f32>,
}

impl Cover {
    /// Nothing covered.
    #[must_use]
    pub fn new(wide: usize, high: usize) -> Self {
        Self { wide, high, dots: vec![0.0; wide * high] }
    }
    /// Covers where `distance` (in dots) is negative, with an edge one dot soft; `area` is left, top, right, bottom.
    pub fn fill(&mut self, area: [f32; 4], strength: f32, distance: impl Fn(f32, f32) -> f32) {
        let (left, right) = (bounded(area[0], self.wide), bounded(area[2].ceil(), self.wide));
        let (top, bottom) = (bounded(area[1], self.high), bounded(area[3].ceil(), self.high));
        for y in top..bottom {
            let row = self.dots.get_mut(y * self.wide + left..y * self.wide + right.max(left));
            for (dot, x) in row.into_iter().flatten().zip(left..) {
                let cover = (0.5 - distance(x as f32 + 0.5, y as f32 + 0.5)).clamp(0.0, 1.0) * strength;
                *dot = dot.max(cover);
            }
        }
    }
    /// Covers a convex or concave polygon whose corners are rounded by `round` dots.
    pub fn polygon(&mut self, corners: &[(f32, f32)], round: f32, strength: f32) {
        let low = |pick: fn(&(f32, f32)) -> f32| corners.iter().map(pick).fold(f32::MAX, f32::min);
        let high = |pick: fn(&(f32, f32)) -> f32| corners.iter().map(pick).fold(f32::MIN, f32::max);
        let reach = round + 1.0;
        let area = [low(|c| c.0) - reach, low(|c| c.1) - reach, high(|c| c.0) + reach, high(|c| c.1) + reach];
        self.fill(area, strength, |x, y| outside(corners, x, y) - round);
    }
    /// Covers a rectangle with rounded corners, in dots.
    pub fn rectangle(&mut self, left: f32, top: f32, wide: f32, high: f32, round: f32, strength: f32) {
        let (cx, cy) = (left + wide / 2.0, top + high / 2.0);
        self.fill([left - 1.0, top - 1.0, left + wide + 1.0, top + high + 1.0], strength, |x, y| {
            let (dx, dy) = ((x - cx).abs() - wide / 2.0 + round, (y - cy).abs() - high / 2.0 + round);
            dx.max(0.0).hypot(dy.max(0.0)) + dx.max(dy).min(0.0) - round
        });
    }
    /// Covers a disc.
    pub fn disc(&mut self, cx: f32, cy: f32, radius: f32, strength: f32) {
        let reach = radius + 1.0;
        let area = [cx - reach, cy - reach, cx + reach, cy + reach];
        self.fill(area, strength, |x, y| ((x - cx) * (x - cx) + (y - cy) * (y - cy)).sqrt() - radius);
    }
    /// One dot; 0 outside.
    #[must_use]
    pub fn at(&self, x: i32, y: i32) -> f32 {
        if x < 0 || y < 0 || x as usize >= self.wide {
            return 0.0;
        }
        self.dots.get(y as usize * self.wide + x as usize).copied().unwrap_or(0.0)
    }
    /// Moves a dot's coverage up to at least `cover`.
    pub fn raise(&mut self, x: i32, y: i32, cover: f32) {
        if x < 0 || y < 0 || x as usize >= self.wide {
            return;
        }
        if let Some(dot) = self.dots.get_mut(y as usize * self.wide + x as usize) {
            *dot = dot.max(cover);
        }
    }
    /// The same, softened over about `reach` dots (three box averages).
    #[must_use]
    pub fn soft(&self, reach: f32) -> Self {
        let mut out = self.clone();
        let radius = (reach as usize).max(1);
        for _ in 0..2 {
            out.dots = across(&out.dots, out.wide, out.high, radius);
            out.dots = down(&out.dots, out.wide, out.high, radius);
        }
        out
    }
}

fn bounded(at: f32, limit: usize) -> usize {
    (at.max(0.0) as usize).min(limit)
}

fn across(dots: &[f32], wide: usize, high: usize, radius: usize) -> Vec<f32> {
    let mut out = Vec::with_capacity(dots.len());
    let share = 1.0 / (2 * radius + 1) as f32;
    for row in dots.chunks(wide.max(1)).take(high) {
        let get = |at: i64| row.get(at.clamp(0, wide as i64 - 1) as usize).copied().unwrap_or(0.0);
        let mut sum: f32 = (-(radius as i64)..=radius as i64).map(get).sum();
        for x in 0..wide as i64 {
            out.push(sum * share);
            sum += get(x + radius as i64 + 1) - get(x - radius as i64);
        }
    }
    out
}

fn down(dots: &[f32], wide: usize, high: usize, radius: usize) -> Vec<f32> {
    let share = 1.0 / (2 * radius + 1) as f32;
    let row = |at: i64| {
        let at = at.clamp(0, high as i64 - 1) as usize;
        dots.get(at * wide..(at + 1) * wide).unwrap_or_default()
    };
    let mut sums = vec![0.0; wide];
    for at in -(radius as i64)..=radius as i64 {
        sums.iter_mut().zip(row(at)).for_each(|(sum, dot)| *sum += dot);
    }
    let mut out = Vec::with_capacity(dots.len());
    for y in 0..high as i64 {
        out.extend(sums.iter().map(|sum: &f32| sum * share));
        let (come, go) = (row(y + radius as i64 + 1), row(y - radius as i64));
        sums.iter_mut().zip(come.iter().zip(go)).for_each(|(sum, (come, go))| *sum += come - go);
    }
    out
}

/// Signed distance to a polygon, negative inside.
fn outside(corners: &[(f32, f32)], x: f32, y: f32) -> f32 {
    let Some(last) = corners.last() else { return f32::MAX };
    let (mut nearest, mut inside, mut from) = (f32::MAX, false, *last);
    for to in corners {
        let (ex, ey) = (to.0 - from.0, to.1 - from.1);
        let (px, py) = (x - from.0, y - from.1);
        let share = ((px * ex + py * ey) / (ex * ex + ey * ey).max(1e-9)).clamp(0.0, 1.0);
        let (qx, qy) = (px - ex * share, py - ey * share);
        nearest = nearest.min(qx * qx + qy * qy);
        if (from.1 > y) != (to.1 > y) && x < from.0 + (y - from.1) / (to.1 - from.1) * (to.0 - from.0) {
            inside = !inside;
        }
        from = *to;
    }
    let nearest = nearest.sqrt();
    if inside { -nearest } else { nearest }
}

/// A picture of light, with smaller copies of itself so that far ones are averaged.
#[derive(Debug, Clone)]
pub struct Sheet {
    levels: Vec<Level>,
}

#[derive(Debug, Clone)]
struct Level {
    wide: usize,
    high: usize,
    dots: Vec<Light>,
}

impl Sheet {
    /// From dots row by row.
    #[must_use]
    pub fn new(wide: usize, high: usize, dots: Vec<Light>) -> Self {
        let mut levels = vec![Level { wide, high, dots }];
        while let Some(last) = levels.last().filter(|last| last.wide > 8 && last.high > 8) {
            levels.push(last.half());
        }
        Self { levels }
    }
    /// Light at a place in dots of the full size, averaged over about `spread` dots.
    #[must_use]
    pub fn sample(&self, x: f32, y: f32, spread: f32) -> Light {
        let level = spread.max(1.0).log2().min(self.levels.len() as f32 - 1.0);
        let (low, share) = (level.floor(), level - level.floor());
        let fine = self.at(low as usize, x, y);
        if share < 0.05 { fine } else { mix(fine, self.at(low as usize + 1, x, y), share) }
    }
    fn at(&self, level: usize, x: f32, y: f32) -> Light {
        let Some(sheet) = self.levels.get(level.min(self.levels.len() - 1)) else { return [0.0; 3] };
        let shrink = 1.0 / (1 << level.min(self.levels.len() - 1)) as f32;
        let (x, y) = (x * shrink - 0.5, y * shrink - 0.5);
        let (bx, by) = (x.floor(), y.floor());
        let top = mix(sheet.dot(bx, by), sheet.dot(bx + 1.0, by), x - bx);
        let bottom = mix(sheet.dot(bx, by + 1.0), sheet.dot(bx + 1.0, by + 1.0), x - bx);
        mix(top, bottom, y - by)
    }
}

impl Level {
    fn dot(&self, x: f32, y: f32) -> Light {
        let x = (x.max(0.0) as usize).min(self.wide - 1);
        let y = (y.max(0.0) as usize).min(self.high - 1);
        self.dots.get(y * self.wide + x).copied().unwrap_or([0.0; 3])
    }
    fn half(&self) -> Self {
        let (wide, high) = (self.wide / 2, self.high / 2);
        let mut dots = Vec::with_capacity(wide * high);
        for y in 0..high {
            let row = |y: usize| self.dots.get(y * self.wide..(y + 1) * self.wide).unwrap_or_default();
            for (a, b) in row(2 * y).chunks_exact(2).zip(row(2 * y + 1).chunks_exact(2)).take(wide) {
                let mut sum = [0.0; 3];
                for light in a.iter().chain(b) {
                    sum.iter_mut().zip(light).for_each(|(sum, part)| *sum += part * 0.25);
                }
                dots.push(sum);
            }
        }
        Self { wide, high, dots }
    }
}
