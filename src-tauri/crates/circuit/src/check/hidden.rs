//! Characters that nobody sees: control characters, and those that turn or hide what stands beside them. A name that shows
//! otherwise than it reads is no name.

use serde_json::Value;

use crate::check::problem::{Problem, ProblemCode};
use crate::file::layout::Circuit;

/// Every text of the circuit, whatever its key.
pub(super) fn check(circuit: &Circuit, problems: &mut Vec<Problem>) {
    if let Ok(Value::Object(whole)) = serde_json::to_value(circuit) {
        for (section, value) in &whole {
            walk(value, section, problems);
        }
    }
}

fn walk(value: &Value, place: &str, problems: &mut Vec<Problem>) {
    match value {
        Value::String(text) => text_is_plain(text, place, problems),
        Value::Array(list) => {
            for (i, entry) in list.iter().enumerate() {
                walk(
                    entry,
                    &format!("{place}/{}", name_of(entry).unwrap_or_else(|| i.to_string())),
                    problems,
                );
            }
        }
        Value::Object(map) => {
            for (key, entry) in map {
                text_is_plain(key, place, problems);
                walk(entry, &format!("{place}/{}", visible(key)), problems);
            }
        }
        _ => {}
    }
}

/// What an entry of a list is called in places.
fn name_of(entry: &Value) -> Option<String> {
    let name = ["id", "number", "mode", "test"].into_iter().find_map(|key| entry.get(key)?.as_str());
    name.map(visible)
}

fn text_is_plain(text: &str, place: &str, problems: &mut Vec<Problem>) {
    let Some((before, hidden)) = text.chars().enumerate().find(|(_, character)| is_hidden(*character)) else {
        return;
    };
    let (code, at) = (u32::from(hidden), before + 1);
    let problem = format!("character {at} of {:?} is U+{code:04X}, which nobody sees", visible(text));
    let remedy = "Type this text anew; text that was copied may bring hidden characters along";
    problems.push(Problem::new(ProblemCode::HiddenCharacter, place, problem, remedy));
}

/// The text as far as it can be shown.
fn visible(text: &str) -> String {
    text.chars().map(|character| if is_hidden(character) { '\u{fffd}' } else { character }).collect()
}

/// Control characters (Cc), marks and overrides of direction (Unicode Standard Annex 9, table 4), line and paragraph
/// separators, and characters without width.
pub(crate) fn is_hidden(character: char) -> bool {
    character.is_control()
        || matches!(
            character,
            '\u{ad}'
                | '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'..='\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e007f}'
        )
}
