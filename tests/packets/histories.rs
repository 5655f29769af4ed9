//! Whole histories that somebody made up with keys at hand, for recipes to start from.

use evidence::{DeviceKey, SignedCheckpoint, succession};
use serde_json::{json, to_value};

use crate::folder::Folder;
use crate::rich::second_key;
use crate::sample::{Device, Sample};

/// The packet of a history; none if there is none of that name.
pub fn packet(name: &str) -> Option<Vec<u8>> {
    let sample = match name {
        // The owner of the key left the end of the log out and signed what is left.
        "short" => alone(shorten(&Sample::new().devices[0], 3)),
        // The same, beside a log that knew more.
        "short beside the other log" => {
            let mut sample = Sample::new();
            sample.devices[0] = shorten(&sample.devices[0], 3);
            sample
        }
        // Somebody without the key signed everything anew.
        "signed by a stranger" => {
            let mut sample = Sample::new();
            sign_anew(&mut sample.devices[0], key("stranger"));
            return Some(sample.whole());
        }
        // The log of the second device is made up under its name.
        "second device made up" => {
            let mut sample = Sample::rich();
            let folder = Folder::of(&sample.whole());
            sign_anew(&mut sample.devices[1], key("stranger"));
            let log = |name: &str| folder.file(&format!("data/logs/desk-tablet/{name}"));
            let signed = &sample.devices[1].checkpoints[0];
            // By other means than our writer, which refuses it.
            std::fs::write(log("key.pem"), key("stranger").public_pem().unwrap()).unwrap();
            std::fs::write(log("checkpoint-001.sig"), signed.signature).unwrap();
            std::fs::write(log("checkpoint-001.note"), &signed.note).unwrap();
            return Some(folder.repack());
        }
        // The holder of the key wrote another history of the same length.
        "second history" => alone(second_history()),
        "lost key" => alone(lost_key()),
        "turned clock" => alone(turned_clock()),
        "kept against its photo" => alone(kept_against_its_photo()),
        _ => return None,
    };
    Some(sample.bare())
}

/// A key by the name of its holder.
pub fn key(holder: &str) -> DeviceKey {
    match holder {
        "bench phone" => DeviceKey::from_seed([1; 32]),
        "bench phone, second" => second_key(),
        "desk tablet" => DeviceKey::from_seed([2; 32]),
        "stranger" => DeviceKey::from_seed([66; 32]),
        other => panic!("nobody is called {other}"),
    }
}

/// The checkpoint with this number, from 1, of the bench phone's log in a history.
pub fn note(history: &str, number: usize) -> SignedCheckpoint {
    let device = match history {
        "plain" => Sample::new().devices.remove(0),
        "rich" => Sample::rich().devices.remove(0),
        "second history" => second_history(),
        "signed by a stranger" => {
            let mut device = Sample::new().devices.remove(0);
            sign_anew(&mut device, key("stranger"));
            device
        }
        other => panic!("no history is called {other}"),
    };
    device.checkpoints[number - 1].clone()
}

/// The device as if it had never written more than `size` records.
pub fn shorten(device: &Device, size: usize) -> Device {
    let mut short = Device::new(&device.id.device, 1);
    short.records = device.records[..size].to_vec();
    short.leaves = device.leaves[..size].to_vec();
    short.sign();
    short
}

fn sign_anew(device: &mut Device, key: DeviceKey) {
    let stated = device.checkpoints.iter().map(|signed| signed.checkpoint().unwrap());
    device.checkpoints = stated.map(|checkpoint| key.sign(&checkpoint)).collect();
    device.key = key;
}

/// Eight records, as many as the log of the plain history has or more, with another reading.
fn second_history() -> Device {
    let mut device = Device::new("bench-phone", 1);
    device.record("job_opened", json!({"odometer": "81234 km"}), &[], &[("owner", "Ana Ñúñez")], &[]);
    for _ in 0..7 {
        device.record("reading_kept", json!({"value": "9.87 V"}), &[], &[], &[]);
    }
    device.sign();
    device
}

fn lost_key() -> Device {
    let mut device = Device::new("bench-phone", 1);
    device.record("job_opened", json!({}), &[], &[], &[]);
    device.sign();
    let (lost, new) = (device.key.public(), second_key().public());
    let lost = succession::lose("corner-garage", "bench-phone", &lost, &new).unwrap();
    device.record(succession::LOST, to_value(lost).unwrap(), &[], &[("reason", "fell into a drain")], &[]);
    device.newest = Some(second_key());
    device.sign();
    device
}

/// Three readings of one meter: one that agrees with its photo, one that was kept against it, and that one corrected.
fn kept_against_its_photo() -> Device {
    let mut device = Device::new("bench-phone", 1);
    device.record("job_opened", json!({}), &[], &[], &[]);
    let reading = |value: &str, against: bool| {
        let photo = "ab".repeat(32);
        let mut seen = json!({"photo": photo, "value": "6.02", "certainty": 998, "decision": "ignored"});
        if against {
            seen["kept_against"] = json!(true);
        }
        json!({"value": value, "unit": "kohm", "seen": seen})
    };
    device.record("reading_kept", reading("6.02", false), &[], &[], &[]);
    device.record("reading_kept", reading("60.2", true), &[], &[], &[]);
    let again = json!({"reading": reading("62.0", true), "corrects": "cd".repeat(32)});
    device.record("reading_corrected", again, &[], &[], &[]);
    let back = json!({"reading": reading("62.0", true), "corrects": "ce".repeat(32), "withdrawn": true});
    device.record("reading_corrected", back, &[], &[], &[]);
    device.sign();
    device
}

/// The clock was set back by a day between two records; nothing was corrected.
fn turned_clock() -> Device {
    let mut device = Device::new("bench-phone", 1);
    device.record("job_opened", json!({}), &[], &[], &[]);
    device.day = "2031-04-04";
    device.record("reading_kept", json!({"value": "12.41 V"}), &[], &[], &[]);
    device.sign();
    device
}

pub fn alone(device: Device) -> Sample {
    let (photos, redacted, kept_back, report) = Default::default();
    Sample { devices: vec![device], photos, redacted, kept_back, report }
}
