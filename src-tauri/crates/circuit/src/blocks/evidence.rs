//! What must be observed before the module of a circuit of blocks may be called.

use crate::blocks::composition::TestGroup;
use crate::blocks::draft::Draft;
use crate::blocks::module_side::DRIVER;
use crate::blocks::phrases::say;
use crate::blocks::tests_direct;
use crate::blocks::tests_module::shown_by;
use crate::file::module::{EvidenceCode, EvidenceNeed, Module};
use crate::file::text::Text;

pub(super) fn modules(draft: &Draft<'_>) -> Vec<Module> {
    let Some(module) = &draft.module else { return Vec::new() };
    let fed = draft.composition.drive.feeds();
    let mut evidence = vec![
        need(
            "feed",
            say("feed of the module", "alimentación del módulo"),
            EvidenceCode::Supply,
            &["module_feed"],
        ),
        need(
            "ground",
            say("ground of the module", "masa del módulo"),
            EvidenceCode::Ground,
            &["module_ground"],
        ),
    ];
    if draft.direct() && fed {
        evidence.push(need(
            "load_feed",
            say("load feed of the module", "alimentación de potencia del módulo"),
            EvidenceCode::Supply,
            &[tests_direct::POWER],
        ));
    }
    for one in &draft.requests {
        let tests = shown_by(one);
        let looks = tests.len();
        let (id, name) = (one.request.id.clone(), one.switch.words.signal.clone());
        evidence.push(EvidenceNeed { id, name, code: EvidenceCode::Input, tests, looks });
    }
    evidence.push(need(
        "output",
        say("control output under load", "salida de control con carga"),
        EvidenceCode::OutputUnderLoad,
        &["module_output_loaded"],
    ));
    evidence.push(need(
        "output_past_terminal",
        say("output past its terminal", "salida sin pasar por su terminal"),
        EvidenceCode::PastTerminal,
        &["module_output_bypass"],
    ));
    if draft.has(TestGroup::Harness) {
        let test = match (draft.direct(), fed) {
            (true, _) => tests_direct::HARNESS,
            (false, true) => "harness_ohms",
            (false, false) => "harness_loaded",
        };
        evidence.push(need(
            "harness",
            say(
                "what hangs on the output, module unplugged",
                "lo que cuelga de la salida, módulo desenchufado",
            ),
            EvidenceCode::Harness,
            &[test],
        ));
    }
    vec![Module {
        id: module.id.clone(),
        name: draft.module_name(),
        label: None,
        components: vec![DRIVER.to_owned()],
        evidence,
        inspection: "module_connector_look".to_owned(),
    }]
}

fn need(id: &str, name: Text, code: EvidenceCode, tests: &[&str]) -> EvidenceNeed {
    let tests: Vec<String> = tests.iter().map(|test| (*test).to_owned()).collect();
    EvidenceNeed { id: id.to_owned(), name, code, looks: tests.len(), tests }
}
