use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{COSTS, Descriptor, EVERYBODY, Field, MEASURED};
use evidence::Digest;
use money::{Cents, Condition};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A part as it was received, with its receipt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartReceived {
    /// Supplier: a business. Withheld, so that another supplier's packet can leave it out. Public in records of older
    /// versions.
    #[serde(default)]
    pub supplier: String,
    /// Part number. Withheld as the supplier is.
    #[serde(default)]
    pub part_number: String,
    /// Description.
    pub description: String,
    /// Condition.
    pub condition: Condition,
    /// Price paid. Withheld: what the shop pays is the shop's own. Public in records of older versions.
    #[serde(default)]
    pub price: Cents,
    /// Core charge. Withheld.
    #[serde(default)]
    pub core_charge: Cents,
    /// Return terms. Withheld.
    #[serde(default)]
    pub return_terms: String,
    /// Warranty. Withheld.
    #[serde(default)]
    pub warranty: String,
    /// Photos of part and receipt.
    pub photos: Vec<Digest>,
    /// Id of the circuit's module that it is; empty for any other part.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub module: String,
}

impl RecordKind for PartReceived {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "part_received",
        &[
            Field::withheld("supplier", EVERYBODY),
            Field::withheld("part_number", EVERYBODY),
            Field::public("description"),
            Field::public("condition"),
            Field::withheld("price", COSTS),
            Field::withheld("core_charge", COSTS),
            Field::withheld("return_terms", MEASURED),
            Field::withheld("warranty", MEASURED),
            Field::public("photos"),
            Field::public("module"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }

    /// What a lost module costs again is reckoned with its price: below zero it shut the whole job once.
    fn check(&self) -> Result<(), Unusable> {
        if self.price.0 < 0 {
            Err(Unusable::new("price", format!("{} is below zero", self.price)))
        } else {
            Ok(())
        }
    }

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("price", self.price)?;
        check::amount("core_charge", self.core_charge)
    }
}
