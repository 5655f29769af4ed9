//! Where the shop's records lie, and the one handle on them.
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use api::{ApiError, ErrorView, Work, Workshop};
use tauri::{AppHandle, Manager, Runtime};

/// Names a folder to use in place of the system's, for checks and for a second shop on one machine.
pub const FOLDER_VARIABLE: &str = "TESTIMETER_DATA";

/// The open workshop. It is opened by the first command that needs it and not when the app starts: a folder that
/// can't be opened is then said in the window, with its remedy, and tried again by the next command.
///
/// Beside it stands the long work that goes on without a workshop: reading a backup, and bringing one back.
#[derive(Default)]
pub struct Data(Mutex<Option<Arc<Workshop>>>, Arc<Work>);

impl Data {
    /// The workshop if a command has opened it.
    pub(crate) fn opened(&self) -> Option<Arc<Workshop>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// The workshop of this app.
///
/// # Errors
/// The folder can't be found or opened: another copy has it open, it can't be written to, a newer version wrote it.
pub fn workshop<R: Runtime>(app: &AppHandle<R>) -> Result<Arc<Workshop>, ErrorView> {
    let data = app.state::<Data>();
    // A panic elsewhere leaves the handle itself whole: it is only ever set once.
    let mut open = data.0.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(workshop) = open.as_ref() {
        return Ok(Arc::clone(workshop));
    }
    let workshop = Arc::new(Workshop::open(&folder(app)?)?);
    Ok(Arc::clone(open.insert(workshop)))
}

/// The work on a backup while no workshop is needed, or none is open.
pub fn work<R: Runtime>(app: &AppHandle<R>) -> Arc<Work> {
    Arc::clone(&app.state::<Data>().1)
}

/// Does something with the folder while nobody has it open; the next command opens it again.
///
/// # Errors
/// Those of the work.
pub fn closed<R: Runtime, T>(
    app: &AppHandle<R>,
    work: impl FnOnce(&std::path::Path) -> Result<T, ApiError>,
) -> Result<T, ErrorView> {
    let data = app.state::<Data>();
    let mut open = data.0.lock().unwrap_or_else(PoisonError::into_inner);
    // A command that still runs holds a handle of its own; then the folder's lock refuses, and the user tries again.
    *open = None;
    Ok(work(&folder(app)?)?)
}

/// The folder named by `TESTIMETER_DATA`, else the system's place for this app's data. It need not exist yet.
fn folder<R: Runtime>(app: &AppHandle<R>) -> Result<PathBuf, ApiError> {
    match std::env::var_os(FOLDER_VARIABLE) {
        Some(folder) if !folder.is_empty() => Ok(folder.into()),
        _ => app.path().app_data_dir().map_err(|error| ApiError::File {
            doing: "find",
            path: "the folder for this app's data".to_owned(),
            source: std::io::Error::other(error),
        }),
    }
}
