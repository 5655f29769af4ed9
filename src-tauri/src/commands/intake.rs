//! The intake: vehicle, complaint and customer.
use api::entry::{Form, IntakeEntry};
use api::view::{JobView, VinView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn vin_check<R: Runtime>(app: AppHandle<R>, text: String) -> Answer<VinView> {
    Ok(workshop(&app)?.vin_check(&text))
}

#[tauri::command(async)]
pub fn intake_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: IntakeEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.intake_keep(form, &entry)?)
}
