use crate::error::{CliError, print_json};
use crate::{folder, open};
use api::Workshop;
use api::view::JobView;
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
        print_json(&whole(&workshop, &id)?)
    }
}

/// A job with all pages of its time-line and its readings.
fn whole(workshop: &Workshop, id: &str) -> Result<JobView, CliError> {
    let mut view = workshop.job_view(id)?;
    while let Some(first) = view.timeline.first().filter(|first| first.place > 1) {
        let mut earlier = workshop.timeline_page(id, first.place)?;
        earlier.append(&mut view.timeline);
        view.timeline = earlier;
    }
    while let Some(first) = view.readings.first().filter(|first| first.number > 1) {
        let mut earlier = workshop.readings_page(id, first.number)?;
        earlier.append(&mut view.readings);
        view.readings = earlier;
    }
    Ok(view)
}
