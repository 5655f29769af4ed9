//! The shell: one window, the commands behind it and the pictures it shows. It decides nothing: each command converts,
//! calls the api and converts back. Everything here is generic over the runtime, so that the same handlers serve
//! the app and the checks' mock runtime.

mod commands;
pub mod data;

use tauri::{Builder, Context, Runtime};

/// Registers all the window may call. The app and the checks both go through here.
pub fn with_commands<R: Runtime>(builder: Builder<R>) -> Builder<R> {
    builder.manage(data::Data::default()).invoke_handler(tauri::generate_handler![commands::about::about])
}

/// The settings, permissions and user interface baked into this build.
pub fn context<R: Runtime>() -> Context<R> {
    tauri::generate_context!()
}

/// Opens the window and stays until it is closed. A window that can't be opened is said on standard error and ends
/// the process with code 1.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    if let Err(error) = with_commands(Builder::default()).run(context()) {
        eprintln!("Testimeter could not open its window: {error}");
        std::process::exit(1);
    }
}
