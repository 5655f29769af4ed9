//! The module: feed, ground, what it sees, and the output that drives the coil.

use crate::blocks::composition::{Drive, How};
use crate::blocks::draft::{Asked, BODY, Draft, FEED, NEGATIVE, made, when};
use crate::blocks::faults::{self, WireRow};
use crate::blocks::input;
use crate::blocks::phrases::say;
use crate::file::component::{Component, ComponentKind, Conditions, Need};
use crate::file::fault::FaultSpec;
use crate::file::text::Text;

/// Volts a module works from (judgment).
const AWAKE_VOLTS: f64 = 5.0;
/// Open-load pull-up of an output (a driver maker's data sheet, seen).
const OFF_PULL_UP_OHMS: f64 = 20_000.0;
/// Rating of its fuse, ampere.
const FUSE_AMPS: f64 = 10.0;
/// Where a driver of the module lies.
pub(super) const DRIVER: &str = "driver";

pub(super) fn add(draft: &mut Draft<'_>) {
    frame(draft);
    output(draft);
}

/// Feed, ground and inputs: everything but what it drives.
pub(super) fn frame(draft: &mut Draft<'_>) {
    feed(draft);
    let drop = draft.drop();
    let pin = draft.pin("mod_ground", &(3 + draft.requests.len()).to_string());
    let at = ((2.0, 13.0 + drop), (4.0, 12.0 + drop));
    draft.terminal("ground", ("ground", "masa"), &pin, at, faults::of_terminal());
    let name = say("module ground wire", "cable de masa del módulo");
    let (row, range) = ground_row(draft);
    draft.wire("wire_module_ground", name, ("mod_ground", BODY), &row, range);
    input::add(draft);
}

/// The module's ground carries the load where the module grounds it by an output of its own.
fn ground_row(draft: &Draft<'_>) -> (WireRow, (f64, f64)) {
    let carries = !draft.composition.switched_by.by_relay() && !draft.composition.drive.feeds();
    let area_mm2 = faults::MODULE_GROUND.area_mm2.max(2.0 * draft.load.wires.output.area_mm2);
    if carries {
        (WireRow { area_mm2, length_m: 0.5, ..faults::MODULE_GROUND }, faults::MUCH)
    } else {
        (faults::MODULE_GROUND, faults::LITTLE)
    }
}

fn feed(draft: &mut Draft<'_>) {
    draft.point("mod_fuse_out", (2.0, 6.0), "module fuse, load side", "fusible del módulo, lado carga");
    let name = say(format!("module fuse {FUSE_AMPS} A"), format!("fusible del módulo {FUSE_AMPS} A"));
    draft.fuse("fuse_module", name, (FEED, "mod_fuse_out"), FUSE_AMPS, faults::of_small_fuse());
    let name = say("module feed wire", "cable de alimentación del módulo");
    draft.wire("wire_module_feed", name, ("mod_fuse_out", "mod_feed"), &faults::MODULE_FEED, faults::LITTLE);
    let pin = draft.pin("mod_feed", "1");
    let at = ((2.0, 8.0), (4.0, 9.0));
    draft.terminal("feed", ("feed", "alimentación"), &pin, at, faults::of_terminal());
    let kind = ComponentKind::SupplyLoad { from: "m_feed".to_owned(), to: "m_ground".to_owned(), ohms: 18.0 };
    let draw = made("module_draw", say("module's own draw", "consumo propio del módulo"), kind);
    draft.push(Component { tolerance_percent: 20.0, ..draw });
}

fn output(draft: &mut Draft<'_>) {
    let feeds = draft.composition.drive.feeds();
    let pin = draft.pin("mod_out", "2");
    let y = 12.0 + draft.drop();
    let at = if feeds { ((8.0, 10.0), (6.0, 10.0)) } else { ((9.0, y), (7.0, y)) };
    draft.terminal("out", ("relay control", "control del relé"), &pin, at, faults::of_output_terminal());
    if feeds {
        let name = say("control wire, module to relay 86", "cable de control, módulo a relé 86");
        draft.wire("wire_control", name, ("mod_out", "s86"), &faults::CONTROL_FED, faults::LITTLE);
    } else {
        let name = say("control wire, relay 85 to module", "cable de control, relé 85 a módulo");
        draft.wire("wire_control", name, ("s85", "mod_out"), &faults::CONTROL_GROUNDED, faults::LITTLE);
    }
    let driver = made(DRIVER, driver_name(draft), driver(draft));
    draft.push(Component { faults: faults::of_driver(), ..driver });
}

pub(super) fn driver_name(draft: &Draft<'_>) -> Text {
    let of = draft.module.as_ref().map(|module| module.of.clone()).unwrap_or_else(|| say("", ""));
    say(format!("output driver {}", of.en), format!("etapa de salida {}", of.es))
}

fn driver(draft: &Draft<'_>) -> ComponentKind {
    let (supply, output, ground) = ("m_feed".to_owned(), "m_out".to_owned(), "m_ground".to_owned());
    let (on_when, needs) = (draft.on_when(), draft.needs());
    let (off_pull_up_ohms, off_pull_down_ohms, duty) = (Some(OFF_PULL_UP_OHMS), None, None);
    match draft.composition.drive {
        Drive::ModuleGrounds | Drive::SwitchGrounds => ComponentKind::LowSideDriver {
            supply,
            output,
            ground,
            on_ohms: 0.3,
            limit_amps: 1.5,
            on_when,
            needs,
            forced_when: Conditions::new(),
            off_pull_up_ohms,
            off_pull_down_ohms,
            duty,
            freewheel: None,
        },
        Drive::ModuleFeeds | Drive::SwitchFeeds => ComponentKind::HighSideDriver {
            supply,
            output,
            ground,
            on_ohms: 0.2,
            limit_amps: 2.5,
            on_when,
            needs,
            forced_when: Conditions::new(),
            off_pull_up_ohms,
            off_pull_down_ohms,
            duty,
        },
    }
}

impl Draft<'_> {
    /// A pin of the module with its terminal, and the test lead that goes past it.
    pub(super) fn terminal(
        &mut self,
        id: &str,
        (en, es): (&str, &str),
        pin: &str,
        (outside, within): ((f64, f64), (f64, f64)),
        faults: Vec<FaultSpec>,
    ) {
        let (out, inner) = (format!("mod_{id}"), format!("m_{id}"));
        self.point(&out, outside, format!("module pin {pin}, {en}"), format!("módulo pin {pin}, {es}"));
        self.inside(&inner, within, format!("inside the module, {en}"), format!("dentro del módulo, {es}"));
        let kind = ComponentKind::Connection { from: out.clone(), to: inner.clone(), ohms: 0.005 };
        let name = say(format!("module terminal, {en}"), format!("terminal del módulo, {es}"));
        let present_when = when("module", &["plugged"]);
        self.push(Component { present_when, faults, ..made(&format!("pin_{id}"), name, kind) });
        let name = say(
            format!("test lead past the terminal, {en}"),
            format!("cable de prueba que puentea el terminal, {es}"),
        );
        self.joint(&format!("lead_{id}"), name, (&out, &inner), 0.02, when("module", &["breakout"]));
    }

    /// States in which the module's logic commands the load: the key, and what comes to it over the bus alone.
    pub(super) fn on_when(&self) -> Conditions {
        let asked = self.asked_when();
        let key = asked.get("key").cloned().unwrap_or_else(|| vec!["on".to_owned(), "running".to_owned()]);
        let mut all = Conditions::from([("key".to_owned(), key)]);
        let unseen = |one: &&Asked| one.request.how == How::OverTheBus && one.switch.faults.is_empty();
        self.requests.iter().filter(unseen).for_each(|one| all.extend(one.switch.closed_when.clone()));
        all
    }

    /// What the module must see before it drives the coil.
    pub(super) fn needs(&self) -> Vec<Need> {
        let seen = self.requests.iter().filter_map(|one| self.need(one));
        [self.awake()].into_iter().chain(seen).collect()
    }

    pub(super) fn awake(&self) -> Need {
        at_least("m_feed", "m_ground", AWAKE_VOLTS)
    }

    /// What it must see of one request; nothing where it decides by itself.
    pub(super) fn need(&self, one: &Asked) -> Option<Need> {
        let inside = one.id("m_in", "m");
        match one.request.how {
            How::SwitchToGround => Some(Need {
                red: inside,
                black: "m_ground".to_owned(),
                at_least: None,
                at_most: Some(input::LOW_VOLTS),
            }),
            How::SwitchToFeed => Some(at_least(&inside, "m_ground", input::HIGH_VOLTS)),
            How::OverTheBus if !one.switch.faults.is_empty() => {
                Some(at_least(&input::message(one), NEGATIVE, input::HIGH_VOLTS))
            }
            How::OverTheBus | How::Directly => None,
        }
    }

    /// Name of the module.
    pub(super) fn module_name(&self) -> Text {
        self.module.as_ref().map_or_else(|| say("module", "módulo"), |module| module.name.clone())
    }
}

fn at_least(red: &str, black: &str, volts: f64) -> Need {
    Need { red: red.to_owned(), black: black.to_owned(), at_least: Some(volts), at_most: None }
}
