//! Which cause may be called.

use crate::refused::Refused;
use circuit::{CauseShare, Diagnosis};

/// A cause other than the module is called from here on ("very likely"; judgement).
pub const CALLED_FROM: f64 = 0.90;

/// The cause that may be called; `None` for "not proven" (an empty id).
///
/// # Errors
/// A cause that isn't the circuit's; a module while its gate is shut; a cause that is not likely enough.
pub fn called_cause<'a>(diagnosis: &'a Diagnosis, id: &str) -> Result<Option<&'a CauseShare>, Refused> {
    if id.is_empty() {
        return Ok(None);
    }
    let cause = diagnosis.causes.iter().find(|cause| cause.id == id);
    let cause = cause.ok_or_else(|| Refused::unknown("cause", id))?;
    let open = match &cause.module {
        Some(module) => diagnosis.modules.iter().any(|m| m.module == *module && m.may_be_called),
        None => called_probability(diagnosis, cause) >= CALLED_FROM,
    };
    match (open, &cause.module) {
        (true, _) => Ok(Some(cause)),
        (false, Some(_)) => Err(Refused::because("module_not_proven")),
        (false, None) => Err(Refused::because("cause_not_proven")),
    }
}

/// Probability of the cause together with those that no reading can tell from it; of a module, of the whole module.
#[must_use]
pub fn called_probability(diagnosis: &Diagnosis, cause: &CauseShare) -> f64 {
    if let Some(module) = &cause.module {
        return diagnosis.modules.iter().find(|m| m.module == *module).map_or(0.0, |m| m.probability);
    }
    let group = diagnosis.inseparable.iter().find(|group| group.contains(&cause.id));
    let ids: Vec<&str> = group.map_or(vec![cause.id.as_str()], |g| g.iter().map(String::as_str).collect());
    diagnosis.causes.iter().filter(|c| ids.contains(&c.id.as_str())).map(|c| c.probability).sum()
}
