//! The check of everything that is kept: at one go when somebody asks, otherwise once a week in pieces that nobody notices.

use crate::view::CheckView;
use crate::{ApiError, Workshop, settings};
use chrono::{DateTime, TimeDelta};
use serde::{Deserialize, Serialize};
use std::ops::ControlFlow;
use std::sync::PoisonError;
use std::time::{Duration, Instant};
use store::CheckState;

const SETTING: &str = "check";
/// How long one piece may take, while somebody may be about to tap.
const PIECE: Duration = Duration::from_millis(25);
/// Pieces between two times that the place is kept: an app that is ended goes on from there.
const KEPT_EVERY: u32 = 50;
const DAYS_BETWEEN: i64 = 7;

/// The last whole check, and how far the next one is.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
struct Kept {
    /// Wall time when the last whole check ended; empty before the first.
    finished: String,
    /// What it found.
    found: u64,
    /// The check that is going on.
    going_on: Option<CheckState>,
}

/// The check in pieces, in memory.
#[derive(Debug, Default)]
pub(crate) struct Pieces {
    state: Option<CheckState>,
    unkept: u32,
}

impl Workshop {
    /// Reads every record, journal and photo of the shop and holds it against its hash and signature. What doesn't hold is
    /// put right from the other copy where that one holds, and becomes a notice.
    ///
    /// # Errors
    /// Cancelled; a database that is damaged itself; files that can't be read.
    pub fn shop_check(&self) -> Result<CheckView, ApiError> {
        self.work.begin("check_shop");
        let checked = self.store.check(&mut |progress| {
            let go_on = self.work.step("check_shop", progress.done, progress.total);
            if go_on { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
        });
        self.work.end();
        let report = checked?;
        let found = report.found.len() as u64;
        self.notice_all(&report.found);
        self.fold_waiting()?;
        let kept = Kept { finished: self.clock.moment().wall, found, going_on: None };
        self.keep_check(&kept)?;
        self.pieces.lock().unwrap_or_else(PoisonError::into_inner).state = None;
        let small = |count: u64| u32::try_from(count).unwrap_or(u32::MAX);
        Ok(CheckView {
            finished: kept.finished,
            found: small(found),
            records: small(report.records),
            not_vouched: small(report.not_vouched),
            photos: small(report.originals),
        })
    }

    /// Does a piece of the weekly check, if one is due. Returns whether more is to be done soon.
    ///
    /// # Errors
    /// Those of the store.
    pub fn check_step(&self) -> Result<bool, ApiError> {
        let mut pieces = self.pieces.lock().unwrap_or_else(PoisonError::into_inner);
        let mut kept = self.kept_check()?;
        let Some(mut state) =
            pieces.state.take().or_else(|| kept.going_on.clone()).or_else(|| self.due(&kept))
        else {
            return Ok(false);
        };
        let begun = Instant::now();
        while begun.elapsed() < PIECE && !state.done() {
            self.store.check_piece(&mut state)?;
        }
        self.notice_findings();
        let done = state.done();
        pieces.unkept = pieces.unkept.saturating_add(1);
        if done {
            kept = Kept { finished: self.clock.moment().wall, found: state.found, going_on: None };
            self.keep_check(&kept)?;
        } else {
            if pieces.unkept >= KEPT_EVERY {
                kept.going_on = Some(state.clone());
                self.keep_check(&kept)?;
                pieces.unkept = 0;
            }
            pieces.state = Some(state);
        }
        Ok(!done)
    }

    /// When everything was last read, and what that found.
    pub(crate) fn check_view(&self) -> Result<CheckView, ApiError> {
        let kept = self.kept_check()?;
        let found = u32::try_from(kept.found).unwrap_or(u32::MAX);
        Ok(CheckView { finished: kept.finished, found, ..CheckView::default() })
    }

    /// A new check where the last one is a week old, or the clock was set back behind it.
    fn due(&self, kept: &Kept) -> Option<CheckState> {
        let now = DateTime::parse_from_rfc3339(&self.clock.moment().wall).ok()?;
        let last = DateTime::parse_from_rfc3339(&kept.finished).ok();
        let old = last.is_none_or(|last| {
            let age = now.signed_duration_since(last);
            age >= TimeDelta::days(DAYS_BETWEEN) || age < TimeDelta::zero()
        });
        old.then(CheckState::default)
    }

    fn kept_check(&self) -> Result<Kept, ApiError> {
        let kept = self.store.setting(SETTING)?;
        Ok(kept.and_then(|kept| serde_json::from_value(kept).ok()).unwrap_or_default())
    }

    fn keep_check(&self, kept: &Kept) -> Result<(), ApiError> {
        Ok(self.store.set_setting(SETTING, &settings::written(SETTING, kept)?)?)
    }
}
