//! The causes a circuit can have, each with its severities laid out as a grid.

use crate::fault::{FaultMode, FaultSpec};
use crate::wiring::{Failing, Wiring};

/// One way one part fails.
#[derive(Debug, Clone)]
pub(crate) struct Cause {
    pub id: String,
    pub part: usize,
    pub spec: FaultSpec,
    at: usize,
    /// Severities at the middle of cells of equal prior probability; one entry for modes without severity.
    pub severities: Vec<f64>,
    /// Grid steps between two solved points.
    pub stride: usize,
}

impl Cause {
    pub fn failing(&self, index: usize) -> Failing {
        let severity = self.severities.get(index).copied().unwrap_or(0.0);
        Failing { part: self.part, mode: self.spec.mode, severity, at: self.at }
    }
}

/// Every cause of a circuit, in the order of its file.
pub(crate) fn causes_of(wiring: &Wiring<'_>, points_per_decade: u32) -> Vec<Cause> {
    let parts = wiring.parts.iter().enumerate();
    parts
        .flat_map(|(number, part)| part.component.faults.iter().map(move |spec| (number, part, spec)))
        .map(|(number, part, spec)| {
            let severities = grid(spec, points_per_decade);
            Cause {
                id: format!("{}/{}", part.component.id, mode_name(spec.mode)),
                part: number,
                at: spec.at.as_deref().and_then(|at| wiring.point(at).ok()).unwrap_or(part.a),
                stride: stride(spec.mode, points_per_decade),
                severities,
                spec: spec.clone(),
            }
        })
        .collect()
}

/// A duty enters a circuit squared (volts down, current back), so that no curve through three points fits: every
/// grid point is solved.
fn stride(mode: FaultMode, points_per_decade: u32) -> usize {
    if mode == FaultMode::LowDuty { 1 } else { (usize::try_from(points_per_decade).unwrap_or(2) / 2).max(1) }
}

fn grid(spec: &FaultSpec, points_per_decade: u32) -> Vec<f64> {
    let (Some(min), Some(max)) = (spec.min, spec.max) else {
        return vec![0.0];
    };
    let decades = (max / min).log10();
    let linear = spec.mode == FaultMode::LowVoltage;
    let cells = f64::from(points_per_decade) * if linear { 1.0 } else { decades.max(1.0) };
    let cells = cells.ceil().max(8.0);
    let mut severities = Vec::new();
    let mut middle = 0.5;
    while middle < cells {
        let share = middle / cells;
        let severity = if linear { min + (max - min) * share } else { min * (max / min).powf(share) };
        severities.push(severity);
        middle += 1.0;
    }
    severities
}

/// The name a mode has in data files.
pub(crate) const fn mode_name(mode: FaultMode) -> &'static str {
    match mode {
        FaultMode::HighResistance => "high_resistance",
        FaultMode::Open => "open",
        FaultMode::ShortToGround => "short_to_ground",
        FaultMode::ShortToFeed => "short_to_feed",
        FaultMode::StuckOpen => "stuck_open",
        FaultMode::StuckClosed => "stuck_closed",
        FaultMode::Dead => "dead",
        FaultMode::NotCommanded => "not_commanded",
        FaultMode::AlwaysOn => "always_on",
        FaultMode::Weak => "weak",
        FaultMode::LowVoltage => "low_voltage",
        FaultMode::DrawsTooMuch => "draws_too_much",
        FaultMode::Jammed => "jammed",
        FaultMode::ShortAcross => "short_across",
        FaultMode::LowDuty => "low_duty",
    }
}
