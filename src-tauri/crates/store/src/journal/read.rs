use std::io::{BufRead, Read};

use crate::journal::line::Line;
use crate::{LogCopy, StoreError};

/// A record has at most 1 MiB; its disclosures are texts that people typed.
const LONGEST_LINE: u64 = 16 << 20;

/// What a journal holds. Lines that can't be read are left out; what comes after them is read all the same, so that it
/// is known how much there was.
pub(crate) struct Contents {
    /// `None` when not even the heading can be read.
    pub(crate) copy: Option<LogCopy>,
    /// What is wrong with the first bad line, with its number.
    pub(crate) complaint: Option<String>,
}

/// Reads line by line. Damage is told, never an error; where reading itself fails, it ends.
pub(crate) fn read(reader: &mut dyn BufRead) -> Contents {
    let (mut copy, mut complaint) = (None, None);
    for number in 1_u64.. {
        match next_line(reader) {
            Ok(None) => break,
            Ok(Some(text)) => {
                if let Err(why) = Line::parse(&text).and_then(|line| take(&mut copy, line)) {
                    complaint.get_or_insert(format!("line {number}: {why}"));
                    if copy.is_none() {
                        break;
                    }
                }
            }
            Err(why) => {
                complaint.get_or_insert(format!("line {number}: {why}"));
                break;
            }
        }
    }
    Contents { copy, complaint }
}

fn take(copy: &mut Option<LogCopy>, line: Line) -> Result<(), StoreError> {
    match (copy, line) {
        (copy @ None, Line::Heading(log)) => *copy = Some(LogCopy::new(log)),
        (Some(copy), Line::Record(record)) => copy.records.push(record),
        (Some(copy), Line::Checkpoint(signed)) => copy.checkpoints.push(signed),
        (Some(copy), Line::Forgotten(digests)) => copy.forgotten.extend(digests),
        _ => return Err(misfit("a heading must be the first line and no other")),
    }
    Ok(())
}

/// One whole line without its line feed; `None` at the end.
fn next_line(reader: &mut dyn BufRead) -> Result<Option<String>, StoreError> {
    let mut bytes = Vec::new();
    let read = Read::take(&mut *reader, LONGEST_LINE).read_until(b'\n', &mut bytes);
    read.map_err(|error| misfit(&error.to_string()))?;
    match bytes.pop() {
        None => Ok(None),
        Some(b'\n') => String::from_utf8(bytes).map(Some).map_err(|_| misfit("it isn't UTF-8")),
        Some(_) => Err(misfit("it ends before its line feed")),
    }
}

fn misfit(why: &str) -> StoreError {
    StoreError::Misfit { why: why.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reading_goes_on_past_a_bad_line_and_says_which() {
        let check = |text: &str, records: Option<usize>, complaint: Option<&str>| {
            let contents = read(&mut text.as_bytes());
            assert_eq!(contents.copy.map(|copy| copy.records.len()), records, "{text}");
            let told = contents.complaint.as_deref().map(|told| told.split(':').next().unwrap_or_default());
            assert_eq!(told, complaint, "{text}");
        };
        let (heading, record) =
            ("{\"log\":\"s/j/d\",\"version\":1}\n", "{\"disclosures\":[],\"record\":{\"a\":1}}\n");
        check("", None, None);
        check(heading, Some(0), None);
        check(&format!("{heading}{record}{record}"), Some(2), None);
        check(&format!("{heading}{record}{{\"disc"), Some(1), Some("line 3"));
        check(&format!("{record}{heading}"), None, Some("line 1"));
        check(&format!("{heading}{heading}"), Some(0), Some("line 2"));
        check(&format!("{heading}{{\"else\":1}}\n{record}"), Some(1), Some("line 2"));
        check("{\"log\":\"s/j/d\",\"version\":2}\n", None, Some("line 1"));
    }
}
