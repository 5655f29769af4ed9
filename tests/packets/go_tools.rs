//! Our signed notes, roots and proofs against Go's `sumdb/note` and `sumdb/tlog`, as Debian packs them.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use evidence::{DeviceKey, Digest, SignedCheckpoint, tree};
use serde_json::{Value, json};

use crate::folder::text;
use crate::sample::Sample;

#[test]
fn go_agrees_on_notes_roots_and_proofs() {
    let sample = Sample::rich();
    let device = sample.bench();
    let leaves: Vec<Digest> = (0..70_u8).map(|byte| tree::leaf(&[byte])).collect();
    let (inclusion, consistency) = proofs(&leaves);
    let key = DeviceKey::from_seed([5; 32]);
    let signed = key.sign(&device.checkpoint());
    let name = device.id.origin();
    let notes: Vec<Value> = device
        .checkpoints
        .iter()
        .flat_map(|signed| {
            [&device.key, device.signing_key()].map(|key| (signed, key.public().note_key(&name)))
        })
        .map(|(signed, key)| json!({"note": signed.note, "key": key}))
        .collect();
    let given = json!({
        "notes": notes,
        "sign": {"text": signed.text, "key": signer_key(&name, &key, [5; 32])},
        "leaves": leaves,
        "inclusion": inclusion,
        "consistency": consistency,
    });
    let theirs = go(&given);
    // Two checkpoints by the first key, the last by the second one; each note offered with both keys.
    assert_eq!(theirs["notes"], json!([true, false, true, false, false, true]));
    let signed_by_go = theirs["signed"].as_str().unwrap();
    assert_eq!(signed_by_go, signed.note);
    assert_eq!(SignedCheckpoint::from_note(signed_by_go).unwrap(), signed);
    for size in 1..=leaves.len() {
        assert_eq!(theirs["roots"][size - 1], json!(tree::root(&leaves[..size])), "{size} leaves");
    }
    for (what, asked) in [("inclusion", inclusion), ("consistency", consistency)] {
        let judged = theirs[what].as_array().unwrap();
        assert_eq!(judged.len(), asked.len());
        for (judged, asked) in judged.iter().zip(&asked) {
            // Proofs with one hash changed were put in between, to see that a no is possible.
            let wanted = asked["changed"] != json!(true);
            assert_eq!(judged, &json!(wanted), "{what} {asked}");
        }
    }
}

/// Every inclusion and consistency proof of a few sizes, and one changed proof of each size.
fn proofs(leaves: &[Digest]) -> (Vec<Value>, Vec<Value>) {
    let (mut inclusion, mut consistency) = (Vec::new(), Vec::new());
    for size in [1, 2, 3, 7, 8, 9, 31, 32, 33, 70] {
        let some = &leaves[..size];
        for index in 0..size as u64 {
            let proof = tree::inclusion_proof(index, some).unwrap();
            inclusion.push(json!({"index": index, "size": size, "proof": proof}));
        }
        // Go's CheckTree is defined for 1 and more old leaves.
        for old in 1..=size as u64 {
            let proof = tree::consistency_proof(old, some).unwrap();
            consistency.push(json!({"old": old, "size": size, "proof": proof}));
        }
        if size > 2 {
            let mut proof = tree::inclusion_proof(1, some).unwrap();
            proof[0].0[0] ^= 1;
            inclusion.push(json!({"index": 1, "size": size, "proof": proof, "changed": true}));
            let mut proof = tree::consistency_proof(2, some).unwrap();
            proof[0].0[0] ^= 1;
            consistency.push(json!({"old": 2, "size": size, "proof": proof, "changed": true}));
        }
    }
    (inclusion, consistency)
}

/// `PRIVATE+KEY+name+id+base64(algorithm, seed)`, as `note.GenerateKey` writes it.
fn signer_key(name: &str, key: &DeviceKey, seed: [u8; 32]) -> String {
    let public = key.public().note_key(name);
    let id = public.strip_prefix(name).unwrap().split('+').nth(1).unwrap();
    format!("PRIVATE+KEY+{name}+{id}+{}", BASE64.encode([&[1][..], &seed].concat()))
}

/// Runs the Go program on what Debian's package brings, without a network and without modules.
fn go(given: &Value) -> Value {
    let program = Path::new(env!("CARGO_MANIFEST_DIR")).join("packets/note_and_tree.go");
    let cache = tempfile::TempDir::new().unwrap();
    let mut go = Command::new("go");
    go.arg("run")
        .arg(program)
        .env("GO111MODULE", "off")
        .env("GOPATH", "/usr/share/gocode")
        .env("GOFLAGS", "");
    go.env("GOPROXY", "off").env("GOCACHE", cache.path()).stdin(Stdio::piped()).stdout(Stdio::piped());
    let mut child = go.stderr(Stdio::piped()).spawn().unwrap_or_else(|cause| {
        panic!("go could not start ({cause}): install golang-go and golang-golang-x-mod-dev")
    });
    child.stdin.take().unwrap().write_all(given.to_string().as_bytes()).unwrap();
    let out = child.wait_with_output().unwrap();
    assert!(out.status.success(), "{}", text(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}
