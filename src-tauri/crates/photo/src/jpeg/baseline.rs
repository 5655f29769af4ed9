//! Scans that hold whole blocks (T.81, annex F): each block is made pixels as it is read, and nothing else is held.

use super::bits::{Bits, Codes};
use super::header::{Frame, ScanHeader, Tables};
use super::inverse::{Coefficients, Inverse, UNWANTED};
use super::planes::Plane;
use super::scan::Blocks;

/// One channel of the scan with its tables.
struct Part<'a> {
    plane: &'a mut Plane,
    steps: [f32; 64],
    first: &'a Codes,
    others: &'a Codes,
    /// The block before's first coefficient.
    before: i32,
}

impl Part<'_> {
    /// Reads a block; says which of the coefficients that are wanted is its last, in the order of the file.
    #[inline(always)]
    fn read(&mut self, bits: &mut Bits<'_>, inverse: &Inverse, into: &mut Coefficients) -> usize {
        into.iter_mut().take(inverse.side() * inverse.side()).for_each(|value| *value = 0.0);
        let size = u32::from(bits.code(self.first)).min(16);
        self.before = self.before.wrapping_add(bits.signed(size)).clamp(-(1 << 20), 1 << 20);
        let [step, ..] = self.steps;
        let [first, ..] = into;
        *first = self.before as f32 * step;
        let (mut at, mut last) = (1, 0);
        while at <= inverse.last() {
            let (zeros, value) = match bits.coefficient(self.others) {
                Some((zeros, value)) => (zeros, i32::from(value)),
                None => match bits.code(self.others) {
                    0xF0 => {
                        at += 16;
                        continue;
                    }
                    symbol if symbol & 15 == 0 => return last,
                    symbol => (symbol >> 4, bits.signed(u32::from(symbol & 15))),
                },
            };
            at += usize::from(zeros);
            let place = inverse.place(at);
            if place < usize::from(UNWANTED) {
                last = at;
            }
            let step = self.steps.get(at).copied().unwrap_or(0.0);
            if let Some(slot) = into.get_mut(place) {
                *slot = value as f32 * step;
            }
            at += 1;
        }
        while at < 64 {
            let symbol = bits.pass(self.others);
            if symbol & 15 == 0 && symbol != 0xF0 {
                break;
            }
            at += usize::from(symbol >> 4) + 1;
        }
        last
    }
}

/// A scan's blocks on their way into planes.
pub(super) struct Baseline<'a> {
    inverse: &'a Inverse,
    parts: Vec<Part<'a>>,
    coefficients: Coefficients,
}

impl<'a> Baseline<'a> {
    /// None where a table is missing.
    pub fn new(
        frame: &Frame,
        header: &ScanHeader,
        tables: &'a Tables,
        inverse: &'a Inverse,
        planes: &'a mut [Plane],
    ) -> Option<Self> {
        let mut planes: Vec<Option<&'a mut Plane>> = planes.iter_mut().map(Some).collect();
        let parts = header.parts.iter().map(|part| {
            let channel = frame.channels.get(part.channel)?;
            Some(Part {
                plane: planes.get_mut(part.channel)?.take()?,
                steps: (*tables.steps.get(usize::from(channel.table))?)?,
                first: tables.first.get(part.first)?.as_ref()?,
                others: tables.others.get(part.others)?.as_ref()?,
                before: 0,
            })
        });
        Some(Self { inverse, parts: parts.collect::<Option<_>>()?, coefficients: [0.0; 128] })
    }
}

impl Blocks for Baseline<'_> {
    fn block(&mut self, bits: &mut Bits<'_>, part: usize, (x, y): (usize, usize)) -> bool {
        let Some(part) = self.parts.get_mut(part) else { return false };
        let side = self.inverse.side();
        // By value, so that it is worked on in registers.
        let mut here = *bits;
        let last = part.read(&mut here, self.inverse, &mut self.coefficients);
        *bits = here;
        let stride = part.plane.stride();
        self.inverse.block(&self.coefficients, last, part.plane.from(x, y, side), stride);
        true
    }

    fn restart(&mut self) {
        self.parts.iter_mut().for_each(|part| part.before = 0);
    }

    fn skip(&mut self, _: usize) -> usize {
        0
    }
}
