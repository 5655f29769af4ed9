//! Which causes lie inside which module.

use crate::file::fault::FaultMode;
use crate::file::module::{EvidenceCode, Module};
use crate::predict::model::Model;

/// The module a cause belongs to. An output that its module withholds is no fault of the module, wherever a scan tool
/// could tell the two apart.
pub(crate) fn module_of(model: &Model<'_>, cause: usize) -> Option<String> {
    let module = module_around(model, cause)?;
    let withheld = model.causes.get(cause).is_some_and(|cause| cause.spec.mode == FaultMode::NotCommanded);
    (!withheld || !asks_scan_tool(module)).then(|| module.id.clone())
}

/// The causes inside a module.
pub(crate) fn causes_in(model: &Model<'_>, module: &Module) -> Vec<usize> {
    let inside = |cause: &usize| module_of(model, *cause).as_ref() == Some(&module.id);
    (0..model.causes.len()).filter(inside).collect()
}

/// The causes by which a module withholds its output.
pub(crate) fn withheld_by(model: &Model<'_>, module: &Module) -> Vec<usize> {
    let withheld = |cause: &usize| {
        model.causes.get(*cause).is_some_and(|cause| cause.spec.mode == FaultMode::NotCommanded)
            && module_around(model, *cause).is_some_and(|around| around.id == module.id)
    };
    (0..model.causes.len()).filter(withheld).collect()
}

/// The module whose part a cause is about.
fn module_around<'m>(model: &'m Model<'_>, cause: usize) -> Option<&'m Module> {
    let part = model.causes.get(cause).and_then(|cause| model.wiring.parts.get(cause.part))?;
    let inside = |component: &String| *component == part.component.id;
    model.circuit().modules.iter().find(|module| module.components.iter().any(inside))
}

/// Does the module's list ask what a scan tool can tell?
pub(crate) fn asks_scan_tool(module: &Module) -> bool {
    module.evidence.iter().any(|need| of_scan_tool(need.code))
}

/// Is this read by scan tool?
pub(crate) const fn of_scan_tool(code: EvidenceCode) -> bool {
    matches!(code, EvidenceCode::Conditions | EvidenceCode::OutputTest)
}
