//! What was written, in the hands of the system: opened, shown in its folder, or handed to the phone's share sheet.
use std::path::Path;

use api::ApiError;
use tauri::ipc::Response;
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

/// Opens a file with the system's program for it.
#[tauri::command(async)]
pub fn file_open<R: Runtime>(app: AppHandle<R>, job: String, name: String) -> Answer<()> {
    let path = workshop(&app)?.written_path(&job, &name)?;
    Ok(open(&path)?)
}

/// Shows the folder that a file lies in.
#[tauri::command(async)]
pub fn folder_open<R: Runtime>(app: AppHandle<R>, job: String, name: String) -> Answer<()> {
    let path = workshop(&app)?.written_path(&job, &name)?;
    Ok(open(path.parent().unwrap_or(&path))?)
}

/// The bytes of a file, for the share sheet of a phone.
#[tauri::command(async)]
pub fn file_bytes<R: Runtime>(app: AppHandle<R>, job: String, name: String) -> Answer<Response> {
    let path = workshop(&app)?.written_path(&job, &name)?;
    let bytes = std::fs::read(&path).map_err(|source| failed("read", &path, source))?;
    Ok(Response::new(bytes))
}

#[cfg(not(any(target_os = "android", target_os = "ios")))]
fn open(path: &Path) -> Result<(), ApiError> {
    // Detached: the program that shows it lives as long as its user wants.
    ::open::that_detached(path).map_err(|source| failed("open", path, source))
}

/// A phone hands files on through its share sheet.
#[cfg(any(target_os = "android", target_os = "ios"))]
fn open(path: &Path) -> Result<(), ApiError> {
    Err(failed("open", path, std::io::ErrorKind::Unsupported.into()))
}

fn failed(doing: &'static str, path: &Path, source: std::io::Error) -> ApiError {
    ApiError::File { doing, path: path.display().to_string(), source }
}
