//! A withheld value as the preview of a packet shows it: in words, not as it stands in the record.

use crate::view::ValueShareView;
use ::money::Cents;
use evidence::Disclosure;
use report::{Language, words};
use serde_json::Value;

/// Fields that hold an amount in minor units.
const AMOUNTS: [&str; 6] = ["amount", "approver_limit", "billed", "core_charge", "price", "quoted"];

/// The value with whether it goes out.
pub(crate) fn shared_value(
    kind: &str,
    value: &Disclosure,
    goes_out: bool,
    language: Language,
) -> ValueShareView {
    ValueShareView {
        digest: value.digest().to_string(),
        kind: kind.to_owned(),
        field: value.name().to_owned(),
        text: text(value.name(), value.value(), language),
        goes_out,
    }
}

fn text(field: &str, value: &Value, language: Language) -> String {
    match (field, value) {
        // A signature is a drawing: its path says nothing to a reader.
        ("signature", _) => String::new(),
        ("weighed", Value::Array(routes)) => {
            let routes: Vec<String> = routes.iter().map(|route| weighed(route, language)).collect();
            routes.join("; ")
        }
        // An instant to the minute, as it is on the clock there.
        ("appointment_at", Value::String(text)) => match (text.get(..16), text.get(19..)) {
            (Some(minute), Some(offset)) => format!("{} (UTC{offset})", minute.replace('T', " ")),
            _ => text.clone(),
        },
        (_, Value::String(text)) if AMOUNTS.contains(&field) => amount(text),
        (_, Value::String(text)) => text.clone(),
        (_, other) => other.to_string(),
    }
}

fn amount(stored: &str) -> String {
    Cents::try_from(stored.to_owned()).map_or_else(|_| stored.to_owned(), |cents| cents.to_string())
}

/// One way of programming with what it was expected to cost.
fn weighed(route: &Value, language: Language) -> String {
    let of = |name: &str| route.get(name).and_then(Value::as_str).unwrap_or_default();
    let name = words::code(language, "route", of("route"));
    format!("{name} {}", amount(of("expected_cost"))).trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn nobody_reads_cents_or_json() {
        let said = |field: &str, value: Value| text(field, &value, Language::English);
        assert_eq!(said("price", json!("23600")), "236.00");
        assert_eq!(
            said("appointment_at", json!("2026-10-19T10:30:00-07:00")),
            "2026-10-19 10:30 (UTC-07:00)"
        );
        let routes = json!([{ "route": "own_tool", "expected_cost": "20582", "success": "0.97" }]);
        let said_routes = said("weighed", routes);
        assert!(said_routes.ends_with("205.82") && !said_routes.contains(['{', '_']), "{said_routes}");
        assert_eq!(said("warranty_months", json!(12)), "12");
        assert_eq!(said("signature", json!("M1 2L3 4")), "");
    }
}
