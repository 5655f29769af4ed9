//! Who a packet goes to, and what each of them needs to see of it.
//!
//! A packet for anybody but the customer leaves out what its reader doesn't need: the record keeps the salted digest, so
//! every proof still holds. The choice is a beginning; the technician may change every line of it before it goes out.

use crate::event::withheld_fields;

/// Somebody a packet is handed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Recipient {
    /// The customer: everything of their own job.
    Customer,
    /// Somebody who decides a dispute: what was agreed and what was measured, by whom.
    Arbiter,
    /// The issuer of the card a payment is disputed with: who agreed to which amount.
    CardIssuer,
    /// The supplier of a part: what was measured on which kind of vehicle; nobody's name.
    Supplier,
}

/// What happens to a photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PhotoShare {
    /// The original goes out.
    Original,
    /// The copy with covered areas goes out in its place.
    Covered,
    /// It stays here; its hash is in the records.
    Withheld,
}

impl Recipient {
    /// Every recipient, in the order of the screen.
    pub const ALL: [Self; 4] = [Self::Customer, Self::Arbiter, Self::CardIssuer, Self::Supplier];

    /// Code for files, words and the command line.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Customer => "customer",
            Self::Arbiter => "arbiter",
            Self::CardIssuer => "card_issuer",
            Self::Supplier => "supplier",
        }
    }

    /// The recipient with a code.
    #[must_use]
    pub fn of(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|recipient| recipient.code() == code)
    }

    /// Does a withheld field of a kind of record go out to this recipient, unless the technician says otherwise?
    #[must_use]
    pub fn receives(self, kind: &str, field: &str) -> bool {
        match self {
            Self::Customer => true,
            Self::Arbiter => !REACHES_SOMEBODY.contains(&field),
            Self::CardIssuer => AGREED.contains(&(kind, field)),
            Self::Supplier => MEASURED.contains(&(kind, field)),
        }
    }

    /// What happens to a photo of a purpose, of which there is a covered copy or not.
    #[must_use]
    pub fn photo(self, purpose: &str, has_covered_copy: bool) -> PhotoShare {
        let shown = match self {
            Self::Customer => return PhotoShare::Original,
            Self::Arbiter => true,
            // Photos of the arrival and of the identity show plates, documents and people.
            Self::CardIssuer | Self::Supplier => !matches!(purpose, "arrival" | "identity"),
        };
        match (has_covered_copy, shown) {
            (true, _) => PhotoShare::Covered,
            (false, true) => PhotoShare::Original,
            (false, false) => PhotoShare::Withheld,
        }
    }
}

impl PhotoShare {
    /// Code for words and entries.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Original => "original",
            Self::Covered => "covered",
            Self::Withheld => "withheld",
        }
    }

    /// The share with a code.
    #[must_use]
    pub fn of(code: &str) -> Option<Self> {
        [Self::Original, Self::Covered, Self::Withheld].into_iter().find(|share| share.code() == code)
    }
}

/// What an arbiter doesn't need: ways to reach or find somebody.
const REACHES_SOMEBODY: &[&str] = &["phone", "email", "plate"];

/// What shows that the amount was agreed to, by whom and for what.
const AGREED: &[(&str, &str)] = &[
    ("job_opened", "technician"),
    ("intake_kept", "complaint"),
    ("intake_kept", "customer"),
    ("intake_kept", "approver"),
    ("finding_kept", "words"),
    ("approval_kept", "name"),
    ("approval_kept", "words"),
    ("approval_kept", "signature"),
    ("handed_over", "warranty"),
    ("handed_over", "old_parts"),
];

/// What shows the part's fault. The VIN's beginning, which says what kind of vehicle it is, is public already.
const MEASURED: &[(&str, &str)] = &[
    ("meter_chosen", "name"),
    ("pin_noted", "function"),
    ("reading_corrected", "reason"),
    ("finding_kept", "words"),
    ("part_received", "return_terms"),
    ("part_received", "warranty"),
    ("programming_decided", "appointment"),
];

/// The withheld fields a recipient gets of one kind of record.
pub fn received(recipient: Recipient, kind: &str) -> impl Iterator<Item = &'static str> {
    let kind = kind.to_owned();
    withheld_fields(&kind).iter().copied().filter(move |field| recipient.receives(&kind, field))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::event::WITHHELD;

    #[test]
    fn lists_name_only_fields_that_exist() {
        let known = |(kind, field): &(&str, &str)| withheld_fields(kind).contains(field);
        assert!(AGREED.iter().chain(MEASURED).all(known));
        let somewhere = |field: &&str| WITHHELD.iter().any(|(_, fields)| fields.contains(field));
        assert!(REACHES_SOMEBODY.iter().all(somewhere));
    }

    #[test]
    fn the_supplier_learns_nobodys_name_number_or_plate() {
        for field in [
            "customer",
            "phone",
            "email",
            "plate",
            "vin",
            "approver",
            "complaint",
            "name",
            "signature",
            "technician",
        ] {
            for (kind, _) in WITHHELD.iter().filter(|(kind, _)| *kind != "meter_chosen") {
                assert!(!Recipient::Supplier.receives(kind, field), "{kind} {field}");
            }
        }
    }

    #[test]
    fn a_covered_copy_takes_the_originals_place_for_all_but_the_customer() {
        for recipient in Recipient::ALL {
            let share = recipient.photo("arrival", true);
            let wanted =
                if recipient == Recipient::Customer { PhotoShare::Original } else { PhotoShare::Covered };
            assert_eq!(share, wanted, "{recipient:?}");
        }
        assert_eq!(Recipient::Supplier.photo("identity", false), PhotoShare::Withheld);
    }
}
