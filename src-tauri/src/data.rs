//! Where the shop's records lie.
use std::path::PathBuf;

use tauri::{AppHandle, Manager, Runtime};

/// Names a folder to use in place of the system's, for checks and for a second shop on one machine.
pub const FOLDER_VARIABLE: &str = "TESTIMETER_DATA";

/// The opened records.
#[derive(Default)]
pub struct Data {}

/// The folder named by `TESTIMETER_DATA`, else the system's place for this app's data. It need not exist yet.
pub fn folder<R: Runtime>(app: &AppHandle<R>) -> tauri::Result<PathBuf> {
    match std::env::var_os(FOLDER_VARIABLE) {
        Some(folder) if !folder.is_empty() => Ok(folder.into()),
        _ => app.path().app_data_dir(),
    }
}
