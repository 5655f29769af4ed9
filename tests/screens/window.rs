//! The real window, driven as a hand would: Tauri's web view on a display without a screen, by the W3C WebDriver
//! protocol. The app must have been built: `cargo build --workspace --all-features --bins`.
#![cfg(test)]

mod display;
mod hand;

use std::path::{Path, PathBuf};

use display::Display;
use fantoccini::ClientBuilder;
use hand::Hand;
use hyper_util::client::legacy::connect::HttpConnector;

/// A look at the sample; then a whole job from the first start to the packet, on the records of a folder that was empty; then
/// the app is started again on it.
#[tokio::test]
async fn a_whole_job_from_the_first_start_to_the_packet() {
    let data = tempfile::tempdir().expect("a folder");
    let display = Display::start(data.path());
    let hand = open(&display).await;
    assert_eq!(hand.client.title().await.expect("the page has a title"), "Testimeter");
    look_at_the_sample(&hand).await;
    set_up(&hand).await;
    take_in(&hand).await;
    read(&hand).await;
    conclude(&hand).await;
    approve(&hand).await;
    prove(&hand).await;
    bill(&hand).await;
    deliver(&hand).await;
    write_papers(&hand).await;
    hand.client.close().await.expect("the window closes");
    // The window is gone before its process has let go of the records; on a busy machine that takes a moment.
    tokio::time::sleep(std::time::Duration::from_secs(5)).await;

    let again = open(&display).await;
    let listed = again.text("[data-name=job]").await;
    again.keep_screenshot("window-jobs").await;
    again.client.close().await.expect("the window closes");
    assert!(listed.contains("Quernmore"), "the job is not listed after a new start: {listed}");
}

/// Into the sample shop and back: the page is read anew each time, which a web view's own scheme has to allow.
async fn look_at_the_sample(hand: &Hand) {
    hand.press("sample").await;
    // A development build plays the whole job in some ten seconds, on a busy machine in more.
    let patience = std::time::Duration::from_secs(180);
    hand.until_within("document.querySelector('[data-name=sample-band]') !== null", patience).await;
    hand.find("[data-stage=handed_over]").await;
    hand.keep_screenshot("window-sample").await;
    hand.press("leave-sample").await;
    hand.until("document.querySelector('[data-name=sample-band]') === null").await;
}

async fn set_up(hand: &Hand) {
    hand.find("[name=shop_name]").await;
    hand.keep_screenshot("window-first-start").await;
    hand.fill("shop_name", "Tarn Street Repairs").await;
    hand.fill("technician", "Imre Vold").await;
    hand.run("const list = document.querySelector('[name=region]'); list.selectedIndex = 1; list.dispatchEvent(new Event('change', { bubbles: true }))").await;
    hand.fill("registration", "DEMO-0042").await;
    hand.fill("labour_rate", "118").await;
    hand.fill("tax_percent", "8.25").await;
    hand.press("set-up").await;
    let words = hand.text("[data-name=fingerprint-words]").await;
    assert!(words.split_whitespace().count() >= 4, "the key's fingerprint in words: {words}");
    hand.press("to-jobs").await;
}

async fn take_in(hand: &Hand) {
    hand.press("take-in").await;
    hand.until("/#\\/job\\/[^/]+\\/intake/.test(location.hash)").await;
    hand.fill("make", "Quernmore").await;
    hand.fill("model", "Heron").await;
    hand.fill("complaint", "The fan never runs.").await;
    hand.fill("customer", "Sunniva Pell").await;
    hand.settle().await;
    hand.photo("intake", &photo("a-01-arrival.jpg")).await;
    // The preview comes through the app's own scheme, which only the real window has.
    // It is read when it comes into view.
    hand.until("document.querySelector('main img') !== null").await;
    hand.run("document.querySelector('main img').scrollIntoView()").await;
    hand.until("[...document.querySelectorAll('main img')].some((image) => image.naturalWidth > 0)").await;
    hand.keep_screenshot("window-intake").await;
}

async fn read(hand: &Hand) {
    hand.go("circuit").await;
    hand.click("[data-name=meter] [data-value=other]").await;
    hand.fill("meter_name", "Bench meter").await;
    for (field, value) in [("input", "10"), ("accuracy", "0.5"), ("counts", "2")] {
        hand.fill(&format!("meter_{field}"), value).await;
    }
    hand.press("use-meter").await;
    hand.until("document.querySelector('[data-name=use-meter]') === null").await;
    hand.choose("circuit", "relay_high_side").await;
    hand.find("svg[role=img]").await;
    measure(hand, "12.55").await;
    hand.keep_screenshot("window-kept").await;
    hand.go("reasoning").await;
    assert!(!hand.text("[data-name=next-test]").await.is_empty(), "a next test is offered");
    hand.keep_screenshot("window-reasoning").await;
}

/// Keeps a reading of the battery's volts, with a photo that shows 12.55: other volts would be asked about, once it is read.
async fn measure(hand: &Hand, volts: &str) {
    hand.go("reading/battery_volts").await;
    read_cautions(hand).await;
    // No camera is here: the way on with a file is offered.
    hand.find("[data-name=view-again]").await;
    hand.photo("reading", &photo("a-06-battery-volts.jpg")).await;
    hand.settle().await;
    hand.find("main.enter").await;
    for key in volts.chars() {
        hand.click(&format!("[data-key=\"{key}\"]")).await;
    }
    hand.click("section.hand [data-value=yes]").await;
    hand.keep_screenshot("window-reading").await;
    hand.press("keep-reading").await;
    hand.find("[data-name=reading-kept]").await;
}

async fn read_cautions(hand: &Hand) {
    for _ in 0..10 {
        hand.settle().await;
        if hand.run("return document.querySelector('[data-name=caution-read]') === null").await == true {
            return;
        }
        hand.press("caution-read").await;
    }
    panic!("the cautions never end");
}

async fn fill_line(hand: &Hand) {
    hand.press("line-add").await;
    hand.press("add-labour").await;
    hand.fill("description-1", "Find why the fan never runs").await;
    hand.fill("quantity-1", "1").await;
    hand.fill("price-1", "118.00").await;
}

async fn approve(hand: &Hand) {
    hand.go("estimate").await;
    fill_line(hand).await;
    hand.press("keep-estimate").await;
    hand.find("[data-name=estimate]").await;
    hand.go("approval").await;
    hand.fill("approval_name", "Sunniva Pell").await;
    hand.choose("channel", "in_person").await;
    hand.fill("approval_words", "Go ahead.").await;
    hand.choose("old_parts", "return").await;
    hand.draw("[data-name=signature]").await;
    hand.keep_screenshot("window-approval").await;
    hand.press("keep-approval").await;
    hand.find("[data-name=approval]").await;
}

/// Two readings of the battery blame nothing: the finding says so.
async fn conclude(hand: &Hand) {
    hand.go("finding").await;
    let causes = "return document.querySelector('[data-name=cause] [data-value=not_proven]') === null";
    if hand.run(causes).await == true {
        hand.press("more-causes").await;
    }
    hand.choose("cause", "not_proven").await;
    hand.fill("finding_words", "The battery is good; the rest was not measured.").await;
    hand.press("keep-finding").await;
    // What the report will say is read before it is confirmed.
    tokio::time::sleep(std::time::Duration::from_millis(600)).await;
    hand.press("confirm-finding").await;
    hand.find("[data-name=finding]").await;
}

async fn prove(hand: &Hand) {
    measure(hand, "12.55").await;
    hand.go("proof").await;
    for (side, number) in [("before", 1), ("after", 2)] {
        hand.run(&format!(
            "[...document.querySelectorAll('[data-name={side}] label')].find((one) => one.innerText.trim().startsWith('{number}:')).click()"
        ))
        .await;
    }
    hand.fill("note", "Fan runs with the key on.").await;
    hand.keep_screenshot("window-proof").await;
    hand.press("keep-proof").await;
    hand.find("[data-name=log]").await;
    hand.settle().await;
}

async fn bill(hand: &Hand) {
    hand.go("invoice").await;
    hand.settle().await;
    if hand.run("return document.querySelector('[data-name=line]') === null").await == true {
        fill_line(hand).await;
    }
    hand.press("keep-invoice").await;
    hand.find("[data-name=invoice]").await;
    hand.go("payments").await;
    hand.fill("amount", "118.00").await;
    hand.choose("means", "cash").await;
    hand.press("keep-payment").await;
    hand.find("[data-name=payment]").await;
    hand.keep_screenshot("window-paid").await;
}

async fn deliver(hand: &Hand) {
    hand.go("hand-over").await;
    hand.fill("warranty", "On the diagnosis.").await;
    hand.fill("old_parts", "None.").await;
    hand.press("keep-hand-over").await;
    hand.find("[data-name=handed-over]").await;
}

async fn write_papers(hand: &Hand) {
    hand.go("papers").await;
    hand.press("write-report").await;
    let path = PathBuf::from(hand.text("[data-name=path]").await.trim());
    hand.keep_screenshot("window-papers").await;
    let bytes = std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    assert!(bytes.starts_with(b"%PDF-"), "{} is no PDF", path.display());
    hand.press("write-packet").await;
    hand.find("[data-name=verification][data-good=true]").await;
    // Where they lie is folded away.
    let paths = "[...document.querySelectorAll('[data-name=path]')].map((one) => one.textContent.trim())";
    hand.until(&format!("{paths}.some((path) => path.endsWith('.zip'))")).await;
    let paths = hand.run(&format!("return {paths}.filter((path) => path.endsWith('.zip'))")).await;
    let packet = paths[0].as_str().expect("a path");
    let verified = std::process::Command::new(app().with_file_name("testimeter"))
        .args(["verify", packet])
        .output()
        .expect("the shell command starts");
    assert!(verified.status.success(), "{packet}: {}", String::from_utf8_lossy(&verified.stdout));
}

/// Opens the app in a session of its own.
async fn open(display: &Display) -> Hand {
    let app = app();
    assert!(app.exists(), "{} is missing: type `cargo xtask test --only build`", app.display());
    let wanted = serde_json::json!({ "webkitgtk:browserOptions": { "binary": app, "args": [] } });
    let serde_json::Value::Object(wanted) = wanted else { unreachable!("an object was written") };
    let mut builder = ClientBuilder::new(HttpConnector::new());
    let client =
        builder.capabilities(wanted).connect(&display.driver).await.expect("the app opens its window");
    Hand { client }
}

/// The app lies beside the folder of the test programs.
fn app() -> PathBuf {
    let here = std::env::current_exe().expect("this program has a path");
    here.ancestors().nth(2).expect("it lies in target/debug/deps").join("testimeter-app")
}

fn photo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../demo-data/photos")
        .join(name)
        .canonicalize()
        .expect("a photo")
}
