//! The programming of a module: the route taken and what came of it.
use api::entry::{Form, ProgrammedEntry, ProgrammingEntry, QuoteEntry, SettingEntry};
use api::view::{JobView, ProgrammingSettingsView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn programming_decide<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: ProgrammingEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.programming_decide(form, &entry)?)
}

#[tauri::command(async)]
pub fn programming_report<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: ProgrammedEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.programming_report(form, &entry)?)
}

#[tauri::command(async)]
pub fn programming_quote_keep<R: Runtime>(
    app: AppHandle<R>,
    job: String,
    entry: QuoteEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.programming_quote_keep(&job, &entry)?)
}

#[tauri::command(async)]
pub fn programming_settings<R: Runtime>(app: AppHandle<R>) -> Answer<ProgrammingSettingsView> {
    Ok(workshop(&app)?.programming_settings()?)
}

#[tauri::command(async)]
pub fn programming_setting_keep<R: Runtime>(
    app: AppHandle<R>,
    entry: SettingEntry,
) -> Answer<ProgrammingSettingsView> {
    Ok(workshop(&app)?.programming_setting_keep(&entry)?)
}

#[tauri::command(async)]
pub fn appointment_export<R: Runtime>(app: AppHandle<R>, job: String) -> Answer<String> {
    Ok(workshop(&app)?.appointment_export(&job)?)
}
