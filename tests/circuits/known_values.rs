//! Values of handbooks and data sheets beside what the engine and the library hold. Each row of `known_values.csv` keeps
//! its source and status; a value from memory stays one.

use circuit::entered::WireSize;
use circuit::{Circuit, ColorCode, ComponentKind, Netlist, library, wire_ohms};

struct Known {
    group: String,
    quantity: String,
    value: String,
    unit: String,
    status: String,
}

/// Rows of the table; fields with commas stand in quotes.
fn rows() -> Vec<Known> {
    let fields = |line: &str| {
        let mut fields = vec![String::new()];
        let mut quoted = false;
        for c in line.chars() {
            match c {
                '"' => quoted = !quoted,
                ',' if !quoted => fields.push(String::new()),
                c => fields.last_mut().unwrap().push(c),
            }
        }
        fields
    };
    let rows = include_str!("known_values.csv").lines().skip(1).map(fields);
    rows.map(|f| {
        assert_eq!(f.len(), 6, "{f:?}");
        assert!(!f[4].is_empty() && !f[5].is_empty(), "{f:?}: no source or status");
        Known {
            group: f[0].clone(),
            quantity: f[1].clone(),
            value: f[2].clone(),
            unit: f[3].clone(),
            status: f[5].clone(),
        }
    })
    .collect()
}

fn of(group: &str) -> impl Iterator<Item = Known> {
    rows().into_iter().filter(move |row| row.group == group)
}

fn number(row: &Known) -> f64 {
    row.value.parse().unwrap()
}

#[test]
fn every_row_has_a_known_status() {
    let known = [
        "published (seen)",
        "computed from published formula",
        "common practice, no standard found",
        "from memory, unverified",
    ];
    for row in rows() {
        assert!(known.contains(&row.status.as_str()), "{}: {}", row.quantity, row.status);
    }
}

/// IEC 60228 class 5 (published, seen): our wires carry exactly these highest resistances.
#[test]
fn metric_wires() {
    let mut compared = 0;
    for row in of("wire").filter(|row| row.quantity.starts_with("IEC 60228")) {
        let area: f64 = row
            .quantity
            .split_whitespace()
            .find_map(|word| word.parse().ok().filter(|n| *n != 60228.0 && *n != 5.0))
            .unwrap();
        let ours = wire_ohms(1.0, area, 20.0) * 1000.0;
        assert!((ours - number(&row)).abs() < 1e-9, "{}: {ours}", row.quantity);
        compared += 1;
    }
    assert_eq!(compared, 10);
}

/// AWG by the ASTM B258 law with solid copper (published tables and computed). Our wires are stranded and take the
/// highest resistance of the metric class, so that they lie above, at most by a fifth.
#[test]
fn awg_wires() {
    let mut compared = 0;
    for row in of("wire").filter(|row| row.quantity.starts_with("AWG")) {
        let awg: i32 = row.quantity.split_whitespace().nth(1).unwrap().parse().unwrap();
        let area = WireSize::Awg(awg).area_mm2();
        // The law alone: 10.371 ohm per circular-mil foot at 20 °C is 1.7241e-2 ohm·mm²/m.
        let solid = 0.017_241 / area * 304.8;
        assert!((solid / number(&row) - 1.0).abs() < 2e-3, "{}: {solid}", row.quantity);
        let ours = wire_ohms(304.8, area, 20.0);
        assert!((1.0..1.2).contains(&(ours / number(&row))), "{}: {ours}", row.quantity);
        compared += 1;
    }
    assert_eq!(compared, 13);
}

/// Copper's temperature coefficient (from memory, unverified).
#[test]
fn warm_wires() {
    let coefficient = of("wire").find(|row| row.quantity.starts_with("copper temperature")).unwrap();
    let rise = wire_ohms(1.0, 1.0, 120.0) / wire_ohms(1.0, 1.0, 20.0) - 1.0;
    assert!((rise / 100.0 - number(&coefficient)).abs() < 1e-9);
}

/// 1 mV across a 10 A fuse is 130 mA (published, seen): every fuse of the library in proportion.
#[test]
fn fuses() {
    let at_10 = number(&of("fuse").find(|row| row.unit == "mohm").unwrap());
    assert!((1.0 / at_10 * 1000.0 - 130.0).abs() < 0.5, "the two published figures agree");
    for circuit in library::all().unwrap() {
        for part in &circuit.components {
            if let ComponentKind::Fuse { ohms, rating_amps, .. } = part.kind {
                let expected = at_10 / 1000.0 * 10.0 / rating_amps;
                assert!((ohms / expected - 1.0).abs() < 0.02, "{} {}: {ohms}", circuit.id, part.id);
            }
        }
    }
}

/// Battery at rest: our limit of 12.2 V stands for the published half charge of 12.24 V, less a count and the load of
/// the clock; full charge lies within the spread of our healthy batteries.
#[test]
fn batteries() {
    let volts = |share: &str| {
        number(&of("battery").find(|row| row.quantity.contains(&format!("SOC {share}%"))).unwrap())
    };
    for circuit in library::all().unwrap() {
        for test in
            circuit.tests.iter().filter(|test| test.id == "battery_volts" || test.id == "battery_rest")
        {
            let least = test.limits.as_ref().unwrap().min.unwrap();
            assert!((volts("50") - least).abs() <= 0.05, "{} {least}", circuit.id);
        }
        for part in &circuit.components {
            if let ComponentKind::Battery { volts: ours, volts_spread, .. } = part.kind {
                let band = volts("75") - volts_spread..=volts("100") + volts_spread;
                assert!(band.contains(&ours), "{}: {ours}", circuit.id);
            }
        }
    }
    let floor =
        number(&of("battery").find(|row| row.quantity == "half-CCA 15 s load-test floor at 20 C").unwrap());
    let cranking = limit(&library::find("starter_power").unwrap(), "battery_cranking").0;
    assert_eq!(cranking, Some(floor));
}

fn limit(circuit: &Circuit, test: &str) -> (Option<f64>, Option<f64>) {
    let limits = circuit.tests.iter().find(|known| known.id == test).unwrap().limits.as_ref().unwrap();
    (limits.min, limits.max)
}

/// Relays of the library lie among the published data sheets: coil 75 to 90 ohm ± 10 %, pull-in not above 8 V, release
/// not below 1 V.
#[test]
fn relays() {
    let values = |unit: &str, what: &str| -> Vec<f64> {
        of("relay")
            .filter(|row| row.unit == unit && row.quantity.contains(what))
            .map(|row| number(&row))
            .collect()
    };
    let (coils, operate, release) = (values("ohm", "coil"), values("V", "operate"), values("V", "release"));
    assert!(coils.len() >= 3 && operate.len() >= 3 && release.len() >= 3);
    let least = |values: &[f64]| values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = |values: &[f64]| values.iter().copied().fold(0.0, f64::max);
    for circuit in library::all().unwrap() {
        for part in &circuit.components {
            if let ComponentKind::Coil { ohms, pull_in_volts, drop_out_volts, .. } = part.kind
                && (60.0..200.0).contains(&ohms)
            {
                assert!(
                    (0.9 * least(&coils)..=1.1 * most(&coils)).contains(&ohms),
                    "{} {}",
                    circuit.id,
                    part.id
                );
                assert!(
                    pull_in_volts <= most(&operate) && drop_out_volts >= least(&release),
                    "{} {}",
                    circuit.id,
                    part.id
                );
            }
        }
    }
}

/// Two 120 ohm terminators read 60 ohm (computed), one alone 120 ohm (published); busy levels are common practice.
#[test]
fn can_bus() {
    let ohms = number(&of("CAN").find(|row| row.quantity.contains("both fitted")).unwrap());
    let terminator =
        of("CAN").find(|row| row.quantity.contains("terminator")).map(|row| number(&row)).unwrap();
    let bus = Netlist::from_lines("I1 0 h 1\nR1 h 0 120\nR2 h 0 120\n").unwrap().solve().unwrap();
    assert!((bus.volts(1).unwrap() - ohms).abs() < 1e-9);
    let circuit = library::find("can_bus").unwrap();
    let holds = |test: &str, value: f64| {
        let (min, max) = limit(&circuit, test);
        assert!(min.is_none_or(|min| value > min) && max.is_none_or(|max| value < max), "{test} {value}");
    };
    holds("bus_ohms", ohms);
    holds("bus_ohms_without_a", terminator);
    holds("bus_ohms_without_b", terminator);
    assert_eq!(limit(&circuit, "high_volts"), (Some(2.6), Some(2.9)));
    assert_eq!(limit(&circuit, "low_volts"), (Some(2.1), Some(2.4)));
}

/// Voltage-drop limits and the draw limit are those of the table.
#[test]
fn limits_of_drops_and_draw() {
    let drop = |what: &str| number(&of("voltage drop").find(|row| row.quantity.starts_with(what)).unwrap());
    let starter = library::find("starter_power").unwrap();
    assert_eq!(limit(&starter, "clamp_positive_drop").1, Some(drop("high-current connection max")));
    assert_eq!(limit(&starter, "contact_drop").1, Some(drop("switch or solenoid contact max")));
    assert_eq!(limit(&starter, "positive_drop").1, Some(drop("starter positive side")));
    assert_eq!(limit(&starter, "ground_drop").1, Some(drop("starter ground side")));
    let milliamperes = number(&of("parasitic").next().unwrap());
    assert_eq!(limit(&library::find("parasitic_draw").unwrap(), "draw").1, Some(milliamperes / 1000.0));
}

/// The colour codes are those of IEC 60757, and no others.
#[test]
fn colours() {
    let codes: Vec<String> = of("colour").map(|row| row.quantity.replace("IEC 60757 ", "")).collect();
    assert_eq!(codes.len(), 15);
    for code in &codes {
        let read: ColorCode = serde_json::from_str(&format!("{code:?}")).unwrap();
        assert_eq!(serde_json::to_string(&read).unwrap(), format!("{code:?}"));
    }
    assert!(serde_json::from_str::<ColorCode>("\"XX\"").is_err());
}
