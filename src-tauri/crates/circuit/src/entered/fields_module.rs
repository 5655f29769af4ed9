//! Field by field: what an entered module must hold.

use std::collections::BTreeSet;

use crate::check::problem::ProblemCode;
use crate::entered::entry::Entered;
use crate::entered::fields::Fields;
use crate::entered::modules::{Built, Pin};

/// Pins of one module.
const MAX_PINS: usize = 40;
/// Lowest and highest duty that is told from "off" and "on", percent.
const DUTY: (f64, f64, &str) = (5.0, 95.0, "%");

pub(super) fn check(fields: &mut Fields, entered: &Entered, modules: &[Built<'_>]) {
    let known: BTreeSet<&str> = entered.parts.iter().flat_map(|part| part.points()).collect();
    let mut names = BTreeSet::new();
    let mut pulsed = false;
    for module in modules {
        let place = |field: &str| format!("{}/{field}", module.place);
        fields.words(&place("name"), module.name);
        if !names.insert(module.name) || entered.parts.iter().any(|part| part.name.trim() == module.name) {
            let remedy = "Give each module and each part its own name";
            fields.refuse(ProblemCode::Name, &place("name"), "this name is used twice", remedy);
        }
        pins(fields, entered, module, &known);
        for output in &module.outputs {
            let Some(duty) = output.duty_percent else { continue };
            let at = output.pin.place.replace("/point", "/duty_percent");
            fields.number(&at, duty, DUTY);
            if std::mem::replace(&mut pulsed, true) {
                let remedy =
                    "Keep the duty of the output that the complaint is about, and leave the others on";
                fields.refuse(ProblemCode::Contradiction, &at, "another output pulses already", remedy);
            }
        }
        asking(fields, entered, module);
    }
}

fn pins(fields: &mut Fields, entered: &Entered, module: &Built<'_>, known: &BTreeSet<&str>) {
    fields.count(&module.place, module.pins().len(), MAX_PINS);
    let mut here: BTreeSet<&str> = BTreeSet::new();
    for Pin { point, place, .. } in module.pins() {
        if !known.contains(point.trim()) {
            let remedy = "Name a point that a part is at, or enter the wire that goes there";
            fields.refuse(ProblemCode::NotListed, place, format!("no part is at {point:?}"), remedy);
        } else if !here.insert(point.trim()) {
            let remedy = "A pin does one thing: name the point of each";
            fields.refuse(ProblemCode::Contradiction, place, "another pin of this module is there", remedy);
        } else if entered.out_of_reach.iter().any(|one| one.trim() == point.trim()) {
            let problem = "no lead reaches this pin, so that nothing could ever be proven of the module";
            let remedy = "Take the mark away: a module's pins are probed from behind";
            fields.refuse(ProblemCode::OutOfReach, place, problem, remedy);
        }
    }
}

/// What asks for an output is an input of this module.
fn asking(fields: &mut Fields, entered: &Entered, module: &Built<'_>) {
    let listed = module.place.strip_prefix("modules/").and_then(|i| i.parse::<usize>().ok());
    let Some(one) = listed.and_then(|i| entered.modules.get(i)) else { return };
    for (i, output) in one.outputs.iter().enumerate() {
        for (k, point) in output.asked_by.iter().flatten().enumerate() {
            let asks = |input: &&crate::entered::modules::Input<'_>| {
                input.asked_by.asks() && input.pin.point.trim() == point.trim()
            };
            if !module.inputs.iter().any(|input| asks(&input)) {
                let at = format!("{}/outputs/{i}/asked_by/{k}", module.place);
                let remedy = "Name an input of this module that a request comes to";
                fields.refuse(ProblemCode::NotListed, &at, format!("{point:?} is no such input"), remedy);
            }
        }
    }
}
