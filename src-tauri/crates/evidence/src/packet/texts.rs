//! The words that lie in a packet. They never vary by job, so that the verifier can tell ours from others'.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::Digest;

/// The language of the README.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Language {
    /// English.
    #[default]
    En,
    /// Spanish.
    Es,
}

/// `data/README.txt`.
pub fn readme(language: Language) -> &'static str {
    match language {
        Language::En => README_EN,
        Language::Es => README_ES,
    }
}

/// `data/certification.txt`, in English because it is a draft for courts of the United States.
pub const CERTIFICATION: &str = include_str!("certification.txt");

/// The same draft in Spanish, for reading; it lies beside the English one in Spanish packets.
pub const CERTIFICATION_ES: &str = include_str!("certification-es.txt");

/// `data/record.schema.json`: the form of a record for whoever writes a program of their own. Fixed for the record's version.
pub const RECORD_SCHEMA: &str = include_str!("record.schema.json");

/// Whether these bytes are a text that a version of this program wrote into packets.
pub fn is_known(bytes: &[u8]) -> bool {
    let ours = [README_EN, README_ES, CERTIFICATION, CERTIFICATION_ES, RECORD_SCHEMA];
    ours.iter().any(|text| text.as_bytes() == bytes)
        || EARLIER.contains(&Digest::of(bytes).to_string().as_str())
}

/// Hashes of the texts that earlier forms of the packet held: add those of a text before changing it.
const EARLIER: [&str; 11] = [
    "aba693cd97bea6eac90fb11c2d91e10800a1360c07ad4de2e91ee66b74483209",
    "70dffdcb73842bad3df0178208593596040424800b1b93f6acdafa486dda5009",
    "1692b470b5c69e6ec89669db9ba09a17603b928174bb8b686f9814b04da347e2",
    "1cb0b6a118fa1fa5c190863c86d4f4ecd9e7625effe4a3549cefa8f8b70dcf76",
    "3f373826a4791326cded7d5f681c3ff4d31a9b4195463ec9736fe8215312788b",
    "3e13f306d1d30553ce278f08051832ef2583c563f981cab235d1700b1d71b28c",
    "670137e77a53d7b1f8e1ab92a57cea26eefbbb70d0a444f85eb6539ca10e2895",
    "edd19177e68d9d8ed2b66dce20275dbc43d795149ef754e6ef5ade4c6e46d415",
    "c9bcaa5bedfe4cddb719ac49a63f6ee92db50064d6399d93ddc2cd661dc1532a",
    "da58f8b4582c33533a74e7a05574322284b64fc16d92949b3e37c8addab9ffa3",
    "4f60357dc19b8c6623e4f30e84a9c6f25a44b0e0f4516de21e18f24cb4c55375",
];

const README_EN: &str = include_str!("readme-en.txt");
const README_ES: &str = include_str!("readme-es.txt");

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use serde_json::Value;

    use super::*;

    /// The schema is written by hand because the type says less; both must name the same fields.
    #[test]
    fn the_schema_in_the_packet_names_the_fields_of_a_record() {
        let ours: Value = serde_json::from_str(RECORD_SCHEMA).unwrap();
        let types = serde_json::to_value(schemars::schema_for!(crate::Record)).unwrap();
        let fields = |schema: &Value| -> BTreeSet<String> {
            schema["properties"].as_object().unwrap().keys().cloned().collect()
        };
        assert_eq!(fields(&ours), fields(&types));
        let required: BTreeSet<String> = serde_json::from_value(ours["required"].clone()).unwrap();
        assert_eq!(required, fields(&types), "a record always has all of them, null included");
        let photo = |schema: &Value, at: &str| fields(schema.pointer(at).unwrap());
        assert_eq!(photo(&ours, "/properties/photos/items"), photo(&types, "/$defs/PhotoRef"));
    }
}
