//! The figures as a table and as one JSON object.

use serde_json::json;

use circuit::Diagnosis;

use crate::Failure;
use crate::calibration::Calibration;
use crate::figures::{Figures, Trial, traded, upper95};
use crate::policy::Minutes;
use crate::technician::{Ended, Search};
use crate::truth::Truth;

/// Numbers for the gate that are compared: least probability of the module, highest of a rival. The first are the
/// least the engine accepts.
pub const STRICTER: [(f64, f64); 5] =
    [(0.95, 0.03), (0.97, 0.02), (0.98, 0.01), (0.985, 0.005), (0.99, 0.005)];
/// Looser ones, by where a search would have stopped.
const LOOSER: [(f64, f64); 3] = [(0.80, 0.10), (0.90, 0.10), (0.90, 0.05)];

pub struct Result<'r> {
    pub looked_at: &'r [Vec<Trial>],
    pub reported: &'r [Trial],
    /// Further ones as a shop meets them, on circuits with a module.
    pub in_a_shop: &'r [Trial],
    pub two_faults: &'r [Trial],
    pub circuits: usize,
    pub policies: &'r [(String, Minutes)],
    pub largest: &'r str,
    pub solves_over_ngspice: f64,
    pub memory_mb: f64,
}

impl Result<'_> {
    pub fn json(&self) -> std::result::Result<String, Failure> {
        let all = self.all();
        let largest = Figures::of(&self.of(|trial| trial.circuit == self.largest));
        let usual = Figures::of(&self.of(|trial| !trial.drawn_for_module));
        let (shop, half) = (self.of(|trial| !trial.drawn_for_module), self.of(|_| true));
        let in_shops = Figures::of(&self.in_shops());
        Ok(serde_json::to_string(&json!({
            "simulated_jobs": all.jobs,
            "module_fault_jobs": all.module_fault_jobs,
            "wrong_module_calls": all.wrong_module_calls,
            "wrong_module_calls_upper95": all.wrong_upper95,
            "wrong_module_calls_usual_mix": usual.wrong_module_calls,
            "module_calls_usual_mix": usual.module_calls,
            "separable_module_faults_not_proven_share": all.not_proven_share(),
            "minutes_over_optimum_max": self.over_optimum(),
            "update_ms_p95": largest.update_ms_p95,
            "solves_over_ngspice": self.solves_over_ngspice,
            "brier": all.brier,
            "log_loss": all.log_loss,
            "top_1": all.top_1,
            "minutes": all.minutes,
            "module_calls": all.module_calls,
            "memory_mb": self.memory_mb,
            "ece_shop": Calibration::of(&shop).expected_error,
            "ece_half": Calibration::of(&half).expected_error,
            "ece_shop_by_chance": Calibration::of(&shop).by_chance,
            "ece_half_by_chance": Calibration::of(&half).by_chance,
            "ece_shop_debiased": Calibration::of(&shop).debiased,
            "ece_half_debiased": Calibration::of(&half).debiased,
            "top_gap_shop": Calibration::of(&shop).top_gap,
            "top_gap_half": Calibration::of(&half).top_gap,
            "pairs_led_share": self.pairs_led_share(),
            "wrong_module_calls_shop": in_shops.wrong_module_calls,
            "module_calls_shop": in_shops.module_calls,
            "wrong_module_calls_upper95_shop": in_shops.wrong_upper95,
            "circuits": self.circuits,
            "update_ms_p95_max": self.update_p95_max(),
        }))?)
    }

    pub fn print(&self) {
        self.searches();
        self.calls();
        self.wanted();
        self.trade();
        self.reliability();
        self.minutes();
        println!("\nTime per solve: {:.0} of ours in one run of ngspice. ", self.solves_over_ngspice);
        println!("Memory: {:.0} MB at most, {} prepared.", self.memory_mb, self.largest);
    }

    fn searches(&self) {
        println!(
            "| Circuit | Jobs | First is right | with its group | Minutes | Tests | Brier | Log-loss | Update ms (95 %) |"
        );
        println!("|---|---|---|---|---|---|---|---|---|");
        let mut ids: Vec<&str> = self.reported.iter().map(|trial| trial.circuit.as_str()).collect();
        ids.sort_unstable();
        ids.dedup();
        for id in ids {
            self.row(id, &Figures::of(&self.of(|trial| trial.circuit == id)));
        }
        self.row("all", &self.all());
        self.row("as a shop meets them", &Figures::of(&self.of(|trial| !trial.drawn_for_module)));
        self.row("come and go", &Figures::of(&self.of(|trial| trial.comes_and_goes)));
        self.row("two faults", &Figures::of(&self.of(|trial| trial.causes.len() > 1)));
        self.row("not in the circuit", &Figures::of(&self.of(|trial| trial.causes.is_empty())));
    }

    fn row(&self, name: &str, f: &Figures) {
        println!(
            "| {name} | {} | {:.1} % | {:.1} % | {:.1} | {:.1} | {:.3} | {:.3} | {:.1} |",
            f.jobs,
            f.top_1 * 100.0,
            f.top_1_group * 100.0,
            f.minutes,
            f.tests,
            f.brier,
            f.log_loss,
            f.update_ms_p95
        );
    }

    fn calls(&self) {
        let all = self.all();
        println!(
            "\nModule called in {} of {} jobs ({} with a module fault); wrong {}: at most {:.2} % with 95 % confidence.",
            all.module_calls,
            all.jobs,
            all.module_fault_jobs,
            all.wrong_module_calls,
            all.wrong_upper95 * 100.0
        );
        let usual = Figures::of(&self.of(|trial| !trial.drawn_for_module));
        println!(
            "Among the {} jobs as a shop meets them ({} with a module fault): {} calls, wrong {}: at most {:.2} %.",
            usual.jobs,
            usual.module_fault_jobs,
            usual.module_calls,
            usual.wrong_module_calls,
            usual.wrong_upper95 * 100.0
        );
        let shops = Figures::of(&self.in_shops());
        println!(
            "With {} further such jobs on circuits with a module: {} calls, wrong {}: at most {:.2} %.",
            self.in_a_shop.len(),
            shops.module_calls,
            shops.wrong_module_calls,
            shops.wrong_upper95 * 100.0
        );
        let show = self.two_faults.iter().filter(|trial| trial.two_show).count();
        println!(
            "Two faults at once, every test done twice: of {show} whose readings no single cause shows, {:.0} % led as a pair.",
            self.pairs_led_share() * 100.0
        );
        println!(
            "Needless \"not proven\": {} of {} separable module faults ({:.1} %).",
            all.separable_not_proven,
            all.separable,
            all.not_proven_share() * 100.0
        );
        println!(
            "Another cause called in {} jobs, wrong {}, of these {} faults outside that show the same in every test; {} not proven.",
            all.cause_calls, all.wrong_cause_calls, all.wrong_but_the_same, all.not_proven
        );
        for trial in self
            .of(|trial| !trial.module_fault && matches!(trial.search.ended, Ended::ModuleCalled(_)))
            .iter()
            .take(10)
        {
            println!(
                "  wrong module call on {}: {:?} (comes and goes: {})",
                trial.circuit, trial.causes, trial.comes_and_goes
            );
        }
    }

    /// What the gate still wanted at the end, where a separable module fault wasn't called.
    fn wanted(&self) {
        let open = self.of(|trial| {
            trial.module_fault && trial.separable && !matches!(trial.search.ended, Ended::ModuleCalled(_))
        });
        let mut codes: std::collections::BTreeMap<String, usize> = std::collections::BTreeMap::new();
        for code in open.iter().flat_map(|trial| &trial.judged.missing) {
            *codes.entry(code.clone()).or_default() += 1;
        }
        println!("\nWhat was missing in these {}: {codes:?}", open.len());
    }

    fn trade(&self) {
        println!(
            "\n| Least probability | Highest rival | Wrong of calls | At most (95 %) | Needless \"not proven\" | Minutes with a module fault |"
        );
        println!("|---|---|---|---|---|---|");
        let row = |least: f64, rival: f64, wrong: usize, calls: usize, missed: f64, minutes: f64| {
            let most = upper95(wrong, calls) * 100.0;
            let minutes = if minutes.is_nan() { String::new() } else { format!("{minutes:.1}") };
            println!(
                "| {least:.3} | {rival:.3} | {wrong} of {calls} | {most:.2} % | {:.1} % | {minutes} |",
                missed * 100.0
            );
        };
        if let Some(first) = self.looked_at.first() {
            let trials: Vec<&Trial> = first.iter().collect();
            for (least, rival) in LOOSER {
                let (wrong, calls, missed) = traded(&trials, least, rival);
                row(least, rival, wrong, calls, missed, f64::NAN);
            }
        }
        for ((least, rival), trials) in STRICTER.iter().zip(self.looked_at) {
            let f = Figures::of(&trials.iter().collect::<Vec<_>>());
            let of_modules =
                Figures::of(&trials.iter().filter(|trial| trial.module_fault).collect::<Vec<_>>());
            row(
                *least,
                *rival,
                f.wrong_module_calls,
                f.module_calls,
                f.not_proven_share(),
                of_modules.minutes,
            );
        }
    }

    fn reliability(&self) {
        for (name, trials) in [
            ("as a shop meets them", self.of(|trial| !trial.drawn_for_module)),
            ("half with a fault inside a module", self.of(|_| true)),
        ] {
            let calibration = Calibration::of(&trials);
            println!(
                "\nExpected calibration error {name}: {:.4} (chance alone gives {:.4}; debiased {:.4}); above 0.9 too sure by {:+.4}.",
                calibration.expected_error, calibration.by_chance, calibration.debiased, calibration.top_gap
            );
        }
        println!("\n| Leading probability | Jobs | Mean | Right | Right or the same in every test |");
        println!("|---|---|---|---|---|");
        let all = Figures::of(&self.of(|trial| !trial.drawn_for_module));
        for (i, (jobs, mean, right, same)) in
            all.reliability.iter().enumerate().filter(|(_, (jobs, ..))| *jobs > 0)
        {
            println!(
                "| {:.1}–{:.1} | {jobs} | {mean:.3} | {right:.3} | {same:.3} |",
                i as f64 / 10.0,
                (i + 1) as f64 / 10.0
            );
        }
    }

    fn minutes(&self) {
        println!("\n| Circuit | Causes | Ours | Optimum | Cheapest first | Half-split | Fixed order |");
        println!("|---|---|---|---|---|---|---|");
        for (id, m) in self.policies {
            let optimum = m.optimum.map_or_else(|| "out of reach".to_owned(), |best| format!("{best:.2}"));
            println!(
                "| {id} | {} | {:.2} | {optimum} | {:.2} | {:.2} | {:.2} |",
                m.causes, m.ours, m.cheapest_first, m.half_split, m.fixed_order
            );
        }
    }

    /// All jobs as a shop meets them.
    fn in_shops(&self) -> Vec<&Trial> {
        self.of(|trial| !trial.drawn_for_module).into_iter().chain(self.in_a_shop).collect()
    }

    /// Of two faults whose readings no single cause shows, how many led as a pair with every test done twice.
    fn pairs_led_share(&self) -> f64 {
        let (show, led) = led(self.two_faults);
        led as f64 / show.max(1) as f64
    }

    fn update_p95_max(&self) -> f64 {
        let of = |id: &str| Figures::of(&self.of(|trial| trial.circuit == id)).update_ms_p95;
        self.policies.iter().map(|(id, _)| of(id)).fold(0.0, f64::max)
    }

    fn over_optimum(&self) -> f64 {
        let ratio = |m: &Minutes| m.optimum.filter(|best| *best > 0.0).map(|best| m.ours / best);
        self.policies.iter().filter_map(|(_, m)| ratio(m)).fold(1.0, f64::max)
    }

    fn all(&self) -> Figures {
        Figures::of(&self.of(|_| true))
    }

    fn of(&self, wanted: impl Fn(&Trial) -> bool) -> Vec<&Trial> {
        self.reported.iter().filter(|trial| wanted(trial)).collect()
    }
}

/// What matters while the engine is being changed, a line for each mix and sort.
pub fn tuned(trials: &[Trial]) {
    let line = |name: &str, wanted: &dyn Fn(&Trial) -> bool| {
        let some: Vec<&Trial> = trials.iter().filter(|trial| wanted(trial)).collect();
        crate::calibration::line(name, &some);
    };
    let mut ids: Vec<&str> = trials.iter().map(|trial| trial.circuit.as_str()).collect();
    ids.sort_unstable();
    ids.dedup();
    for id in ids {
        line(id, &|trial| trial.circuit == id);
    }
    line("half mix", &|_| true);
    line("shop's mix", &|trial| !trial.drawn_for_module);
    line("come and go", &|trial| trial.comes_and_goes);
    line("two faults", &|trial| trial.causes.len() > 1);
    line("one fault of the file", &|trial| trial.causes.len() == 1 && !trial.drawn_for_module);
    line("not in the circuit", &|trial| trial.causes.is_empty());
}

/// Every search as a line of CSV, to be looked at elsewhere.
pub fn rows(trials: &[Trial]) -> String {
    let head = "circuit,drawn_for_module,causes,comes_and_goes,leading,leads,right,the_same,of_truth,minutes,tests,ended";
    let line = |trial: &Trial| {
        let (judged, search) = (&trial.judged, &trial.search);
        let ended = match &search.ended {
            Ended::ModuleCalled(_) => "module",
            Ended::CauseCalled(_) => "cause",
            Ended::NotProven => "not proven",
        };
        format!(
            "{},{},{},{},{},{},{},{},{},{},{},{ended}",
            trial.circuit,
            trial.drawn_for_module,
            trial.causes.join("+"),
            trial.comes_and_goes,
            judged.leading,
            judged.leads,
            judged.right,
            judged.right_or_the_same,
            judged.of_truth,
            search.minutes,
            search.tests,
        )
    };
    std::iter::once(head.to_owned()).chain(trials.iter().map(line)).collect::<Vec<_>>().join("\n")
}

/// Two faults: in how many jobs both show, and in how many of these they led as a pair.
fn led(trials: &[Trial]) -> (usize, usize) {
    let show = trials.iter().filter(|trial| trial.two_show);
    (show.clone().count(), show.filter(|trial| trial.pair_leads).count())
}

/// Searches for two faults at once, on seeds that are never reported.
pub fn pairs(trials: &[Trial]) {
    let (show, led) = led(trials);
    println!("{show} of {} show that they are two; {led} led as a pair", trials.len());
    crate::calibration::line("two faults", &trials.iter().collect::<Vec<_>>());
    for trial in trials.iter().filter(|trial| trial.two_show && !trial.pair_leads) {
        println!("  {} {:?}: {:?}", trial.circuit, trial.causes, trial.search.ended);
    }
}

/// What searches for faults outside the circuits ended in.
pub fn outside(trials: &[Trial]) -> String {
    let calls = trials.iter().filter(|trial| matches!(trial.search.ended, Ended::ModuleCalled(_))).count();
    let called = |trial: &&Trial| matches!(trial.search.ended, Ended::CauseCalled(_));
    let causes = trials.iter().filter(called).count();
    let same = trials.iter().filter(called).filter(|trial| trial.judged.right_or_the_same).count();
    format!(
        "{} faults outside: module called {calls}, another cause called {causes}, {same} of these show the same in every test",
        trials.len()
    )
}

/// One search as a line, for whoever wants to see why.
pub fn detail(circuit: &str, truth: &Truth, search: &Search, last: &Diagnosis) {
    let what = match search.ended {
        Ended::ModuleCalled(_) => "WRONG",
        Ended::CauseCalled(_) => "another",
        Ended::NotProven => "missed",
    };
    let causes: Vec<String> =
        last.causes.iter().take(4).map(|cause| format!("{} {:.3}", cause.id, cause.probability)).collect();
    println!("{what} {circuit} {:?} comes and goes {}: {causes:?}", truth.causes, truth.comes_and_goes);
    for fault in &truth.faulty.faults {
        println!("    {fault:?}");
    }
    for part in &truth.faulty.circuit.components {
        if !truth.healthy.circuit.components.iter().any(|healthy| healthy.kind == part.kind) {
            println!("    {} {:?}", part.id, part.kind);
        }
    }
    truth.faulty.dead_parts.iter().for_each(|part| println!("    {part} is dead"));
    println!("    {:?}", search.ended);
    for module in &last.modules {
        println!("    {:.3} {:?}", module.probability, module.missing);
    }
}
