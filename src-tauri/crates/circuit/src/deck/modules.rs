//! What a module switches or holds, as lines of a deck.

use crate::deck::lines::{Deck, MOVES, spice_node};
use crate::file::anatomy::holds;
use crate::file::component::{Component, ComponentKind, Need};
use crate::file::fault::FaultMode;
use crate::file::winding::has_winding;
use crate::solve::part::{FREEWHEEL_AMPS, FREEWHEEL_VOLTS};
use crate::solve::settle::STAY_ON;
use crate::solve::wiring::RESTING_OHMS;

impl Deck<'_> {
    pub(super) fn regulated(&mut self, part: &Component, name: &str, a: &str, b: &str) {
        let ComponentKind::RegulatedSupply { volts, ohms, limit_amps, needs, .. } = &part.kind else {
            return;
        };
        self.resistor(&format!("resting_{name}"), a, b, RESTING_OHMS);
        self.wants(name, !self.has(part, FaultMode::Dead), needs);
        let volts = self.severity(part, FaultMode::LowVoltage).unwrap_or(*volts);
        let push = format!("({volts:e}-V({a},{b}))/{:e}", ohms + self.added(part));
        self.current(name, b, a, &format!("(V(on_{name})>0.5) ? max(0,min({limit_amps:e},{push})) : 0"));
    }

    /// On while it is asked for and what its module needs to see is there.
    fn wants(&mut self, name: &str, asked: bool, needs: &[Need]) {
        let met = |need: &Need| {
            let node = |point: &str| spice_node(self.circuit, point).unwrap_or_else(|| "0".to_owned());
            let seen = format!("V({},{})", node(&need.red), node(&need.black));
            let least = need
                .at_least
                .map(|least| format!("({seen} >= (V(on_{name})>0.5 ? {:e} : {least:e}))", least * STAY_ON));
            let most = need
                .at_most
                .map(|most| format!("({seen} <= (V(on_{name})>0.5 ? {:e} : {most:e}))", most / STAY_ON));
            least.into_iter().chain(most).collect::<Vec<_>>()
        };
        let mut all: Vec<String> = vec![if asked { "1" } else { "0" }.to_owned()];
        all.extend(needs.iter().flat_map(met));
        let wants = all.join(" && ");
        self.moves(name, &wants, MOVES);
    }

    pub(super) fn driver(&mut self, part: &Component, name: &str) {
        use ComponentKind::{HighSideDriver, LowSideDriver};
        let (HighSideDriver {
            supply: supply_point,
            output: output_point,
            needs,
            on_when,
            forced_when,
            limit_amps,
            on_ohms,
            off_pull_up_ohms,
            off_pull_down_ohms,
            ..
        }
        | LowSideDriver {
            supply: supply_point,
            output: output_point,
            needs,
            on_when,
            forced_when,
            limit_amps,
            on_ohms,
            off_pull_up_ohms,
            off_pull_down_ohms,
            ..
        }) = &part.kind
        else {
            return;
        };
        let ends = self.ends(part);
        let (supply, output, ground, free) = match &part.kind {
            ComponentKind::LowSideDriver { freewheel, .. } => {
                let free = freewheel.as_ref().and_then(|point| spice_node(self.circuit, point));
                (&ends[2], &ends[0], &ends[1], Some(free.unwrap_or_else(|| ends[2].clone())))
            }
            _ => (&ends[0], &ends[1], &ends[2], None),
        };
        if self.has(part, FaultMode::Dead) {
            return;
        }
        if let Some(ohms) = self.severity(part, FaultMode::Leaks) {
            let (from, to) = if free.is_some() { (output, ground) } else { (supply, output) };
            self.resistor(&format!("leak_{name}"), from, to, ohms);
            return;
        }
        if self.has(part, FaultMode::AlwaysOn) {
            self.moves(name, "1", MOVES);
        } else {
            let asked = holds(on_when, &self.state) && !self.has(part, FaultMode::NotCommanded);
            let forced = !forced_when.is_empty() && holds(forced_when, &self.state);
            let able = !self.has(part, FaultMode::Unresponsive);
            // A module that has another feed for its loads answers a scan tool from the one that it draws from itself.
            let draws = |point: &str| {
                let drawn = |part: &Component| matches!(&part.kind, ComponentKind::SupplyLoad { from, .. } if from == point);
                self.circuit.components.iter().any(drawn)
            };
            let of_supply = |need: &&Need| need.red == *supply_point || draws(&need.red);
            let of_supply: Vec<Need> = needs.iter().filter(of_supply).cloned().collect();
            self.wants(name, able && (asked || forced), if forced { &of_supply } else { needs });
        }
        let on = format!("(V(on_{name})>0.5)");
        let ohms = on_ohms + self.added(part);
        let (from, to) = if free.is_some() { (output, ground) } else { (supply, output) };
        match part.kind.duty().filter(|_| !self.has(part, FaultMode::AlwaysOn)) {
            Some(duty) => {
                // Averaged: its output stands at a share of its feed, behind its resistance, and the feed gives that
                // share of the current. A low side pulls down from where the load's current goes round.
                let gain = duty * self.severity(part, FaultMode::LowDuty).unwrap_or(1.0);
                let (high, low, feed) =
                    free.as_ref().map_or((output, ground, supply), |free| (free, output, free));
                let driven = format!("({gain:e}*V({feed},{ground}))");
                let amps = if has_winding(self.circuit, output_point) {
                    // The load's diode takes its volts off once more than a trickle flows.
                    let drop = (1.0 - gain) * FREEWHEEL_VOLTS;
                    let behind = gain * ohms;
                    let plain = format!("({driven}-V({high},{low}))/{behind:e}");
                    let free = format!("({driven}-{drop:e}-V({high},{low}))/{behind:e}");
                    let freed = format!("max(min({plain},{FREEWHEEL_AMPS:e}),{free})");
                    format!("{on} ? ({driven}>{:e} ? {freed} : {plain}) : 0", 2.0 * drop)
                } else {
                    format!("{on} ? ({driven}-V({high},{low}))/{ohms:e} : 0")
                };
                self.current(name, low, high, &amps);
                self.current(&format!("feed_{name}"), feed, ground, &format!("{gain:e}*({amps})"));
            }
            None => {
                let amps = format!("{on} ? min({limit_amps:e},V({from},{to})/{ohms:e}) : 0");
                self.current(name, from, to, &amps);
            }
        }
        let biases = [("up", supply, output, off_pull_up_ohms), ("down", output, ground, off_pull_down_ohms)];
        for (side, from, to, ohms) in biases {
            if let Some(ohms) = ohms {
                let amps = format!("{on} ? 0 : V({from},{to})/{ohms:e}");
                self.current(&format!("{side}_{name}"), from, to, &amps);
            }
        }
    }
}
