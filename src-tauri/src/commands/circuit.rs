//! The circuit, the meter, the pins and the cautions of a job.
use std::collections::BTreeMap;

use api::entry::{BlocksEntry, CircuitsEntry, Form, MeterEntry, OwnCircuitEntry, PinEntry};
use api::view::{BlocksView, CircuitRow, JobView, MeterView, OwnCircuitCheckView, OwnCircuitRow, Picture};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn meters<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<MeterView>> {
    Ok(workshop(&app)?.meters()?)
}

#[tauri::command(async)]
pub fn meter_choose<R: Runtime>(app: AppHandle<R>, form: Form, entry: MeterEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.meter_choose(form, &entry)?)
}

#[tauri::command(async)]
pub fn circuits<R: Runtime>(app: AppHandle<R>, entry: CircuitsEntry) -> Answer<Vec<CircuitRow>> {
    Ok(workshop(&app)?.circuits(&entry)?)
}

#[tauri::command(async)]
pub fn circuit_picture<R: Runtime>(app: AppHandle<R>, circuit: String, language: String) -> Answer<Picture> {
    Ok(workshop(&app)?.circuit_picture(&circuit, &language)?)
}

#[tauri::command(async)]
pub fn circuit_choose<R: Runtime>(app: AppHandle<R>, form: Form, circuit: String) -> Answer<JobView> {
    Ok(workshop(&app)?.circuit_choose(form, &circuit)?)
}

#[tauri::command(async)]
pub fn circuit_blocks<R: Runtime>(app: AppHandle<R>) -> Answer<BlocksView> {
    Ok(workshop(&app)?.circuit_blocks()?)
}

#[tauri::command(async)]
pub fn circuit_compose<R: Runtime>(app: AppHandle<R>, form: Form, entry: BlocksEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.circuit_compose(form, &entry)?)
}

#[tauri::command(async)]
pub fn pin_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: PinEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.pin_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn caution_acknowledge<R: Runtime>(app: AppHandle<R>, form: Form, caution: String) -> Answer<JobView> {
    Ok(workshop(&app)?.caution_acknowledge(form, &caution)?)
}

#[tauri::command(async)]
pub fn test_unreachable<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    test: String,
    unreachable: bool,
) -> Answer<JobView> {
    Ok(workshop(&app)?.test_unreachable(form, &test, unreachable)?)
}

#[tauri::command(async)]
pub fn own_circuits<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<OwnCircuitRow>> {
    Ok(workshop(&app)?.own_circuits()?)
}

#[tauri::command(async)]
pub fn own_circuit_view<R: Runtime>(app: AppHandle<R>, circuit: String) -> Answer<OwnCircuitEntry> {
    Ok(workshop(&app)?.own_circuit_view(&circuit)?)
}

#[tauri::command(async)]
pub fn own_circuit_check<R: Runtime>(
    app: AppHandle<R>,
    entry: OwnCircuitEntry,
    state: BTreeMap<String, String>,
) -> Answer<OwnCircuitCheckView> {
    Ok(workshop(&app)?.own_circuit_check(&entry, &state))
}

#[tauri::command(async)]
pub fn own_circuit_keep<R: Runtime>(
    app: AppHandle<R>,
    circuit: String,
    entry: OwnCircuitEntry,
) -> Answer<Vec<OwnCircuitRow>> {
    Ok(workshop(&app)?.own_circuit_keep(&circuit, &entry)?)
}

#[tauri::command(async)]
pub fn own_circuit_remove<R: Runtime>(app: AppHandle<R>, circuit: String) -> Answer<Vec<OwnCircuitRow>> {
    Ok(workshop(&app)?.own_circuit_remove(&circuit)?)
}

#[tauri::command(async)]
pub fn own_circuit_export<R: Runtime>(app: AppHandle<R>, circuit: String) -> Answer<String> {
    Ok(workshop(&app)?.own_circuit_export(&circuit)?)
}

#[tauri::command(async)]
pub fn own_circuit_import<R: Runtime>(app: AppHandle<R>, text: String) -> Answer<OwnCircuitEntry> {
    Ok(workshop(&app)?.own_circuit_import(&text)?)
}
