//! Jobs: the list, opening one, one as it stands, handing it over.
use api::entry::HandOverEntry;
use api::view::{JobRow, JobView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn jobs_search<R: Runtime>(app: AppHandle<R>, query: String) -> Answer<Vec<JobRow>> {
    Ok(workshop(&app)?.jobs_search(&query)?)
}

#[tauri::command(async)]
pub fn job_open<R: Runtime>(app: AppHandle<R>) -> Answer<JobView> {
    Ok(workshop(&app)?.job_open()?)
}

#[tauri::command(async)]
pub fn job_view<R: Runtime>(app: AppHandle<R>, job: String) -> Answer<JobView> {
    Ok(workshop(&app)?.job_view(&job)?)
}

#[tauri::command(async)]
pub fn hand_over<R: Runtime>(app: AppHandle<R>, job: String, entry: HandOverEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.hand_over(&job, &entry)?)
}
