//! The whole shop as one file, in open forms, and back; and forgetting a customer.
use std::path::Path;

use api::entry::RestoreEntry;
use api::view::{BackupView, CheckView, DamagedBackupView, ForgettingView, ImportView, JobView, ShopView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::{self, workshop};

#[tauri::command(async)]
pub fn backup_write<R: Runtime>(app: AppHandle<R>, passphrase: String, with_key: bool) -> Answer<BackupView> {
    Ok(workshop(&app)?.backup_write(&passphrase, with_key)?)
}

#[tauri::command(async)]
pub fn backup_check<R: Runtime>(
    app: AppHandle<R>,
    path: String,
    passphrase: String,
) -> Answer<DamagedBackupView> {
    Ok(api::backup_check(Path::new(&path), &passphrase, &data::work(&app))?)
}

#[tauri::command(async)]
pub fn backup_restore<R: Runtime>(app: AppHandle<R>, entry: RestoreEntry) -> Answer<ShopView> {
    let work = data::work(&app);
    data::closed(&app, |folder| api::restore(folder, &entry, &work))
}

#[tauri::command(async)]
pub fn open_export<R: Runtime>(app: AppHandle<R>) -> Answer<BackupView> {
    Ok(workshop(&app)?.open_export()?)
}

#[tauri::command(async)]
pub fn open_import<R: Runtime>(app: AppHandle<R>, path: String, trust: Vec<String>) -> Answer<ImportView> {
    Ok(workshop(&app)?.open_import(Path::new(&path), &trust)?)
}

#[tauri::command(async)]
pub fn shop_check<R: Runtime>(app: AppHandle<R>) -> Answer<CheckView> {
    Ok(workshop(&app)?.shop_check()?)
}

#[tauri::command(async)]
pub fn forgetting_view<R: Runtime>(app: AppHandle<R>, job: String) -> Answer<ForgettingView> {
    Ok(workshop(&app)?.forgetting_view(&job)?)
}

#[tauri::command(async)]
pub fn customer_forget<R: Runtime>(app: AppHandle<R>, job: String) -> Answer<JobView> {
    Ok(workshop(&app)?.customer_forget(&job)?)
}
