//! The relay in its socket: coil, contact, what lies across the coil, and what a technician may put in its place.

use crate::blocks::composition::{Across, TestGroup};
use crate::blocks::draft::{Draft, NEGATIVE, made, when};
use crate::blocks::faults;
use crate::blocks::phrases::say;
use crate::file::component::{Component, ComponentKind, Conditions, Need};
use crate::file::text::Text;

/// Resistor across a coil, ohm (common in relays, from memory).
pub(super) const ACROSS_OHMS: f64 = 680.0;
/// Resistance of a test lead with its fuse, ohm (judgment).
const LEAD_OHMS: f64 = 0.02;
/// Resistance of a conducting solid-state relay, ohm, and the volts at its input that make it conduct (judgment).
const TRANSISTOR_OHMS: f64 = 0.008;
const INPUT_VOLTS: f64 = 5.0;

pub(super) fn add(draft: &mut Draft<'_>) {
    for (number, x, y) in [("30", 10.0, 5.0), ("87", 13.0, 5.0), ("86", 10.0, 8.0), ("85", 13.0, 8.0)] {
        let (en, es) = (format!("relay socket {number}"), format!("zócalo del relé {number}"));
        draft.point(&format!("s{number}"), (x, y), en, es);
    }
    draft.point("c86", (11.0, 8.0), "relay pin 86", "pin 86 del relé");
    draft.point("c85", (12.0, 8.0), "relay pin 85", "pin 85 del relé");
    let present_when = when("relay", &["fitted"]);
    let words = Words { of: say("", ""), coil_id: "", contact_id: "" };
    for part in pair(draft, &words, ("c86", "c85")) {
        // Its input goes with it to the bench.
        let fitted = if part.id == draft.input_id() { Conditions::new() } else { present_when.clone() };
        let faults = match (draft.solid_state(), part.id == draft.input_id()) {
            (false, true) => faults::of_coil(),
            (false, false) => faults::of_contact(),
            (true, true) => faults::of_transistor_input(),
            (true, false) => faults::of_transistor(),
        };
        draft.push(Component { present_when: fitted, faults, ..part });
    }
    for number in ["86", "85"] {
        let name = say(format!("relay socket terminal {number}"), format!("terminal {number} del zócalo"));
        let ends = (format!("s{number}"), format!("c{number}"));
        let kind = ComponentKind::Connection { from: ends.0, to: ends.1, ohms: 0.005 };
        let (present_when, faults) = (when("relay", &["fitted"]), faults::of_terminal());
        draft.push(Component { present_when, faults, ..made(&format!("socket_{number}"), name, kind) });
    }
    across(draft);
    let name = say("fused lead from 30 to 87", "puente con fusible de 30 a 87");
    draft.joint("bridge", name, ("s30", "s87"), LEAD_OHMS, when("relay", &["bridged"]));
    if draft.has(TestGroup::SpareRelay) {
        spare(draft);
    }
    if draft.has(TestGroup::Leads) {
        leads(draft);
    }
}

fn spare(draft: &mut Draft<'_>) {
    let present_when = when("relay", &["spare"]);
    let of = say(" of the known-good relay", " del relé bueno");
    let words = Words { of, coil_id: "_spare", contact_id: "_spare" };
    for part in pair(draft, &words, ("s86", "s85")) {
        draft.push(Component { present_when: present_when.clone(), ..part });
    }
}

/// What two relays of a circuit differ in.
struct Words {
    of: Text,
    coil_id: &'static str,
    contact_id: &'static str,
}

/// What is driven and what it switches: coil and contact, or the input and the transistor of a solid-state relay.
fn pair(draft: &Draft<'_>, words: &Words, input: (&str, &str)) -> [Component; 2] {
    let (en, es) = (&words.of.en, &words.of.es);
    let plain = en.is_empty();
    let (input_id, output_id) = (
        format!("{}{}", draft.input_id(), words.coil_id),
        format!("{}{}", draft.output_id(), words.contact_id),
    );
    if draft.solid_state() {
        let name = say(format!("input{en}"), format!("entrada{es}"));
        let name = if plain {
            say("input of the solid-state relay", "entrada del relé de estado sólido")
        } else {
            name
        };
        let (from, to) = (input.0.to_owned(), input.1.to_owned());
        let resistor = ComponentKind::Resistor { from, to, ohms: draft.coil_ohms() };
        let resistor = Component { tolerance_percent: 10.0, ..made(&input_id, name, resistor) };
        let name = say(format!("output{en}"), format!("salida{es}"));
        let name = if plain {
            say("output of the solid-state relay", "salida del relé de estado sólido")
        } else {
            name
        };
        return [resistor, made(&output_id, name, transistor(draft, input))];
    }
    let name = if plain {
        say("relay coil", "bobina del relé")
    } else {
        say(format!("coil{en}"), format!("bobina{es}"))
    };
    let driven = coil(draft.coil_ohms(), &input_id, name, input);
    let name = say(format!("contact{en}"), format!("contacto{es}"));
    let name = if plain { say("relay contact", "contacto del relé") } else { name };
    [driven, contact(&output_id, name, &input_id)]
}

fn coil(ohms: f64, id: &str, name: Text, (from, to): (&str, &str)) -> Component {
    let (from, to) = (from.to_owned(), to.to_owned());
    let kind = ComponentKind::Coil { from, to, ohms, pull_in_volts: 7.0, drop_out_volts: 1.5 };
    Component { tolerance_percent: 10.0, ..made(id, name, kind) }
}

fn contact(id: &str, name: Text, coil: &str) -> Component {
    let kind = ComponentKind::Contact {
        from: "s30".to_owned(),
        to: "s87".to_owned(),
        coil: coil.to_owned(),
        closed_at_rest: false,
        ohms: 0.005,
    };
    made(id, name, kind)
}

/// It conducts while its input has its volts, and holds its current below what blows the fuse.
fn transistor(draft: &Draft<'_>, (plus, minus): (&str, &str)) -> ComponentKind {
    let (red, black) = (plus.to_owned(), minus.to_owned());
    ComponentKind::HighSideDriver {
        supply: "s30".to_owned(),
        output: "s87".to_owned(),
        ground: NEGATIVE.to_owned(),
        on_ohms: TRANSISTOR_OHMS,
        limit_amps: 1.5 * draft.load.fuse_amps,
        on_when: Conditions::new(),
        needs: vec![Need { red, black, at_least: Some(INPUT_VOLTS), at_most: None }],
        forced_when: Conditions::new(),
        off_pull_up_ohms: None,
        off_pull_down_ohms: None,
        duty: None,
    }
}

impl Draft<'_> {
    /// What the control wire drives: the coil, or the input in its place.
    pub(super) fn input_id(&self) -> &'static str {
        if self.solid_state() { "relay_input" } else { "coil" }
    }

    fn output_id(&self) -> &'static str {
        if self.solid_state() { "relay_output" } else { "contact" }
    }
}

fn across(draft: &mut Draft<'_>) {
    match draft.composition.across {
        Across::Nothing => {}
        Across::Diode => {
            let (from, to) = ("c85".to_owned(), "c86".to_owned());
            let kind = ComponentKind::Diode { from, to, drop_volts: 0.6, on_ohms: 0.05, off_ohms: 1e7 };
            let name = say("diode across the relay coil", "diodo en paralelo con la bobina del relé");
            draft.push(Component { faults: faults::of_diode(), ..made("coil_diode", name, kind) });
        }
        Across::Resistor => {
            let (from, to) = ("c86".to_owned(), "c85".to_owned());
            let kind = ComponentKind::Resistor { from, to, ohms: ACROSS_OHMS };
            let name =
                say("resistor across the relay coil", "resistencia en paralelo con la bobina del relé");
            draft.push(Component { tolerance_percent: 10.0, ..made("coil_resistor", name, kind) });
        }
    }
}

/// Fused leads from the battery to the socket, one at a time.
fn leads(draft: &mut Draft<'_>) {
    let positive = "bat_pos";
    for (number, value) in [("87", "battery_to_87"), ("86", "battery_to_86")] {
        let name = say(
            format!("fused lead from battery positive to {number}"),
            format!("cable con fusible del positivo de la batería a {number}"),
        );
        let there = when("lead", &[value]);
        draft.joint(&format!("lead_{number}"), name, (positive, &format!("s{number}")), LEAD_OHMS, there);
    }
    if !draft.composition.drive.feeds() {
        let name = say(
            "fused lead from 85 to battery negative",
            "cable con fusible de 85 al negativo de la batería",
        );
        draft.joint("lead_85", name, ("s85", NEGATIVE), LEAD_OHMS, when("lead", &["ground_to_85"]));
    }
}
