//! What can be switched, fitted or plugged in an entered circuit.

use crate::entered::entry::EnteredKind;
use crate::entered::making::Making;
use crate::entered::names::variable_of;
use crate::entered::parts::plug_of;
use crate::entered::phrases::{same, text};
use crate::file::layout::{Variable, VariableValue};
use crate::file::text::Text;

pub(super) fn all(making: &Making<'_>) -> Vec<Variable> {
    let (entered, ids) = (making.entered, making.ids);
    let value = |id: &str, en: &str, es: &str| VariableValue { id: id.to_owned(), name: text(en, es) };
    let variable = |id: String, name: Text, values: Vec<VariableValue>| {
        let default = values.first().map(|value| value.id.clone()).unwrap_or_default();
        Variable { id, name, values, default }
    };
    let off_on = || vec![value("off", "off", "apagado"), value("on", "on", "encendido")];
    let crank = entered.cranks().then(|| value("crank", "crank", "arranque"));
    let mut all = vec![
        variable("key".to_owned(), text("Key", "Llave"), off_on().into_iter().chain(crank).collect()),
        variable("request".to_owned(), text("Function asked for", "Función pedida"), off_on()),
        variable(
            "battery".to_owned(),
            text("Battery", "Batería"),
            vec![
                value("connected", "connected", "conectada"),
                value("disconnected", "disconnected", "desconectada"),
            ],
        ),
    ];
    for part in &entered.parts {
        if let EnteredKind::RelayCoil { relay, .. } = &part.kind {
            let values = vec![value("fitted", "fitted", "puesto"), value("removed", "removed", "quitado")];
            all.push(variable(variable_of(relay, ids, entered), same(relay), values));
        }
    }
    for part in &entered.parts {
        if let EnteredKind::Sensor { .. } = &part.kind {
            let values = vec![
                value("plugged", "plugged in", "enchufado"),
                value("unplugged", "unplugged", "desenchufado"),
            ];
            all.push(variable(plug_of(&ids.part(&part.name)), same(&part.name), values));
        }
    }
    for module in making.modules {
        let values = vec![
            value("plugged", "plugged in", "enchufado"),
            value("unplugged", "unplugged", "desenchufado"),
            value(
                "breakout",
                "joined through test leads that bypass the terminals",
                "unido con cables de prueba",
            ),
        ];
        all.push(variable(module.id.clone(), same(module.name), values));
    }
    all
}
