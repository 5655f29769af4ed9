//! Probabilities that are no numbers are an error, never a verdict.

use crate::answer::diagnosis::{Diagnosis, UNMODELED};
use crate::error::CircuitError;
use crate::predict::model::Model;
use crate::weigh::posterior::Posterior;

/// Every share a number?
///
/// # Errors
/// [`CircuitError::NotFinite`] with the first cause that has none.
pub(crate) fn posterior(model: &Model<'_>, posterior: &Posterior) -> Result<(), CircuitError> {
    if !posterior.unmodeled.is_finite() {
        return Err(CircuitError::NotFinite(UNMODELED.to_owned()));
    }
    let odd = posterior.hypotheses.iter().find(|one| !one.posterior.is_finite());
    odd.map_or(Ok(()), |one| {
        let cause = model.causes.get(one.cause);
        Err(CircuitError::NotFinite(cause.map_or_else(String::new, |cause| cause.id.clone())))
    })
}

/// The same of everything that is said.
///
/// # Errors
/// As [`posterior`].
pub(crate) fn diagnosis(found: Diagnosis) -> Result<Diagnosis, CircuitError> {
    let singles = found.causes.iter().map(|cause| (cause.id.clone(), cause.probability));
    let pairs = found.pairs.iter().map(|pair| (pair.causes.join(" + "), pair.probability));
    let modules = found.modules.iter().map(|module| (module.module.clone(), module.probability));
    let pins = found.pin_outs.iter().map(|way| ("the pins in doubt".to_owned(), way.probability));
    let rest = std::iter::once((UNMODELED.to_owned(), found.unmodeled));
    let odd =
        singles.chain(pairs).chain(modules).chain(pins).chain(rest).find(|(_, share)| !share.is_finite());
    odd.map_or(Ok(found), |(what, _)| Err(CircuitError::NotFinite(what)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::call::engine::diagnose;
    use crate::{Meter, Options, library};

    #[test]
    fn one_share_that_is_no_number_refuses_all() {
        let circuit = library::find("starter_power").unwrap();
        let found = diagnose(&circuit, &Meter::default(), &[], &Options::default()).unwrap();
        let refused = |change: fn(&mut Diagnosis)| {
            let mut changed = found.clone();
            change(&mut changed);
            matches!(diagnosis(changed), Err(CircuitError::NotFinite(_)))
        };
        assert!(refused(|found| found.unmodeled = f64::NAN));
        assert!(refused(|found| found.causes[1].probability = f64::NAN));
        assert!(refused(|found| found.causes[0].probability = f64::INFINITY));
        assert!(diagnosis(found).is_ok());
    }
}
