//! The shop, its rules and how the screens look.
use api::entry::{Preferences, ShopEntry};
use api::view::{RulesView, ShopView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn shop_view<R: Runtime>(app: AppHandle<R>) -> Answer<ShopView> {
    Ok(workshop(&app)?.shop_view()?)
}

#[tauri::command(async)]
pub fn regions<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<RulesView>> {
    Ok(workshop(&app)?.regions())
}

#[tauri::command(async)]
pub fn shop_set_up<R: Runtime>(app: AppHandle<R>, entry: ShopEntry) -> Answer<ShopView> {
    Ok(workshop(&app)?.shop_set_up(&entry)?)
}

#[tauri::command(async)]
pub fn preferences_keep<R: Runtime>(app: AppHandle<R>, entry: Preferences) -> Answer<ShopView> {
    Ok(workshop(&app)?.preferences_keep(&entry)?)
}
