//! The inside of an entered module, and what must be observed before it may be called the cause.

use crate::entered::entry::{Drives, EnteredModule};
use crate::entered::faults;
use crate::entered::names::{BYPASS, FEED, GROUND, HARNESS, INPUT, Ids, OUTPUT, SCAN, TERMINALS};
use crate::entered::phrases::{same, text, when};
use crate::file::component::{Component, ComponentKind, Conditions, Need};
use crate::file::layout::Point;
use crate::file::module::{EvidenceCode, EvidenceNeed, Module};
use crate::file::text::Text;

/// Volts a module works from (judgment).
const AWAKE_VOLTS: f64 = 6.0;
/// An input pulled to ground counts as asked below, one pulled to the feed above (judgment).
const LOW_VOLTS: f64 = 2.0;

/// What the module must see before it switches on.
pub(super) fn needs(module: &EnteredModule) -> Vec<Need> {
    let need = |red: &str, at_least, at_most| Need {
        red: red.to_owned(),
        black: INSIDE_GROUND.to_owned(),
        at_least,
        at_most,
    };
    let mut needs = vec![need(INSIDE_FEED, Some(AWAKE_VOLTS), None)];
    needs.extend(module.input.iter().map(|input| match input.asked_by {
        Drives::Ground => need(INSIDE_INPUT, None, Some(LOW_VOLTS)),
        Drives::Feed => need(INSIDE_INPUT, Some(AWAKE_VOLTS), None),
    }));
    needs
}

pub(super) const INSIDE_FEED: &str = "module_inside_feed";
const INSIDE_GROUND: &str = "module_inside_ground";
const INSIDE_OUTPUT: &str = "module_inside_output";
const INSIDE_INPUT: &str = "module_inside_input";

/// Adds terminals, test leads past them, own draw, input and driver.
pub(super) fn parts(module: &EnteredModule, ids: &Ids, parts: &mut Vec<Component>, points: &mut Vec<Point>) {
    let mut terminals = vec![
        (&module.feed, INSIDE_FEED, "feed", "alimentación"),
        (&module.ground, INSIDE_GROUND, "ground", "masa"),
        (&module.output, INSIDE_OUTPUT, "output", "salida"),
    ];
    terminals.extend(module.input.iter().map(|input| (&input.point, INSIDE_INPUT, "input", "entrada")));
    for (outside, inside, en, es) in terminals {
        points.push(inner_point(
            inside,
            text(format!("{en} inside the module"), format!("{es} dentro del módulo")),
        ));
        let join = |ohms| ComponentKind::Connection { from: ids.point(outside), to: inside.to_owned(), ohms };
        let name = text(format!("module terminal, {en}"), format!("terminal del módulo, {es}"));
        let terminal = component(&terminal_id(en), name, join(0.005), when("module", &["plugged"]));
        parts.push(Component { faults: faults::of_terminal(), ..terminal });
        let name = text(format!("test lead past the terminal, {en}"), format!("cable de prueba, {es}"));
        parts.push(component(&format!("module_lead_{en}"), name, join(0.02), when("module", &["breakout"])));
    }
    let (from, to) = (INSIDE_FEED.to_owned(), INSIDE_GROUND.to_owned());
    let name = text("module's own draw", "consumo propio del módulo");
    let draw =
        component("module_draw", name, ComponentKind::SupplyLoad { from, to, ohms: 20.0 }, Conditions::new());
    parts.push(Component { tolerance_percent: 20.0, ..draw });
    parts.extend(input(module));
    parts.push(driver(module));
}

fn input(module: &EnteredModule) -> Option<Component> {
    let (to, ohms) = match module.input.as_ref()?.asked_by {
        Drives::Ground => (INSIDE_FEED, 2200.0),
        Drives::Feed => (INSIDE_GROUND, 10_000.0),
    };
    let kind = ComponentKind::Resistor { from: INSIDE_INPUT.to_owned(), to: to.to_owned(), ohms };
    let name = text("resistor at the module's input", "resistencia en la entrada del módulo");
    Some(Component {
        tolerance_percent: 5.0,
        ..component("module_input_resistor", name, kind, Conditions::new())
    })
}

fn driver(module: &EnteredModule) -> Component {
    let (supply, output, ground) =
        (INSIDE_FEED.to_owned(), INSIDE_OUTPUT.to_owned(), INSIDE_GROUND.to_owned());
    let mut on_when = when("key", &["on"]);
    if module.input.is_none() {
        on_when.extend(when("request", &["on"]));
    }
    let (on_ohms, limit_amps, needs) = (0.05, 20.0, needs(module));
    // Open-load pull-up of 20 kohm: recommended in a driver maker's data sheet (seen).
    let (off_pull_up_ohms, off_pull_down_ohms, duty) = (Some(20_000.0), None, None);
    let kind = match module.drives {
        Drives::Feed => ComponentKind::HighSideDriver {
            supply,
            output,
            ground,
            on_ohms,
            limit_amps,
            on_when,
            needs,
            forced_when: Conditions::new(),
            off_pull_up_ohms,
            off_pull_down_ohms,
            duty,
        },
        Drives::Ground => ComponentKind::LowSideDriver {
            supply,
            output,
            ground,
            on_ohms,
            limit_amps,
            on_when,
            needs,
            forced_when: Conditions::new(),
            off_pull_up_ohms,
            off_pull_down_ohms,
            duty,
            freewheel: None,
        },
    };
    let name = text("module output driver", "etapa de salida del módulo");
    Component { faults: faults::of_driver(), ..component(DRIVER, name, kind, Conditions::new()) }
}

const DRIVER: &str = "module_driver";

pub(super) fn terminal_id(which: &str) -> String {
    format!("module_terminal_{which}")
}

fn component(id: &str, name: Text, kind: ComponentKind, present_when: Conditions) -> Component {
    Component { id: id.to_owned(), name, kind, present_when, tolerance_percent: 0.0, faults: Vec::new() }
}

fn inner_point(id: &str, name: Text) -> Point {
    Point { id: id.to_owned(), name, x: 0.0, y: 0.0, reachable: false, never_load: false }
}

/// The list before a call, with the tests that [`crate::entered::procedures`] makes.
pub(super) fn evidence(module: &EnteredModule) -> Module {
    let need = |id: &str, en: &str, es: &str, code, tests: &[&str], looks| EvidenceNeed {
        id: id.to_owned(),
        name: text(en, es),
        code,
        tests: tests.iter().map(|test| (*test).to_owned()).collect(),
        looks,
    };
    let mut evidence = vec![
        need("feed", "feed of the module", "alimentación del módulo", EvidenceCode::Supply, &[FEED], 1),
        need("ground", "ground of the module", "masa del módulo", EvidenceCode::Ground, &[GROUND], 1),
    ];
    let asked = [INPUT, SCAN];
    if module.input.is_some() {
        evidence.push(need(
            "request",
            "request input",
            "entrada de petición",
            EvidenceCode::Input,
            &asked,
            2,
        ));
    } else {
        evidence.push(need("request", "request", "petición", EvidenceCode::Input, &[SCAN], 1));
    }
    evidence.push(need(
        "output",
        "output under load",
        "salida con carga",
        EvidenceCode::OutputUnderLoad,
        &[OUTPUT],
        1,
    ));
    evidence.push(need(
        "output_past_terminal",
        "output past its terminal",
        "salida sin pasar por su terminal",
        EvidenceCode::PastTerminal,
        &[BYPASS],
        1,
    ));
    evidence.push(need(
        "harness",
        "what hangs on the output, module unplugged",
        "lo que cuelga de la salida, módulo desenchufado",
        EvidenceCode::Harness,
        &[HARNESS],
        1,
    ));
    Module {
        id: "module".to_owned(),
        name: same(&module.name),
        components: vec![DRIVER.to_owned()],
        evidence,
        inspection: TERMINALS.to_owned(),
    }
}
