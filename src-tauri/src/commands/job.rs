//! Jobs: the list with what is noticed, opening one, one as it stands, handing it over.
use api::entry::{Form, HandOverEntry, JobsEntry};
use api::view::{JobView, JobsView, NoticeView, TimelineEntry};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn jobs_search<R: Runtime>(app: AppHandle<R>, entry: JobsEntry) -> Answer<JobsView> {
    Ok(workshop(&app)?.jobs_search(&entry)?)
}

#[tauri::command(async)]
pub fn notices_view<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<NoticeView>> {
    Ok(workshop(&app)?.notices_view()?)
}

#[tauri::command(async)]
pub fn notice_acknowledge<R: Runtime>(app: AppHandle<R>, id: String) -> Answer<Vec<NoticeView>> {
    Ok(workshop(&app)?.notice_acknowledge(&id)?)
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
pub fn records_take_in<R: Runtime>(app: AppHandle<R>, job: String) -> Answer<JobView> {
    Ok(workshop(&app)?.records_take_in(&job)?)
}

#[tauri::command(async)]
pub fn timeline_page<R: Runtime>(app: AppHandle<R>, job: String, before: u32) -> Answer<Vec<TimelineEntry>> {
    Ok(workshop(&app)?.timeline_page(&job, before)?)
}

#[tauri::command(async)]
pub fn hand_over<R: Runtime>(app: AppHandle<R>, form: Form, entry: HandOverEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.hand_over(form, &entry)?)
}
