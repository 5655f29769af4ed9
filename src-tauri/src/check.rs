//! The weekly check of everything that is kept, in pieces between taps.
use std::time::Duration;

use tauri::{AppHandle, Manager, Runtime};

use crate::data::Data;

/// Between two looks whether a check is due.
const LOOK: Duration = Duration::from_secs(60);
/// Between two pieces: one in eighty of the time goes into it.
const PAUSE: Duration = Duration::from_secs(2);

/// Goes on as long as the app runs. It never opens the workshop itself: what can't be opened is for the window to say.
pub(crate) fn watch<R: Runtime>(app: AppHandle<R>) {
    std::thread::spawn(move || {
        loop {
            let workshop = app.state::<Data>().opened();
            // What a piece can't read is tried again at the next one, and said by whatever needs it.
            let more = workshop.is_some_and(|workshop| workshop.check_step().unwrap_or(false));
            std::thread::sleep(if more { PAUSE } else { LOOK });
        }
    });
}
