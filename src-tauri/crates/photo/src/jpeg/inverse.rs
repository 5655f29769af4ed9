//! From coefficients to a block of any size from 1 to 8: the inverse transform of as many coefficients as pixels are wanted.
//!
//! T.81, A.3.3 gives a block of eight by eight. Its lowest n by n coefficients are those of the same block at n eighths of its
//! size, times n/8 for the two directions; in the inverse that factor and the transform's own cancel to a half for each.

/// Bases for a size, by place and frequency.
pub(super) struct Inverse {
    side: usize,
    /// For each frequency, its wave at each place.
    waves: [[f32; 8]; 8],
    /// Where in a block of `side` by `side` each coefficient belongs, column by column, by its place in the file; [`UNWANTED`]
    /// for the others.
    places: [u8; 64],
    /// The last of them in the file that is wanted.
    last: usize,
    /// What one level of eight bits is, in the coefficients' measure.
    level: f32,
}

/// The place of coefficients that a smaller block doesn't need.
pub(super) const UNWANTED: u8 = 127;
/// A block's coefficients, and space for those that aren't wanted.
pub(super) type Coefficients = [f32; 128];

/// Rows and columns in the order of the file (T.81, figure A.6): along diagonals, up and down in turn.
fn zigzag() -> [(usize, usize); 64] {
    let mut order = [(0, 0); 64];
    let diagonals = (0..15_usize).flat_map(|sum| {
        let steps =
            (0..=sum).map(move |step| if sum % 2 == 0 { (sum - step, step) } else { (step, sum - step) });
        steps.filter(|(row, column)| *row < 8 && *column < 8)
    });
    for (slot, place) in order.iter_mut().zip(diagonals) {
        *slot = place;
    }
    order
}

impl Inverse {
    /// For blocks of `side` by `side` pixels, 1 to 8, of a picture with so many bits a sample.
    pub fn new(side: usize, precision: u8) -> Self {
        let mut waves = [[0.0; 8]; 8];
        for (frequency, wave) in waves.iter_mut().enumerate().take(side) {
            let share = if frequency == 0 { std::f32::consts::FRAC_1_SQRT_2 } else { 1.0 } / 2.0;
            for (place, value) in wave.iter_mut().enumerate().take(side) {
                let angle =
                    (2 * place + 1) as f32 * frequency as f32 * std::f32::consts::PI / (2 * side) as f32;
                *value = share * angle.cos();
            }
        }
        let places =
            zigzag().map(
                |(row, column)| {
                    if row < side && column < side { (column * side + row) as u8 } else { UNWANTED }
                },
            );
        let last = places.iter().rposition(|place| *place != UNWANTED).unwrap_or(0);
        Self { side, waves, places, last, level: 1.0 / f32::from(1_u16 << (precision.clamp(8, 12) - 8)) }
    }

    pub fn side(&self) -> usize {
        self.side
    }

    /// The last coefficient in the order of the file that is wanted.
    pub fn last(&self) -> usize {
        self.last
    }

    pub fn place(&self, at: usize) -> usize {
        usize::from(self.places.get(at).copied().unwrap_or(UNWANTED))
    }

    /// Writes the block's pixels into rows of `stride`. `last` is the place of its last coefficient in the order of the file.
    pub fn block(&self, coefficients: &Coefficients, last: usize, to: &mut [u8], stride: usize) {
        match self.side {
            1 => self.flat(coefficients, to, stride),
            _ if last == 0 => self.flat(coefficients, to, stride),
            2 => self.sized::<2>(coefficients, to, stride),
            3 => self.sized::<3>(coefficients, to, stride),
            4 => self.sized::<4>(coefficients, to, stride),
            5 => self.sized::<5>(coefficients, to, stride),
            6 => self.sized::<6>(coefficients, to, stride),
            7 => self.sized::<7>(coefficients, to, stride),
            _ => self.sized::<8>(coefficients, to, stride),
        }
    }

    fn flat(&self, coefficients: &Coefficients, to: &mut [u8], stride: usize) {
        let value = (coefficients[0] / 8.0 * self.level + 128.5) as u8;
        for row in to.chunks_mut(stride).take(self.side) {
            row.iter_mut().take(self.side).for_each(|pixel| *pixel = value);
        }
    }

    fn sized<const N: usize>(&self, coefficients: &Coefficients, to: &mut [u8], stride: usize) {
        let mut columns = [[0.0_f32; N]; N];
        for (column, values) in columns.iter_mut().zip(coefficients.chunks_exact(N)) {
            column.iter_mut().zip(values).for_each(|(to, from)| *to = from * self.level);
        }
        let across = self.waved(&columns);
        let mut rows = [[0.0_f32; N]; N];
        for (x, column) in across.iter().enumerate() {
            for (row, value) in rows.iter_mut().zip(column) {
                if let Some(slot) = row.get_mut(x) {
                    *slot = *value;
                }
            }
        }
        for (row, line) in to.chunks_mut(stride).zip(&self.waved(&rows)) {
            row.iter_mut().zip(line).for_each(|(pixel, value)| *pixel = (value + 128.5) as u8);
        }
    }

    /// One direction of the transform, for all lines at once. A wave is the same on both sides of the middle, or its opposite.
    #[inline(always)]
    fn waved<const N: usize>(&self, frequencies: &[[f32; N]; N]) -> [[f32; N]; N] {
        let mut places = [[0.0_f32; N]; N];
        let (upper, lower) = places.split_at_mut(N / 2);
        let lower = lower.iter_mut().rev().map(Some).chain(std::iter::once(None));
        let upper = upper.iter_mut().map(Some).chain(std::iter::once(None));
        for ((place, upper), lower) in upper.enumerate().zip(lower).take(N.div_ceil(2)) {
            let (mut even, mut odd) = ([0.0_f32; N], [0.0_f32; N]);
            for (pair, waves) in frequencies.chunks(2).zip(self.waves.chunks_exact(2)) {
                if let ([first, ..], [wave, ..]) = (pair, waves) {
                    let wave = wave.get(place).copied().unwrap_or(0.0);
                    even.iter_mut().zip(first).for_each(|(sum, value)| *sum += value * wave);
                }
                if let ([_, second], [_, wave]) = (pair, waves) {
                    let wave = wave.get(place).copied().unwrap_or(0.0);
                    odd.iter_mut().zip(second).for_each(|(sum, value)| *sum += value * wave);
                }
            }
            for (sum, odd, even) in zip3(upper, &odd, &even) {
                *sum = even + odd;
            }
            for (sum, odd, even) in zip3(lower, &odd, &even) {
                *sum = even - odd;
            }
        }
        places
    }
}

fn zip3<'a, const N: usize>(
    sums: Option<&'a mut [f32; N]>,
    odd: &'a [f32; N],
    even: &'a [f32; N],
) -> impl Iterator<Item = (&'a mut f32, f32, f32)> {
    sums.into_iter().flatten().zip(odd.iter().zip(even)).map(|(sum, (odd, even))| (sum, *odd, *even))
}
