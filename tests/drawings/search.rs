//! A search as it would go in a shop: a fault put in, the engine's own next tests, the engine's own probabilities.

use circuit::{
    Circuit, Diagnosis, Engine, Fault, FaultMode, Meter, Observation, ObservedValue, Options, State, TestKind,
};

use drawing::{Facts, Language, Picture, Plan};

use crate::vehicle::{Instrument, Vehicle};

/// One moment of a search.
#[derive(Clone)]
pub struct Moment {
    pub observations: Vec<Observation>,
    pub diagnosis: Diagnosis,
    pub next: Option<String>,
    /// State of the next test, or of the last one.
    pub state: State,
}

/// Tests of a search at most.
const MOST: usize = 9;

/// All moments of the search for one fault of a circuit: the wire, joint or part with the highest odds whose fault shows.
pub fn moments(circuit: &Circuit) -> Vec<Moment> {
    let fault = fault(circuit);
    let vehicle = Vehicle { faults: fault.into_iter().collect(), ..Vehicle::healthy(circuit) };
    let (meter, options) = (Meter::default(), Options::default());
    let engine = Engine::new(circuit, &meter, &options).unwrap();
    let mut observations: Vec<Observation> = Vec::new();
    let mut moments = Vec::new();
    let mut state = State::new();
    loop {
        let diagnosis = engine.diagnose(&observations).unwrap();
        let next = diagnosis.next.first().map(|next| next.test.clone());
        let next = next.filter(|_| observations.len() < MOST && diagnosis.causes[0].probability < 0.97);
        let test = next.as_ref().map(|id| circuit.tests.iter().find(|test| test.id == *id).unwrap());
        if let Some(test) = test {
            state = test.state.clone();
        }
        moments.push(Moment {
            observations: observations.clone(),
            diagnosis,
            next: next.clone(),
            state: state.clone(),
        });
        let Some(test) = test else { return moments };
        let value = if test.kind() == TestKind::Meter {
            let leads = (test.red.as_deref().unwrap(), test.black.as_deref().unwrap());
            vehicle.reading(test, leads, &Instrument::perfect(&meter), None).unwrap()
        } else if vehicle.answer(test).unwrap() {
            ObservedValue::Yes
        } else {
            ObservedValue::No
        };
        let number = observations.len() + 1;
        observations.push(Observation::at(
            test,
            format!("{number} {}", test.id),
            value,
            u32::try_from(number).unwrap(),
        ));
    }
}

fn fault(circuit: &Circuit) -> Option<Fault> {
    let mut faults: Vec<(f64, Fault)> = Vec::new();
    for part in &circuit.components {
        for spec in &part.faults {
            let severity = match (spec.min, spec.max) {
                (Some(min), Some(max)) => (min * max).sqrt(),
                _ => 0.0,
            };
            let known =
                matches!(spec.mode, FaultMode::HighResistance | FaultMode::Open | FaultMode::StuckOpen);
            let wired = part.kind.points().len() == 2;
            if known && wired {
                let fault =
                    Fault { component: part.id.clone(), mode: spec.mode, severity, at: spec.at.clone() };
                faults.push((spec.odds, fault));
            }
        }
    }
    faults.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.component.cmp(&other.1.component)));
    let shows = |fault: &Fault| {
        Vehicle { faults: vec![fault.clone()], ..Vehicle::healthy(circuit) }.complains().unwrap_or(false)
    };
    let wire = |fault: &Fault| fault.mode == FaultMode::HighResistance;
    let mut all = faults.into_iter().map(|(_, fault)| fault);
    let shown: Vec<Fault> = all.by_ref().filter(shows).collect();
    shown.iter().find(|fault| wire(fault)).or(shown.first()).cloned()
}

/// The picture of a moment.
pub fn drawn(plan: &Plan, circuit: &Circuit, moment: &Moment, language: Language, width: f64) -> Picture {
    let facts = Facts {
        diagnosis: &moment.diagnosis,
        observations: &moment.observations,
        state: &moment.state,
        next: moment.next.as_deref(),
    };
    plan.draw(circuit, &facts, language, width)
}

/// Beginning, middle and end.
pub fn three(moments: &[Moment]) -> [&Moment; 3] {
    let last = moments.len() - 1;
    let crowd =
        |moment: &Moment| moment.diagnosis.causes.iter().filter(|cause| cause.probability > 0.03).count();
    let middle = (1..last).filter(|at| crowd(&moments[*at]) >= 3).max().unwrap_or(last / 2);
    [&moments[0], &moments[middle], &moments[last]]
}
