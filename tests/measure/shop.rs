//! A shop in a folder that goes away with it, and photographs that no codec finds easy.

use crate::Failure;
use api::Workshop;
use api::entry::{PhotoEntry, PhotoPurpose, ShopEntry};
use std::path::Path;
use tempfile::TempDir;

pub fn open() -> Result<(TempDir, Workshop, String), Failure> {
    let folder = tempfile::tempdir()?;
    let workshop = set_up(folder.path())?;
    let job = workshop.job_open()?.job;
    Ok((folder, workshop, job))
}

/// A new shop in a folder.
pub fn set_up(folder: &Path) -> Result<Workshop, Failure> {
    let workshop = Workshop::open(folder)?;
    workshop.shop_set_up(&ShopEntry {
        name: "Sable Creek Auto Electric".into(),
        technician: "Imre Valdsson".into(),
        region: "US-CA".into(),
        registration: String::new(),
        address: String::new(),
        phone: String::new(),
        email: String::new(),
        labour_rate: "125".into(),
        tax_percent: "8.25".into(),
        keeps_years: String::new(),
        parts_taxed: String::new(),
        labour_taxed: String::new(),
        core_taxed: String::new(),
        tax_number: String::new(),
        invoice_prefix: String::new(),
        credit_prefix: String::new(),
        numbered_apart: false,
    })?;
    Ok(workshop)
}

pub fn photo(job: &str) -> PhotoEntry {
    PhotoEntry { job: job.into(), purpose: PhotoPurpose::Reading, live: false }
}

/// A JPEG with edges, gradients and noise; `seed` makes each another.
pub fn jpeg(width: u32, height: u32, seed: u32) -> Result<Vec<u8>, Failure> {
    let mut state = seed.wrapping_mul(2_654_435_761) | 1;
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        let edge = if (x / 64 + y / 48) % 2 == 0 { 150 } else { 70 };
        let tone = |shift: u32| (edge + (x + y) / 40 % 60 + (state >> shift) % 24).min(255) as u8;
        image::Rgb([tone(3), tone(9), tone(15)])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 92).encode_image(&picture)?;
    Ok(bytes.into_inner())
}
