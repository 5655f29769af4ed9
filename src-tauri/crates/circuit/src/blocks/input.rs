//! What asks the module: a switch to ground, a switch to the feed, a message.

use crate::blocks::composition::How;
use crate::blocks::draft::{Asked, BODY, Draft, FEED, NEGATIVE, made};
use crate::blocks::faults;
use crate::blocks::phrases::say;
use crate::file::component::{Component, ComponentKind};

/// An input pulled to ground counts as asked below, one that is fed above (judgment).
pub(super) const LOW_VOLTS: f64 = 2.0;
pub(super) const HIGH_VOLTS: f64 = 5.0;
/// Rating of the fuse of a switch that feeds, ampere.
const FUSE_AMPS: f64 = 10.0;

/// Volts a module gives its inputs where its feed sags while the load works: a signal that is judged in volts would else
/// seem to come while the battery is low.
const REFERENCE_VOLTS: f64 = 5.0;

impl Draft<'_> {
    fn pull_up_from(&self) -> &'static str {
        if self.sags() { "m_reference" } else { "m_feed" }
    }
}

/// The supply of the inputs inside the module.
fn reference(draft: &mut Draft<'_>) {
    draft.inside(
        "m_reference",
        (4.0, 10.0),
        "input supply inside the module",
        "alimentación interna de las entradas",
    );
    let kind = ComponentKind::RegulatedSupply {
        output: "m_reference".to_owned(),
        ground: "m_ground".to_owned(),
        volts: REFERENCE_VOLTS,
        ohms: 0.5,
        limit_amps: 0.1,
        needs: vec![draft.awake()],
    };
    let name = say("input supply of the module", "alimentación de las entradas del módulo");
    draft.push(made("input_reference", name, kind));
}

/// The point that stands for a message. No lead reaches it.
pub(super) fn message(one: &Asked) -> String {
    format!("message_{}", one.request.id)
}

pub(super) fn add(draft: &mut Draft<'_>) {
    let grounded = |one: &Asked| one.request.how == How::SwitchToGround;
    if draft.sags() && draft.requests.iter().any(grounded) {
        reference(draft);
    }
    let requests = std::mem::take(&mut draft.requests);
    let drop = draft_drop(&requests);
    let (mut wired, mut messages) = (0.0, 0.0);
    for (number, one) in requests.iter().enumerate() {
        match one.request.how {
            How::SwitchToGround | How::SwitchToFeed => {
                input(draft, one, &(3 + number).to_string(), wired);
                if one.request.how == How::SwitchToGround {
                    switch_to_ground(draft, one, wired, drop);
                } else {
                    switch_to_feed(draft, one, wired);
                }
                wired += 1.0;
            }
            How::OverTheBus if !one.switch.faults.is_empty() => {
                over_the_bus(draft, one, messages);
                messages += 1.0;
            }
            How::OverTheBus | How::Directly => {}
        }
    }
    draft.requests = requests;
}

fn draft_drop(requests: &[Asked]) -> f64 {
    let wired = |one: &&Asked| matches!(one.request.how, How::SwitchToGround | How::SwitchToFeed);
    2.0 * f64::from(u32::try_from(requests.iter().filter(wired).count().saturating_sub(1)).unwrap_or(0))
}

fn input(draft: &mut Draft<'_>, one: &Asked, usual: &str, row: f64) {
    let y = 11.0 + 2.0 * row;
    let id = one.id("in", "");
    let id = id.trim_start_matches('_');
    let signal = &one.switch.words.signal;
    let pin = draft.pin(&format!("mod_{id}"), usual);
    let faults = faults::of_terminal();
    draft.terminal(id, (&signal.en, &signal.es), &pin, ((2.0, y), (3.0, y)), faults);
    let (from, to, ohms) = match one.request.how {
        How::SwitchToFeed => (format!("m_{id}"), "m_ground".to_owned(), 10_000.0),
        _ => (draft.pull_up_from().to_owned(), format!("m_{id}"), 2200.0),
    };
    let name = say(
        format!("resistor inside the module, {}", signal.en),
        format!("resistencia interna del módulo, {}", signal.es),
    );
    let pull = made(&one.id("input_pull_up", "input_pull"), name, ComponentKind::Resistor { from, to, ohms });
    draft.push(Component { tolerance_percent: 5.0, ..pull });
    let words = &one.switch.words.part;
    draft.point(
        &one.id("switch_signal", "signal"),
        (0.0, y),
        format!("{}, signal side", words.en),
        format!("{}, lado señal", words.es),
    );
    let name = say(format!("wire, {}", signal.en), format!("cable, {}", signal.es));
    let ends = (format!("mod_{id}"), one.id("switch_signal", "signal"));
    let row = if one.request.how == How::SwitchToFeed { faults::INPUT_FED } else { faults::INPUT_GROUNDED };
    draft.wire(&one.id("wire_input", "wire"), name, (&ends.0, &ends.1), &row, faults::LITTLE);
}

fn switch_to_ground(draft: &mut Draft<'_>, one: &Asked, row: f64, drop: f64) {
    let words = &one.switch.words;
    let (signal, ground) = (one.id("switch_signal", "signal"), one.id("switch_ground", "ground"));
    draft.point(
        &ground,
        (-2.0 * row, 13.0 + drop),
        format!("{}, ground side", words.part.en),
        format!("{}, lado masa", words.part.es),
    );
    draft.switch(&one.switch, &signal, &ground);
    let name = say(format!("ground wire {}", words.of.en), format!("cable de masa {}", words.of.es));
    let id = one.id("wire_switch_ground", "wire_ground");
    draft.wire(&id, name, (&ground, BODY), &faults::SWITCH_GROUND, faults::LITTLE);
}

fn switch_to_feed(draft: &mut Draft<'_>, one: &Asked, row: f64) {
    let words = &one.switch.words;
    let (fuse, feed) = (one.id("switch_fuse_out", "fuse_out"), one.id("switch_feed", "switch_feed"));
    let x = -2.0 - 2.0 * row;
    draft.point(
        &fuse,
        (x, 6.0),
        format!("fuse {}, load side", words.of.en),
        format!("fusible {}, lado carga", words.of.es),
    );
    let name =
        say(format!("fuse {} {FUSE_AMPS} A", words.of.en), format!("fusible {} {FUSE_AMPS} A", words.of.es));
    let id = one.id("fuse_switch", "fuse");
    draft.fuse(&id, name, (FEED, &fuse), FUSE_AMPS, faults::of_small_fuse());
    draft.point(
        &feed,
        (x, 11.0 + 2.0 * row),
        format!("{}, feed side", words.part.en),
        format!("{}, lado alimentación", words.part.es),
    );
    let name = say(format!("feed wire {}", words.of.en), format!("cable de alimentación {}", words.of.es));
    let id = one.id("wire_switch_feed", "wire_feed");
    draft.wire(&id, name, (&fuse, &feed), &faults::SWITCH_FEED, faults::LITTLE);
    draft.switch(&one.switch, &feed, &one.id("switch_signal", "signal"));
}

/// A message stands as a switch that nothing but a scan tool sees.
fn over_the_bus(draft: &mut Draft<'_>, one: &Asked, number: f64) {
    let (words, id) = (&one.switch.words, message(one));
    let as_message = (format!("{}, a message", words.signal.en), format!("{}, un mensaje", words.signal.es));
    draft.inside(&id, (4.0, 4.0 + number), as_message.0, as_message.1);
    draft.switch(&one.switch, FEED, &id);
    let name = say(
        format!("{}: a message, no wire of its own", words.signal.en),
        format!("{}: un mensaje, sin cable propio", words.signal.es),
    );
    let kind = ComponentKind::Resistor { from: id.clone(), to: NEGATIVE.to_owned(), ohms: 100_000.0 };
    draft.push(made(&format!("{id}_absent"), name, kind));
}
