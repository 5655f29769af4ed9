use evidence::Disclosure;
use rusqlite::Connection;
use rusqlite::types::ValueRef;
use serde_json::Value;

use crate::StoreError;

const LISTS: [&str; 4] = ["jobs.csv", "records.csv", "originals.csv", "checkpoints.csv"];
const VALUES: &str = "values.csv";

/// Whether a name is one of ours.
pub(super) fn is_list(name: &str) -> bool {
    name == VALUES || LISTS.contains(&name)
}

/// Every list with its name.
pub(super) fn all(connection: &Connection) -> Result<Vec<(&'static str, String)>, StoreError> {
    let queries = [
        include_str!("../sql/list_jobs.sql"),
        include_str!("../sql/list_records.sql"),
        include_str!("../sql/list_originals.sql"),
        include_str!("../sql/list_checkpoints.sql"),
    ];
    let lists = LISTS.into_iter().zip(queries).map(|(name, query)| Ok((name, list(connection, query)?)));
    lists.chain([values(connection).map(|text| (VALUES, text))]).collect()
}

fn list(connection: &Connection, query: &str) -> Result<String, StoreError> {
    let mut statement = connection.prepare(query)?;
    let names: Vec<String> = statement.column_names().map(str::to_owned).collect();
    let mut text = line(&names);
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let cells = (0..names.len()).map(|column| Ok(cell(row.get_ref(column)?)));
        text.push_str(&line(&cells.collect::<Result<Vec<_>, rusqlite::Error>>()?));
    }
    Ok(text)
}

/// A disclosure is read back into its name and its value (text as it is, anything else as JSON).
fn values(connection: &Connection) -> Result<String, StoreError> {
    let mut statement = connection.prepare(include_str!("../sql/list_values.sql"))?;
    let mut text = line(&["job", "device", "sequence", "name", "value"].map(str::to_owned));
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let disclosure = Disclosure::parse(&row.get::<_, String>(3)?)?;
        let place = (0..3).map(|column| Ok(cell(row.get_ref(column)?)));
        let mut cells: Vec<String> = place.collect::<Result<_, rusqlite::Error>>()?;
        let value = match disclosure.value() {
            Value::String(text) => text.clone(),
            other => other.to_string(),
        };
        cells.extend([harmless(disclosure.name().to_owned()), harmless(value)]);
        text.push_str(&line(&cells));
    }
    Ok(text)
}

/// Hashes in hexadecimal.
fn cell(value: ValueRef<'_>) -> String {
    match value {
        ValueRef::Null => String::new(),
        ValueRef::Integer(number) => number.to_string(),
        ValueRef::Real(number) => number.to_string(),
        ValueRef::Text(bytes) => harmless(String::from_utf8_lossy(bytes).into_owned()),
        ValueRef::Blob(bytes) => bytes.iter().map(|byte| format!("{byte:02x}")).collect(),
    }
}

/// A cell that begins like a formula would be run by a spreadsheet (OWASP, "CSV Injection").
fn harmless(text: String) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text }
}

/// RFC 4180: quoted where needed, quotes doubled, lines end with CR LF.
fn line(cells: &[String]) -> String {
    let quoted = |cell: &String| {
        if cell.contains(['"', ',', '\n', '\r']) {
            format!("\"{}\"", cell.replace('"', "\"\""))
        } else {
            cell.clone()
        }
    };
    let cells: Vec<String> = cells.iter().map(quoted).collect();
    format!("{}\r\n", cells.join(","))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_formulas_defused() {
        let cells = ["plain", "a,b", "say \"hi\"", "two\nlines"].map(str::to_owned);
        assert_eq!(line(&cells), "plain,\"a,b\",\"say \"\"hi\"\"\",\"two\nlines\"\r\n");
        assert_eq!(harmless("=1+1".to_owned()), "'=1+1");
        assert_eq!(cell(ValueRef::Blob(&[0, 255])), "00ff");
    }
}
