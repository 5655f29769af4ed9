//! The commands that the README tells people to type must work as they stand there.

use std::process::Command;

use evidence::packet::Language;
use evidence::tree;

use crate::folder::{Folder, run, text};
use crate::rich::{second_key, stamped};
use crate::sample::Sample;

#[test]
fn the_english_readme() {
    check(Language::En, "HASH", "ROOT");
}

#[test]
fn the_spanish_readme() {
    check(Language::Es, "RESUMEN", "RAIZ");
}

/// `hash` and `root` are the words that stand for the values to fill in.
fn check(language: Language, hash: &str, root: &str) {
    let sample = Sample::new();
    let bench = sample.bench();
    let folder = Folder::of(&sample.packet_in(language, &|_| true));
    let rich = Folder::of(&Sample::rich().packet_in(language, &|_| true));
    let authority = stamped("tower-clock.crt").display().to_string();
    let (photo, disclosure) =
        (sample.photos[0].0.sha256.to_string(), bench.disclosures[0].digest().to_string());
    let last = bench.checkpoint();
    let leaves = format!("{} {}", bench.leaves[0], bench.leaves[1]);
    let said: Vec<String> = commands(&folder.read("data/README.txt"))
        .iter()
        .map(|command| {
            let value = if command.starts_with("grep") { &photo } else { &disclosure };
            let command = command.replace("logs/D/", "logs/bench-phone/").replace("A B", &leaves);
            let command = command.replace(&format!("{root}.CRT"), &authority);
            // Time-stamps and keys that followed one another lie in the other packet only.
            let special = command.contains("timestamps/") || command.contains("keys/");
            let bag = if special { &rich.bag } else { &folder.bag };
            let command = command.replace(root, &last.root.to_string()).replace(hash, value);
            let out = run(Command::new("sh").args(["-c", &command]).current_dir(bag));
            assert!(
                out.status.success() || command.starts_with("basenc"),
                "{command}\n{}",
                text(&out.stderr)
            );
            text(&out.stdout)
        })
        .collect();
    let parts: [(usize, String); 9] = [
        (0, "data/README.txt: OK".into()),
        (1, "bagit.txt: OK".into()),
        (2, bench.key.fingerprint().unwrap().to_string()),
        (3, "Signature Verified Successfully".into()),
        (4, bench.leaves[0].to_string()),
        (5, tree::node(&bench.leaves[0], &bench.leaves[1]).to_string()),
        (6, last.text().lines().nth(2).unwrap().to_owned()),
        (7, format!("{photo}  data/photos/{photo}.jpg")),
        (8, "records/000001.json".into()),
    ];
    for (number, wanted) in parts {
        assert!(said[number].contains(&wanted), "command {number} said {}", said[number]);
    }
    assert!(said[9].contains(&disclosure));
    assert!(said[10].contains(r#""owner","Ana Ñúñez""#), "{}", said[10]);
    assert!(said[11].contains("Time stamp: Apr  5 19:04:02"), "{}", said[11]);
    assert!(said[12].contains("Verification: OK"), "{}", said[12]);
    assert!(said[13].contains("Signature Verified Successfully"));
    assert!(said[14].contains(&second_key().fingerprint().unwrap().to_string()));
    assert_eq!(said.len(), 15);
}

/// The indented lines below the numbered steps, with continued lines joined.
fn commands(readme: &str) -> Vec<String> {
    let steps = readme.split("\n1. ").nth(1).unwrap();
    // After the words of the fingerprint there is nothing to type.
    let steps = steps.split("BIP-39").next().unwrap();
    let lines: Vec<&str> = steps.lines().filter(|line| line.starts_with("     ")).map(str::trim).collect();
    lines.join("\n").replace("\\\n", "").lines().map(str::to_owned).collect()
}
