//! While the test leads that bypass a module's terminals are in place, its feed and ground take a minute more: seen at
//! another placement of the meter's leads.

use crate::file::layout::Circuit;
use crate::file::module::{EvidenceCode, Module};
use crate::file::observation::MeasureMode;
use crate::file::procedure::{Required, Requirement, Test};
use crate::routine::parts::text;

const MINUTES: f64 = 1.0;

/// Adds, for every module that is measured past its terminals, its supplies and grounds in that same state.
pub(super) fn add(circuit: &mut Circuit) {
    for place in 0..circuit.modules.len() {
        let Some(module) = circuit.modules.get(place).cloned() else { continue };
        let Some(bypass) = bypass(circuit, &module) else { continue };
        for (number, need) in module.evidence.iter().enumerate() {
            if !matches!(need.code, EvidenceCode::Supply | EvidenceCode::Ground) {
                continue;
            }
            let seen = need.tests.first().and_then(|id| circuit.tests.iter().find(|test| test.id == *id));
            let Some(again) = seen.and_then(|test| again(test, &bypass)) else { continue };
            if circuit.tests.iter().any(|test| test.id == again.id) {
                continue;
            }
            let listed = circuit.modules.get_mut(place).and_then(|module| module.evidence.get_mut(number));
            if let Some(need) = listed {
                need.tests.push(again.id.clone());
            }
            circuit.tests.push(again);
        }
    }
}

/// The test of an output past its terminal.
fn bypass(circuit: &Circuit, module: &Module) -> Option<Test> {
    let need = module.evidence.iter().find(|need| need.code == EvidenceCode::PastTerminal)?;
    circuit
        .tests
        .iter()
        .find(|test| need.tests.contains(&test.id) && test.mode == MeasureMode::VoltsDc)
        .cloned()
}

/// The same reading with the leads in place.
fn again(test: &Test, bypass: &Test) -> Option<Test> {
    let already = test.state == bypass.state && test.load == bypass.load;
    (test.mode == MeasureMode::VoltsDc && !already).then(|| Test {
        id: format!("{}_at_leads", test.id),
        name: text(
            format!("{}, once more with the test leads in place", test.name.en),
            format!("{}, otra vez con los cables de prueba puestos", test.name.es),
        ),
        state: bypass.state.clone(),
        load: bypass.load.clone(),
        minutes: MINUTES,
        requires: vec![Requirement { test: bypass.id.clone(), result: Required::Done }],
        ..test.clone()
    })
}
