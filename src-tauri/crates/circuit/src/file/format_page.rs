//! The page about the file format must name every key there is.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::file::layout::Circuit;

fn keys(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(map) => {
            if let Some(Value::Object(properties)) = map.get("properties") {
                found.extend(properties.keys().cloned());
            }
            if let Some(Value::String(code)) = map.get("const") {
                found.insert(code.clone());
            }
            map.values().for_each(|value| keys(value, found));
        }
        Value::Array(values) => values.iter().for_each(|value| keys(value, found)),
        _ => {}
    }
}

#[test]
fn every_key_of_the_schema_is_on_the_page() {
    let page = include_str!("../../FORMAT.md");
    let mut found = BTreeSet::new();
    keys(schemars::schema_for!(Circuit).as_value(), &mut found);
    assert!(found.len() > 80, "{found:?}");
    let missing: Vec<&String> = found
        .iter()
        .filter(|key| !page.contains(&format!("`{key}`")) && !page.contains(&format!("\"{key}\"")))
        .collect();
    assert!(missing.is_empty(), "FORMAT.md doesn't name {missing:?}");
}
