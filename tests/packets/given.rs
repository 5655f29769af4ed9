//! What the verdict claims beside a checkpoint or a fingerprint that was handed over, and never more.

use evidence::packet::{Code, Finding, Headline, Open, Options, Proven, Statement, Verdict};
use evidence::timestamp::AuthorityRoot;
use evidence::{Checkpoint, SignedCheckpoint};

use crate::rich::root;
use crate::sample::{Device, Sample, verdict, verdict_with};

/// The first and last record of each stretch that the holder of the key could have rewritten, and whether until a time.
fn rewritable(found: &Verdict, device: &str) -> Vec<(u64, u64, bool)> {
    let one = |finding: &Finding| match &finding.says {
        Statement::Open(Open::Rewritable { device: of, first, last, until }) if of == device => {
            Some((*first, *last, until.is_some()))
        }
        _ => None,
    };
    found.not_proven.iter().filter_map(one).collect()
}

fn says_open(found: &Verdict, wanted: &Open) -> bool {
    found.not_proven.iter().any(|finding| finding.says == Statement::Open(wanted.clone()))
}

fn says_proven(found: &Verdict, wanted: &Proven) -> bool {
    found.proven.iter().any(|finding| finding.says == Statement::Proven(wanted.clone()))
}

fn end(device: &str) -> Open {
    Open::EndMayBeMissing { device: device.into() }
}

fn given(notes: &[&SignedCheckpoint]) -> Options {
    Options { expected_notes: notes.iter().map(|note| (*note).clone()).collect(), ..Options::default() }
}

/// The bench phone's log has 7 records, and checkpoints over 5, 6 and 7.
#[test]
fn an_early_checkpoint_proves_the_records_it_covers_and_no_others() {
    let sample = Sample::new();
    let early = &sample.bench().checkpoints[0];
    let found = verdict_with(&sample.whole(), &given(&[early]));
    assert!(found.good, "{:#?}", found.problems);
    assert!(says_proven(&found, &Proven::AsGiven { device: "bench-phone".into(), last: 5 }));
    assert_eq!(rewritable(&found, "bench-phone"), [(6, 7, false)]);
    assert!(says_open(&found, &end("bench-phone")), "the sentence stays until the last record is covered");
    // A log of which nothing was given stays unproven.
    assert_eq!(rewritable(&found, "desk-tablet"), [(1, 1, false)]);
    assert!(says_open(&found, &end("desk-tablet")));
    let said: Vec<&str> = found.proven.iter().chain(&found.not_proven).map(|one| one.what.as_str()).collect();
    assert!(said.contains(&"Records 1\u{2013}5 of bench-phone are those you were given."), "{said:#?}");
    let could = "Records 6\u{2013}7 of bench-phone could have been rewritten by whoever holds the key.";
    assert!(said.contains(&could), "{said:#?}");
}

#[test]
fn a_checkpoint_over_the_last_record_leaves_nothing_open_in_that_log_alone() {
    let sample = Sample::new();
    for notes in [&sample.bench().checkpoints[2..], &sample.bench().checkpoints[..]] {
        let found = verdict_with(&sample.whole(), &given(&notes.iter().collect::<Vec<_>>()));
        assert!(says_proven(&found, &Proven::AllAsGiven { device: "bench-phone".into(), last: 7 }));
        assert!(rewritable(&found, "bench-phone").is_empty() && !says_open(&found, &end("bench-phone")));
        assert!(says_open(&found, &end("desk-tablet")));
    }
}

#[test]
fn an_empty_checkpoint_and_a_fingerprint_prove_no_record() {
    let sample = Sample::new();
    let empty = Checkpoint { origin: sample.bench().id.origin(), size: 0, root: evidence::tree::root(&[]) };
    let key = sample.bench().key.fingerprint().unwrap();
    let bare = Options { expected_checkpoints: vec![empty], ..Options::default() };
    for options in [bare, Options { trusted_fingerprints: vec![key], ..Options::default() }] {
        let found = verdict_with(&sample.whole(), &options);
        assert!(found.good, "{:#?}", found.problems);
        assert_eq!(rewritable(&found, "bench-phone"), [(1, 7, false)]);
        assert!(says_open(&found, &end("bench-phone")));
    }
}

/// RFC 3161 section 1: a token proves that a datum existed before its time; afterwards nobody can write it anew.
#[test]
fn a_time_that_counts_ends_what_could_be_rewritten() {
    let authority_roots = AuthorityRoot::read(&root("tower-clock")).unwrap();
    let found = verdict_with(&Sample::rich().whole(), &Options { authority_roots, ..Options::default() });
    assert_eq!(rewritable(&found, "bench-phone"), [(1, 4, true), (5, 10, false)]);
}

#[test]
fn the_first_line_names_every_key_that_signed() {
    let found = verdict(&Sample::rich().whole());
    let Headline::Unchanged { signers } = &found.headline else { panic!("{:?}", found.headline) };
    assert_eq!(signers.len(), 3);
    for signer in signers {
        for said in [&found.headline_said.en, &found.headline_said.es] {
            assert!(said.contains(&signer.words) && said.contains(&signer.fingerprint), "{said}");
        }
    }
    let mut folder_broken = Sample::new().whole();
    let middle = folder_broken.len() / 2;
    folder_broken[middle] ^= 1;
    assert_eq!(verdict(&folder_broken).headline, Headline::Refused);
}

/// Each single signature proves that the key signed there; that it was made when the record was sealed, it doesn't.
#[test]
fn records_signed_one_by_one_are_told_from_those_a_later_checkpoint_covers() {
    let found = verdict(&Sample::signed_one_by_one().whole());
    assert!(found.good, "{:#?}", found.problems);
    let device = || "bench-phone".to_owned();
    assert!(says_proven(&found, &Proven::SignedTogether { device: device(), first: 1, last: 2 }));
    assert!(says_proven(&found, &Proven::SignedAlone { device: device(), first: 3, last: 10 }));
    assert!(says_open(&found, &Open::AloneByWhom { device: device() }));
    let silent = verdict(&Sample::rich().whole());
    assert!(silent.logs.iter().all(|log| log.signed_alone.is_empty()));
    assert!(!silent.proven.iter().any(|one| one.what.contains("signature of")));
}

#[test]
fn the_writer_refuses_a_signature_that_does_not_fit() {
    let mut sample = Sample::signed_one_by_one();
    let bench: &mut Device = &mut sample.devices[0];
    let write = |bench: &Device| {
        let logs = vec![bench.packet_log()];
        let contents = evidence::packet::PacketContents { logs, ..Default::default() };
        let mut out = std::io::Cursor::new(Vec::new());
        evidence::packet::write(&contents, &mut out, &mut |_| std::ops::ControlFlow::Continue(()))
    };
    assert!(write(bench).is_ok());
    bench.signatures[4].1[9] ^= 1;
    assert!(write(bench).is_err(), "a changed signature");
    bench.signatures[4].1[9] ^= 1;
    bench.signatures.swap(0, 1);
    assert!(write(bench).is_err(), "out of order");
    bench.signatures.swap(0, 1);
    let old = bench.key.clone();
    bench.signatures.pop();
    bench.sign_heads(10, 10, &old);
    assert!(write(bench).is_err(), "by the key that was valid before");
}

/// Both languages state the same values, whatever was found.
#[test]
fn both_languages_say_the_same() {
    let sample = Sample::new();
    let roots = AuthorityRoot::read(&root("sun-dial")).unwrap();
    let all = [
        verdict(&Sample::rich().whole()),
        verdict(&Sample::signed_one_by_one().packet(&|name| name != "phone")),
        verdict_with(&Sample::rich().whole(), &Options { authority_roots: roots, ..Options::default() }),
        verdict_with(&sample.whole(), &given(&[&sample.bench().checkpoints[0]])),
        verdict(&crate::histories::packet("short beside the other log").unwrap()),
        verdict_with(
            &crate::histories::packet("second history").unwrap(),
            &given(&[&sample.bench().checkpoints[2]]),
        ),
        verdict(&crate::histories::packet("turned clock").unwrap()),
        verdict(&crate::histories::packet("lost key").unwrap()),
    ];
    let numbers = |text: &str| -> Vec<String> {
        let mut found: Vec<String> = text
            .split(|c: char| !c.is_ascii_digit())
            .filter(|part| !part.is_empty())
            .map(str::to_owned)
            .collect();
        found.sort();
        found
    };
    for found in all {
        let lists = [&found.proven, &found.not_proven, &found.doubts, &found.problems];
        for finding in lists.into_iter().flatten() {
            assert!(!finding.what.is_empty() && finding.what != finding.what_es, "{finding:?}");
            assert_eq!(numbers(&finding.what), numbers(&finding.what_es), "{finding:?}");
        }
        assert!(found.not_proven.iter().any(|finding| finding.code == Code::Truth));
    }
}
