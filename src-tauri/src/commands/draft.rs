//! Forms as they stand, before anything of them becomes a record.
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn draft_keep<R: Runtime>(app: AppHandle<R>, job: String, form: String, text: String) -> Answer<()> {
    Ok(workshop(&app)?.draft_keep(&job, &form, &text)?)
}

#[tauri::command(async)]
pub fn draft_view<R: Runtime>(app: AppHandle<R>, job: String, form: String) -> Answer<String> {
    Ok(workshop(&app)?.draft_view(&job, &form)?)
}
