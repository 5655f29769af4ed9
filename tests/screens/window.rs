//! The real window, driven as a hand would: Tauri's web view on a display without a screen, by the W3C WebDriver
//! protocol. The app must have been built: `cargo build --workspace --bins`.
#![cfg(test)]

mod display;

use std::path::{Path, PathBuf};
use std::time::Duration;

use display::Display;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;

#[tokio::test]
async fn the_first_start_asks_for_the_shop() {
    let data = tempfile::tempdir().expect("a folder");
    let display = Display::start(data.path());
    let client = open(&display).await;
    let title = client.title().await.expect("the page has a title");
    let heading = client.wait().at_most(Duration::from_secs(20)).for_element(Locator::Css("h1")).await;
    keep_screenshot(&client, "window-first-start").await;
    let heading = heading.expect("the first screen has a heading").text().await.expect("its text");
    client.close().await.expect("the window closes");
    assert_eq!(title, "Testimeter");
    assert!(!heading.trim().is_empty());
}

/// Opens the app in a session of its own.
async fn open(display: &Display) -> Client {
    let app = app();
    assert!(app.exists(), "{} is missing: type `cargo build --workspace --bins`", app.display());
    let wanted = serde_json::json!({ "webkitgtk:browserOptions": { "binary": app, "args": [] } });
    let serde_json::Value::Object(wanted) = wanted else { unreachable!("an object was written") };
    ClientBuilder::new(HttpConnector::new())
        .capabilities(wanted)
        .connect(&display.driver)
        .await
        .expect("the app opens its window")
}

/// The app lies beside the folder of the test programs.
fn app() -> PathBuf {
    let here = std::env::current_exe().expect("this program has a path");
    here.ancestors().nth(2).expect("it lies in target/debug/deps").join("testimeter-app")
}

/// For people to look at: in cargo's folder for the files of tests.
async fn keep_screenshot(client: &Client, name: &str) {
    let picture = client.screenshot().await.expect("a picture of the window");
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.png"));
    std::fs::write(&path, picture).expect("the picture is written");
    println!("{}", path.display());
}
