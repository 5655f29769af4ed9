//! Whether a log's wall clock ran as the time that passed did. What doesn't fit is a doubt, never corrected.

use super::says::Doubt;
use crate::{Moment, moment};

/// A log's clock while its records are read.
#[derive(Debug, Default)]
pub struct Clock {
    /// Wall time of every record in milliseconds since 1970, in order.
    pub walls: Vec<i64>,
    /// How often the device was started anew between two records. That is stated, not doubted.
    pub restarts: u64,
    /// Sequence of the record and what doesn't fit there.
    pub doubts: Vec<(u64, Doubt)>,
    last: Option<Last>,
}

#[derive(Debug)]
struct Last {
    boot: String,
    wall: i64,
    elapsed: i64,
    /// Wall minus elapsed, at the start or at the last doubt: many small turns add up.
    offset: i64,
}

impl Clock {
    /// Takes up the moment of the next record, which has place `sequence`.
    pub fn tick(&mut self, sequence: u64, moment: &Moment) {
        let wall = moment::unix_ms(&moment.wall).unwrap_or_default();
        let elapsed = i64::try_from(moment.elapsed_ms).unwrap_or(i64::MAX);
        let mut offset = wall.saturating_sub(elapsed);
        self.walls.push(wall);
        if let Some(last) = self.last.take() {
            if last.boot == moment.boot {
                let (what, kept) = within_one_start(&last, wall, elapsed, offset);
                offset = kept;
                self.doubts.extend(what.map(|what| (sequence, what)));
            } else {
                self.restarts = self.restarts.saturating_add(1);
                self.doubts.extend(after_a_start(&last, wall).map(|what| (sequence, what)));
            }
        }
        self.last = Some(Last { boot: moment.boot.clone(), wall, elapsed, offset });
    }
}

/// What is doubtful, and the offset to compare the next record with.
fn within_one_start(last: &Last, wall: i64, elapsed: i64, offset: i64) -> (Option<Doubt>, i64) {
    if elapsed < last.elapsed {
        return (Some(Doubt::LessTimePassed), offset);
    }
    let turned = offset.saturating_sub(last.offset);
    if turned.abs() > ALLOWED_MS {
        return (Some(Doubt::ClockMoved { forward: turned > 0, ms: turned.saturating_abs() }), offset);
    }
    let back = last.wall.saturating_sub(wall);
    let what = (back > SMALL_STEP_MS).then_some(Doubt::ClockWentBack { ms: back });
    (what, last.offset)
}

fn after_a_start(last: &Last, wall: i64) -> Option<Doubt> {
    let back = last.wall.saturating_sub(wall);
    (back > SMALL_STEP_MS).then_some(Doubt::ClockBackAfterStart { ms: back })
}

/// More than this between two clocks is doubtful: a minute, as for photos (our judgement).
pub const ALLOWED_MS: i64 = 60_000;

/// Network time sets a clock back by parts of a second; that is no doubt.
const SMALL_STEP_MS: i64 = 1000;

#[cfg(test)]
mod tests {
    use super::*;

    fn doubts(moments: &[(&str, &str, u64)]) -> (Vec<u64>, u64) {
        let mut clock = Clock::default();
        for (sequence, (boot, time, elapsed_ms)) in (0..).zip(moments) {
            let wall = format!("2031-04-05T{time}.000Z");
            clock.tick(sequence, &Moment { wall, elapsed_ms: *elapsed_ms, boot: (*boot).into() });
        }
        (clock.doubts.iter().map(|(sequence, _)| *sequence).collect(), clock.restarts)
    }

    #[test]
    fn a_clock_that_runs_is_not_doubted_and_a_new_start_is_only_counted() {
        let fine =
            [("a", "10:00:00", 0), ("a", "10:00:59", 0), ("b", "11:00:00", 5), ("b", "11:01:00", 60_005)];
        assert_eq!(doubts(&fine), (vec![], 1));
    }

    #[test]
    fn turned_clocks_are_doubted_where_they_were_turned() {
        assert_eq!(doubts(&[("a", "10:00:00", 0), ("a", "10:01:01", 0)]).0, [1]);
        assert_eq!(doubts(&[("a", "10:00:00", 0), ("a", "09:58:00", 0)]).0, [1]);
        assert_eq!(doubts(&[("a", "10:00:00", 0), ("a", "09:59:58", 0)]).0, [1], "back by two seconds");
        assert_eq!(doubts(&[("a", "10:00:00", 9), ("a", "10:00:00", 8)]).0, [1], "less time has passed");
        assert_eq!(doubts(&[("a", "10:00:00", 0), ("b", "09:00:00", 0)]).0, [1], "back over a new start");
        let little_by_little: Vec<_> = ["10:00:00", "10:00:40", "10:01:20"].map(|time| ("a", time, 0)).into();
        assert_eq!(doubts(&little_by_little).0, [2]);
    }
}
