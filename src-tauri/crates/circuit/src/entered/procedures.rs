//! Default tests of an entered circuit: the complaint, volts at each point within reach, drops and ohms of wires, looks.

use crate::check::healthy::healthy_shows;
use crate::entered::entry::{Drives, Entered, EnteredKind, EnteredModule, EnteredPart};
use crate::entered::module;
use crate::entered::names::{
    BYPASS, FEED, GROUND, HARNESS, INPUT, Ids, OUTPUT, SCAN, TERMINALS, WORKS, coil_of, variable_of,
};
use crate::entered::phrases::text;
use crate::file::layout::Circuit;
use crate::file::observation::{MeasureMode, State};
use crate::file::procedure::{Behavior, Limits, Question, Required, Requirement, Test};
use crate::file::text::Text;
use crate::predict::reading::Predicted;

const DROP: &str = "drop above 1.0 V is worth a search (several vehicle makers' voltage-drop pages, seen)";
const GROUND_DROP: &str = "ground drop 0.1 V (common practice, no standard found)";
const ALONG: &str = "0.2 V along a wire (common practice, no standard found)";
const HANGING: &str = "healthy value ±30 % and 0.5 ohm for leads and joints (judgement)";
const OHMS: &str = "healthy value and 0.5 ohm for leads and joints (judgement)";

/// Adds all tests, then their limits from what a healthy circuit shows.
pub(super) fn add(entered: &Entered, ids: &Ids, circuit: &mut Circuit) {
    let mut tests = questions(entered, ids, circuit);
    tests.extend(at_points(entered, ids, circuit));
    tests.extend(of_relays(entered, ids, circuit));
    tests.extend(along_wires(entered, ids));
    tests.extend(looks(entered, ids));
    let positive = battery(entered).map(|part| ids.point(&part.from)).unwrap_or_default();
    tests.extend(entered.module.iter().flat_map(|made| of_module(made, ids, circuit)));
    tests.extend(entered.module.iter().map(|made| harness(made, &positive, ids, circuit)));
    circuit.tests = tests;
    let shown: Vec<Option<Predicted>> =
        (0..circuit.tests.len()).map(|number| healthy_shows(circuit, number)).collect();
    let with = |(test, shown): (Test, Option<Predicted>)| limited(test, shown);
    circuit.tests = std::mem::take(&mut circuit.tests).into_iter().zip(shown).filter_map(with).collect();
}

fn asked() -> State {
    state(&[("key", "on"), ("request", "on")])
}

fn state(pairs: &[(&str, &str)]) -> State {
    pairs.iter().map(|(variable, value)| ((*variable).to_owned(), (*value).to_owned())).collect()
}

fn reading(test: Test, red: &str, black: &str) -> Test {
    Test { red: Some(red.to_owned()), black: Some(black.to_owned()), ..test }
}

fn question(test: Test, behavior: Behavior, miss: f64, false_alarm: f64) -> Test {
    Test { question: Some(Question { behavior, miss, false_alarm }), ..test }
}

fn battery(entered: &Entered) -> Option<&EnteredPart> {
    entered.parts.iter().find(|part| matches!(part.kind, EnteredKind::Battery {}))
}

fn questions(entered: &Entered, ids: &Ids, circuit: &Circuit) -> Vec<Test> {
    let component = ids.part(&entered.works);
    // It works from about two thirds of the feed (judgment).
    let works = Behavior::PartWorks { component, at_least_volts: 8.0 };
    let name = text(
        format!("{}: does it work?", entered.works.trim()),
        format!("{}: ¿funciona?", entered.works.trim()),
    );
    let works = question(Test::blank(WORKS, name, MeasureMode::YesNo, asked(), 1.0), works, 0.02, 0.02);
    let mut tests = vec![Test { cautions: vec!["moving_parts".to_owned()], ..works }];
    if let Some(battery) = battery(entered) {
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
            let click = Test::blank(format!("click_{coil}"), name, MeasureMode::YesNo, asked(), 1.0);
            tests.push(question(click, Behavior::CoilPullsIn { coil }, 0.08, 0.05));
        }
    }
    tests
}

/// Volts against the battery's negative post, everything asked for. A module's points get the names its list needs.
fn at_points(entered: &Entered, ids: &Ids, circuit: &Circuit) -> Vec<Test> {
    let made = entered.module.as_ref();
    let special = |point: &str| {
        let made = made?;
        let input = made.input.as_ref().map(|input| (&input.point, INPUT));
        let known = [(&made.feed, FEED), (&made.ground, GROUND), (&made.output, OUTPUT)];
        known.into_iter().chain(input).find(|(name, _)| ids.point(name) == point).map(|(_, test)| test)
    };
    let here = circuit.points.iter().filter(|point| point.reachable && point.id != circuit.reference);
    here.map(|point| {
        let id = special(&point.id).map_or_else(|| format!("volts_{}", point.id), str::to_owned);
        let name = text(
            format!("{}, everything asked for", point.name.en),
            format!("{}, todo pedido", point.name.es),
        );
        reading(Test::blank(&id, name, MeasureMode::VoltsDc, asked(), 4.0), &point.id, &circuit.reference)
    })
    .collect()
}

/// Volts at the socket with the relay out.
fn of_relays(entered: &Entered, ids: &Ids, circuit: &Circuit) -> Vec<Test> {
    let mut tests: Vec<Test> = Vec::new();
    for part in &entered.parts {
        let (EnteredKind::RelayCoil { relay, .. } | EnteredKind::RelayContact { relay, .. }) = &part.kind
        else {
            continue;
        };
        let variable = variable_of(relay, ids, entered);
        for end in [&part.from, &part.to] {
            let point = ids.point(end);
            let id = format!("{variable}_out_{point}");
            let reachable = circuit.points.iter().any(|known| known.id == point && known.reachable);
            if !reachable || point == circuit.reference || tests.iter().any(|test| test.id == id) {
                continue;
            }
            let mut out = asked();
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

fn along_wires(entered: &Entered, ids: &Ids) -> Vec<Test> {
    let within = |part: &&EnteredPart| {
        let hidden = |end: &str| entered.out_of_reach.iter().any(|point| point.trim() == end.trim());
        matches!(part.kind, EnteredKind::Wire { .. }) && !hidden(&part.from) && !hidden(&part.to)
    };
    let wires = entered.parts.iter().filter(within);
    wires
        .flat_map(|wire| {
            let (id, words) = (ids.part(&wire.name), wire.name.trim());
            let (red, black) = (ids.point(&wire.from), ids.point(&wire.to));
            let name = text(
                format!("Drop along {words}, everything asked for"),
                format!("Caída en {words}, todo pedido"),
            );
            let drop = Test::blank(format!("drop_{id}"), name, MeasureMode::VoltsDc, asked(), 5.0);
            let name =
                text(format!("{words}, battery disconnected"), format!("{words}, batería desconectada"));
            let unfed = state(&[("battery", "disconnected")]);
            let ohms = Test::blank(format!("ohms_{id}"), name, MeasureMode::Ohms, unfed, 6.0);
            let ohms = Test { cautions: vec!["battery".to_owned()], ..ohms };
            [reading(drop, &red, &black), reading(ohms, &red, &black)]
        })
        .collect()
}

fn looks(entered: &Entered, ids: &Ids) -> Vec<Test> {
    let look = |id: String, name: Text, components: Vec<String>, miss: f64| {
        let test = Test::blank(&id, name, MeasureMode::Look, State::new(), 2.0);
        question(test, Behavior::DamageSeen { components }, miss, 0.03)
    };
    let of = |wanted: fn(&EnteredKind) -> bool| -> Vec<String> {
        let parts = entered.parts.iter().filter(|part| wanted(&part.kind));
        parts.map(|part| ids.part(&part.name)).collect()
    };
    let mut tests = Vec::new();
    let fuses = of(|kind| matches!(kind, EnteredKind::Fuse { .. }));
    if !fuses.is_empty() {
        let name =
            text("Fuses out and looked at: one blown?", "Fusibles fuera y a la vista: ¿alguno fundido?");
        tests.push(look("fuses_look".to_owned(), name, fuses, 0.05));
    }
    let joints = of(|kind| matches!(kind, EnteredKind::Connection {}));
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
        let wires: Vec<String> = wires.map(|wire| ids.part(&wire.name)).collect();
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

fn of_module(made: &EnteredModule, ids: &Ids, circuit: &Circuit) -> Vec<Test> {
    let good = |test: &str| Requirement { test: test.to_owned(), result: Required::Good };
    let mut through = asked();
    through.insert("module".to_owned(), "breakout".to_owned());
    let name = text(
        "Module output through test leads that bypass the terminals",
        "Salida del módulo con cables de prueba que puentean los terminales",
    );
    let bypass = Test::blank(BYPASS, name, MeasureMode::VoltsDc, through, 12.0);
    let bypass = Test {
        cautions: vec!["battery".to_owned(), "module_handling".to_owned()],
        requires: vec![good(FEED), good(GROUND)],
        ..reading(bypass, &ids.point(&made.output), &circuit.reference)
    };
    let name = text("Scan tool: does the module see the request?", "Escáner: ¿ve el módulo la petición?");
    let scan = Test::blank(SCAN, name, MeasureMode::YesNo, asked(), 3.0);
    let scan = question(scan, Behavior::ModuleSees { needs: module::needs(made) }, 0.03, 0.03);
    let name = text(
        "Module connector opened: corrosion, bent pins, loose terminals (grip tested)?",
        "Conector del módulo abierto: ¿corrosión, pines doblados, terminales flojos (agarre probado)?",
    );
    let unplugged = state(&[("module", "unplugged")]);
    let look = Test::blank(TERMINALS, name, MeasureMode::Look, unplugged, 10.0);
    let terminals = ["feed", "ground", "output", "input"].map(module::terminal_id);
    let there = |id: &String| circuit.components.iter().any(|part| part.id == *id);
    let components = terminals.into_iter().filter(there).collect();
    let look = Test { cautions: bypass.cautions.clone(), ..look };
    vec![bypass, scan, question(look, Behavior::DamageSeen { components }, 0.05, 0.03)]
}

/// What hangs on the module's output, alone: a path beside the load would make a good output fail.
fn harness(made: &EnteredModule, positive: &str, ids: &Ids, circuit: &Circuit) -> Test {
    let mut alone = asked();
    alone.insert("module".to_owned(), "unplugged".to_owned());
    alone.insert("battery".to_owned(), "disconnected".to_owned());
    let (far, en, es) = match made.drives {
        Drives::Feed => (circuit.reference.as_str(), "negative", "negativo"),
        Drives::Ground => (positive, "positive", "positivo"),
    };
    let name = text(
        format!("Module unplugged, battery disconnected: output pin to the battery's {en} clamp"),
        format!("Módulo desenchufado, batería desconectada: pin de salida al borne {es} de la batería"),
    );
    let test = Test::blank(HARNESS, name, MeasureMode::Ohms, alone, 6.0);
    let cautions = vec!["battery".to_owned(), "module_handling".to_owned()];
    Test { cautions, ..reading(test, &ids.point(&made.output), far) }
}

/// Puts limits around what a healthy circuit shows; a test that shows nothing definite is left out.
fn limited(test: Test, shown: Option<Predicted>) -> Option<Test> {
    let written = |limit: Option<f64>| limit.map(|limit| (limit * 1e4).round() / 1e4);
    let limits = |min, max, source: &str| {
        Some(Limits { min: written(min), max: written(max), source: source.to_owned() })
    };
    let limits = match (test.mode, shown?) {
        _ if test.limits.is_some() || test.question.is_some() => test.limits.clone(),
        (_, Predicted::Anything) => return None,
        (_, Predicted::OverLimit) if test.id == HARNESS => limits(Some(1e6), None, HANGING),
        (_, Predicted::Value { value, .. }) if test.id == HARNESS => {
            limits(Some(0.7 * value - 0.5), Some(1.3 * value + 0.5), HANGING)
        }
        (MeasureMode::Ohms, Predicted::Value { value, .. }) => limits(None, Some(value + 0.5), OHMS),
        (_, Predicted::Value { value, .. }) if test.id.starts_with("drop_") => {
            limits(Some((value - 0.2).min(-0.2)), Some((value + 0.2).max(0.2)), ALONG)
        }
        (_, Predicted::Value { value, .. }) if value >= 2.0 => limits(Some(value - 1.0), None, DROP),
        (_, Predicted::Value { value, .. }) => limits(None, Some(value.max(0.0) + 0.1), GROUND_DROP),
        (_, Predicted::OverLimit) => None,
    };
    Some(Test { limits, ..test })
}
