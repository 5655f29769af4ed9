//! What of a record goes out to everybody, value by value.

use crate::view::{PublicValueView, RecordShareView};
use evidence::Record;
use serde_json::Value;
use store::StoredRecord;

/// Every value that stands in a record itself. One that can't be read goes out as its bytes are, and is shown so.
pub(crate) fn public_record(stored: &StoredRecord) -> RecordShareView {
    let whole: Value = serde_json::from_slice(&stored.bytes)
        .unwrap_or_else(|_| Value::String(String::from_utf8_lossy(&stored.bytes).into_owned()));
    let record = Record::parse(&stored.bytes).ok();
    let (mut values, mut around) = (Vec::new(), Vec::new());
    match whole {
        Value::Object(fields) if record.is_some() => {
            for (name, value) in &fields {
                match name.as_str() {
                    "body" => flatten("", value, &mut values),
                    name => flatten(name, value, &mut around),
                }
            }
        }
        other => flatten("", &other, &mut values),
    }
    RecordShareView {
        record: stored.leaf.to_string(),
        kind: record.as_ref().map(|record| record.kind.clone()).unwrap_or_default(),
        kept: record.map(|record| record.wall).unwrap_or_default(),
        values,
        around,
    }
}

/// Every number, text, yes or no below a value, by the way that leads to it. An empty list or object holds nothing to show.
fn flatten(name: &str, value: &Value, into: &mut Vec<PublicValueView>) {
    let below = |part: &str| if name.is_empty() { part.to_owned() } else { format!("{name}.{part}") };
    match value {
        Value::Object(fields) => fields.iter().for_each(|(part, value)| flatten(&below(part), value, into)),
        Value::Array(items) => {
            items
                .iter()
                .enumerate()
                .for_each(|(place, item)| flatten(&below(&place.to_string()), item, into));
        }
        Value::String(text) => into.push(PublicValueView { name: name.to_owned(), text: text.clone() }),
        other => into.push(PublicValueView { name: name.to_owned(), text: other.to_string() }),
    }
}
