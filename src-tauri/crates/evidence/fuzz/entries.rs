//! Where bytes from strangers come in, and what must hold whatever they are. The fuzzer and the checks in the tree call
//! the same functions; each panics if something doesn't hold.

use std::io::Cursor;
use std::ops::ControlFlow;

use evidence::packet::{self, Code, Options, PacketContents, PacketLog, Verdict};
use evidence::timestamp::{self, AuthorityRoot};
use evidence::{
    Checkpoint, DeviceKey, Disclosure, EvidenceError, HandedOver, Levels, Record, SignedCheckpoint, tree,
};

/// A whole packet: it is no packet, or it is judged; a good one is written in the one form.
pub fn packet(bytes: &[u8]) {
    match verify(bytes) {
        Ok(verdict) => assert_eq!(verdict.good, verdict.problems.is_empty()),
        Err(cause) => assert!(matches!(cause, EvidenceError::NotAPacket(_)), "{cause}"),
    }
}

/// Records, one a line, in a log that is signed over them: what the writer accepts, the verifier finds good, unless the
/// records contradict each other.
pub fn log(bytes: &[u8]) {
    let records: Vec<Vec<u8>> = bytes.split(|byte| *byte == b'\n').map(<[u8]>::to_vec).collect();
    let Some(device) = records.first().and_then(|first| Record::parse(first).ok()) else { return };
    let leaves: Vec<_> = records.iter().map(|record| tree::leaf(record)).collect();
    let size = leaves.len() as u64;
    let Some(root) = Levels::of(&leaves).root_at(size) else { return };
    let origin = format!("corner-garage/{}/{}", device.job, device.device);
    for seed in [1, 11] {
        let key = DeviceKey::from_seed([seed; 32]);
        let signed = key.sign(&Checkpoint { origin: origin.clone(), size, root });
        let Ok(public_key_pem) = key.public_pem() else { return };
        let log = PacketLog {
            records: records.clone().into(),
            checkpoints: vec![signed],
            public_key_pem,
            timestamps: vec![],
            signatures: Vec::new(),
        };
        let contents = PacketContents { logs: vec![log], ..PacketContents::default() };
        let mut out = Cursor::new(Vec::new());
        if packet::write(&contents, &mut out, &mut |_| ControlFlow::Continue(())).is_ok() {
            let verdict = verify(out.get_ref()).map_err(|cause| cause.to_string());
            let contradict = |verdict: &Verdict| verdict.problems.iter().all(|one| one.code == Code::Meaning);
            assert!(verdict.as_ref().is_ok_and(contradict), "{verdict:#?}");
        }
    }
}

/// A record, and a disclosure: what is read is written as the same bytes.
pub fn record(bytes: &[u8]) {
    if let Ok(record) = Record::parse(bytes) {
        assert_eq!(record.bytes().ok().as_deref(), Some(bytes));
        assert_eq!(record.leaf().ok(), Some(tree::leaf(bytes)));
    }
    if let Some(disclosure) = std::str::from_utf8(bytes).ok().and_then(|text| Disclosure::parse(text).ok()) {
        assert_eq!(disclosure.encoded().as_bytes(), bytes);
    }
}

/// A reply, a token and a certificate: none is accepted for a text that nobody stamped.
pub fn token(bytes: &[u8]) {
    let token = timestamp::token_of_reply(bytes);
    let roots = AuthorityRoot::read(bytes).unwrap_or_default();
    for token in [bytes, token.as_deref().unwrap_or_default()] {
        let judged = timestamp::check(token, b"a text that nobody stamped\n", None, &roots);
        assert!(judged.is_err(), "{judged:#?}");
        // All the way down to the signature; only the two tokens among the seeds are over these texts.
        for (text, time) in STAMPED {
            if let Ok(stamp) = timestamp::check(token, text.as_bytes(), None, &[]) {
                assert_eq!(stamp.time, time, "a signature holds for another statement");
            }
        }
    }
}

/// A checkpoint as it is scanned or typed: what is read says itself again in the one form.
pub fn checkpoint(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok(handed_over) = HandedOver::read(text) {
        let said = handed_over.checkpoint.text();
        assert_eq!(Checkpoint::parse(&said).ok(), Some(handed_over.checkpoint));
        if let Some(signed) = handed_over.signed {
            assert_eq!(signed.text, said);
            assert_eq!(SignedCheckpoint::from_note(&signed.note).ok(), Some(signed.clone()));
            // Nobody but the holder of this key could have signed it, and no seed here is of that key.
            assert!(DeviceKey::from_seed([7; 32]).public().verify_checkpoint(&signed).is_err());
        }
    }
}

fn verify(bytes: &[u8]) -> Result<Verdict, EvidenceError> {
    // One thread: starting several for each of a million small packets would take longer than the packets.
    let options = Options { threads: Some(1), ..Options::default() };
    packet::verify(&mut Cursor::new(bytes), &options, &mut |_| ControlFlow::Continue(()))
}

/// What the tokens in `tests/packets/stamped` are over, and the times they state.
const STAMPED: [(&str, &str); 2] = [
    (
        "corner-garage/job-0042/bench-phone\n4\noqGZTZYsUNk6EreoQHsFLi5nwfKBO3rhM83wUTD24PE=\n",
        "2031-04-05T19:04:02.250Z",
    ),
    (
        "corner-garage/job-0042/bench-phone\n10\n4tK32l5F2p0KdtXdaybHo6wmfa1IYkVxDJXPSI4jrZU=\n",
        "2031-04-05T19:19:02.250Z",
    ),
];
