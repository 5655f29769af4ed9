//! Which modules can be the cause, and what must be observed before one of them may be called: one list for each output,
//! 5 V pin or bus driver without which the complaint would be there.

use crate::entered::making::{Making, volts_id};
use crate::entered::module::inputs_of;
use crate::entered::modules::{Built, Output, Pin};
use crate::entered::phrases::{same, text};
use crate::entered::works::Works;
use crate::file::fault::{Fault, FaultMode};
use crate::file::layout::Circuit;
use crate::file::module::{EvidenceCode, EvidenceNeed, Module};
use crate::file::text::Text;
use crate::solve::solution::solve;

/// What of a module can be the cause.
#[derive(Clone, Copy)]
pub(super) enum Source<'m, 'e> {
    Output(&'m Output<'e>),
    Reference(&'m Pin<'e>),
    Talker,
    Terminator,
}

/// A module of which something can be the cause.
pub(super) struct Suspect<'m, 'e> {
    pub module: &'m Built<'e>,
    pub source: Source<'m, 'e>,
    /// The only one of its module?
    pub alone: bool,
}

/// Everything that brings the complaint when it fails.
pub(super) fn suspects<'m, 'e>(
    making: &'m Making<'e>,
    works: &Works,
    circuit: &Circuit,
) -> Vec<Suspect<'m, 'e>> {
    let asked = making.asked();
    let brings = |component: String, mode: FaultMode| {
        let fault = Fault { component, mode, severity: 0.0, at: None };
        solve(circuit, &asked, &[fault], None).is_ok_and(|solution| !works.holds(&solution))
    };
    let mut all: Vec<Suspect<'m, 'e>> = Vec::new();
    for (number, module) in making.modules.iter().enumerate() {
        let mut found: Vec<Source<'m, 'e>> = Vec::new();
        let outputs = module.outputs.iter();
        let bad = outputs.filter(|output| brings(module.driver(output), FaultMode::Dead));
        found.extend(bad.map(Source::Output));
        let references = module.references.iter();
        let bad = references.filter(|reference| brings(module.supply(reference), FaultMode::Dead));
        found.extend(bad.map(Source::Reference));
        let talks = making.talker == Some(number);
        if talks && brings(module.part("can_transceiver"), FaultMode::Dead) {
            found.push(Source::Talker);
        }
        let terminated = module.can.as_ref().is_some_and(|can| can.terminated);
        if terminated && !talks && brings(module.part("terminator"), FaultMode::Open) {
            found.push(Source::Terminator);
        }
        let alone = found.len() == 1;
        all.extend(found.into_iter().map(|source| Suspect { module, source, alone }));
    }
    all
}

impl Suspect<'_, '_> {
    /// What its tests are called after: `output`, `reference_2`, `can`.
    pub(super) fn key(&self) -> &str {
        match self.source {
            Source::Output(output) => &output.pin.key,
            Source::Reference(pin) => &pin.key,
            Source::Talker => "can",
            Source::Terminator => "terminator",
        }
    }

    fn id(&self) -> String {
        if self.alone { self.module.id.clone() } else { format!("{}_{}", self.module.id, self.key()) }
    }

    fn name(&self) -> Text {
        let name = same(self.module.name);
        let (en, es) = match self.source {
            _ if self.alone => return name,
            Source::Output(output) => {
                let point = output.pin.point.trim();
                (format!("output {point}"), format!("salida {point}"))
            }
            Source::Reference(pin) => {
                let point = pin.point.trim();
                (format!("5 V at {point}"), format!("5 V en {point}"))
            }
            Source::Talker => ("CAN driver".to_owned(), "etapa CAN".to_owned()),
            Source::Terminator => ("CAN terminator".to_owned(), "terminación CAN".to_owned()),
        };
        text(format!("{}, {en}", name.en), format!("{}, {es}", name.es))
    }

    /// Parts inside that are meant.
    fn components(&self) -> Vec<String> {
        let module = self.module;
        match self.source {
            Source::Output(output) => vec![module.driver(output)],
            Source::Reference(pin) => vec![module.supply(pin)],
            Source::Talker => {
                let terminated = module.can.as_ref().is_some_and(|can| can.terminated);
                let parts = ["can_transceiver", "can_drive_high", "can_drive_low"].into_iter();
                parts.chain(terminated.then_some("terminator")).map(|what| module.part(what)).collect()
            }
            Source::Terminator => vec![module.part("terminator")],
        }
    }

    /// The output as it is, past its terminal, and what hangs on it alone.
    pub(super) fn tests(&self) -> OutputTests {
        let (module, key) = (self.module, self.key());
        let plain = matches!(self.source, Source::Output(output) if output.pin.key == "output");
        let harness = if plain { "harness".to_owned() } else { format!("{key}_harness") };
        OutputTests {
            loaded: module.test(&format!("{key}_loaded")),
            duty: module.test(&format!("{key}_duty")),
            bypass: module.test(&format!("{key}_bypass")),
            harness: module.test(&harness),
            to_ground: module.test(&format!("{key}_to_ground")),
        }
    }
}

/// Names of a suspect's tests.
pub(super) struct OutputTests {
    pub loaded: String,
    pub duty: String,
    pub bypass: String,
    pub harness: String,
    pub to_ground: String,
}

/// The question whether the module sees a request, by what the request comes to.
pub(super) fn scan_id(module: &Built<'_>, key: &str) -> String {
    if module.id == "module" && matches!(key, "input" | "output") {
        "scan_request".to_owned()
    } else {
        format!("scan_request_{}_{key}", module.id)
    }
}

pub(super) fn inspection(module: &Built<'_>) -> String {
    module.test("connector_look")
}

/// The list before a call, with the tests that [`crate::entered::procedures`] makes.
pub(super) fn module(making: &Making<'_>, suspect: &Suspect<'_, '_>) -> Module {
    let module = suspect.module;
    let at = |pin: &Pin<'_>| vec![volts_id(making, &making.ids.point(pin.point))];
    let mut evidence = vec![
        need(
            "feed",
            ("feed of the module", "alimentación del módulo"),
            EvidenceCode::Supply,
            at(&module.feed),
        ),
        need("ground", ("ground of the module", "masa del módulo"), EvidenceCode::Ground, at(&module.ground)),
    ];
    let tests = suspect.tests();
    let mut loaded = match suspect.source {
        Source::Output(output) => at(&output.pin),
        Source::Reference(pin) => at(pin),
        Source::Talker | Source::Terminator => vec![tests.loaded],
    };
    let mut harness = vec![tests.harness];
    if let Source::Output(output) = suspect.source {
        evidence.extend(requests(making, module, output));
        loaded.extend(output.duty_percent.map(|_| tests.duty));
    } else if !matches!(suspect.source, Source::Terminator) {
        harness.push(tests.to_ground);
    }
    let under_load = ("output under load", "salida con carga");
    let output = need("output", under_load, EvidenceCode::OutputUnderLoad, loaded);
    evidence.push(EvidenceNeed { looks: 1, ..output });
    let past = ("output past its terminal", "salida sin pasar por su terminal");
    evidence.push(need("output_past_terminal", past, EvidenceCode::PastTerminal, vec![tests.bypass]));
    let alone =
        ("what hangs on the output, module unplugged", "lo que cuelga de la salida, módulo desenchufado");
    evidence.push(need("harness", alone, EvidenceCode::Harness, harness));
    Module {
        id: suspect.id(),
        name: suspect.name(),
        label: None,
        components: suspect.components(),
        evidence,
        inspection: inspection(module),
    }
}

/// What asks for this output, each by the meter and by the scan tool.
fn requests(making: &Making<'_>, module: &Built<'_>, output: &Output<'_>) -> Vec<EvidenceNeed> {
    let inputs = inputs_of(module, output);
    if inputs.is_empty() {
        let scan = vec![scan_id(module, &output.pin.key)];
        return vec![need("request", ("request", "petición"), EvidenceCode::Input, scan)];
    }
    let of = |input: &&crate::entered::modules::Input<'_>| {
        let tests =
            vec![volts_id(making, &making.ids.point(input.pin.point)), scan_id(module, &input.pin.key)];
        let id = input.pin.key.replace("input", "request");
        need(&id, ("request input", "entrada de petición"), EvidenceCode::Input, tests)
    };
    inputs.iter().map(of).collect()
}

fn need(id: &str, (en, es): (&str, &str), code: EvidenceCode, tests: Vec<String>) -> EvidenceNeed {
    EvidenceNeed { id: id.to_owned(), name: text(en, es), code, looks: tests.len(), tests }
}
