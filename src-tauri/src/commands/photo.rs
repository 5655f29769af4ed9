//! Photos, and what the camera was opened for.
use api::ErrorView;
use api::entry::{
    CameraIntent, Form, FoundPhotoEntry, LabelEntry, MarksEntry, PaperEntry, PhotoEntry, PhotoPurpose,
    SeenEntry,
};
use api::view::{FoundPhotoView, JobPhotoView, JobView, LabelView, PaperView, PhotoView, ProposalView};
use tauri::ipc::{InvokeBody, Request};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

/// The bytes are the raw body, exactly as the window received them; what they are stands in a header as JSON.
#[tauri::command(async)]
pub fn photo_keep<R: Runtime>(app: AppHandle<R>, request: Request<'_>) -> Answer<PhotoView> {
    let (header, bytes) = sent(&request)?;
    let entry: PhotoEntry = serde_json::from_slice(header).map_err(|error| unreadable(&error))?;
    Ok(workshop(&app)?.photo_keep(&entry, bytes)?)
}

#[tauri::command(async)]
pub fn label_read<R: Runtime>(app: AppHandle<R>, request: Request<'_>) -> Answer<Option<LabelView>> {
    let (header, bytes) = sent(&request)?;
    let entry: LabelEntry = serde_json::from_slice(header).map_err(|error| unreadable(&error))?;
    Ok(workshop(&app)?.label_read(&entry, bytes)?)
}

/// What the header says of the raw body, and the body.
fn sent<'r>(request: &'r Request<'_>) -> Answer<(&'r [u8], &'r [u8])> {
    let InvokeBody::Raw(bytes) = request.body() else { return Err(unreadable(&"the body is no raw bytes")) };
    let header =
        request.headers().get("x-photo").ok_or_else(|| unreadable(&"the header x-photo is missing"))?;
    Ok((header.as_bytes(), bytes))
}

#[tauri::command(async)]
pub fn photo_view<R: Runtime>(app: AppHandle<R>, job: String, photo: String) -> Answer<PhotoView> {
    Ok(workshop(&app)?.photo_view(&job, &photo)?)
}

#[tauri::command(async)]
pub fn photo_seen<R: Runtime>(app: AppHandle<R>, job: String, entry: SeenEntry) -> Answer<ProposalView> {
    Ok(workshop(&app)?.photo_seen(&job, &entry)?)
}

#[tauri::command(async)]
pub fn paper_read<R: Runtime>(app: AppHandle<R>, job: String, entry: PaperEntry) -> Answer<PaperView> {
    Ok(workshop(&app)?.paper_read(&job, &entry)?)
}

#[tauri::command(async)]
pub fn job_photos<R: Runtime>(app: AppHandle<R>, job: String) -> Answer<Vec<JobPhotoView>> {
    Ok(workshop(&app)?.job_photos(&job)?)
}

#[tauri::command(async)]
pub fn photo_mark<R: Runtime>(app: AppHandle<R>, form: Form, entry: MarksEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.photo_mark(form, &entry)?)
}

#[tauri::command(async)]
pub fn camera_intent_keep<R: Runtime>(
    app: AppHandle<R>,
    job: String,
    purpose: PhotoPurpose,
    form: String,
) -> Answer<()> {
    Ok(workshop(&app)?.camera_intent_keep(&CameraIntent { job, purpose, form })?)
}

#[tauri::command(async)]
pub fn camera_intent_take<R: Runtime>(app: AppHandle<R>) -> Answer<Option<CameraIntent>> {
    Ok(workshop(&app)?.camera_intent_take()?)
}

#[tauri::command(async)]
pub fn found_photos<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<FoundPhotoView>> {
    Ok(workshop(&app)?.found_photos()?)
}

#[tauri::command(async)]
pub fn found_photo_attach<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: FoundPhotoEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.found_photo_attach(form, &entry)?)
}

#[tauri::command(async)]
pub fn found_photo_destroy<R: Runtime>(app: AppHandle<R>, sha256: String) -> Answer<Vec<FoundPhotoView>> {
    Ok(workshop(&app)?.found_photo_destroy(&sha256)?)
}

/// A request the window should never make.
fn unreadable(reason: &dyn std::fmt::Display) -> ErrorView {
    ErrorView {
        code: "request_unreadable".to_owned(),
        values: Default::default(),
        detail: reason.to_string(),
    }
}
