//! Time from outside.
use api::entry::AuthorityEntry;
use api::view::AuthoritiesView;
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn authorities_view<R: Runtime>(app: AppHandle<R>) -> Answer<AuthoritiesView> {
    Ok(workshop(&app)?.authorities_view()?)
}

#[tauri::command(async)]
pub fn authority_keep<R: Runtime>(app: AppHandle<R>, entry: AuthorityEntry) -> Answer<AuthoritiesView> {
    Ok(workshop(&app)?.authority_keep(&entry)?)
}

#[tauri::command(async)]
pub fn authority_remove<R: Runtime>(app: AppHandle<R>, address: String) -> Answer<AuthoritiesView> {
    Ok(workshop(&app)?.authority_remove(&address)?)
}

#[tauri::command(async)]
pub fn timestamps_fetch<R: Runtime>(app: AppHandle<R>, all: bool) -> Answer<AuthoritiesView> {
    Ok(workshop(&app)?.timestamps_fetch(all)?)
}
