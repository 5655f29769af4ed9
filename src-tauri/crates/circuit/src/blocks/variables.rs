//! What can be switched, fitted or plugged in a circuit of blocks.

use crate::blocks::composition::TestGroup;
use crate::blocks::direct::PLUG;
use crate::blocks::draft::Draft;
use crate::blocks::phrases::say;
use crate::error::CircuitError;
use crate::file::layout::{Variable, VariableValue};

type Values<'v> = &'v [(&'v str, &'v str, &'v str)];

const KEY: Values<'_> = &[
    ("off", "off", "apagado"),
    ("on", "on", "contacto"),
    ("crank", "crank", "arranque"),
    ("running", "engine running", "motor en marcha"),
];
const RANGE: Values<'_> = &[
    ("park", "park or neutral", "estacionamiento o punto muerto"),
    ("drive", "a drive range", "una marcha"),
];
const FITTED: Values<'_> = &[("fitted", "fitted", "puesto"), ("removed", "removed", "quitado")];
const SPARE: Values<'_> = &[("spare", "known-good relay fitted", "relé bueno conocido puesto")];
const BRIDGED: Values<'_> = &[(
    "bridged",
    "removed, 30 joined to 87 with a fused lead",
    "quitado, 30 unido a 87 con puente con fusible",
)];
const MODULE: Values<'_> = &[
    ("plugged", "plugged in", "enchufado"),
    ("unplugged", "unplugged", "desenchufado"),
    (
        "breakout",
        "joined through test leads that bypass the terminals",
        "unido con cables de prueba que puentean los terminales",
    ),
];
const PLUGGED: Values<'_> =
    &[("plugged", "plugged in", "enchufado"), ("unplugged", "unplugged", "desenchufado")];
const LOAD_FED: Values<'_> = &[
    ("none", "none", "ninguno"),
    (
        "battery_to_load",
        "battery positive to the load's feed pin",
        "positivo de la batería al pin de alimentación de la carga",
    ),
];
const LOAD_GROUNDED: Values<'_> = &[
    ("none", "none", "ninguno"),
    (
        "load_to_negative",
        "the load's control pin to battery negative",
        "pin de control de la carga al negativo de la batería",
    ),
];
const NO_LEAD: Values<'_> = &[
    ("none", "none", "ninguno"),
    ("battery_to_87", "battery positive to 87", "positivo de la batería a 87"),
    ("battery_to_86", "battery positive to 86", "positivo de la batería a 86"),
];
const GROUND_LEAD: Values<'_> = &[("ground_to_85", "85 to battery negative", "85 al negativo de la batería")];

pub(super) fn all(draft: &Draft<'_>) -> Result<Vec<Variable>, CircuitError> {
    let mut all = vec![variable("key", "Key", "Llave", &[KEY])];
    if draft.asked_when().contains_key("range") {
        all.push(variable("range", "Range selector", "Selector de gama", &[RANGE]));
    }
    if draft.direct() {
        all.push(variable(PLUG, "Load connector", "Conector de la carga", &[PLUGGED]));
    } else {
        let spare = if draft.has(TestGroup::SpareRelay) { SPARE } else { &[] };
        all.push(variable("relay", "Relay", "Relé", &[FITTED, spare, BRIDGED]));
    }
    if draft.composition.drive.by_module() {
        all.push(variable("module", "Module connector", "Conector del módulo", &[MODULE]));
    }
    if draft.direct() {
        let lead: Values<'_> = if draft.composition.drive.feeds() { LOAD_FED } else { LOAD_GROUNDED };
        all.push(variable("lead", "Fused test lead", "Cable de prueba con fusible", &[lead]));
    } else if draft.has(TestGroup::Leads) {
        let grounds = if draft.composition.drive.feeds() { &[] } else { GROUND_LEAD };
        all.push(variable("lead", "Fused test lead", "Cable de prueba con fusible", &[NO_LEAD, grounds]));
    }
    let switches = draft.requests.iter().map(|one| &one.switch).chain(&draft.through);
    for own in switches.filter_map(|switch| switch.variable.as_ref()) {
        match all.iter().find(|known| known.id == own.id) {
            None => all.push(own.clone()),
            Some(known) if known == own => {}
            Some(_) => {
                let problem = format!("two of them are set by {:?}: choose others", own.id);
                return Err(draft.refuse("requests", problem));
            }
        }
    }
    Ok(all)
}

/// The first value is the usual one.
fn variable(id: &str, en: &str, es: &str, parts: &[Values<'_>]) -> Variable {
    let value =
        |(id, en, es): &(&str, &str, &str)| VariableValue { id: (*id).to_owned(), name: say(*en, *es) };
    let values: Vec<VariableValue> = parts.iter().flat_map(|part| part.iter().map(value)).collect();
    let default = values.first().map(|value| value.id.clone()).unwrap_or_default();
    Variable { id: id.to_owned(), name: say(en, es), values, default }
}
