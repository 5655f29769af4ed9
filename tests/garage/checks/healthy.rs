//! A healthy vehicle has no complaint and passes what it must pass.

use super::*;

/// Within its limits, or answered as on the vehicle of the drawing.
fn passes(circuit: &Circuit, bench: &mut Bench, test: &circuit::Test) -> Result<(), String> {
    if test.question.is_some() {
        let drawn = truth::happens(&mut super::bench(circuit, &[]), test).unwrap();
        let here = truth::happens(bench, test).unwrap();
        return if here == drawn { Ok(()) } else { Err(format!("{} {}: {here}", circuit.id, test.id)) };
    }
    let shown = measure::perfect(circuit, bench, test, &Instrument::plain()).unwrap();
    let Some(limits) = &test.limits else { return Ok(()) };
    let shown = match shown {
        Some(ObservedValue::Number(number)) => number,
        _ => f64::INFINITY,
    };
    if limits.contain(shown) {
        Ok(())
    } else {
        Err(format!("{} {}: {shown:.3}, {:?} {:?}", circuit.id, test.id, limits.min, limits.max))
    }
}

#[test]
fn the_vehicle_of_the_drawing_is_healthy() {
    for circuit in library() {
        let mut bench = bench(&circuit, &[]);
        assert!(!truth::complains(&circuit, &mut bench).unwrap(), "{} complains", circuit.id);
        let wrong: Vec<String> =
            circuit.tests.iter().filter_map(|test| passes(&circuit, &mut bench, test).err()).collect();
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        answers_as_added(&circuit, &mut bench);
        assert!(bench.blown.is_empty(), "{} blows a fuse", circuit.id);
    }
}

/// What is asked of every circuit: the conditions are met, the output test works, a new fuse doesn't blow.
fn answers_as_added(circuit: &Circuit, bench: &mut Bench) {
    for test in &circuit.tests {
        let Some(question) = &test.question else { continue };
        let expected = match &question.behavior {
            circuit::Behavior::ConditionsMet { .. } => true,
            circuit::Behavior::DamageSeen { .. } => false,
            _ if test.state.get("scan_tool").is_some_and(|value| value == "output_test") => true,
            _ => continue,
        };
        assert_eq!(truth::happens(bench, test).unwrap(), expected, "{} {}", circuit.id, test.id);
    }
}

#[test]
fn scattered_healthy_vehicles_mostly_pass() {
    let (mut seen, mut wrong, mut complaints) = (0_u32, Vec::new(), Vec::new());
    for circuit in library() {
        for seed in 0..12 {
            let vehicle = Vehicle::healthy(&circuit, &mut Dice::named(&circuit.id, seed));
            let mut bench = Bench::new(vehicle, BTreeSet::new());
            if truth::complains(&circuit, &mut bench).unwrap() {
                complaints.push(circuit.id.clone());
            }
            for test in &circuit.tests {
                seen += 1;
                wrong.extend(passes(&circuit, &mut bench, test).err());
            }
        }
    }
    assert!(complaints.is_empty(), "{complaints:?}");
    assert!(wrong.len() * 100 <= seen as usize, "{} of {seen}: {}", wrong.len(), wrong.join("\n"));
}
