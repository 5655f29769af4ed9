//! One part as lines of a deck.

use crate::deck::lines::{BLOWS, Deck, MOVES, plain, spice_node};
use crate::file::anatomy::holds;
use crate::file::component::{Component, ComponentKind};
use crate::file::fault::FaultMode;
use crate::solve::bend::Bend;
use crate::solve::settle::BLOWS_AT;

impl Deck<'_> {
    /// Nodes of a part's points. A circuit whose parts lead nowhere was refused when it was read.
    pub(super) fn ends(&self, part: &Component) -> [String; 3] {
        let points = part.kind.points();
        let node = |i: usize| points.get(i).and_then(|point| spice_node(self.circuit, point));
        [0, 1, 2].map(|i| node(i).unwrap_or_else(|| "0".to_owned()))
    }

    /// The name of a part's lines.
    pub(super) fn name(&self, part: &Component) -> String {
        let place = self.circuit.components.iter().position(|known| known.id == part.id);
        plain(&part.id, place.unwrap_or(0))
    }

    /// Resistance in series with a part, as a fault adds it: the node behind it.
    fn joint(&mut self, part: &Component, name: &str, node: &str) -> String {
        let added = self.added(part);
        if added == 0.0 {
            return node.to_owned();
        }
        let behind = format!("joint_{name}");
        self.line(&format!("R_joint_{name} {node} {behind} {added:e}"));
        behind
    }

    pub(super) fn part(&mut self, part: &Component) {
        let [a, b, _] = self.ends(part);
        let name = self.name(part);
        match part.kind {
            ComponentKind::Coil { .. } => return self.coil(part, &name, &a, &b),
            ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. } => {
                return self.driver(part, &name);
            }
            ComponentKind::RegulatedSupply { .. } => return self.regulated(part, &name, &a, &b),
            _ if self.has(part, FaultMode::Open) => return,
            _ => {}
        }
        let a = self.joint(part, &name, &a);
        match &part.kind {
            ComponentKind::Battery { volts, volts_when, internal_ohms, .. } => {
                let special = volts_when.iter().find(|special| holds(&special.when, &self.state));
                let healthy = special.map_or(*volts, |special| special.volts);
                let volts = self.severity(part, FaultMode::LowVoltage).unwrap_or(healthy);
                self.line(&format!("R_inside_{name} {a} inside_{name} {internal_ohms:e}"));
                self.line(&format!("V_{name} inside_{name} {b} {volts:e}"));
            }
            ComponentKind::Fuse { ohms, rating_amps, .. } => {
                let amps = format!("V({a},{b})/{ohms:e}");
                let blows = format!("(abs({amps})>{:e}) || (V(on_{name})>0.5)", BLOWS_AT * rating_amps);
                self.moves(&name, &blows, BLOWS);
                self.current(&name, &a, &b, &format!("(V(on_{name})>0.5) ? 0 : {amps}"));
            }
            ComponentKind::Switch { closed_when, closed_ohms, .. } => {
                let closed = holds(closed_when, &self.state) || self.has(part, FaultMode::StuckClosed);
                if closed && !self.has(part, FaultMode::StuckOpen) {
                    self.resistor(&name, &a, &b, *closed_ohms);
                }
            }
            ComponentKind::Contact { coil, closed_at_rest, ohms, .. } => {
                self.contact(part, [&name, &a, &b], coil, *closed_at_rest, *ohms);
            }
            ComponentKind::Motor { stalled_ohms: Some(stalled), .. } if self.has(part, FaultMode::Jammed) => {
                self.resistor(&name, &a, &b, stalled * self.factor(part));
            }
            kind => match Bend::of(kind) {
                Some(bend) => self.bent(&name, &a, &b, bend.scaled(self.factor(part))),
                None => {
                    let ohms = kind.healthy_ohms().unwrap_or(0.0) * self.factor(part);
                    self.resistor(&name, &a, &b, ohms);
                }
            },
        }
    }

    pub(super) fn bent(&mut self, name: &str, a: &str, b: &str, bend: Bend) {
        let Bend { volts, below, beyond, both_ways } = bend;
        let across = format!("V({a},{b})");
        let up = format!("{:e}+({across}-{volts:e})/{beyond:e}", volts / below);
        let flat = format!("{across}/{below:e}");
        let amps = if both_ways {
            let down = format!("-{:e}+({across}+{volts:e})/{beyond:e}", volts / below);
            format!("({across}>={volts:e}) ? ({up}) : (({across}<=-{volts:e}) ? ({down}) : ({flat}))")
        } else {
            format!("({across}>={volts:e}) ? ({up}) : ({flat})")
        };
        self.current(name, a, b, &amps);
    }

    /// Pulls in by the volts on its winding, and holds down to fewer.
    fn coil(&mut self, part: &Component, name: &str, a: &str, b: &str) {
        let ComponentKind::Coil { ohms, pull_in_volts, drop_out_volts, .. } = part.kind else { return };
        let open = self.has(part, FaultMode::Open);
        if open || self.has(part, FaultMode::Jammed) {
            self.moves(name, "0", MOVES);
        }
        if open {
            return;
        }
        let a = self.joint(part, name, a);
        self.resistor(name, &a, b, ohms * self.factor(part));
        if !self.has(part, FaultMode::Jammed) {
            let threshold = format!("(V(on_{name})>0.5 ? {drop_out_volts:e} : {pull_in_volts:e})");
            self.moves(name, &format!("abs(V({a},{b}))>={threshold}"), MOVES);
        }
    }

    fn contact(
        &mut self,
        part: &Component,
        [name, a, b]: [&str; 3],
        coil: &str,
        closed_at_rest: bool,
        ohms: f64,
    ) {
        let coil = self.circuit.components.iter().find(|known| known.id == coil);
        let moved = coil.filter(|coil| coil.is_present(&self.state)).map(|coil| self.name(coil));
        if self.has(part, FaultMode::StuckOpen) {
            return;
        }
        match moved {
            _ if self.has(part, FaultMode::StuckClosed) => self.resistor(name, a, b, ohms),
            Some(coil) => {
                let sign = if closed_at_rest { '<' } else { '>' };
                self.current(name, a, b, &format!("(V(on_{coil}){sign}0.5) ? V({a},{b})/{ohms:e} : 0"));
            }
            None if closed_at_rest => self.resistor(name, a, b, ohms),
            None => {}
        }
    }
}
