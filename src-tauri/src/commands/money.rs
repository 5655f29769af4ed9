//! Estimate, approval, parts, invoice, payments and suppliers.
use api::entry::{
    ApprovalEntry, ApprovalRequestEntry, ApprovalWithdrawalEntry, CreditNoteEntry, EstimateWaiverEntry, Form,
    LinePinEntry, LinesEntry, PaperKind, PartEntry, PaymentEntry, SupplierStepEntry,
};
use api::view::{JobView, OwnLineView, TotalsView};
use tauri::{AppHandle, Runtime};

use super::Answer;
use crate::data::workshop;

#[tauri::command(async)]
pub fn lines_total<R: Runtime>(
    app: AppHandle<R>,
    job: String,
    paper: PaperKind,
    entry: LinesEntry,
) -> Answer<TotalsView> {
    Ok(workshop(&app)?.lines_total(&job, paper, &entry)?)
}

#[tauri::command(async)]
pub fn own_lines<R: Runtime>(app: AppHandle<R>) -> Answer<Vec<OwnLineView>> {
    Ok(workshop(&app)?.own_lines()?)
}

#[tauri::command(async)]
pub fn line_pin<R: Runtime>(app: AppHandle<R>, entry: LinePinEntry) -> Answer<Vec<OwnLineView>> {
    Ok(workshop(&app)?.line_pin(&entry)?)
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

#[tauri::command(async)]
pub fn approval_request<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: ApprovalRequestEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.approval_request(form, &entry)?)
}

#[tauri::command(async)]
pub fn estimate_waive<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: EstimateWaiverEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.estimate_waive(form, &entry)?)
}

#[tauri::command(async)]
pub fn approval_withdraw<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: ApprovalWithdrawalEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.approval_withdraw(form, &entry)?)
}

#[tauri::command(async)]
pub fn credit_note_keep<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: CreditNoteEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.credit_note_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn payment_keep<R: Runtime>(app: AppHandle<R>, form: Form, entry: PaymentEntry) -> Answer<JobView> {
    Ok(workshop(&app)?.payment_keep(form, &entry)?)
}

#[tauri::command(async)]
pub fn supplier_step_keep<R: Runtime>(
    app: AppHandle<R>,
    form: Form,
    entry: SupplierStepEntry,
) -> Answer<JobView> {
    Ok(workshop(&app)?.supplier_step_keep(form, &entry)?)
}
