//! The device's keys.
use api::view::ShopView;
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn key_change<R: Runtime>(app: AppHandle<R>, passphrase: String) -> Answer<ShopView> {
    Ok(workshop(&app)?.key_change(&passphrase)?)
}

#[tauri::command(async)]
pub fn key_lost<R: Runtime>(app: AppHandle<R>, passphrase: String) -> Answer<ShopView> {
    Ok(workshop(&app)?.key_lost(&passphrase)?)
}

#[tauri::command(async)]
pub fn key_protect<R: Runtime>(app: AppHandle<R>, old: String, new: String) -> Answer<ShopView> {
    Ok(workshop(&app)?.key_protect(&old, &new)?)
}

#[tauri::command(async)]
pub fn key_unlock<R: Runtime>(app: AppHandle<R>, passphrase: String) -> Answer<ShopView> {
    Ok(workshop(&app)?.key_unlock(&passphrase)?)
}

#[tauri::command(async)]
pub fn device_add<R: Runtime>(app: AppHandle<R>, device: String, public_key: String) -> Answer<ShopView> {
    Ok(workshop(&app)?.device_add(&device, &public_key)?)
}
