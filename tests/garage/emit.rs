//! How each sort of part stands in a deck.

use circuit::ComponentKind;

use super::deck::{Deck, Phase};
use super::moment::{Setting, Stage};
use super::specimen::{Part, holds};

/// The points a part ends at, its main two first.
pub fn ends(kind: &ComponentKind) -> Vec<String> {
    let mut copy = kind.clone();
    ends_mut(&mut copy).into_iter().map(|end| end.clone()).collect()
}

/// The same, to move them.
pub fn ends_mut(kind: &mut ComponentKind) -> Vec<&mut String> {
    match kind {
        ComponentKind::Battery { positive, negative, .. } => vec![positive, negative],
        ComponentKind::HighSideDriver { supply, output, ground, .. } => vec![supply, output, ground],
        ComponentKind::LowSideDriver { supply, output, ground, .. } => vec![output, ground, supply],
        ComponentKind::RegulatedSupply { output, ground, .. } => vec![output, ground],
        ComponentKind::Fuse { from, to, .. }
        | ComponentKind::Wire { from, to, .. }
        | ComponentKind::Connection { from, to, .. }
        | ComponentKind::Switch { from, to, .. }
        | ComponentKind::Coil { from, to, .. }
        | ComponentKind::Contact { from, to, .. }
        | ComponentKind::Lamp { from, to, .. }
        | ComponentKind::Motor { from, to, .. }
        | ComponentKind::Diode { from, to, .. }
        | ComponentKind::Thermistor { from, to, .. }
        | ComponentKind::CurrentDraw { from, to, .. }
        | ComponentKind::PickUp { from, to, .. }
        | ComponentKind::Resistor { from, to, .. }
        | ComponentKind::SupplyLoad { from, to, .. } => vec![from, to],
    }
}

/// Share of the time the pulsed driver is on, if there is one that pulses now.
pub fn share(setting: &Setting, stages: &[Stage]) -> Option<f64> {
    setting.vehicle.parts.iter().zip(stages).find_map(|(part, stage)| {
        let (ComponentKind::HighSideDriver { duty, .. } | ComponentKind::LowSideDriver { duty, .. }) =
            &part.kind
        else {
            return None;
        };
        let pulses = stage.conducts(part) && !part.harm.always_on && setting.is_present(part);
        duty.filter(|_| pulses).map(|duty| (duty * part.harm.duty_factor).clamp(0.001, 0.999))
    })
}

/// Copper of a stranded vehicle wire: 18.5 mohm for a meter of 1 mm² (bulk copper 17.2, and the lay of the strands).
pub fn wire_ohms(length_m: f64, area_mm2: f64, temperature_c: f64) -> f64 {
    0.0185 * length_m / area_mm2 * (1.0 + 0.0039 * (temperature_c - 20.0))
}

/// R = R25·exp(β·(1/T − 1/298.15 K)).
fn thermistor_ohms(ohms_25: f64, beta: f64, temperature_c: f64) -> f64 {
    ohms_25 * (beta * (1.0 / (temperature_c + 273.15) - 1.0 / 298.15)).exp()
}

/// Writes one part into one copy. `counted`: its current is wanted.
pub fn part(deck: &mut Deck, setting: &Setting, stages: &[Stage], index: usize, phase: Phase, counted: bool) {
    let Some(part) = setting.vehicle.parts.get(index) else { return };
    let stage = stages.get(index).copied().unwrap_or(Stage::Rest);
    let nodes: Vec<String> = ends(&part.kind).iter().map(|end| deck.node(end, phase)).collect();
    let [first, second, ..] = nodes.as_slice() else { return };
    match &part.kind {
        ComponentKind::HighSideDriver { off_pull_up_ohms, off_pull_down_ohms, .. }
        | ComponentKind::LowSideDriver { off_pull_up_ohms, off_pull_down_ohms, .. } => {
            driver(deck, part, (index, phase), stage, (*off_pull_up_ohms, *off_pull_down_ohms));
            return;
        }
        ComponentKind::RegulatedSupply { volts, ohms, limit_amps, .. } => {
            let ohms = ohms + part.harm.weak_ohms;
            match stage {
                Stage::Rest => {}
                Stage::Active => {
                    let inner = deck.fresh(phase);
                    deck.source(&inner, second, part.harm.volts.unwrap_or(*volts));
                    deck.resistor(&inner, first, ohms);
                    deck.note(index, phase, (&inner, first), Some(ohms));
                }
                Stage::Limiting => deck.current(second, first, *limit_amps),
            }
            return;
        }
        _ => {}
    }
    let renewed = part.is_renewed(setting.state);
    if let Some(ohms) = part.harm.across_ohms.filter(|_| !renewed) {
        deck.resistor(first, second, ohms);
    }
    if setting.blown.contains(&index) || (part.harm.open && !renewed) {
        return;
    }
    let entry = if renewed { first.clone() } else { series(deck, part, first, phase) };
    let (entry, counter) = if counted {
        let behind = deck.fresh(phase);
        let counter = deck.source(&entry, &behind, 0.0);
        (behind, Some(counter))
    } else {
        (entry, None)
    };
    body(deck, setting, stages, (index, part, stage), (&entry, second), phase);
    if let Some(counter) = counter {
        deck.count_by(index, phase, counter);
    }
}

/// The series resistance before a part; gives the node behind it.
fn series(deck: &mut Deck, part: &Part, first: &str, phase: Phase) -> String {
    let ohms = part.harm.series_ohms;
    if ohms <= 0.0 {
        return first.to_owned();
    }
    let behind = deck.fresh(phase);
    if let Some(amps) = part.harm.growth_amps {
        // V = I·R·(1 + |I|/I₂), solved for the current: the way round in which ngspice finds its point.
        let law = format!(
            "2*V({first},{behind})/({ohms:e}*(1+sqrt(1+4*abs(V({first},{behind}))/{:e})))",
            ohms * amps
        );
        deck.behaves(first, &behind, &format!("I={law}"));
    } else {
        deck.resistor(first, &behind, ohms);
    }
    behind
}

fn body(
    deck: &mut Deck,
    setting: &Setting,
    stages: &[Stage],
    (index, part, stage): (usize, &Part, Stage),
    (from, to): (&str, &str),
    phase: Phase,
) {
    let factor = part.harm.draw_factor;
    let stuck = part.harm.stuck_closed;
    let plain = match &part.kind {
        ComponentKind::Battery { volts, internal_ohms, volts_when, .. } => {
            let other = volts_when.iter().find(|one| holds(&one.when, setting.state)).map(|one| one.volts);
            // A weak battery drags what the alternator holds a little.
            let volts = match (part.harm.volts, other) {
                (Some(weak), None) => weak,
                (Some(_), Some(charged)) => charged * 0.97,
                (None, other) => other.unwrap_or(*volts),
            };
            let cell = deck.fresh(phase);
            deck.source(&cell, to, volts);
            deck.resistor(&cell, from, *internal_ohms);
            deck.note(index, phase, (from, &cell), Some(*internal_ohms));
            return;
        }
        ComponentKind::Fuse { ohms, .. } => {
            let spare = part.spare.filter(|_| part.is_renewed(setting.state));
            Some(spare.map_or(*ohms, |spare| spare.ohms))
        }
        ComponentKind::Connection { ohms, .. } => Some(*ohms),
        ComponentKind::Wire { length_m, area_mm2, temperature_c, .. } => {
            Some(wire_ohms(*length_m, *area_mm2, *temperature_c))
        }
        ComponentKind::Switch { closed_when, closed_ohms, .. } => {
            stuck.unwrap_or_else(|| holds(closed_when, setting.state)).then_some(*closed_ohms)
        }
        ComponentKind::Contact { coil, closed_at_rest, ohms, .. } => {
            let at = setting.vehicle.parts.iter().position(|one| one.id == *coil);
            let pulled = at.and_then(|at| stages.get(at)) == Some(&Stage::Active);
            stuck.unwrap_or(pulled != *closed_at_rest).then_some(*ohms)
        }
        ComponentKind::Coil { ohms, .. } => return winding(deck, (index, phase), (from, to), ohms * factor),
        ComponentKind::Motor { ohms, stalled_ohms, .. } => {
            let ohms = if stage == Stage::Active { *ohms } else { stalled_ohms.unwrap_or(*ohms) };
            return winding(deck, (index, phase), (from, to), ohms * factor);
        }
        ComponentKind::Lamp { ohms, cold_ohms, .. } => match cold_ohms {
            Some(cold) => {
                deck.behaves(from, to, &filament_law((from, to), cold * factor, ohms * factor));
                deck.note(index, phase, (from, to), None);
                return;
            }
            None => Some(ohms * factor),
        },
        ComponentKind::Diode { drop_volts, on_ohms, off_ohms, .. } => {
            deck.junction(from, to, *drop_volts, *on_ohms);
            Some(*off_ohms)
        }
        ComponentKind::Thermistor { ohms_25, beta_kelvin, temperature_c, .. } => {
            Some(thermistor_ohms(*ohms_25, *beta_kelvin, *temperature_c) * factor)
        }
        ComponentKind::CurrentDraw { amps, least_volts, .. } => {
            if stage == Stage::Active {
                deck.current(from, to, amps / factor);
                deck.note(index, phase, (from, to), None);
                return;
            }
            Some(least_volts / amps * factor)
        }
        ComponentKind::PickUp { ohms, .. }
        | ComponentKind::Resistor { ohms, .. }
        | ComponentKind::SupplyLoad { ohms, .. } => Some(ohms * factor),
        ComponentKind::HighSideDriver { .. }
        | ComponentKind::LowSideDriver { .. }
        | ComponentKind::RegulatedSupply { .. } => None,
    };
    if let Some(ohms) = plain {
        deck.resistor(from, to, ohms);
        deck.note(index, phase, (from, to), Some(ohms));
    }
}

/// Coils and motors keep their current through both copies.
fn winding(deck: &mut Deck, (index, phase): (usize, Phase), (from, to): (&str, &str), ohms: f64) {
    let Some(share) = deck.share else {
        deck.resistor(from, to, ohms);
        deck.note(index, phase, (from, to), Some(ohms));
        return;
    };
    // The other copy names its nodes alike, but for the letter: each copy gets named winding ends of its own.
    let end = |letter: char, side: char| format!("{letter}w{index}{side}");
    let own = if phase == Phase::On { 'h' } else { 'l' };
    let (a, b) = (end(own, 'a'), end(own, 'b'));
    deck.source(from, &a, 0.0);
    deck.source(&b, to, 0.0);
    // Iron losses: they also give a winding whose circuit is open somewhere to go with its current.
    deck.resistor(&a, &b, 1e5);
    deck.follows((&a, &b), (&end('h', 'a'), &end('h', 'b')), share / ohms);
    deck.follows((&a, &b), (&end('l', 'a'), &end('l', 'b')), (1.0 - share) / ohms);
    deck.note(index, phase, (&a, &b), Some(ohms));
}

/// Tungsten: R rises from cold with the square root of the volts, to the hot value at 12 V.
pub fn filament_law((from, to): (&str, &str), cold: f64, hot: f64) -> String {
    let volts = format!("abs(V({from},{to}))");
    let rise = hot - cold;
    let ohms = format!("({cold:e}+{rise:e}*sqrt({volts}/12+1e-9)*{volts}/({volts}+0.04))");
    format!("I=V({from},{to})/{ohms}")
}

fn driver(
    deck: &mut Deck,
    part: &Part,
    (index, phase): (usize, Phase),
    stage: Stage,
    (up, down): (Option<f64>, Option<f64>),
) {
    let (supply, output, ground, ohms, limit, high, goes_round) = match &part.kind {
        ComponentKind::HighSideDriver { supply, output, ground, on_ohms, limit_amps, .. } => {
            (supply, output, ground, *on_ohms, *limit_amps, true, ground)
        }
        ComponentKind::LowSideDriver { supply, output, ground, on_ohms, limit_amps, freewheel, .. } => {
            (supply, output, ground, *on_ohms, *limit_amps, false, freewheel.as_ref().unwrap_or(supply))
        }
        _ => return,
    };
    let goes_round = deck.node(goes_round, phase);
    let (supply, output, ground) =
        (deck.node(supply, phase), deck.node(output, phase), deck.node(ground, phase));
    let on = stage.conducts(part) && phase != Phase::Off;
    if !part.harm.dead {
        up.into_iter().for_each(|ohms| deck.resistor(&supply, &output, ohms));
        down.into_iter().for_each(|ohms| deck.resistor(&output, &ground, ohms));
    }
    let (from, to) = if high { (&supply, &output) } else { (&output, &ground) };
    part.harm.leak_ohms.into_iter().for_each(|ohms| deck.resistor(from, to, ohms));
    if on {
        let ohms = ohms + part.harm.weak_ohms;
        if stage == Stage::Limiting {
            deck.current(from, to, limit);
        } else {
            deck.resistor(from, to, ohms);
        }
        deck.note(index, phase, (from, to), Some(ohms));
    } else if phase == Phase::Off && stage.conducts(part) {
        // The load's current goes on through the diode across it.
        let (anode, cathode) = if high { (&goes_round, &output) } else { (&output, &goes_round) };
        deck.junction(anode, cathode, 0.62, 0.01);
    }
}
