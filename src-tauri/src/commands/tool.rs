//! Figures of the shop: whether it should buy a programming tool, and its year.
use api::entry::SettingEntry;
use api::view::{ToolView, YearView};
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

#[tauri::command(async)]
pub fn year_view<R: Runtime>(app: AppHandle<R>, year: String) -> Answer<YearView> {
    Ok(workshop(&app)?.year_view(&year)?)
}
