//! Ways to reach somebody, checked in form alone: whether anybody answers there nobody can tell from the text.

use crate::Refused;

/// Digits of a phone number: a local one of North America, and the longest there is (ITU-T E.164).
const PHONE: std::ops::RangeInclusive<usize> = 7..=15;
/// Longest address and longest part of its domain (RFC 5321 4.5.3.1, RFC 1035 2.3.4).
const ADDRESS: usize = 254;
const LABEL: usize = 63;

/// A phone number: digits with the marks people put between them, and an extension ("x12", "ext. 12").
///
/// # Errors
/// `phone_form` with what was typed.
pub fn phone(text: &str) -> Result<(), Refused> {
    let lower = text.to_lowercase();
    let (number, extension) = lower.split_once(['x', 'e']).unwrap_or((&lower, ""));
    let extension: String = extension.chars().filter(|c| !"xt. :".contains(*c)).collect();
    let digits = number.bytes().filter(u8::is_ascii_digit).count();
    let marks =
        number.chars().all(|c| c.is_ascii_digit() || c.is_whitespace() || "()+-./\u{2011}".contains(c));
    let fits = marks && PHONE.contains(&digits) && extension.bytes().all(|b| b.is_ascii_digit());
    if fits { Ok(()) } else { Err(Refused::because("phone_form").with("value", text)) }
}

/// An e-mail address by the rule that web forms check (WHATWG HTML, "valid e-mail address"), with a dot in the domain.
///
/// # Errors
/// `email_form` with what was typed.
pub fn email(text: &str) -> Result<(), Refused> {
    let refused = || Refused::because("email_form").with("value", text);
    let (local, domain) = text.rsplit_once('@').ok_or_else(refused)?;
    let of_local = |c: char| c.is_ascii_alphanumeric() || ".!#$%&'*+/=?^_`{|}~-".contains(c);
    let local_fits = !local.is_empty() && local.chars().all(of_local);
    let fits = local_fits && domain.contains('.') && domain.split('.').all(is_label) && text.len() <= ADDRESS;
    if fits { Ok(()) } else { Err(refused()) }
}

fn is_label(label: &str) -> bool {
    let inner = label.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    inner && (1..=LABEL).contains(&label.len()) && !label.starts_with('-') && !label.ends_with('-')
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers from 555-0100 on are kept for fiction (ATIS-0300115); the forms follow ITU-T E.123 and custom.
    #[test]
    fn phone_numbers_are_taken_as_people_write_them() {
        for good in [
            "555 0142",
            "(512) 555-0142",
            "+1 512.555.0142",
            "512/555-0142 ext. 12",
            "5125550142x7",
            "+52 1 33 5555 0142",
        ] {
            assert_eq!(phone(good), Ok(()), "{good}");
        }
        for bad in ["", "12", "call me", "512 555 01 42 99 88 77", "a@b.example", "555-01O2"] {
            assert_eq!(phone(bad).map_err(|refused| refused.reason), Err("phone_form"), "{bad}");
        }
    }

    /// Cases by the production in WHATWG HTML 4.10.5.1.5; domains of RFC 2606.
    #[test]
    fn addresses_are_those_a_web_form_takes() {
        for good in ["a@example.com", "o.brandt+van@mail.example.org", "x'y@a-b.example"] {
            assert_eq!(email(good), Ok(()), "{good}");
        }
        let long = format!("{}@example.com", "a".repeat(250));
        for bad in [
            "",
            "a",
            "a@",
            "@example.com",
            "a@b",
            "a b@example.com",
            "a@-x.example",
            "a@x..example",
            "ü@example.com",
            &long,
        ] {
            assert_eq!(email(bad).map_err(|refused| refused.reason), Err("email_form"), "{bad}");
        }
    }
}
