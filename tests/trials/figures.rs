//! What many searches add up to.

use std::collections::BTreeMap;

use circuit::Diagnosis;

use crate::technician::{Ended, Search};

/// How the last word of a search compares with its truth. Thousands are kept, so no more than needed.
pub struct Judged {
    /// What leads, be it a cause, two of them or "not in this circuit", is the truth.
    pub right: bool,
    pub right_group: bool,
    /// Right, or nothing could have told the truth from what leads: a fault outside the circuit that shows the same in
    /// every test.
    pub right_or_the_same: bool,
    /// What leads, two causes with a plus between them; empty for something outside the circuit.
    pub leads: String,
    /// Probability of what leads, of the truth, and the sum of all squares.
    pub leading: f64,
    pub of_truth: f64,
    pub squares: f64,
    /// What the gate before the likeliest module still wanted.
    pub missing: Vec<String>,
}

impl Judged {
    /// `same`: what leads, with its group, shows the same as the truth in every test.
    pub fn of(found: &Diagnosis, truth: &[String], same: bool) -> Self {
        let single = found.causes.first().map(|cause| (cause.id.clone(), cause.probability));
        let (single, probability) = single.unwrap_or_default();
        let pair = found.pairs.first().filter(|pair| pair.probability > probability.max(found.unmodeled));
        let outside = pair.is_none() && found.unmodeled > probability;
        let leads = match pair {
            Some(pair) => pair.causes.clone(),
            None if outside => Vec::new(),
            None => vec![single.clone()],
        };
        // Two faults are right where both are; a single cause where it is one of what is wrong.
        let right = if outside { truth.is_empty() } else { leads.iter().all(|id| truth.contains(id)) };
        let group = found.inseparable.iter().find(|group| group.contains(&single));
        let in_group =
            leads.len() == 1 && group.is_some_and(|group| group.iter().any(|id| truth.contains(id)));
        let share = |id: &String| found.causes.iter().find(|cause| cause.id == *id).map(|c| c.probability);
        let modules = found.modules.iter();
        let module = modules.max_by(|left, right| left.probability.total_cmp(&right.probability));
        let squares: f64 = found.causes.iter().map(|cause| cause.probability.powi(2)).sum();
        Self {
            leads: leads.join("+"),
            right,
            right_group: right || in_group,
            right_or_the_same: right || (!outside && same),
            leading: pair.map_or(probability.max(found.unmodeled), |pair| pair.probability),
            of_truth: truth.first().map_or(Some(found.unmodeled), share).unwrap_or(0.0),
            squares: squares + found.unmodeled.powi(2),
            missing: module
                .into_iter()
                .flat_map(|module| &module.missing)
                .map(|missing| format!("{:?}", missing.code))
                .collect(),
        }
    }
}

/// One search with its truth.
pub struct Trial {
    pub judged: Judged,
    pub circuit: String,
    pub causes: Vec<String>,
    pub module_fault: bool,
    pub separable: bool,
    pub comes_and_goes: bool,
    /// Drawn so that its fault lies in a module.
    pub drawn_for_module: bool,
    /// Two faults, and neither alone shows the same in every test; and whether they led as a pair at the end.
    pub two_show: bool,
    pub pair_leads: bool,
    pub search: Search,
}

/// Sums over trials.
#[derive(Debug, Clone, Default)]
pub struct Figures {
    pub jobs: usize,
    pub module_fault_jobs: usize,
    pub top_1: f64,
    pub top_1_group: f64,
    pub minutes: f64,
    pub tests: f64,
    pub brier: f64,
    pub log_loss: f64,
    pub module_calls: usize,
    pub wrong_module_calls: usize,
    pub wrong_upper95: f64,
    pub separable: usize,
    pub separable_not_proven: usize,
    pub cause_calls: usize,
    pub wrong_cause_calls: usize,
    pub wrong_but_the_same: usize,
    pub not_proven: usize,
    pub update_ms_p95: f64,
    pub update_ms_median: f64,
    /// Leading probability by tenths: jobs, mean probability, share that was right, share right or the same.
    pub reliability: Vec<(usize, f64, f64, f64)>,
}

impl Figures {
    pub fn of(trials: &[&Trial]) -> Self {
        let mut all = Self { jobs: trials.len(), ..Self::default() };
        let count = trials.len().max(1) as f64;
        let mut bins: BTreeMap<usize, (usize, f64, f64, f64)> = BTreeMap::new();
        let mut updates: Vec<f64> = Vec::new();
        let mut single = 0.0_f64;
        for trial in trials {
            let judged = &trial.judged;
            all.top_1 += f64::from(u8::from(judged.right)) / count;
            all.top_1_group += f64::from(u8::from(judged.right_group)) / count;
            all.minutes += trial.search.minutes / count;
            all.tests += trial.search.tests as f64 / count;
            updates.extend(&trial.search.updates);
            let bin = bins.entry((judged.leading * 10.0).min(9.0) as usize).or_default();
            bin.0 += 1;
            bin.1 += judged.leading;
            bin.2 += f64::from(u8::from(judged.right));
            bin.3 += f64::from(u8::from(judged.right_or_the_same));
            if trial.causes.len() < 2 {
                single += 1.0;
                all.brier += judged.squares + 1.0 - 2.0 * judged.of_truth;
                all.log_loss -= judged.of_truth.max(1e-6).ln();
            }
            all.module_fault_jobs += usize::from(trial.module_fault);
            let called = matches!(trial.search.ended, Ended::ModuleCalled(_));
            all.module_calls += usize::from(called);
            all.wrong_module_calls += usize::from(called && !trial.module_fault);
            if trial.module_fault && trial.separable {
                all.separable += 1;
                all.separable_not_proven += usize::from(!called);
            }
            match &trial.search.ended {
                Ended::CauseCalled(ids) => {
                    all.cause_calls += 1;
                    let wrong = !ids.iter().any(|id| trial.causes.contains(id));
                    all.wrong_cause_calls += usize::from(wrong);
                    all.wrong_but_the_same += usize::from(wrong && judged.right_or_the_same);
                }
                Ended::NotProven => all.not_proven += 1,
                Ended::ModuleCalled(_) => {}
            }
        }
        all.brier /= single.max(1.0);
        all.log_loss /= single.max(1.0);
        all.wrong_upper95 = upper95(all.wrong_module_calls, all.module_calls);
        updates.sort_by(f64::total_cmp);
        all.update_ms_p95 = at(&updates, 0.95) * 1e3;
        all.update_ms_median = at(&updates, 0.5) * 1e3;
        all.reliability = (0..10)
            .map(|i| {
                let (jobs, sum, right, same) = bins.get(&i).copied().unwrap_or_default();
                let count = jobs.max(1) as f64;
                (jobs, sum / count, right / count, same / count)
            })
            .collect();
        all
    }

    pub fn not_proven_share(&self) -> f64 {
        self.separable_not_proven as f64 / self.separable.max(1) as f64
    }
}

/// Wrong calls and needless "not proven" for other numbers in the gate.
pub fn traded(trials: &[&Trial], least: f64, rival: f64) -> (usize, usize, f64) {
    let opens = |trial: &Trial| {
        trial.search.gate.iter().any(|gate| gate.ready && gate.probability >= least && gate.rival <= rival)
    };
    let calls = trials.iter().filter(|trial| opens(trial)).count();
    let wrong = trials.iter().filter(|trial| opens(trial) && !trial.module_fault).count();
    let separable: Vec<_> = trials.iter().filter(|trial| trial.module_fault && trial.separable).collect();
    let missed = separable.iter().filter(|trial| !opens(trial)).count();
    (wrong, calls, missed as f64 / separable.len().max(1) as f64)
}

pub fn at(sorted: &[f64], share: f64) -> f64 {
    let place = (sorted.len() as f64 * share) as usize;
    sorted.get(place.min(sorted.len().saturating_sub(1))).copied().unwrap_or(0.0)
}

/// Upper end of the two-sided 95 % interval of Clopper and Pearson (1934): the share at which so few, or fewer, have a
/// chance of 2.5 %. Found by halving.
pub fn upper95(wrong: usize, calls: usize) -> f64 {
    if wrong >= calls {
        return 1.0;
    }
    let (mut low, mut high) = (wrong as f64 / calls as f64, 1.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if at_most(wrong, calls, middle) > 0.025 { low = middle } else { high = middle }
    }
    high
}

/// Chance of at most so many among n.
fn at_most(wrong: usize, calls: usize, share: f64) -> f64 {
    let mut log = calls as f64 * (1.0 - share).ln();
    let mut sum = log.exp();
    for k in 1..=wrong {
        log += ((calls - k + 1) as f64 / k as f64).ln() + (share / (1.0 - share)).ln();
        sum += log.exp();
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::upper95;

    /// Zero of n: 1 − 0.025^(1/n), by hand; 1 of 10: 0.445016 (published tables of the Clopper–Pearson interval, from
    /// memory).
    #[test]
    fn clopper_pearson() {
        assert!((upper95(0, 1000) - (1.0 - 0.025_f64.powf(1e-3))).abs() < 1e-9);
        assert!((upper95(1, 10) - 0.445_016).abs() < 1e-5);
    }
}
