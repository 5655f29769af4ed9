//! Estimate, approval, parts and invoice.
use api::entry::{ApprovalEntry, Form, LinesEntry, PartEntry};
use api::view::{JobView, TotalsView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn lines_total<R: Runtime>(app: AppHandle<R>, entry: LinesEntry) -> Answer<TotalsView> {
    Ok(workshop(&app)?.lines_total(&entry)?)
}

#[tauri::command(async)]
pub fn estimate_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: LinesEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.estimate_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn approval_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: ApprovalEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.approval_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn part_receive<R: Runtime>(app: AppHandle<R>, form: Form, entry: PartEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.part_receive(form, &entry)?)
}

#[tauri::command(async)]
pub fn invoice_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: LinesEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.invoice_keep(form, &entry)?)
}
