//! Checkpoints: the text a device signs for its log (C2SP tlog-checkpoint in a C2SP signed note).

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{Digest, EvidenceError, LogId};

/// What a log was at one point: whose, how long, under which root.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Checkpoint {
    /// `shop/job/device`, see [`LogId::origin`].
    pub origin: String,
    /// How many records.
    pub size: u64,
    /// The root over their leaf hashes.
    pub root: Digest,
}

impl Checkpoint {
    /// Three lines: origin, size in decimal, root in base64; each ends with a line feed. This is what is signed.
    pub fn text(&self) -> String {
        format!("{}\n{}\n{}\n", self.origin, self.size, BASE64.encode(self.root.0))
    }

    /// Reads the three lines; refuses every other spelling and any line more.
    ///
    /// # Errors
    /// [`EvidenceError::BadCheckpoint`], or [`EvidenceError::WrongField`] for the origin.
    pub fn parse(text: &str) -> Result<Self, EvidenceError> {
        let bad = EvidenceError::BadCheckpoint;
        let mut lines = text.lines();
        let (Some(origin), Some(size), Some(root)) = (lines.next(), lines.next(), lines.next()) else {
            return Err(bad("it does not have three lines"));
        };
        LogId::parse(origin)?;
        let size = size.parse().map_err(|_| bad("its second line is not a size"))?;
        let root = BASE64.decode(root).map_err(|_| bad("its third line is not base64"))?;
        let root = Digest(root.try_into().map_err(|_| bad("its root is not 32 bytes"))?);
        let checkpoint = Self { origin: origin.to_owned(), size, root };
        if checkpoint.text() == text { Ok(checkpoint) } else { Err(bad("it is not written in the one form")) }
    }
}

/// A checkpoint with the device's signature.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct SignedCheckpoint {
    /// [`Checkpoint::text`], the signed bytes.
    pub text: String,
    /// The raw Ed25519 signature over `text` (RFC 8032). In JSON: standard base64.
    #[serde(with = "signature_text")]
    #[schemars(with = "String")]
    pub signature: [u8; 64],
    /// Text and signature as a C2SP signed note, whose key name is the origin.
    pub note: String,
}

impl SignedCheckpoint {
    /// Reads a signed note as it was handed over. The signature isn't checked here: a note names its key but
    /// doesn't hold it, see [`crate::PublicKey::verify_checkpoint`].
    ///
    /// # Errors
    /// [`EvidenceError::BadCheckpoint`] if it isn't a checkpoint with one signature by its origin.
    pub fn from_note(note: &str) -> Result<Self, EvidenceError> {
        let bad = || EvidenceError::BadCheckpoint("it is not a signed note");
        let (text, signatures) = note.split_once("\n\n").ok_or_else(bad)?;
        let text = format!("{text}\n");
        let origin = Checkpoint::parse(&text)?.origin;
        let line =
            signatures.strip_prefix(&format!("\u{2014} {origin} ")).and_then(|rest| rest.strip_suffix('\n'));
        let signed = BASE64.decode(line.ok_or_else(bad)?).map_err(|_| bad())?;
        // Four bytes of key id, then the signature.
        let signature = signed.get(4..).and_then(|bytes| bytes.try_into().ok()).ok_or_else(bad)?;
        Ok(Self { text, signature, note: note.to_owned() })
    }

    /// The checkpoint the text states.
    ///
    /// # Errors
    /// As [`Checkpoint::parse`].
    pub fn checkpoint(&self) -> Result<Checkpoint, EvidenceError> {
        Checkpoint::parse(&self.text)
    }
}

/// A checkpoint as somebody kept it: scanned from the code, copied from a message, or typed from paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HandedOver {
    /// What it says.
    pub checkpoint: Checkpoint,
    /// The signature, if it came along.
    pub signed: Option<SignedCheckpoint>,
}

impl HandedOver {
    /// Reads a signed note or the three lines alone. Line ends of other systems, a byte order mark, and blanks and
    /// empty lines around the whole are overlooked, because messages and scanners add them; nothing else is.
    ///
    /// # Errors
    /// [`EvidenceError::BadCheckpoint`], [`EvidenceError::WrongField`].
    pub fn read(text: &str) -> Result<Self, EvidenceError> {
        let plain = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
        let plain = format!("{}\n", plain.trim());
        if plain.contains("\n\n") {
            let signed = SignedCheckpoint::from_note(&plain)?;
            return Ok(Self { checkpoint: signed.checkpoint()?, signed: Some(signed) });
        }
        Ok(Self { checkpoint: Checkpoint::parse(&plain)?, signed: None })
    }
}

mod signature_text {
    use base64::Engine as _;
    use base64::prelude::BASE64_STANDARD as BASE64;
    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    pub fn serialize<S: Serializer>(signature: &[u8; 64], serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&BASE64.encode(signature))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<[u8; 64], D::Error> {
        let bytes = BASE64.decode(String::deserialize(deserializer)?).map_err(D::Error::custom)?;
        bytes.try_into().map_err(|_| D::Error::custom("a signature has 64 bytes"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::DeviceKey;

    #[test]
    fn what_messages_and_scanners_add_is_overlooked_and_nothing_else() {
        let checkpoint = Checkpoint { origin: "shop/job/device".into(), size: 42, root: Digest::of(b"root") };
        let signed = DeviceKey::from_seed([7; 32]).sign(&checkpoint);
        let windows = |text: &str| format!("\u{feff}\r\n{}\r\n", text.replace('\n', "\r\n"));
        for text in
            [&signed.note, signed.note.trim_end(), &windows(&signed.note), &format!("  {}\n\n", signed.note)]
        {
            let read = HandedOver::read(text).unwrap();
            assert_eq!((&read.checkpoint, read.signed.as_ref()), (&checkpoint, Some(&signed)));
        }
        for text in [&signed.text, signed.text.trim_end(), &windows(&signed.text)] {
            assert_eq!(
                HandedOver::read(text).unwrap(),
                HandedOver { checkpoint: checkpoint.clone(), signed: None }
            );
        }
        let inside = signed.note.replace("42", "4 2");
        for wrong in ["", "shop/job/device", &inside, &signed.note.replace('\u{2014}', "-")] {
            assert!(HandedOver::read(wrong).is_err(), "{wrong}");
        }
    }
}
