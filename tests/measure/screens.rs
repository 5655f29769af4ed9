//! What use of the screens costs: taps, paints, a start with 10,000 jobs, a job of 200 readings. Chromium at phone size with the
//! real backend; the player's own program (tests/screens/chromium/measure.mjs) measures.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::Failure;
use crate::many_jobs::Shop;

const JOBS: u64 = 10_000;

/// The program's figures by their names.
const NAMES: &[&str] = &[
    "taps_per_reading",
    "tap_to_paint_p95_ms",
    "start_usable_ms",
    "keep_reading_ms_at_10",
    "keep_reading_ms_at_200",
    "keep_reading_ms_at_200_over_at_10",
    "bundle_gzip_kb",
    "heap_growth_mb_200_readings",
];

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().ok_or("no project around the checks")?;
    let bridge = bridge()?;
    let shop = Shop::of(JOBS)?;
    let output = Command::new("node")
        .current_dir(root)
        .args(["tests/screens/chromium/measure.mjs", "--bridge"])
        .arg(&bridge)
        .arg("--data")
        .arg(shop.folder())
        .stderr(std::process::Stdio::inherit())
        .output()
        .map_err(|error| format!("node: {error}: install it"))?;
    if !output.status.success() {
        return Err("the screens could not be measured; what went wrong stands above".into());
    }
    let measured: BTreeMap<String, f64> = serde_json::from_slice(&output.stdout)?;
    let value =
        |name: &&'static str| Ok((*name, *measured.get(*name).ok_or_else(|| format!("{name} is missing"))?));
    NAMES.iter().map(value).collect()
}

/// The bridge beside this program, as it was built with it.
fn bridge() -> Result<PathBuf, Failure> {
    let ourselves = std::env::current_exe()?;
    let bridge = ourselves.with_file_name("bridge");
    if bridge.exists() {
        return Ok(bridge);
    }
    Err(format!("{} is missing: type `cargo xtask bench ui`, which builds it", bridge.display()).into())
}
