//! The causes a circuit can have, each with its range of severities.

use crate::file::component::ComponentKind;
use crate::file::fault::{FaultMode, FaultSpec};
use crate::solve::part::Failing;
use crate::solve::wiring::Wiring;

/// Least share of faults that come and go, for every contact, wire and driver (judgement).
const COMES_AND_GOES: f64 = 0.05;
/// Solved severities per decade where curves run between them.
const PER_DECADE: f64 = 2.0;
/// Solved duties, where no curve through three points fits.
const DUTIES: f64 = 64.0;

/// One way one part fails.
#[derive(Debug, Clone)]
pub(crate) struct Cause {
    pub id: String,
    pub part: usize,
    pub spec: FaultSpec,
    /// Share of such faults that come and go.
    pub comes_and_goes: f64,
    at: usize,
}

impl Cause {
    /// The fault with its severity at a share `u` of the prior, 0 to 1.
    pub fn failing(&self, u: f64) -> Failing {
        Failing { part: self.part, mode: self.spec.mode, severity: self.severity(u), at: self.at }
    }

    /// Modes without a severity have one point instead of a range.
    pub const fn has_range(&self) -> bool {
        self.spec.min.is_some() && self.spec.max.is_some()
    }

    /// Severity below which a share `u` of the prior lies; 0 for modes without one.
    pub fn severity(&self, u: f64) -> f64 {
        let (Some(min), Some(max)) = (self.spec.min, self.spec.max) else { return 0.0 };
        if self.is_linear() { min + (max - min) * u } else { min * (max / min).powf(u) }
    }

    /// Shares at which it is solved before anything moves; curves run between them.
    pub fn solved_at(&self) -> Vec<f64> {
        let (Some(min), Some(max)) = (self.spec.min, self.spec.max) else { return vec![0.0] };
        let decades = if self.is_linear() { 1.0 } else { (max / min).log10() };
        // A duty enters a circuit squared: volts down, current back.
        let steps = if self.spec.mode == FaultMode::LowDuty {
            DUTIES
        } else {
            (decades * PER_DECADE).ceil().max(2.0)
        };
        let mut shares = Vec::new();
        let mut step = 0.0;
        while step <= steps {
            shares.push(step / steps);
            step += 1.0;
        }
        shares
    }

    fn is_linear(&self) -> bool {
        self.spec.mode == FaultMode::LowVoltage
    }
}

/// Every cause of a circuit, in the order of its file.
pub(crate) fn causes_of(wiring: &Wiring<'_>) -> Vec<Cause> {
    let parts = wiring.parts.iter().enumerate();
    parts
        .flat_map(|(number, part)| part.component.faults.iter().map(move |spec| (number, part, spec)))
        .map(|(number, part, spec)| Cause {
            id: format!("{}/{}", part.component.id, spec.mode.code()),
            part: number,
            at: spec.at.as_deref().and_then(|at| wiring.point(at).ok()).unwrap_or(part.a),
            comes_and_goes: spec.comes_and_goes.max(least_coming_and_going(&part.component.kind, spec.mode)),
            spec: spec.clone(),
        })
        .collect()
}

const fn least_coming_and_going(kind: &ComponentKind, mode: FaultMode) -> f64 {
    use ComponentKind as Kind;
    match kind {
        // What is welded or on for good doesn't let go by itself.
        _ if matches!(mode, FaultMode::StuckClosed | FaultMode::AlwaysOn) => 0.0,
        Kind::Fuse { .. }
        | Kind::Wire { .. }
        | Kind::Connection { .. }
        | Kind::Switch { .. }
        | Kind::Contact { .. }
        | Kind::HighSideDriver { .. }
        | Kind::LowSideDriver { .. } => COMES_AND_GOES,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::settle::settle;
    use crate::solve::solved::solve_elements;

    /// By way of a relative or factored anew: the same volts, and the same response between any two nodes.
    #[test]
    fn relatives_equal_fresh_solutions() {
        for circuit in crate::library::all().unwrap() {
            let wiring = Wiring::of(&circuit).unwrap();
            let causes = causes_of(&wiring);
            for test in &circuit.tests {
                let setting = wiring.setting(&test.state, test.load.as_deref()).unwrap();
                for (cause, u) in
                    causes.iter().flat_map(|cause| cause.solved_at().into_iter().map(move |u| (cause, u)))
                {
                    let faults = [cause.failing(u)];
                    let settled = settle(&wiring, &setting, &faults).unwrap();
                    let elements = wiring.elements(&setting, &faults, &settled.positions);
                    let fresh = solve_elements(wiring.nodes, &elements).unwrap();
                    for node in 1..wiring.nodes {
                        let (ours, exact) = (settled.solved.between(node, 0), fresh.between(node, 0));
                        let what = (&circuit.id, &test.id, &cause.id, u, node);
                        assert_eq!(ours.is_some(), exact.is_some(), "{what:?}");
                        let off = (ours.unwrap_or(0.0) - exact.unwrap_or(0.0)).abs();
                        // Rounding alone: 1e-16 × 200 S (a joint of 5 mohm) / 1e-6 S (a fault of 1 Mohm) × 12.5 V.
                        assert!(off < 1e-6, "{what:?}: off by {off} V");
                        let probes = settled.solved.probe(node, 0).zip(fresh.probe(node, 0));
                        let Some((ours, exact)) = probes else { continue };
                        let (ours, exact) = (ours.between(node, 0), exact.between(node, 0));
                        assert!(
                            (ours - exact).abs() <= 1e-6 * exact.abs() + 1e-9,
                            "{what:?}: {ours} ohm, {exact} ohm"
                        );
                    }
                }
            }
        }
    }
}
