//! A load that the module drives itself, by a semiconductor, with no relay: between the fuse and the load, or between the
//! load and ground.

use crate::blocks::composition::{Across, How, Leg};
use crate::blocks::draft::{Draft, NEGATIVE, made, when};
use crate::blocks::faults::{self, WireRow};
use crate::blocks::load_side;
use crate::blocks::module_side::{self, DRIVER};
use crate::blocks::phrases::say;
use crate::error::CircuitError;
use crate::file::component::{Component, ComponentKind, Conditions};

/// Such outputs hold their current below what blows the fuse, so that a short costs no fuse (judgment; held instead of
/// switched off and tried again).
const LIMIT_OVER_FUSE: f64 = 1.5;
/// Volts an output loses at its load's usual current (judgment), and the least and most resistance it has, ohm.
const DROP_VOLTS: f64 = 0.08;
const ON_OHMS: (f64, f64) = (0.002, 0.2);
/// Open-load pull-up (a driver maker's data sheet, seen).
const OFF_PULL_UP_OHMS: f64 = 20_000.0;
/// Resistance of a test lead with its fuse, ohm (judgment).
const LEAD_OHMS: f64 = 0.02;

/// Name of the state variable of the load's plug.
pub(super) const PLUG: &str = "load_plug";

pub(super) fn add(draft: &mut Draft<'_>) -> Result<(), CircuitError> {
    let composition = draft.composition;
    if !composition.drive.by_module() {
        return Err(draft.refuse("drive", "the module's own output: write module_feeds or module_grounds"));
    }
    if composition.leg != Leg::default() || composition.across != Across::Nothing {
        return Err(draft.refuse("leg", "there is no relay: leave leg, across and coil_ohms out"));
    }
    if composition.coil_ohms.is_some() {
        return Err(draft.refuse("coil_ohms", "there is no relay: leave leg, across and coil_ohms out"));
    }
    if draft.module.is_none() {
        return Err(draft.refuse("module", "a module drives the load: name it"));
    }
    if !composition.drive.feeds() && draft.load.wires.ground.is_none() {
        return Err(draft.refuse("drive", "this load is grounded by its housing: let the module feed it"));
    }
    if draft.requests.iter().any(|one| one.request.how == How::Directly) {
        return Err(draft.refuse("requests", "a request reaches a module by a switch or over the bus"));
    }
    load_side::fuse(draft);
    module_side::frame(draft);
    if composition.drive.feeds() {
        fed(draft);
    } else {
        grounded(draft);
    }
    driver(draft);
    Ok(())
}

/// Fuse, module, load, ground.
fn fed(draft: &mut Draft<'_>) {
    let (words, wires) = (draft.load.words.clone(), draft.load.wires.clone());
    let name = say("load feed wire of the module", "cable de alimentación de potencia del módulo");
    let fuse_out = draft.fuse_out();
    draft.wire("wire_module_power", name, (&fuse_out, "mod_power"), &wires.feed, faults::MUCH);
    let (power, out) = (draft.pin("mod_power", draft.usual_power()), draft.pin("mod_out", "2"));
    let at = ((6.0, 4.0), (6.0, 7.0));
    draft.terminal("power", ("load feed", "alimentación de potencia"), &power, at, faults::of_terminal());
    let at = ((10.0, 7.0), (8.0, 7.0));
    draft.terminal("out", ("output", "salida"), &out, at, faults::of_output_terminal());
    let positive = draft.positive();
    load_side::positive(draft, (15.0, 7.0));
    let name =
        say(format!("wire from the module {}", words.to.en), format!("cable del módulo {}", words.to.es));
    draft.wire("wire_output", name, ("mod_out", &positive), &wires.output, faults::MUCH);
    load_side::ground(draft, (15.0, 11.0));
    plugged(draft, (17.0, 8.0), (17.0, 10.0));
    lead(draft, "battery_to_load", ("bat_pos", &positive));
}

/// Fuse, load, module, the module's ground.
fn grounded(draft: &mut Draft<'_>) {
    let (words, wires) = (draft.load.words.clone(), draft.load.wires.clone());
    let positive = draft.positive();
    load_side::positive(draft, (15.0, 4.0));
    let name = say(format!("feed wire {}", words.to.en), format!("cable de alimentación {}", words.to.es));
    let fuse_out = draft.fuse_out();
    draft.wire("wire_load_feed", name, (&fuse_out, &positive), &wires.output, faults::MUCH);
    let negative = draft.negative();
    let pin = draft.pin(&negative, "2");
    draft.point(
        &negative,
        (15.0, 8.0),
        format!("{} pin {pin}, to the module", words.part.en),
        format!("{} pin {pin}, al módulo", words.part.es),
    );
    let out = draft.pin("mod_out", "2");
    let y = 12.0 + draft.drop();
    draft.terminal("out", ("output", "salida"), &out, ((9.0, y), (7.0, y)), faults::of_output_terminal());
    let name = say(format!("wire {} to the module", words.of.en), format!("cable {} al módulo", words.of.es));
    // A short to ground there would keep it on; one to a feed keeps it from being grounded.
    let row = WireRow { short_to_ground: 0.0, short_to_feed: 0.12, ..wires.output };
    draft.wire("wire_output", name, (&negative, "mod_out"), &row, faults::MUCH);
    plugged(draft, (17.0, 5.0), (17.0, 7.0));
    lead(draft, "load_to_negative", (&negative, NEGATIVE));
}

/// The load behind the terminals of its connector.
fn plugged(draft: &mut Draft<'_>, above: (f64, f64), below: (f64, f64)) {
    let (en, es) = (draft.load.words.part.en.clone(), draft.load.words.part.es.clone());
    let (positive, negative) = (draft.positive(), draft.negative());
    let (inner_positive, inner_negative) = (draft.inner_positive(), draft.inner_negative());
    draft.point(
        &inner_positive,
        above,
        format!("{en}, own pin, feed"),
        format!("{es}, pin propio, alimentación"),
    );
    joint(draft, "term_pos", (&positive, &inner_positive));
    if inner_negative != negative {
        draft.point(
            &inner_negative,
            below,
            format!("{en}, own pin, ground"),
            format!("{es}, pin propio, masa"),
        );
        joint(draft, "term_neg", (&negative, &inner_negative));
    }
    load_side::part(draft, &inner_positive, &inner_negative);
}

fn joint(draft: &mut Draft<'_>, id: &str, ends: (&str, &str)) {
    let words = &draft.load.words.connector;
    let name = match id {
        "term_pos" => {
            say(format!("{}, feed terminal", words.en), format!("{}, terminal de alimentación", words.es))
        }
        _ => say(format!("{}, ground terminal", words.en), format!("{}, terminal de masa", words.es)),
    };
    let kind = ComponentKind::Connection { from: ends.0.to_owned(), to: ends.1.to_owned(), ohms: 0.005 };
    let present_when = when(PLUG, &["plugged"]);
    let faults = faults::of_load_terminal();
    draft.push(Component { present_when, faults, ..made(id, name, kind) });
}

/// A fused lead in the place of the module's output.
fn lead(draft: &mut Draft<'_>, value: &str, ends: (&str, &str)) {
    let name = say("fused test lead at the load", "cable de prueba con fusible en la carga");
    draft.joint("lead_load", name, ends, LEAD_OHMS, when("lead", &[value]));
}

fn driver(draft: &mut Draft<'_>) {
    let amps = draft.load.kind.amps();
    let on_ohms = faults::short(DROP_VOLTS / amps).clamp(ON_OHMS.0, ON_OHMS.1);
    let limit_amps = LIMIT_OVER_FUSE * draft.load.fuse_amps;
    let (output, ground) = ("m_out".to_owned(), "m_ground".to_owned());
    let (on_when, needs) = (draft.on_when(), draft.needs());
    let (off_pull_up_ohms, off_pull_down_ohms, duty) = (Some(OFF_PULL_UP_OHMS), None, None);
    let forced_when = Conditions::new();
    let kind = if draft.composition.drive.feeds() {
        let supply = "m_power".to_owned();
        ComponentKind::HighSideDriver {
            supply,
            output,
            ground,
            on_ohms,
            limit_amps,
            on_when,
            needs,
            forced_when,
            off_pull_up_ohms,
            off_pull_down_ohms,
            duty,
        }
    } else {
        let supply = "m_feed".to_owned();
        ComponentKind::LowSideDriver {
            supply,
            output,
            ground,
            on_ohms,
            limit_amps,
            on_when,
            needs,
            forced_when,
            off_pull_up_ohms,
            off_pull_down_ohms,
            duty,
            freewheel: None,
        }
    };
    let name = module_side::driver_name(draft);
    let faults = faults::of_power_driver(12.0 / amps);
    draft.push(Component { faults, ..made(DRIVER, name, kind) });
}

impl Draft<'_> {
    /// Load side of the load's fuse.
    pub(super) fn fuse_out(&self) -> String {
        format!("{}_fuse_out", self.load.ids.name)
    }

    /// Usual number of the pin that brings the load's feed to the module: after all others.
    pub(super) fn usual_power(&self) -> &'static str {
        const NUMBERS: [&str; 12] = ["4", "5", "6", "7", "8", "9", "10", "11", "12", "13", "14", "15"];
        NUMBERS.get(self.requests.len()).copied().unwrap_or("16")
    }

    /// The load's own pins, behind the terminals of its connector; a load without a ground wire has its housing.
    pub(super) fn inner_positive(&self) -> String {
        format!("{}_own_pos", self.load.ids.points)
    }

    pub(super) fn inner_negative(&self) -> String {
        if self.load.wires.ground.is_some() {
            format!("{}_own_neg", self.load.ids.points)
        } else {
            self.negative()
        }
    }
}
