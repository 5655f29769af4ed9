//! The two copies of a pulsed circuit against ngspice's own transient of the same circuit with a real inductance.

use std::process::Command;

use super::*;

fn pulsed(feed: f64, duty: f64) -> Circuit {
    circuit_of(
        &["0v", "bat", "ms", "out", "motor_neg"],
        &serde_json::json!([
            part(
                "battery",
                &serde_json::json!({"battery": {"positive": "bat", "negative": "0v", "volts": 12.5,
                "volts_spread": 0.1, "internal_ohms": 0.001}})
            ),
            part("feed", &serde_json::json!({"connection": {"from": "bat", "to": "ms", "ohms": feed}})),
            part(
                "driver",
                &serde_json::json!({"high_side_driver": {"supply": "ms", "output": "out", "ground": "0v",
                "on_ohms": 0.01, "limit_amps": 100, "on_when": {}, "duty": duty}})
            ),
            part("motor", &serde_json::json!({"motor": {"from": "out", "to": "motor_neg", "ohms": 0.7}})),
            part(
                "ground",
                &serde_json::json!({"connection": {"from": "motor_neg", "to": "0v", "ohms": 0.02}})
            ),
        ]),
    )
}

/// Average volts at supply and output, by a transient of 60 ms at 20 kHz, the last 10 ms averaged.
fn transient(feed: f64, duty: f64) -> (f64, f64) {
    let on = duty * 50e-6;
    let deck = format!(
        "* pulsed motor\nVb b0 0 12.5\nRb b0 b 0.001\nRf b ms {feed}\nVg g 0 PULSE(0 1 0 10n 10n {on:e} 50u)\n\
         S1 ms out g 0 sw\n.model sw sw(vt=0.5 vh=0.01 ron=0.01 roff=1e8)\nD1 0 out dx\n\
         .model dx d(is=6.5e-10 n=1.506 rs=0.01)\nLm out m 2m\nRm m mn 0.7\nRg mn 0 0.02\n\
         .control\ntran 0.5u 60m 50m uic\nmeas tran sup avg v(ms) from=50m to=60m\n\
         meas tran drv avg v(out) from=50m to=60m\nquit\n.endc\n.end\n"
    );
    let file = std::env::temp_dir().join(format!("garage-pulses-{}-{feed}-{duty}.cir", std::process::id()));
    std::fs::write(&file, deck).unwrap();
    let said = Command::new("ngspice").arg("-b").arg(&file).output().unwrap();
    std::fs::remove_file(&file).unwrap();
    let said = String::from_utf8_lossy(&said.stdout).into_owned();
    let value = |name: &str| {
        let line = said.lines().find(|line| line.starts_with(name)).unwrap_or_else(|| panic!("{said}"));
        line.split_whitespace().nth(2).unwrap().parse::<f64>().unwrap()
    };
    (value("sup"), value("drv"))
}

#[test]
fn averages_agree_with_a_transient() {
    for (feed, duty) in [(0.01, 0.5), (0.3, 0.5), (0.05, 0.2), (0.1, 0.8)] {
        let (supply, output) = transient(feed, duty);
        let mut bench = bench(&pulsed(feed, duty), &[]);
        let settled = bench.settle(&State::new(), None, &Meter::None).unwrap();
        near(&format!("supply, {feed} ohm, {duty}"), settled.solution.between("ms", "0v"), supply, 0.04);
        near(&format!("output, {feed} ohm, {duty}"), settled.solution.between("out", "0v"), output, 0.06);
    }
}
