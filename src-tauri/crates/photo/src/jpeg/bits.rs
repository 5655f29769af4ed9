//! The bits between two markers of a JPEG, and the codes in them (ITU-T T.81, annexes C and F).

/// Codes of up to this many bits are read in one look.
const LOOK: u32 = 10;
/// Entries of a look.
const LOOKS: usize = 1 << LOOK;

/// Reads bits until a marker or the end of the bytes; from there on it gives zeros and says so.
#[derive(Clone, Copy)]
pub(super) struct Bits<'a> {
    bytes: &'a [u8],
    at: usize,
    /// The next bits, from the top.
    held: u64,
    count: u32,
    /// How many of the held bits were made up, behind the end.
    made_up: u32,
}

impl<'a> Bits<'a> {
    pub fn new(bytes: &'a [u8], at: usize) -> Self {
        Self { bytes, at, held: 0, count: 0, made_up: 0 }
    }

    /// Bits behind the end were asked for.
    pub fn is_over(&self) -> bool {
        self.made_up > self.count
    }

    /// Where the marker stands that ended the bits, or the end of the bytes.
    pub fn place(&self) -> usize {
        self.at
    }

    /// Goes on behind the next restart marker; false where another marker comes first.
    pub fn restart(&mut self) -> bool {
        let rest = self.bytes.get(self.at..).unwrap_or_default();
        let mut pairs = rest.iter().zip(rest.iter().skip(1)).enumerate();
        let marker = pairs.find(|(_, (first, second))| **first == 0xFF && !matches!(**second, 0 | 0xFF));
        let Some((ahead, (_, 0xD0..=0xD7))) = marker else { return false };
        *self = Self::new(self.bytes, self.at.saturating_add(ahead + 2));
        true
    }

    /// At least 25 bits are held afterwards.
    fn fill(&mut self) {
        if self.count > 32 {
            return;
        }
        if let Some(word) = self.bytes.get(self.at..).and_then(|rest| rest.first_chunk::<4>()) {
            let word = u32::from_be_bytes(*word);
            // No byte of it is FF: none of the inverted bytes is zero.
            if (!word).wrapping_sub(0x0101_0101) & word & 0x8080_8080 == 0 {
                self.held |= u64::from(word) << (32 - self.count);
                self.count += 32;
                self.at += 4;
                return;
            }
        }
        while self.count <= 48 {
            let byte = self.next_byte();
            self.held |= u64::from(byte) << (56 - self.count);
            self.count += 8;
        }
    }

    fn next_byte(&mut self) -> u8 {
        match (self.bytes.get(self.at), self.bytes.get(self.at + 1)) {
            (Some(0xFF), Some(0)) => {
                self.at += 2;
                0xFF
            }
            (Some(0xFF), _) | (None, _) => {
                self.made_up = self.made_up.saturating_add(8);
                0
            }
            (Some(byte), _) => {
                self.at += 1;
                *byte
            }
        }
    }

    fn drop_bits(&mut self, count: u32) {
        self.held <<= count;
        self.count -= count;
    }

    /// The next `count` bits, 0 to 16.
    pub fn take(&mut self, count: u32) -> i32 {
        if count == 0 {
            return 0;
        }
        self.fill();
        let bits = (self.held >> (64 - count)) as i32;
        self.drop_bits(count);
        bits
    }

    /// A number of `size` bits whose first bit is its sign (T.81, F.2.2.1).
    pub fn signed(&mut self, size: u32) -> i32 {
        let bits = self.take(size);
        extended(bits, size)
    }

    pub fn code(&mut self, codes: &Codes) -> u8 {
        self.fill();
        let look = codes.looks.get((self.held >> (64 - LOOK)) as usize).copied().unwrap_or_default();
        if look.length > 0 {
            self.drop_bits(u32::from(look.length));
            return look.symbol;
        }
        let next = (self.held >> 48) as u32;
        for (length, (end, first)) in codes.long.iter().enumerate() {
            let length = LOOK + 1 + length as u32;
            if next < *end {
                self.drop_bits(length);
                let place = i64::from(next >> (16 - length)) + i64::from(*first);
                return usize::try_from(place)
                    .ok()
                    .and_then(|at| codes.symbols.get(at))
                    .copied()
                    .unwrap_or(0);
            }
        }
        // No code begins so: the bits are damaged. All of them are thrown away, so that the end is found.
        self.drop_bits(16);
        0
    }

    /// The next code, whose number is passed over.
    pub fn pass(&mut self, codes: &Codes) -> u8 {
        self.fill();
        let look = codes.looks.get((self.held >> (64 - LOOK)) as usize).copied().unwrap_or_default();
        if look.length > 0 {
            self.drop_bits(u32::from(look.length) + u32::from(look.symbol & 15));
            return look.symbol;
        }
        let symbol = self.code(codes);
        self.fill();
        self.drop_bits(u32::from(symbol & 15));
        symbol
    }

    /// A short code of a coefficient together with its value: how many zeros before it, and the value.
    pub fn coefficient(&mut self, codes: &Codes) -> Option<(u8, i16)> {
        self.fill();
        let short = codes.values.get((self.held >> (64 - LOOK)) as usize)?;
        if short.length == 0 {
            return None;
        }
        self.drop_bits(u32::from(short.length));
        Some((short.zeros, short.value))
    }
}

fn extended(bits: i32, size: u32) -> i32 {
    if size > 0 && bits < 1 << (size - 1) { bits - (1 << size) + 1 } else { bits }
}

#[derive(Clone, Copy, Default)]
struct Look {
    /// Bits of the code; 0 where it is longer than a look.
    length: u8,
    symbol: u8,
}

#[derive(Clone, Copy, Default)]
struct Short {
    /// Bits of code and value together; 0 where they are longer than a look.
    length: u8,
    zeros: u8,
    value: i16,
}

/// A table of codes (T.81, annex C).
#[derive(Clone)]
pub(super) struct Codes {
    looks: Box<[Look; LOOKS]>,
    values: Box<[Short; LOOKS]>,
    /// For each longer length: the first sixteen bits that are beyond its codes, and what to add to a code for its place.
    long: [(u32, i32); 6],
    symbols: Vec<u8>,
}

impl Codes {
    /// From the counts of each length, 1 to 16, and the symbols in their order; none where they don't make codes.
    pub fn new(counts: &[u8; 16], symbols: &[u8]) -> Option<Self> {
        let mut codes = Self {
            looks: Box::new([Look::default(); LOOKS]),
            values: Box::new([Short::default(); LOOKS]),
            long: [(0, 0); 6],
            symbols: symbols.to_vec(),
        };
        let (mut code, mut place) = (0_u32, 0_usize);
        for (length, count) in (1_u32..).zip(counts) {
            let (first, first_place) = (code, place);
            for _ in 0..*count {
                let symbol = *symbols.get(place)?;
                if length <= LOOK {
                    codes.know(code, length, symbol)?;
                }
                code += 1;
                place += 1;
            }
            if code > 1 << length {
                return None;
            }
            if let Some(slot) = length.checked_sub(LOOK + 1).and_then(|at| codes.long.get_mut(at as usize)) {
                *slot = (code << (16 - length), first_place as i32 - first as i32);
            }
            code <<= 1;
        }
        Some(codes)
    }

    fn know(&mut self, code: u32, length: u32, symbol: u8) -> Option<()> {
        let free = LOOK - length;
        let from = (code << free) as usize;
        let known = self.looks.get_mut(from..from + (1 << free))?;
        known.fill(Look { length: length as u8, symbol });
        let (zeros, size) = (symbol >> 4, u32::from(symbol & 15));
        if size == 0 || length + size > LOOK {
            return Some(());
        }
        let rest = free - size;
        for bits in 0..1_usize << size {
            let value = extended(bits as i32, size) as i16;
            let short = Short { length: (length + size) as u8, zeros, value };
            self.values.get_mut(from + (bits << rest)..from + ((bits + 1) << rest))?.fill(short);
        }
        Some(())
    }
}
