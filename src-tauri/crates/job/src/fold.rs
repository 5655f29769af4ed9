//! Records in, a job out. The fold is the only way a [`Job`] comes to be.

use crate::attempts::Attempt;
use crate::doubt::RecordDoubt;
use crate::event::*;
use circuit::Circuit;
use evidence::{Digest, Record};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A record with its leaf and the withheld values that are at hand, by field name.
#[derive(Clone, Debug)]
pub struct KeptRecord {
    /// Leaf hash.
    pub leaf: Digest,
    /// The record.
    pub record: Record,
    /// Opened disclosures.
    pub opened: BTreeMap<String, Value>,
}

/// An event with when and where it was kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept<T> {
    /// Leaf hash of the record.
    pub record: Digest,
    /// Wall time with offset.
    pub wall: String,
    /// The event.
    pub event: T,
}

/// A reading in the order it was kept, from 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Running number.
    pub number: u32,
    /// Leaf hash of the record.
    pub record: Digest,
    /// Wall time.
    pub wall: String,
    /// The reading; of a correction, the corrected one with its note.
    pub reading: ReadingKept,
    /// Record that this one corrects, and why.
    pub corrects: Option<(Digest, String)>,
    /// Record that corrects this one.
    pub corrected_by: Option<Digest>,
    /// What corrects it takes it back and puts nothing in its place.
    pub withdrawn: bool,
    /// Kept after a repair was approved (an approval that follows a finding).
    pub after_repair: bool,
}

/// One line of the time-line.
#[derive(Clone, Debug)]
pub struct TimelineRecord {
    /// Leaf hash.
    pub record: Digest,
    /// The device whose log it stands in.
    pub device: String,
    /// Sequence in its log.
    pub sequence: u64,
    /// Kind.
    pub kind: String,
    /// Wall time.
    pub wall: String,
    /// The event; nothing where the record can't be used.
    pub event: Option<Event>,
    /// Why the record can't be used; empty where it can.
    pub unusable: String,
    /// Photos that the record names.
    pub photos: Vec<Digest>,
    /// Doubts about its clock, its photo or its use.
    pub doubts: Vec<RecordDoubt>,
    /// Whether somebody known signed for it. What nobody signed for counts nowhere until its owner takes it in.
    pub vouched: bool,
}

/// A job as its records tell it.
#[derive(Clone, Debug, Default)]
pub struct Job {
    /// Opening record.
    pub opened: JobOpened,
    /// Wall time of the opening.
    pub opened_wall: String,
    /// Wall time of the newest record.
    pub changed_wall: String,
    /// Intake as it stands.
    pub intake: IntakeKept,
    /// Photos by hash, with the time they were kept.
    pub photos: BTreeMap<Digest, Kept<PhotoKept>>,
    /// Meter.
    pub meter: Option<Kept<MeterChosen>>,
    /// Circuit.
    pub circuit: Option<Kept<CircuitChosen>>,
    /// The circuit, read once.
    circuit_file: Option<Arc<Circuit>>,
    /// Pins by connector and number.
    pub pins: BTreeMap<(String, String), Kept<PinNoted>>,
    /// Cautions acknowledged.
    pub cautions: BTreeSet<String>,
    /// Tests that can't be reached.
    pub unreachable: BTreeSet<String>,
    /// Readings, corrected ones included.
    pub readings: Vec<Reading>,
    /// Findings.
    pub findings: Vec<Kept<FindingKept>>,
    /// Estimate versions.
    pub estimates: Vec<Kept<EstimateKept>>,
    /// Approvals.
    pub approvals: Vec<Kept<ApprovalKept>>,
    /// Parts.
    pub parts: Vec<Kept<PartReceived>>,
    /// Decisions on who programs the module, oldest first.
    pub programming: Vec<Kept<ProgrammingDecided>>,
    /// Attempts at programming it, oldest first, corrected ones included.
    pub programmed: Vec<Attempt>,
    /// Proofs of the fix.
    pub proofs: Vec<Kept<FixProven>>,
    /// Questions for an approval that went out.
    pub requests: Vec<Kept<ApprovalRequested>>,
    /// Approvals that were taken back, by the record of the approval.
    pub withdrawn: BTreeMap<Digest, Kept<ApprovalWithdrawn>>,
    /// Waivers of the written estimate.
    pub waived: Vec<Kept<EstimateWaived>>,
    /// Invoices; none replaces another.
    pub invoices: Vec<Kept<InvoiceKept>>,
    /// Credit notes.
    pub credit_notes: Vec<Kept<CreditNoteKept>>,
    /// Money between shop and customer.
    pub payments: Vec<Kept<PaymentKept>>,
    /// What happened between the shop and its suppliers.
    pub supplier_steps: Vec<Kept<SupplierStepKept>>,
    /// Hand-over.
    pub handed_over: Option<Kept<HandedOver>>,
    /// Reports.
    pub reports: Vec<Kept<ReportWritten>>,
    /// Copies of photos that go out in their place, oldest first.
    pub covered: Vec<Kept<PhotoRedacted>>,
    /// Marks on photos, by photo: the latest of each.
    pub marks: BTreeMap<Digest, Kept<PhotoMarked>>,
    /// Photos whose originals are lost, with the record that said so first. One may have been found again since.
    pub missing: BTreeMap<Digest, Kept<MissingPhoto>>,
    /// What was destroyed on request.
    pub forgotten: Vec<Kept<CustomerForgotten>>,
    /// Times from outside, as kept; whether they hold is for [`evidence::timestamp::check`] to say.
    pub timestamps: Vec<Kept<evidence::timestamp::TimestampBody>>,
    /// All records in order.
    pub timeline: Vec<TimelineRecord>,
    /// True once an approval followed a finding.
    pub repair_approved: bool,
    /// Places on the time-line, and among the readings, by record: a job may have thousands.
    pub(crate) places: BTreeMap<Digest, usize>,
    reading_places: BTreeMap<Digest, usize>,
}

impl Job {
    /// Folds records in the order they were kept. A record that can't be used is shown on the time-line as such, and
    /// everything else goes on.
    #[must_use]
    pub fn fold(records: &[KeptRecord]) -> Job {
        let mut job = Job::default();
        for (index, kept) in records.iter().enumerate() {
            let before = index.checked_sub(1).and_then(|i| records.get(i));
            job.add(kept, before.map(|before| &before.record));
        }
        job
    }

    /// Adds the record that follows; `before` is the one kept before it.
    pub fn add(&mut self, kept: &KeptRecord, before: Option<&Record>) {
        let record = &kept.record;
        let read = usable(record, &kept.opened);
        self.places.insert(kept.leaf, self.timeline.len());
        self.changed_wall.clone_from(&record.wall);
        if let Ok(Event::RecordsTakenIn(taken)) = &read {
            self.mark_taken_in(&record.device, taken);
        }
        self.timeline.push(TimelineRecord {
            record: kept.leaf,
            device: record.device.clone(),
            sequence: record.sequence,
            kind: record.kind.clone(),
            wall: record.wall.clone(),
            event: read.as_ref().ok().cloned(),
            unusable: read.as_ref().err().cloned().unwrap_or_default(),
            photos: record.photos.iter().map(|photo| photo.sha256).collect(),
            doubts: crate::doubt::of_record(record, before, read.as_ref().ok()),
            vouched: true,
        });
        if let Ok(event) = read {
            self.take(kept.leaf, &record.wall, event);
        }
    }

    /// True when the record that opens a job is there and can be used.
    #[must_use]
    pub fn is_opened(&self) -> bool {
        self.timeline.iter().any(|entry| matches!(entry.event, Some(Event::JobOpened(_))))
    }

    /// Records that can't be used.
    pub fn unusable(&self) -> impl Iterator<Item = &TimelineRecord> {
        self.timeline.iter().filter(|entry| entry.event.is_none() && entry.vouched)
    }

    /// Records that nobody known signed for.
    pub fn not_vouched(&self) -> impl Iterator<Item = &TimelineRecord> {
        self.timeline.iter().filter(|entry| !entry.vouched)
    }

    /// The circuit that was chosen.
    #[must_use]
    pub fn circuit_file(&self) -> Option<&Arc<Circuit>> {
        self.circuit_file.as_ref()
    }

    /// Readings that count: corrected ones are left out.
    pub fn valid_readings(&self) -> impl Iterator<Item = &Reading> {
        self.readings.iter().filter(|r| r.corrected_by.is_none())
    }

    /// A reading by its record.
    pub fn reading(&self, record: &Digest) -> Option<&Reading> {
        let place = self.reading_places.get(record);
        let known = place.and_then(|place| self.readings.get(*place));
        // Readings that were put in by hand have no place.
        known.or_else(|| self.readings.iter().filter(|_| place.is_none()).find(|r| r.record == *record))
    }

    /// A line of the time-line by its record.
    pub fn entry(&self, record: &Digest) -> Option<&TimelineRecord> {
        self.places.get(record).and_then(|place| self.timeline.get(*place))
    }

    /// True when the bytes of a photo or report were destroyed on request.
    pub fn has_forgotten(&self, file: &Digest) -> bool {
        self.forgotten.iter().any(|kept| kept.event.files.contains(file))
    }

    /// The latest version of the estimate.
    pub fn latest_estimate(&self) -> Option<&Kept<EstimateKept>> {
        self.estimates.last()
    }

    /// Version of the next estimate. Every estimate on record counts, also one that can't be used: no version is given twice.
    #[must_use]
    pub fn next_estimate_version(&self) -> u32 {
        let on_record =
            self.timeline.iter().filter(|entry| entry.kind == EstimateKept::DESCRIPTOR.kind).count();
        let latest = self.latest_estimate().map_or(0, |latest| latest.event.estimate.version);
        u32::try_from(on_record).unwrap_or(u32::MAX).max(latest).saturating_add(1)
    }

    fn take(&mut self, record: Digest, wall: &str, event: Event) {
        let wall = wall.to_owned();
        match event {
            Event::JobOpened(e) => {
                self.opened = e;
                self.opened_wall = wall;
            }
            Event::IntakeKept(e) => self.intake.merge(&e),
            Event::PhotoKept(event) => {
                self.photos.entry(event.sha256).or_insert(Kept { record, wall, event });
            }
            Event::MeterChosen(event) => self.meter = Some(Kept { record, wall, event }),
            Event::CircuitChosen(event) => {
                self.circuit_file = event.parsed().ok().map(Arc::new);
                self.circuit = Some(Kept { record, wall, event });
            }
            Event::PinNoted(event) => {
                let key = (event.connector.clone(), event.pin.clone());
                self.pins.insert(key, Kept { record, wall, event });
            }
            Event::CautionAcknowledged(e) => {
                self.cautions.insert(e.caution);
            }
            Event::TestUnreachable(e) if e.unreachable => {
                self.unreachable.insert(e.test);
            }
            Event::TestUnreachable(e) => {
                self.unreachable.remove(&e.test);
            }
            Event::ReadingKept(reading) => self.take_reading(record, wall, reading, None),
            Event::ReadingCorrected(e) if e.withdrawn => {
                if let Some(reading) = self.replaced(&e.corrects, record) {
                    reading.withdrawn = true;
                }
            }
            Event::ReadingCorrected(e) => {
                let reading = ReadingKept { note: e.note, ..e.reading };
                self.take_reading(record, wall, reading, Some((e.corrects, e.reason)));
            }
            Event::FindingKept(event) => self.findings.push(Kept { record, wall, event }),
            Event::EstimateKept(event) => self.estimates.push(Kept { record, wall, event }),
            Event::EstimateWaived(event) => self.waived.push(Kept { record, wall, event }),
            Event::ApprovalRequested(event) => self.requests.push(Kept { record, wall, event }),
            Event::ApprovalKept(event) => {
                self.repair_approved |= event.approves() && !self.findings.is_empty();
                self.approvals.push(Kept { record, wall, event });
            }
            Event::ApprovalWithdrawn(event) => {
                self.withdrawn.entry(event.approval).or_insert(Kept { record, wall, event });
            }
            Event::PartReceived(event) => self.parts.push(Kept { record, wall, event }),
            Event::ProgrammingDecided(event) => self.programming.push(Kept { record, wall, event }),
            Event::ProgrammingReported(event) => self.take_attempt(Kept { record, wall, event }),
            Event::FixProven(event) => self.proofs.push(Kept { record, wall, event }),
            Event::InvoiceKept(event) => self.invoices.push(Kept { record, wall, event }),
            Event::CreditNoteKept(event) => self.credit_notes.push(Kept { record, wall, event }),
            Event::PaymentKept(event) => self.payments.push(Kept { record, wall, event }),
            Event::SupplierStepKept(event) => self.supplier_steps.push(Kept { record, wall, event }),
            Event::HandedOver(event) => self.handed_over = Some(Kept { record, wall, event }),
            Event::ReportWritten(event) => self.reports.push(Kept { record, wall, event }),
            Event::PhotoRedacted(event) => self.covered.push(Kept { record, wall, event }),
            Event::PhotoMarked(event) => {
                self.marks.insert(event.photo, Kept { record, wall, event });
            }
            Event::PhotoMissing(event) => {
                for event in event.missing {
                    let kept = Kept { record, wall: wall.clone(), event };
                    self.missing.entry(kept.event.original).or_insert(kept);
                }
            }
            Event::CustomerForgotten(event) => self.forgotten.push(Kept { record, wall, event }),
            Event::Timestamp(event) => self.timestamps.push(Kept { record, wall, event }),
            // Whose keys sign is for the packet's verifier to follow; the job only shows that it happened.
            Event::KeyChanged(_) | Event::KeyLost(_) | Event::DeviceAdded(_) | Event::RecordsTakenIn(_) => {}
        }
    }

    fn take_reading(
        &mut self,
        record: Digest,
        wall: String,
        reading: ReadingKept,
        corrects: Option<(Digest, String)>,
    ) {
        if let Some((target, _)) = &corrects {
            self.replaced(target, record);
        }
        self.reading_places.insert(record, self.readings.len());
        let number = u32::try_from(self.readings.len()).unwrap_or(u32::MAX).saturating_add(1);
        let after_repair = self.repair_approved;
        self.readings.push(Reading {
            number,
            record,
            wall,
            reading,
            corrects,
            corrected_by: None,
            withdrawn: false,
            after_repair,
        });
    }

    /// The reading that counts no longer because of `record`.
    fn replaced(&mut self, target: &Digest, record: Digest) -> Option<&mut Reading> {
        let place = self.reading_places.get(target).copied()?;
        let reading = self.readings.get_mut(place)?;
        reading.corrected_by = Some(record);
        Some(reading)
    }
}

/// The event of a record, or why it can't be used.
fn usable(record: &Record, opened: &BTreeMap<String, Value>) -> Result<Event, String> {
    let event = Event::from_parts(&record.kind, &record.body, opened).map_err(|error| error.to_string())?;
    event.check().map_err(|error| error.to_string())?;
    Ok(event)
}
