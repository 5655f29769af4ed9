use super::names::Names;
use super::script::{Action, Expectation, Script, ShopFile, Step};
use crate::error::{CliError, file, read_json};
use crate::refusal;
use api::entry::{
    ApprovalWithdrawalEntry, CreditNoteEntry, PacketEntry, PhotoEntry, ReadingEntry, Recipient, ReportEntry,
    SeenEntry,
};
use api::view::JobView;
use api::world::SetClock;
use api::{ApiError, Workshop};
use chrono::{DateTime, FixedOffset};
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
        if let Some(first) = script.steps.first() {
            self.clock.set(moment(1, first)?);
        }
        let mut view = self.workshop.job_open()?;
        let mut names = Names::default();
        let mut shown = self.show(&script, &view, 0);
        for (index, step) in script.steps.iter().enumerate() {
            let number = index.saturating_add(1);
            self.clock.set(moment(number, step)?);
            names.job(&view);
            self.step(folder, &script, &view.job, number, step, &mut names)?;
            view = self.workshop.job_view(&view.job)?;
            if let Action::Expect(expected) = &step.action {
                check(number, expected, &view)?;
            }
            shown = self.show(&script, &view, shown);
        }
        self.hand_out(&script, &view)
    }

    fn step(
        &self,
        folder: &Path,
        script: &Script,
        job: &str,
        number: usize,
        step: &Step,
        names: &mut Names,
    ) -> Result<(), CliError> {
        let action = names.resolve(&step.action)?;
        let done = match &action {
            Action::PhotoKeep(photo) => {
                let path = folder.join(&script.photos).join(&photo.file);
                let bytes = std::fs::read(&path).map_err(file("read", &path))?;
                let entry = PhotoEntry { job: job.to_owned(), purpose: photo.purpose, live: false };
                self.workshop.photo_keep(&entry, &bytes).map(|kept| names.photo(&photo.file, &kept.sha256))
            }
            other => act(&self.workshop, job, other),
        };
        outcome(number, step, done, &|minor| self.workshop.amount(minor))
    }

    /// Prints the entries of the time-line from `shown` on; returns how many there are now.
    fn show(&self, script: &Script, view: &JobView, shown: u32) -> u32 {
        let language = Language::of(&script.language);
        for entry in view.timeline.iter().filter(|entry| entry.place > shown) {
            let time = entry.kept.get(..16).unwrap_or(&entry.kept).replace('T', " ");
            println!(
                "  {time}  {}",
                words::line(language, &entry.kind, &named(view, language, &entry.values))
            );
        }
        view.records
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

fn act(workshop: &Workshop, job: &str, action: &Action) -> Result<(), ApiError> {
    match action {
        Action::IntakeKeep(e) => workshop.intake_keep(job, e),
        Action::MeterChoose(e) => workshop.meter_choose(job, e),
        Action::CircuitChoose(id) => workshop.circuit_choose(job, id),
        Action::PinKeep(e) => workshop.pin_keep(job, e),
        Action::CautionAcknowledge(code) => workshop.caution_acknowledge(job, code),
        Action::TestUnreachable(test) => workshop.test_unreachable(job, test, true),
        Action::ReadingKeep(e) => workshop.reading_keep(job, &seen_on_photo(workshop, job, e)?),
        Action::ReadingCorrect(e) => workshop.reading_correct(job, e),
        Action::FindingKeep(e) => workshop.finding_keep(job, e),
        Action::EstimateKeep(e) => workshop.estimate_keep(job, e),
        Action::ApprovalKeep(e) => workshop.approval_keep(job, e),
        Action::ApprovalRequest(e) => workshop.approval_request(job, e),
        Action::ApprovalWithdraw(e) => {
            let approvals = workshop.job_view(job)?.approvals;
            let holds = approvals.iter().find(|one| one.in_force).map(|one| one.record.clone());
            let approval = Some(e.approval.clone()).filter(|named| !named.is_empty()).or(holds);
            let approval = approval.unwrap_or_default();
            workshop.approval_withdraw(job, &ApprovalWithdrawalEntry { approval, ..e.clone() })
        }
        Action::CreditNoteKeep(e) => {
            let latest = workshop.job_view(job)?.invoices.last().map(|one| one.record.clone());
            let named = Some(e.invoice.clone()).filter(|named| !named.is_empty());
            let invoice = named.or(latest).unwrap_or_default();
            workshop.credit_note_keep(job, &CreditNoteEntry { invoice, ..e.clone() })
        }
        Action::PaymentKeep(e) => workshop.payment_keep(job, e),
        Action::SupplierStepKeep(e) => workshop.supplier_step_keep(job, e),
        Action::PartReceive(e) => workshop.part_receive(job, e),
        Action::ProgrammingDecide(e) => workshop.programming_decide(job, e),
        Action::ProgrammingReport(e) => workshop.programming_report(job, e),
        Action::ProofKeep(e) => workshop.proof_keep(job, e),
        Action::InvoiceKeep(e) => workshop.invoice_keep(job, e),
        Action::HandOver(e) => workshop.hand_over(job, e),
        Action::PhotoKeep(_) | Action::Expect(_) => return Ok(()),
    }
    .map(|_| ())
}

/// As at the vehicle: the photo is read, and its number taken over where it is the one that was entered.
fn seen_on_photo(workshop: &Workshop, job: &str, entry: &ReadingEntry) -> Result<ReadingEntry, ApiError> {
    let Some(photo) = entry.photos.last().cloned() else { return Ok(entry.clone()) };
    let asked = SeenEntry { photo, mode: entry.mode, unit: entry.unit, range: entry.range.clone() };
    let proposal = workshop.photo_seen(job, &asked)?;
    let photo_taken = !proposal.value.is_empty() && proposal.value == entry.value;
    Ok(ReadingEntry { photo_taken, ..entry.clone() })
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

/// A step has to succeed, or to be refused with the code its file names.
fn outcome(
    number: usize,
    step: &Step,
    done: Result<(), ApiError>,
    amount: &dyn Fn(i64) -> String,
) -> Result<(), CliError> {
    let problem = match (done, &step.refused) {
        (Ok(()), None) => return Ok(()),
        (Err(error), Some(code)) if error.code() == code => {
            println!(
                "  {}  refused, as it must be: {}",
                step.at.get(..16).unwrap_or_default().replace('T', " "),
                refusal::sentence_with(&error.into(), amount)
            );
            return Ok(());
        }
        (Ok(()), Some(code)) => format!("should have been refused with {code}"),
        (Err(error), _) => refusal::sentence_with(&error.into(), amount),
    };
    Err(CliError::Step { step: number, what: name(&step.action), problem })
}

fn check(number: usize, expected: &Expectation, view: &JobView) -> Result<(), CliError> {
    let diagnosis = view.diagnosis.as_ref();
    let module = diagnosis.is_some_and(|d| d.modules.iter().any(|m| m.may_be_called));
    let leading = diagnosis.and_then(|d| d.causes.first()).map(|c| c.id.clone()).unwrap_or_default();
    let offered: Vec<String> =
        diagnosis.map(|d| d.next.iter().take(3).map(|n| n.test.clone()).collect()).unwrap_or_default();
    let problem = if expected.module_may_be_called.is_some_and(|want| want != module) {
        format!("the module may {}be called", if module { "" } else { "not " })
    } else if expected.leading_cause.as_ref().is_some_and(|want| *want != leading) {
        format!("the leading cause is {leading}")
    } else if expected.offered.as_ref().is_some_and(|want| !offered.contains(want)) {
        format!("the tests offered are {}", offered.join(", "))
    } else if expected.stage.as_ref().is_some_and(|want| *want != view.stage) {
        format!("the stage is {}", view.stage)
    } else {
        return Ok(());
    };
    Err(CliError::Step { step: number, what: "expect".to_owned(), problem })
}

fn name(action: &Action) -> String {
    let value = serde_json::to_value(action).ok();
    value.and_then(|v| v.get("do").and_then(|d| d.as_str().map(str::to_owned))).unwrap_or_default()
}

fn moment(number: usize, step: &Step) -> Result<DateTime<FixedOffset>, CliError> {
    DateTime::parse_from_rfc3339(&step.at).map_err(|e| CliError::Step {
        step: number,
        what: name(&step.action),
        problem: format!("{:?} is not a time: {e}", step.at),
    })
}
