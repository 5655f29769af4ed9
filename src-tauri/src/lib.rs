//! The shell: one window, the commands behind it and the pictures it shows. It decides nothing: each command converts,
//! calls the api and converts back. Everything here is generic over the runtime, so that the same handlers serve
//! the app and the checks' mock runtime.

mod check;
mod commands;
mod data;
pub mod pictures;

use tauri::{Builder, Context, Runtime};

pub use data::FOLDER_VARIABLE;

/// Registers all the window may call. The app and the checks both go through here.
pub fn with_commands<R: Runtime>(builder: Builder<R>) -> Builder<R> {
    let builder = builder.manage(data::Data::default());
    let builder = builder.register_asynchronous_uri_scheme_protocol("photo", pictures::serve);
    builder.invoke_handler(tauri::generate_handler![
        commands::backup::backup_check,
        commands::backup::backup_restore,
        commands::backup::backup_write,
        commands::backup::customer_forget,
        commands::backup::forgetting_view,
        commands::backup::open_export,
        commands::backup::open_import,
        commands::backup::shop_check,
        commands::circuit::caution_acknowledge,
        commands::circuit::circuit_blocks,
        commands::circuit::circuit_choose,
        commands::circuit::circuit_compose,
        commands::circuit::circuits,
        commands::circuit::meter_choose,
        commands::circuit::meters,
        commands::circuit::own_circuit_check,
        commands::circuit::own_circuit_export,
        commands::circuit::own_circuit_import,
        commands::circuit::own_circuit_keep,
        commands::circuit::own_circuit_remove,
        commands::circuit::own_circuit_view,
        commands::circuit::own_circuits,
        commands::circuit::pin_keep,
        commands::circuit::test_unreachable,
        commands::draft::draft_keep,
        commands::draft::draft_view,
        commands::files::file_bytes,
        commands::files::file_open,
        commands::files::folder_open,
        commands::intake::intake_keep,
        commands::intake::vin_check,
        commands::job::hand_over,
        commands::job::job_open,
        commands::job::job_view,
        commands::job::jobs_search,
        commands::job::notice_acknowledge,
        commands::job::notices_view,
        commands::job::records_take_in,
        commands::job::timeline_page,
        commands::keys::device_add,
        commands::keys::key_change,
        commands::keys::key_lost,
        commands::keys::key_protect,
        commands::keys::key_unlock,
        commands::money::approval_request,
        commands::money::approval_keep,
        commands::money::approval_withdraw,
        commands::money::estimate_keep,
        commands::money::estimate_waive,
        commands::money::invoice_keep,
        commands::money::credit_note_keep,
        commands::money::payment_keep,
        commands::money::supplier_step_keep,
        commands::money::line_pin,
        commands::money::lines_total,
        commands::money::own_lines,
        commands::money::part_receive,
        commands::papers::packet_preview,
        commands::papers::packet_verify,
        commands::papers::packet_write,
        commands::papers::photo_cover,
        commands::papers::report_write,
        commands::papers::result_message,
        commands::papers::work_cancel,
        commands::papers::work_view,
        commands::photo::camera_intent_keep,
        commands::photo::camera_intent_take,
        commands::photo::found_photo_attach,
        commands::photo::found_photo_destroy,
        commands::photo::found_photos,
        commands::photo::job_photos,
        commands::photo::label_read,
        commands::photo::paper_read,
        commands::photo::photo_keep,
        commands::photo::photo_mark,
        commands::photo::photo_seen,
        commands::photo::photo_view,
        commands::programming::appointment_export,
        commands::programming::programming_decide,
        commands::programming::programming_quote_keep,
        commands::programming::programming_report,
        commands::programming::programming_setting_keep,
        commands::programming::programming_settings,
        commands::reading::bench_view,
        commands::circuit::circuit_picture,
        commands::reading::buy_price_keep,
        commands::reading::finding_keep,
        commands::reading::proof_keep,
        commands::reading::reading_correct,
        commands::reading::reading_withdraw,
        commands::reading::reading_keep,
        commands::reading::reading_view,
        commands::reading::readings_page,
        commands::sample::sample_enter,
        commands::sample::sample_leave,
        commands::sample::sample_view,
        commands::shop::preferences_keep,
        commands::shop::regions,
        commands::shop::shop_set_up,
        commands::shop::shop_view,
        commands::time::authorities_view,
        commands::time::authority_keep,
        commands::time::authority_remove,
        commands::time::timestamps_fetch,
        commands::tool::tool_setting_keep,
        commands::tool::tool_view,
        commands::tool::year_view,
    ])
}

/// The settings, permissions and user interface baked into this build.
pub fn context<R: Runtime>() -> Context<R> {
    tauri::generate_context!()
}

/// Opens the window and stays until it is closed. A window that can't be opened is said on standard error and ends
/// the process with code 1.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    let builder = with_commands(Builder::default()).setup(|app| {
        check::watch(app.handle().clone());
        Ok(())
    });
    if let Err(error) = builder.run(context()) {
        eprintln!("Testimeter could not open its window: {error}");
        std::process::exit(1);
    }
}
