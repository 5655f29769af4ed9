//! From a composition to the whole circuit.

use crate::blocks::composition::{Across, Composition, Drive, LegOn, LoadChoice, SwitchedBy};
use crate::blocks::draft::{Draft, NEGATIVE};
use crate::blocks::phrases::say;
use crate::blocks::{
    coil_leg, direct, drive, evidence, face, feeds, labels, load_side, relay, tests_direct, tests_load,
    tests_module, tests_relay, variables,
};
use crate::check::healthy::check_healthy;
use crate::check::limits;
use crate::error::CircuitError;
use crate::file::layout::{Circuit, Complaint};
use crate::file::observation::State;
use crate::file::text::Text;
use crate::routine::complete;

/// Coils of relays, 12 and 24 V, small and large, ohm (judgment).
const COIL_OHMS: std::ops::RangeInclusive<f64> = 5.0..=2000.0;
/// Inputs of solid-state relays, ohm (judgment).
const INPUT_OHMS: std::ops::RangeInclusive<f64> = 100.0..=20_000.0;

impl Composition {
    /// Reads a composition from JSON.
    ///
    /// # Errors
    /// Too large, or not a composition: the line and what to do.
    pub fn from_json(text: &str) -> Result<Self, CircuitError> {
        limits::read(text).map_err(|problem| CircuitError::Unreadable(problem.to_string()))
    }

    /// The whole circuit: points, parts with their faults, tests, and what a call of its module needs.
    ///
    /// # Errors
    /// A block that isn't listed, blocks that don't fit together, pins or wires that the circuit doesn't have, numbers
    /// that a healthy circuit wouldn't work with.
    pub fn circuit(&self) -> Result<Circuit, CircuitError> {
        let mut draft = Draft::of(self)?;
        if self.blocks != 1 {
            return Err(draft.refuse("blocks", format!("version {} isn't known: write 1", self.blocks)));
        }
        self.coil()?;
        feeds::add(&mut draft);
        drive::ids_of_requests(&draft)?;
        if draft.direct() {
            direct::add(&mut draft)?;
        } else {
            relay::add(&mut draft);
            load_side::add(&mut draft);
            coil_leg::add(&mut draft)?;
            drive::add(&mut draft)?;
        }
        if let Some(unknown) = draft.unused() {
            return Err(unknown);
        }
        let mut tests = tests_load::tests(&draft);
        tests.extend(if draft.direct() { tests_direct::tests(&draft) } else { tests_relay::tests(&draft) });
        if self.drive.by_module() {
            tests.extend(tests_module::tests(&draft));
        }
        let own = own_parts(&draft);
        let (asked, cautions) = (draft.asked(), draft.load.cautions.clone());
        let circuit = Circuit {
            format: 1,
            id: self.id.clone(),
            version: self.version,
            title: self.title.clone().unwrap_or_else(|| title(&draft)),
            about: about(&draft),
            complaint: Complaint {
                name: draft.load.words.complaint.clone(),
                test: draft.load.ids.works.clone(),
                answer: false,
            },
            everyday: draft.load.words.everyday.clone(),
            reference: NEGATIVE.to_owned(),
            connectors: face::connectors(&draft),
            variables: variables::all(&draft)?,
            loads: tests_module::loads(&draft),
            tests,
            modules: evidence::modules(&draft),
            unmodeled_odds: 1.0,
            sources: SOURCES.iter().map(|source| (*source).to_owned()).collect(),
            points: draft.points,
            components: draft.components,
        };
        circuit.validate()?;
        match check_healthy(&circuit).into_iter().next() {
            None => labels::labeled(careful(complete(circuit), &asked, &cautions), &own),
            Some(first) => Err(CircuitError::Invalid {
                circuit: circuit.id,
                place: first.place.clone(),
                problem: format!("{}. {}", first.problem, first.remedy),
            }),
        }
    }
}

/// Parts of a load that isn't on the list.
fn own_parts(draft: &Draft<'_>) -> Vec<String> {
    let ids = &draft.load.ids;
    match draft.composition.load {
        LoadChoice::Listed(_) => Vec::new(),
        _ => vec![ids.part.clone(), format!("fuse_{}", ids.name), format!("wire_{}_ground", ids.points)],
    }
}

impl Composition {
    /// Numbers of the relay itself.
    fn coil(&self) -> Result<(), CircuitError> {
        if self.switched_by == SwitchedBy::SolidStateRelay && self.across != Across::Nothing {
            let problem = "nothing lies across the input of a solid-state relay: leave it out".to_owned();
            return Err(CircuitError::Field { place: "across".to_owned(), problem });
        }
        let inputs = self.switched_by == SwitchedBy::SolidStateRelay;
        let possible = if inputs { INPUT_OHMS } else { COIL_OHMS };
        match self.coil_ohms {
            Some(ohms) if !possible.contains(&ohms) => Err(CircuitError::OutOfRange {
                place: "coil_ohms".to_owned(),
                value: ohms.to_string(),
                least: possible.start().to_string(),
                most: possible.end().to_string(),
                unit: "ohm",
            }),
            _ => Ok(()),
        }
    }
}

/// Wherever everything asks for the load and the relay is in, the load may start: that holds for what is added to every
/// circuit too.
fn careful(mut circuit: Circuit, asked: &State, cautions: &[String]) -> Circuit {
    for test in &mut circuit.tests {
        let is = |variable: &str, value: &str| test.state.get(variable).is_some_and(|set| set == value);
        let out = is("relay", "removed") || is(direct::PLUG, "unplugged");
        let all = asked.iter().all(|(variable, value)| test.state.get(variable) == Some(value));
        let missing = cautions.iter().filter(|code| !test.cautions.contains(code));
        let missing: Vec<String> = missing.filter(|_| all && !out).cloned().collect();
        test.cautions.extend(missing);
    }
    circuit
}

const SOURCES: [&str; 5] = [
    "component values invented, plausible; wire resistance from IEC 60228 class 5 (published table, seen), temperature coefficient from memory",
    "relay coil and pull-in in the range of published relay data sheets (75 to 90 ohm, operate 6.5 to 8 V, release 1.0 to 1.5 V)",
    "off-state open-load pull-up 20 kohm: recommended in a driver maker's data sheet (seen)",
    "fuse resistance 7.7 mohm at 10 A: published (seen), others scaled",
    "prior odds, minutes and error rates: judgement",
];

fn title(draft: &Draft<'_>) -> Text {
    if draft.direct() {
        let part = &draft.load.words.part;
        let (en, es) = ("the module's own output, no relay", "salida propia del módulo, sin relé");
        return say(format!("{}: {en}", capital(&part.en)), format!("{}: {es}", capital(&part.es)));
    }
    let (en, es) = match draft.composition.drive {
        Drive::ModuleFeeds => ("module feeds the coil", "el módulo alimenta la bobina"),
        Drive::ModuleGrounds => ("module pulls the coil to ground", "el módulo lleva la bobina a masa"),
        Drive::SwitchFeeds => ("switch feeds the coil", "un interruptor alimenta la bobina"),
        Drive::SwitchGrounds => ("switch pulls the coil to ground", "un interruptor lleva la bobina a masa"),
    };
    let relay = &draft.load.words.relay;
    say(format!("{}, {en}", relay.en), format!("{}, {es}", relay.es))
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A sentence on each block.
fn about(draft: &Draft<'_>) -> Text {
    let (mut en, mut es) = if draft.direct() { about_output(draft) } else { about_relay(draft) };
    if let Some(switch) = &draft.through {
        en = format!("{en}, through the {}", switch.words.part.en);
        es = format!("{es}, pasando por: {}", switch.words.part.es);
    }
    let asks = draft.requests.iter().map(|one| &one.switch.words.about);
    let (mut all_en, mut all_es) = (vec![format!("{en}.")], vec![format!("{es}.")]);
    for sentence in asks {
        all_en.push(sentence.en.clone());
        all_es.push(sentence.es.clone());
    }
    say(all_en.join(" "), all_es.join(" "))
}

fn about_output(draft: &Draft<'_>) -> (String, String) {
    let (en, es) = if draft.composition.drive.feeds() {
        (
            "A semiconductor inside the module feeds the load, without a relay; while it is off, a weak pull-up looks for an open load: battery voltage at the unplugged load with the output off is that pull-up",
            "Un semiconductor dentro del módulo alimenta la carga, sin relé; apagado, una resistencia débil busca la carga abierta: tensión de batería en la carga desenchufada con la salida apagada es esa resistencia",
        )
    } else {
        (
            "A semiconductor inside the module puts the load on ground, without a relay",
            "Un semiconductor dentro del módulo lleva la carga a masa, sin relé",
        )
    };
    (en.to_owned(), es.to_owned())
}

fn about_relay(draft: &Draft<'_>) -> (String, String) {
    let (en, es) = match draft.composition.drive {
        Drive::ModuleFeeds => (
            "A module switches battery voltage to relay terminal 86",
            "Un módulo lleva tensión de batería al terminal 86 del relé",
        ),
        Drive::ModuleGrounds => {
            ("A module pulls relay terminal 85 to ground", "Un módulo lleva a masa el terminal 85 del relé")
        }
        Drive::SwitchFeeds => {
            ("A switch feeds relay terminal 86", "Un interruptor alimenta el terminal 86 del relé")
        }
        Drive::SwitchGrounds => (
            "A switch puts relay terminal 85 on ground",
            "Un interruptor lleva a masa el terminal 85 del relé",
        ),
    };
    let (leg_en, leg_es) = match draft.composition.leg.on {
        LegOn::Ground => ("terminal 85 is on ground", "el terminal 85 va a masa"),
        LegOn::LoadFuse => {
            ("terminal 86 is behind the load's fuse", "el terminal 86 va tras el fusible de la carga")
        }
        LegOn::Fuse => {
            ("terminal 86 is behind a fuse of its own", "el terminal 86 va tras un fusible propio")
        }
        LegOn::Ignition => (
            "terminal 86 gets its feed with the key on",
            "el terminal 86 recibe tensión con el contacto dado",
        ),
    };
    let solid = draft.solid_state();
    let (more_en, more_es) = if solid {
        (
            ". The relay has no moving parts: nothing clicks",
            ". El relé no tiene partes móviles: nada hace clic",
        )
    } else {
        ("", "")
    };
    (format!("{en}; {leg_en}{more_en}"), format!("{es}; {leg_es}{more_es}"))
}
