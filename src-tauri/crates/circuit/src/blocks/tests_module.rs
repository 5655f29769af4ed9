//! Tests at the module: feed, ground, what it sees, its output, its connector, the wires alone.

use crate::blocks::composition::{How, TestGroup};
use crate::blocks::draft::{Asked, Draft, NEGATIVE, state};
use crate::blocks::input::{self, HIGH_VOLTS};
use crate::blocks::phrases::say;
use crate::blocks::steps::{
    BATTERY, DROP, GROUND_DROP, JUDGMENT, LEAD, MODULE, ask, between, good, least, look, most, ohms, volts,
    with,
};
use crate::blocks::tests_direct;
use crate::file::component::Need;
use crate::file::layout::SubstituteLoad;
use crate::file::procedure::{Behavior, Limits, Test};

pub(super) fn tests(draft: &Draft<'_>) -> Vec<Test> {
    let feed = say(
        "Module feed at its connector, connector plugged in",
        "Alimentación del módulo en su conector, enchufado",
    );
    let feed = volts("module_feed", feed, ("mod_feed", NEGATIVE), draft.asked(), 6.0);
    let ground_most = if draft.direct() && !draft.composition.drive.feeds() { 0.3 } else { 0.1 };
    let ground = say(
        "Module ground at its connector against battery negative",
        "Masa del módulo en su conector contra el negativo de la batería",
    );
    let ground = volts("module_ground", ground, ("mod_ground", NEGATIVE), draft.asked(), 5.0);
    let mut tests = vec![
        Test { limits: draft.fed(true), cautions: draft.careful(&[]), ..feed },
        Test { limits: most(ground_most, GROUND_DROP), cautions: draft.careful(&[]), ..ground },
    ];
    tests.extend(draft.requests.iter().flat_map(|one| of_request(draft, one)));
    tests.extend(of_output(draft));
    if draft.has(TestGroup::Harness) {
        tests.push(if draft.direct() { tests_direct::harness(draft) } else { harness(draft) });
    }
    let name = say(
        "Module connector opened: corrosion, bent pins, loose terminals (grip tested)?",
        "Conector del módulo abierto: ¿corrosión, pines doblados, terminales flojos (agarre probado)?",
    );
    let terminal = |part: &&crate::file::component::Component| part.id.starts_with("pin_");
    let terminals = draft.components.iter().filter(terminal).map(|part| part.id.clone()).collect();
    let unplugged = state(&[("key", "off"), ("module", "unplugged")]);
    let look = look("module_connector_look", name, terminals, unplugged, 10.0, 0.05);
    tests.push(Test { cautions: crate::blocks::steps::codes(&[BATTERY, MODULE]), ..look });
    tests
}

/// Ids of the tests that show a request, in the order in which they are best made.
pub(super) fn shown_by(one: &Asked) -> Vec<String> {
    let scan = one.id("scan_request", "scan");
    match one.request.how {
        How::SwitchToGround | How::SwitchToFeed => vec![one.id("module_input", "module_input"), scan],
        How::OverTheBus if one.switch.words.shows.is_some() => vec![scan, shows_id(one)],
        How::OverTheBus => vec![scan],
        How::Directly => Vec::new(),
    }
}

fn shows_id(one: &Asked) -> String {
    format!("shows_{}", one.request.id)
}

fn of_request(draft: &Draft<'_>, one: &Asked) -> Vec<Test> {
    let (words, mut tests) = (&one.switch.words, Vec::new());
    if let Some(limits) = input_limits(draft, one) {
        let name = say(
            format!("Module connector, {}, {}", words.signal.en, draft.asking().asked.en),
            format!("Conector del módulo, {}, {}", words.signal.es, draft.asking().asked.es),
        );
        let point =
            if one.request.id == "request" { "mod_in".to_owned() } else { format!("mod_{}", one.request.id) };
        let test =
            volts(&one.id("module_input", "module_input"), name, (&point, NEGATIVE), draft.asked(), 5.0);
        tests.push(Test { limits: Some(limits), cautions: draft.careful(&[]), ..test });
    }
    if draft.has(TestGroup::AtSwitch) {
        tests.extend(at_switch(draft, one));
    }
    let name = with(
        ("Scan tool: does the module see ", "Escáner: ¿ve el módulo "),
        &words.seen,
        (&format!(", {}?", draft.asking().asked.en), &format!(", {}?", draft.asking().asked.es)),
    );
    let needs: Vec<Need> = [draft.awake()].into_iter().chain(draft.need(one)).collect();
    let seen = Behavior::ModuleSees { needs };
    let scan = ask(&one.id("scan_request", "scan"), name, seen, (0.03, 0.03), draft.asked(), 3.0);
    tests.push(Test { cautions: draft.careful(&[]), ..scan });
    if let (How::OverTheBus, Some(shows), false) =
        (one.request.how, &words.shows, one.switch.faults.is_empty())
    {
        let need = Need {
            red: input::message(one),
            black: NEGATIVE.to_owned(),
            at_least: Some(HIGH_VOLTS),
            at_most: None,
        };
        let seen = Behavior::ModuleSees { needs: vec![need] };
        tests.push(ask(&shows_id(one), shows.clone(), seen, (0.05, 0.05), state(&[("key", "on")]), 1.0));
    }
    tests
}

/// Both sides of the switch, and its plug.
fn at_switch(draft: &Draft<'_>, one: &Asked) -> Vec<Test> {
    let (words, asked) = (&one.switch.words, &draft.asking().asked);
    let side = |id: String, point: String, (en, es): (&str, &str), limits| {
        let name =
            say(format!("{en} {}, {}", words.of.en, asked.en), format!("{es} {}, {}", words.of.es, asked.es));
        let test = volts(&id, name, (&point, NEGATIVE), draft.asked(), 4.0);
        Test { limits, cautions: draft.careful(&[]), ..test }
    };
    let signal = ("Signal side", "Lado señal");
    let signal_at = one.id("switch_signal", "signal");
    let mut tests = match one.request.how {
        How::SwitchToGround => {
            let ground = one.id("switch_ground", "ground");
            vec![
                side(one.id("request_signal", "signal"), signal_at, signal, most(1.0, JUDGMENT)),
                side(
                    one.id("request_ground", "ground"),
                    ground,
                    ("Ground side", "Lado masa"),
                    most(0.1, GROUND_DROP),
                ),
            ]
        }
        How::SwitchToFeed => {
            let feed = one.id("switch_feed", "switch_feed");
            vec![
                side(one.id("request_signal", "signal"), signal_at, signal, draft.fed(true)),
                side(
                    one.id("request_feed", "feed"),
                    feed,
                    ("Feed side", "Lado alimentación"),
                    draft.fed(true),
                ),
            ]
        }
        How::OverTheBus | How::Directly => return Vec::new(),
    };
    let name = say(
        format!("Plug {}: loose, corroded, wire broken?", words.of.en),
        format!("Conector {}: ¿flojo, corroído, cable roto?", words.of.es),
    );
    let at = [one.switch.id.clone(), one.id("wire_input", "wire")];
    tests.push(look(&one.id("request_look", "look"), name, at.into(), state(&[("key", "off")]), 4.0, 0.5));
    tests
}

fn input_limits(draft: &Draft<'_>, one: &Asked) -> Option<Limits> {
    match one.request.how {
        How::SwitchToGround => most(1.0, JUDGMENT),
        How::SwitchToFeed => draft.fed(true),
        How::OverTheBus | How::Directly => None,
    }
}

fn of_output(draft: &Draft<'_>) -> Vec<Test> {
    let asked = &draft.asking().asked;
    let limits = || if draft.composition.drive.feeds() { draft.fed(true) } else { most(1.0, DROP) };
    let pin = draft.pin("mod_out", "2");
    let fitted = if draft.direct() {
        say("load plugged in", "carga enchufada")
    } else {
        say("relay in", "relé puesto")
    };
    let mut proven = vec![good("module_feed"), good("module_ground")];
    if draft.direct() && draft.composition.drive.feeds() {
        proven.push(good(tests_direct::POWER));
    }
    let name = say(
        format!("Module output pin {pin} back-probed, {}, {}", fitted.en, asked.en),
        format!("Salida del módulo pin {pin} por detrás, {}, {}", fitted.es, asked.es),
    );
    let loaded = volts("module_output_loaded", name, ("mod_out", NEGATIVE), draft.asked(), 6.0);
    let name = say(
        format!("Module output, {}, through test leads that bypass the terminal", fitted.en),
        format!("Salida del módulo, {}, con cables de prueba que puentean el terminal", fitted.es),
    );
    let past = draft.asked_but(&[("module", "breakout")]);
    let bypass = volts("module_output_bypass", name, ("mod_out", NEGATIVE), past, 12.0);
    vec![
        Test { limits: limits(), cautions: draft.careful(&[]), ..loaded },
        Test {
            limits: past_limits(draft).or_else(limits),
            cautions: draft.careful(&[BATTERY, MODULE]),
            requires: proven,
            ..bypass
        },
    ]
}

/// Test leads that carry a load's current take a volt of their own.
fn past_limits(draft: &Draft<'_>) -> Option<Limits> {
    if !draft.direct() || draft.sags() {
        return None;
    }
    if draft.composition.drive.feeds() { least(10.4, JUDGMENT) } else { most(2.0, JUDGMENT) }
}

/// What hangs on the output, the module unplugged: a path beside a wire or the coil could make a good output fail.
fn harness(draft: &Draft<'_>) -> Test {
    if draft.composition.drive.feeds() {
        let name = say(
            "Control pin of the open module connector to battery negative, relay in",
            "Pin de control del conector abierto del módulo al negativo de la batería, relé puesto",
        );
        let unplugged = state(&[("key", "off"), ("module", "unplugged")]);
        let test = ohms("harness_ohms", name, ("mod_out", NEGATIVE), unplugged, 5.0);
        let healthy = draft.coil_and_across();
        let limits = between(
            (healthy * 0.85).round(),
            (healthy * 1.15).round() + 2.0,
            "the coil, its wires and leads (computed)",
        );
        return Test { limits, cautions: crate::blocks::steps::codes(&[BATTERY, MODULE]), ..test };
    }
    let ohms = draft.coil_ohms();
    let name = say(
        format!("Control wire at the open module connector, {ohms:.0} ohm from it to battery negative"),
        format!("Cable de control en el conector abierto del módulo, {ohms:.0} ohm al negativo"),
    );
    let open = draft.asked_but(&[("module", "unplugged")]);
    let test = volts("harness_loaded", name, ("mod_out", NEGATIVE), open, 5.0);
    Test {
        load: Some("harness_resistor".to_owned()),
        limits: between(5.2, 7.2, "half of the feed, between the coil and a resistor like it (computed)"),
        cautions: draft.careful(&[BATTERY, MODULE, LEAD]),
        ..test
    }
}

/// Resistors of the coil's value, in its place and behind it.
pub(super) fn loads(draft: &Draft<'_>) -> Vec<SubstituteLoad> {
    if draft.direct() {
        return Vec::new();
    }
    let ohms = draft.coil_ohms();
    let resistor = |id: &str, name, from: &str, to: &str| SubstituteLoad {
        id: id.to_owned(),
        name,
        from: from.to_owned(),
        to: to.to_owned(),
        ohms,
        cold_ohms: None,
        tolerance_percent: 5.0,
        replaces: draft.input_id().to_owned(),
        maker_limit_amps: None,
    };
    let name = say(
        format!("{ohms:.0} ohm 5 W resistor in place of the coil"),
        format!("resistencia de {ohms:.0} ohm 5 W en lugar de la bobina"),
    );
    let mut all = vec![resistor("coil_resistor", name, "s86", "s85")];
    let drive = draft.composition.drive;
    if drive.by_module() && !drive.feeds() && draft.has(TestGroup::Harness) {
        let name = say(
            format!("{ohms:.0} ohm 5 W resistor from the module's control pin to battery negative"),
            format!("resistencia de {ohms:.0} ohm 5 W del pin de control del módulo al negativo"),
        );
        all.push(resistor("harness_resistor", name, "mod_out", NEGATIVE));
    }
    all
}
