//! The programming of a module: the route taken and what came of it.
use api::entry::{Form, ProgrammedEntry, ProgrammingEntry};
use api::view::JobView;
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
