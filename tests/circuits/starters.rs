//! A starter that doesn't crank, with half of the battery's volts at the relay's control terminal: relay in, relay out,
//! and then whatever the engine asks for. Not one of these may end with the module called unless it is the module.

use circuit::{
    Circuit, ComponentKind, Engine, Fault, FaultMode, Level, Meter, Observation, ObservedValue, Options,
    Present, State, Test, library, solve,
};

use crate::bench::fault;
use crate::random::Random;
use crate::separable::cause_id;
use crate::technician::{Ended, ended, leading_group};
use crate::vehicle::{Instrument, Vehicle};

const HIGH: &str = "starter_control_high_side";
const LOW: &str = "starter_control_low_side";

/// What the module's output has inside while it is off. The circuit file says 20 kohm up; vehicles differ.
#[derive(Debug, Clone, Copy)]
enum Off {
    AsFiled,
    /// Half of the battery's volts on an open pin.
    Divider,
    Down,
}

fn vehicle(circuit: &Circuit, off: Off, fault: Fault) -> Vehicle {
    let mut vehicle = Vehicle { faults: vec![fault], ..Vehicle::healthy(circuit) };
    for part in &mut std::sync::Arc::make_mut(&mut vehicle.circuit).components {
        if let ComponentKind::HighSideDriver { off_pull_up_ohms: up, off_pull_down_ohms: down, .. }
        | ComponentKind::LowSideDriver { off_pull_up_ohms: up, off_pull_down_ohms: down, .. } =
            &mut part.kind
        {
            (*up, *down) = match off {
                Off::AsFiled => (*up, *down),
                Off::Divider => (Some(10e3), Some(10e3)),
                Off::Down => (None, Some(5e3)),
            };
        }
    }
    vehicle
}

struct Search<'s> {
    engine: &'s Engine<'s>,
    vehicle: &'s Vehicle,
    instrument: Instrument,
    random: Random,
    observations: Vec<Observation>,
}

impl<'s> Search<'s> {
    fn new(engine: &'s Engine<'s>, vehicle: &'s Vehicle, seed: u64) -> Self {
        let mut random = Random::new(seed);
        let instrument = Instrument::new(&Meter::default(), &mut random);
        Self { engine, vehicle, instrument, random, observations: Vec::new() }
    }

    fn take(&mut self, id: &str) -> ObservedValue {
        let test: &Test = self.vehicle.circuit.tests.iter().find(|test| test.id == id).unwrap();
        let value = match (&test.red, &test.black) {
            (Some(red), Some(black)) => {
                let leads = (red.as_str(), black.as_str());
                self.vehicle.reading(test, leads, &self.instrument, Some(&mut self.random)).unwrap()
            }
            _ if self.vehicle.answer(test).unwrap() => ObservedValue::Yes,
            _ => ObservedValue::No,
        };
        let number = u32::try_from(self.observations.len()).unwrap() + 1;
        let seen = Observation::at(test, format!("{number} {id}"), value, number);
        self.observations.push(Observation { complaint: Present::Yes, ..seen });
        value
    }

    /// Does what the engine asks for until something is called or nothing is left: how it ended, what leads, and how likely
    /// the leading part is in all its ways to fail.
    fn finish(&mut self) -> (Ended, Vec<String>, f64) {
        loop {
            let found = self.engine.diagnose(&self.observations).unwrap();
            let end = ended(&found, 0.97);
            let fresh = |test: &&String| {
                self.observations.iter().filter(|seen| seen.test.as_ref() == Some(*test)).count() < 3
            };
            let module = &found.modules[0];
            let wanted = module.missing.iter().filter(|_| module.probability > 0.5);
            let wanted = wanted.filter_map(|missing| missing.test.as_ref()).find(fresh);
            let next = wanted.or_else(|| found.next.iter().map(|next| &next.test).find(fresh)).cloned();
            match next.filter(|_| end == Ended::NotProven && self.observations.len() < 45) {
                Some(test) => drop(self.take(&test)),
                None => {
                    let part = found.causes.first().map(|cause| &cause.component);
                    let own = found.causes.iter().filter(|cause| Some(&cause.component) == part);
                    let likely = own.map(|cause| cause.probability).sum();
                    return (ended(&found, 0.9), leading_group(&found), likely);
                }
            }
        }
    }
}

fn number(value: ObservedValue) -> f64 {
    match value {
        ObservedValue::Number(number) => number,
        other => panic!("{other:?}"),
    }
}

/// Complaint, click, control terminal with the relay in and with it out; then what the engine asks for.
fn story(engine: &Engine<'_>, vehicle: &Vehicle, seed: u64) -> Told {
    assert!(vehicle.complains().unwrap(), "{:?}", vehicle.faults);
    let mut search = Search::new(engine, vehicle, seed);
    search.take("starter_cranks");
    search.take("relay_clicks");
    let control = [number(search.take("control_loaded")), number(search.take("control_open"))];
    let (ended, leading, likely) = search.finish();
    let taken = search.observations.iter().filter_map(|seen| seen.test.clone()).collect();
    Told { control, ended, leading, likely, taken }
}

struct Told {
    /// Volts at the control terminal, relay in and relay out.
    control: [f64; 2],
    ended: Ended,
    leading: Vec<String>,
    /// Probability of the part that leads.
    likely: f64,
    taken: Vec<String>,
}

impl Told {
    /// Called in the end, or so likely with all its ways to fail that nothing else would be looked for.
    fn names(&self, fault: &Fault) -> bool {
        let id = cause_id(&fault.component, fault.mode);
        match &self.ended {
            Ended::CauseCalled(called) => called.contains(&id),
            Ended::NotProven => self.likely > 0.9 && self.leading.contains(&id),
            Ended::ModuleCalled(_) => false,
        }
    }

    fn half(&self) -> bool {
        self.control.iter().any(|volts| (4.5..8.0).contains(volts))
    }
}

fn engine(circuit: &Circuit) -> Engine<'_> {
    let options = Options { next_tests: 3, ..Options::default() };
    Engine::new(circuit, &Meter::default(), &options).unwrap()
}

/// What is wrong though the module is good.
fn good_module(id: &str) -> Vec<Fault> {
    let resistance = |part: &str, ohms| fault(part, FaultMode::HighResistance, ohms);
    let mut all = vec![
        resistance("wire_control", 75.0),
        resistance("wire_module_ground", if id == HIGH { 40.0 } else { 18.0 }),
        fault("theft_release", FaultMode::StuckOpen, 0.0),
        fault("range_switch", FaultMode::StuckOpen, 0.0),
        // Something else that the module wants first isn't met: the module withholds the start, and is good.
        fault("driver", FaultMode::NotCommanded, 0.0),
    ];
    if id == HIGH {
        // In the coil's own leg half of the volts stand there too.
        all.push(resistance("range_switch", 75.0));
    }
    all
}

/// A control wire, the module's ground, the theft release, the neutral switch: none ends with the module called, whatever
/// the module has inside while it is off. Where the circuit file knows that, each is found and called.
#[test]
fn a_good_module_is_never_called() {
    for id in [HIGH, LOW] {
        let circuit = library::find(id).unwrap();
        let engine = engine(&circuit);
        let mut halves = 0;
        for (off, seeds) in [(Off::AsFiled, 0..3), (Off::Divider, 3..5), (Off::Down, 5..7)] {
            for (fault, seed) in good_module(id)
                .into_iter()
                .flat_map(|fault| seeds.clone().map(move |seed| (fault.clone(), seed)))
            {
                let told = story(&engine, &vehicle(&circuit, off, fault.clone()), seed);
                let what =
                    format!("{id}, {off:?}, {fault:?}: {:?} {:?} {:?}", told.ended, told.leading, told.taken);
                assert!(!matches!(told.ended, Ended::ModuleCalled(_)), "{what}");
                // Withheld by the module it is a question of programming: nothing more to measure.
                let asked_for = matches!(off, Off::AsFiled) && fault.component != "driver";
                assert!(!asked_for || told.names(&fault), "{what} {}", told.likely);
                halves += usize::from(told.half());
            }
        }
        assert!(halves >= 8, "{id}: {halves} with half of the volts");
    }
}

/// A driver that is weak, or dead, is called at the end, and only with the whole list done.
#[test]
fn a_bad_driver_is_called() {
    for (id, module) in [(HIGH, "engine_module"), (LOW, "body_module")] {
        let circuit = library::find(id).unwrap();
        let engine = engine(&circuit);
        for (mode, ohms) in [(FaultMode::Weak, 75.0), (FaultMode::Dead, 0.0), (FaultMode::Unresponsive, 0.0)]
        {
            let told = story(&engine, &vehicle(&circuit, Off::AsFiled, fault("driver", mode, ohms)), 7);
            assert_eq!(
                told.ended,
                Ended::ModuleCalled(module.to_owned()),
                "{id} {mode:?}: {:?}",
                told.leading
            );
            assert!(mode != FaultMode::Weak || told.half());
            let whole = circuit.modules[0].evidence.iter().flat_map(|need| &need.tests);
            let open: Vec<&String> = whole.filter(|test| !told.taken.contains(test)).collect();
            assert!(open.is_empty(), "{id} {mode:?}: called without {open:?}");
        }
    }
}

/// What the module has inside while it is off isn't in any diagram: with half of the volts on an open pin the cause is
/// found all the same.
#[test]
#[ignore = "the engine holds the pull-up of the circuit file for certain"]
fn another_off_state_hides_no_cause() {
    for (id, module) in [(HIGH, "engine_module"), (LOW, "body_module")] {
        let circuit = library::find(id).unwrap();
        let engine = engine(&circuit);
        for off in [Off::Divider, Off::Down] {
            for fault in good_module(id) {
                let told = story(&engine, &vehicle(&circuit, off, fault.clone()), 7);
                let what =
                    format!("{id}, {off:?}, {fault:?}: {:?} {:?} {:?}", told.ended, told.leading, told.taken);
                assert!(fault.component == "driver" || told.names(&fault), "{what}");
            }
            for (mode, ohms) in
                [(FaultMode::Weak, 75.0), (FaultMode::Dead, 0.0), (FaultMode::Unresponsive, 0.0)]
            {
                let told = story(&engine, &vehicle(&circuit, off, fault("driver", mode, ohms)), 7);
                assert_eq!(
                    told.ended,
                    Ended::ModuleCalled(module.to_owned()),
                    "{id} {off:?} {mode:?}: {:?}",
                    told.leading
                );
            }
        }
    }
}

/// The battery sags while the starter cranks, and only then: nobody who tests a starter that stands still reads a sagging
/// battery.
#[test]
fn the_battery_sags_only_while_it_cranks() {
    for id in [HIGH, LOW] {
        let circuit = library::find(id).unwrap();
        let state = State::from([("key".to_owned(), "crank".to_owned())]);
        let at = |faults: &[Fault]| {
            let solution = solve(&circuit, &state, faults, None).unwrap();
            let volts = |point: &str| match solution.points[point] {
                Level::Volts(volts) => volts,
                Level::Floating => f64::NAN,
            };
            (solution.working["solenoid"], volts("bat_pos"))
        };
        // By hand: 12.5 V over battery 0.01, cable 1.3 m of 35 mm² at 0.554 mohm/m (0.78 · 25/35, 25 °C), contact 0.0003,
        // motor 0.055 and ground 0.0008 ohm: 187 A, which with the solenoid's 12 A takes 2.0 V from the battery.
        let (cranks, volts) = at(&[]);
        assert!(cranks && (volts - 10.5).abs() < 0.1, "{volts}");
        let (cranks, volts) = at(&[fault("theft_release", FaultMode::StuckOpen, 0.0)]);
        assert!(!cranks && volts > 12.4, "{volts}");
    }
}

/// A lead on 87 or 86 waits for a battery that was measured, and says that the engine may crank.
#[test]
fn leads_to_the_socket_are_cautious() {
    for id in [HIGH, LOW] {
        let circuit = library::find(id).unwrap();
        let leads: Vec<&Test> = circuit.tests.iter().filter(|test| test.id.starts_with("lead_to_")).collect();
        assert_eq!(leads.len(), if id == HIGH { 2 } else { 3 });
        for test in leads {
            let cautions: Vec<&str> = test.cautions.iter().map(String::as_str).collect();
            assert!(cautions.contains(&"cranking") && cautions.contains(&"jumping_a_pin"), "{cautions:?}");
            assert!(test.requires.iter().any(|needed| needed.test == "battery_volts"));
        }
        let cranks = circuit.tests.iter().filter(|test| {
            let asked = test.state.get("key").is_some_and(|key| key == "crank");
            asked && test.state.get("relay").is_none_or(|relay| relay != "removed")
        });
        assert!(cranks.clone().count() > 15);
        for test in cranks {
            assert!(test.cautions.contains(&"cranking".to_owned()), "{}: the engine may crank", test.id);
        }
    }
}
