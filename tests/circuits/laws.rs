//! Laws that every linear circuit obeys, on random netlists: superposition, reciprocity, energy balance, scaling,
//! renaming.

use circuit::{Element, Netlist};
use proptest::prelude::*;

const NODES: usize = 8;

/// Between which nodes, with how many ohms.
type Resistor = (usize, usize, f64);
/// Into which node, with how many amperes.
type Source = (usize, f64);

/// A tree of resistors over all nodes, further resistors, two current sources.
fn circuits() -> impl Strategy<Value = (Vec<Resistor>, [Source; 2])> {
    let ohms = || (-1.0..4.0).prop_map(|decade: f64| 10_f64.powf(decade));
    let tree = (1..NODES).map(|node| (0..node, ohms()).prop_map(move |(other, ohms)| (node, other, ohms)));
    let more = prop::collection::vec((0..NODES, 0..NODES, ohms()), 0..8);
    let source = || (1..NODES, -2.0..2.0_f64);
    let resistors = (tree.collect::<Vec<_>>(), more).prop_map(|(tree, more)| {
        tree.into_iter().chain(more.into_iter().filter(|(a, b, _)| a != b)).collect::<Vec<_>>()
    });
    (resistors, (source(), source()).prop_map(|(one, two)| [one, two]))
}

fn netlist(resistors: &[(usize, usize, f64)], sources: &[(usize, f64)]) -> Netlist {
    let mut netlist = Netlist::new("0");
    (1..NODES).for_each(|node| {
        netlist.node(&node.to_string());
    });
    resistors.iter().for_each(|(a, b, ohms)| netlist.add(Element::Resistor { a: *a, b: *b, ohms: *ohms }));
    sources.iter().for_each(|(to, amps)| netlist.add(Element::Amps { from: 0, to: *to, amps: *amps }));
    netlist
}

fn volts(resistors: &[(usize, usize, f64)], sources: &[(usize, f64)]) -> Vec<f64> {
    let solved = netlist(resistors, sources).solve().unwrap();
    (0..NODES).map(|node| solved.volts(node).unwrap()).collect()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-7 * a.abs().max(b.abs()).max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn superposition((resistors, sources) in circuits()) {
        let both = volts(&resistors, &sources);
        let (one, two) = (volts(&resistors, &sources[..1]), volts(&resistors, &sources[1..]));
        for node in 0..NODES {
            prop_assert!(near(both[node], one[node] + two[node]));
        }
    }

    #[test]
    fn reciprocity((resistors, sources) in circuits()) {
        let (a, b) = (sources[0].0, sources[1].0);
        prop_assert!(near(volts(&resistors, &[(a, 1.0)])[b], volts(&resistors, &[(b, 1.0)])[a]));
    }

    /// What the sources give is what the resistors take (Tellegen).
    #[test]
    fn energy_balance((resistors, sources) in circuits()) {
        let at = volts(&resistors, &sources);
        let given: f64 = sources.iter().map(|(to, amps)| at[*to] * amps).sum();
        let taken: f64 = resistors.iter().map(|(a, b, ohms)| (at[*a] - at[*b]).powi(2) / ohms).sum();
        prop_assert!(near(given, taken), "{given} {taken}");
    }

    /// All resistances times a factor: volts of a divider stay. Here a voltage source drives node 1.
    #[test]
    fn scaling_leaves_volts((resistors, _) in circuits(), factor in 0.01..100.0_f64) {
        let driven = |scale: f64| {
            let scaled: Vec<_> = resistors.iter().map(|(a, b, ohms)| (*a, *b, ohms * scale)).collect();
            let mut netlist = netlist(&scaled, &[]);
            netlist.add(Element::Volts { plus: 1, minus: 0, volts: 12.5 });
            let solved = netlist.solve().unwrap();
            (0..NODES).map(|node| solved.volts(node).unwrap()).collect::<Vec<_>>()
        };
        let (plain, scaled) = (driven(1.0), driven(factor));
        for node in 0..NODES {
            prop_assert!(near(plain[node], scaled[node]));
        }
    }

    #[test]
    fn names_play_no_part((resistors, sources) in circuits(), turn in 1..NODES - 1) {
        let place = |node: usize| if node == 0 { 0 } else { (node - 1 + turn) % (NODES - 1) + 1 };
        let turned: Vec<_> = resistors.iter().map(|(a, b, ohms)| (place(*a), place(*b), *ohms)).collect();
        let moved: Vec<_> = sources.iter().map(|(to, amps)| (place(*to), *amps)).collect();
        let (plain, other) = (volts(&resistors, &sources), volts(&turned, &moved));
        for node in 0..NODES {
            prop_assert!(near(plain[node], other[place(node)]));
        }
    }

    /// A pulsed drive makes no energy: what it takes from its feed it gives, less its own resistance.
    #[test]
    fn pulsed_drives_make_no_energy(duty in 0.05..0.95_f64, load in 0.2..50.0_f64, inside in 0.001..0.5_f64, feed in 0.01..2.0_f64) {
        let mut netlist = Netlist::new("0");
        let (source, supply, out) = (netlist.node("source"), netlist.node("supply"), netlist.node("out"));
        netlist.add(Element::Volts { plus: source, minus: 0, volts: 12.5 });
        netlist.add(Element::Resistor { a: source, b: supply, ohms: feed });
        netlist.add(Element::Pulsed { plus: out, minus: 0, of_plus: supply, of_minus: 0, gain: duty, ohms: inside, drop: 0.0 });
        netlist.add(Element::Resistor { a: out, b: 0, ohms: load });
        let solved = netlist.solve().unwrap();
        let (at_supply, at_out) = (solved.volts(supply).unwrap(), solved.volts(out).unwrap());
        let (drawn, given) = ((12.5 - at_supply) / feed, at_out / load);
        prop_assert!(near(drawn, duty * given));
        prop_assert!(near(at_supply * drawn, at_out * given + given * given * inside));
    }
}
