//! JSON Schemas of the file formats, generated from the Rust types.

use crate::diagnose::Readings;
use crate::error::{CliError, file};
use clap::Args;
use demo::{Script, ShopFile};
use schemars::{JsonSchema, schema_for};
use std::path::{Path, PathBuf};

/// Write the JSON Schemas of the file formats.
#[derive(Args)]
pub struct Schema {
    /// Folder to write to.
    folder: PathBuf,
}

impl Schema {
    pub fn run(self) -> Result<(), CliError> {
        std::fs::create_dir_all(&self.folder).map_err(file("create", &self.folder))?;
        write::<circuit::Circuit>(&self.folder, "circuit")?;
        write::<circuit::blocks::Composition>(&self.folder, "composition")?;
        write::<Readings>(&self.folder, "readings")?;
        write::<circuit::Diagnosis>(&self.folder, "diagnosis")?;
        write::<Script>(&self.folder, "played-job")?;
        write::<ShopFile>(&self.folder, "shop")?;
        write::<api::view::JobView>(&self.folder, "job")?;
        write::<report::JobRecords<'_>>(&self.folder, "job-records")?;
        write::<evidence::Record>(&self.folder, "record")?;
        write::<evidence::packet::Verdict>(&self.folder, "verdict")
    }
}

fn write<T: JsonSchema>(folder: &Path, name: &str) -> Result<(), CliError> {
    let path = folder.join(format!("{name}.schema.json"));
    let mut text = serde_json::to_string_pretty(&schema_for!(T))
        .map_err(|e| CliError::Format { path: path.display().to_string(), problem: e.to_string() })?;
    text.push('\n');
    std::fs::write(&path, text).map_err(file("write", &path))
}
