//! Which of a reading's numbers is weighed: the value, or what a minimum/maximum recording shows.

use crate::Job;
use crate::event::{ReadingCondition, ReadingKept};
use crate::measured::in_base_unit;
use circuit::{Circuit, Compared, Condition, ObservedValue};

/// A reading's numbers as the engine takes them.
pub(crate) struct Observed {
    pub value: ObservedValue,
    pub lowest: Option<f64>,
    pub highest: Option<f64>,
}

/// The numbers of a reading whose test is about one of them. Nothing where none is there that could be weighed: `None` for a
/// value that can't be read, too.
pub(crate) fn of(kept: &ReadingKept, about: Compared) -> Option<Observed> {
    let counts = text(kept, about)?;
    // The engine takes a recording as numbers. One that went over the limit is the value then, if it is what counts.
    let recorded = |value: &str| in_base_unit(value, kept.unit).filter(|_| counts != "OL");
    let value = match counts {
        "OL" => ObservedValue::OverLimit,
        "yes" => ObservedValue::Yes,
        "no" => ObservedValue::No,
        number => ObservedValue::Number(in_base_unit(number, kept.unit)?),
    };
    Some(Observed { value, lowest: recorded(&kept.lowest), highest: recorded(&kept.highest) })
}

/// Which number of a reading is weighed: what its test is about, else the value, else the only one that was recorded. `None`
/// where nothing says which.
pub(crate) fn which(kept: &ReadingKept, about: Compared) -> Option<Compared> {
    let (lowest, highest) = (!kept.lowest.is_empty(), !kept.highest.is_empty());
    match about {
        Compared::Lowest if lowest => Some(about),
        Compared::Highest if highest => Some(about),
        _ if !kept.value.is_empty() => Some(Compared::Value),
        _ if lowest && !highest => Some(Compared::Lowest),
        _ if highest && !lowest => Some(Compared::Highest),
        _ => None,
    }
}

/// The number of a reading that counts, as it was kept.
#[must_use]
pub fn counted<'k>(job: &Job, kept: &'k ReadingKept) -> &'k str {
    let about = job.circuit_file().map(|circuit| about(circuit, &kept.test)).unwrap_or_default();
    text(kept, about).unwrap_or_default()
}

/// What a test of the circuit is about; the value where there is none.
pub(crate) fn about(circuit: &Circuit, test: &str) -> Compared {
    circuit.tests.iter().find(|known| known.id == test).map(|test| test.compares).unwrap_or_default()
}

fn text(kept: &ReadingKept, about: Compared) -> Option<&str> {
    Some(match which(kept, about)? {
        Compared::Value => &kept.value,
        Compared::Lowest => &kept.lowest,
        Compared::Highest => &kept.highest,
    })
}

impl From<ReadingCondition> for Condition {
    fn from(condition: ReadingCondition) -> Condition {
        match condition {
            ReadingCondition::Wiggled => Condition::Wiggled,
            ReadingCondition::Heated => Condition::Heated,
            ReadingCondition::Cooled => Condition::Cooled,
        }
    }
}

impl From<Condition> for ReadingCondition {
    fn from(condition: Condition) -> ReadingCondition {
        match condition {
            Condition::Wiggled => ReadingCondition::Wiggled,
            Condition::Heated => ReadingCondition::Heated,
            Condition::Cooled => ReadingCondition::Cooled,
        }
    }
}
