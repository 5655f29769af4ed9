//! The segments of a JPEG that its decoder needs (T.81, annex B): frame, tables, scans.

use super::Unshown;
use super::bits::Codes;

/// One color channel of a frame.
#[derive(Debug, Clone)]
pub(super) struct Channel {
    pub id: u8,
    /// Blocks across and down of each unit of the frame.
    pub across: usize,
    pub down: usize,
    /// Which quantization table.
    pub table: u8,
    /// Blocks that hold pixels, across and down.
    pub blocks: (usize, usize),
    /// Blocks with those that fill up the last units.
    pub padded: (usize, usize),
}

/// What the frame header says.
#[derive(Debug, Clone)]
pub(super) struct Frame {
    pub progressive: bool,
    /// Bits of a sample, 8 or 12.
    pub precision: u8,
    pub width: usize,
    pub height: usize,
    pub channels: Vec<Channel>,
    /// Most blocks across and down that a channel has in a unit.
    pub most: (usize, usize),
    /// Units across and down.
    pub units: (usize, usize),
}

impl Frame {
    /// From the frame header's marker and payload.
    pub fn read(marker: u8, payload: &[u8]) -> Result<Self, Unshown> {
        // Lossless, differential and arithmetic coding: hardly a camera writes them.
        if !matches!(marker, 0xC0..=0xC2) {
            return Err(Unshown::Rare);
        }
        let [precision, high, low, wide, narrow, count, channels @ ..] = payload else {
            return Err(Unshown::Damaged("its frame header is too short"));
        };
        if !matches!(precision, 8 | 12) || !matches!(count, 1 | 3 | 4) {
            return Err(Unshown::Rare);
        }
        let (height, width) = (two(*high, *low), two(*wide, *narrow));
        let mut channels: Vec<Channel> = channels
            .chunks_exact(3)
            .take(usize::from(*count))
            .filter_map(|channel| match channel {
                [id, sampling, table] => Some(Channel {
                    id: *id,
                    across: usize::from(sampling >> 4),
                    down: usize::from(sampling & 15),
                    table: *table,
                    blocks: (0, 0),
                    padded: (0, 0),
                }),
                _ => None,
            })
            .collect();
        let sound = |channel: &Channel| (1..=4).contains(&channel.across) && (1..=4).contains(&channel.down);
        if width == 0 || height == 0 || channels.len() != usize::from(*count) || !channels.iter().all(sound) {
            return Err(Unshown::Damaged("its frame header makes no sense"));
        }
        // A single channel stands alone, whatever its sampling says (T.81, A.2.2).
        if let [only] = channels.as_mut_slice() {
            (only.across, only.down) = (1, 1);
        }
        let most = (
            channels.iter().map(|channel| channel.across).max().unwrap_or(1),
            channels.iter().map(|channel| channel.down).max().unwrap_or(1),
        );
        let units = (width.div_ceil(8 * most.0), height.div_ceil(8 * most.1));
        for channel in &mut channels {
            let side = |pixels: usize, own: usize, most: usize| (pixels * own).div_ceil(most).div_ceil(8);
            channel.blocks = (side(width, channel.across, most.0), side(height, channel.down, most.1));
            channel.padded = (units.0 * channel.across, units.1 * channel.down);
        }
        let progressive = marker == 0xC2;
        Ok(Self { progressive, precision: *precision, width, height, channels, most, units })
    }
}

/// Tables as they stand when a scan begins.
#[derive(Default)]
pub(super) struct Tables {
    /// Steps in the order of the file.
    pub steps: [Option<[f32; 64]>; 4],
    pub first: [Option<Codes>; 4],
    pub others: [Option<Codes>; 4],
    /// Units between two restart markers; 0 for none.
    pub restart: usize,
    /// What Adobe's segment says of the colors: 0 as they are, 1 YCbCr, 2 YCCK.
    pub adobe: Option<u8>,
}

impl Tables {
    /// Takes in a segment of tables; none where it makes no sense.
    pub fn read(&mut self, marker: u8, payload: &[u8]) -> Option<()> {
        match marker {
            0xDB => self.read_steps(payload),
            0xC4 => self.read_codes(payload),
            0xDD => {
                self.restart = two(*payload.first()?, *payload.get(1)?);
                Some(())
            }
            0xEE if payload.starts_with(b"Adobe") => {
                self.adobe = payload.get(11).copied();
                Some(())
            }
            _ => Some(()),
        }
    }

    fn read_steps(&mut self, mut payload: &[u8]) -> Option<()> {
        while let Some((kind, rest)) = payload.split_first() {
            let size = if kind >> 4 == 0 { 1 } else { 2 };
            let (table, rest) = rest.split_at_checked(64 * size)?;
            let mut steps = [0.0; 64];
            for (step, value) in steps.iter_mut().zip(table.chunks_exact(size)) {
                *step = value.iter().fold(0.0, |sum, byte| sum * 256.0 + f32::from(*byte));
            }
            *self.steps.get_mut(usize::from(kind & 15))? = Some(steps);
            payload = rest;
        }
        Some(())
    }

    fn read_codes(&mut self, mut payload: &[u8]) -> Option<()> {
        while let Some((kind, rest)) = payload.split_first() {
            let (counts, rest) = rest.split_first_chunk::<16>()?;
            let all = counts.iter().map(|count| usize::from(*count)).sum();
            let (symbols, rest) = rest.split_at_checked(all)?;
            let tables = if kind >> 4 == 0 { &mut self.first } else { &mut self.others };
            *tables.get_mut(usize::from(kind & 15))? = Some(Codes::new(counts, symbols)?);
            payload = rest;
        }
        Some(())
    }
}

/// A channel of a scan: its place in the frame and its tables.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    pub channel: usize,
    pub first: usize,
    pub others: usize,
}

/// What a scan's header says.
#[derive(Debug, Clone)]
pub(super) struct ScanHeader {
    pub parts: Vec<Part>,
    /// First and last coefficient.
    pub band: (usize, usize),
    /// Bits of precision before and after.
    pub high: u32,
    pub low: u32,
}

impl ScanHeader {
    pub fn read(payload: &[u8], frame: &Frame) -> Option<Self> {
        let (count, rest) = payload.split_first()?;
        let (parts, rest) = rest.split_at_checked(2 * usize::from(*count))?;
        let parts: Vec<Part> = parts
            .chunks_exact(2)
            .filter_map(|part| match part {
                [id, tables] => Some(Part {
                    channel: frame.channels.iter().position(|channel| channel.id == *id)?,
                    first: usize::from(tables >> 4),
                    others: usize::from(tables & 15),
                }),
                _ => None,
            })
            .collect();
        let [from, to, bits] = rest.first_chunk::<3>()?;
        let (band, high, low) = if frame.progressive {
            ((usize::from(*from), usize::from(*to)), u32::from(bits >> 4), u32::from(bits & 15))
        } else {
            ((0, 63), 0, 0)
        };
        let twice = parts
            .iter()
            .enumerate()
            .any(|(at, part)| parts.iter().take(at).any(|other| other.channel == part.channel));
        // T.81, G.1.1.1: of several channels only the first coefficients are in one scan.
        let sound = parts.len() == usize::from(*count)
            && !parts.is_empty()
            && !twice
            && band.0 <= band.1
            && band.1 <= 63
            && low <= 13
            && (high == 0 || high == low + 1)
            && (!frame.progressive || band.0 > 0 || band.1 == 0)
            && (band.0 == 0 || parts.len() == 1);
        sound.then_some(Self { parts, band, high, low })
    }
}

fn two(high: u8, low: u8) -> usize {
    usize::from(u16::from_be_bytes([high, low]))
}
