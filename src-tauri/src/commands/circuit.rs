//! The circuit, the meter, the pins and the cautions of a job.
use api::entry::{MeterEntry, PinEntry};
use api::view::{CircuitRow, JobView, MeterView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn meters<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<MeterView>> {
    Ok(workshop(&app)?.meters()?)
}

#[tauri::command(async)]
pub fn meter_choose<R: Runtime>(app: AppHandle<R>, job: String, entry: MeterEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.meter_choose(&job, &entry)?)
}

#[tauri::command(async)]
pub fn circuits<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<CircuitRow>> {
    Ok(workshop(&app)?.circuits()?)
}

#[tauri::command(async)]
pub fn circuit_choose<R: Runtime>(app: AppHandle<R>, job: String, circuit: String) -> Answer<JobView> {
    Ok(workshop(&app)?.circuit_choose(&job, &circuit)?)
}

#[tauri::command(async)]
pub fn pin_keep<R: Runtime>(app: AppHandle<R>, job: String, entry: PinEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.pin_keep(&job, &entry)?)
}

#[tauri::command(async)]
pub fn caution_acknowledge<R: Runtime>(app: AppHandle<R>, job: String, caution: String) -> Answer<JobView> {
    Ok(workshop(&app)?.caution_acknowledge(&job, &caution)?)
}

#[tauri::command(async)]
pub fn test_unreachable<R: Runtime>(
    app: AppHandle<R>,
    job: String,
    test: String,
    unreachable: bool,
) -> Answer<JobView> {
    Ok(workshop(&app)?.test_unreachable(&job, &test, unreachable)?)
}
