use crate::error::{CliError, file, read_json};
use crate::refusal;
use api::Workshop;
use api::entry::{PacketEntry, Recipient, ReportEntry};
use api::view::JobView;
use api::world::SetClock;
use chrono::DateTime;
use demo::{Happened, PlayError, Script, ShopFile, Stage};
use report::{Language, words};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Plays jobs into a workshop.
pub struct Player {
    workshop: Workshop,
    clock: Arc<SetClock>,
    out: PathBuf,
}

impl Player {
    /// Opens the data folder with a clock that the steps set.
    pub fn open(data: &Path, out: &Path) -> Result<Player, CliError> {
        std::fs::create_dir_all(data).map_err(file("create", data))?;
        std::fs::create_dir_all(out).map_err(file("create", out))?;
        let clock = Arc::new(SetClock::at(DateTime::UNIX_EPOCH.fixed_offset()));
        let workshop = Workshop::open_at(data, clock.clone())?;
        Ok(Player { workshop, clock, out: out.to_owned() })
    }

    /// Whether a shop is set up.
    pub fn is_set_up(&self) -> Result<bool, CliError> {
        Ok(self.workshop.shop_view()?.set_up)
    }

    /// Sets the shop up.
    pub fn set_up(&mut self, shop: &ShopFile) -> Result<(), CliError> {
        let view = self.workshop.shop_set_up(&shop.shop)?;
        self.workshop.preferences_keep(&shop.preferences)?;
        println!("Shop: {}, key {}", view.name, view.device.fingerprint_words);
        Ok(())
    }

    /// Plays one job, then writes its report and its packet and verifies the packet.
    pub fn play(&mut self, folder: &Path) -> Result<(), CliError> {
        let script: Script = read_json(&folder.join("job.json"))?;
        println!("\n{}", script.about);
        let photo = |name: &str| std::fs::read(folder.join(&script.photos).join(name));
        let stage = Stage { workshop: &self.workshop, clock: &self.clock, photo: &photo };
        let mut shown = 0;
        let mut watch = |happened: Happened| {
            match happened {
                Happened::Done(view) => shown = show(&script, view, shown),
                Happened::Refused(step, error) => println!(
                    "  {}  refused, as it must be: {}",
                    step.at.get(..16).unwrap_or_default().replace('T', " "),
                    self.sentence(error)
                ),
            }
            Ok(())
        };
        let view = stage.play(&script, &mut watch).map_err(|error| self.failure(error, folder))?;
        self.hand_out(&script, &view)
    }

    fn sentence(&self, error: api::ApiError) -> String {
        refusal::sentence_with(&error.into(), &|minor| self.workshop.amount(minor))
    }

    fn failure(&self, error: PlayError, folder: &Path) -> CliError {
        match error {
            PlayError::Workshop(error) => error.into(),
            PlayError::Refused { step, what, error } => {
                CliError::Step { step, what, problem: self.sentence(*error) }
            }
            PlayError::Otherwise { step, what, problem } => CliError::Step { step, what, problem },
            PlayError::Unknown { name, problem } => {
                CliError::Format { path: name, problem: problem.to_owned() }
            }
            PlayError::Photo { file: name, source } => file("read", &folder.join(name))(source),
            broken @ PlayError::Sample(_) => {
                CliError::Format { path: folder.display().to_string(), problem: broken.to_string() }
            }
        }
    }

    fn hand_out(&self, script: &Script, view: &JobView) -> Result<(), CliError> {
        let view = self
            .workshop
            .report_write(&view.job, &ReportEntry::preset(&script.language, Recipient::Customer))?;
        let verdict = self
            .workshop
            .packet_write(&view.job, &PacketEntry::preset(&script.language, Recipient::Customer))?;
        let view = self.workshop.job_view(&view.job)?;
        for written in view.reports.iter().chain(&view.packets) {
            let target = self.out.join(&written.name);
            if Path::new(&written.path) != target {
                std::fs::copy(&written.path, &target).map_err(file("copy", &target))?;
            }
            println!("  wrote {} ({} bytes, SHA-256 {})", target.display(), written.bytes, written.sha256);
        }
        if !verdict.good {
            return Err(CliError::BadPacket(view.packets.iter().map(|p| p.name.clone()).collect()));
        }
        println!(
            "  verified: {} records and {} photos unchanged since this key sealed them: {}",
            verdict.records, verdict.photos, verdict.fingerprint_words
        );
        Ok(())
    }
}

/// Prints the entries of the time-line from `shown` on; returns how many there are now.
fn show(script: &Script, view: &JobView, shown: u32) -> u32 {
    let language = Language::of(&script.language);
    for entry in view.timeline.iter().filter(|entry| entry.place > shown) {
        let time = entry.kept.get(..16).unwrap_or(&entry.kept).replace('T', " ");
        println!("  {time}  {}", words::line(language, &entry.kind, &named(view, language, &entry.values)));
    }
    view.records
}

/// The values of an entry with the circuit's own words for a test.
fn named(view: &JobView, language: Language, values: &BTreeMap<String, String>) -> BTreeMap<String, String> {
    let mut values = values.clone();
    let tests = view.circuit.iter().flat_map(|circuit| &circuit.tests);
    if let (Some(id), tests) = (values.get("test").cloned(), tests)
        && let Some(test) = tests.into_iter().find(|test| test.id == id)
    {
        let title = if language == Language::Spanish { &test.title.es } else { &test.title.en };
        values.insert("test".to_owned(), title.clone());
    }
    values
}
