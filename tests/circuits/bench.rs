//! A bench with a hidden fault: takes readings as a technician would, with a meter's error and rounding.

use circuit::{
    Behavior, Circuit, Diagnosis, Fault, FaultMode, Level, MeasureMode, Meter, Observation, ObservedValue,
    Options, Present, diagnose, solve,
};

use crate::vehicle::{Instrument, Vehicle};

pub struct Bench<'c> {
    circuit: &'c Circuit,
    fault: Fault,
    pub meter: Meter,
    pub observations: Vec<Observation>,
    noise: u64,
}

pub fn fault(component: &str, mode: FaultMode, severity: f64) -> Fault {
    Fault { component: component.to_owned(), mode, severity, at: None }
}

impl<'c> Bench<'c> {
    pub fn new(circuit: &'c Circuit, fault: Fault) -> Self {
        Self {
            circuit,
            fault,
            meter: Meter::default(),
            observations: Vec::new(),
            noise: 0x9e37_79b9_7f4a_7c15,
        }
    }

    /// Does a test at a new placement with the complaint present.
    pub fn take(&mut self, test: &str) -> ObservedValue {
        self.take_when(test, Present::Yes)
    }

    pub fn take_when(&mut self, id: &str, complaint: Present) -> ObservedValue {
        let test = self.circuit.tests.iter().find(|test| test.id == id).unwrap();
        let faults = std::slice::from_ref(&self.fault);
        let faults = if complaint == Present::No { &[] } else { faults };
        let solution = solve(self.circuit, &test.state, faults, test.load.as_deref()).unwrap();
        let volts = |point: &Option<String>| match solution.points[point.as_ref().unwrap()] {
            Level::Volts(volts) => volts,
            Level::Floating => 0.0,
        };
        let value = match &test.question {
            None if test.mode == MeasureMode::VoltsDc => {
                let exact = volts(&test.red) - volts(&test.black);
                let off = exact * (1.0 + 0.0025 * self.next_noise());
                ObservedValue::Number((off * 100.0).round() / 100.0)
            }
            None => {
                let healthy = Vehicle::healthy(self.circuit);
                let vehicle = Vehicle { faults: faults.to_vec(), ..healthy };
                let leads = (test.red.as_deref().unwrap(), test.black.as_deref().unwrap());
                vehicle.reading(test, leads, &Instrument::perfect(&self.meter), None).unwrap()
            }
            Some(question) => {
                let so = match &question.behavior {
                    Behavior::CoilPullsIn { coil } => solution.working[coil],
                    // A burnt filament has all volts across it and works no more.
                    Behavior::PartWorks { .. } => {
                        let healthy = Vehicle::healthy(self.circuit);
                        Vehicle { faults: faults.to_vec(), ..healthy }.answer(test).unwrap()
                    }
                    Behavior::ModuleSees { needs } => needs.iter().all(|need| {
                        let seen = volts(&Some(need.red.clone())) - volts(&Some(need.black.clone()));
                        need.at_least.is_none_or(|least| seen >= least)
                            && need.at_most.is_none_or(|most| seen <= most)
                    }),
                    Behavior::ConditionsMet { component } => {
                        self.fault.component != *component || self.fault.mode != FaultMode::NotCommanded
                    }
                    Behavior::AlternatingSeen { .. } => unimplemented!("the bench turns no wheel"),
                    Behavior::CarriesMoreThan { .. } => unimplemented!("the bench clamps no part"),
                    Behavior::DamageSeen { components } => components.contains(&self.fault.component),
                };
                if so { ObservedValue::Yes } else { ObservedValue::No }
            }
        };
        let number = u32::try_from(self.observations.len()).unwrap() + 1;
        let seen = Observation::at(test, format!("{number} {id}"), value, number);
        self.observations.push(Observation { complaint, ..seen });
        value
    }

    pub fn diagnosis(&self) -> Diagnosis {
        diagnose(self.circuit, &self.meter, &self.observations, &Options::default()).unwrap()
    }

    /// Between −1 and 1, the same in every run.
    fn next_noise(&mut self) -> f64 {
        self.noise ^= self.noise << 13;
        self.noise ^= self.noise >> 7;
        self.noise ^= self.noise << 17;
        f64::from(u32::try_from(self.noise >> 40).unwrap()) / f64::from(1_u32 << 23) - 1.0
    }
}
