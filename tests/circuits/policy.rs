//! Our choice of tests against exact dynamic programming, where that is within reach: mean minutes within 2 %.

use circuit::{Circuit, MeasureMode, Meter, Test, library};

use crate::trial_policy::minutes;

/// Two wires and a lamp with tests of different prices.
fn with_tests(prices: [f64; 5]) -> Circuit {
    let mut circuit = Circuit::from_json(include_str!("two_wires.json")).unwrap();
    circuit.unmodeled_odds = 0.01;
    let lit = circuit.tests[0].clone();
    let leads = [
        ("feed", "ground"),
        ("lamp_in", "ground"),
        ("lamp_out", "ground"),
        ("lamp_in", "lamp_out"),
        ("feed", "lamp_in"),
    ];
    for ((red, black), minutes) in leads.into_iter().zip(prices) {
        circuit.tests.push(Test {
            id: format!("{red}_{black}"),
            mode: MeasureMode::VoltsDc,
            red: Some(red.to_owned()),
            black: Some(black.to_owned()),
            minutes,
            compares: circuit::Compared::Value,
            condition: None,
            question: None,
            ..lit.clone()
        });
    }
    circuit
}

#[test]
fn minutes_are_within_two_percent_of_the_optimum() {
    let small = [[1.0, 2.0, 3.0, 2.5, 4.0], [2.0, 6.0, 1.0, 5.0, 2.0], [1.0, 1.0, 8.0, 9.0, 1.5]];
    let mut circuits: Vec<Circuit> = small.into_iter().map(with_tests).collect();
    circuits.push(library::find("starter_power").unwrap());
    for circuit in circuits {
        let found = minutes(&circuit, &Meter::default()).unwrap();
        let best = found.optimum.expect("small enough for dynamic programming");
        assert!(best > 0.0, "{}: nothing to find", circuit.id);
        assert!(found.ours <= 1.02 * best, "{}: ours {} min, optimum {best} min", circuit.id, found.ours);
        assert!(found.cheapest_first >= best - 1e-9 && found.fixed_order >= best - 1e-9, "{found:?}");
    }
}
