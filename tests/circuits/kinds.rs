//! Further kinds of circuits: values against closed forms, and whole searches in which the bench takes what is offered.

use circuit::{Circuit, Diagnosis, Fault, Level, MissingCode, fault_of, library, solve, state_of};

use crate::bench::Bench;
use crate::harness::{engine, search as searched, with_path};
use crate::technician::Ended;

/// A cause that isn't a module is named from here on, with those that no test tells from it.
const NAMED_FROM: f64 = 0.97;
/// No search here takes more tests.
const PATIENCE: usize = 30;

fn found(id: &str) -> Circuit {
    library::find(id).unwrap()
}

fn volts(circuit: &Circuit, state: &str, fault: Option<&str>, point: &str) -> f64 {
    let faults: Vec<Fault> = fault.iter().map(|fault| fault_of(circuit, fault).unwrap()).collect();
    let solution = solve(circuit, &state_of(state).unwrap(), &faults, None).unwrap();
    assert!(solution.steady, "{}: {fault:?} never settles", circuit.id);
    match solution.points[point] {
        Level::Volts(volts) => volts,
        Level::Floating => panic!("{}: {point} floats", circuit.id),
    }
}

fn across(circuit: &Circuit, state: &str, fault: Option<&str>, red: &str, black: &str) -> f64 {
    volts(circuit, state, fault, red) - volts(circuit, state, fault, black)
}

fn near(left: f64, right: f64, by: f64) {
    assert!((left - right).abs() <= by, "{left} against {right}");
}

/// How a search ended: what leads with what no test tells from it, which module is called, what was taken.
struct Search {
    leads: Vec<String>,
    called: Option<String>,
    taken: Vec<String>,
}

impl Search {
    /// A break reads like the highest of the resistances.
    fn leads(&self, cause: &str) {
        let alike = |id: &str| id.replace("/open", "/high_resistance");
        let so = self.leads.iter().any(|id| alike(id) == alike(cause));
        assert!(so, "{:?} after {:?}", self.leads, self.taken);
    }

    fn blames_no_module(&self, cause: &str) {
        self.leads(cause);
        assert_eq!(self.called, None, "after {:?}", self.taken);
    }
}

/// The complaint is seen; then the bench takes what is offered, and what a likely module still lacks.
fn search(circuit: &Circuit, hidden: &str) -> Search {
    let mut bench = Bench::new(circuit, fault_of(circuit, hidden).unwrap());
    let mut taken = vec![circuit.complaint.test.clone()];
    let shows = bench.take(&circuit.complaint.test);
    assert_eq!(shows == circuit::ObservedValue::Yes, circuit.complaint.answer, "{hidden}: no complaint");
    loop {
        let seen = bench.diagnosis();
        let leads = leading(&seen);
        let called = seen.modules.iter().find(|module| module.may_be_called).map(|one| one.module.clone());
        let ended = called.is_some() || named(&seen, &leads) || taken.len() >= PATIENCE;
        let Some(next) = next(&seen, &taken).filter(|_| !ended) else {
            return Search { leads, called, taken };
        };
        bench.take(&next);
        taken.push(next);
    }
}

fn leading(seen: &Diagnosis) -> Vec<String> {
    let first = &seen.causes[0].id;
    let group = seen.inseparable.iter().find(|group| group.contains(first));
    group.cloned().unwrap_or_else(|| vec![first.clone()])
}

fn named(seen: &Diagnosis, leads: &[String]) -> bool {
    let together: f64 =
        seen.causes.iter().filter(|cause| leads.contains(&cause.id)).map(|cause| cause.probability).sum();
    seen.causes[0].module.is_none() && together >= NAMED_FROM
}

/// The gate's wishes while a module is the likeliest (the failing reading again last), else what tells most.
fn next(seen: &Diagnosis, taken: &[String]) -> Option<String> {
    let often = |test: &&String| taken.iter().filter(|one| one == test).count() < 3;
    let likely = seen.modules.iter().find(|module| module.probability > 0.5);
    let mut missing: Vec<_> = likely.map(|module| module.missing.clone()).unwrap_or_default();
    missing.sort_by_key(|one| one.code == MissingCode::FailingReadingNotRepeated);
    let wanted = missing.iter().filter_map(|one| one.test.as_ref()).find(often);
    wanted.or_else(|| seen.next.iter().map(|next| &next.test).find(often)).cloned()
}

/// Three sensors of 5 kohm, 833 ohm and 833 ohm on 5 V with a limit of 0.1 A. A short of 10 ohm takes what the limit
/// leaves: 0.1 A / (1/10 + 1/5000 + 2/833 S) = 0.974 V, and up to 0.02 V on its wires, for all three alike. Unplugging the one
/// that shorts it brings the 5 V back, unplugging another doesn't.
#[test]
fn one_shorted_sensor_pulls_the_reference_down_for_all() {
    let circuit = found("reference_shared");
    let short = Some("b_electronics/short_across=10");
    let reference = |state, fault, point| across(&circuit, state, fault, point, "gnd_splice");
    for point in ["mod_ref", "a_ref", "b_ref", "c_ref"] {
        near(reference("key=on", None, point), 5.0, 0.03);
        near(reference("key=on", short, point), 0.985, 0.02);
    }
    near(reference("key=on,sensor_b=unplugged", short, "a_ref"), 5.0, 0.03);
    near(reference("key=on,sensor_c=unplugged", short, "a_ref"), 0.985, 0.02);
    assert!(circuit.loads.is_empty(), "nothing may load a reference");
    search(&circuit, "b_electronics/short_across=5").blames_no_module("b_electronics/short_across");
}

#[test]
fn a_shared_reference_with_a_short_in_the_wires_or_a_dead_supply() {
    let circuit = found("reference_shared");
    search(&circuit, "c_electronics/short_across=2").blames_no_module("c_electronics/short_across");
    search(&circuit, "a_wire_ref/short_to_ground=3").blames_no_module("a_wire_ref/short_to_ground");
    search(&circuit, "wire_sgnd/open").blames_no_module("wire_sgnd/open");
    let dead = search(&circuit, "reference/dead");
    dead.leads("reference/dead");
    assert_eq!(dead.called.as_deref(), Some("engine_module"), "after {:?}", dead.taken);
}

/// The coil limits its own current to 7.5 A; with 4 ohm in its feed there is only the feed over all that is in its way:
/// 14.1 V / (0.7 + 0.15 + 4 + 0.1 ohm of battery, relay, fuse, wires and joints) = 2.85 A.
#[test]
fn primary_current_tells_a_starved_coil() {
    let circuit = found("coil_on_plug");
    let amps = |fault| {
        let winding = |point| volts(&circuit, "key=running", fault, point);
        (winding("t_feed") - winding("prim")) / 0.7
    };
    near(amps(None), 7.5, 0.01);
    near(amps(Some("term_feed/high_resistance=4")), 2.85, 0.03);
    near(volts(&circuit, "key=running", None, "coil_cmd"), 5.0 * 1000.0 / 1101.0, 0.12);
    search(&circuit, "term_feed/high_resistance=4").blames_no_module("term_feed/high_resistance");
}

#[test]
fn a_coil_on_its_plug() {
    let circuit = found("coil_on_plug");
    search(&circuit, "igniter/dead").blames_no_module("igniter/dead");
    search(&circuit, "high_side/open").blames_no_module("high_side/open");
    search(&circuit, "plug/short_across=0.3").blames_no_module("plug/short_across");
    search(&circuit, "wire_ground/high_resistance=8").blames_no_module("wire_ground/high_resistance");
    let dead = search(&circuit, "driver/dead");
    dead.leads("driver/dead");
    assert_eq!(dead.called.as_deref(), Some("engine_module"), "after {:?}", dead.taken);
}

/// Amperes at the end of the ramp are the feed over all resistances in its way: 12.5 V / 2.69 ohm healthy, 2 ohm more
/// with a weak output; a shorted coil runs into the output's limit of 8 A.
#[test]
fn injector_current_is_the_feed_over_what_is_in_its_way() {
    let circuit = found("injector_current");
    let held = "key=on,drive=injector";
    let amps = |fault| across(&circuit, held, fault, "bat_pos", "ign") / 0.02;
    let ways = 0.01 + 0.02 + 0.005 + 1.2 * 0.0136 + 0.6 * 0.0199 + 0.02 + 2.4 + 1.6 * 0.0265 + 0.005 + 0.15;
    near(amps(None), 12.5 / (ways + 0.015), 0.06);
    near(amps(Some("driver/weak=2")), 12.5 / (ways + 2.015), 0.05);
    near(amps(Some("injector/short_across=0.3")), 8.0, 0.1);
}

#[test]
fn a_weak_injector_by_its_amps() {
    let circuit = found("injector_current");
    search(&circuit, "injector/short_across=0.3").blames_no_module("injector/short_across");
    search(&circuit, "wire_out/high_resistance=3").blames_no_module("wire_out/high_resistance");
    search(&circuit, "injector/jammed").blames_no_module("injector/jammed");
    let weak = search(&circuit, "driver/weak=6");
    weak.leads("driver/weak");
    assert_eq!(weak.called.as_deref(), Some("engine_module"), "after {:?}", weak.taken);
}

/// The command's average is 60 % of 5 V over 300 ohm into 5 kohm; without it the regulator holds its own 13.5 V. Some
/// 30 A to the consumers and as many to the battery drop 0.4 V on the way, most of it in the battery itself.
#[test]
fn the_default_charge_is_no_proof_of_the_command() {
    let circuit = found("charging_commanded");
    near(volts(&circuit, "key=running", None, "alt_cmd"), 0.6 * 5.0 * 5000.0 / 5300.0, 0.02);
    near(volts(&circuit, "key=running", None, "alt_int"), 14.5, 0.12);
    near(volts(&circuit, "key=running", Some("wire_cmd/open"), "alt_int"), 13.5, 0.08);
    near(volts(&circuit, "key=running,alternator=unplugged", None, "alt_int"), 13.5, 0.08);
    search(&circuit, "wire_cmd/open").blames_no_module("wire_cmd/open");
}

#[test]
fn a_commanded_alternator() {
    let circuit = found("charging_commanded");
    search(&circuit, "winding/open").blames_no_module("winding/open");
    search(&circuit, "regulator/dead").blames_no_module("regulator/dead");
    search(&circuit, "cable_b/high_resistance=0.05").blames_no_module("cable_b/high_resistance");
    search(&circuit, "strap_engine/high_resistance=0.05").blames_no_module("strap_engine/high_resistance");
    let low = search(&circuit, "driver/low_duty=0.2");
    low.leads("driver/low_duty");
    assert_eq!(low.called.as_deref(), Some("engine_module"), "after {:?}", low.taken);
}

/// The left cluster without its ground: the tail filament feeds the stop filament backwards, through its splice and the
/// right stop lamp to ground. With pin 3 open nothing returns at all: the whole trailer rises to the feed.
#[test]
fn a_trailer_without_ground_feeds_backwards() {
    let circuit = found("trailer_lights");
    near(volts(&circuit, "key=on,lights=on", None, "l_stop"), 0.0, 0.1);
    let back = volts(&circuit, "key=on,lights=on", Some("tr_ground_l/open"), "l_stop");
    let ground = volts(&circuit, "key=on,lights=on", Some("tr_ground_l/open"), "l_gnd");
    assert!(ground > back && back > 0.1, "{ground} {back}");
    near(volts(&circuit, "key=on,lights=on,brake=on", Some("wire_sk_ground/open"), "j_gnd"), 12.4, 0.15);
    search(&circuit, "tr_ground_l/open").blames_no_module("tr_ground_l/open");
}

#[test]
fn trailer_stop_lamps() {
    let circuit = found("trailer_lights");
    search(&circuit, "contact_3/high_resistance=3").blames_no_module("contact_3/high_resistance");
    search(&circuit, "tr_stop/high_resistance=4").blames_no_module("tr_stop/high_resistance");
    search(&circuit, "stop_lamp_l/open").blames_no_module("stop_lamp_l/open");
    let dead = search(&circuit, "driver/dead");
    dead.leads("driver/dead");
    assert_eq!(dead.called.as_deref(), Some("trailer_module"), "after {:?}", dead.taken);
}

/// The sensor at 20 °C has 10 kohm · exp(3900 · (1/293.15 − 1/298.15)) = 12.5 kohm; on a pull-up of 10 kohm to 5 V.
/// Open, it shows 5 V, and the module heats no more though everything of the heater is good.
#[test]
fn an_open_seat_sensor_stops_the_heater() {
    let circuit = found("heated_seat");
    let sensor = 10_000.0 * (3900.0_f64 * (1.0 / 293.15 - 1.0 / 298.15)).exp();
    let state = "key=on,request=on";
    near(volts(&circuit, state, None, "mod_ntc"), 5.0 * sensor / (sensor + 10_000.0), 0.02);
    near(volts(&circuit, state, Some("sensor/open"), "mod_ntc"), 5.0, 0.02);
    assert!(volts(&circuit, state, None, "t_pos") > 11.0);
    near(volts(&circuit, state, Some("sensor/open"), "t_pos"), 0.0, 0.01);
    search(&circuit, "sensor/open").blames_no_module("sensor/open");
}

#[test]
fn a_cold_seat() {
    let circuit = found("heated_seat");
    search(&circuit, "cushion/open").blames_no_module("cushion/open");
    search(&circuit, "term_neg/high_resistance=4").blames_no_module("term_neg/high_resistance");
    search(&circuit, "button/stuck_open").blames_no_module("button/stuck_open");
    let dead = search(&circuit, "driver/dead");
    dead.leads("driver/dead");
    assert_eq!(dead.called.as_deref(), Some("seat_module"), "after {:?}", dead.taken);
}

/// Off, a pull-up of 10 kohm shows 12.5 V at an empty socket: all of it to a meter of 10 Mohm, 3/13 to one of 3 kohm.
/// On, a short of 0.1 ohm gets the limit of 25 A and no more: 2.5 V, and the fuse of 20 A holds.
#[test]
fn twelve_volts_at_an_empty_socket_are_no_output() {
    let circuit = found("lamp_solid_state");
    near(volts(&circuit, "key=on,lamp=out", None, "soc_pos"), 12.5, 0.02);
    near(volts(&circuit, "key=on", None, "soc_pos"), 0.0, 0.01);
    near(volts(&circuit, "key=on,lights=on", Some("wire_out/short_to_ground=0.1"), "mod_out"), 2.4, 0.1);
    let mut bench = Bench::new(&circuit, fault_of(&circuit, "driver/not_commanded").unwrap());
    let low = bench.take("socket_open_off_low");
    let circuit::ObservedValue::Number(low) = low else { panic!("{low:?}") };
    near(low, 12.5 * 3.0 / 13.0, 0.02);
    let stays_off = search(&circuit, "driver/not_commanded");
    assert!(stays_off.leads[0].starts_with("driver/"), "{:?}", stays_off.leads);
    assert_eq!(stays_off.called.as_deref(), Some("body_module"), "after {:?}", stays_off.taken);
}

#[test]
fn a_headlamp_without_a_relay() {
    let circuit = found("lamp_solid_state");
    search(&circuit, "lamp/open").blames_no_module("lamp/open");
    search(&circuit, "wire_out/short_to_ground=0.05").blames_no_module("wire_out/short_to_ground");
    search(&circuit, "wire_ground/high_resistance=2").blames_no_module("wire_ground/high_resistance");
    let weak = search(&circuit, "driver/weak=2");
    weak.leads("driver/weak");
    assert_eq!(weak.called.as_deref(), Some("body_module"), "after {:?}", weak.taken);
}

/// Paths beside a load that these circuits don't contain, and that starve it as a weak output would.
#[test]
fn a_path_beside_a_load_is_no_bad_module() {
    let paths = [
        ("reference_shared", "b_ref", "b_gnd", 20.0),
        ("coil_on_plug", "coil_cmd", "coil_gnd", 60.0),
        ("injector_current", "inj_feed", "mod_out", 0.5),
        ("charging_commanded", "alt_cmd", "alt_case", 100.0),
        ("trailer_lights", "j_stop", "j_gnd", 0.1),
        ("heated_seat", "seat_pos", "seat_neg", 0.1),
        ("heated_seat", "seat_ntc", "seat_ret", 100.0),
        ("lamp_solid_state", "soc_pos", "soc_neg", 0.05),
    ];
    for (id, from, to, ohms) in paths {
        let circuit = found(id);
        let vehicle = with_path(&circuit, from, to, ohms);
        assert!(vehicle.complains().unwrap(), "{id}: {from} to {to} shows no complaint");
        let engine = engine(&circuit);
        for seed in 0..2 {
            let ended = searched(&engine, vehicle.clone(), &circuit, seed);
            assert!(!matches!(ended, Ended::ModuleCalled(_)), "{id}: {from} to {to}, seed {seed}: {ended:?}");
        }
    }
}
