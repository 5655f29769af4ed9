//! Names as drawings have them: two short lines.

/// Letters of a line.
pub const LABEL_LINE: usize = 10;
/// Lines of a label.
pub const LABEL_LINES: usize = 2;

/// The lines of a label: words, together as long as a line has at most [`LABEL_LINE`] letters. A word that is longer is a line of
/// its own; the checker refuses it.
#[must_use]
pub fn label_lines(label: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in label.split_whitespace() {
        let long = word.chars().count();
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + long <= LABEL_LINE => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Does a label keep to its lines and letters?
pub(crate) fn fits(label: &str) -> bool {
    let lines = label_lines(label);
    let short = |line: &String| line.chars().count() <= LABEL_LINE;
    !lines.is_empty() && lines.len() <= LABEL_LINES && lines.iter().all(short)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_break_between_words() {
        for (label, lines, good) in [
            ("Fan fuse", vec!["Fan fuse"], true),
            ("Temp. switch", vec!["Temp.", "switch"], true),
            ("Body ground strap", vec!["Body", "ground", "strap"], false),
            ("Temperature", vec!["Temperature"], false),
            ("", vec![], false),
        ] {
            assert_eq!(label_lines(label), lines, "{label:?}");
            assert_eq!(fits(label), good, "{label:?}");
        }
    }
}
