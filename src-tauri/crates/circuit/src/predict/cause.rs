//! The causes a circuit can have, each with its range of severities.

use crate::file::component::ComponentKind;
use crate::file::fault::{FaultMode, FaultSpec};
use crate::solve::part::Failing;
use crate::solve::wiring::Wiring;

/// Least share of faults that come and go, for every contact, wire and driver (judgment).
const COMES_AND_GOES: f64 = 0.05;
/// Solved severities per decade where curves run between them.
const PER_DECADE: f64 = 3.0;
/// The same beyond the file's range.
const PER_DECADE_BEYOND: f64 = 4.0;
/// Solved duties, where no curve through three points fits.
const DUTIES: f64 = 64.0;
/// Share of such faults that are milder than the file's range says, and of those that are worse (judgment): a range
/// written by hand must not turn a vehicle just beyond it into another cause.
const BEYOND: f64 = 0.04;
/// How many times a resistance may lie beyond its range, and between which it stays, ohm (judgment).
const TIMES_BEYOND: f64 = 30.0;
const TIMES_AT_LEAST: f64 = 3.0;
const LEAST_OHMS: f64 = 1e-3;
const MOST_OHMS: f64 = 1e7;
/// A range narrower than this factor has no edges.
const DEFINITE: f64 = 1.001;
/// A factor may go down to a tenth of its range's end, and up to nearly none (judgment).
const FACTOR_BELOW: f64 = 10.0;
const NEARLY_NONE: f64 = 0.97;

/// One way one part fails.
#[derive(Debug, Clone)]
pub(crate) struct Cause {
    pub id: String,
    pub part: usize,
    pub spec: FaultSpec,
    /// Share of such faults that come and go.
    pub comes_and_goes: f64,
    at: usize,
    /// Least and greatest severity, beyond the file's range; where it has one.
    ends: Option<[f64; 2]>,
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

    /// Severity below which a share `u` of the prior lies; 0 for modes without one. The file's range holds most of it, and
    /// beyond each end lies a tail.
    pub fn severity(&self, u: f64) -> f64 {
        let Some([least, min, max, most]) = self.knees() else {
            // A range next to none is one definite severity.
            return self.spec.min.zip(self.spec.max).map_or(0.0, |(min, max)| min + (max - min) * u);
        };
        let (from, to, share) = if u < BEYOND {
            (least, min, u / BEYOND)
        } else if u > 1.0 - BEYOND {
            (max, most, (u - (1.0 - BEYOND)) / BEYOND)
        } else {
            (min, max, (u - BEYOND) / (1.0 - 2.0 * BEYOND))
        };
        if self.is_linear() { from + (to - from) * share } else { from * (to / from).powf(share) }
    }

    /// Shares at which it is solved before anything moves; curves run between them.
    pub fn solved_at(&self) -> Vec<f64> {
        let Some(knees) = self.knees() else {
            return if self.has_range() { vec![0.0, 1.0] } else { vec![0.0] };
        };
        let shares = [0.0, BEYOND, 1.0 - BEYOND, 1.0];
        let mut all = vec![0.0];
        for (ends, shares) in knees.windows(2).zip(shares.windows(2)) {
            if let ([low, high], [from, to]) = (ends, shares) {
                let beyond = *from == 0.0 || *to == 1.0;
                let steps = self.steps(*low, *high, if beyond { PER_DECADE_BEYOND } else { PER_DECADE });
                all.extend((1..=steps).map(|step| from + (to - from) * f64::from(step) / f64::from(steps)));
            }
        }
        all
    }

    /// How many steps a stretch of severities is solved in.
    fn steps(&self, low: f64, high: f64, per_decade: f64) -> u32 {
        // A duty enters a circuit squared: volts down, current back.
        let steps = match self.spec.mode {
            FaultMode::LowDuty => DUTIES * (high - low),
            _ if self.is_linear() => per_decade,
            _ => (high / low).log10() * per_decade,
        };
        (1..).find(|count| f64::from(*count) >= steps).unwrap_or(1)
    }

    /// Least severity, the ends of the file's range, greatest severity.
    fn knees(&self) -> Option<[f64; 4]> {
        let ([least, most], min, max) = (self.ends?, self.spec.min?, self.spec.max?);
        Some([least.min(min), min, max, most.max(max)])
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
            ends: ends_of(&part.component.kind, spec),
            spec: spec.clone(),
        })
        .collect()
}

/// How far severities go beyond the file's range.
fn ends_of(kind: &ComponentKind, spec: &FaultSpec) -> Option<[f64; 2]> {
    let (min, max) = (spec.min?, spec.max?);
    if max < min * DEFINITE {
        return None;
    }
    Some(match spec.mode {
        // Down to nothing, and up to short of what a healthy one has.
        FaultMode::LowVoltage => [0.0, max + (0.8 * (healthy_volts(kind) - max)).max(0.01)],
        FaultMode::DrawsTooMuch | FaultMode::LowDuty => {
            [min / FACTOR_BELOW, NEARLY_NONE.max(f64::midpoint(max, 1.0))]
        }
        _ => [
            (min / TIMES_BEYOND).max(LEAST_OHMS).min(min / TIMES_AT_LEAST),
            (max * TIMES_BEYOND).min(MOST_OHMS).max(max * TIMES_AT_LEAST),
        ],
    })
}

const fn healthy_volts(kind: &ComponentKind) -> f64 {
    match kind {
        ComponentKind::Battery { volts, .. } | ComponentKind::RegulatedSupply { volts, .. } => *volts,
        ComponentKind::PickUp { volts_ac, .. } => *volts_ac,
        _ => 0.0,
    }
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
                        // Rounding alone: 1e-16 × 1.7e3 S (a strap of 0.6 mohm) / 1e-7 S (a fault of 10 Mohm) × 12.5 V.
                        assert!(off < 2e-5, "{what:?}: off by {off} V");
                        let probes = settled.solved.probe(node, 0).zip(fresh.probe(node, 0));
                        let Some((ours, exact)) = probes else { continue };
                        let (ours, exact) = (ours.between(node, 0), exact.between(node, 0));
                        // By way of the weakest conductance: 2e-16 × 1e3 S / 1e-7 S.
                        assert!(
                            (ours - exact).abs() <= 2e-6 * exact.abs() + 1e-9,
                            "{what:?}: {ours} ohm, {exact} ohm"
                        );
                    }
                }
            }
        }
    }
}
