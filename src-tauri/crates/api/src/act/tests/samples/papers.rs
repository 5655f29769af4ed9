//! Papers, copies, what is lost, and keys: one event of every such kind.

use super::photo;
use crate::Workshop;
use crate::entry::*;
use evidence::succession::{DeviceAdded, KeyChanged, KeyLost};
use evidence::timestamp::TimestampBody;
use evidence::{Checkpoint, Digest};
use job::event::*;
use job::{Event, Job};

pub(super) fn papers(job: &Job, workshop: &Workshop) -> Vec<Event> {
    let written = ReportWritten {
        sha256: Digest::of(b"a report"),
        bytes: "8".into(),
        name: "job-0001-findings.pdf".into(),
        language: "en".into(),
        recipient: Recipient::Customer,
        form: ReportForm::Full,
        supplier: String::new(),
        checkpoint_size: 3,
        size: Some(3),
        root: Some(Digest::of(b"a root")),
    };
    let copy = CoveredCopy {
        original: photo(job),
        sha256: photo(job),
        bytes: 100,
        media_type: "image/jpeg".into(),
        areas: vec![CoveredArea { left: 10, top: 10, width: 100, height: 100 }],
        change: CopyChange::AreasCovered,
        marks: None,
    };
    let marked = PhotoMarked {
        photo: photo(job),
        marks: vec![PhotoMark {
            shape: MarkShape::Text,
            tone: MarkTone::Cold,
            x: 100,
            y: 100,
            to_x: 100,
            to_y: 100,
        }],
        texts: vec!["chafed here".into()],
    };
    let lost = MissingPhoto { original: photo(job), found: FoundInstead::Nothing };
    let forgotten = CustomerForgotten {
        values: vec![],
        files: vec![],
        kept: vec![KeptBack { kind: "intake_kept".into(), field: "vin".into(), why: "retention".into() }],
        until: "2032-11-25".into(),
        region: "US-CA".into(),
    };
    let pem = workshop.key().unwrap().public_pem().unwrap();
    let root = Digest::of(b"root");
    let checkpoint = Checkpoint { origin: "shop/job/device".into(), size: 2, root };
    let text = |text: &str| text.to_owned();
    vec![
        Event::ReportWritten(written),
        Event::PhotoRedacted(PhotoRedacted { redactions: vec![copy] }),
        Event::PhotoMarked(marked),
        Event::PhotoMissing(PhotoMissing { missing: vec![lost] }),
        Event::CustomerForgotten(forgotten),
        Event::Timestamp(TimestampBody::new("http://time.invalid", &checkpoint, 7, b"token")),
        Event::KeyChanged(KeyChanged {
            device: text("device-1"),
            old_key: pem.clone(),
            new_key: pem.clone(),
            signature: text(""),
        }),
        Event::KeyLost(KeyLost { device: text("device-1"), lost_key: pem.clone(), new_key: pem.clone() }),
        Event::DeviceAdded(DeviceAdded {
            device: text("device-2"),
            signing_key: pem.clone(),
            new_key: pem,
            signature: text(""),
        }),
        Event::RecordsTakenIn(job::event::RecordsTakenIn { first: 0, count: 2, last: root }),
    ]
}
