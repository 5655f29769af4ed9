//! Readings, the finding they prove and the proof of the fix.
use api::entry::{
    BenchEntry, BuyPriceEntry, CorrectionEntry, FindingEntry, Form, ProofEntry, ReadingEntry, WithdrawalEntry,
};
use api::view::{BenchView, JobView, ReadingView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn bench_view<R: Runtime>(
    app: AppHandle<R>,
    job: String,
    entry: BenchEntry,
) -> Answer<Option<BenchView>> {
    Ok(workshop(&app)?.bench_view(&job, &entry)?)
}

#[tauri::command(async)]
pub fn reading_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: ReadingEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.reading_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn reading_correct<R: Runtime>(app: AppHandle<R>, form: Form, entry: CorrectionEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.reading_correct(form, &entry)?)
}

#[tauri::command(async)]
pub fn reading_withdraw<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: WithdrawalEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.reading_withdraw(form, &entry)?)
}

#[tauri::command(async)]
pub fn buy_price_keep<R: Runtime>(app: AppHandle<R>, job: String, entry: BuyPriceEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.buy_price_keep(&job, &entry)?)
}

#[tauri::command(async)]
pub fn finding_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: FindingEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.finding_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn proof_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: ProofEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.proof_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn readings_page<R: Runtime>(app: AppHandle<R>, job: String, before: u32) -> Answer<Vec<ReadingView>> {
    Ok(workshop(&app)?.readings_page(&job, before)?)
}

#[tauri::command(async)]
pub fn reading_view<R: Runtime>(app: AppHandle<R>, job: String, record: String) -> Answer<ReadingView> {
    Ok(workshop(&app)?.reading_view(&job, &record)?)
}
