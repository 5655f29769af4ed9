//! Tests at the relay: its click, its socket, its coil, another relay, leads in its place.

use crate::blocks::composition::{LegOn, TestGroup};
use crate::blocks::draft::{Draft, NEGATIVE, state};
use crate::blocks::load::Asking;
use crate::blocks::phrases::say;
use crate::blocks::steps::{
    BATTERY, DROP, GROUND_DROP, LEAD, MODULE, ask, codes, done, good, look, most, ohms, volts, with,
};
use crate::file::observation::MeasureMode;
use crate::file::procedure::{Behavior, Requirement, Test};

pub(super) fn tests(draft: &Draft<'_>) -> Vec<Test> {
    let asking = draft.asking();
    let name = with(("Does the relay click ", "¿Hace clic el relé "), &asking.when, ("?", "?"));
    let clicks = Behavior::CoilPullsIn { coil: "coil".to_owned() };
    let clicks = ask("relay_clicks", name, clicks, (0.08, 0.05), draft.asked(), 1.0);
    let out = draft.asked_but(&[("relay", "removed")]);
    let feed = say("Socket 30, relay out", "Zócalo 30, relé quitado");
    let feed = volts("relay_feed_open", feed, ("s30", NEGATIVE), out, 2.0);
    let name = say(
        "Relay socket terminals: burnt, loose, corroded?",
        "Terminales del zócalo: ¿quemados, flojos, corroídos?",
    );
    let sockets = vec!["socket_86".to_owned(), "socket_85".to_owned()];
    let unfitted = state(&[("key", "off"), ("relay", "removed")]);
    // Without moving parts nothing clicks, and its input is no winding to be measured.
    let mut tests = vec![];
    if !draft.solid_state() {
        tests.push(Test { cautions: draft.careful(&[]), ..clicks });
    }
    tests.push(Test { limits: draft.fed(false), ..feed });
    if !draft.solid_state() {
        tests.push(coil_ohms(draft));
    }
    tests.extend([
        bridge(draft),
        look("relay_socket_look", name, sockets, unfitted, 2.0, 0.15),
        drop_along_control(draft, asking),
    ]);
    if draft.has(TestGroup::SpareRelay) {
        tests.push(spare(draft));
    }
    tests.extend(if draft.composition.drive.feeds() { of_fed_coil(draft) } else { of_grounded_coil(draft) });
    if draft.has(TestGroup::Leads) {
        tests.extend(leads(draft));
    }
    tests
}

fn coil_ohms(draft: &Draft<'_>) -> Test {
    let name =
        say("Relay out: coil between its pins 86 and 85", "Relé fuera: bobina entre sus pines 86 y 85");
    let bare = state(&[("key", "off"), ("relay", "removed")]);
    let healthy = draft.coil_and_across();
    let (least, most) = ((healthy * 0.88).round(), (healthy * 1.12).round());
    let source = format!("{healthy:.0} ohm ±10 % as in published relay data");
    let limits = crate::blocks::steps::between(least, most, &source);
    Test { limits, ..ohms("coil_ohms", name, ("c86", "c85"), bare, 3.0) }
}

fn spare(draft: &Draft<'_>) -> Test {
    let name = with(("Known-good relay in: ", "Relé bueno puesto: "), &draft.load.words.works, ("", ""));
    let test = draft.does_it_work("spare_relay", name, draft.asked_but(&[("relay", "spare")]), 3.0);
    Test { cautions: draft.careful(&[]), ..test }
}

fn bridge(draft: &Draft<'_>) -> Test {
    let name = with(
        ("30 joined to 87 with a fused lead: ", "30 unido a 87 con puente con fusible: "),
        &draft.load.words.works,
        ("", ""),
    );
    let test = draft.does_it_work("bridge_runs", name, draft.asked_but(&[("relay", "bridged")]), 3.0);
    Test { cautions: draft.careful(&[LEAD]), requires: vec![good("relay_feed_open")], ..test }
}

fn drop_along_control(draft: &Draft<'_>, asking: &Asking) -> Test {
    let name = with(
        ("Drop along the control wire, relay in, ", "Caída en el cable de control, relé puesto, "),
        &asking.asked,
        ("", ""),
    );
    let far = if draft.composition.drive.by_module() { "mod_out" } else { "switch_signal" };
    let leads = if draft.composition.drive.feeds() { (far, "s86") } else { ("s85", far) };
    let test = volts("control_wire_drop", name, leads, draft.asked(), 7.0);
    let limits = most(0.2, "0.2 V (common practice, no standard found)");
    Test { limits, cautions: draft.careful(&[]), ..test }
}

fn of_fed_coil(draft: &Draft<'_>) -> Vec<Test> {
    let asked = &draft.asking().asked;
    let out = || draft.asked_but(&[("relay", "removed")]);
    let open = with(("Socket 86, relay out, ", "Zócalo 86, relé quitado, "), asked, ("", ""));
    let open = volts("control_open", open, ("s86", NEGATIVE), out(), 2.0);
    let name =
        say("Socket 86, relay out, low-impedance mode", "Zócalo 86, relé quitado, modo baja impedancia");
    let low = volts("control_open_low_impedance", name, ("s86", NEGATIVE), out(), 2.0);
    let name = say(
        format!("Socket 86 with a {:.0} ohm resistor to socket 85, relay out", draft.coil_ohms()),
        format!("Zócalo 86 con resistencia de {:.0} ohm al zócalo 85, relé quitado", draft.coil_ohms()),
    );
    let resistor = volts("control_resistor", name, ("s86", "s85"), out(), 4.0);
    let loaded =
        with(("Relay 86 back-probed, relay in, ", "Relé 86 por detrás, relé puesto, "), asked, ("", ""));
    let loaded = volts("control_loaded", loaded, ("s86", NEGATIVE), draft.asked(), 4.0);
    let ground =
        with(("Relay 85 back-probed, relay in, ", "Relé 85 por detrás, relé puesto, "), asked, ("", ""));
    let ground = volts("ground_85", ground, ("s85", NEGATIVE), draft.asked(), 4.0);
    let mut tests = vec![
        Test { limits: draft.fed(false), ..open },
        Test { mode: MeasureMode::VoltsLowImpedance, limits: draft.fed(false), ..low },
        Test {
            limits: draft.across(false),
            load: Some("coil_resistor".to_owned()),
            cautions: codes(&[LEAD]),
            requires: vec![done("control_open")],
            ..resistor
        },
        Test { limits: draft.fed(true), cautions: draft.careful(&[]), ..loaded },
        Test { limits: most(0.1, GROUND_DROP), cautions: draft.careful(&[]), ..ground },
    ];
    if draft.has(TestGroup::Leg) {
        let name = say(
            "Socket 85 to battery negative, relay out",
            "Zócalo 85 al negativo de la batería, relé quitado",
        );
        let bare = state(&[("key", "off"), ("relay", "removed")]);
        let leg = ohms("leg_ohms", name, ("s85", NEGATIVE), bare, 3.0);
        tests.push(Test { limits: most(2.0, "leads, joints and a good ground (judgement)"), ..leg });
    }
    tests.extend(at_switch_in_leg(draft));
    tests
}

fn of_grounded_coil(draft: &Draft<'_>) -> Vec<Test> {
    let asked = &draft.asking().asked;
    let feed =
        with(("Relay 86 back-probed, relay in, ", "Relé 86 por detrás, relé puesto, "), asked, ("", ""));
    let feed = volts("coil_feed", feed, ("s86", NEGATIVE), draft.asked(), 3.0);
    let name = say(
        format!(
            "Socket 85 with a {:.0} ohm resistor from socket 86, relay out, {}",
            draft.coil_ohms(),
            asked.en
        ),
        format!(
            "Zócalo 85 con resistencia de {:.0} ohm desde el zócalo 86, relé quitado, {}",
            draft.coil_ohms(),
            asked.es
        ),
    );
    let out = draft.asked_but(&[("relay", "removed")]);
    let resistor = volts("control_resistor", name, ("s85", NEGATIVE), out.clone(), 4.0);
    let loaded =
        with(("Relay 85 back-probed, relay in, ", "Relé 85 por detrás, relé puesto, "), asked, ("", ""));
    let loaded = volts("control_loaded", loaded, ("s85", NEGATIVE), draft.asked(), 3.0);
    let mut tests = vec![
        Test { limits: draft.fed(true), cautions: draft.careful(&[]), ..feed },
        Test {
            limits: most(1.0, DROP),
            load: Some("coil_resistor".to_owned()),
            cautions: codes(&[LEAD]),
            requires: vec![draft.coil_feed_is_good()],
            ..resistor
        },
        Test { limits: most(1.0, DROP), cautions: draft.careful(&[]), ..loaded },
    ];
    if draft.has(TestGroup::Leg) {
        let name = with(("Socket 86, relay out, ", "Zócalo 86, relé quitado, "), asked, ("", ""));
        let open = volts("coil_feed_open", name, ("s86", NEGATIVE), out.clone(), 2.0);
        tests.push(Test { limits: draft.fed(false), ..open });
        let name = with(("Socket 85, relay out, ", "Zócalo 85, relé quitado, "), asked, ("", ""));
        let open = volts("control_open", name, ("s85", NEGATIVE), out, 2.0);
        tests.push(Test { limits: most(1.0, DROP), ..open });
    }
    tests.extend(at_switch_in_leg(draft));
    tests
}

/// Both sides of the switch in the coil's other leg.
fn at_switch_in_leg(draft: &Draft<'_>) -> Vec<Test> {
    let Some(switch) = &draft.through else { return Vec::new() };
    let (words, asked) = (&switch.words.part, &draft.asking().asked);
    let side = |id: &str, point: &str, en: &str, es: &str, limits| {
        let name = say(
            format!("{en} {}, relay in, {}", switch.words.of.en, asked.en),
            format!("{es} {}, relé puesto, {}", switch.words.of.es, asked.es),
        );
        let test = volts(id, name, (point, NEGATIVE), draft.asked(), 4.0);
        Test { limits, cautions: draft.careful(&[]), ..test }
    };
    let name = say(
        format!("Plug at the {}: loose, corroded, wire broken?", words.en),
        format!("Conector, {}: ¿flojo, corroído, cable roto?", words.es),
    );
    let at = vec![switch.id.clone()];
    let look = look("leg_switch_look", name, at, state(&[("key", "off")]), 4.0, 0.5);
    if draft.composition.drive.feeds() {
        vec![
            side("leg_in_volts", "leg_in", "Relay side", "Lado relé", most(0.2, GROUND_DROP)),
            side("leg_out_volts", "leg_out", "Ground side", "Lado masa", most(0.1, GROUND_DROP)),
            look,
        ]
    } else {
        vec![
            side("leg_in_volts", "leg_in", "Feed side", "Lado alimentación", draft.fed(true)),
            side("leg_out_volts", "leg_out", "Relay side", "Lado relé", draft.fed(true)),
            look,
        ]
    }
}

/// Fused leads from the battery: what follows them works or it doesn't. The module is unplugged where its pin would be fed.
fn leads(draft: &Draft<'_>) -> Vec<Test> {
    let works = &draft.load.words.works;
    let by_module = draft.composition.drive.by_module();
    let proven = || vec![good("battery_volts")];
    let at_87 = with(
        (
            "Battery positive to socket 87 by a fused lead, relay out: ",
            "Positivo de la batería al zócalo 87 con cable con fusible, relé quitado: ",
        ),
        works,
        ("", ""),
    );
    let unkeyed = state(&[("key", "off"), ("relay", "removed"), ("lead", "battery_to_87")]);
    let at_87 = draft.does_it_work("lead_to_87", at_87, unkeyed, 4.0);
    let at_87 = Test { cautions: draft.careful(&[LEAD, BATTERY]), requires: proven(), ..at_87 };
    let unplugged = if by_module { (", module unplugged", ", módulo desenchufado") } else { ("", "") };
    let mut tests = vec![at_87];
    let mut lead = |id: &str, (en, es): (&str, &str), state, off: bool| {
        let (off_en, off_es) = if off { unplugged } else { ("", "") };
        let name = with((&format!("{en}{off_en}: "), &format!("{es}{off_es}: ")), works, ("", ""));
        let more: &[&str] = if off && by_module { &[LEAD, BATTERY, MODULE] } else { &[LEAD, BATTERY] };
        let test = draft.does_it_work(id, name, state, if off && by_module { 8.0 } else { 4.0 });
        tests.push(Test { cautions: draft.careful(more), requires: proven(), ..test });
    };
    let to_86 = (
        "Battery positive to relay 86 by a fused lead, relay in",
        "Positivo de la batería al 86 del relé con cable con fusible, relé puesto",
    );
    let module = if by_module { Some(("module", "unplugged")) } else { None };
    if draft.composition.drive.feeds() {
        let mut fed = state(&[("key", "off"), ("lead", "battery_to_86")]);
        fed.extend(module.map(|(variable, value)| (variable.to_owned(), value.to_owned())));
        lead("lead_to_86", to_86, fed, true);
    } else {
        lead("lead_to_86", to_86, draft.asked_but(&[("lead", "battery_to_86")]), false);
        let mut grounded = state(&[("key", "on"), ("lead", "ground_to_85")]);
        grounded.extend(module.map(|(variable, value)| (variable.to_owned(), value.to_owned())));
        let to_85 = (
            "Relay 85 to battery negative by a fused lead, relay in",
            "85 del relé al negativo de la batería con cable con fusible, relé puesto",
        );
        lead("lead_to_85", to_85, grounded, true);
    }
    tests
}

impl Draft<'_> {
    /// The coil with what lies across it, ohm.
    pub(super) fn coil_and_across(&self) -> f64 {
        use crate::blocks::composition::Across;
        let coil = self.coil_ohms();
        match self.composition.across {
            Across::Resistor => {
                coil * crate::blocks::relay::ACROSS_OHMS / (coil + crate::blocks::relay::ACROSS_OHMS)
            }
            Across::Nothing | Across::Diode => coil,
        }
    }

    /// What shows that 86 is fed, before anything is loaded there.
    fn coil_feed_is_good(&self) -> Requirement {
        let shared = self.composition.leg.on == LegOn::LoadFuse && self.through.is_none();
        let open = !shared && self.has(TestGroup::Leg);
        good(if open { "coil_feed_open" } else { "relay_feed_open" })
    }
}
