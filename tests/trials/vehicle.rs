//! A vehicle on the lift: the circuit with its own parts and its hidden fault, solved whole for every reading. It knows
//! nothing of the engine's tables; only the solver for a state is shared.

use std::sync::Arc;

use circuit::{
    Behavior, Circuit, ComponentKind, Element, Fault, FaultMode, Level, MeasureMode, Meter, Netlist,
    ObservedValue, Solution, State, Test, settled_netlist, solve,
};

use crate::Failure;
use crate::random::Random;

#[path = "alternating.rs"]
mod alternating;
#[path = "pulses.rs"]
mod pulses;

/// From so many AC volts on a display counts their frequency.
const COUNTS_FROM: f64 = 0.05;

/// A circuit with definite faults.
#[derive(Debug, Clone)]
pub struct Vehicle {
    /// Shared by copies until one of them is changed: a search makes thousands of them.
    pub circuit: Arc<Circuit>,
    pub faults: Vec<Fault>,
    /// Motors and lamps that don't work for a reason the circuit doesn't contain.
    pub dead_parts: Vec<String>,
}

/// A meter as it is, not as its manual says.
#[derive(Debug, Clone)]
pub struct Instrument {
    pub meter: Meter,
    /// Gain error per mode, as a share of what the manual allows.
    gains: [f64; 4],
}

impl Instrument {
    /// Every specimen has a gain of its own, anywhere within the manual's percent.
    pub fn new(meter: &Meter, random: &mut Random) -> Self {
        Self { meter: meter.clone(), gains: [(); 4].map(|()| random.between(-1.0, 1.0)) }
    }

    /// Without any error but the display's last digit.
    pub fn perfect(meter: &Meter) -> Self {
        Self { meter: meter.clone(), gains: [0.0; 4] }
    }

    fn shows(&self, mode: MeasureMode, exact: f64, random: Option<&mut Random>) -> f64 {
        let Some(accuracy) = self.meter.accuracy(mode) else { return exact };
        let place = match mode {
            MeasureMode::Ohms => 1,
            MeasureMode::Amps | MeasureMode::AmpsClamp => 2,
            MeasureMode::MillivoltsDc => 3,
            _ => 0,
        };
        let gain = self.gains[place] * accuracy.percent / 100.0;
        let counts = random.map_or(0.0, |random| random.between(-1.0, 1.0)) * accuracy.counts;
        let shown = exact * (1.0 + gain) + counts * accuracy.count_size;
        (shown / accuracy.count_size).round() * accuracy.count_size
    }
}

impl Vehicle {
    pub fn healthy(circuit: &Circuit) -> Self {
        Self { circuit: Arc::new(circuit.clone()), faults: Vec::new(), dead_parts: Vec::new() }
    }

    /// Does the complaint show?
    pub fn complains(&self) -> Result<bool, Failure> {
        let complaint = &self.circuit.complaint;
        let test = self.circuit.tests.iter().find(|test| test.id == complaint.test).ok_or("no such test")?;
        Ok(self.answer_now(test)? == complaint.answer)
    }

    /// The true answer to a look or question.
    pub fn answer(&self, test: &Test) -> Result<bool, Failure> {
        self.answer_after(&self.while_complaining()?, test)
    }

    /// The same, where it is known already what the circuit does while the complaint shows.
    pub fn answer_after(&self, at_first: &Solution, test: &Test) -> Result<bool, Failure> {
        self.now(at_first, &test.state).answer_now(test)
    }

    /// What the circuit does while the complaint shows: what blows then stays blown.
    pub fn while_complaining(&self) -> Result<Solution, Failure> {
        let complaint = &self.circuit.complaint.test;
        let shows = self.circuit.tests.iter().find(|test| test.id == *complaint).ok_or("no such test")?;
        self.solution(&shows.state, shows.load.as_deref())
    }

    /// As it is in a state: what blew a fuse while the complaint showed has blown it for good, until a new one is fitted,
    /// which has nothing of the old one's faults.
    fn now(&self, at_first: &Solution, state: &State) -> Self {
        let full = self.full(state);
        let mut now = self.clone();
        for part in &self.circuit.components {
            let ComponentKind::Fuse { renewed_when, .. } = &part.kind else { continue };
            let holds = |(name, values): (&String, &Vec<String>)| {
                full.get(name).is_some_and(|value| values.contains(value))
            };
            if !renewed_when.is_empty() && renewed_when.iter().all(holds) {
                now.faults.retain(|fault| fault.component != part.id);
            } else if at_first.working.get(&part.id) == Some(&false) {
                let (component, mode) = (part.id.clone(), FaultMode::Open);
                now.faults.push(Fault { component, mode, severity: 0.0, at: None });
            }
        }
        now
    }

    fn answer_now(&self, test: &Test) -> Result<bool, Failure> {
        let question = test.question.as_ref().ok_or("this test asks nothing")?;
        let solution = self.solution(&test.state, test.load.as_deref())?;
        let volts = |point: &str| match solution.points.get(point) {
            Some(Level::Volts(volts)) => *volts,
            _ => 0.0,
        };
        Ok(match &question.behavior {
            Behavior::CoilPullsIn { coil } => solution.working.get(coil) == Some(&true),
            Behavior::PartWorks { component, at_least_volts } => {
                self.works(component, *at_least_volts, &test.state, &volts)
            }
            Behavior::ModuleSees { needs } => needs.iter().all(|need| {
                let seen = volts(&need.red) - volts(&need.black);
                need.at_least.is_none_or(|least| seen >= least)
                    && need.at_most.is_none_or(|most| seen <= most)
            }),
            Behavior::AlternatingSeen { needs, red, black, at_least_volts } => {
                let met = needs.iter().all(|need| {
                    let seen = volts(&need.red) - volts(&need.black);
                    need.at_least.is_none_or(|least| seen >= least)
                        && need.at_most.is_none_or(|most| seen <= most)
                });
                met && self.alternating(test, red, black, f64::INFINITY)?.0 >= *at_least_volts
            }
            Behavior::CarriesMoreThan { component, amps } => {
                let ends = self.part(component).map(ComponentKind::points).unwrap_or_default();
                match ends[..] {
                    [red, black] => self.clamped(test, red, black)?.abs() > *amps,
                    _ => false,
                }
            }
            Behavior::ConditionsMet { component } => !self
                .faults
                .iter()
                .any(|fault| fault.component == *component && fault.mode == FaultMode::NotCommanded),
            Behavior::DamageSeen { components } => components.iter().any(|id| {
                let blown = solution.working.get(id) == Some(&false)
                    && self.part(id).is_some_and(|part| matches!(part, ComponentKind::Fuse { .. }));
                blown || self.faults.iter().any(|fault| fault.component == *id)
            }),
        })
    }

    fn works(&self, id: &str, at_least: f64, state: &State, volts: &impl Fn(&str) -> f64) -> bool {
        let Some(component) = self.circuit.components.iter().find(|part| part.id == id) else { return false };
        let full = self.full(state);
        let here = component
            .present_when
            .iter()
            .all(|(name, values)| full.get(name).is_some_and(|value| values.contains(value)));
        let own = || self.faults.iter().filter(|fault| fault.component == id);
        let stopped = own().any(|fault| matches!(fault.mode, FaultMode::Open | FaultMode::Jammed));
        let ends = component.kind.points();
        let across = volts(ends[0]) - volts(ends[1]);
        let ohms = component.kind.load_ohms().unwrap_or(1.0);
        let series: f64 =
            own().filter(|fault| fault.mode == FaultMode::HighResistance).map(|fault| fault.severity).sum();
        here && !stopped
            && !self.dead_parts.iter().any(|dead| dead == id)
            && (across * ohms / (ohms + series)).abs() >= at_least
    }

    fn part(&self, id: &str) -> Option<&ComponentKind> {
        self.circuit.components.iter().find(|part| part.id == id).map(|part| &part.kind)
    }

    fn full(&self, state: &State) -> State {
        let default = |name: &str, value: &str| {
            (name.to_owned(), state.get(name).cloned().unwrap_or_else(|| value.to_owned()))
        };
        self.circuit.variables.iter().map(|variable| default(&variable.id, &variable.default)).collect()
    }

    fn solution(&self, state: &State, load: Option<&str>) -> Result<Solution, Failure> {
        Ok(solve(&self.circuit, state, &self.faults, load)?)
    }

    /// What an instrument shows between two points. `random` adds the display's own error.
    pub fn reading(
        &self,
        test: &Test,
        leads: (&str, &str),
        instrument: &Instrument,
        random: Option<&mut Random>,
    ) -> Result<ObservedValue, Failure> {
        self.reading_after(&self.while_complaining()?, test, leads, instrument, random)
    }

    /// The same, where it is known already what the circuit does while the complaint shows.
    pub fn reading_after(
        &self,
        at_first: &Solution,
        test: &Test,
        leads: (&str, &str),
        instrument: &Instrument,
        random: Option<&mut Random>,
    ) -> Result<ObservedValue, Failure> {
        let exact = self.now(at_first, &test.state).exact(test, leads, instrument)?;
        let limit = match test.mode {
            MeasureMode::Ohms => instrument.meter.ohms_limit,
            MeasureMode::MillivoltsDc => instrument.meter.millivolts_limit,
            _ => f64::INFINITY,
        };
        Ok(match exact {
            Some(value) if value.abs() <= limit => {
                ObservedValue::Number(instrument.shows(test.mode, value, random))
            }
            _ => ObservedValue::OverLimit,
        })
    }

    /// Nothing for over-limit.
    fn exact(
        &self,
        test: &Test,
        (red, black): (&str, &str),
        instrument: &Instrument,
    ) -> Result<Option<f64>, Failure> {
        let load = test.load.as_deref();
        let meter = &instrument.meter;
        let volts = |vehicle: &Self, ohms: f64| {
            let mut netlist = settled_netlist(&vehicle.circuit, &test.state, &vehicle.faults, load)?;
            let (a, b) = (netlist.node(red), netlist.node(black));
            netlist.add(Element::Resistor { a, b, ohms });
            Ok::<f64, Failure>(netlist.solve()?.between(a, b).unwrap_or(0.0))
        };
        match test.mode {
            MeasureMode::VoltsLowImpedance => {
                volts(self, meter.low_impedance_ohms.unwrap_or(meter.volts_input_ohms)).map(Some)
            }
            MeasureMode::Ohms => self.ohms(test, red, black, meter),
            MeasureMode::Amps => {
                let shunted = self.without_joining(red, black, meter.amps_input_ohms);
                let mut netlist = settled_netlist(&shunted.circuit, &test.state, &shunted.faults, load)?;
                let (a, b) = (netlist.node(red), netlist.node(black));
                Ok(Some(netlist.solve()?.between(a, b).unwrap_or(0.0) / meter.amps_input_ohms))
            }
            MeasureMode::AmpsClamp => self.clamped(test, red, black).map(Some),
            MeasureMode::Duty => self.duty(test, red, black),
            MeasureMode::VoltsAc => Ok(Some(self.alternating(test, red, black, meter.volts_input_ohms)?.0)),
            MeasureMode::Hertz => {
                let (volts, hertz) = self.alternating(test, red, black, meter.volts_input_ohms)?;
                Ok((volts >= COUNTS_FROM).then_some(hertz))
            }
            _ => volts(self, meter.volts_input_ohms).map(Some),
        }
    }

    /// A clamp adds nothing: the current through a very small resistance put into the part's way.
    fn clamped(&self, test: &Test, red: &str, black: &str) -> Result<f64, Failure> {
        let (inner, ohms) = ("inside the clamp", 1e-6);
        let clamped = self.with_clamp(red, black, inner, ohms);
        let load = test.load.as_deref();
        let mut netlist = settled_netlist(&clamped.circuit, &test.state, &clamped.faults, load)?;
        let (a, b) = (netlist.node(red), netlist.node(inner));
        Ok(netlist.solve()?.between(a, b).unwrap_or(0.0) / ohms)
    }

    fn ohms(&self, test: &Test, red: &str, black: &str, meter: &Meter) -> Result<Option<f64>, Failure> {
        let live = settled_netlist(&self.circuit, &test.state, &self.faults, test.load.as_deref())?;
        let mut dead = self.dead(&live);
        let (Some(a), Some(b)) = (dead.find(red), dead.find(black)) else { return Ok(None) };
        dead.add(Element::Amps { from: b, to: a, amps: 1e-6 });
        // One microampere times ohms: what floats shows over-limit.
        let open = live.solve()?.between(a, b);
        let volts = open.and_then(|_| dead.solve().ok()?.between(a, b));
        Ok(volts.map(|volts| volts / 1e-6 + meter.lead_ohms + open.unwrap_or(0.0) * 1e3))
    }

    /// The same netlist with every source at rest.
    fn dead(&self, live: &Netlist) -> Netlist {
        let mut dead = Netlist::new(&self.circuit.reference);
        live.names().iter().for_each(|name| {
            dead.node(name);
        });
        for element in live.elements() {
            match *element {
                Element::Volts { plus, minus, .. } => dead.add(Element::Volts { plus, minus, volts: 0.0 }),
                Element::Amps { .. } => {}
                other => dead.add(other),
            }
        }
        dead
    }

    /// The part that joins two points replaced by a resistance.
    fn without_joining(&self, red: &str, black: &str, ohms: f64) -> Self {
        let mut other = self.clone();
        let joins = |kind: &ComponentKind| {
            let ends = kind.points();
            (ends[0] == red && ends[1] == black) || (ends[0] == black && ends[1] == red)
        };
        let opened: Vec<String> = other
            .circuit
            .components
            .iter()
            .filter(|part| {
                use ComponentKind as Kind;
                joins(&part.kind)
                    && matches!(
                        part.kind,
                        Kind::Fuse { .. } | Kind::Wire { .. } | Kind::Connection { .. } | Kind::Switch { .. }
                    )
            })
            .map(|part| part.id.clone())
            .collect();
        other.faults.retain(|fault| !opened.contains(&fault.component));
        let parts = &mut Arc::make_mut(&mut other.circuit).components;
        if let Some(part) = parts.iter_mut().find(|part| opened.contains(&part.id)) {
            part.kind = ComponentKind::Connection { from: red.to_owned(), to: black.to_owned(), ohms };
        }
        other
    }

    /// A point and a tiny resistance put between `red` and the part that joins it to `black`.
    fn with_clamp(&self, red: &str, black: &str, inner: &str, ohms: f64) -> Self {
        let mut other = self.clone();
        let mut moved = false;
        let circuit = Arc::make_mut(&mut other.circuit);
        for part in &mut circuit.components {
            let ends: Vec<String> = part.kind.points().iter().map(|end| (*end).to_owned()).collect();
            let joins = ends.len() == 2
                && ((ends[0] == red && ends[1] == black) || (ends[0] == black && ends[1] == red));
            if joins && !moved {
                moved = true;
                part.kind = renamed(&part.kind, red, inner);
                for fault in other.faults.iter_mut().filter(|fault| fault.component == part.id) {
                    if fault.at.as_deref() == Some(red) {
                        fault.at = Some(inner.to_owned());
                    }
                }
            }
        }
        if let (Some(mut point), Some(mut part)) =
            (circuit.points.first().cloned(), circuit.components.first().cloned())
        {
            inner.clone_into(&mut point.id);
            "clamp".clone_into(&mut part.id);
            part.kind = ComponentKind::Connection { from: red.to_owned(), to: inner.to_owned(), ohms };
            part.present_when.clear();
            part.faults.clear();
            circuit.points.push(point);
            circuit.components.push(part);
        }
        other
    }
}

fn renamed(kind: &ComponentKind, from: &str, to: &str) -> ComponentKind {
    let mut value = serde_json::to_value(kind).unwrap_or_default();
    let ends = value.as_object_mut().into_iter().flat_map(|kinds| kinds.values_mut());
    for field in ends.filter_map(serde_json::Value::as_object_mut).flat_map(|fields| fields.values_mut()) {
        if field.as_str() == Some(from) {
            *field = to.into();
        }
    }
    serde_json::from_value(value).unwrap_or_else(|_| kind.clone())
}
