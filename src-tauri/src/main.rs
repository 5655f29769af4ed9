//! The desktop's way in; phones enter through `testimeter_app::run` directly.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    testimeter_app::run();
}
