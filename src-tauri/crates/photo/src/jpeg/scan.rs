//! One scan of a JPEG: its units in their order, over restart markers, to its end or where the bytes stop.

use super::bits::Bits;
use super::header::{Channel, Frame, ScanHeader, Tables};

/// What is done with each block of a scan.
pub(super) trait Blocks {
    /// Reads one block of the part-th channel of the scan. `false` ends the scan: a table is missing.
    fn block(&mut self, bits: &mut Bits<'_>, part: usize, at: (usize, usize)) -> bool;
    /// What was carried from block to block begins anew.
    fn restart(&mut self);
    /// How many of the following blocks hold nothing new, so that they needn't be visited.
    fn skip(&mut self, most: usize) -> usize;
}

/// Goes over a scan; says where its bits end and whether all of it was there.
pub(super) fn over(
    bytes: &[u8],
    at: usize,
    frame: &Frame,
    header: &ScanHeader,
    tables: &Tables,
    blocks: &mut impl Blocks,
) -> (usize, bool) {
    let mut bits = Bits::new(bytes, at);
    let channels: Vec<&Channel> =
        header.parts.iter().filter_map(|part| frame.channels.get(part.channel)).collect();
    // The units of a single channel are its own blocks (T.81, A.2.2).
    let (wide, high) = match channels.as_slice() {
        [only] => only.blocks,
        _ => frame.units,
    };
    let alone = channels.len() == 1;
    let count = wide.saturating_mul(high);
    let interval = if tables.restart == 0 { count } else { tables.restart };
    let mut whole = true;
    let mut unit = 0;
    while unit < count {
        let end = unit.saturating_add(interval).min(count);
        blocks.restart();
        while unit < end {
            if alone {
                let skipped = blocks.skip(end - unit);
                if skipped > 0 {
                    unit += skipped;
                    continue;
                }
                if !blocks.block(&mut bits, 0, (unit % wide, unit / wide)) {
                    return (bits.place(), false);
                }
            } else if !unit_of(&mut bits, &channels, (unit % wide, unit / wide), blocks) {
                return (bits.place(), false);
            }
            if bits.is_over() {
                whole = false;
                break;
            }
            unit += 1;
        }
        unit = end;
        if unit < count && !bits.restart() {
            return (bits.place(), false);
        }
    }
    (bits.place(), whole)
}

fn unit_of(
    bits: &mut Bits<'_>,
    channels: &[&Channel],
    (x, y): (usize, usize),
    blocks: &mut impl Blocks,
) -> bool {
    for (part, channel) in channels.iter().enumerate() {
        for down in 0..channel.down {
            for across in 0..channel.across {
                let at = (x * channel.across + across, y * channel.down + down);
                if !blocks.block(bits, part, at) {
                    return false;
                }
            }
        }
    }
    true
}
