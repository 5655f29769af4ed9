//! Long work: what is being done, how far it is, and a wish to stop.

use crate::ApiError;
use crate::view::WorkView;
use evidence::packet::Progress;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};

/// Progress of the work that is going on, if any, and the wish to stop it. A workshop has its own; work on a backup while no
/// workshop is open is handed one.
#[derive(Debug, Default)]
pub struct Work {
    shown: Mutex<WorkView>,
    cancelled: AtomicBool,
}

impl Work {
    /// Begins; an old wish to stop is forgotten.
    pub fn begin(&self, what: &str) {
        self.cancelled.store(false, Ordering::Release);
        self.show(what, 0, 0);
    }

    /// Shows which of several things is being done.
    ///
    /// # Errors
    /// [`ApiError::Cancelled`] when the user wants to stop.
    pub fn count(&self, what: &str, done: usize, total: usize) -> Result<(), ApiError> {
        let small = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        self.show(what, small(done), small(total));
        if self.cancelled.load(Ordering::Acquire) { Err(ApiError::Cancelled) } else { Ok(()) }
    }

    /// Shows how many bytes are done, in kibibytes. Returns false when the user wants to stop.
    pub(crate) fn step(&self, what: &str, done: u64, total: u64) -> bool {
        let small = |n: u64| u32::try_from(n / 1024).unwrap_or(u32::MAX);
        self.show(what, small(done), small(total));
        !self.cancelled.load(Ordering::Acquire)
    }

    /// Ends.
    pub fn end(&self) {
        self.show("", 0, 0);
    }

    /// The wish to stop.
    pub fn cancel(&self) {
        self.cancelled.store(true, Ordering::Release);
    }

    /// What is going on.
    pub fn view(&self) -> WorkView {
        self.shown.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// As [`Work::step`], in the form in which the rooms below are told.
    pub(crate) fn watch(&self, what: &str, progress: Progress) -> ControlFlow<()> {
        if self.step(what, progress.done, progress.total) {
            ControlFlow::Continue(())
        } else {
            ControlFlow::Break(())
        }
    }

    fn show(&self, what: &str, done: u32, total: u32) {
        *self.shown.lock().unwrap_or_else(PoisonError::into_inner) =
            WorkView { what: what.to_owned(), done, total };
    }
}
