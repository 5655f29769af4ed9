//! The shop's own series of numbers for invoices and credit notes.
//!
//! A number is a prefix, the code of the device where it has one, and a count: `INV-0001`, `INV-K7QX-0001`. Neither prefix
//! nor code holds a dash, so that no two series can write the same number. See decision 45.

use super::shop::Shop;
use crate::{ApiError, Workshop, typed};
use evidence::Digest;
use job::event::{CreditNoteKept, InvoiceKept, RecordKind};

/// What the numbers begin with unless the shop chose something else.
const INVOICE: &str = "INV";
const CREDIT: &str = "CN";
/// Longest prefix, characters: a number has to fit beside an amount.
const LONGEST_PREFIX: usize = 10;
/// Letters and digits that nobody takes for one another.
const SIGNS: &[u8; 28] = b"ABCDEFGHJKLMNPQRTUVWXY346789";
/// How many of them make a code: of two devices, one in 614,656 would have the other's.
const CODE_SIGNS: usize = 4;

/// A paper with a series of its own.
#[derive(Clone, Copy)]
pub(crate) enum Numbered {
    Invoice,
    CreditNote,
}

impl Numbered {
    /// What its numbers begin with in this shop, on this device, up to the count.
    pub(crate) fn head(self, shop: &Shop) -> String {
        let (chosen, usual) = match self {
            Numbered::Invoice => (&shop.invoice_prefix, INVOICE),
            Numbered::CreditNote => (&shop.credit_prefix, CREDIT),
        };
        let prefix = if chosen.is_empty() { usual } else { chosen };
        match shop.numbered_apart {
            true => format!("{prefix}-{}-", code(&shop.device_id)),
            false => format!("{prefix}-"),
        }
    }

    fn kind(self) -> &'static str {
        match self {
            Numbered::Invoice => InvoiceKept::DESCRIPTOR.kind,
            Numbered::CreditNote => CreditNoteKept::DESCRIPTOR.kind,
        }
    }
}

impl Workshop {
    /// The next number of a series: one more than the highest on record, whoever wrote it, also on what can't be used.
    pub(crate) fn next_number(&self, paper: Numbered) -> Result<String, ApiError> {
        let head = paper.head(&self.shop()?);
        let records = self.store.records_of_kind(paper.kind())?;
        let highest = records.iter().filter_map(|bytes| highest(bytes, &head)).max().unwrap_or(0);
        Ok(format!("{head}{:04}", highest.saturating_add(1)))
    }

    /// Another device of the shop is known, which may write papers too.
    pub(crate) fn has_other_devices(&self, shop: &Shop) -> Result<bool, ApiError> {
        Ok(self.store.known_public_keys()?.iter().any(|(device, _)| *device != shop.device_id))
    }
}

/// The code of a device, from its random id: the same in every start, and known without having met another device.
pub(crate) fn code(device: &str) -> String {
    let digest = Digest::of(device.as_bytes()).to_string();
    let bytes = digest.as_bytes().chunks(2).take(CODE_SIGNS).map(|pair| {
        let text = std::str::from_utf8(pair).unwrap_or_default();
        usize::from_str_radix(text, 16).unwrap_or_default()
    });
    let sign = |byte: usize| SIGNS.get(byte % SIGNS.len()).copied().map_or('X', char::from);
    bytes.map(sign).collect()
}

/// Both prefixes as typed, in capitals; empty for the usual ones.
pub(crate) fn prefixes(invoice: &str, credit: &str) -> Result<(String, String), ApiError> {
    let (invoice, credit) = (prefix("invoice_prefix", invoice)?, prefix("credit_prefix", credit)?);
    let in_use =
        |chosen: &str, usual: &str| if chosen.is_empty() { usual.to_owned() } else { chosen.to_owned() };
    if in_use(&invoice, INVOICE) == in_use(&credit, CREDIT) {
        return Err(ApiError::refused("prefixes_alike"));
    }
    Ok((invoice, credit))
}

fn prefix(field: &'static str, typed: &str) -> Result<String, ApiError> {
    let text = typed::text(field, typed)?.to_uppercase();
    let fits =
        text.chars().count() <= LONGEST_PREFIX && text.chars().all(|c| c.is_ascii_alphanumeric() || c == '/');
    if fits { Ok(text) } else { Err(ApiError::Unknown { what: field, value: text }) }
}

/// The highest count behind a head in the bytes of a record, which has no spaces (RFC 8785).
fn highest(bytes: &[u8], head: &str) -> Option<u64> {
    let text = String::from_utf8_lossy(bytes);
    let quoted = format!("\"number\":\"{head}");
    let counts = text.split(quoted.as_str()).skip(1).filter_map(|rest| rest.split_once('"'));
    counts.filter_map(|(count, _)| count.parse().ok()).max()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_numbers_of_this_series_count() {
        let record = |number: &str| format!("{{\"body\":{{\"invoice\":{{\"number\":\"{number}\"}}}}}}");
        for (number, counted) in [
            ("INV-0007", Some(7)),
            ("INV-12345", Some(12_345)),
            ("INV-K7QX-0009", None),
            ("CN-0008", None),
            ("INV-", None),
            ("INV-99999999999999999999999", None),
            ("INV-🔧", None),
        ] {
            assert_eq!(highest(record(number).as_bytes(), "INV-"), counted, "{number}");
        }
        assert_eq!(highest(&[0xff, 0x00], "INV-"), None);
    }

    /// Ten thousand random ids: fewer than two in a million pairs may agree (28^4 codes: one in 614,656).
    #[test]
    fn codes_of_devices_are_hardly_ever_alike() {
        let mut codes: Vec<String> = (0..10_000).map(|n| code(&format!("device-{n:012x}"))).collect();
        assert!(codes.iter().all(|code| code.len() == 4 && code.bytes().all(|sign| SIGNS.contains(&sign))));
        codes.sort();
        let alike = codes.windows(2).filter(|pair| pair[0] == pair[1]).count();
        // 10,000 × 9,999 / 2 pairs over 614,656 codes: 81 are expected, with a deviation of 9.
        assert!((36..=126).contains(&alike), "{alike}");
    }
}
