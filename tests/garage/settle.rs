//! One vehicle in one state: everything that switches goes on switching until nothing moves, and fuses blow for good.

use std::collections::{BTreeMap, BTreeSet};

use circuit::{ComponentKind, State};

use super::Failure;
use super::deck::{Deck, Solution};
use super::emit;
use super::moment::{self, Setting, Stage};
use super::specimen::{Vehicle, holds};

/// What the meter does to the circuit.
#[derive(Debug, Clone, PartialEq)]
pub enum Meter {
    None,
    /// Between two points.
    Across {
        red: String,
        black: String,
        ohms: f64,
    },
    /// Sends a current in at red and out at black.
    Feeds {
        red: String,
        black: String,
        amps: f64,
    },
    /// In place of a part.
    InPlace {
        part: usize,
        red: String,
        black: String,
        ohms: f64,
    },
    /// A clamp around a part, which changes nothing.
    Around(usize),
}

/// A vehicle in the shop: what has blown stays blown.
#[derive(Debug, Clone)]
pub struct Bench {
    pub vehicle: Vehicle,
    pub blown: BTreeSet<usize>,
    /// Where everything stood when this state was last solved: mostly it stands there again.
    known: BTreeMap<String, Vec<Stage>>,
}

/// One state, solved.
pub struct Settled {
    pub solution: Solution,
    pub stages: Vec<Stage>,
    /// Fuses without a connection in this state: those that have blown, and new ones that did so in it.
    pub blown: BTreeSet<usize>,
}

/// After so many changes of one part it buzzes: it is taken as at rest.
const BUZZ: usize = 5;
const ROUNDS: usize = 60;

impl Bench {
    pub const fn new(vehicle: Vehicle, blown: BTreeSet<usize>) -> Self {
        Self { vehicle, blown, known: BTreeMap::new() }
    }

    /// Solves a state with a meter and perhaps a substitute load in it.
    ///
    /// # Errors
    /// ngspice finds no operating point.
    pub fn settle(&mut self, state: &State, load: Option<&str>, meter: &Meter) -> Result<Settled, Failure> {
        let state = self.vehicle.full_state(state);
        let renewed =
            |index: &usize| self.vehicle.parts.get(*index).is_some_and(|part| part.is_renewed(&state));
        let spares: BTreeSet<usize> = (0..self.vehicle.parts.len()).filter(renewed).collect();
        let mut blown: BTreeSet<usize> = self.blown.difference(&spares).copied().collect();
        loop {
            let settled = self.settle_once(&state, load, meter, &blown)?;
            let Some(blows) = self.overloaded(&settled, &spares) else { return Ok(settled) };
            blown.insert(blows);
            // The old fuse isn't hurt by what the new one in its place did.
            if !spares.contains(&blows) {
                self.blown.insert(blows);
            }
        }
    }

    /// The fuse that is most over what it stands.
    fn overloaded(&self, settled: &Settled, spares: &BTreeSet<usize>) -> Option<usize> {
        let over = self.vehicle.parts.iter().enumerate().filter_map(|(index, part)| match &part.kind {
            ComponentKind::Fuse { rating_amps, .. } if !settled.blown.contains(&index) => {
                let spare = part.spare.filter(|_| spares.contains(&index));
                let stands = spare.map_or(rating_amps * part.blows_at, |one| one.rating_amps * one.blows_at);
                let over = settled.solution.through(index).abs() / stands;
                (over > 1.0).then_some((index, over))
            }
            _ => None,
        });
        over.max_by(|one, other| one.1.total_cmp(&other.1)).map(|(index, _)| index)
    }

    fn settle_once(
        &mut self,
        state: &State,
        load: Option<&str>,
        meter: &Meter,
        blown: &BTreeSet<usize>,
    ) -> Result<Settled, Failure> {
        let key = format!("{state:?} {load:?} {:?} {}", blown, matches!(meter, Meter::Feeds { .. }));
        let setting = Setting { vehicle: &self.vehicle, state, blown };
        let mut stages = self.known.get(&key).cloned().unwrap_or_else(|| moment::beginning(&setting));
        let mut changes = vec![0_usize; stages.len()];
        let mut solution = solve(&setting, &stages, load, meter)?;
        for _ in 0..ROUNDS {
            let mut next = moment::next(&setting, &stages, &solution);
            for ((new, old), count) in next.iter_mut().zip(&stages).zip(&mut changes) {
                if new != old {
                    *count += 1;
                    if *count > BUZZ {
                        *new = Stage::Rest;
                    }
                }
            }
            if next == stages {
                break;
            }
            stages = next;
            solution = solve(&setting, &stages, load, meter)?;
        }
        // What a meter that loads has dropped out must not be where the next reading begins.
        let gentle = match meter {
            Meter::Across { ohms, .. } => *ohms > 1e6,
            Meter::InPlace { .. } => false,
            Meter::None | Meter::Around(_) | Meter::Feeds { .. } => true,
        };
        if gentle {
            self.known.entry(key).or_insert_with(|| stages.clone());
        }
        Ok(Settled { solution, stages, blown: blown.clone() })
    }
}

fn solve(
    setting: &Setting,
    stages: &[Stage],
    load: Option<&str>,
    meter: &Meter,
) -> Result<Solution, Failure> {
    let vehicle = setting.vehicle;
    let mut deck = Deck::new(&vehicle.reference, &vehicle.points, emit::share(setting, stages));
    for phase in deck.phases().iter().copied() {
        for (index, part) in vehicle.parts.iter().enumerate() {
            let out = matches!(meter, Meter::InPlace { part, .. } if *part == index);
            if setting.is_present(part) && !out {
                emit::part(&mut deck, setting, stages, index, phase, *meter == Meter::Around(index));
            }
        }
        for path in vehicle.paths.iter().filter(|path| holds(&path.when, setting.state)) {
            let (from, to) = (deck.node(&path.from, phase), deck.node(&path.to, phase));
            deck.resistor(&from, &to, path.ohms);
        }
        if let Some((from, to, ohms, cold)) = load.and_then(|load| vehicle.loads.get(load)) {
            let (from, to) = (deck.node(from, phase), deck.node(to, phase));
            match cold {
                Some(cold) => deck.behaves(&from, &to, &emit::filament_law((&from, &to), *cold, *ohms)),
                None => deck.resistor(&from, &to, *ohms),
            }
        }
        match meter {
            Meter::Across { red, black, ohms } | Meter::InPlace { red, black, ohms, .. } => {
                let (red, black) = (deck.node(red, phase), deck.node(black, phase));
                deck.resistor(&red, &black, *ohms);
            }
            Meter::Feeds { red, black, amps } => {
                let (red, black) = (deck.node(red, phase), deck.node(black, phase));
                deck.current(&black, &red, *amps);
                deck.resistor(&red, &black, 1e9);
            }
            Meter::None | Meter::Around(_) => {}
        }
    }
    deck.solve()
}
