//! The signatures authorities use: RSA of 2048 to 4096 bits (PKCS#1 v1.5 and PSS, RFC 8017) and ECDSA on P-256 and
//! P-384 (FIPS 186-5), with SHA-256, SHA-384 and SHA-512.

use der::asn1::ObjectIdentifier;
use p256::ecdsa::signature::hazmat::PrehashVerifier as _;
use rsa::pkcs1::DecodeRsaPublicKey as _;
use rsa::traits::PublicKeyParts as _;
use rustls_pki_types::{AlgorithmIdentifier, InvalidSignature, SignatureVerificationAlgorithm, alg_id};
use sha2::{Digest as _, Sha256, Sha384, Sha512};

/// A hash.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hash {
    /// SHA-256.
    Sha256,
    /// SHA-384.
    Sha384,
    /// SHA-512.
    Sha512,
}

impl Hash {
    /// By its object identifier (RFC 5754).
    pub fn named(name: ObjectIdentifier) -> Option<Self> {
        match name {
            SHA_256 => Some(Self::Sha256),
            SHA_384 => Some(Self::Sha384),
            SHA_512 => Some(Self::Sha512),
            _ => None,
        }
    }

    /// The hash of `bytes`.
    pub fn of(self, bytes: &[u8]) -> Vec<u8> {
        match self {
            Self::Sha256 => Sha256::digest(bytes).to_vec(),
            Self::Sha384 => Sha384::digest(bytes).to_vec(),
            Self::Sha512 => Sha512::digest(bytes).to_vec(),
        }
    }
}

/// How a signature is made from a hash.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scheme {
    /// RSASSA-PKCS1-v1_5.
    Pkcs1,
    /// RSASSA-PSS, with the same hash inside and a salt as long as the hash.
    Pss,
    /// ECDSA on P-256.
    P256,
    /// ECDSA on P-384.
    P384,
}

/// One scheme with one hash, as certificates and tokens name it.
#[derive(Clone, Copy, Debug)]
pub struct Algorithm {
    /// How.
    pub scheme: Scheme,
    /// Over what.
    pub hash: Hash,
    /// What stands in the key's SubjectPublicKeyInfo.
    key: AlgorithmIdentifier,
    /// What stands beside the signature.
    name: AlgorithmIdentifier,
}

impl SignatureVerificationAlgorithm for Algorithm {
    fn verify_signature(
        &self,
        public_key: &[u8],
        message: &[u8],
        signature: &[u8],
    ) -> Result<(), InvalidSignature> {
        let hash = self.hash.of(message);
        match self.scheme {
            Scheme::Pkcs1 => pkcs1(self.hash, public_key, &hash, signature),
            Scheme::Pss => pss(self.hash, public_key, &hash, signature),
            Scheme::P256 => {
                let key = p256::ecdsa::VerifyingKey::from_sec1_bytes(public_key).ok();
                let signature = p256::ecdsa::Signature::from_der(signature).ok();
                key.zip(signature).and_then(|(key, signature)| key.verify_prehash(&hash, &signature).ok())
            }
            Scheme::P384 => {
                let key = p384::ecdsa::VerifyingKey::from_sec1_bytes(public_key).ok();
                let signature = p384::ecdsa::Signature::from_der(signature).ok();
                key.zip(signature).and_then(|(key, signature)| key.verify_prehash(&hash, &signature).ok())
            }
        }
        .ok_or(InvalidSignature)
    }

    fn public_key_alg_id(&self) -> AlgorithmIdentifier {
        self.key
    }

    fn signature_alg_id(&self) -> AlgorithmIdentifier {
        self.name
    }
}

fn pkcs1(which: Hash, key: &[u8], hash: &[u8], signature: &[u8]) -> Option<()> {
    use rsa::pkcs1v15::{Signature, VerifyingKey};
    let (key, signature) = (rsa_key(key)?, Signature::try_from(signature).ok()?);
    match which {
        Hash::Sha256 => VerifyingKey::<Sha256>::new(key).verify_prehash(hash, &signature),
        Hash::Sha384 => VerifyingKey::<Sha384>::new(key).verify_prehash(hash, &signature),
        Hash::Sha512 => VerifyingKey::<Sha512>::new(key).verify_prehash(hash, &signature),
    }
    .ok()
}

fn pss(which: Hash, key: &[u8], hash: &[u8], signature: &[u8]) -> Option<()> {
    use rsa::pss::{Signature, VerifyingKey};
    let (key, signature) = (rsa_key(key)?, Signature::try_from(signature).ok()?);
    match which {
        Hash::Sha256 => VerifyingKey::<Sha256>::new(key).verify_prehash(hash, &signature),
        Hash::Sha384 => VerifyingKey::<Sha384>::new(key).verify_prehash(hash, &signature),
        Hash::Sha512 => VerifyingKey::<Sha512>::new(key).verify_prehash(hash, &signature),
    }
    .ok()
}

/// Shorter keys can be broken, longer ones only cost time.
fn rsa_key(key: &[u8]) -> Option<rsa::PublicKey> {
    let key = rsa::PublicKey::from_pkcs1_der(key).ok()?;
    (256..=512).contains(&key.size()).then_some(key)
}

/// All that are accepted, in certificates and in tokens.
pub const ACCEPTED: [Algorithm; 12] = [
    rsa(Scheme::Pkcs1, Hash::Sha256, alg_id::RSA_PKCS1_SHA256),
    rsa(Scheme::Pkcs1, Hash::Sha384, alg_id::RSA_PKCS1_SHA384),
    rsa(Scheme::Pkcs1, Hash::Sha512, alg_id::RSA_PKCS1_SHA512),
    rsa(Scheme::Pss, Hash::Sha256, alg_id::RSA_PSS_SHA256),
    rsa(Scheme::Pss, Hash::Sha384, alg_id::RSA_PSS_SHA384),
    rsa(Scheme::Pss, Hash::Sha512, alg_id::RSA_PSS_SHA512),
    ecdsa(Scheme::P256, Hash::Sha256, alg_id::ECDSA_P256, alg_id::ECDSA_SHA256),
    ecdsa(Scheme::P256, Hash::Sha384, alg_id::ECDSA_P256, alg_id::ECDSA_SHA384),
    ecdsa(Scheme::P256, Hash::Sha512, alg_id::ECDSA_P256, alg_id::ECDSA_SHA512),
    ecdsa(Scheme::P384, Hash::Sha256, alg_id::ECDSA_P384, alg_id::ECDSA_SHA256),
    ecdsa(Scheme::P384, Hash::Sha384, alg_id::ECDSA_P384, alg_id::ECDSA_SHA384),
    ecdsa(Scheme::P384, Hash::Sha512, alg_id::ECDSA_P384, alg_id::ECDSA_SHA512),
];

const fn rsa(scheme: Scheme, hash: Hash, name: AlgorithmIdentifier) -> Algorithm {
    Algorithm { scheme, hash, key: alg_id::RSA_ENCRYPTION, name }
}

const fn ecdsa(scheme: Scheme, hash: Hash, key: AlgorithmIdentifier, name: AlgorithmIdentifier) -> Algorithm {
    Algorithm { scheme, hash, key, name }
}

/// The algorithm of a token: the key's identifier and the signature's, both as the content of their sequence.
/// A token may name plain `rsaEncryption`, and the hash beside it counts (RFC 5652 section 5.3, RFC 8933).
pub fn of_token(key: &[u8], name: &[u8], hash: Hash) -> Option<Algorithm> {
    let plain_rsa = name == alg_id::RSA_ENCRYPTION.as_ref() || name == RSA_ENCRYPTION_BARE;
    let fits = |algorithm: &&Algorithm| {
        let named = if plain_rsa {
            algorithm.scheme == Scheme::Pkcs1 && algorithm.hash == hash
        } else {
            algorithm.name.as_ref() == name
        };
        named && algorithm.key.as_ref() == key
    };
    ACCEPTED.iter().find(fits).copied()
}

/// `rsaEncryption` without its NULL, as some write it.
const RSA_ENCRYPTION_BARE: &[u8] = &[6, 9, 0x2a, 0x86, 0x48, 0x86, 0xf7, 0x0d, 1, 1, 1];

/// id-sha256 (RFC 5754 section 2.2), id-sha384, id-sha512.
pub const SHA_256: ObjectIdentifier = ObjectIdentifier::new_unwrap("2.16.840.1.101.3.4.2.1");
const SHA_384: ObjectIdentifier = ObjectIdentifier::new_unwrap("2.16.840.1.101.3.4.2.2");
const SHA_512: ObjectIdentifier = ObjectIdentifier::new_unwrap("2.16.840.1.101.3.4.2.3");
