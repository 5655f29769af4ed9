//! Tests of a load that the module drives itself: its plug open, its own ohms, the drop along its wire, what the scan tool
//! says of the output, a lead in the output's place, and the wires alone.

use crate::blocks::composition::TestGroup;
use crate::blocks::direct::PLUG;
use crate::blocks::draft::{Draft, NEGATIVE, state};
use crate::blocks::load::LoadKind;
use crate::blocks::phrases::say;
use crate::blocks::steps::{
    BATTERY, DROP, JUDGMENT, LEAD, MODULE, ask, between, codes, good, least, look, most, ohms, volts, with,
};
use crate::file::component::Need;
use crate::file::observation::MeasureMode;
use crate::file::procedure::{Behavior, Test};

/// The feed that the module passes on to the load.
pub(super) const POWER: &str = "module_load_feed";
/// What hangs on the output alone.
pub(super) const HARNESS: &str = "harness_alone";
/// A scan tool calls an output on from so many volts, and open below (judgment).
const ON_VOLTS: f64 = 6.0;
const OPEN_VOLTS: f64 = 3.0;

pub(super) fn tests(draft: &Draft<'_>) -> Vec<Test> {
    let fed = draft.composition.drive.feeds();
    let mut tests = vec![along(draft), own_plug(draft)];
    if fed {
        tests.push(power(draft));
        tests.extend(open_plug(draft));
    } else {
        tests.push(load_feed(draft));
    }
    tests.extend(scan(draft, fed));
    if draft.has(TestGroup::LoadSide) {
        tests.extend(own_ohms(draft));
    }
    if draft.has(TestGroup::Leads) {
        tests.push(lead(draft, fed));
    }
    tests
}

fn power(draft: &Draft<'_>) -> Test {
    let name = with(
        (
            "Load feed of the module at its connector, ",
            "Alimentación de potencia del módulo en su conector, ",
        ),
        &draft.asking().asked,
        ("", ""),
    );
    let test = volts(POWER, name, ("mod_power", NEGATIVE), draft.asked(), 6.0);
    Test { limits: draft.fed(true), cautions: draft.careful(&[]), ..test }
}

/// The feed of a load that the module grounds.
fn load_feed(draft: &Draft<'_>) -> Test {
    let (connector, asked) = (&draft.load.words.connector, &draft.asking().asked);
    let name = say(
        format!("Feed at the {}, plugged in, {}", connector.en, asked.en),
        format!("Alimentación en el {}, enchufado, {}", connector.es, asked.es),
    );
    let test = volts("load_pin_feed", name, (&draft.positive(), NEGATIVE), draft.asked(), 4.0);
    Test { limits: draft.fed(true), cautions: draft.careful(&[]), ..test }
}

/// The wire between module and load.
fn along(draft: &Draft<'_>) -> Test {
    let fed = draft.composition.drive.feeds();
    let (positive, negative) = (draft.positive(), draft.negative());
    let leads = if fed { ("mod_out", positive.as_str()) } else { (negative.as_str(), "mod_out") };
    let name = with(
        ("Drop along the wire between module and load, ", "Caída en el cable entre el módulo y la carga, "),
        &draft.asking().asked,
        ("", ""),
    );
    let test = volts("output_wire_drop", name, leads, draft.asked(), 6.0);
    Test { limits: most(0.5, JUDGMENT), cautions: draft.careful(&[]), ..test }
}

/// Both pins of the open plug: what the output gives without a load, to an ordinary meter and to one that loads it a little.
fn open_plug(draft: &Draft<'_>) -> Vec<Test> {
    let (connector, asked) = (&draft.load.words.connector, &draft.asking().asked);
    let open = || draft.asked_but(&[(PLUG, "unplugged")]);
    let leads = (draft.positive(), draft.negative());
    let name = say(
        format!("At the unplugged {}, {} (no load)", connector.en, asked.en),
        format!("En el {} desenchufado, {} (sin carga)", connector.es, asked.es),
    );
    let plain = volts("plug_open", name, (&leads.0, &leads.1), open(), 3.0);
    let name = say(
        format!("The same in low-impedance mode, {}", asked.en),
        format!("Lo mismo en modo de baja impedancia, {}", asked.es),
    );
    let low = volts("plug_open_low_impedance", name, (&leads.0, &leads.1), open(), 3.0);
    vec![
        Test { limits: least(11.4, DROP), ..plain },
        Test { mode: MeasureMode::VoltsLowImpedance, limits: least(11.4, DROP), ..low },
    ]
}

fn own_plug(draft: &Draft<'_>) -> Test {
    let connector = &draft.load.words.connector;
    let name = say(
        format!("Open the {}: burnt, corroded, loose terminals?", connector.en),
        format!("Abrir el {}: ¿terminales quemados, corroídos, flojos?", connector.es),
    );
    let terminals = draft.components.iter().filter(|part| part.id.starts_with("term_"));
    let terminals = terminals.map(|part| part.id.clone()).collect();
    look("plug_look", name, terminals, state(&[("key", "off"), (PLUG, "unplugged")]), 3.0, 0.1)
}

/// What the module itself reports of its output.
fn scan(draft: &Draft<'_>, fed: bool) -> Vec<Test> {
    let seen = |red: &str, black: &str, at_least, at_most| {
        let need = Need { red: red.to_owned(), black: black.to_owned(), at_least, at_most };
        Behavior::ModuleSees { needs: vec![draft.awake(), need] }
    };
    let asked = &draft.asking().asked;
    let name = say(
        format!("Scan tool, {}: output reported on, without a short or overload code?", asked.en),
        format!("Escáner, {}: ¿salida indicada activa, sin código de corto o sobrecarga?", asked.es),
    );
    let on = if fed {
        seen("m_out", "m_ground", Some(ON_VOLTS), None)
    } else {
        seen("m_out", "m_ground", None, Some(ON_VOLTS))
    };
    let on = ask("scan_output_on", name, on, (0.05, 0.05), draft.asked(), 2.0);
    let mut tests = vec![Test { cautions: draft.careful(&[]), ..on }];
    let off = state(&[("key", "on")]);
    if off != draft.asked() {
        let name = say(
            "Scan tool, not commanded: no open-load code for this output?",
            "Escáner, sin orden: ¿ningún código de carga abierta en esta salida?",
        );
        let open = if fed {
            seen("m_out", "m_ground", None, Some(OPEN_VOLTS))
        } else {
            // The load itself brings its feed to a grounding output; without it the pull-up does.
            return tests;
        };
        tests.push(ask("scan_no_open_load", name, open, (0.05, 0.05), off, 2.0));
    }
    tests
}

/// Between its own pins, unplugged.
fn own_ohms(draft: &Draft<'_>) -> Option<Test> {
    let cold = match draft.load.kind {
        LoadKind::Motor { ohms, stalled_ohms } => stalled_ohms.unwrap_or(ohms),
        LoadKind::Lamp { cold_ohms, .. } => cold_ohms,
        LoadKind::Heater { ohms } | LoadKind::Magnet { ohms, .. } => ohms,
        LoadKind::Starter { solenoid_ohms, .. } => solenoid_ohms,
    };
    let part = &draft.load.words.part;
    let name = say(
        format!("Unplugged: {} between its own pins", part.en),
        format!("Desenchufado: {} entre sus propios pines", part.es),
    );
    let bare = state(&[("key", "off"), (PLUG, "unplugged")]);
    let test = ohms("own_ohms", name, (&draft.inner_positive(), &draft.inner_negative()), bare, 3.0);
    let hundredth = |value: f64| (value * 100.0).round() / 100.0;
    let (low, high) = (hundredth(cold * 0.6), hundredth(cold * 1.4 + 0.4));
    Some(Test { limits: between(low, high, "its usual ohms at rest ±40 % and leads (judgement)"), ..test })
}

/// A lead does what the output should: the load works with it or it doesn't. The module is unplugged meanwhile.
fn lead(draft: &Draft<'_>, fed: bool) -> Test {
    let works = &draft.load.words.works;
    let (value, en, es) = if fed {
        (
            "battery_to_load",
            "Battery positive to the load's feed pin by a fused lead, module unplugged: ",
            "Positivo de la batería al pin de alimentación de la carga con cable con fusible, módulo desenchufado: ",
        )
    } else {
        (
            "load_to_negative",
            "The load's control pin to battery negative by a fused lead, module unplugged: ",
            "Pin de control de la carga al negativo de la batería con cable con fusible, módulo desenchufado: ",
        )
    };
    let by_hand = state(&[("key", "off"), ("module", "unplugged"), ("lead", value)]);
    let test = draft.does_it_work("lead_to_load", with((en, es), works, ("", "")), by_hand, 8.0);
    let cautions = draft.careful(&[LEAD, BATTERY, MODULE]);
    Test { cautions, requires: vec![good("battery_volts")], ..test }
}

/// What hangs on the output, module and load unplugged: a path to ground would make a good feeding output fail, one to a
/// feed a grounding one.
pub(super) fn harness(draft: &Draft<'_>) -> Test {
    let cautions = codes(&[BATTERY, MODULE]);
    if draft.composition.drive.feeds() {
        let name = say(
            "Output pin of the open module connector to battery negative, load unplugged",
            "Pin de salida del conector abierto del módulo al negativo de la batería, carga desenchufada",
        );
        let alone = state(&[("key", "off"), ("module", "unplugged"), (PLUG, "unplugged")]);
        let test = ohms(HARNESS, name, ("mod_out", NEGATIVE), alone, 5.0);
        return Test {
            limits: least(100_000.0, "nothing hangs on it without its load (judgement)"),
            cautions,
            ..test
        };
    }
    let name = say(
        "Output pin of the open module connector against battery negative, load unplugged, key on",
        "Pin de salida del conector abierto del módulo contra el negativo, carga desenchufada, contacto dado",
    );
    let alone = state(&[("key", "on"), ("module", "unplugged"), (PLUG, "unplugged")]);
    let test = volts(HARNESS, name, ("mod_out", NEGATIVE), alone, 5.0);
    Test { limits: most(0.5, "nothing feeds it without its load (judgement)"), cautions, ..test }
}
