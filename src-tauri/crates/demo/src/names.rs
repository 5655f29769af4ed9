//! What a file calls photos and readings, and what the job calls them.

use crate::PlayError;
use crate::script::Action;
use api::view::JobView;
use std::collections::BTreeMap;

/// Hashes of photos by file name, records of readings by number.
#[derive(Debug, Default)]
pub struct Names {
    photos: BTreeMap<String, String>,
    readings: BTreeMap<u32, String>,
}

impl Names {
    /// Remembers a photo.
    pub fn photo(&mut self, file: &str, sha256: &str) {
        self.photos.insert(file.to_owned(), sha256.to_owned());
    }

    /// Remembers the job's newest readings beside those it knows.
    pub fn job(&mut self, view: &JobView) {
        self.readings.extend(view.readings.iter().map(|r| (r.number, r.record.clone())));
    }

    /// The action with the job's own names in place of the file's.
    pub fn resolve(&self, action: &Action) -> Result<Action, PlayError> {
        let mut action = action.clone();
        match &mut action {
            Action::PinKeep(e) => self.hashes(&mut e.photos)?,
            Action::ReadingKeep(e) => self.hashes(&mut e.photos)?,
            Action::ApprovalKeep(e) => self.hashes(&mut e.photos)?,
            Action::ApprovalWithdraw(e) => self.hashes(&mut e.photos)?,
            Action::PaymentKeep(e) => self.hashes(&mut e.photos)?,
            Action::SupplierStepKeep(e) => self.hashes(&mut e.photos)?,
            Action::PartReceive(e) => self.hashes(&mut e.photos)?,
            Action::ProgrammingReport(e) => self.hashes(&mut e.photos)?,
            Action::HandOver(e) => self.hashes(&mut e.photos)?,
            Action::ReadingCorrect(e) => {
                self.record(&mut e.corrects)?;
                self.hashes(&mut e.reading.photos)?;
            }
            Action::ProofKeep(e) => {
                self.record(&mut e.before)?;
                self.record(&mut e.after)?;
            }
            _ => {}
        }
        Ok(action)
    }

    fn hashes(&self, files: &mut [String]) -> Result<(), PlayError> {
        for file in files {
            let hash = self.photos.get(file).ok_or_else(|| PlayError::Unknown {
                name: file.clone(),
                problem: "no earlier step keeps this photo",
            })?;
            file.clone_from(hash);
        }
        Ok(())
    }

    fn record(&self, name: &mut String) -> Result<(), PlayError> {
        let number = name.strip_prefix('#').and_then(|n| n.parse::<u32>().ok());
        let record = number.and_then(|n| self.readings.get(&n)).ok_or_else(|| PlayError::Unknown {
            name: name.clone(),
            problem: "no earlier step keeps this reading; name it as # and its number",
        })?;
        name.clone_from(record);
        Ok(())
    }
}
