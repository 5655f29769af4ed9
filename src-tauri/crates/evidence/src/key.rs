//! The device's Ed25519 key (RFC 8032): signing, checking, and comparing keys by word of mouth.

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use ed25519_dalek::pkcs8::spki::der::pem::LineEnding;
use ed25519_dalek::pkcs8::{DecodePrivateKey, DecodePublicKey, EncodePrivateKey, EncodePublicKey};
use ed25519_dalek::{Signature, Signer as _, SigningKey, VerifyingKey};

use zeroize::Zeroizing;

use crate::{Checkpoint, Digest, EvidenceError, SignedCheckpoint};

/// The private key of one device.
///
/// It rests in a file that its owner alone can read, encrypted by a passphrase where one was set, or wrapped by a phone's
/// key store. It leaves the device in one way: a backup, itself encrypted by a passphrase, when that was asked for. Whoever
/// has such a backup and its passphrase can sign as this device.
#[derive(Clone)]
pub struct DeviceKey(SigningKey);

impl DeviceKey {
    /// The key that belongs to a 32-byte seed (RFC 8032 section 5.1.5).
    pub fn from_seed(seed: [u8; 32]) -> Self {
        Self(SigningKey::from_bytes(&seed))
    }

    /// A new key; `fill` must fill the slice with random bytes fit for secrets.
    pub fn generate(fill: &mut dyn FnMut(&mut [u8])) -> Self {
        let mut seed = Zeroizing::new([0; 32]);
        fill(seed.as_mut_slice());
        Self::from_seed(*seed)
    }

    /// The key as PKCS#8 PEM (RFC 8410), for storage only; the text is wiped from memory when it is dropped.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn private_pem(&self) -> Result<Zeroizing<String>, EvidenceError> {
        // Only the seed is written (RFC 8410 version 1), because older readers refuse the longer form.
        let pair = ed25519_dalek::pkcs8::KeypairBytes { secret_key: self.0.to_bytes(), public_key: None };
        pair.to_pkcs8_pem(LineEnding::LF).map_err(bad_key)
    }

    /// Reads PKCS#8 PEM.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn from_private_pem(pem: &str) -> Result<Self, EvidenceError> {
        SigningKey::from_pkcs8_pem(pem).map(Self).map_err(bad_key)
    }

    /// The public half.
    pub fn public(&self) -> PublicKey {
        PublicKey(self.0.verifying_key())
    }

    /// See [`PublicKey::pem`].
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn public_pem(&self) -> Result<String, EvidenceError> {
        self.public().pem()
    }

    /// See [`PublicKey::fingerprint`].
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn fingerprint(&self) -> Result<Digest, EvidenceError> {
        self.public().fingerprint()
    }

    /// Signs a checkpoint of this device's log.
    pub fn sign(&self, checkpoint: &Checkpoint) -> SignedCheckpoint {
        let text = checkpoint.text();
        let signature = self.sign_bytes(text.as_bytes());
        let note = self.public().note(&checkpoint.origin, &text, &signature);
        SignedCheckpoint { text, signature, note }
    }

    /// The raw Ed25519 signature over `bytes`.
    pub fn sign_bytes(&self, bytes: &[u8]) -> [u8; 64] {
        self.0.sign(bytes).to_bytes()
    }
}

impl std::fmt::Debug for DeviceKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("DeviceKey(secret)")
    }
}

/// The public key of a device.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PublicKey(VerifyingKey);

impl PublicKey {
    /// Reads SubjectPublicKeyInfo PEM.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn from_pem(pem: &str) -> Result<Self, EvidenceError> {
        VerifyingKey::from_public_key_pem(pem).map(Self).map_err(bad_key)
    }

    /// The key of 32 bytes (RFC 8032 section 5.1.5).
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`] if they are no point of the curve.
    pub fn from_bytes(bytes: &[u8; 32]) -> Result<Self, EvidenceError> {
        VerifyingKey::from_bytes(bytes).map(Self).map_err(bad_key)
    }

    /// The 32 bytes of the key.
    pub fn bytes(&self) -> [u8; 32] {
        self.0.to_bytes()
    }

    /// SubjectPublicKeyInfo as PEM with line feeds (RFC 8410), which `openssl` reads.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn pem(&self) -> Result<String, EvidenceError> {
        self.0.to_public_key_pem(LineEnding::LF).map_err(bad_key)
    }

    /// SHA-256 of SubjectPublicKeyInfo in DER: `openssl pkey -pubin -in key.pem -outform DER | sha256sum`.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn fingerprint(&self) -> Result<Digest, EvidenceError> {
        Ok(Digest::of(self.0.to_public_key_der().map_err(bad_key)?.as_bytes()))
    }

    /// Checks a raw signature over `bytes`, refusing weak keys and malleable signatures.
    ///
    /// # Errors
    /// [`EvidenceError::BadSignature`].
    pub fn verify(&self, bytes: &[u8], signature: &[u8; 64]) -> Result<(), EvidenceError> {
        let signature = Signature::from_bytes(signature);
        self.0.verify_strict(bytes, &signature).map_err(|_| EvidenceError::BadSignature)
    }

    /// Checks a signed checkpoint: form of the text, signature, and that the note says the same.
    ///
    /// # Errors
    /// [`EvidenceError::BadCheckpoint`], [`EvidenceError::BadSignature`].
    pub fn verify_checkpoint(&self, signed: &SignedCheckpoint) -> Result<Checkpoint, EvidenceError> {
        let checkpoint = signed.checkpoint()?;
        self.verify(signed.text.as_bytes(), &signed.signature)?;
        if self.note(&checkpoint.origin, &signed.text, &signed.signature) == signed.note {
            Ok(checkpoint)
        } else {
            Err(EvidenceError::BadCheckpoint("its note does not repeat its text and signature"))
        }
    }

    /// The key in the form readers of C2SP signed notes expect: `name+key id+base64`.
    pub fn note_key(&self, name: &str) -> String {
        let id = self.key_id(name).map(|byte| format!("{byte:02x}")).concat();
        let mut key = vec![ED25519];
        key.extend_from_slice(&self.bytes());
        format!("{name}+{id}+{}", BASE64.encode(key))
    }

    /// The C2SP signed note over `text`: the text, an empty line, and `— name base64(key id, signature)`.
    pub fn note(&self, name: &str, text: &str, signature: &[u8; 64]) -> String {
        let mut signed = self.key_id(name).to_vec();
        signed.extend_from_slice(signature);
        format!("{text}\n\u{2014} {name} {}\n", BASE64.encode(signed))
    }

    /// First four bytes of SHA-256 over name, line feed, algorithm byte and key (C2SP signed-note).
    fn key_id(&self, name: &str) -> [u8; 4] {
        let Digest([a, b, c, d, ..]) = Digest::of_parts(&[name.as_bytes(), b"\n", &[ED25519], &self.bytes()]);
        [a, b, c, d]
    }
}

/// The fingerprint in eight words that can be read out over the telephone.
///
/// Anybody can work them out: take the first 88 bits of the fingerprint (its first 22 hexadecimal digits), cut
/// them into eight groups of 11 bits from the left, and read each group as a number from 0 to 2047; that is the
/// place, counted from 0, in the English word list of BIP-39. There is no checksum. Eight words hold 88 bits:
/// enough to compare, never a replacement for the whole fingerprint.
pub fn fingerprint_words(fingerprint: &Digest) -> String {
    let list = bip39::Language::English.word_list();
    let bits = fingerprint.0.iter().take(11).fold(0_u128, |bits, byte| bits << 8 | u128::from(*byte));
    let places = (0..8).rev().map(|group| (bits >> (group * 11) & 0x7ff) as usize);
    places.filter_map(|place| list.get(place).copied()).collect::<Vec<_>>().join(" ")
}

/// The algorithm byte of Ed25519 in C2SP signed-note.
const ED25519: u8 = 0x01;

fn bad_key(cause: impl std::fmt::Display) -> EvidenceError {
    EvidenceError::BadKey(cause.to_string())
}
