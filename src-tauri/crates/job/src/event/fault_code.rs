//! Fault codes as a scan tool shows them: SAE J2012 (ISO 15031-6). The form is described by several public pages (read); the
//! standard itself was not.

use super::check::Unusable;
use crate::Refused;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Where a module keeps a code. 40 CFR 86.1806 and 13 CCR 1968.2 name the three for emissions (from memory).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum FaultStatus {
    /// Confirmed, kept until it is cleared.
    #[default]
    Stored,
    /// Seen, not confirmed yet.
    Pending,
    /// Only the vehicle itself can clear it.
    Permanent,
}

/// A value of the freeze frame that the module kept with a code.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(deny_unknown_fields, default)]
#[ts(export)]
pub struct FrameLine {
    /// What it is, as the tool names it.
    pub name: String,
    /// Its value, as shown.
    pub value: String,
    /// Its unit, as shown; may be empty.
    pub unit: String,
}

/// One fault code.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct FaultCode {
    /// Letter, digit from 0 to 3, three hexadecimal digits.
    pub code: String,
    /// Failure type, two hexadecimal digits; absent where the tool shows none.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub failure_type: String,
    /// Where it is kept.
    pub status: FaultStatus,
    /// The module that reported it, as the tool names it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub module: String,
    /// What the module kept with it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub freeze_frame: Vec<FrameLine>,
}

/// Most codes of one intake: a vehicle with a dead network shows dozens.
pub const MOST_CODES: usize = 200;
/// Most lines of a freeze frame.
pub const MOST_LINES: usize = 60;
/// Longest name, value or unit, characters.
const LONGEST_WORD: usize = 200;

impl FaultCode {
    /// Reads a code as it is typed: "p0301", "U0100-87", "B1A0F 13". Small letters become capitals.
    ///
    /// # Errors
    /// `fault_code_form` with what was typed.
    pub fn read(typed: &str) -> Result<FaultCode, Refused> {
        let kept = typed.chars().filter(|c| !c.is_whitespace() && *c != '-' && *c != ':');
        let capitals: String = kept.map(|c| c.to_ascii_uppercase()).collect();
        let length = capitals.chars().count();
        let (code, failure_type) = capitals.split_at_checked(5).unwrap_or((&capitals, ""));
        let fits = matches!(length, 5 | 7) && is_code(code) && is_failure_type(failure_type);
        if !fits {
            return Err(Refused::because("fault_code_form").with("value", typed.trim()));
        }
        Ok(FaultCode { code: code.to_owned(), failure_type: failure_type.to_owned(), ..FaultCode::default() })
    }

    /// As the trade writes it: "P0301", "U0100-87".
    #[must_use]
    pub fn written(&self) -> String {
        let FaultCode { code, failure_type, .. } = self;
        if failure_type.is_empty() { code.clone() } else { format!("{code}-{failure_type}") }
    }

    /// Do both name the same code of the same module, kept at the same place?
    #[must_use]
    pub fn is_same(&self, other: &FaultCode) -> bool {
        let of = |one: &FaultCode| (one.written(), one.status, one.module.clone());
        of(self) == of(other)
    }
}

/// What no new record may hold.
pub(super) fn admissible(codes: &[FaultCode]) -> Result<(), Unusable> {
    let unusable = |why: String| Err(Unusable::new("fault_codes", why));
    if codes.len() > MOST_CODES {
        return unusable(format!("more than {MOST_CODES} codes"));
    }
    for one in codes {
        if !is_code(&one.code) || !is_failure_type(&one.failure_type) {
            return unusable(format!("{:?} is no fault code", one.written()));
        }
        let words = one.freeze_frame.iter().flat_map(|line| [&line.name, &line.value, &line.unit]);
        let too_long = |text: &String| text.chars().count() > LONGEST_WORD;
        if one.freeze_frame.len() > MOST_LINES || words.chain([&one.module]).any(too_long) {
            return unusable(format!("the freeze frame of {} is too long", one.written()));
        }
    }
    Ok(())
}

fn is_code(code: &str) -> bool {
    let mut letters = code.chars();
    let first = letters.next().is_some_and(|c| matches!(c, 'P' | 'B' | 'C' | 'U'));
    let second = letters.next().is_some_and(|c| ('0'..='3').contains(&c));
    let rest: Vec<char> = letters.collect();
    first && second && rest.len() == 3 && rest.into_iter().all(is_hexadecimal)
}

fn is_failure_type(text: &str) -> bool {
    text.is_empty() || (text.chars().count() == 2 && text.chars().all(is_hexadecimal))
}

fn is_hexadecimal(digit: char) -> bool {
    matches!(digit, '0'..='9' | 'A'..='F')
}

#[cfg(test)]
mod tests {
    use super::*;

    /// P0301 and U0100 stand in public lists of SAE J2012; B1A0F shows hexadecimal digits, -13 and -87 failure types.
    #[test]
    fn codes_are_read_as_they_are_typed() {
        for (typed, written) in [
            ("P0301", "P0301"),
            (" p0301 ", "P0301"),
            ("u0100-87", "U0100-87"),
            ("U0100:87", "U0100-87"),
            ("b1a0f 13", "B1A0F-13"),
            ("C3FFF", "C3FFF"),
        ] {
            assert_eq!(FaultCode::read(typed).map(|code| code.written()).as_deref(), Ok(written), "{typed}");
        }
        for typed in [
            "",
            "P",
            "0301",
            "P4301",
            "X0301",
            "P030",
            "P030G",
            "P03011",
            "P0301-1",
            "P0301-1G",
            "P0301-123",
            "Pé301",
            "É0301",
        ] {
            let refused = FaultCode::read(typed).unwrap_err();
            assert_eq!((refused.reason, refused.values["value"].as_str()), ("fault_code_form", typed.trim()));
        }
    }

    #[test]
    fn a_record_holds_no_other_codes() {
        let good = FaultCode::read("P0301").unwrap();
        assert_eq!(admissible(std::slice::from_ref(&good)), Ok(()));
        assert!(admissible(&[FaultCode { code: "P9301".into(), ..good.clone() }]).is_err());
        let line = FrameLine { name: "x".repeat(201), ..FrameLine::default() };
        assert!(admissible(&[FaultCode { freeze_frame: vec![line], ..good.clone() }]).is_err());
        assert!(admissible(&vec![good; 201]).is_err());
    }
}
