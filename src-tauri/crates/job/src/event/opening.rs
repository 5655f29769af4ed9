use super::RecordKind;
use super::descriptor::{AGREED, Descriptor, Field};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The first record of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobOpened {
    /// Running number in the shop.
    pub number: u32,
    /// Shop name: the business, so it is public.
    pub shop: String,
    /// Registration number of the shop, may be empty.
    #[serde(default)]
    pub registration: String,
    /// Region code whose rules hold for this job.
    pub region: String,
    /// Technician. Withheld.
    #[serde(default)]
    pub technician: String,
    /// Fingerprint of the key that signs this log: SHA-256 of its public key in DER form, hexadecimal.
    pub fingerprint: String,
}

impl RecordKind for JobOpened {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "job_opened",
        &[
            Field::public("number"),
            Field::public("shop"),
            Field::public("registration"),
            Field::public("region"),
            Field::withheld("technician", AGREED),
            Field::public("fingerprint"),
        ],
    );
}
