//! A finished job to look at, in a shop of its own.
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data;

#[tauri::command(async)]
pub fn sample_view<R: Runtime>(app: AppHandle<R>) -> Answer<bool> {
    Ok(data::in_sample(&app))
}

#[tauri::command(async)]
pub fn sample_enter<R: Runtime>(app: AppHandle<R>) -> Answer<String> {
    data::enter_sample(&app)
}

#[tauri::command(async)]
pub fn sample_leave<R: Runtime>(app: AppHandle<R>) -> Answer<()> {
    data::leave_sample(&app)
}
