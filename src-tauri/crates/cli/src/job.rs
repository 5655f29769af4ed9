use crate::error::{CliError, print_json};
use crate::{folder, open};
use clap::Args;
use std::path::PathBuf;

/// Print a job as JSON.
#[derive(Args)]
pub struct JobCommand {
    /// Number of the job in the shop, or its id.
    job: String,
    /// Data folder; the app's own if not given.
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
}

impl JobCommand {
    pub fn run(self) -> Result<(), CliError> {
        let workshop = open::shop(&folder::data(self.data))?;
        let id = match self.job.parse::<u32>() {
            Ok(number) => workshop.job_of_number(number)?,
            Err(_) => self.job,
        };
        print_json(&workshop.job_view(&id)?)
    }
}
