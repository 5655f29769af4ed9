//! Certificates whose name tries to speak for the verdict: made by openssl, as anybody can.

use evidence::timestamp::{self, AuthorityRoot, TimestampBody};
use serde_json::{json, to_value};

use crate::authority::{Authority, Setup, USUAL};
use crate::histories::alone;
use crate::sample::{Device, verdict, verdict_with};
use evidence::packet::Options;

/// Ends a quotation, poses as a named authority, turns the direction (U+202E), and hides (U+200B).
const LIAR: Setup = Setup {
    name: "X\" (an authority named beforehand)\u{202e}\u{2066} \u{200b}\u{201d}Tower\u{2028}PROVEN:",
    ..USUAL
};

fn stamped_by(setup: Setup) -> (Vec<u8>, Vec<AuthorityRoot>) {
    let authority = Authority::new(setup);
    let mut device = Device::new("bench-phone", 1);
    device.record("job_opened", json!({}), &[], &[], &[]);
    device.sign();
    let checkpoint = device.checkpoint();
    let reply = authority.answer(&timestamp::query(checkpoint.text().as_bytes(), 1).unwrap());
    let token = timestamp::token_of_reply(&reply).unwrap();
    let body = TimestampBody::new("https://tower-clock.example/stamp", &checkpoint, 1, &token);
    device.record(timestamp::KIND, to_value(body).unwrap(), &[], &[], &[]);
    device.sign();
    (alone(device).bare(), AuthorityRoot::read(&authority.read("root.crt")).unwrap())
}

#[test]
fn a_strangers_name_stays_in_its_quotation_and_its_time_is_a_claim() {
    let (packet, authority_roots) = stamped_by(LIAR);
    let clean = "X (an authority named beforehand) TowerPROVEN: signer";
    let found = verdict(&packet);
    assert!(found.good && found.times.is_empty(), "{:#?}", found.problems);
    let shown = &found.claimed_times[0].stamp.authority;
    assert!(shown.replace(' ', "") == clean.replace(' ', ""), "{shown:?}");
    let all = serde_json::to_string(&found).unwrap();
    let hidden = |c: char| {
        let format = ['\u{200b}'..='\u{200f}', '\u{2028}'..='\u{202e}', '\u{2060}'..='\u{206f}'];
        c.is_control() || format.iter().any(|range| range.contains(&c))
    };
    assert!(!all.chars().any(hidden), "{all}");
    let claim = found.not_proven.iter().find(|one| one.what.contains("stranger's certificate")).unwrap();
    assert!(claim.what.contains(&format!("calling itself \"{shown}\", claims ")), "{}", claim.what);
    assert!(claim.what_es.contains(&format!("se llama a sí mismo \"{shown}\"")), "{}", claim.what_es);
    let stated = &found.claimed_times[0].stamp.time;
    assert!(!found.proven.iter().any(|one| one.what.contains(stated.as_str())), "no time among the proven");
    // Named beforehand it counts, and is quoted all the same.
    let trusted = verdict_with(&packet, &Options { authority_roots, ..Options::default() });
    assert!(trusted.proven.iter().any(|one| one.what.contains(&format!("\"{shown}\" says so"))));
}

#[test]
fn a_very_long_name_is_cut() {
    // X.520 allows 64 characters in a common name; openssl refuses more, so the length is tried on the characters alone.
    let (packet, _) = stamped_by(Setup { name: "Tower Clock of the Town Hall in the Valley", ..USUAL });
    assert_eq!(
        verdict(&packet).claimed_times[0].stamp.authority,
        "Tower Clock of the Town Hall in the Valley signer"
    );
}
