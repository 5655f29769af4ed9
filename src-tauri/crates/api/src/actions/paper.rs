//! What a photo of a supplier's paper says: read when it is asked for, proposed, and not kept.

use crate::entry::PaperEntry;
use crate::view::{PaperAmountView, PaperItemView, PaperView};
use crate::{ApiError, Workshop};
use evidence::Digest;
use job::paper::{PaperProposal, PaperRow};
use job::rules::{Locale, of_region};
use job::suppliers;
use money::Cents;
use photo::{PaperModels, PhotoError};
use std::path::Path;

/// Where the networks lie within a data folder, and how their files are called. Nothing of the app needs them.
const PLACE: &str = "models/paper";
const FINDER: &str = "finder.onnx";
const READER: &str = "reader.onnx";

impl Workshop {
    /// What a photo of a supplier's paper is read as. It takes seconds; nobody waits for it, and nothing is kept.
    ///
    /// # Errors
    /// An unknown job, a photo that isn't the job's or whose bytes are no longer what was sealed, a picture that can't be
    /// taken apart, networks that are damaged.
    pub fn paper_read(&self, job: &str, entry: &PaperEntry) -> Result<PaperView, ApiError> {
        let place = self.store.folder().join(PLACE);
        let can_read = place.join(FINDER).is_file() && place.join(READER).is_file();
        let Some(photo) = entry.photo.as_ref().filter(|_| can_read) else {
            return Ok(PaperView { can_read, ..PaperView::default() });
        };
        let digest: Digest = photo.parse()?;
        let loaded = self.load(job)?;
        if !loaded.job.photos.contains_key(&digest) {
            return Err(ApiError::Unknown { what: "photo", value: photo.clone() });
        }
        let known =
            suppliers::accounts(&loaded.job)?.into_iter().map(|account| account.supplier).collect::<Vec<_>>();
        // One after the other: each takes memory and every core.
        let _reader = self.reader.lock();
        let bytes = self.store.original(&digest)?;
        paper_at_home(&bytes, &place, &self.home(), &known)
    }
}

/// What a paper in a picture says, read with the networks in a folder, by how a region writes amounts and dates (empty: ISO).
///
/// # Errors
/// Networks that aren't there or can't be run; bytes that are no picture, or a broken one.
pub fn paper_in(bytes: &[u8], models: &Path, region: &str) -> Result<PaperView, ApiError> {
    paper_at_home(bytes, models, &of_region(region).locale, &[])
}

fn paper_at_home(
    bytes: &[u8],
    models: &Path,
    home: &Locale,
    suppliers: &[String],
) -> Result<PaperView, ApiError> {
    let file = |name| {
        let path = models.join(name);
        std::fs::read(&path).map_err(|error| PhotoError::Paper(format!("{}: {error}", path.display())))
    };
    let networks = PaperModels::load(file(FINDER)?, file(READER)?)?;
    let rows = photo::read_paper(bytes, &networks)?;
    let rows: Vec<PaperRow> =
        rows.iter().map(|row| PaperRow { text: row.text(), probability: row.probability() }).collect();
    Ok(shown(&job::paper::proposal(&rows, home, suppliers), home))
}

fn shown(proposal: &PaperProposal, home: &Locale) -> PaperView {
    let amount = |cents: Cents| PaperAmountView {
        cents: cents.into(),
        typed: cents.grouped(home.group, home.decimal),
    };
    let lines = proposal.lines.iter().map(|line| PaperItemView {
        description: line.description.clone(),
        part_number: line.part_number.clone(),
        quantity: line.quantity.clone(),
        amount: amount(line.amount),
        is_core: line.is_core,
    });
    PaperView {
        can_read: true,
        supplier: proposal.supplier.clone(),
        day: proposal.day.clone(),
        number: proposal.number.clone(),
        lines: lines.collect(),
        core: proposal.core.map(amount),
        tax: proposal.tax.map(amount),
        tax_inside: proposal.tax_inside,
        total: proposal.total.map(amount),
        adds_up_to: proposal.adds_up_to.map(amount),
        doubts: proposal.doubts.clone(),
    }
}
