//! The inside of entered modules: terminals, test leads past them, own draw, inputs, outputs, 5 V for sensors.

use crate::entered::bus;
use crate::entered::entry::{Entered, WorksWhile};
use crate::entered::faults;
use crate::entered::making::Making;
use crate::entered::module_entry::{AskedBy, Drives};
use crate::entered::modules::{Built, Input, Output, Pin};
use crate::entered::names::Ids;
use crate::entered::phrases::{text, when};
use crate::file::component::{Component, ComponentKind, Conditions, Need};
use crate::file::layout::Point;
use crate::file::text::Text;

/// Volts a module works from (judgment).
pub(super) const AWAKE_VOLTS: f64 = 6.0;
/// An input pulled to ground counts as asked below, one pulled to the feed above (judgment).
const LOW_VOLTS: f64 = 2.0;
/// 5 V of a module for its sensors, and what is behind them (judgment).
const REFERENCE: (f64, f64, f64) = (5.0, 1.0, 0.1);
/// Pull-down of a sensor's signal, pull-up of a thermistor's wire, ohm (judgment).
const SIGNAL_DOWN_OHMS: f64 = 220_000.0;
const THERMISTOR_UP_OHMS: f64 = 2_200.0;

/// What is laid down for one module.
pub(super) struct Laid<'c> {
    pub ids: &'c Ids,
    pub parts: &'c mut Vec<Component>,
    pub points: &'c mut Vec<Point>,
}

/// Adds everything inside all modules.
pub(super) fn add(making: &Making<'_>, parts: &mut Vec<Component>, points: &mut Vec<Point>) {
    let laid = &mut Laid { ids: making.ids, parts, points };
    for (number, module) in making.modules.iter().enumerate() {
        for pin in module.pins() {
            terminal(module, pin, laid);
        }
        frame(module, laid);
        for input in &module.inputs {
            laid.parts.push(pull(module, input));
        }
        for output in &module.outputs {
            laid.parts.push(driver(making.entered, module, output));
        }
        for reference in &module.references {
            laid.parts.push(supply(module, reference));
        }
        bus::add(module, making.talker == Some(number), making.entered.cranks(), laid);
    }
}

fn terminal(module: &Built<'_>, pin: &Pin<'_>, laid: &mut Laid<'_>) {
    let (en, es) = words(module, pin);
    let inside = module.inside(pin);
    if laid.points.iter().all(|point| point.id != inside) {
        let name = text(format!("{en} inside the module"), format!("{es} dentro del módulo"));
        laid.points.push(inner_point(&inside, name));
    }
    let join = |ohms| ComponentKind::Connection { from: laid.ids.point(pin.point), to: inside.clone(), ohms };
    let name = text(format!("module terminal, {en}"), format!("terminal del módulo, {es}"));
    let (plugged, past) = (when(&module.id, &["plugged"]), when(&module.id, &["breakout"]));
    let terminal = component(&module.terminal(pin), name, join(0.005), plugged);
    let name = text(format!("test lead past the terminal, {en}"), format!("cable de prueba, {es}"));
    let lead = component(&module.part(&format!("lead_{}", pin.key)), name, join(0.02), past);
    laid.parts.extend([Component { faults: faults::of_terminal(), ..terminal }, lead]);
}

/// With several modules or several pins of one sort the point's own name tells them apart.
fn words(module: &Built<'_>, pin: &Pin<'_>) -> (String, String) {
    let (en, es) = pin.words;
    if module.id == "module" && !pin.key.contains('_') {
        return (en.to_owned(), es.to_owned());
    }
    let point = pin.point.trim();
    (format!("{en} {point}, {}", module.name), format!("{es} {point}, {}", module.name))
}

/// Its own draw, and the 5 V that it pulls thermistors up to.
fn frame(module: &Built<'_>, laid: &mut Laid<'_>) {
    let (from, to) = (module.inside(&module.feed), module.inside(&module.ground));
    let name = named(module, "module's own draw", "consumo propio del módulo");
    let kind = ComponentKind::SupplyLoad { from, to, ohms: 20.0 };
    let draw = component(&module.part("draw"), name, kind, Conditions::new());
    laid.parts.push(Component { tolerance_percent: 20.0, ..draw });
    if module.inputs.iter().any(|input| input.asked_by == AskedBy::Thermistor) {
        let inner = module.part("inside_pull_up");
        let name = named(module, "5 V inside the module", "5 V dentro del módulo");
        laid.points.push(inner_point(&inner, name.clone()));
        let kind = five_volts(module, inner);
        laid.parts.push(component(&module.part("pull_up_supply"), name, kind, Conditions::new()));
    }
}

fn five_volts(module: &Built<'_>, output: String) -> ComponentKind {
    let (volts, ohms, limit_amps) = REFERENCE;
    let ground = module.inside(&module.ground);
    ComponentKind::RegulatedSupply { output, ground, volts, ohms, limit_amps, needs: vec![awake(module)] }
}

fn supply(module: &Built<'_>, reference: &Pin<'_>) -> Component {
    let name = named(module, "5 V supply for sensors", "alimentación de 5 V de sensores");
    let kind = five_volts(module, module.inside(reference));
    let supply = component(&module.supply(reference), name, kind, Conditions::new());
    Component { faults: faults::of_reference(), ..supply }
}

/// What an input is pulled to while nothing comes.
fn pull(module: &Built<'_>, input: &Input<'_>) -> Component {
    let inside = module.inside(&input.pin);
    let (feed, ground) = (module.inside(&module.feed), module.inside(&module.ground));
    // Older entries have their resistor written from the input.
    let (from, to, ohms) = match input.asked_by {
        AskedBy::Ground => (inside, feed, 2200.0),
        AskedBy::Feed => (inside, ground, 10_000.0),
        AskedBy::Sensor => (inside, ground, SIGNAL_DOWN_OHMS),
        AskedBy::Thermistor => (module.part("inside_pull_up"), inside, THERMISTOR_UP_OHMS),
    };
    let name = named(module, "resistor at the module's input", "resistencia en la entrada del módulo");
    let id = module.part(&format!("{}_resistor", input.pin.key));
    let kind = ComponentKind::Resistor { from, to, ohms };
    Component { tolerance_percent: 5.0, ..component(&id, name, kind, Conditions::new()) }
}

/// The module has its supply.
pub(super) fn awake(module: &Built<'_>) -> Need {
    let (red, black) = (module.inside(&module.feed), module.inside(&module.ground));
    Need { red, black, at_least: Some(AWAKE_VOLTS), at_most: None }
}

/// A request has come to this input.
pub(super) fn asked(module: &Built<'_>, input: &Input<'_>) -> Option<Need> {
    let (red, black) = (module.inside(&input.pin), module.inside(&module.ground));
    match input.asked_by {
        AskedBy::Ground => Some(Need { red, black, at_least: None, at_most: Some(LOW_VOLTS) }),
        AskedBy::Feed => Some(Need { red, black, at_least: Some(AWAKE_VOLTS), at_most: None }),
        AskedBy::Sensor | AskedBy::Thermistor => None,
    }
}

/// Inputs that ask for this output.
pub(super) fn inputs_of<'m, 'e>(module: &'m Built<'e>, output: &Output<'e>) -> Vec<&'m Input<'e>> {
    output.asked_by.iter().filter_map(|i| module.inputs.get(*i)).collect()
}

/// What the module must see before it switches this output on.
pub(super) fn needs(module: &Built<'_>, output: &Output<'_>) -> Vec<Need> {
    let inputs = inputs_of(module, output);
    [awake(module)].into_iter().chain(inputs.into_iter().filter_map(|input| asked(module, input))).collect()
}

fn driver(entered: &Entered, module: &Built<'_>, output: &Output<'_>) -> Component {
    let (supply, ground) = (module.inside(&module.feed), module.inside(&module.ground));
    let inside = module.inside(&output.pin);
    let mut on_when = match entered.works_while {
        WorksWhile::KeyOn if entered.cranks() => when("key", &["on", "crank"]),
        WorksWhile::KeyOn => when("key", &["on"]),
        WorksWhile::Crank => when("key", &["crank"]),
    };
    if output.asked_by.is_empty() {
        on_when.extend(when("request", &["on"]));
    }
    let (on_ohms, limit_amps, needs) = (0.05, 20.0, needs(module, output));
    let duty = output.duty_percent.map(|percent| percent / 100.0);
    // Open-load pull-up of 20 kohm: recommended in a driver maker's data sheet (seen). One that pulses is pulled down.
    let (off_pull_up_ohms, off_pull_down_ohms) =
        if duty.is_none() { (Some(20_000.0), None) } else { (None, Some(10_000.0)) };
    let forced_when = Conditions::new();
    let kind = match output.drives {
        Drives::Feed => ComponentKind::HighSideDriver {
            supply,
            output: inside,
            ground,
            on_ohms,
            limit_amps,
            on_when,
            needs,
            forced_when,
            off_pull_up_ohms,
            off_pull_down_ohms,
            duty,
        },
        Drives::Ground => ComponentKind::LowSideDriver {
            supply,
            output: inside,
            ground,
            on_ohms,
            limit_amps,
            on_when,
            needs,
            forced_when,
            off_pull_up_ohms: Some(20_000.0),
            off_pull_down_ohms: None,
            duty,
            freewheel: None,
        },
    };
    let name = named(module, "module output driver", "etapa de salida del módulo");
    let name = if output.pin.key == "output" {
        name
    } else {
        let point = output.pin.point.trim();
        text(format!("{}, output {point}", name.en), format!("{}, salida {point}", name.es))
    };
    let faults = faults::of_driver(duty.is_some());
    Component { faults, ..component(&module.driver(output), name, kind, Conditions::new()) }
}

/// The first module's parts are called as they were when it was the only one.
pub(super) fn named(module: &Built<'_>, en: &str, es: &str) -> Text {
    if module.id == "module" {
        text(en, es)
    } else {
        text(format!("{en}, {}", module.name), format!("{es}, {}", module.name))
    }
}

pub(super) fn component(id: &str, name: Text, kind: ComponentKind, present_when: Conditions) -> Component {
    Component {
        id: id.to_owned(),
        name,
        label: None,
        kind,
        present_when,
        tolerance_percent: 0.0,
        faults: Vec::new(),
    }
}

pub(super) fn inner_point(id: &str, name: Text) -> Point {
    Point { id: id.to_owned(), name, label: None, x: 0.0, y: 0.0, reachable: false, never_load: false }
}
