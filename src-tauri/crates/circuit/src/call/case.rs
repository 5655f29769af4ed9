//! The result, put together from a weighed case.

use crate::answer::cause_share::{CauseShare, PairShare};
use crate::answer::diagnosis::{Diagnosis, ENGINE, Expected};
use crate::answer::doubt::Doubt;
use crate::answer::next_test::{WithheldCode, WithheldTest};
use crate::answer::options::Options;
use crate::answer::verdict::ModuleVerdict;
use crate::call::cause_shares::CauseShares;
use crate::call::doubt::doubts_of;
use crate::call::gate::{Verdicts, at_least};
use crate::call::look_alike::LookAlikes;
use crate::choose::forecast::{Forecast, Outlook};
use crate::choose::next_test::Choice;
use crate::choose::offer::{Candidate, Done, split};
use crate::choose::overturn::Overturning;
use crate::choose::particles::{Particle, particles_of};
use crate::choose::separable::groups;
use crate::choose::test_or_buy::tests_or_buys;
use crate::file::component::ComponentKind;
use crate::file::fault::FaultMode;
use crate::file::module::Module;
use crate::file::observation::Observation;
use crate::predict::model::{Column, Model};
use crate::predict::modules::causes_in;
use crate::predict::reading::Predicted;
use crate::weigh::course::Course;
use crate::weigh::likelihood::Scale;
use crate::weigh::pairs::PairsFound;
use crate::weigh::posterior::{Hypothesis, Posterior};
use crate::weigh::rows::Rows;

/// From this probability an open fuse calls for a word of care (judgment).
const FUSE_WORTH_NAMING: f64 = 0.2;

/// A weighed case.
pub(crate) struct Case<'c, 'a> {
    pub model: &'c Model<'a>,
    pub rows: &'c Rows,
    pub observations: &'c [Observation],
    pub done: &'c [Done<'c>],
    pub tests: &'c [Candidate<'c>],
    pub posterior: &'c Posterior,
    pub options: &'c Options,
}

impl Case<'_, '_> {
    /// Everything the readings say: causes first, then what tells them apart, then the verdicts that rest on both.
    pub fn diagnosis(&self, pairs: PairsFound) -> Diagnosis {
        let particles = particles_of(self.posterior);
        let shares = self.posterior.shares(self.model.causes.len());
        let forecasts = self.forecasts(&particles);
        let (offered, withheld_tests) = split(self.model, self.tests, self.done, self.options);
        let playable = self.playable(&forecasts, &offered, &withheld_tests);
        let choice = Choice::new(self.model, playable, self.posterior, &particles, self.options);
        let overturning = self.overturning(&forecasts, &particles, &choice.weights);
        let mut reported = shares.clone();
        let look_alikes = LookAlikes::of(self.model, self.tests, self.done, self.options);
        let unmodeled = self.posterior.unmodeled + look_alikes.take_from(self.model, &mut reported);
        let causes = self.cause_shares().of(&reported);
        let inseparable = self.inseparable(&forecasts, &particles, &shares);
        let doubts = doubts_of(self.posterior, &self.rows.rows, self.observations);
        let verdicts = self.verdicts(&causes, pairs.all(), unmodeled, &inseparable, &doubts);
        let modules = self.modules(&verdicts, &overturning);
        let circuit = self.model.circuit();
        Diagnosis {
            engine: ENGINE.to_owned(),
            circuit: circuit.id.clone(),
            circuit_version: circuit.version,
            pairs: pairs.worth_naming(),
            unmodeled,
            next: choice.best(self.options.next_tests),
            withheld_tests,
            modules,
            expected: self.expected(),
            open_fuses: self.open_fuses(&causes),
            overturned_by: overturning.of_leading(&shares),
            pin_outs: Vec::new(),
            test_or_buy: tests_or_buys(&choice, &particles, self.options),
            causes,
            inseparable,
            doubts,
        }
    }

    fn scale(&self) -> Scale<'_> {
        Scale::new(&self.model.meters, self.options)
    }

    /// What each test would show; nothing where the meter has no such mode.
    fn forecasts(&self, particles: &[Particle]) -> Vec<Option<Forecast>> {
        let belief = self.posterior.belief();
        let outlook = Outlook { model: self.model, rows: self.rows, scale: self.scale(), belief };
        let forecast = |candidate: &Candidate<'_>| {
            let column = candidate.column?;
            Some(Forecast::of(&outlook, column, candidate.test, particles))
        };
        self.tests.iter().map(forecast).collect()
    }

    /// Groups of cause ids that no test within reach tells apart.
    fn inseparable(
        &self,
        forecasts: &[Option<Forecast>],
        particles: &[Particle],
        shares: &[f64],
    ) -> Vec<Vec<String>> {
        let reachable = |candidate: &Candidate<'_>| !self.options.cannot_reach.contains(&candidate.test.id);
        let tests = self.tests.iter().zip(forecasts).filter(|(candidate, _)| reachable(candidate));
        let within_reach: Vec<&Forecast> = tests.filter_map(|(_, forecast)| forecast.as_ref()).collect();
        let name = |cause: &usize| self.model.causes.get(*cause).map(|cause| cause.id.clone());
        groups(&within_reach, particles, shares)
            .iter()
            .map(|group| group.iter().filter_map(name).collect())
            .collect()
    }

    fn overturning<'o>(
        &'o self,
        forecasts: &'o [Option<Forecast>],
        particles: &'o [Particle],
        weights: &'o [f64],
    ) -> Overturning<'o, 'o> {
        Overturning {
            model: self.model,
            scale: self.scale(),
            tests: self.tests,
            forecasts,
            particles,
            weights,
            cannot_reach: &self.options.cannot_reach,
            call_from: at_least(self.options),
        }
    }

    fn cause_shares(&self) -> CauseShares<'_, '_> {
        CauseShares {
            model: self.model,
            posterior: self.posterior,
            rows: &self.rows.rows,
            observations: self.observations,
        }
    }

    fn verdicts<'v>(
        &'v self,
        causes: &'v [CauseShare],
        pairs: &'v [PairShare],
        unmodeled: f64,
        inseparable: &'v [Vec<String>],
        doubts: &'v [Doubt],
    ) -> Verdicts<'v, 'v> {
        Verdicts {
            model: self.model,
            tests: self.tests,
            done: self.done,
            causes,
            pairs,
            unmodeled,
            inseparable,
            doubts,
            options: self.options,
        }
    }

    /// A verdict for each module, with what it rests on and what would overturn it.
    fn modules(&self, verdicts: &Verdicts<'_, '_>, overturning: &Overturning<'_, '_>) -> Vec<ModuleVerdict> {
        let judged = |module: &Module| {
            let mut verdict = verdicts.verdict(module);
            let causes = causes_in(self.model, module);
            let inside = |hypothesis: &&Hypothesis| causes.contains(&hypothesis.cause);
            let own: Vec<&Hypothesis> = self.posterior.hypotheses.iter().filter(inside).collect();
            verdict.reasons = Course::of(self.posterior, &own).reasons(&self.rows.rows, self.observations);
            verdict.overturned_by = overturning.of_module(module, &causes);
            verdict
        };
        self.model.circuit().modules.iter().map(judged).collect()
    }

    /// Tests offered now, then those that wait for others.
    fn playable<'p>(
        &'p self,
        forecasts: &'p [Option<Forecast>],
        offered: &[Candidate<'_>],
        withheld: &[WithheldTest],
    ) -> Vec<(&'p Candidate<'p>, &'p Forecast, bool)> {
        let all = self.tests.iter().zip(forecasts);
        let playable = all.filter_map(|(candidate, forecast)| {
            let id = &candidate.test.id;
            let now = offered.iter().any(|offered| offered.test.id == *id);
            let waits = |held: &WithheldTest| held.test == *id && held.why == WithheldCode::NeedsProofFirst;
            (now || withheld.iter().any(waits)).then_some((candidate, forecast.as_ref()?, now))
        });
        let mut playable: Vec<_> = playable.collect();
        playable.sort_by_key(|(.., now)| !now);
        playable
    }

    fn open_fuses(&self, causes: &[CauseShare]) -> Vec<String> {
        let parts = &self.model.circuit().components;
        let is_fuse = |id: &str| {
            parts.iter().any(|part| part.id == id && matches!(part.kind, ComponentKind::Fuse { .. }))
        };
        let may_be_open = |cause: &&CauseShare| {
            cause.mode == FaultMode::Open
                && cause.probability >= FUSE_WORTH_NAMING
                && is_fuse(&cause.component)
        };
        causes.iter().filter(may_be_open).map(|cause| cause.component.clone()).collect()
    }

    fn expected(&self) -> Vec<Expected> {
        let hypotheses = &self.posterior.hypotheses;
        let leading = hypotheses.iter().max_by(|left, right| left.posterior.total_cmp(&right.posterior));
        let value = |predicted: Predicted| match predicted {
            Predicted::Value { value, .. } => Some(value),
            _ => None,
        };
        let under = |column: &Column| {
            let hypothesis = leading?;
            let cause = self.model.causes.get(hypothesis.cause)?;
            let u = hypothesis.best()?.u;
            value(column.curves.get(hypothesis.cause)?.at(u, cause.severity(u)))
        };
        self.done
            .iter()
            .filter_map(|done| {
                let column = self.model.columns.get(done.column)?;
                Some(Expected {
                    observation: done.observation.id.clone(),
                    healthy: value(column.healthy),
                    leading_cause: under(column),
                })
            })
            .collect()
    }
}
