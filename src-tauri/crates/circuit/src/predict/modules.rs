//! Which causes lie inside which module.

use crate::file::module::Module;
use crate::predict::model::Model;

/// The module a cause belongs to.
pub(crate) fn module_of(model: &Model<'_>, cause: usize) -> Option<String> {
    let part = model.causes.get(cause).and_then(|cause| model.wiring.parts.get(cause.part))?;
    let inside = |component: &String| *component == part.component.id;
    let modules = &model.circuit().modules;
    modules.iter().find(|module| module.components.iter().any(inside)).map(|module| module.id.clone())
}

/// The causes inside a module.
pub(crate) fn causes_in(model: &Model<'_>, module: &Module) -> Vec<usize> {
    let inside = |cause: &usize| module_of(model, *cause).as_ref() == Some(&module.id);
    (0..model.causes.len()).filter(inside).collect()
}
