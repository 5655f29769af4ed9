//! One channel's pixels, and the colors that several of them make.

use super::header::{Channel, Frame};

/// The pixels of one channel, at the scale of the decoder, with those that fill up the last units.
pub(super) struct Plane {
    pixels: Vec<u8>,
    stride: usize,
    /// Pixels that belong to the picture.
    size: (usize, usize),
    /// How many pixels of the picture one of these stands for.
    spread: (usize, usize),
    /// Whether [`Self::spread`] is exact.
    even: bool,
    own: (usize, usize),
    most: (usize, usize),
}

/// What stands where nothing was read: the middle of the scale, which is gray.
const NOTHING: u8 = 128;

impl Plane {
    pub fn new(frame: &Frame, channel: &Channel, side: usize) -> Self {
        let (wide, high) = channel.padded;
        let (most, own) = (frame.most, (channel.across, channel.down));
        let picture = scaled(frame, side);
        Self {
            pixels: vec![NOTHING; wide * side * high * side],
            stride: wide * side,
            size: ((picture.0 * own.0).div_ceil(most.0), (picture.1 * own.1).div_ceil(most.1)),
            spread: (most.0 / own.0, most.1 / own.1),
            even: most.0 % own.0 == 0 && most.1 % own.1 == 0,
            own,
            most,
        }
    }

    pub fn stride(&self) -> usize {
        self.stride
    }

    /// The pixels from a block's upper left corner on.
    pub fn from(&mut self, x: usize, y: usize, side: usize) -> &mut [u8] {
        self.pixels.get_mut(y * side * self.stride + x * side..).unwrap_or_default()
    }

    fn row(&self, y: usize) -> &[u8] {
        let y = y.min(self.size.1.saturating_sub(1));
        self.pixels.get(y * self.stride..).and_then(|rest| rest.get(..self.size.0)).unwrap_or_default()
    }

    /// One row of the picture. Channels of half the size are drawn out between their pixels' middles, others pixel by pixel.
    fn picture_row(&self, y: usize, to: &mut [u8], between: &mut Vec<u16>) {
        if self.even && self.spread == (1, 1) {
            to.iter_mut().zip(self.row(y)).for_each(|(to, from)| *to = *from);
            return;
        }
        if !self.even || self.spread.0 > 2 || self.spread.1 > 2 {
            let row = self.row(y * self.own.1 / self.most.1);
            for (x, to) in to.iter_mut().enumerate() {
                *to = row.get(x * self.own.0 / self.most.0).copied().unwrap_or(NOTHING);
            }
            return;
        }
        let (near, far) = if self.spread.1 == 1 {
            (y, y)
        } else {
            (y / 2, if y.is_multiple_of(2) { (y / 2).saturating_sub(1) } else { y / 2 + 1 })
        };
        between.clear();
        between
            .extend(self.row(near).iter().zip(self.row(far)).map(|(a, b)| 3 * u16::from(*a) + u16::from(*b)));
        if self.spread.0 == 1 {
            to.iter_mut().zip(between.iter()).for_each(|(to, sum)| *to = ((sum + 2) / 4) as u8);
            return;
        }
        let (first, last) = (between.first().copied(), between.last().copied());
        let before = first.into_iter().chain(between.iter().copied());
        let after = between.iter().skip(1).copied().chain(last);
        let around = before.zip(between.iter().copied()).zip(after);
        for (pair, ((before, here), after)) in to.chunks_mut(2).zip(around) {
            let two = [(3 * here + before + 8) / 16, (3 * here + after + 7) / 16];
            pair.iter_mut().zip(two).for_each(|(to, value)| *to = value as u8);
        }
    }
}

/// Width and height of the whole picture at a scale of `side` eighths.
pub(super) fn scaled(frame: &Frame, side: usize) -> (usize, usize) {
    ((frame.width * side).div_ceil(8), (frame.height * side).div_ceil(8))
}

/// What the channels mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Colors {
    Gray,
    YCbCr,
    Rgb,
    /// Ink, written the other way round: 255 is none.
    Cmyk,
    /// The first three as YCbCr of the opposite of what is written as ink.
    Ycck,
}

impl Colors {
    /// Adobe's segment decides; without it three channels are YCbCr (JFIF) unless they are named R, G and B.
    pub fn of(frame: &Frame, adobe: Option<u8>) -> Self {
        let names: Vec<u8> = frame.channels.iter().map(|channel| channel.id).collect();
        match (names.as_slice(), adobe) {
            ([_], _) => Self::Gray,
            (b"RGB", None) | ([_, _, _], Some(0)) => Self::Rgb,
            ([_, _, _], _) => Self::YCbCr,
            (_, Some(2)) => Self::Ycck,
            _ => Self::Cmyk,
        }
    }
}

/// Makes rows of the picture out of the planes.
pub(super) struct Rows<'a> {
    planes: &'a [Plane],
    colors: Colors,
    channels: [Vec<u8>; 4],
    between: Vec<u16>,
}

impl<'a> Rows<'a> {
    pub fn new(planes: &'a [Plane], colors: Colors, width: usize) -> Self {
        Self { planes, colors, channels: std::array::from_fn(|_| vec![NOTHING; width]), between: Vec::new() }
    }

    /// Row `y` as red, green and blue.
    pub fn row(&mut self, y: usize, to: &mut [u8]) {
        for (plane, channel) in self.planes.iter().zip(&mut self.channels) {
            plane.picture_row(y, channel, &mut self.between);
        }
        let [one, two, three, four] = &self.channels;
        let pixels = to.chunks_exact_mut(3).zip(one).zip(two.iter().zip(three)).zip(four);
        match self.colors {
            Colors::Gray => to.chunks_exact_mut(3).zip(one).for_each(|(pixel, gray)| pixel.fill(*gray)),
            Colors::Rgb => pixels.for_each(|(((pixel, a), (b, c)), _)| pixel.copy_from_slice(&[*a, *b, *c])),
            Colors::YCbCr => {
                pixels.for_each(|(((pixel, a), (b, c)), _)| pixel.copy_from_slice(&from_ycc(*a, *b, *c)));
            }
            Colors::Cmyk => pixels.for_each(|(((pixel, a), (b, c)), key)| {
                pixel.copy_from_slice(&[*a, *b, *c].map(|ink| darkened(ink, *key)));
            }),
            Colors::Ycck => pixels.for_each(|(((pixel, a), (b, c)), key)| {
                pixel.copy_from_slice(&from_ycc(*a, *b, *c).map(|opposite| darkened(255 - opposite, *key)));
            }),
        }
    }
}

/// JFIF (ITU-T T.871, clause 7), in parts of 65,536.
fn from_ycc(light: u8, blue: u8, red: u8) -> [u8; 3] {
    let light = (i32::from(light) << 16) + (1 << 15);
    let (blue, red) = (i32::from(blue) - 128, i32::from(red) - 128);
    let sums = [light + 91_881 * red, light - 22_554 * blue - 46_802 * red, light + 116_130 * blue];
    sums.map(|sum| (sum >> 16).clamp(0, 255) as u8)
}

fn darkened(ink: u8, key: u8) -> u8 {
    ((u32::from(ink) * u32::from(key) + 127) / 255) as u8
}
