//! What a kind of record says of itself: its fields, who may read each of them, and how long it is kept.

use crate::recipient::Recipient;

/// A kind of record. Everything that treats kinds differently reads it here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Descriptor {
    /// Code of the kind, as it stands in records.
    pub kind: &'static str,
    /// Every field of its body.
    pub fields: &'static [Field],
    /// A checkpoint is signed as soon as such a record is kept.
    pub signed: bool,
}

/// A field of a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Field {
    /// Name, as it stands in records.
    pub name: &'static str,
    /// Who may read it.
    pub access: Access,
}

/// Who may read a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// It stands in the record itself, and whoever has the record reads it.
    Public,
    /// It lives in a salted disclosure; the record holds only the digest.
    Withheld {
        /// To whom it goes out unless the technician says otherwise.
        readers: &'static [Recipient],
        /// When a customer is forgotten: does the duty to keep records of repairs hold it back? Which fields they need is
        /// our reading of the rule, so check your local rules.
        retained: bool,
    },
}

impl Descriptor {
    /// A kind with its fields.
    #[must_use]
    pub const fn new(kind: &'static str, fields: &'static [Field]) -> Self {
        Self { kind, fields, signed: false }
    }

    /// The same, followed by a signed checkpoint.
    #[must_use]
    pub const fn signed(self) -> Self {
        Self { signed: true, ..self }
    }

    /// Who may read a field. One that isn't described is withheld from everybody until it is.
    #[must_use]
    pub fn access(&self, field: &str) -> Access {
        let described = self.fields.iter().find(|described| described.name == field);
        described.map_or(Access::Withheld { readers: &[], retained: false }, |field| field.access)
    }

    /// Fields that live in disclosures, in the order in which they are sealed.
    pub fn withheld(&self) -> impl Iterator<Item = &'static str> + use<> {
        self.fields.iter().filter(|field| field.access != Access::Public).map(|field| field.name)
    }

    /// Does a withheld field go out to a recipient, unless the technician says otherwise?
    #[must_use]
    pub fn receives(&self, recipient: Recipient, field: &str) -> bool {
        match self.access(field) {
            Access::Public => true,
            Access::Withheld { readers, .. } => readers.contains(&recipient),
        }
    }

    /// Is a withheld field held back by the duty to keep records?
    #[must_use]
    pub fn retained(&self, field: &str) -> bool {
        matches!(self.access(field), Access::Withheld { retained: true, .. })
    }
}

impl Field {
    /// Stands in the record itself.
    #[must_use]
    pub const fn public(name: &'static str) -> Self {
        Self { name, access: Access::Public }
    }

    /// Lives in a disclosure; the duty to keep records holds it back when a customer is forgotten.
    #[must_use]
    pub const fn withheld(name: &'static str, readers: &'static [Recipient]) -> Self {
        Self { name, access: Access::Withheld { readers, retained: true } }
    }

    /// Lives in a disclosure and goes as soon as the customer asks for it.
    #[must_use]
    pub const fn forgettable(name: &'static str, readers: &'static [Recipient]) -> Self {
        Self { name, access: Access::Withheld { readers, retained: false } }
    }
}

/// The customer alone: ways to reach or find somebody.
pub const CUSTOMER: &[Recipient] = &[Recipient::Customer];

/// Whoever has to judge what happened.
pub const JUDGES: &[Recipient] = &[Recipient::Customer, Recipient::Arbiter];

/// Besides them, whoever has to see that an amount was agreed to, by whom and for what.
pub const AGREED: &[Recipient] = &[Recipient::Customer, Recipient::Arbiter, Recipient::CardIssuer];

/// Besides the judges, whoever has to see the part's fault.
pub const MEASURED: &[Recipient] = &[Recipient::Customer, Recipient::Arbiter, Recipient::Supplier];

/// What the shop pays: for whoever judges between it and a supplier, and for the supplier itself. The customer is shown
/// prices, never costs.
pub const COSTS: &[Recipient] = &[Recipient::Arbiter, Recipient::Supplier];

/// Everybody a packet is handed to.
pub const EVERYBODY: &[Recipient] = &Recipient::ALL;
