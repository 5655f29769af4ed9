//! What a scan tool can tell of a module that switches an output: whether it wants something first, and whether the output
//! works when the scan tool commands it. Before a module is bought both are asked: one that refuses is not bad.

use crate::file::component::ComponentKind;
use crate::file::fault::{FaultMode, FaultSpec};
use crate::file::layout::Circuit;
use crate::file::module::{EvidenceCode, EvidenceNeed, Module};
use crate::file::observation::MeasureMode;
use crate::file::procedure::{Behavior, Question, Test};
use crate::file::text::Text;
use crate::routine::parts::{text, variable, when, with};

const VARIABLE: &str = "scan_tool";
const OUTPUT_TEST: &str = "output_test";
/// Odds of a driver that nothing switches on, beside those of one that its module withholds (judgment).
const UNRESPONSIVE: f64 = 0.5;
/// Odds of a driver that leaks, beside those of a dead one, and what it leaks through, ohm (judgment).
const LEAKS: f64 = 0.25;
const LEAK_OHMS: (f64, f64) = (1e3, 3e6);
/// Conditions are read wrong so often: one that is met taken for missing, and a missing one overlooked (judgment).
const MISREAD: f64 = 0.05;
const OVERLOOKED: f64 = 0.2;
const MINUTES_TO_READ: f64 = 3.0;
const MINUTES_TO_COMMAND: f64 = 2.0;

/// Adds both questions for every module whose circuit's complaint is that something doesn't work.
pub(super) fn add(circuit: &mut Circuit) {
    let complains = circuit.tests.iter().find(|test| test.id == circuit.complaint.test).cloned();
    let Some(complains) = complains.filter(|_| !circuit.complaint.answer) else { return };
    let Some(question) = complains.question.clone() else { return };
    if circuit.variables.iter().any(|variable| variable.id == VARIABLE) {
        return;
    }
    let drivers: Vec<Option<String>> =
        circuit.modules.iter().map(|module| withholding(circuit, module)).collect();
    if drivers.iter().all(Option::is_none) {
        return;
    }
    circuit.variables.push(variable(
        VARIABLE,
        text("Scan tool", "Escáner"),
        &[
            ("reading", "commands nothing", "no ordena nada"),
            (OUTPUT_TEST, "commands the output", "ordena la salida"),
        ],
    ));
    for (i, driver) in drivers.into_iter().enumerate() {
        if let Some(driver) = driver {
            of_module(circuit, i, &driver, &complains, &question);
        }
    }
}

/// The driver of a module that can be withheld.
fn withholding(circuit: &Circuit, module: &Module) -> Option<String> {
    let inside = circuit.components.iter().filter(|part| module.components.contains(&part.id));
    let withheld = |part: &&crate::file::component::Component| {
        part.faults.iter().any(|fault| fault.mode == FaultMode::NotCommanded)
    };
    inside.into_iter().find(withheld).map(|part| part.id.clone())
}

fn of_module(circuit: &mut Circuit, place: usize, driver: &str, complains: &Test, question: &Question) {
    for part in circuit.components.iter_mut().filter(|part| part.id == driver) {
        if let ComponentKind::HighSideDriver { forced_when, .. }
        | ComponentKind::LowSideDriver { forced_when, .. } = &mut part.kind
        {
            *forced_when = when(VARIABLE, &[OUTPUT_TEST]);
        }
        let further = further_faults(&part.faults);
        part.faults.extend(further);
    }
    let Some(module) = circuit.modules.get_mut(place) else { return };
    let (conditions, output_test) =
        (format!("scan_conditions_{}", module.id), format!("scan_output_test_{}", module.id));
    module.evidence.push(need(
        "conditions",
        text("what the module wants first, by scan tool", "lo que el módulo exige antes, con escáner"),
        EvidenceCode::Conditions,
        &conditions,
    ));
    module.evidence.push(need(
        "output_test",
        text("output commanded by scan tool", "salida ordenada con escáner"),
        EvidenceCode::OutputTest,
        &output_test,
    ));
    let read = text(
        "Scan tool: all codes read, everything met that the module wants before it switches this output, no software update open?",
        "Escáner: ¿códigos leídos, cumplido todo lo que el módulo exige antes de activar esta salida y sin actualización pendiente?",
    );
    let mut asked =
        Test::blank(conditions, read, MeasureMode::YesNo, complains.state.clone(), MINUTES_TO_READ);
    asked.question = Some(Question {
        behavior: Behavior::ConditionsMet { component: driver.to_owned() },
        miss: MISREAD,
        false_alarm: OVERLOOKED,
    });
    asked.cautions.clone_from(&complains.cautions);
    let Text { en, es } = &complains.name;
    let commanded = text(
        format!("With the output commanded by scan tool: {en}"),
        format!("Con la salida ordenada por escáner: {es}"),
    );
    let state = with(&complains.state, VARIABLE, OUTPUT_TEST);
    let mut moved = Test::blank(output_test, commanded, MeasureMode::YesNo, state, MINUTES_TO_COMMAND);
    moved.question = Some(question.clone());
    moved.cautions.clone_from(&complains.cautions);
    circuit.tests.extend([asked, moved]);
}

fn need(id: &str, name: Text, code: EvidenceCode, test: &str) -> EvidenceNeed {
    EvidenceNeed { id: id.to_owned(), name, code, tests: vec![test.to_owned()], looks: 1 }
}

/// What else can be wrong with a driver, by the odds of what the file lists.
fn further_faults(listed: &[FaultSpec]) -> Vec<FaultSpec> {
    let find = |mode: FaultMode| listed.iter().find(|fault| fault.mode == mode);
    let has = |mode: FaultMode| find(mode).is_some();
    let withheld = find(FaultMode::NotCommanded).filter(|_| !has(FaultMode::Unresponsive));
    let unresponsive = withheld.map(|like| FaultSpec {
        mode: FaultMode::Unresponsive,
        odds: like.odds * UNRESPONSIVE,
        ..like.clone()
    });
    let dead = find(FaultMode::Dead).filter(|_| !has(FaultMode::Leaks));
    let leaks = dead.map(|like| FaultSpec {
        mode: FaultMode::Leaks,
        min: Some(LEAK_OHMS.0),
        max: Some(LEAK_OHMS.1),
        odds: like.odds * LEAKS,
        ..like.clone()
    });
    unresponsive.into_iter().chain(leaks).collect()
}
