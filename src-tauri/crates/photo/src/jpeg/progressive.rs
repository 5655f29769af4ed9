//! Scans that hold a part of each block (T.81, annex G).
//!
//! Of each block only those coefficients are held that the wanted size needs, and one bit for each of the others: later scans
//! ask which of them are not zero. A picture of sixty megapixels that is shown small takes some fifteen megabytes so.

use super::bits::{Bits, Codes};
use super::header::{Channel, Frame, ScanHeader, Tables};
use super::inverse::{Coefficients, Inverse, UNWANTED};
use super::planes::Plane;
use super::scan::Blocks;

/// What is held of one channel.
pub(super) struct Held {
    values: Vec<i16>,
    /// Which coefficients of a block are not zero, in the order of the file.
    filled: Vec<u64>,
    /// Blocks of a row, with those that fill up the last unit.
    wide: usize,
    /// Coefficients held of a block.
    size: usize,
    steps: Option<[f32; 64]>,
}

impl Held {
    pub fn new(channel: &Channel, side: usize) -> Self {
        let (wide, high) = channel.padded;
        let size = side * side;
        Self { values: vec![0; wide * high * size], filled: vec![0; wide * high], wide, size, steps: None }
    }

    fn set(&mut self, block: usize, at: usize, place: usize, value: i32) {
        if let Some(filled) = self.filled.get_mut(block) {
            *filled |= 1 << at;
        }
        if place < usize::from(UNWANTED)
            && let Some(slot) = self.values.get_mut(block * self.size + place)
        {
            *slot = value.clamp(i32::from(i16::MIN), i32::from(i16::MAX)) as i16;
        }
    }

    /// One bit more of a coefficient that isn't zero.
    fn refine(&mut self, block: usize, place: usize, bit: i16) {
        if place < usize::from(UNWANTED)
            && let Some(slot) = self.values.get_mut(block * self.size + place)
            && *slot & bit == 0
        {
            *slot = if *slot < 0 { slot.saturating_sub(bit) } else { slot.saturating_add(bit) };
        }
    }

    /// Makes pixels of what was read.
    pub fn draw(&self, inverse: &Inverse, plane: &mut Plane) {
        let Some(steps) = &self.steps else { return };
        let mut by_place = [0.0; 64];
        for (at, step) in steps.iter().enumerate() {
            if let Some(slot) = by_place.get_mut(inverse.place(at)) {
                *slot = *step;
            }
        }
        let (side, stride) = (inverse.side(), plane.stride());
        let mut coefficients: Coefficients = [0.0; 128];
        for (block, (values, filled)) in self.values.chunks_exact(self.size).zip(&self.filled).enumerate() {
            for ((slot, value), step) in coefficients.iter_mut().zip(values).zip(&by_place) {
                *slot = f32::from(*value) * step;
            }
            let last = if filled >> 1 == 0 { 0 } else { 1 };
            inverse.block(
                &coefficients,
                last,
                plane.from(block % self.wide, block / self.wide, side),
                stride,
            );
        }
    }
}

/// One scan on its way into what is held.
pub(super) struct Progressive<'a> {
    inverse: &'a Inverse,
    held: Vec<&'a mut Held>,
    /// Codes and the block before's first coefficient, by channel of the scan.
    parts: Vec<(Option<&'a Codes>, i32)>,
    band: (usize, usize),
    high: u32,
    low: u32,
    /// Blocks whose band ends before it begins.
    ended: usize,
}

impl<'a> Progressive<'a> {
    /// None where a table is missing.
    pub fn new(
        frame: &Frame,
        header: &ScanHeader,
        tables: &'a Tables,
        inverse: &'a Inverse,
        held: &'a mut [Held],
    ) -> Option<Self> {
        let mut all: Vec<Option<&'a mut Held>> = held.iter_mut().map(Some).collect();
        let (mut held, mut parts) = (Vec::new(), Vec::new());
        for part in &header.parts {
            let one = all.get_mut(part.channel)?.take()?;
            if one.steps.is_none() {
                let table = frame.channels.get(part.channel)?.table;
                one.steps = *tables.steps.get(usize::from(table))?;
                one.steps?;
            }
            held.push(one);
            let codes = match header.band.0 {
                // Later bits of the first coefficients stand there bare.
                0 if header.high > 0 => None,
                0 => Some(tables.first.get(part.first)?.as_ref()?),
                _ => Some(tables.others.get(part.others)?.as_ref()?),
            };
            parts.push((codes, 0));
        }
        let (band, high, low) = (header.band, header.high, header.low);
        Some(Self { inverse, held, parts, band, high, low, ended: 0 })
    }

    fn first(&mut self, bits: &mut Bits<'_>, part: usize, block: usize) -> Option<()> {
        let (codes, before) = self.parts.get_mut(part)?;
        let held = self.held.get_mut(part)?;
        let Some(codes) = codes else {
            if bits.take(1) == 1
                && let Some(slot) = held.values.get_mut(block * held.size)
            {
                *slot |= 1 << self.low;
            }
            return Some(());
        };
        let size = u32::from(bits.code(codes)).min(16);
        *before = before.wrapping_add(bits.signed(size)).clamp(-(1 << 16), 1 << 16);
        held.set(block, 0, 0, *before << self.low);
        Some(())
    }

    fn others(&mut self, bits: &mut Bits<'_>, block: usize) -> Option<()> {
        let codes = self.parts.first()?.0?;
        let held = self.held.first_mut()?;
        let mut at = self.band.0;
        while at <= self.band.1 {
            let symbol = bits.code(codes);
            let (zeros, size) = (usize::from(symbol >> 4), u32::from(symbol & 15));
            if size == 0 {
                if zeros < 15 {
                    self.ended = (1 << zeros) - 1 + bits.take(zeros as u32) as usize;
                    break;
                }
                at += 16;
                continue;
            }
            let value = bits.signed(size);
            at += zeros;
            if at > 63 {
                break;
            }
            held.set(block, at, self.inverse.place(at), value << self.low);
            at += 1;
        }
        Some(())
    }

    fn refine_others(&mut self, bits: &mut Bits<'_>, block: usize) -> Option<()> {
        let codes = self.parts.first()?.0?;
        let held = self.held.first_mut()?;
        let bit = 1_i16 << self.low;
        let mut at = self.band.0;
        if self.ended == 0 {
            while at <= self.band.1 {
                let symbol = bits.code(codes);
                let (mut zeros, size) = (usize::from(symbol >> 4), symbol & 15);
                let mut fresh = None;
                if size > 0 {
                    fresh = Some(if bits.take(1) == 1 { i32::from(bit) } else { -i32::from(bit) });
                } else if zeros < 15 {
                    self.ended = (1 << zeros) + bits.take(zeros as u32) as usize;
                    break;
                }
                let filled = held.filled.get(block).copied()?;
                while at <= self.band.1 {
                    if filled >> at & 1 == 1 {
                        if bits.take(1) == 1 {
                            held.refine(block, self.inverse.place(at), bit);
                        }
                    } else if zeros == 0 {
                        break;
                    } else {
                        zeros -= 1;
                    }
                    at += 1;
                }
                if let Some(value) = fresh
                    && at <= self.band.1
                {
                    held.set(block, at, self.inverse.place(at), value);
                }
                at += 1;
                if bits.is_over() {
                    return Some(());
                }
            }
        }
        if self.ended > 0 {
            self.ended -= 1;
            let band = u64::MAX >> (63 - self.band.1) & u64::MAX.checked_shl(at as u32).unwrap_or(0);
            let mut left = held.filled.get(block).copied()? & band;
            while left != 0 {
                if bits.take(1) == 1 {
                    held.refine(block, self.inverse.place(left.trailing_zeros() as usize), bit);
                }
                left &= left - 1;
            }
        }
        Some(())
    }
}

impl Blocks for Progressive<'_> {
    fn block(&mut self, bits: &mut Bits<'_>, part: usize, (x, y): (usize, usize)) -> bool {
        let Some(block) = self.held.get(part).map(|held| y * held.wide + x) else { return false };
        let done = match (self.band.0, self.high) {
            (0, _) => self.first(bits, part, block),
            (_, 0) => self.others(bits, block),
            _ => self.refine_others(bits, block),
        };
        done.is_some()
    }

    fn restart(&mut self) {
        self.ended = 0;
        self.parts.iter_mut().for_each(|(_, before)| *before = 0);
    }

    fn skip(&mut self, most: usize) -> usize {
        if self.band.0 == 0 || self.high > 0 {
            return 0;
        }
        let skipped = self.ended.min(most);
        self.ended -= skipped;
        skipped
    }
}
