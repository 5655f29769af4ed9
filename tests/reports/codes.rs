//! Every code that the engine can give has words in both languages: read from the schemas we hand out.

use report::words::{self, Language};
use serde_json::Value;

const DIAGNOSIS: &str = include_str!("../../src-tauri/crates/cli/schemas/diagnosis.schema.json");
const CIRCUIT: &str = include_str!("../../src-tauri/crates/cli/schemas/circuit.schema.json");

fn codes(schema: &str, name: &str) -> Vec<String> {
    let schema: Value = serde_json::from_str(schema).unwrap();
    let choices = schema["$defs"][name]["oneOf"].as_array().unwrap();
    choices.iter().map(|choice| choice["const"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn every_code_of_the_engine_has_words() {
    for (family, schema, name) in [
        ("failure", DIAGNOSIS, "FaultMode"),
        ("missing", DIAGNOSIS, "MissingCode"),
        ("likelihood", DIAGNOSIS, "LikelihoodWord"),
        ("mode", CIRCUIT, "MeasureMode"),
    ] {
        let codes = codes(schema, name);
        assert!(codes.len() > 4, "{name}: {codes:?}");
        for code in codes {
            for language in [Language::English, Language::Spanish] {
                let key = format!("{family}_{code}");
                assert!(words::has(language, &key), "{key} in {}", language.code());
            }
        }
    }
}
