//! What the api refused, in the words of the screens.

use api::ErrorView;
use words::{Catalogue, Language};

/// Names of values that are amounts in minor units.
const AMOUNTS: [&str; 6] = ["over", "approved", "allowed", "asked", "most", "total"];

/// What happened and what to do, with the code for scripts. A code without words says what the program itself said of it.
pub fn sentence(refused: &ErrorView) -> String {
    sentence_with(refused, &amount)
}

/// The same, with amounts in minor units as the shop's region writes them.
pub fn sentence_with(refused: &ErrorView, amount: &dyn Fn(i64) -> String) -> String {
    let catalogue = Catalogue::of(Language::English);
    let (error, remedy) = (format!("error_{}", refused.code), format!("remedy_{}", refused.code));
    if !catalogue.has(&error) {
        return format!("{} [{}]", refused.detail, refused.code);
    }
    let shown: Vec<(&str, String)> = refused
        .values
        .iter()
        .map(|(name, value)| (name.as_str(), shown(catalogue, name, value, amount)))
        .collect();
    let field = refused.values.get("what").or_else(|| refused.values.get("field"));
    let values: Vec<(&str, &str)> = shown
        .iter()
        .map(|(name, value)| (*name, value.as_str()))
        .chain(field.map(|code| ("code", code.as_str())))
        .collect();
    let remedy = if catalogue.has(&remedy) { catalogue.say(&remedy, &values) } else { String::new() };
    format!("{} {remedy} [{}]", catalogue.say(&error, &values), refused.code)
}

fn shown(catalogue: &Catalogue, name: &str, value: &str, amount: &dyn Fn(i64) -> String) -> String {
    match name {
        "what" | "field" => {
            let key = format!("field_{value}");
            if catalogue.has(&key) { catalogue.say(&key, &[]) } else { value.to_owned() }
        }
        _ if AMOUNTS.contains(&name) => value.parse().map_or_else(|_| value.to_owned(), amount),
        _ => value.to_owned(),
    }
}

/// Minor units as an amount, where no shop is open.
fn amount(cents: i64) -> String {
    let (sign, size) = (if cents < 0 { "-" } else { "" }, cents.unsigned_abs());
    format!("{sign}{}.{:02}", size / 100, size % 100)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn refused(code: &str, values: &[(&str, &str)]) -> ErrorView {
        let values: BTreeMap<String, String> =
            values.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
        ErrorView { code: code.to_owned(), values, detail: "as the program says it".to_owned() }
    }

    #[test]
    fn a_refusal_is_said_in_words_with_its_code_behind() {
        let over = sentence(&refused("invoice_over_approved", &[("over", "1250")]));
        assert!(over.starts_with("The invoice is 12.50 over the most"), "{over}");
        assert!(over.ends_with("[invoice_over_approved]"), "{over}");
        let at_home = sentence_with(&refused("invoice_over_approved", &[("over", "1250")]), &|minor| {
            format!("{} at home", minor / 100)
        });
        assert!(at_home.contains("12 at home"), "{at_home}");
        let empty = sentence(&refused("field_empty", &[("field", "technician")]));
        assert!(!empty.replace("[field_empty]", "").contains('_'), "{empty}");
        let unknown = sentence(&refused("of_tomorrow", &[]));
        assert_eq!(unknown, "as the program says it [of_tomorrow]");
    }
}
