//! Connectors with their pins: numbers and wire colors of this vehicle.

use crate::blocks::composition::{How, LegOn};
use crate::blocks::draft::Draft;
use crate::blocks::phrases::say;
use crate::file::component::ComponentKind;
use crate::file::layout::{ColorCode, Connector, Pin};
use crate::file::text::Text;

pub(super) fn connectors(draft: &Draft<'_>) -> Vec<Connector> {
    let mut all = if draft.direct() { Vec::new() } else { vec![relay_socket(draft)] };
    if draft.composition.drive.by_module() {
        all.push(module(draft));
    }
    all.push(load(draft));
    if let Some(switch) = &draft.through {
        let name =
            say(format!("connector {}", switch.words.of.en), format!("conector {}", switch.words.of.es));
        let (feed, ground) = sides(draft);
        let pins =
            vec![pin(draft, "leg_in", "1", (0.0, 0.0), feed), pin(draft, "leg_out", "2", (1.0, 0.0), ground)];
        all.push(Connector { id: "leg_switch_connector".to_owned(), name, pins });
    }
    all
}

fn sides(draft: &Draft<'_>) -> (Text, Text) {
    if draft.composition.drive.feeds() {
        (say("from relay 85", "desde el 85 del relé"), say("ground", "masa"))
    } else {
        (say("feed", "alimentación"), say("to relay 86", "al 86 del relé"))
    }
}

fn relay_socket(draft: &Draft<'_>) -> Connector {
    let drive = draft.composition.drive;
    let driven = if drive.by_module() {
        (
            say("coil, from the module", "bobina, desde el módulo"),
            say("coil, to the module", "bobina, al módulo"),
        )
    } else {
        (
            say("coil, from the switch", "bobina, desde el interruptor"),
            say("coil, to the switch", "bobina, al interruptor"),
        )
    };
    let leg = match draft.composition.leg.on {
        LegOn::Ground => say("coil, to ground", "bobina, a masa"),
        LegOn::LoadFuse | LegOn::Fuse => say("coil, battery feed", "bobina, alimentación"),
        LegOn::Ignition => say("coil, ignition feed", "bobina, alimentación por contacto"),
    };
    let (on_86, on_85) = if drive.feeds() { (driven.0, leg) } else { (leg, driven.1) };
    let to = &draft.load.words.to;
    let pins = vec![
        pin(draft, "s30", "30", (1.0, 0.0), say("battery feed", "alimentación de batería")),
        pin(draft, "s86", "86", (0.0, 1.0), on_86),
        pin(draft, "s85", "85", (2.0, 1.0), on_85),
        pin(draft, "s87", "87", (1.0, 2.0), to.clone()),
    ];
    Connector { id: "relay_socket".to_owned(), name: say("relay socket", "zócalo del relé"), pins }
}

fn module(draft: &Draft<'_>) -> Connector {
    let words = &draft.load.words;
    let control = if draft.direct() {
        say(format!("output {}", words.to.en), format!("salida {}", words.to.es))
    } else {
        say(format!("{} relay control", words.name.en), format!("control del relé {}", words.name.es))
    };
    let mut wanted = vec![
        ("mod_feed".to_owned(), "1".to_owned(), say("feed", "alimentación")),
        ("mod_out".to_owned(), "2".to_owned(), control),
    ];
    for (number, one) in draft.requests.iter().enumerate() {
        if matches!(one.request.how, How::SwitchToGround | How::SwitchToFeed) {
            let id = if one.request.id == "request" { "in" } else { &one.request.id };
            wanted.push((format!("mod_{id}"), (3 + number).to_string(), one.switch.words.signal.clone()));
        }
    }
    let last = (3 + draft.requests.len()).to_string();
    wanted.push(("mod_ground".to_owned(), last, say("ground", "masa")));
    if draft.direct() && draft.composition.drive.feeds() {
        let power = say("load feed", "alimentación de potencia");
        wanted.push(("mod_power".to_owned(), draft.usual_power().to_owned(), power));
    }
    let place = |i: usize| {
        let (row, column) = (i / 2, i % 2);
        (f64::from(u32::try_from(column).unwrap_or(0)), f64::from(u32::try_from(row).unwrap_or(0)))
    };
    let pins = wanted.into_iter().enumerate();
    let pins =
        pins.map(|(i, (point, usual, function))| pin(draft, &point, &usual, place(i), function)).collect();
    let name = match &draft.module {
        Some(module) => say(format!("{} connector", module.name.en), format!("conector {}", module.of.es)),
        None => say("module connector", "conector del módulo"),
    };
    Connector { id: "module_connector".to_owned(), name, pins }
}

fn load(draft: &Draft<'_>) -> Connector {
    let (positive, negative) = (draft.positive(), draft.negative());
    let mut pins = vec![pin(draft, &positive, "1", (0.0, 0.0), say("feed", "alimentación"))];
    if draft.load.wires.ground.is_some() {
        let grounded = !draft.direct() || draft.composition.drive.feeds();
        let function = if grounded { say("ground", "masa") } else { say("to the module", "al módulo") };
        pins.push(pin(draft, &negative, "2", (1.0, 0.0), function));
    }
    let id = format!("{}_connector", draft.load.ids.points);
    Connector { id, name: draft.load.words.connector.clone(), pins }
}

fn pin(draft: &Draft<'_>, point: &str, usual: &str, (x, y): (f64, f64), function: Text) -> Pin {
    Pin {
        number: draft.pin(point, usual),
        point: point.to_owned(),
        x,
        y,
        color: color(draft, point),
        function,
    }
}

/// Color of the wire at this point.
fn color(draft: &Draft<'_>, point: &str) -> Vec<ColorCode> {
    let here = |part: &&crate::file::component::Component| {
        matches!(part.kind, ComponentKind::Wire { .. }) && part.kind.points().contains(&point)
    };
    let wires = draft.components.iter().filter(here);
    let colors = wires.filter_map(|wire| draft.composition.wires.get(&wire.id));
    colors.map(|own| own.color.clone()).find(|color| !color.is_empty()).unwrap_or_default()
}
