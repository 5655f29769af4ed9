//! A fault in words that a person without knowledge of cars understands: no pin, no terminal, no part that needs a
//! dictionary. The circuit file says what the customer calls the thing; everything else comes from the sort of part and the
//! way it failed.

use crate::page::wording::Wording;
use crate::words::{self, Language};
use circuit::{Circuit, Component, ComponentKind, UNMODELED};

/// What sort of thing a part is to a customer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    Battery,
    Fuse,
    Wire,
    /// Plug, splice, ground point.
    Joint,
    /// A switch that somebody or something moves.
    Switch,
    /// A switch that the computer moves: coil and contact.
    Relay,
    Computer,
    Light,
    Motor,
    Sensor,
    /// Something that draws while it should not.
    Drain,
    Other,
}

impl Sort {
    pub fn of(component: &Component, circuit: &Circuit) -> Sort {
        if circuit.modules.iter().any(|module| module.components.contains(&component.id)) {
            return Sort::Computer;
        }
        match component.kind {
            ComponentKind::Battery { .. } => Sort::Battery,
            ComponentKind::Fuse { .. } => Sort::Fuse,
            ComponentKind::Wire { .. } => Sort::Wire,
            ComponentKind::Connection { .. } => Sort::Joint,
            ComponentKind::Switch { .. } => Sort::Switch,
            ComponentKind::Coil { .. } | ComponentKind::Contact { .. } => Sort::Relay,
            ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. } => Sort::Computer,
            ComponentKind::Lamp { .. } => Sort::Light,
            ComponentKind::Motor { .. } => Sort::Motor,
            ComponentKind::Thermistor { .. } | ComponentKind::PickUp { .. } => Sort::Sensor,
            ComponentKind::CurrentDraw { .. } => Sort::Drain,
            ComponentKind::Diode { .. }
            | ComponentKind::RegulatedSupply { .. }
            | ComponentKind::Resistor { .. }
            | ComponentKind::SupplyLoad { .. } => Sort::Other,
        }
    }

    /// Sorts that the summary names as good, those of one name side by side.
    pub const TOLD: [Sort; 8] = [
        Sort::Battery,
        Sort::Fuse,
        Sort::Computer,
        Sort::Relay,
        Sort::Switch,
        Sort::Light,
        Sort::Motor,
        Sort::Sensor,
    ];

    /// What a customer calls it.
    pub fn name(self, wording: &Wording) -> String {
        wording.say(&format!("everyday_name_{}", self.code()), &[])
    }

    pub const fn code(self) -> &'static str {
        match self {
            Self::Battery => "battery",
            Self::Fuse => "fuse",
            Self::Wire => "wire",
            Self::Joint => "joint",
            Self::Switch => "switch",
            Self::Relay => "relay",
            Self::Computer => "computer",
            Self::Light => "light",
            Self::Motor => "motor",
            Self::Sensor => "sensor",
            Self::Drain => "drain",
            Self::Other => "other",
        }
    }
}

/// What the customer calls the thing that the circuit works: "the radiator fan".
pub(crate) fn thing(wording: &Wording) -> String {
    let named = wording.circuit().and_then(|circuit| circuit.everyday.as_ref());
    named.map_or_else(|| wording.say("everyday_thing", &[]), |text| wording.text(text).to_owned())
}

/// "the computer that runs the fan"; where it drives nothing, the one that reads it.
pub(crate) fn computer(wording: &Wording) -> String {
    let drives = wording.circuit().is_some_and(|circuit| {
        let driver = |c: &Component| {
            matches!(c.kind, ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. })
        };
        circuit.components.iter().any(driver)
    });
    let key = if drives { "everyday_computer_runs" } else { "everyday_computer_reads" };
    said(wording, key, &[("thing", &thing(wording))])
}

/// One sentence for a cause by its id; of two at once, one sentence each.
pub(crate) fn cause(id: &str, wording: &Wording) -> String {
    id.split(" + ").map(|one| sentence(&one_cause(one, wording))).collect::<Vec<_>>().join(" ")
}

/// The same to go on with behind a colon.
pub(crate) fn cause_inside(id: &str, wording: &Wording) -> String {
    id.split(" + ").map(|one| one_cause(one, wording)).collect::<Vec<_>>().join(" ")
}

fn one_cause(id: &str, wording: &Wording) -> String {
    let values = [("thing", thing(wording)), ("computer", computer(wording))];
    let values = values.each_ref().map(|(name, value)| (*name, value.as_str()));
    let Some((part, mode)) = id.split_once('/') else {
        let key = if id == UNMODELED { "everyday_outside" } else { "everyday_other" };
        return said(wording, key, &values);
    };
    let found = wording.circuit().and_then(|circuit| {
        let component = circuit.components.iter().find(|component| component.id == part)?;
        Some(Sort::of(component, circuit))
    });
    let sort = found.unwrap_or(Sort::Other).code();
    let keys = [format!("everyday_{sort}_{mode}"), format!("everyday_{sort}"), "everyday_other".to_owned()];
    let key =
        keys.iter().find(|key| words::has(wording.language, key)).map_or("everyday_other", String::as_str);
    said(wording, key, &values)
}

/// With articles drawn together as Spanish wants it.
pub(crate) fn said(wording: &Wording, key: &str, values: &[(&str, &str)]) -> String {
    let said = wording.say(key, values);
    if wording.language == Language::Spanish {
        said.replace(" de el ", " del ").replace(" a el ", " al ")
    } else {
        said
    }
}

/// With a capital at its beginning.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
