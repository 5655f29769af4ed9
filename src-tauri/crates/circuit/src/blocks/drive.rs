//! What drives the coil: the module, or a switch in the coil's own way.

use std::collections::BTreeSet;

use crate::blocks::composition::How;
use crate::blocks::draft::{BODY, Draft, FEED};
use crate::blocks::phrases::say;
use crate::blocks::{faults, module_side};
use crate::error::CircuitError;

/// Rating of the fuse of a switch that feeds a coil, ampere.
const FUSE_AMPS: f64 = 10.0;

/// Names of requests are part of ids.
pub(super) fn ids_of_requests(draft: &Draft<'_>) -> Result<(), CircuitError> {
    let mut names = BTreeSet::new();
    for one in &draft.requests {
        let id = &one.request.id;
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
        if id.is_empty() || id.len() > 20 || !id.chars().all(plain) || !names.insert(id) {
            let problem =
                format!("{id:?} is empty, too long, used twice or not all small letters and digits");
            return Err(draft.refuse("requests", problem));
        }
    }
    Ok(())
}

pub(super) fn add(draft: &mut Draft<'_>) -> Result<(), CircuitError> {
    if draft.composition.drive.by_module() {
        if draft.module.is_none() {
            return Err(draft.refuse("module", "a module drives the coil: name it"));
        }
        if draft.requests.iter().any(|one| one.request.how == How::Directly) {
            return Err(draft.refuse("requests", "a request reaches a module by a switch or over the bus"));
        }
        module_side::add(draft);
        return Ok(());
    }
    let directly = |one: &crate::blocks::draft::Asked| one.request.how == How::Directly;
    match draft.requests.as_slice() {
        [one] if directly(one) && draft.module.is_none() => {}
        _ => {
            let problem = "a switch drives the coil: name this one switch, directly, and no module";
            return Err(draft.refuse("requests", problem));
        }
    }
    by_switch(draft);
    Ok(())
}

fn by_switch(draft: &mut Draft<'_>) {
    let Some(switch) = draft.requests.first().map(|one| one.switch.clone()) else { return };
    let words = &switch.words;
    let (signal, far) =
        ("switch_signal", if draft.composition.drive.feeds() { "switch_feed" } else { "switch_ground" });
    let side = |en: &str, es: &str| (format!("{}, {en}", words.part.en), format!("{}, {es}", words.part.es));
    let (en, es) = side("relay side", "lado relé");
    if draft.composition.drive.feeds() {
        draft.point(signal, (4.0, 8.0), en, es);
        draft.point(
            "switch_fuse_out",
            (4.0, 4.0),
            format!("fuse {}, load side", words.of.en),
            format!("fusible {}, lado carga", words.of.es),
        );
        let (en, es) =
            (format!("fuse {} {FUSE_AMPS} A", words.of.en), format!("fusible {} {FUSE_AMPS} A", words.of.es));
        draft.fuse("fuse_switch", say(en, es), (FEED, "switch_fuse_out"), FUSE_AMPS, faults::of_small_fuse());
        let (en, es) = side("feed side", "lado alimentación");
        draft.point(far, (4.0, 6.0), en, es);
        let name =
            say(format!("feed wire {}", words.of.en), format!("cable de alimentación {}", words.of.es));
        draft.wire("wire_switch_feed", name, ("switch_fuse_out", far), &faults::SWITCH_FEED, faults::LITTLE);
        draft.switch(&switch, far, signal);
        let name = say("control wire, switch to relay 86", "cable de control, interruptor a relé 86");
        draft.wire("wire_control", name, (signal, "s86"), &faults::CONTROL_FED, faults::LITTLE);
    } else {
        draft.point(signal, (9.0, 12.0), en, es);
        let (en, es) = side("ground side", "lado masa");
        draft.point(far, (9.0, 14.0), en, es);
        draft.switch(&switch, signal, far);
        let name = say(format!("ground wire {}", words.of.en), format!("cable de masa {}", words.of.es));
        draft.wire("wire_switch_ground", name, (far, BODY), &faults::SWITCH_GROUND, faults::LITTLE);
        let name = say("control wire, relay 85 to the switch", "cable de control, relé 85 a interruptor");
        draft.wire("wire_control", name, ("s85", signal), &faults::CONTROL_GROUNDED, faults::LITTLE);
    }
}
