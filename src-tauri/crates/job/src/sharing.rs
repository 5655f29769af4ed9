//! What each recipient of a packet needs to see of it.
//!
//! A packet for anybody but the customer leaves out what its reader doesn't need: the record keeps the salted digest, so
//! every proof still holds. The choice is a beginning; the technician may change every line of it before it goes out.
//! Which field goes to whom stands with the field, in its kind's [`crate::event::Descriptor`].

use crate::event::{Event, PhotoPurpose, descriptor_of};
use crate::fold::Job;
use crate::recipient::Recipient;
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use ts_rs::TS;

/// What happens to a photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum PhotoShare {
    /// The original goes out, with everything that the camera saved in it.
    Original,
    /// A copy goes out in its place: the same pixels, without anything else.
    Stripped,
    /// The copy with covered areas goes out in its place.
    Covered,
    /// It stays here; its hash is in the records.
    Withheld,
}

impl PhotoShare {
    /// What happens to a photo of a purpose, of which there is a covered copy or not, unless the technician says otherwise.
    ///
    /// The original itself goes to the customer, whose own job it is, and to whoever has to judge it: only its bytes are
    /// those that were sealed. Others need the picture, not where it was taken and with whose phone.
    #[must_use]
    pub const fn preset(recipient: Recipient, purpose: PhotoPurpose, has_covered_copy: bool) -> Self {
        match recipient {
            // What the shop pays is the shop's own.
            Recipient::Customer | Recipient::CardIssuer if matches!(purpose, PhotoPurpose::SupplierPaper) => {
                Self::Withheld
            }
            Recipient::Customer => Self::Original,
            _ if has_covered_copy => Self::Covered,
            Recipient::Arbiter => Self::Original,
            // Photos of the arrival and of the identity show plates, documents and people.
            Recipient::CardIssuer | Recipient::Supplier => match purpose {
                PhotoPurpose::Arrival | PhotoPurpose::Identity => Self::Withheld,
                PhotoPurpose::Message if matches!(recipient, Recipient::Supplier) => Self::Withheld,
                _ => Self::Stripped,
            },
        }
    }
}

/// Does a withheld field of a kind of record go out to a recipient, unless the technician says otherwise? A kind that isn't
/// known goes to nobody.
#[must_use]
pub fn receives(recipient: Recipient, kind: &str, field: &str) -> bool {
    descriptor_of(kind).is_some_and(|descriptor| descriptor.receives(recipient, field))
}

/// What the shop pays is told to the supplier itself and to whoever judges between the two, to nobody else.
#[must_use]
pub const fn told_of_suppliers(reader: Recipient) -> bool {
    matches!(reader, Recipient::Supplier | Recipient::Arbiter)
}

/// A job as papers for a reader are made of it. A supplier's tell nothing of what the customer was asked for, agreed to, was
/// billed and paid, and nothing of the records `of_others` ([`crate::suppliers::of_others`]), though the records in a packet hold those amounts in public: they prove that no more was billed than
/// approved.
#[must_use]
pub fn as_told_to(mut job: Job, recipient: Recipient, of_others: &BTreeSet<Digest>) -> Job {
    if recipient != Recipient::Supplier {
        return job;
    }
    job.estimates.clear();
    job.requests.clear();
    job.approvals.clear();
    job.withdrawn.clear();
    job.waived.clear();
    job.invoices.clear();
    job.credit_notes.clear();
    job.payments.clear();
    job.parts.retain(|kept| !of_others.contains(&kept.record));
    job.programming.retain(|kept| !of_others.contains(&kept.record));
    job.programmed.retain(|attempt| !of_others.contains(&attempt.kept.record));
    job.supplier_steps.retain(|kept| !of_others.contains(&kept.record));
    for record in &mut job.timeline {
        let customers = matches!(
            record.event,
            Some(
                Event::EstimateKept(_)
                    | Event::ApprovalRequested(_)
                    | Event::ApprovalKept(_)
                    | Event::ApprovalWithdrawn(_)
                    | Event::EstimateWaived(_)
                    | Event::InvoiceKept(_)
                    | Event::CreditNoteKept(_)
                    | Event::PaymentKept(_)
            )
        );
        if customers || of_others.contains(&record.record) {
            record.event = None;
        }
    }
    job
}

/// The withheld fields a recipient gets of one kind of record.
pub fn received(recipient: Recipient, kind: &str) -> impl Iterator<Item = &'static str> {
    let descriptor = descriptor_of(kind);
    let withheld = descriptor.into_iter().flat_map(|descriptor| descriptor.withheld());
    withheld.filter(move |field| descriptor.is_some_and(|descriptor| descriptor.receives(recipient, field)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::event::DESCRIPTORS;

    #[test]
    fn the_supplier_learns_nobodys_name_number_or_plate() {
        for field in [
            "customer",
            "phone",
            "email",
            "plate",
            "vin",
            "approver",
            "approver_name",
            "approver_phone",
            "complaint",
            "name",
            "signature",
            "technician",
        ] {
            for descriptor in DESCRIPTORS.iter().filter(|descriptor| descriptor.kind != "meter_chosen") {
                let withheld = descriptor.withheld().any(|name| name == field);
                assert!(
                    !withheld || !receives(Recipient::Supplier, descriptor.kind, field),
                    "{} {field}",
                    descriptor.kind
                );
            }
        }
    }

    #[test]
    fn only_the_customer_gets_ways_to_reach_or_find_somebody() {
        for recipient in Recipient::ALL {
            for field in ["phone", "email", "plate", "approver_phone"] {
                let goes_out = receives(recipient, "intake_kept", field);
                assert_eq!(goes_out, recipient == Recipient::Customer, "{recipient:?} {field}");
            }
        }
    }

    #[test]
    fn a_field_that_nobody_described_goes_to_nobody() {
        for recipient in Recipient::ALL {
            assert!(!receives(recipient, "intake_kept", "bank_account"), "{recipient:?}");
            assert!(!receives(recipient, "a_kind_of_tomorrow", "number"), "{recipient:?}");
        }
    }

    #[test]
    fn a_covered_copy_takes_the_originals_place_for_all_but_the_customer() {
        for recipient in Recipient::ALL {
            let share = PhotoShare::preset(recipient, PhotoPurpose::Arrival, true);
            let wanted =
                if recipient == Recipient::Customer { PhotoShare::Original } else { PhotoShare::Covered };
            assert_eq!(share, wanted, "{recipient:?}");
        }
        let identity = PhotoShare::preset(Recipient::Supplier, PhotoPurpose::Identity, false);
        assert_eq!(identity, PhotoShare::Withheld);
    }

    #[test]
    fn only_the_customer_and_whoever_judges_get_what_a_camera_saved() {
        for recipient in Recipient::ALL {
            let share = PhotoShare::preset(recipient, PhotoPurpose::Part, false);
            let whole = matches!(recipient, Recipient::Customer | Recipient::Arbiter);
            assert_eq!(
                share,
                if whole { PhotoShare::Original } else { PhotoShare::Stripped },
                "{recipient:?}"
            );
        }
    }
}
