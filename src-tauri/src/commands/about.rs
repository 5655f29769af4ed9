//! About this build.
use serde::Serialize;
use tauri::{AppHandle, Runtime};

use crate::data;

/// Shown on the settings screen, so that a user can say what they run and find their files.
#[derive(Serialize)]
pub struct About {
    version: String,
    data_folder: Option<String>,
}

#[tauri::command]
pub fn about<R: Runtime>(app: AppHandle<R>) -> About {
    let folder = data::folder(&app).ok().map(|folder| folder.display().to_string());
    About { version: app.package_info().version.to_string(), data_folder: folder }
}
