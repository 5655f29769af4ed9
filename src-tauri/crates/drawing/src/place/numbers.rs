//! Pin numbers beside the wires at a box.

use std::collections::BTreeMap;

use circuit::Circuit;

use crate::graph::Graph;
use crate::graph::slot::Pin;

/// Terminals of relays by DIN 72552.
const RELAY: [&str; 7] = ["30", "50", "85", "86", "87", "87a", "87b"];

/// Numbers of the pins at each point.
pub(super) struct Numbers<'g> {
    graph: &'g Graph,
    at: BTreeMap<usize, Vec<String>>,
}

impl<'g> Numbers<'g> {
    pub fn of(graph: &'g Graph, circuit: &Circuit) -> Self {
        let mut at: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        for pin in circuit.connectors.iter().flat_map(|connector| &connector.pins) {
            if let Some(point) = graph.net.point_of.get(&pin.point) {
                at.entry(*point).or_default().push(pin.number.clone());
            }
        }
        Self { graph, at }
    }

    fn first(&self, point: usize) -> Option<String> {
        self.at.get(&point)?.first().cloned()
    }

    /// Number at the end of a strand at a box.
    pub fn of_pin(&self, hub: usize, pin: Option<usize>, point: usize) -> Option<String> {
        let pin = pin.map(|pin| self.graph.pins[pin]).unwrap_or(Pin { point, ..Pin::default() });
        let outer = pin.slot.map(|slot| self.graph.slots[slot].other(pin.point));
        if self.graph.is_relay(hub) {
            let terminal = |point: usize| {
                let listed = self.at.get(&point)?.iter().find(|number| RELAY.contains(&number.as_str()));
                listed.cloned()
            };
            return terminal(pin.point)
                .or_else(|| outer.and_then(terminal))
                .or_else(|| from_id(&self.graph.net.points[outer.unwrap_or(pin.point)].id));
        }
        let beyond = || {
            let joints = self.graph.net.points[pin.point].parts.iter();
            joints
                .filter(|part| self.graph.net.parts[**part].kind.joins())
                .find_map(|part| self.first(self.graph.net.other_end(*part, pin.point)))
        };
        outer.and_then(|point| self.first(point)).or_else(|| self.first(pin.point)).or_else(beyond)
    }
}

/// A point called `s87` or `lock_86` says which terminal it is.
fn from_id(id: &str) -> Option<String> {
    let digits: String = id.chars().skip_while(|letter| !letter.is_ascii_digit()).collect();
    RELAY.iter().find(|terminal| **terminal == digits).map(|terminal| (*terminal).to_owned())
}
