//! Lines that the shop writes again and again: used before, or pinned.

use super::estimates::line;
use crate::entry::LinePinEntry;
use crate::view::OwnLineView;
use crate::{ApiError, Workshop, settings, show};
use job::own_lines::{OwnLine, own_lines, same};
use money::Line;

const PINNED: &str = "pinned_lines";
/// Jobs whose lines are looked at, those opened last: a shop of any size opens the list at once (judgment).
const JOBS: u32 = 300;
/// More than this are no help any more (judgment).
const MOST_PINNED: usize = 40;

impl Workshop {
    /// Pinned lines, then those of the jobs opened last, newest first.
    ///
    /// # Errors
    /// A store or a setting that can't be read.
    pub fn own_lines(&self) -> Result<Vec<OwnLineView>, ApiError> {
        let used = self.newest_facts(JOBS)?.into_iter().flat_map(|(_, facts)| facts.lines).collect();
        Ok(own_lines(&self.pinned_lines()?, used).iter().map(view).collect())
    }

    /// Pins a line as it was typed, in place of an earlier one with its kind and words, or lets it go.
    ///
    /// # Errors
    /// A line that can't be read or stand on an estimate; more than forty.
    pub fn line_pin(&self, entry: &LinePinEntry) -> Result<Vec<OwnLineView>, ApiError> {
        let line = line(&entry.line, self.marks())?;
        line.check()?;
        let mut pinned = self.pinned_lines()?;
        pinned.retain(|known| !same(known, &line));
        if entry.pinned {
            pinned.push(line);
        }
        if pinned.len() > MOST_PINNED {
            return Err(ApiError::refused("too_many_pinned"));
        }
        self.store.set_setting(PINNED, &settings::written(PINNED, &pinned)?)?;
        self.own_lines()
    }

    fn pinned_lines(&self) -> Result<Vec<Line>, ApiError> {
        let kept = self.store.setting(PINNED)?;
        kept.map_or_else(|| Ok(Vec::new()), |value| settings::read(PINNED, value))
    }
}

fn view(own: &OwnLine) -> OwnLineView {
    OwnLineView { line: show::line(&own.line), pinned: own.pinned, jobs: own.jobs }
}
