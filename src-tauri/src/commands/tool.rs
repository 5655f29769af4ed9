//! Whether the shop should buy a programming tool.
use api::entry::SettingEntry;
use api::view::ToolView;
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn tool_view<R: Runtime>(app: AppHandle<R>) -> Answer<ToolView> {
    Ok(workshop(&app)?.tool_view()?)
}

#[tauri::command(async)]
pub fn tool_setting_keep<R: Runtime>(app: AppHandle<R>, entry: SettingEntry) -> Answer<ToolView> {
    Ok(workshop(&app)?.tool_setting_keep(&entry)?)
}
