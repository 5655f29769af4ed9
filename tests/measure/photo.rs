//! Sealing a 12-megapixel photo against `sha256sum` and `vipsthumbnail` on the same file.

use crate::{Failure, median, program, shop};

const RUNS: usize = 5;

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let (folder, workshop, job) = shop::open()?;
    let photos = (0..=RUNS).map(|run| shop::jpeg(4_000, 3_000, u32::try_from(run)? + 1));
    let photos = photos.collect::<Result<Vec<_>, Failure>>()?;
    let file = folder.path().join("photo.jpg");
    std::fs::write(&file, photos.first().ok_or("no photo")?)?;
    let mut kept = Vec::new();
    let mut next = photos.iter();
    let seal = median(RUNS, || {
        let bytes = next.next().ok_or("no photo left")?;
        kept.push(workshop.photo_keep(&shop::photo(&job), bytes)?.sha256);
        Ok(())
    })?;
    let mut next = kept.iter();
    let preview = median(RUNS, || {
        let hash = next.next().ok_or("no photo left")?;
        workshop.photo_preview(hash)?.ok_or("no preview")?;
        Ok(())
    })?;
    let name = file.display().to_string();
    let small = folder.path().join("small.jpg").display().to_string();
    let hash = median(RUNS, || program(&["sha256sum", &name]))?;
    let thumbnail = median(RUNS, || program(&["vipsthumbnail", &name, "-s", "960", "-o", &small]))?;
    Ok(vec![
        ("photo_shutter_to_durable_ms", seal * 1e3),
        ("photo_preview_ms", preview * 1e3),
        ("photo_seal_and_preview_over_tools", (seal + preview) / (hash + thumbnail)),
    ])
}
