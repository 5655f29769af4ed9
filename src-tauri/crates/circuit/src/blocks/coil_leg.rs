//! The coil's other leg: from 85 to ground, or from a feed to 86, perhaps through a switch.

use crate::blocks::composition::LegOn;
use crate::blocks::draft::{BODY, Draft, FEED, made, when};
use crate::blocks::faults;
use crate::blocks::phrases::say;
use crate::error::CircuitError;
use crate::file::component::{Component, ComponentKind};
use crate::file::text::Text;

/// Rating of a coil's own fuse, ampere.
const FUSE_AMPS: f64 = 10.0;

pub(super) fn add(draft: &mut Draft<'_>) -> Result<(), CircuitError> {
    let (drive, on) = (draft.composition.drive, draft.composition.leg.on);
    if drive.feeds() != (on == LegOn::Ground) {
        let problem = "a coil that is fed needs ground in its other leg, one that is grounded needs a feed";
        return Err(draft.refuse("leg/on", problem));
    }
    if drive.feeds() {
        grounded(draft)
    } else {
        fed(draft)
    }
    Ok(())
}

fn grounded(draft: &mut Draft<'_>) {
    let Some(switch) = draft.through.clone() else {
        let name = say("ground wire of relay 85", "cable de masa del relé 85");
        return draft.wire("wire_85", name, ("s85", BODY), &faults::LEG_GROUND, faults::LITTLE);
    };
    let (en, es) = (&switch.words.part.en, &switch.words.part.es);
    draft.point("leg_in", (13.0, 11.0), format!("{en}, relay side"), format!("{es}, lado relé"));
    let low = (13.0, 14.0 + draft.drop());
    draft.point("leg_out", low, format!("{en}, ground side"), format!("{es}, lado masa"));
    let name =
        wire_to(&switch.words.of, "wire from relay 85 to the switch", "cable del relé 85 al interruptor");
    draft.wire("wire_85", name, ("s85", "leg_in"), &faults::LEG_GROUND, faults::LITTLE);
    draft.switch(&switch, "leg_in", "leg_out");
    let name =
        say(format!("ground wire {}", switch.words.of.en), format!("cable de masa {}", switch.words.of.es));
    draft.wire("wire_leg_ground", name, ("leg_out", BODY), &faults::SWITCH_GROUND, faults::LITTLE);
}

fn fed(draft: &mut Draft<'_>) {
    let source = match draft.composition.leg.on {
        LegOn::Ignition => ignition(draft),
        LegOn::Fuse => fused(draft),
        LegOn::LoadFuse | LegOn::Ground => format!("{}_fuse_out", draft.load.ids.name),
    };
    let Some(switch) = draft.through.clone() else {
        let name = say("feed wire to relay 86", "cable de alimentación al relé 86");
        let shared = draft.composition.leg.on == LegOn::LoadFuse;
        let row = if shared { faults::LEG_FEED_SHORT } else { faults::LEG_FEED };
        return draft.wire("wire_86", name, (&source, "s86"), &row, faults::LITTLE);
    };
    let (en, es) = (&switch.words.part.en, &switch.words.part.es);
    draft.point("leg_in", (8.0, 4.0), format!("{en}, feed side"), format!("{es}, lado alimentación"));
    draft.point("leg_out", (8.0, 7.0), format!("{en}, relay side"), format!("{es}, lado relé"));
    let name = wire_to(&switch.words.of, "feed wire to the switch", "cable de alimentación al interruptor");
    draft.wire("wire_leg_feed", name, (&source, "leg_in"), &faults::LEG_FEED_TO_SWITCH, faults::LITTLE);
    draft.switch(&switch, "leg_in", "leg_out");
    let name = say("wire from the switch to relay 86", "cable del interruptor al relé 86");
    draft.wire("wire_86", name, ("leg_out", "s86"), &faults::LEG_FEED, faults::LITTLE);
}

fn wire_to(of: &Text, en: &str, es: &str) -> Text {
    say(format!("{en} ({})", of.en), format!("{es} ({})", of.es))
}

fn ignition(draft: &mut Draft<'_>) -> String {
    draft.point("ign", (6.0, 4.0), "ignition feed", "alimentación por contacto");
    let kind = ComponentKind::Switch {
        from: FEED.to_owned(),
        to: "ign".to_owned(),
        closed_when: when("key", &["on", "crank", "running"]),
        closed_ohms: 0.02,
    };
    let name = say("ignition switch, run contact", "contacto de llave, posición de marcha");
    draft.push(Component { faults: faults::of_ignition_switch(), ..made("ignition_switch", name, kind) });
    "ign".to_owned()
}

fn fused(draft: &mut Draft<'_>) -> String {
    draft.point("coil_fuse_out", (6.0, 4.0), "coil fuse, load side", "fusible de la bobina, lado carga");
    let name = say(format!("coil fuse {FUSE_AMPS} A"), format!("fusible de la bobina {FUSE_AMPS} A"));
    draft.fuse("fuse_coil", name, (FEED, "coil_fuse_out"), FUSE_AMPS, faults::of_small_fuse());
    "coil_fuse_out".to_owned()
}
