//! The files of a zip in the order in which they stand there, as few bytes as a list of hundreds of thousands allows.

use super::container::{self, Entry};

/// A list of entries that lie one behind the other from the zip's first byte on. A name is kept as what it doesn't
/// share with the one before, and where a file starts follows from those before: about 25 bytes for a record.
#[derive(Debug, Default)]
pub struct Entries {
    /// Per entry: how many bytes of the name are shared, how many follow, size and CRC; then the bytes that follow.
    packed: Vec<u8>,
    count: u64,
    last: String,
    end: u64,
}

impl Entries {
    /// Takes up the next entry, which must start at [`Entries::end`].
    pub fn push(&mut self, entry: &Entry) {
        let shared = shared(&self.last, &entry.name);
        let rest = entry.name.get(shared..).unwrap_or_default();
        // A header holds at most 65,535 bytes of name, so both lengths fit.
        self.packed.extend_from_slice(&(shared as u16).to_le_bytes());
        self.packed.extend_from_slice(&(rest.len() as u16).to_le_bytes());
        self.packed.extend_from_slice(&entry.size.to_le_bytes());
        self.packed.extend_from_slice(&entry.crc.to_le_bytes());
        self.packed.extend_from_slice(rest.as_bytes());
        self.last.truncate(shared);
        self.last.push_str(rest);
        self.count = self.count.saturating_add(1);
        self.end = entry.end();
    }

    /// How many.
    pub fn count(&self) -> u64 {
        self.count
    }

    /// Where the next file starts, or the directory.
    pub fn end(&self) -> u64 {
        self.end
    }

    /// All, from the first.
    pub fn iter(&self) -> Iter<'_> {
        Iter { rest: &self.packed, name: String::new(), offset: 0 }
    }

    /// Hands out the central directory and everything after it piece by piece, each of a header or so.
    ///
    /// # Errors
    /// What `take` answers.
    pub fn directory<E>(&self, mut take: impl FnMut(&[u8]) -> Result<(), E>) -> Result<(), E> {
        let mut size = 0_u64;
        for entry in self.iter() {
            let header = entry.central_header();
            size = size.saturating_add(header.len() as u64);
            take(&header)?;
        }
        take(&container::directory_end(self.count, size, self.end))
    }
}

/// Goes through [`Entries`].
pub struct Iter<'a> {
    rest: &'a [u8],
    name: String,
    offset: u64,
}

impl Iterator for Iter<'_> {
    type Item = Entry;

    fn next(&mut self) -> Option<Entry> {
        let (shared, rest) = self.rest.split_first_chunk()?;
        let (length, rest) = rest.split_first_chunk()?;
        let (size, rest) = rest.split_first_chunk()?;
        let (crc, rest) = rest.split_first_chunk()?;
        let (name, rest) = rest.split_at_checked(usize::from(u16::from_le_bytes(*length)))?;
        self.rest = rest;
        self.name.truncate(usize::from(u16::from_le_bytes(*shared)));
        self.name.push_str(std::str::from_utf8(name).ok()?);
        let entry = Entry {
            name: self.name.clone(),
            size: u64::from_le_bytes(*size),
            crc: u32::from_le_bytes(*crc),
            offset: self.offset,
        };
        self.offset = entry.end();
        Some(entry)
    }
}

/// How many bytes two names begin with alike, cut where a character begins.
fn shared(before: &str, name: &str) -> usize {
    let alike = before.bytes().zip(name.bytes()).take_while(|(a, b)| a == b).count();
    (0..=alike).rfind(|at| name.is_char_boundary(*at)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_put_in_comes_out_and_records_take_few_bytes() {
        let record = |number: u32| format!("packet-job/data/logs/phone/records/{number:06}.json");
        let mut names =
            vec!["a".to_owned(), "a".into(), "é".into(), "è/data".into(), String::new(), "b".repeat(65_000)];
        names.push("b".repeat(65_000) + "c");
        names.extend((0..10_000).map(record));
        let (mut entries, mut wanted) = (Entries::default(), Vec::new());
        for (number, name) in (0_u32..).zip(names) {
            let size = if number == 3 { 1 << 33 } else { u64::from(number) };
            let entry = Entry { name, size, crc: !number, offset: entries.end() };
            entries.push(&entry);
            wanted.push(entry);
        }
        assert_eq!(entries.iter().collect::<Vec<_>>(), wanted);
        assert_eq!(entries.count(), wanted.len() as u64);
        assert!(entries.packed.len() < 65_200 + 10_000 * 25, "{}", entries.packed.len());
    }
}
