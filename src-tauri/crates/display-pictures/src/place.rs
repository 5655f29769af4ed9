//! Where signs stand: in their row, and in a picture in memory.

/// One sign as it stands in its row; lengths in digit heights, y from the digits' top down.
#[derive(Debug, Clone)]
pub struct Glyph {
    /// What the sign is.
    pub letter: char,
    /// Left, top, right, bottom of its ink.
    pub ink: [f32; 4],
    /// Places that have to be seen for the sign to be read.
    pub probes: Vec<(f32, f32)>,
}

/// Where a row's own lengths come to lie in a picture in memory.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    /// Dots at the row's left edge.
    pub left: f32,
    /// Dots at the digits' top.
    pub top: f32,
    /// Dots for one digit height.
    pub scale: f32,
}

impl Place {
    /// Dots of a place in the row.
    #[must_use]
    pub fn dots(&self, x: f32, y: f32) -> (f32, f32) {
        (self.left + x * self.scale, self.top + y * self.scale)
    }
}
