//! Default tests of an entered circuit: the complaint, volts at each point within reach, drops and ohms of wires, looks.

use crate::check::healthy::all_healthy_show;
use crate::entered::entry::{EnteredKind, EnteredPart};
use crate::entered::evidence::Suspect;
use crate::entered::making::{Making, volts_id};
use crate::entered::names::{WORKS, coil_of, variable_of};
use crate::entered::parts::{plug_of, signal_points};
use crate::entered::phrases::text;
use crate::entered::relevant;
use crate::entered::tests_module;
use crate::entered::works::{Works, input_of, reading_of, right};
use crate::file::layout::{Circuit, Point};
use crate::file::observation::{MeasureMode, State};
use crate::file::procedure::{Behavior, Limits, Question, Test};
use crate::file::text::Text;
use crate::predict::reading::Predicted;
use crate::solve::solution::solve;

const DROP: &str = "drop above 1.0 V is worth a search (several vehicle makers' voltage-drop pages, seen)";
const GROUND_DROP: &str = "ground drop 0.1 V (common practice, no standard found)";
const ALONG: &str = "0.2 V along a wire (common practice, no standard found)";
const HANGING: &str = "healthy value ±30 % and 0.5 ohm for leads and joints (judgement)";
const OHMS: &str = "healthy value and 0.5 ohm for leads and joints (judgement)";
const SIGNAL: &str = "healthy value ±4 % and 0.1 V (judgement)";
const BUS: &str = "two terminators of 120 ohm are 60, one is 120 ohm (published values, computed), ±5 %";
const PULSED: &str = "as asked, ±10 % (judgement)";
const OPEN: &str = "nothing but what listens hangs there (judgement)";
/// Ohms of a wire that nothing hangs on but what listens.
const OPEN_OHMS: f64 = 2_000.0;
/// Tests of one circuit: beyond, those that tell least are left out.
const MOST_TESTS: usize = 160;

/// Adds all tests, then their limits from what a healthy circuit shows.
pub(super) fn add(making: &Making<'_>, works: &Works, suspects: &[Suspect<'_, '_>], circuit: &mut Circuit) {
    let mut tests = questions(making, works, circuit);
    tests.extend(tests_module::all(making, suspects, circuit));
    tests.extend(looks(making, circuit));
    tests.extend(of_sensors(making, circuit));
    tests.extend(at_points(making, circuit));
    tests.extend(of_relays(making, circuit));
    let (drops, ohms) = along_wires(making, circuit);
    tests.extend(drops);
    tests.extend(ohms);
    tests.truncate(MOST_TESTS);
    circuit.tests = tests;
    let signals = signal_points(making, &circuit.components);
    let shown = all_healthy_show(circuit);
    let with = |(test, shown): (Test, Option<Predicted>)| limited(test, shown, &signals);
    circuit.tests = std::mem::take(&mut circuit.tests).into_iter().zip(shown).filter_map(with).collect();
}

pub(super) fn state(pairs: &[(&str, &str)]) -> State {
    pairs.iter().map(|(variable, value)| ((*variable).to_owned(), (*value).to_owned())).collect()
}

pub(super) fn reading(test: Test, red: &str, black: &str) -> Test {
    Test { red: Some(red.to_owned()), black: Some(black.to_owned()), ..test }
}

pub(super) fn question(test: Test, behavior: Behavior, miss: f64, false_alarm: f64) -> Test {
    Test { question: Some(Question { behavior, miss, false_alarm }), ..test }
}

pub(super) fn battery<'e>(making: &Making<'e>) -> Option<&'e EnteredPart> {
    making.entered.parts.iter().find(|part| matches!(part.kind, EnteredKind::Battery {}))
}

fn questions(making: &Making<'_>, works: &Works, circuit: &Circuit) -> Vec<Test> {
    let (entered, ids) = (making.entered, making.ids);
    let name = match works {
        Works::Seen { name, .. } => name.clone(),
        Works::Part { .. } => text(
            format!("{}: does it work?", entered.works.trim()),
            format!("{}: ¿funciona?", entered.works.trim()),
        ),
    };
    let asked = Test::blank(WORKS, name, MeasureMode::YesNo, making.asked(), 1.0);
    let (miss, cautions) = match works {
        Works::Part { .. } => (0.02, vec!["moving_parts".to_owned()]),
        Works::Seen { .. } => (0.03, Vec::new()),
    };
    let mut tests = vec![Test { cautions, ..question(asked, works.behavior(), miss, miss) }];
    if let Some(battery) = battery(making) {
        let name = text("Battery across its posts", "Batería entre sus bornes");
        let volts = Test::blank("battery_volts", name, MeasureMode::VoltsDc, State::new(), 1.0);
        let limits = Limits {
            min: Some(12.2),
            max: None,
            source: "12.24 V = half charged (published table, seen)".to_owned(),
        };
        let volts = reading(volts, &ids.point(&battery.from), &circuit.reference);
        tests.push(Test { limits: Some(limits), ..volts });
    }
    for part in &entered.parts {
        if let EnteredKind::RelayCoil { relay, .. } = &part.kind {
            let name = text(format!("{relay}: does it click?"), format!("{relay}: ¿hace clic?"));
            let coil = coil_of(relay, ids, entered);
            if !relevant::suspected(circuit, &coil) {
                continue;
            }
            let click = Test::blank(format!("click_{coil}"), name, MeasureMode::YesNo, making.asked(), 1.0);
            tests.push(question(click, Behavior::CoilPullsIn { coil }, 0.08, 0.05));
        }
    }
    tests
}

/// Volts against the battery's negative post. Those a module's list needs come first.
fn at_points(making: &Making<'_>, circuit: &Circuit) -> Vec<Test> {
    let near = relevant::points(circuit);
    let pins: Vec<String> = making
        .modules
        .iter()
        .flat_map(|module| [&module.feed, &module.ground].map(|pin| making.ids.point(pin.point)))
        .collect();
    let worth = |point: &Point| relevant::reached(&near, point) || pins.contains(&point.id);
    let reachable = circuit.points.iter().filter(|point| point.reachable && point.id != circuit.reference);
    let here = reachable.filter(|point| worth(point));
    let mut tests: Vec<Test> = here
        .map(|point| {
            let id = volts_id(making, &point.id);
            let name = text(
                format!("{}, everything asked for", point.name.en),
                format!("{}, todo pedido", point.name.es),
            );
            let test = Test::blank(&id, name, MeasureMode::VoltsDc, making.asked(), 4.0);
            reading(test, &point.id, &circuit.reference)
        })
        .collect();
    tests.sort_by_key(|test| test.id.starts_with("volts_"));
    tests
}

/// Every sensor that a module reads: its reading by the scan tool, and its 5 V with its plug open.
fn of_sensors(making: &Making<'_>, circuit: &Circuit) -> Vec<Test> {
    let Ok(healthy) = solve(circuit, &making.asked(), &[], None) else { return Vec::new() };
    let mut tests = Vec::new();
    for part in making.entered.parts.iter().filter(|part| part.kind.is_sensor()) {
        let id = making.ids.part(&part.name);
        let asked_for = part.name.trim() == making.entered.works.trim();
        if let Some((module, input)) = input_of(making, circuit, part).filter(|_| !asked_for)
            && let Some(needs) = right(module, input, part, &healthy)
        {
            let test =
                Test::blank(format!("scan_{id}"), reading_of(part), MeasureMode::YesNo, making.asked(), 2.0);
            tests.push(question(test, Behavior::ModuleSees { needs }, 0.03, 0.03));
        }
        if let EnteredKind::Sensor { .. } = part.kind {
            let name = text(
                format!("5 V at {}, its plug open", part.name.trim()),
                format!("5 V en {}, su conector abierto", part.name.trim()),
            );
            let mut open = making.asked();
            open.insert(plug_of(&id), "unplugged".to_owned());
            let test = Test::blank(format!("open_{id}"), name, MeasureMode::VoltsDc, open, 3.0);
            tests.push(reading(test, &making.ids.point(&part.from), &circuit.reference));
        }
    }
    tests
}

/// Volts at the socket with the relay out.
fn of_relays(making: &Making<'_>, circuit: &Circuit) -> Vec<Test> {
    let (entered, ids) = (making.entered, making.ids);
    let mut tests: Vec<Test> = Vec::new();
    for part in &entered.parts {
        let (EnteredKind::RelayCoil { relay, .. } | EnteredKind::RelayContact { relay, .. }) = &part.kind
        else {
            continue;
        };
        if !relevant::suspected(circuit, &ids.part(&part.name)) {
            continue;
        }
        let variable = variable_of(relay, ids, entered);
        for end in [&part.from, &part.to] {
            let point = ids.point(end);
            let id = format!("{variable}_out_{point}");
            let reachable = circuit.points.iter().any(|known| known.id == point && known.reachable);
            if !reachable || point == circuit.reference || tests.iter().any(|test| test.id == id) {
                continue;
            }
            let mut out = making.asked();
            out.insert(variable.clone(), "removed".to_owned());
            let name =
                text(format!("{}, {relay} out", end.trim()), format!("{}, {relay} quitado", end.trim()));
            tests.push(reading(
                Test::blank(&id, name, MeasureMode::VoltsDc, out, 2.0),
                &point,
                &circuit.reference,
            ));
        }
    }
    tests
}

/// Drops under load, and ohms with the battery disconnected.
fn along_wires(making: &Making<'_>, circuit: &Circuit) -> (Vec<Test>, Vec<Test>) {
    let (entered, ids) = (making.entered, making.ids);
    let within = |part: &&EnteredPart| {
        let hidden = |end: &str| entered.out_of_reach.iter().any(|point| point.trim() == end.trim());
        let suspected = relevant::suspected(circuit, &ids.part(&part.name));
        suspected && matches!(part.kind, EnteredKind::Wire { .. }) && !hidden(&part.from) && !hidden(&part.to)
    };
    let wires = entered.parts.iter().filter(within);
    wires
        .map(|wire| {
            let (id, words) = (ids.part(&wire.name), wire.name.trim());
            let (red, black) = (ids.point(&wire.from), ids.point(&wire.to));
            let name = text(
                format!("Drop along {words}, everything asked for"),
                format!("Caída en {words}, todo pedido"),
            );
            let drop = Test::blank(format!("drop_{id}"), name, MeasureMode::VoltsDc, making.asked(), 5.0);
            let name =
                text(format!("{words}, battery disconnected"), format!("{words}, batería desconectada"));
            let unfed = state(&[("battery", "disconnected")]);
            let ohms = Test::blank(format!("ohms_{id}"), name, MeasureMode::Ohms, unfed, 6.0);
            let ohms = Test { cautions: vec!["battery".to_owned()], ..ohms };
            (reading(drop, &red, &black), reading(ohms, &red, &black))
        })
        .unzip()
}

fn looks(making: &Making<'_>, circuit: &Circuit) -> Vec<Test> {
    let (entered, ids) = (making.entered, making.ids);
    let look = |id: String, name: Text, components: Vec<String>, miss: f64| {
        let test = Test::blank(&id, name, MeasureMode::Look, State::new(), 2.0);
        question(test, Behavior::DamageSeen { components }, miss, 0.03)
    };
    let of = |wanted: fn(&EnteredKind) -> bool| -> Vec<String> {
        let parts = entered.parts.iter().filter(|part| wanted(&part.kind));
        parts.map(|part| ids.part(&part.name)).filter(|id| relevant::suspected(circuit, id)).collect()
    };
    let mut tests = Vec::new();
    let fuses = of(|kind| matches!(kind, EnteredKind::Fuse { .. }));
    if !fuses.is_empty() {
        let name =
            text("Fuses out and looked at: one blown?", "Fusibles fuera y a la vista: ¿alguno fundido?");
        tests.push(look("fuses_look".to_owned(), name, fuses, 0.05));
    }
    let joints = of(|kind| matches!(kind, EnteredKind::Connection {} | EnteredKind::Splice { .. }));
    if !joints.is_empty() {
        let name = text("Joints and ground points: loose, corroded?", "Uniones y masas: ¿flojas, corroídas?");
        tests.push(look("joints_look".to_owned(), name, joints, 0.2));
    }
    for (i, connector) in entered.connectors.iter().enumerate() {
        let at = |end: &str| connector.pins.iter().any(|pin| pin.point.trim() == end.trim());
        let wires = entered
            .parts
            .iter()
            .filter(|part| matches!(part.kind, EnteredKind::Wire { .. }) && (at(&part.from) || at(&part.to)));
        let wires = wires.map(|wire| ids.part(&wire.name));
        let wires: Vec<String> = wires.filter(|id| relevant::suspected(circuit, id)).collect();
        if !wires.is_empty() {
            let words = connector.name.trim();
            let name = text(
                format!("{words} opened: damage at its wires?"),
                format!("{words} abierto: ¿daños en sus cables?"),
            );
            // A wire breaks elsewhere as often as at its connector (judgment).
            tests.push(look(format!("connector_{}_look", i + 1), name, wires, 0.5));
        }
    }
    tests
}

/// Puts limits around what a healthy circuit shows; a test that shows nothing definite is left out.
fn limited(test: Test, shown: Option<Predicted>, signals: &[String]) -> Option<Test> {
    let written = |limit: Option<f64>| limit.map(|limit| (limit * 1e4).round() / 1e4);
    let limits = |min, max, source: &str| {
        Some(Limits { min: written(min), max: written(max), source: source.to_owned() })
    };
    let signal = test.red.as_ref().is_some_and(|red| signals.contains(red));
    let hangs = test.id.ends_with("harness");
    let bus = test.id.contains("can_") || test.id.contains("terminator");
    let limits = match (test.mode, shown?) {
        _ if test.limits.is_some() || test.question.is_some() => test.limits.clone(),
        (_, Predicted::Anything) => return None,
        (MeasureMode::Ohms, Predicted::OverLimit) if hangs => limits(Some(1e6), None, HANGING),
        (MeasureMode::Ohms, Predicted::OverLimit) if test.id.ends_with("to_ground") => {
            limits(Some(OPEN_OHMS), None, OPEN)
        }
        (MeasureMode::Ohms, Predicted::Value { value, .. }) if test.id.ends_with("to_ground") => {
            limits(Some(OPEN_OHMS.min(0.5 * value)), None, OPEN)
        }
        (MeasureMode::Ohms, Predicted::Value { value, .. }) if bus => {
            limits(Some(0.95 * value), Some(1.05 * value), BUS)
        }
        (MeasureMode::Ohms, Predicted::Value { value, .. }) if hangs => {
            limits(Some(0.7 * value - 0.5), Some(1.3 * value + 0.5), HANGING)
        }
        (MeasureMode::Ohms, Predicted::Value { value, .. }) => limits(None, Some(value + 0.5), OHMS),
        (MeasureMode::Duty, Predicted::Value { value, .. }) => {
            limits(Some(value - 10.0), Some(value + 10.0), PULSED)
        }
        (_, Predicted::Value { value, .. }) if test.id.starts_with("drop_") => {
            limits(Some((value - 0.2).min(-0.2)), Some((value + 0.2).max(0.2)), ALONG)
        }
        (_, Predicted::Value { value, .. }) if signal => {
            let within = 0.1 + 0.04 * value.abs();
            limits(Some(value - within), Some(value + within), SIGNAL)
        }
        (_, Predicted::Value { value, .. }) if value >= 2.0 => limits(Some(value - 1.0), None, DROP),
        (_, Predicted::Value { value, .. }) => limits(None, Some(value.max(0.0) + 0.1), GROUND_DROP),
        (_, Predicted::OverLimit) => None,
    };
    Some(Test { limits, ..test })
}
