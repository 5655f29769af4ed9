//! Minimum/maximum recordings: what of them is held against what the circuit shows.

use std::borrow::Cow;

use crate::file::layout::Circuit;
use crate::file::observation::{Observation, ObservedValue};

/// The observations with the value that their tests are about in the place of the value.
pub(crate) fn compared<'o>(circuit: &Circuit, observations: &'o [Observation]) -> Cow<'o, [Observation]> {
    let taken = |seen: &Observation| {
        let test = circuit.tests.iter().find(|test| seen.test.as_ref() == Some(&test.id))?;
        test.compares.of(seen)
    };
    if observations.iter().all(|seen| taken(seen).is_none()) {
        return Cow::Borrowed(observations);
    }
    let one = |seen: &Observation| match taken(seen) {
        Some(number) => Observation { value: ObservedValue::Number(number), ..seen.clone() },
        None => seen.clone(),
    };
    observations.iter().map(one).collect()
}
