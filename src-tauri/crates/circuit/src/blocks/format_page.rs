//! The page about the file format must name every key of a composition and of its lists.

use std::collections::BTreeSet;

use schemars::schema_for;
use serde_json::Value;

use crate::blocks::{Composition, Switch};

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
fn every_key_of_a_composition_is_on_the_page() {
    let page = include_str!("../../FORMAT.md");
    let mut found = BTreeSet::new();
    keys(schema_for!(Composition).as_value(), &mut found);
    keys(schema_for!(Switch).as_value(), &mut found);
    assert!(found.len() > 90, "{}", found.len());
    let named = |key: &String| page.contains(&format!("`{key}`")) || page.contains(&format!("\"{key}\""));
    let missing: Vec<&String> = found.iter().filter(|key| !named(key)).collect();
    assert!(missing.is_empty(), "FORMAT.md doesn't name {missing:?}");
}
