//! Reading at places without losing what a buffered reader already holds.

use std::io::{Error, ErrorKind, Read, Result, Seek, SeekFrom};

/// A reader that knows where it stands, so that it moves relatively: `BufReader` then keeps its buffer, which it
/// would read again at each of the many small headers after an absolute seek.
pub struct Positioned<'a, R> {
    inner: &'a mut R,
    position: u64,
    length: u64,
}

impl<'a, R: Read + Seek> Positioned<'a, R> {
    /// Finds the length and goes to the start.
    ///
    /// # Errors
    /// What the reader answers.
    pub fn new(inner: &'a mut R) -> Result<Self> {
        let length = inner.seek(SeekFrom::End(0))?;
        inner.seek(SeekFrom::Start(0))?;
        Ok(Self { inner, position: 0, length })
    }

    /// How many bytes there are.
    pub fn length(&self) -> u64 {
        self.length
    }

    /// Exactly `length` bytes from `offset` on.
    ///
    /// # Errors
    /// `UnexpectedEof` if there are fewer, and what the reader answers.
    pub fn read_at(&mut self, offset: u64, length: u64) -> Result<Vec<u8>> {
        self.read_into(offset, length, Vec::new())
    }

    /// As [`Positioned::read_at`], into the memory of `buffer`, whose content is dropped.
    ///
    /// # Errors
    /// As [`Positioned::read_at`].
    pub fn read_into(&mut self, offset: u64, length: u64, mut buffer: Vec<u8>) -> Result<Vec<u8>> {
        if offset.checked_add(length).is_none_or(|end| end > self.length) {
            return Err(ErrorKind::UnexpectedEof.into());
        }
        // What it held is written over, so that only what it grows by is filled with zeros first.
        buffer.resize(usize::try_from(length).map_err(Error::other)?, 0);
        self.fill_at(offset, &mut buffer)?;
        Ok(buffer)
    }

    /// Fills `buffer` from `offset` on.
    ///
    /// # Errors
    /// As [`Positioned::read_at`].
    pub fn fill_at(&mut self, offset: u64, buffer: &mut [u8]) -> Result<()> {
        self.go_to(offset)?;
        self.inner.read_exact(buffer)?;
        self.position = self.position.saturating_add(buffer.len() as u64);
        Ok(())
    }

    fn go_to(&mut self, offset: u64) -> Result<()> {
        // Both are within the length of a file, so the difference fits.
        self.inner.seek_relative(offset.wrapping_sub(self.position) as i64)?;
        self.position = offset;
        Ok(())
    }
}
