//! Real circuits entered from a diagram: a starter that cranks, two modules, a CAN pair, a shared 5 V, splices, a pulsed
//! output. Each is whole; each module can be proven bad when it is, and isn't called when something around it is.

use circuit::entered::Entered;
use circuit::{Circuit, Fault, FaultMode, Level, ProblemCode, check, solve};
use serde_json::{Value, json};

use crate::bench::fault;
use crate::search::{Search, engine, leading_part};
use crate::technician::Ended;

fn wire(name: &str, from: &str, to: &str, area: f64) -> Value {
    json!({"name": name, "from": from, "to": to, "kind": {"wire": {"length_m": 1.5, "size": {"mm2": area}}}})
}

fn part(name: &str, from: &str, to: &str, kind: Value) -> Value {
    json!({"name": name, "from": from, "to": to, "kind": kind})
}

fn frame(works: &str, parts: Vec<Value>, modules: Value) -> Value {
    let battery = part("battery", "B+", "B-", json!({"battery": {}}));
    let parts: Vec<Value> = std::iter::once(battery).chain(parts).collect();
    json!({"title": "Tried", "source": "page 1", "complaint": "It doesn't work", "works": works, "parts": parts, "modules": modules})
}

/// The starter relay is fed by the engine module while cranking, if the clutch is down; the coil's ground is its own.
fn starter() -> Value {
    let mut entry = frame(
        "starter solenoid",
        vec![
            part("fuse 3", "B+", "F3", json!({"fuse": {"amps": 30.0}})),
            part("fuse 4", "B+", "F4", json!({"fuse": {"amps": 10.0}})),
            wire("w1", "F3", "K30", 4.0),
            part("contact", "K30", "K87", json!({"relay_contact": {"relay": "starter relay"}})),
            part("coil", "K86", "K85", json!({"relay_coil": {"relay": "starter relay"}})),
            wire("w2", "K87", "S", 4.0),
            part("starter solenoid", "S", "block", json!({"load": {"ohms": 1.0}})),
            part("engine ground", "block", "B-", json!({"connection": {}})),
            wire("w3", "K85", "B-", 0.75),
            wire("w4", "E12", "K86", 0.75),
            wire("w5", "F4", "E1", 0.75),
            wire("w6", "E2", "B-", 0.75),
            part("start contact", "F4", "I50", json!({"switch": {"closed_by": "crank"}})),
            wire("w7", "I50", "E7", 0.5),
            part("clutch switch", "C1", "B-", json!({"switch": {"closed_by": "request"}})),
            wire("w8", "E8", "C1", 0.5),
        ],
        json!([{"name": "engine module", "feed": "E1", "ground": "E2",
            "inputs": [{"point": "E7", "asked_by": "feed"}, {"point": "E8", "asked_by": "ground"}],
            "outputs": [{"point": "E12", "drives": "feed"}]}]),
    );
    entry["works_while"] = json!("crank");
    entry
}

/// The body module grounds the wiper relay when the wiper switch asks, and feeds a lamp when the light switch does; the relay's
/// contact feeds a motor whose ground goes over a splice. A second module, pulsed, has nothing to do with it.
fn wiper() -> Value {
    frame(
        "wiper motor",
        vec![
            part("fuse 1", "B+", "F1", json!({"fuse": {"amps": 20.0}})),
            part("fuse 2", "B+", "F2", json!({"fuse": {"amps": 10.0}})),
            wire("w1", "F1", "K30", 2.5),
            wire("w2", "F1", "K86", 0.75),
            part("contact", "K30", "K87", json!({"relay_contact": {"relay": "wiper relay"}})),
            part("coil", "K86", "K85", json!({"relay_coil": {"relay": "wiper relay"}})),
            wire("w3", "K87", "M+", 2.5),
            part("wiper motor", "M+", "M-", json!({"motor": {"amps": 6.0}})),
            wire("w4", "M-", "S201 a", 2.5),
            part("S201", "S201", "S201 a", json!({"splice": {"others": ["S201 b", "S201 c"]}})),
            wire("w5", "S201 b", "B-", 2.5),
            wire("w6", "K85", "A14", 0.5),
            wire("w7", "F2", "A1", 0.75),
            wire("w8", "A2", "S201 c", 0.75),
            part("wiper switch", "W1", "B-", json!({"switch": {"closed_by": "request"}})),
            wire("w9", "A5", "W1", 0.5),
            part("light switch", "F2", "L1", json!({"switch": {"closed_by": "request"}})),
            wire("w10", "L1", "A6", 0.5),
            wire("w11", "A15", "lamp +", 1.0),
            part("lamp", "lamp +", "B-", json!({"lamp": {"watts": 21.0}})),
            wire("w12", "F2", "P1", 0.75),
            wire("w13", "P2", "B-", 0.75),
            wire("w14", "P3", "fan +", 2.5),
            part("fan", "fan +", "B-", json!({"motor": {"amps": 8.0}})),
        ],
        json!([
            {"name": "body module", "feed": "A1", "ground": "A2",
             "inputs": [{"point": "A5", "asked_by": "ground"}, {"point": "A6", "asked_by": "feed"}],
             "outputs": [{"point": "A14", "drives": "ground", "asked_by": ["A5"]},
                         {"point": "A15", "drives": "feed", "asked_by": ["A6"]}]},
            {"name": "fan module", "feed": "P1", "ground": "P2",
             "outputs": [{"point": "P3", "drives": "feed", "duty_percent": 50.0, "asked_by": []}]}
        ]),
    )
}

/// Two modules on a pair, a terminator in each, a plug between them.
fn bus() -> Value {
    let pair = |high: &str, low: &str| json!({"high": high, "low": low, "terminated": true});
    frame(
        "engine module",
        vec![
            part("fuse 1", "B+", "F1", json!({"fuse": {"amps": 10.0}})),
            part("fuse 2", "B+", "F2", json!({"fuse": {"amps": 10.0}})),
            wire("w1", "F1", "E1", 0.75),
            wire("w2", "E2", "B-", 0.75),
            wire("w3", "F2", "A1", 0.75),
            wire("w4", "A2", "B-", 0.75),
            wire("h1", "E6", "DLC 6", 0.35),
            wire("l1", "E14", "DLC 14", 0.35),
            wire("h2", "DLC 6", "A6", 0.35),
            wire("l2", "DLC 14", "A14", 0.35),
        ],
        json!([
            {"name": "engine module", "feed": "E1", "ground": "E2", "can": pair("E6", "E14")},
            {"name": "body module", "feed": "A1", "ground": "A2", "can": pair("A6", "A14")}
        ]),
    )
}

/// One 5 V for three sensors over a splice, and a thermistor beside them.
fn sensors() -> Value {
    frame(
        "pedal sensor",
        vec![
            part("fuse 1", "B+", "F1", json!({"fuse": {"amps": 10.0}})),
            wire("w1", "F1", "E1", 0.75),
            wire("w2", "E2", "B-", 0.75),
            wire("v0", "E20", "S5", 0.5),
            part("S5V", "S5", "S5a", json!({"splice": {"others": ["S5b", "S5c"]}})),
            wire("v1", "S5a", "P5", 0.5),
            wire("v2", "S5b", "T5", 0.5),
            wire("v3", "S5c", "M5", 0.5),
            wire("g0", "E21", "SG", 0.5),
            wire("g1", "SG", "PG", 0.5),
            wire("g2", "SG", "TG", 0.5),
            wire("g3", "SG", "MG", 0.5),
            part("pedal sensor", "P5", "PG", json!({"sensor": {"signal": "PS", "percent": 20.0}})),
            part("throttle sensor", "T5", "TG", json!({"sensor": {"signal": "TS", "percent": 15.0}})),
            part("pressure sensor", "M5", "MG", json!({"sensor": {"signal": "MS", "percent": 60.0}})),
            wire("s1", "PS", "E22", 0.5),
            wire("s2", "TS", "E23", 0.5),
            wire("s3", "MS", "E24", 0.5),
            part("coolant sensor", "E25", "SG", json!({"thermistor": {"ohms_25": 2200.0}})),
        ],
        json!([{"name": "engine module", "feed": "E1", "ground": "E2", "references": ["E20"], "sensor_grounds": ["E21"],
            "inputs": [{"point": "E22", "asked_by": "sensor"}, {"point": "E23", "asked_by": "sensor"},
                       {"point": "E24", "asked_by": "sensor"}, {"point": "E25", "asked_by": "thermistor"}]}]),
    )
}

/// A fan that its module pulses.
fn pulsed() -> Value {
    frame(
        "fan",
        vec![
            part("fuse 1", "B+", "F1", json!({"fuse": {"amps": 30.0}})),
            wire("w1", "F1", "P1", 4.0),
            wire("w2", "P2", "B-", 4.0),
            wire("w3", "P3", "fan +", 4.0),
            part("fan", "fan +", "fan -", json!({"motor": {"amps": 12.0}})),
            wire("w4", "fan -", "B-", 4.0),
            part("button", "P4", "B-", json!({"switch": {"closed_by": "request"}})),
        ],
        json!([{"name": "fan module", "feed": "P1", "ground": "P2", "inputs": [{"point": "P4", "asked_by": "ground"}],
            "outputs": [{"point": "P3", "drives": "feed", "duty_percent": 60.0}]}]),
    )
}

fn made(entry: &Value) -> Result<Circuit, Vec<circuit::Problem>> {
    Entered::from_json(&entry.to_string())?.into_circuit()
}

fn all() -> [(&'static str, Value); 5] {
    [("starter", starter()), ("wiper", wiper()), ("bus", bus()), ("sensors", sensors()), ("pulsed", pulsed())]
}

/// Each is a whole circuit like any other: it passes the checker, reads back, and no two points lie on each other.
#[test]
fn entered_diagrams_are_whole() {
    for (name, entry) in all() {
        let circuit = made(&entry).unwrap_or_else(|problems| panic!("{name}: {problems:?}"));
        let text = serde_json::to_string(&circuit).unwrap();
        assert!(check::check(&text).unwrap() == circuit, "{name} reads back otherwise");
        let places: std::collections::BTreeSet<(u64, u64)> =
            circuit.points.iter().map(|point| (point.x.to_bits(), point.y.to_bits())).collect();
        assert_eq!(places.len(), circuit.points.len(), "{name}");
        assert!(!circuit.modules.is_empty(), "{name}");
    }
}

/// Two terminators of 120 ohm are 60 ohm across the pair, one is 120 ohm (published values and their arithmetic); a meter
/// on a busy bus shows 2.6 to 2.9 V and 2.1 to 2.4 V (common practice).
#[test]
fn a_pair_has_the_known_values() {
    let circuit = made(&bus()).unwrap();
    let limits = |id: &str| circuit.tests.iter().find(|test| test.id == id).unwrap().limits.clone().unwrap();
    for (id, ohms) in
        [("can_ohms", 60.0), ("can_ohms_without_module_2", 120.0), ("module_2_terminator_loaded", 120.0)]
    {
        let (least, most) = (limits(id).min.unwrap(), limits(id).max.unwrap());
        assert!(least < ohms && ohms < most && most - least < 0.12 * ohms, "{id}: {least} to {most}");
    }
    let asked =
        [("key", "on"), ("request", "on")].map(|(name, value)| (name.to_owned(), value.to_owned())).into();
    let solution = solve(&circuit, &asked, &[], None).unwrap();
    let volts = |point: &str| match solution.points[point] {
        Level::Volts(volts) => volts,
        Level::Floating => f64::NAN,
    };
    let (high, low) = (volts("dlc_6"), volts("dlc_14"));
    assert!((2.6..2.9).contains(&high) && (2.1..2.4).contains(&low), "{high} {low}");
}

/// What of each module can be the cause, and what can't, is known from the circuit.
#[test]
fn only_what_matters_is_suspected() {
    let suspects = |entry: &Value| -> Vec<(String, Vec<String>)> {
        made(entry).unwrap().modules.into_iter().map(|module| (module.id, module.components)).collect()
    };
    let of =
        |id: &str, parts: &[&str]| (id.to_owned(), parts.iter().map(|part| (*part).to_owned()).collect());
    // Not the lamp's output, not the other module.
    assert_eq!(suspects(&wiper()), [of("module", &["module_driver"])]);
    assert_eq!(suspects(&sensors()), [of("module", &["module_reference_supply"])]);
    let parts =
        ["module_can_transceiver", "module_can_drive_high", "module_can_drive_low", "module_terminator"];
    assert_eq!(suspects(&bus()), [of("module", &parts), of("module_2", &["module_2_terminator"])]);
}

fn bad_modules() -> Vec<(&'static str, Value, Fault)> {
    let dead = |part: &str| fault(part, FaultMode::Dead, 0.0);
    vec![
        ("starter", starter(), dead("module_driver")),
        ("starter", starter(), fault("module_driver", FaultMode::Weak, 2e3)),
        ("wiper", wiper(), dead("module_driver")),
        ("bus", bus(), dead("module_can_transceiver")),
        ("bus", bus(), fault("module_2_terminator", FaultMode::Open, 0.0)),
        ("sensors", sensors(), dead("module_reference_supply")),
        ("pulsed", pulsed(), dead("module_driver")),
    ]
}

/// Each module can be proven bad when it is.
#[test]
fn each_module_can_be_called_when_it_is_bad() {
    let mut open = Vec::new();
    for (name, entry, fault) in bad_modules() {
        let circuit = made(&entry).unwrap();
        let engine = engine(&circuit);
        let mut search = Search::new(&engine, &circuit, &fault, 3);
        assert!(search.complains(), "{name} {fault:?}");
        let (ended, found) = search.finish();
        if !matches!(ended, Ended::ModuleCalled(_)) {
            let module = found.modules.iter().max_by(|a, b| a.probability.total_cmp(&b.probability)).unwrap();
            open.push(format!(
                "{name} {fault:?}: {} {:.3} {:?} {:?}",
                module.module,
                module.probability,
                module.missing,
                search.taken()
            ));
        }
    }
    assert!(open.is_empty(), "{}", open.join("\n"));
}

/// Whatever is broken around good modules: none is called, and what is broken leads.
#[test]
fn no_module_is_called_for_what_is_around_it() {
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    let (mut searched, mut found_it, mut missed, mut wrong) = (0, 0, Vec::new(), Vec::new());
    for (number, (name, entry)) in all().into_iter().enumerate() {
        let circuit = made(&entry).unwrap();
        let engine = engine(&circuit);
        let inside = |id: &String| circuit.modules.iter().any(|module| module.components.contains(id));
        let others = circuit.components.iter().filter(|part| !inside(&part.id));
        let faults = others.flat_map(|part| part.faults.iter().map(move |spec| (part, spec)));
        let step = if full { 1 } else { 9 };
        for (part, spec) in faults.skip(number % step).step_by(step) {
            let severity = spec.min.zip(spec.max).map_or(0.0, |(min, max)| (min * max).sqrt());
            let fault = Fault { at: spec.at.clone(), ..fault(&part.id, spec.mode, severity) };
            let mut search = Search::new(&engine, &circuit, &fault, 5);
            if !search.complains() {
                continue;
            }
            searched += 1;
            let (ended, found) = search.finish();
            if let Ended::ModuleCalled(called) = ended {
                wrong.push(format!(
                    "{name} {} {:?} {severity}: {called:?} {:?}",
                    part.id,
                    spec.mode,
                    search.taken()
                ));
            }
            let (leading, share) = leading_part(&found);
            if leading == part.id {
                found_it += 1;
            } else {
                missed.push(format!("{name} {} {:?} {severity}: {leading} {share:.2}", part.id, spec.mode));
            }
        }
    }
    println!("{found_it} of {searched} lead\n{}", missed.join("\n"));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(found_it * 100 >= searched * 70, "{found_it} of {searched}: {}", missed.join("\n"));
}

/// What is wrong is named at its field.
#[test]
fn wrong_fields_are_named() {
    let refused = |entry: Value, change: &dyn Fn(&mut Value), place: &str, code: ProblemCode| {
        let mut entry = entry;
        change(&mut entry);
        let problems = made(&entry).err().unwrap_or_default();
        let named = problems
            .iter()
            .any(|problem| problem.place == place && problem.code == code && !problem.remedy.is_empty());
        assert!(named, "{place}: {problems:?}");
    };
    use ProblemCode as P;
    let one = |e: &mut Value| e["modules"].as_array_mut().unwrap().truncate(1);
    refused(bus(), &one, "modules/0/can/terminated", P::BusEnds);
    let open = |e: &mut Value| e["modules"][1]["can"]["terminated"] = json!(false);
    refused(bus(), &open, "modules/0/can/terminated", P::BusEnds);
    refused(bus(), &|e| e["works"] = json!("nobody"), "works", P::NotListed);
    refused(
        wiper(),
        &|e| e["modules"][0]["outputs"][0]["asked_by"] = json!(["A77"]),
        "modules/0/outputs/0/asked_by/0",
        P::NotListed,
    );
    refused(
        wiper(),
        &|e| e["modules"][0]["outputs"][1]["duty_percent"] = json!(150.0),
        "modules/0/outputs/1/duty_percent",
        P::Number,
    );
    refused(
        wiper(),
        &|e| e["modules"][0]["outputs"][1]["duty_percent"] = json!(30.0),
        "modules/1/outputs/0/duty_percent",
        P::Contradiction,
    );
    refused(wiper(), &|e| e["modules"][1]["name"] = json!("body module"), "modules/1/name", P::Name);
    refused(
        wiper(),
        &|e| e["modules"][0]["inputs"][0]["point"] = json!("A6"),
        "modules/0/inputs/1/point",
        P::Contradiction,
    );
    refused(wiper(), &|e| e["out_of_reach"] = json!(["A14"]), "modules/0/outputs/0/point", P::OutOfReach);
    refused(
        wiper(),
        &|e| e["parts"][10]["kind"]["splice"]["others"][0] = json!("S201"),
        "parts/10/kind/others/0",
        P::Contradiction,
    );
    refused(
        sensors(),
        &|e| e["parts"][13]["kind"]["sensor"]["percent"] = json!(0.0),
        "parts/13/kind/percent",
        P::Number,
    );
    refused(
        sensors(),
        &|e| e["modules"][0]["inputs"][0]["asked_by"] = json!("ground"),
        "works",
        P::NotListed,
    );
    refused(starter(), &|e| e["works_while"] = json!("key_on"), "works", P::HealthyFails);
    refused(sensors(), &|e| e["parts"][10]["to"] = json!("PX"), "works", P::HealthyFails);
}
