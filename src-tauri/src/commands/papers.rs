//! What leaves the shop: the findings report and the packet; and the progress of long work.
use api::entry::{CoverEntry, Form, PacketEntry, ReportEntry};
use api::view::{JobView, SharingView, VerificationView, WorkView};
use std::path::Path;

use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::{self, workshop};

#[tauri::command(async)]
pub fn report_write<R: Runtime>(app: AppHandle<R>, job: String, entry: ReportEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.report_write(&job, &entry)?)
}

#[tauri::command(async)]
pub fn result_message<R: Runtime>(app: AppHandle<R>, job: String, language: String) -> Answer<String> {
    Ok(workshop(&app)?.result_message(&job, &language)?)
}

#[tauri::command(async)]
pub fn photo_cover<R: Runtime>(app: AppHandle<R>, form: Form, entry: CoverEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.photo_cover(form, &entry)?)
}

#[tauri::command(async)]
pub fn packet_preview<R: Runtime>(app: AppHandle<R>, job: String, entry: PacketEntry) -> Answer<SharingView> {
    Ok(workshop(&app)?.packet_preview(&job, &entry)?)
}

#[tauri::command(async)]
pub fn packet_write<R: Runtime>(
    app: AppHandle<R>,
    job: String,
    entry: PacketEntry,
) -> Answer<VerificationView> {
    Ok(workshop(&app)?.packet_write(&job, &entry)?)
}

#[tauri::command(async)]
pub fn packet_verify<R: Runtime>(app: AppHandle<R>, path: String) -> Answer<VerificationView> {
    Ok(workshop(&app)?.packet_verify(Path::new(&path))?)
}

#[tauri::command(async)]
pub fn work_view<R: Runtime>(app: AppHandle<R>) -> Answer<WorkView> {
    let outside = data::work(&app).view();
    // While a backup comes back, the workshop is closed and would keep everybody waiting who asks for it.
    if outside.what.is_empty() { Ok(workshop(&app)?.work_view()) } else { Ok(outside) }
}

#[tauri::command(async)]
pub fn work_cancel<R: Runtime>(app: AppHandle<R>) -> Answer<()> {
    let outside = data::work(&app);
    if outside.view().what.is_empty() {
        workshop(&app)?.work_cancel();
    } else {
        outside.cancel();
    }
    Ok(())
}
