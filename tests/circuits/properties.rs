//! What must hold for any readings: their order plays no part, and a test that can tell nothing changes nothing.

use circuit::{Circuit, Engine, Meter, Observation, ObservedValue, Options, Present, library};
use proptest::prelude::*;

/// Place of a test, volts, the answer, and whether the complaint was there.
type Chosen = (usize, f64, bool, Present);

fn present() -> impl Strategy<Value = Present> {
    prop::sample::select(vec![Present::Yes, Present::No, Present::Unknown])
}

/// Observations at the tests chosen, with values near what a circuit may show.
fn observations(circuit: &Circuit, chosen: &[Chosen]) -> Vec<Observation> {
    let mut all: Vec<Observation> = Vec::new();
    for (i, (place, volts, yes, complaint)) in chosen.iter().enumerate() {
        let test = &circuit.tests[place % circuit.tests.len()];
        let value = match (&test.question, test.mode) {
            (Some(_), _) if *yes => ObservedValue::Yes,
            (Some(_), _) => ObservedValue::No,
            _ => ObservedValue::Number((volts * 100.0).round() / 100.0),
        };
        let seen = Observation::at(test, i.to_string(), value, u32::try_from(i).unwrap());
        all.push(Observation { complaint: *complaint, ..seen });
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn order_plays_no_part(
        chosen in prop::collection::vec((0_usize..40, 0.0..13.0_f64, any::<bool>(), present()), 1..6),
        turn in 0_usize..6,
    ) {
        let circuit = library::find("starter_power").unwrap();
        let engine = Engine::new(&circuit, &Meter::default(), &Options::default()).unwrap();
        let mut seen = observations(&circuit, &chosen);
        let forward = engine.diagnose(&seen).unwrap();
        let places = seen.len();
        prop_assert_eq!(&engine.diagnose(&seen).unwrap(), &forward, "the same again gives the same digits");
        // Of what may have gone astray only the likeliest histories are kept, and which, hangs on the order. Where nobody looked
        // whether the fault showed, a reading doubles them. Seen: 0.00002 and 0.00024 at most in 6,000 cases.
        let in_doubt = |seen: &Observation| {
            seen.complaint == Present::Unknown && matches!(seen.value, ObservedValue::Number(_))
        };
        let bound = if seen.iter().any(in_doubt) { 1e-3 } else { 1e-4 };
        seen.rotate_left(turn % places);
        let turned = engine.diagnose(&seen).unwrap();
        for cause in &forward.causes {
            let other = turned.causes.iter().find(|other| other.id == cause.id).unwrap();
            let off = (cause.probability - other.probability).abs();
            prop_assert!(off < bound, "{}: off by {off}", cause.id);
        }
    }

    /// Both leads on one point: every cause predicts zero volts.
    #[test]
    fn a_test_that_can_tell_nothing_changes_nothing(
        chosen in prop::collection::vec((0_usize..40, 0.0..13.0_f64, any::<bool>(), Just(Present::Yes)), 1..5),
    ) {
        let mut circuit = library::find("starter_power").unwrap();
        circuit.unmodeled_odds = 1e-12;
        let engine = Engine::new(&circuit, &Meter::default(), &Options::default()).unwrap();
        let mut seen = observations(&circuit, &chosen);
        let before = engine.diagnose(&seen).unwrap();
        seen.push(Observation {
            id: "idle".to_owned(),
            mode: circuit::MeasureMode::VoltsDc,
            red: Some("bat_neg".to_owned()),
            black: Some("bat_neg".to_owned()),
            value: ObservedValue::Number(0.0),
            complaint: Present::Yes,
            placement: 99,
            ..Observation::default()
        });
        let after = engine.diagnose(&seen).unwrap();
        for cause in &before.causes {
            let other = after.causes.iter().find(|other| other.id == cause.id).unwrap();
            let off = (cause.probability - other.probability).abs();
            // Its curve has ends of its own, so severities are summed at other points: as near as the sum itself is to
            // converged (0.005, see `doubling_the_grid_changes_nothing`). Seen: 0.0023 at most in 1,500 cases.
            prop_assert!(off < 5e-3, "{}: off by {off}", cause.id);
        }
    }
}
