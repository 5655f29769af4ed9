//! A healthy vehicle has no complaint and passes what it must pass.

use super::*;

fn passes(circuit: &Circuit, bench: &mut Bench, test: &circuit::Test) -> Result<(), String> {
    if test.question.is_some() {
        return Ok(());
    }
    let shown = measure::perfect(circuit, bench, test, &Instrument::plain()).unwrap();
    let Some(limits) = &test.limits else { return Ok(()) };
    let shown = match shown {
        Some(ObservedValue::Number(number)) => number,
        _ => f64::INFINITY,
    };
    if limits.contain(shown) { Ok(()) } else { Err(format!("{} {}: {shown}", circuit.id, test.id)) }
}

#[test]
fn the_vehicle_of_the_drawing_is_healthy() {
    for circuit in library() {
        let mut bench = bench(&circuit, &[]);
        assert!(!truth::complains(&circuit, &mut bench).unwrap(), "{} complains", circuit.id);
        let wrong: Vec<String> =
            circuit.tests.iter().filter_map(|test| passes(&circuit, &mut bench, test).err()).collect();
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        assert!(bench.blown.is_empty(), "{} blows a fuse", circuit.id);
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
