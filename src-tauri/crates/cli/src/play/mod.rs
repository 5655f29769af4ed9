//! Playing jobs from folders: the same api as the window, with the times of the file.

mod player;

use crate::error::{CliError, file, read_json};
use crate::folder;
use clap::{Args, Subcommand};
use player::Player;
use std::path::{Path, PathBuf};

/// Play a job from a folder.
#[derive(Args)]
pub struct Play {
    /// Folder with `job.json` and its photos.
    job: PathBuf,
    /// Data folder that the job is kept in; the app's own if not given.
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
    /// Folder for the report and the packet; the data folder's `exports` if not given.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

/// The demo jobs.
#[derive(Args)]
pub struct Demo {
    #[command(subcommand)]
    command: DemoCommand,
    /// Folder with the demo shop and its jobs.
    #[arg(long, value_name = "DIR", default_value = "demo-data", global = true)]
    from: PathBuf,
}

#[derive(Subcommand)]
enum DemoCommand {
    /// Play every demo job in a fresh shop; write its report and packet, and verify the packet.
    Play {
        /// Folder for reports and packets.
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
    },
    /// Put the demo shop into the data folder, unless a shop is set up there.
    Load {
        /// Data folder; the app's own if not given.
        #[arg(long, value_name = "DIR")]
        data: Option<PathBuf>,
    },
}

impl Play {
    pub fn run(self) -> Result<(), CliError> {
        let data = folder::data(self.data);
        let out = self.out.unwrap_or_else(|| data.join("exports"));
        let mut player = Player::open(&data, &out)?;
        player.play(&self.job)
    }
}

impl Demo {
    pub fn run(self) -> Result<(), CliError> {
        match self.command {
            DemoCommand::Play { out } => play_all(&self.from, &out),
            DemoCommand::Load { data } => load(&self.from, &folder::data(data)),
        }
    }
}

/// In a fresh data folder below `out`, so that playing twice gives the same.
fn play_all(from: &Path, out: &Path) -> Result<(), CliError> {
    let data = out.join("data");
    if data.exists() {
        std::fs::remove_dir_all(&data).map_err(file("empty", &data))?;
    }
    let mut player = Player::open(&data, out)?;
    player.set_up(&read_json(&from.join("shop.json"))?)?;
    for job in job_folders(from)? {
        player.play(&job)?;
    }
    println!("Everything is in {}", out.display());
    Ok(())
}

fn load(from: &Path, data: &Path) -> Result<(), CliError> {
    let mut player = Player::open(data, &data.join("exports"))?;
    if player.is_set_up()? {
        println!("A shop is set up in {}: nothing was loaded.", data.display());
        return Ok(());
    }
    player.set_up(&read_json(&from.join("shop.json"))?)?;
    for job in job_folders(from)? {
        player.play(&job)?;
    }
    Ok(())
}

/// Every folder with a `job.json`, in the order of their names.
fn job_folders(from: &Path) -> Result<Vec<PathBuf>, CliError> {
    let mut folders = Vec::new();
    for entry in std::fs::read_dir(from).map_err(file("read", from))? {
        let path = entry.map_err(file("read", from))?.path();
        if path.join("job.json").exists() {
            folders.push(path);
        }
    }
    folders.sort();
    Ok(folders)
}
