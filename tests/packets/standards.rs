//! Our tree, canonical form and signatures against other people's, over many values.

use std::io::Write as _;
use std::process::{Command, Stdio};

use evidence::{DeviceKey, Digest, canonical, tree};
use serde_json::{Map, Value, json};
use testimeter_checks::venv;

use crate::sample::Chance;

#[test]
fn pymerkle_agrees_on_roots_and_proofs() {
    let leaves: Vec<Vec<u8>> = (0..67_u8).map(|byte| vec![byte; usize::from(byte % 9)]).collect();
    let hashes: Vec<_> = leaves.iter().map(|leaf| tree::leaf(leaf)).collect();
    let hex: Vec<String> =
        leaves.iter().map(|leaf| leaf.iter().map(|byte| format!("{byte:02x}")).collect()).collect();
    let theirs = python(
        "from pymerkle import InmemoryTree\n\
         tree = InmemoryTree(algorithm='sha256')\n\
         [tree.append_entry(bytes.fromhex(leaf)) for leaf in given]\n\
         n = len(given)\n\
         path = lambda proof: proof.serialize()['path']\n\
         answer = {'roots': [tree.get_root(size).hex() for size in range(1, n + 1)],\n\
                   'inclusion': [path(tree.prove_inclusion(i + 1, n)) for i in range(n)]}\n",
        &json!(hex),
    );
    for size in 1..=hashes.len() {
        assert_eq!(theirs["roots"][size - 1], json!(tree::root(&hashes[..size])), "{size} leaves");
    }
    for (index, path) in theirs["inclusion"].as_array().unwrap().iter().enumerate() {
        // Their path starts with the leaf itself.
        let path: Vec<Digest> = serde_json::from_value(path.clone()).unwrap();
        assert_eq!(path[0], hashes[index]);
        assert_eq!(path[1..], tree::inclusion_proof(index as u64, &hashes).unwrap(), "leaf {index}");
    }
}

#[test]
fn the_rfc8785_package_writes_the_same_bytes() {
    let mut chance = Chance(11);
    let values: Vec<Value> = (0..300).map(|_| value(&mut chance, 4)).collect();
    let theirs =
        python("import rfc8785\nanswer = [rfc8785.dumps(value).hex() for value in given]\n", &json!(values));
    for (value, theirs) in values.iter().zip(theirs.as_array().unwrap()) {
        let ours: String =
            canonical::bytes(value).unwrap().iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(&json!(ours), theirs, "{value}");
    }
}

/// The 1,024 vectors of `sign.input` that come with the Ed25519 authors' own software: seed and public key,
/// public key, message, signature and message.
#[test]
fn ed25519_agrees_with_its_authors() {
    let file = python(
        "import cryptography_vectors as v\n\
         answer = v.open_vector_file('asymmetric/Ed25519/sign.input', 'r').read().split('\\n')\n",
        &json!(null),
    );
    let mut count = 0;
    for line in
        file.as_array().unwrap().iter().map(|line| line.as_str().unwrap()).filter(|line| !line.is_empty())
    {
        let parts: Vec<Vec<u8>> = line.split(':').map(hex).collect();
        let key = DeviceKey::from_seed(parts[0][..32].try_into().unwrap());
        assert_eq!(key.public().bytes().as_slice(), parts[1]);
        assert_eq!(key.sign_bytes(&parts[2]).as_slice(), &parts[3][..64]);
        key.public().verify(&parts[2], parts[3][..64].try_into().unwrap()).unwrap();
        count += 1;
    }
    assert_eq!(count, 1024);
}

/// A random value of the kind a record may hold.
fn value(chance: &mut Chance, depth: u64) -> Value {
    match chance.below(if depth == 0 { 5 } else { 7 }) {
        0 => Value::Null,
        1 => json!(chance.below(2) == 0),
        2 => json!(chance.below(canonical::MAX_INTEGER)),
        3 => json!(-(chance.below(canonical::MAX_INTEGER) as i64)),
        4 => json!(string(chance)),
        5 => (0..chance.below(5)).map(|_| value(chance, depth - 1)).collect(),
        _ => {
            let key = |chance: &mut Chance| {
                String::from_utf8(vec![32 + chance.below(95) as u8; 1 + chance.below(3) as usize]).unwrap()
            };
            Value::Object(
                (0..chance.below(6)).map(|_| (key(chance), value(chance, depth - 1))).collect::<Map<_, _>>(),
            )
        }
    }
}

fn string(chance: &mut Chance) -> String {
    let character = |chance: &mut Chance| match chance.below(4) {
        0 => chance.below(0x80),
        1 => chance.below(0x800),
        2 => 0xe000 + chance.below(0x2000),
        _ => 0x1_0000 + chance.below(0x10_0000),
    };
    (0..chance.below(12)).filter_map(|_| char::from_u32(character(chance) as u32)).collect()
}

/// Runs `code`, which turns `given` into `answer`.
fn python(code: &str, given: &Value) -> Value {
    let code =
        format!("import json, sys\ngiven = json.load(sys.stdin)\n{code}json.dump(answer, sys.stdout)\n");
    let mut child = Command::new(venv::python())
        .args(["-c", &code])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(given.to_string().as_bytes()).unwrap();
    let out = child.wait_with_output().unwrap();
    assert!(out.status.success(), "{code}");
    serde_json::from_slice(&out.stdout).unwrap()
}

fn hex(text: &str) -> Vec<u8> {
    text.as_bytes()
        .chunks(2)
        .map(|pair| u8::from_str_radix(std::str::from_utf8(pair).unwrap(), 16).unwrap())
        .collect()
}
