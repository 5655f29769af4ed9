//! Making a picture smaller while its rows come in: no more of it is held than the small one.

use image::RgbImage;

/// Takes rows from above and averages over the area that each pixel of the small picture covers.
pub(crate) struct Shrink {
    /// Pixels that come in, across and down.
    pixels: (usize, usize),
    to: (usize, usize),
    /// Sums of the row that is being filled, over its pixels' areas.
    sums: Vec<f32>,
    /// How much of that row's height is still to be filled: an incoming row has as many parts as rows go out, an outgoing one as
    /// many as rows come in.
    left: usize,
    /// One row that came in, made as narrow as the small picture.
    narrow: Vec<f32>,
    /// How many rows came in.
    taken: usize,
    done: Vec<u8>,
}

impl Shrink {
    /// From so many pixels to so many. No side becomes longer than it is.
    pub(crate) fn new(pixels: (u32, u32), to: (u32, u32)) -> Self {
        let side = |wanted: u32, there: u32| wanted.clamp(1, there.max(1)) as usize;
        let to = (side(to.0, pixels.0), side(to.1, pixels.1));
        let pixels = (pixels.0 as usize, pixels.1 as usize);
        let row = vec![0.0; to.0 * 3];
        let done = Vec::with_capacity(to.0 * to.1 * 3);
        Self { pixels, to, sums: row.clone(), left: pixels.1, narrow: row, taken: 0, done }
    }

    /// The next row in red, green and blue; rows beyond the picture are passed over.
    pub(crate) fn take(&mut self, row: &[u8]) {
        if self.taken >= self.pixels.1 {
            return;
        }
        if self.pixels == self.to {
            self.done.extend(row.iter().take(self.to.0 * 3));
            self.taken += 1;
            return;
        }
        self.make_narrow(row);
        let mut height = self.to.1;
        while height > 0 && self.done.len() < self.to.0 * self.to.1 * 3 {
            let mine = height.min(self.left);
            self.sums.iter_mut().zip(&self.narrow).for_each(|(sum, value)| *sum += value * mine as f32);
            self.left -= mine;
            height -= mine;
            if self.left == 0 {
                self.finish_row();
            }
        }
        self.taken += 1;
    }

    fn make_narrow(&mut self, row: &[u8]) {
        self.narrow.fill(0.0);
        let mut left = self.pixels.0;
        let mut slots = self.narrow.chunks_exact_mut(3);
        let Some(mut slot) = slots.next() else { return };
        for pixel in row.chunks_exact(3).take(self.pixels.0) {
            let mut width = self.to.0;
            while width > 0 {
                let mine = width.min(left);
                slot.iter_mut().zip(pixel).for_each(|(sum, value)| *sum += f32::from(*value) * mine as f32);
                left -= mine;
                width -= mine;
                if left == 0 {
                    let Some(next) = slots.next() else { return };
                    (slot, left) = (next, self.pixels.0);
                }
            }
        }
    }

    fn finish_row(&mut self) {
        let area = self.pixels.0 as f32 * self.pixels.1 as f32;
        self.done.extend(self.sums.iter().map(|sum| (sum / area + 0.5) as u8));
        self.sums.fill(0.0);
        self.left = self.pixels.1;
    }

    /// The small picture; white where no rows came in.
    pub(crate) fn finish(mut self) -> RgbImage {
        let (wide, high) = self.to;
        self.done.resize(wide * high * 3, u8::MAX);
        let (wide, high) = (u32::try_from(wide).unwrap_or(0), u32::try_from(high).unwrap_or(0));
        RgbImage::from_raw(wide, high, self.done).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Beside the average by the definition: every pixel, weighed by the area that two pixels share.
        #[test]
        fn averages_over_areas(
            pixels in (1_u32..30, 1_u32..30), shares in (1_u32..=100, 1_u32..=100), seed in any::<u8>(),
        ) {
            let to = ((pixels.0 * shares.0).div_ceil(100), (pixels.1 * shares.1).div_ceil(100));
            let value = |x: u32, y: u32| (x * 37 + y * 91 + u32::from(seed)) as u8;
            let mut small = Shrink::new(pixels, to);
            for y in 0..pixels.1 {
                small.take(&(0..pixels.0).flat_map(|x| [value(x, y); 3]).collect::<Vec<u8>>());
            }
            let small = small.finish();
            prop_assert_eq!(small.dimensions(), to);
            if pixels == to {
                return Ok(());
            }
            let shared = |place: u32, other: u32, pixels: u32, to: u32| {
                let side = f64::from(pixels) / f64::from(to);
                let (from, end) = (f64::from(place) * side, f64::from(place + 1) * side);
                let (start, stop) = (f64::from(other), f64::from(other + 1));
                (end.min(stop) - from.max(start)).max(0.0) / side
            };
            for (x, y, pixel) in small.enumerate_pixels() {
                let mut sum = 0.0;
                for from_y in 0..pixels.1 {
                    for from_x in 0..pixels.0 {
                        let area = shared(x, from_x, pixels.0, to.0) * shared(y, from_y, pixels.1, to.1);
                        sum += f64::from(value(from_x, from_y)) * area;
                    }
                }
                prop_assert!((f64::from(pixel.0[0]) - sum).abs() <= 0.51, "{x} {y}: {} for {sum}", pixel.0[0]);
            }
        }
    }
}
