//! The load with its fuse, its wires and its ground.

use crate::blocks::draft::{BODY, Draft, FEED, NEGATIVE, made};
use crate::blocks::faults;
use crate::blocks::load::LoadKind;
use crate::blocks::phrases::say;
use crate::file::component::{Component, ComponentKind};

/// Where a starter is grounded.
const ENGINE: &str = "engine_block";

pub(super) fn add(draft: &mut Draft<'_>) {
    let (words, wires) = (draft.load.words.clone(), draft.load.wires.clone());
    fuse(draft);
    let name = say("feed wire to relay 30", "cable de alimentación al relé 30");
    draft.wire("wire_30", name, (&draft.fuse_out(), "s30"), &wires.feed, faults::MUCH);
    positive(draft, (16.0, 7.0));
    let (feed, negative) = (draft.positive(), draft.negative());
    let name =
        say(format!("wire from relay 87 {}", words.to.en), format!("cable del relé 87 {}", words.to.es));
    draft.wire("wire_87", name, ("s87", &feed), &wires.output, faults::MUCH);
    ground(draft, (16.0, 11.0));
    part(draft, &feed, &negative);
}

/// The load's own fuse.
pub(super) fn fuse(draft: &mut Draft<'_>) {
    let (ids, words) = (draft.load.ids.clone(), draft.load.words.clone());
    let (en, es) = (&words.name.en, &words.name.es);
    let fuse_out = draft.fuse_out();
    draft.point(&fuse_out, (6.0, 2.0), format!("{en} fuse, load side"), format!("fusible {es}, lado carga"));
    let amps = draft.load.fuse_amps;
    let name = say(format!("{en} fuse {amps} A"), format!("fusible {es} {amps} A"));
    draft.fuse(&format!("fuse_{}", ids.name), name, (FEED, &fuse_out), amps, faults::of_load_fuse());
}

/// The pin at which it is fed.
pub(super) fn positive(draft: &mut Draft<'_>, at: (f64, f64)) {
    let (words, positive) = (draft.load.words.clone(), draft.positive());
    let feed = draft.pin(&positive, "1");
    draft.point(
        &positive,
        at,
        format!("{} pin {feed}, feed", words.part.en),
        format!("{} pin {feed}, alimentación", words.part.es),
    );
}

/// The pin at which it is grounded, with its wire; or the engine it is bolted to.
pub(super) fn ground(draft: &mut Draft<'_>, at: (f64, f64)) {
    let (ids, words, wires) = (draft.load.ids.clone(), draft.load.words.clone(), draft.load.wires.clone());
    let negative = draft.negative();
    if let Some(row) = &wires.ground {
        let pin = draft.pin(&negative, "2");
        draft.point(
            &negative,
            at,
            format!("{} pin {pin}, ground", words.part.en),
            format!("{} pin {pin}, masa", words.part.es),
        );
        let name = say(format!("ground wire {}", words.of.en), format!("cable de masa {}", words.of.es));
        draft.wire(&format!("wire_{}_ground", ids.points), name, (&negative, BODY), row, faults::MUCH);
    } else {
        let low = (at.0, 16.0 + draft.drop());
        draft.point(ENGINE, low, "engine block", "bloque del motor");
        let kind =
            ComponentKind::Connection { from: ENGINE.to_owned(), to: NEGATIVE.to_owned(), ohms: 0.0008 };
        let name = say("engine ground cable", "cable de masa del motor");
        draft.push(Component { faults: faults::of_engine_ground(), ..made("engine_ground", name, kind) });
    }
}

/// The load itself between two points.
pub(super) fn part(draft: &mut Draft<'_>, positive: &str, negative: &str) {
    let (from, to) = (positive.to_owned(), negative.to_owned());
    let kind = match draft.load.kind {
        LoadKind::Motor { ohms, stalled_ohms } => ComponentKind::Motor { from, to, ohms, stalled_ohms },
        LoadKind::Lamp { ohms, cold_ohms } => {
            ComponentKind::Lamp { from, to, ohms, cold_ohms: Some(cold_ohms) }
        }
        LoadKind::Heater { ohms } => ComponentKind::Resistor { from, to, ohms },
        LoadKind::Magnet { ohms, pull_in_volts, drop_out_volts }
        | LoadKind::Starter { solenoid_ohms: ohms, pull_in_volts, drop_out_volts, .. } => {
            ComponentKind::Coil { from, to, ohms, pull_in_volts, drop_out_volts }
        }
    };
    let (id, name, faults) =
        (draft.load.ids.part.clone(), draft.load.words.part.clone(), draft.load.faults.clone());
    let tolerance_percent = draft.load.tolerance_percent;
    draft.push(Component { tolerance_percent, faults, ..made(&id, name, kind) });
    if let LoadKind::Starter { motor_ohms, .. } = draft.load.kind {
        starter(draft, &id, motor_ohms, negative);
    }
}

/// What the solenoid switches. The battery sags by itself when the motor turns, and only then.
fn starter(draft: &mut Draft<'_>, solenoid: &str, ohms: f64, ground: &str) {
    let (stud, motor) = ("starter_b", "starter_m");
    draft.point(stud, (19.0, 2.0), "starter battery stud", "perno de batería del motor de arranque");
    draft.point(motor, (19.0, 7.0), "starter motor stud", "perno del bobinado del motor de arranque");
    let name = say("battery cable to the starter", "cable de batería al motor de arranque");
    draft.cable("cable_starter", name, ("bat_pos", stud), &faults::CABLE_STARTER, faults::CRANKING);
    let kind = ComponentKind::Contact {
        from: stud.to_owned(),
        to: motor.to_owned(),
        coil: solenoid.to_owned(),
        closed_at_rest: false,
        ohms: 0.0003,
    };
    let name = say("solenoid contact", "contacto del solenoide");
    let contact = made("solenoid_contact", name, kind);
    draft.push(Component { faults: faults::of_solenoid_contact(), ..contact });
    let (from, to) = (motor.to_owned(), ground.to_owned());
    let kind = ComponentKind::Motor { from, to, ohms, stalled_ohms: None };
    let name = say("starter motor", "motor de arranque");
    let motor = made(STARTER_MOTOR, name, kind);
    draft.push(Component { tolerance_percent: 20.0, faults: faults::of_starter_motor(), ..motor });
}

pub(super) const STARTER_MOTOR: &str = "starter_motor";

impl Draft<'_> {
    /// The load's positive pin.
    pub(super) fn positive(&self) -> String {
        format!("{}_pos", self.load.ids.points)
    }

    /// The load's ground: a pin, or the engine it is bolted to.
    pub(super) fn negative(&self) -> String {
        if self.load.wires.ground.is_some() {
            format!("{}_neg", self.load.ids.points)
        } else {
            ENGINE.to_owned()
        }
    }
}
