//! Records that contradict each other, sealed and signed anew so that every proof holds: the verifier reads what they say.

use evidence::Digest;
use evidence::packet::{Code, Verdict};
use serde_json::{Value, json};

use crate::folder::Folder;
use crate::histories::alone;
use crate::outsider;
use crate::sample::{Device, verdict};

/// A job with an estimate, its approval, a reading, a finding on it, the bill and a report; `change` tampers before sealing.
fn job(change: &dyn Fn(&str, &mut Value)) -> Device {
    let mut device = Device::new("bench-phone", 1);
    let mut keep = |kind: &str, mut body: Value| -> Digest {
        change(kind, &mut body);
        device.record(kind, body, &[], &[], &[]);
        *device.leaves.last().unwrap()
    };
    let reading = keep("reading_kept", json!({"value": "12.41", "unit": "V"}));
    keep("finding_kept", json!({"readings": [reading]}));
    let estimate = keep("estimate_kept", json!({"totals": {"total": "12999"}}));
    keep("approval_kept", json!({"version": 1, "estimate": estimate, "amount": "12999"}));
    keep("invoice_kept", json!({"totals": {"total": "12999"}, "approved": "12999"}));
    let (size, root) = (device.leaves.len(), device.checkpoint().root);
    let mut body = json!({"sha256": Digest::of(b"a report"), "size": size, "root": root});
    change("report_written", &mut body);
    device.record("report_written", body, &[], &[], &[]);
    device.sign();
    device
}

fn tampered(kind: &'static str, pointer: &'static str, to: Value) -> Verdict {
    verdict(&tampered_packet(kind, pointer, &to))
}

fn tampered_packet(kind: &'static str, pointer: &'static str, to: &Value) -> Vec<u8> {
    let device = job(&|own, body| {
        if own == kind {
            *body.pointer_mut(pointer).unwrap() = to.clone();
        }
    });
    alone(device).bare()
}

#[test]
fn records_that_agree_are_said_to_agree() {
    let found = verdict(&alone(job(&|_, _| {})).bare());
    assert!(found.good && found.doubts.is_empty(), "{:#?} {:#?}", found.problems, found.doubts);
    assert!(found.proven.iter().any(|finding| finding.code == Code::Meaning), "{:#?}", found.proven);
}

#[test]
fn records_that_contradict_each_other_are_named() {
    let nowhere = json!(Digest::of(b"nowhere"));
    let cases = [
        ("approval_kept", "/amount", json!("13999"), 3),
        ("approval_kept", "/estimate", nowhere.clone(), 3),
        ("estimate_kept", "/totals/total", json!("9999"), 3),
        ("invoice_kept", "/approved", json!("20000"), 4),
        ("finding_kept", "/readings/0", nowhere.clone(), 1),
        ("report_written", "/root", nowhere, 5),
        ("report_written", "/size", json!(4), 5),
        ("report_written", "/size", json!(6), 5),
    ];
    for (kind, pointer, to, sequence) in cases {
        let packet = tampered_packet(kind, pointer, &to);
        let found = verdict(&packet);
        let (fits, said) = outsider::says(&Folder::of(&packet).bag);
        assert!(!fits, "{kind}{pointer}, as an outsider sees it: {said}");
        let place = format!("data/logs/bench-phone/records/{sequence:06}.json");
        let named = |one: &evidence::packet::Finding| {
            one.code == Code::Meaning && one.place.as_deref() == Some(place.as_str())
        };
        assert!(!found.good && found.problems.iter().any(named), "{kind}{pointer}: {:#?}", found.problems);
        assert!(found.problems.iter().all(|one| one.code == Code::Meaning), "every proof by bytes holds");
    }
}

/// Which margin the law of the place allows, bytes don't tell.
#[test]
fn a_bill_above_the_approval_is_pointed_out() {
    let found = tampered("invoice_kept", "/totals/total", json!("13500"));
    assert!(found.good, "{:#?}", found.problems);
    let said: Vec<&str> = found.doubts.iter().map(|one| one.what.as_str()).collect();
    assert!(said.len() == 1 && said[0].contains("135.00") && said[0].contains("129.99"), "{said:?}");
}

/// Where another device's log is left out, what it may hold is not called missing.
#[test]
fn what_may_stand_in_a_log_that_is_not_here_is_no_problem() {
    let other = {
        let mut other = Device::new("desk-tablet", 2);
        other.record("estimate_kept", json!({"totals": {"total": "500"}}), &[], &[], &[]);
        other
    };
    let mut device = Device::new("bench-phone", 1);
    let body = json!({"estimate": other.leaves[0], "amount": "500"});
    device.record("approval_kept", body, &[], &[], &[&other]);
    device.sign();
    let found = verdict(&alone(device).bare());
    assert!(found.good, "{:#?}", found.problems);
    assert!(found.not_proven.iter().any(|one| one.code == Code::Meaning));
}
