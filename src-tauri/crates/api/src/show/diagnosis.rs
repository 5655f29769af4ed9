use super::reading::number;
use super::{both, cause_name, cause_name_of, code, likelihood};
use super::{grounds, overturns, test_or_buy};
use crate::shop_reasoning::ShopReasoning;
use crate::view::*;
use ::circuit::{CauseShare, Circuit, Doubt, LikelihoodWord, Missing, ModuleVerdict, NextTest, WithheldTest};
use ::job::{Job, NextStep, Reasoning};

/// What the readings prove so far.
pub(crate) fn diagnosis_view(job: &Job, shop: &ShopReasoning) -> DiagnosisView {
    let reasoning = &shop.reasoning;
    let (circuit, diagnosis) = (&reasoning.circuit, &reasoning.diagnosis);
    DiagnosisView {
        engine: diagnosis.engine.clone(),
        causes: diagnosis.causes.iter().map(|c| cause(job, circuit, c)).collect(),
        unmodelled: diagnosis.unmodeled,
        next: diagnosis.next.iter().map(|n| next(job, circuit, n)).collect(),
        next_step: next_step(job, reasoning),
        held_back: diagnosis.withheld_tests.iter().map(held_back).collect(),
        modules: modules(job, circuit, &diagnosis.modules),
        doubts: doubts(job, reasoning),
        open_fuses: diagnosis.open_fuses.iter().filter_map(|id| fuse(circuit, id)).collect(),
        overturned_by: overturns(circuit, &diagnosis.overturned_by),
        closed_jobs: shop.closed_jobs.values().fold(0, |sum, count| sum.saturating_add(*count)),
        test_or_buy: test_or_buy(shop),
    }
}

fn next_step(job: &Job, reasoning: &Reasoning) -> NextStepView {
    let (next, condition) = NextStep::now(job, &reasoning.circuit, &reasoning.diagnosis);
    let (step, test, module) = match next {
        NextStep::Test(test) => ("test", test, BothLanguages::default()),
        NextStep::Gate { test, module } => {
            let known = reasoning.circuit.modules.iter().find(|known| known.id == module);
            ("gate", test, known.map(|module| both(&module.name)).unwrap_or_default())
        }
        NextStep::Finding => ("finding", String::new(), BothLanguages::default()),
    };
    NextStepView { step: step.to_owned(), test, module, condition }
}

fn cause(job: &Job, circuit: &Circuit, cause: &CauseShare) -> CauseView {
    let by = cause.ruled_out.as_ref().map(|r| r.by.clone()).unwrap_or_default();
    CauseView {
        id: cause.id.clone(),
        name: cause_name(circuit, cause),
        component: cause.component.clone(),
        probability: cause.probability,
        likelihood: likelihood(cause.word),
        module: cause.module.is_some(),
        ruled_out_by_number: number(job, &by),
        ruled_out_by: by,
        severity_ohms: cause.severity.map(|s| s.median),
        grounds: grounds(job, &cause.reasons),
    }
}

fn fuse(circuit: &Circuit, id: &str) -> Option<BothLanguages> {
    circuit.components.iter().find(|part| part.id == id).map(|part| both(&part.name))
}

fn next(job: &Job, circuit: &Circuit, next: &NextTest) -> NextTestView {
    let test = circuit.tests.iter().find(|t| t.id == next.test);
    let needed = test.map(|t| ::job::cautions::of_test(&t.cautions, &t.state, t.load.is_some()));
    NextTestView {
        test: next.test.clone(),
        bits: next.gain_bits,
        minutes: next.minutes,
        cautions: needed.unwrap_or_default().into_iter().filter(|c| !job.cautions.contains(c)).collect(),
    }
}

fn held_back(test: &WithheldTest) -> HeldBackTestView {
    HeldBackTestView {
        test: test.test.clone(),
        reason: code(&test.why),
        needs: test.needs.first().cloned().unwrap_or_default(),
    }
}

/// Every module, likeliest first.
fn modules(job: &Job, circuit: &Circuit, verdicts: &[ModuleVerdict]) -> Vec<ModuleView> {
    let mut all: Vec<ModuleView> = verdicts.iter().map(|verdict| module(job, circuit, verdict)).collect();
    all.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    all
}

fn module(job: &Job, circuit: &Circuit, verdict: &ModuleVerdict) -> ModuleView {
    let known = circuit.modules.iter().find(|module| module.id == verdict.module);
    let unnamed = || BothLanguages { en: verdict.module.clone(), es: verdict.module.clone() };
    ModuleView {
        name: known.map_or_else(unnamed, |module| both(&module.name)),
        may_be_called: verdict.may_be_called,
        probability: verdict.probability,
        likelihood: likelihood(LikelihoodWord::of(verdict.probability)),
        missing: verdict.missing.iter().map(|m| missing(circuit, m)).collect(),
        group: verdict.group.iter().map(|id| cause_name_of(circuit, id)).collect(),
        or_programming: verdict.or_programming,
        grounds: grounds(job, &verdict.reasons),
        overturned_by: overturns(circuit, &verdict.overturned_by),
    }
}

fn missing(circuit: &Circuit, missing: &Missing) -> MissingView {
    MissingView {
        code: code(&missing.code),
        test: missing.test.clone().unwrap_or_default(),
        about: missing.about.as_deref().map(|about| named(circuit, about)).unwrap_or_default(),
    }
}

/// Name of an evidence need, a point, or a cause.
fn named(circuit: &Circuit, id: &str) -> BothLanguages {
    let needs = circuit.modules.iter().flat_map(|m| &m.evidence);
    if let Some(need) = needs.into_iter().find(|n| n.id == id) {
        return both(&need.name);
    }
    if let Some(point) = circuit.points.iter().find(|p| p.id == id) {
        return both(&point.name);
    }
    cause_name_of(circuit, id)
}

/// What the engine doubts, and the readings it could not weigh.
fn doubts(job: &Job, reasoning: &Reasoning) -> Vec<DoubtView> {
    let not_weighed = reasoning.left_out.iter().map(|observation| DoubtView {
        code: "not_weighed".to_owned(),
        records: vec![observation.clone()],
        numbers: vec![number(job, observation)],
        repeat: number(job, observation),
    });
    reasoning.diagnosis.doubts.iter().map(|d| doubt(job, d)).chain(not_weighed).collect()
}

fn doubt(job: &Job, doubt: &Doubt) -> DoubtView {
    DoubtView {
        code: code(&doubt.code),
        numbers: doubt.observations.iter().map(|o| number(job, o)).collect(),
        records: doubt.observations.clone(),
        repeat: doubt.repeat.as_deref().map_or(0, |o| number(job, o)),
    }
}
