//! The control side of a fan relay: eleven rivals, what each reads in seven ways. The figures are ngspice 39's, kept in
//! `control_side.csv`; several rivals read 4.1 V in one state and differ in another.

use std::collections::BTreeMap;

use circuit::Netlist;

const BASE: &str = "vbat=12.5 rmf=0.08 rmg=0.01 rmod=18 ron=0.2 rbu=1e12 rbd=1e12 rw=0.15 rsh=1e12 rcoil=75 rg=0.03 \
                    rlamp=1e12 rm=1e7";
const OUT: &str = "rcoil=1e12";

const RIVALS: [(&str, &str); 11] = [
    ("healthy", ""),
    ("control wire +153 ohm", "rw=153.1"),
    ("driver weak +153 ohm", "ron=153.2"),
    ("module feed +29.6 ohm", "rmf=29.7"),
    ("battery collapses to 4.15 V", "vbat=4.15"),
    ("control wire leak 15 ohm to ground and driver limited", "rsh=15 ron=25.4"),
    ("85 ground +153 ohm", "rg=153"),
    ("control wire 20.5 Mohm", "rw=20.5e6"),
    ("driver off with open-load bias 20k up 9.76k down", "ron=1e12 rbu=20e3 rbd=9.76e3"),
    ("driver off no bias", "ron=1e12"),
    ("control wire open", "rw=1e12"),
];

/// Point and further settings of each column.
const COLUMNS: [(&str, &str); 7] = [
    ("p86", ""),
    ("p86", OUT),
    ("p86", "rcoil=1e12 rm=3000"),
    ("p86", "rcoil=1e12 rlamp=75"),
    ("eo", ""),
    ("p85", ""),
    ("ms", ""),
];

#[test]
fn rivals_read_as_ngspice_says() {
    let table = include_str!("control_side.csv");
    let rows: Vec<Vec<&str>> = table.lines().skip(1).map(|line| line.split(',').collect()).collect();
    assert_eq!(rows.len(), RIVALS.len());
    for ((name, rival), row) in RIVALS.iter().zip(&rows) {
        assert_eq!(row[0], *name);
        for ((point, extra), reference) in COLUMNS.iter().zip(&row[1..]) {
            let netlist = netlist(&[BASE, rival, extra]);
            let volts = netlist.solve().unwrap().volts(netlist.find(point).unwrap()).unwrap();
            let reference: f64 = reference.parse().unwrap();
            // The table has four decimals.
            let bound = (0.001 * reference.abs()).max(1e-3);
            assert!(
                (volts - reference).abs() <= bound,
                "{name} {point} {extra}: {volts} against {reference}"
            );
        }
    }
}

fn netlist(settings: &[&str]) -> Netlist {
    let values: BTreeMap<&str, &str> = settings
        .iter()
        .flat_map(|text| text.split_whitespace())
        .filter_map(|pair| pair.split_once('='))
        .collect();
    let line = |name: &str, a: &str, b: &str, value: &str| format!("R{name} {a} {b} {}\n", values[value]);
    let text = [
        format!("Vb bat 0 {}\n", values["vbat"]),
        line("mf", "bat", "ms", "rmf"),
        line("mg", "mg", "0", "rmg"),
        line("mod", "ms", "mg", "rmod"),
        line("on", "ms", "eo", "ron"),
        line("bu", "ms", "eo", "rbu"),
        line("bd", "eo", "mg", "rbd"),
        line("w", "eo", "p86", "rw"),
        line("sh", "p86", "0", "rsh"),
        line("c", "p86", "p85", "rcoil"),
        line("g", "p85", "0", "rg"),
        line("l", "p86", "0", "rlamp"),
        line("m", "p86", "0", "rm"),
    ];
    Netlist::from_lines(&text.concat()).unwrap()
}
