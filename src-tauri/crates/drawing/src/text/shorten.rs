//! A short name from a long one, where a part has no label.

/// Letters of a line.
const LINE: usize = 10;
/// Lines.
const LINES: usize = 2;
/// Words that say nothing in a drawing.
const IDLE: [&str; 22] = [
    "the", "of", "its", "with", "in", "to", "a", "an", "and", "from", "inside", "de", "del", "la", "el",
    "los", "las", "con", "su", "al", "en", "y",
];

/// At most two lines of about ten letters: what stands in brackets or behind a comma goes first, then words that say nothing.
pub(crate) fn shorten(name: &str) -> Vec<String> {
    let plain = name.split(['(', ',']).next().unwrap_or(name);
    let words = plain.split_whitespace().filter(|word| !IDLE.contains(&word.to_lowercase().as_str()));
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        let word = if letters(word) > LINE { cut(word) } else { word.to_owned() };
        let full = lines.len() == LINES;
        match lines.last_mut() {
            Some(line) if letters(line) + 1 + letters(&word) <= LINE => {
                line.push(' ');
                line.push_str(&word);
            }
            _ if full => break,
            _ => lines.push(word),
        }
    }
    if lines.is_empty() {
        lines.push(name.chars().take(LINE).collect());
    }
    if let Some(first) = lines.first_mut() {
        let mut letters = first.chars();
        *first =
            letters.next().map(|letter| letter.to_uppercase().chain(letters).collect()).unwrap_or_default();
    }
    lines
}

fn letters(text: &str) -> usize {
    text.chars().count()
}

fn cut(word: &str) -> String {
    word.chars().take(LINE - 1).chain(['.']).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_names_become_two_short_lines() {
        for (name, lines) in [
            ("radiator fan fuse 30 A", vec!["Radiator", "fan fuse"]),
            ("temperature switch", vec!["Temperatu.", "switch"]),
            ("ground wire of the relays", vec!["Ground", "wire"]),
            ("motor, lado conmutado", vec!["Motor"]),
            ("", vec![""]),
        ] {
            assert_eq!(shorten(name), lines, "{name}");
        }
    }
}
