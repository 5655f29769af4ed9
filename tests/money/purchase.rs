//! The tool purchase against `tool-purchase.csv`: an invented offer and shop whose numbers were computed by a
//! separate Python program with scipy (gamma and negative binomial distributions, 400-point Gauss-Jacobi
//! quadrature), printed to six decimals or nine; quadrature to five and three.

use money::programming::{Route, expected};
use money::tool_purchase::{
    Demand, OwnWork, ToolOffer, pays_back_by, worth, worth_of_waiting, worth_with_doubt, yearly_gain,
};
use money::{Cents, Percent};

use crate::reference::{Reference, close};

fn offer(reference: &Reference) -> ToolOffer {
    ToolOffer {
        price: reference.text("price").parse().unwrap(),
        training: reference.text("training").parse().unwrap(),
        yearly_subscription: reference.text("yearly_subscription").parse().unwrap(),
        resale: reference.text("resale").parse().unwrap(),
        months: reference.text("months").parse().unwrap(),
        discount: reference.text("discount").parse().unwrap(),
        coverage: reference.text("coverage").parse().unwrap(),
    }
}

fn demand(reference: &Reference) -> Demand {
    Demand {
        assumed_jobs: reference.text("assumed_jobs").parse().unwrap(),
        assumed_months: reference.text("assumed_months").parse().unwrap(),
        jobs: reference.text("jobs").parse().unwrap(),
        months: reference.text("seen_months").parse().unwrap(),
    }
}

/// The best other way less the shop's own, averaged over what is known of its success.
fn saving(reference: &Reference, own: &Route, remote: &Route) -> f64 {
    let rates = reference.rates();
    let other = expected(remote, &rates).unwrap().cost;
    let sublet = expected(&reference.route("sublet"), &rates).unwrap().cost;
    other.min(sublet) - reference.belief().expected(own, &rates).unwrap().cost
}

fn base_saving(reference: &Reference) -> f64 {
    saving(reference, &reference.route("own"), &reference.route("remote"))
}

#[test]
fn worth_agrees() {
    let reference = Reference::read();
    let (offer, demand, saving) = (offer(&reference), demand(&reference), base_saving(&reference));
    reference.agrees("buy.saving_per_job", saving);
    reference.agrees("buy.rate_mean", demand.mean());
    reference.agrees("buy.rate_05", demand.quantile(0.05).unwrap());
    reference.agrees("buy.rate_95", demand.quantile(0.95).unwrap());
    let worth = worth(&offer, &demand, saving).unwrap();
    reference.agrees("buy.npv_fixed_part", worth.fixed);
    reference.agrees("buy.npv_per_unit_rate", worth.per_monthly_job);
    reference.agrees("buy.breakeven_jobs_per_month", worth.break_even.unwrap());
    reference.agrees("buy.expected_npv", worth.expected);
    reference.agrees("buy.p_mean_npv_positive", worth.positive);
    reference.agrees("buy.evpi", worth.perfect_knowledge);
}

#[test]
fn payback_agrees() {
    let reference = Reference::read();
    for months in [6, 12, 18, 24, 36] {
        let payback =
            pays_back_by(&offer(&reference), &demand(&reference), base_saving(&reference), months).unwrap();
        reference.agrees(&format!("buy.payback_by_{months}m.jobs"), payback.jobs.unwrap().into());
        let want = reference.number(&format!("buy.payback_by_{months}m.probability"));
        // Printed to nine decimals: half a unit of the last one.
        assert!((payback.probability - want).abs() <= 5.1e-10, "{months}: {}", payback.probability);
    }
}

#[test]
fn waiting_agrees() {
    let reference = Reference::read();
    for months in [3, 6] {
        let waiting =
            worth_of_waiting(&offer(&reference), &demand(&reference), base_saving(&reference), months)
                .unwrap();
        let want = reference.number(&format!("buy.evsi_wait_{months}m"));
        assert!((waiting.knowledge - want).abs() <= 5.1e-7, "{months}: {}", waiting.knowledge);
        reference.agrees(&format!("buy.forgone_saving_wait_{months}m"), waiting.missed);
    }
}

/// Waiting for ever is knowing: the value of counting 3000 months comes close to that of perfect knowledge,
/// from below. (The reference has only zeros for waiting, which a broken sum could give too.)
#[test]
fn waiting_very_long_is_worth_perfect_knowledge() {
    let reference = Reference::read();
    let (offer, demand) = (offer(&reference), demand(&reference));
    let saving = 45.0;
    let perfect = worth(&offer, &demand, saving).unwrap().perfect_knowledge;
    let values = [1, 10, 100, 3_000].map(|m| worth_of_waiting(&offer, &demand, saving, m).unwrap().knowledge);
    assert!(values.is_sorted(), "{values:?}");
    assert!(values[3] <= perfect && values[3] > 0.99 * perfect, "{values:?} against {perfect}");
}

#[test]
fn doubt_about_success_agrees_with_quadrature() {
    let reference = Reference::read();
    let rates = reference.rates();
    let own = OwnWork {
        route: &reference.route("own"),
        rates: &rates,
        belief: reference.belief(),
        other_cost: expected(&reference.route("remote"), &rates).unwrap().cost,
    };
    let joint = worth_with_doubt(&offer(&reference), &demand(&reference), &own).unwrap();
    let positive = reference.number("buy.joint_p_positive");
    assert!((joint.positive - positive).abs() <= 1e-4, "{}", joint.positive);
    close(joint.perfect_knowledge, reference.number("buy.joint_evpi"), 1e-4, "joint perfect knowledge");
}

#[test]
fn every_swing_agrees() {
    let reference = Reference::read();
    let (base, demand) = (offer(&reference), demand(&reference));
    let (own, remote) = (reference.route("own"), reference.route("remote"));
    let dollars = |amount: i64| Cents(amount * 100);
    let percent = |p: u32| Percent::from_parts(p * 1_000).unwrap();
    let swing = |name: &str, offers: [ToolOffer; 2], savings: [f64; 2]| {
        for ((side, offer), saving) in ["low", "high"].into_iter().zip(offers).zip(savings) {
            let expected = worth(&offer, &demand, saving).unwrap().expected;
            close(expected, reference.number(&format!("swing.{name}.{side}")), 1e-5, name);
        }
    };
    let same = [base_saving(&reference); 2];
    swing("price", [3_000, 1_600].map(|p| ToolOffer { price: dollars(p), ..base }), same);
    swing("resale", [0, 1_200].map(|p| ToolOffer { resale: dollars(p), ..base }), same);
    swing(
        "yearly_subscription",
        [1_000, 0].map(|p| ToolOffer { yearly_subscription: dollars(p), ..base }),
        same,
    );
    swing("coverage", [60, 95].map(|p| ToolOffer { coverage: percent(p), ..base }), same);

    let with_own = |own: Route| saving(&reference, &own, &remote);
    let with_remote = |remote: Route| saving(&reference, &own, &remote);
    let hours = |text: &str| text.parse().unwrap();
    swing("own.cash", [base; 2], [60, 20].map(|p| with_own(Route { cash: dollars(p), ..own.clone() })));
    swing("own.loss", [base; 2], [1_200, 300].map(|p| with_own(Route { loss: dollars(p), ..own.clone() })));
    swing(
        "own.labour_hours",
        [base; 2],
        ["2", "0.9"].map(|h| with_own(Route { labor_hours: hours(h), ..own.clone() })),
    );
    swing(
        "remote.cash",
        [base; 2],
        [100, 150].map(|p| with_remote(Route { cash: dollars(p), ..remote.clone() })),
    );
    swing(
        "remote.wait",
        [base; 2],
        ["1", "8"].map(|h| with_remote(Route { wait: hours(h), ..remote.clone() })),
    );

    let line = worth(&base, &demand, same[0]).unwrap();
    for (side, probability) in [("low", 0.05), ("high", 0.95)] {
        let at = line.fixed + line.per_monthly_job * demand.quantile(probability).unwrap();
        close(at, reference.number(&format!("swing.rate.{side}")), 1e-5, "rate");
    }
}

#[test]
fn purchases_without_sense_are_refused_or_never_pay() {
    let reference = Reference::read();
    let (offer, demand) = (offer(&reference), demand(&reference));
    assert!(worth(&ToolOffer { months: 0, ..offer }, &demand, 50.0).is_err());
    assert!(worth(&offer, &Demand { assumed_jobs: 0, ..demand }, 50.0).is_err());
    assert!(worth(&offer, &demand, f64::NAN).is_err());
    assert!(demand.quantile(1.0).is_err());
    for saving in [0.0, -20.0] {
        let never = worth(&offer, &demand, saving).unwrap();
        assert_eq!((never.positive, never.break_even), (0.0, None), "{saving}");
        assert!(never.perfect_knowledge.abs() < 1e-9, "{never:?}");
        assert_eq!(pays_back_by(&offer, &demand, saving, 24).unwrap().jobs, None);
    }
}

/// Against a separate Python program with numpy and scipy (`beta.pdf` at 20,001 midpoints times `poisson.pmf`, all gains sorted,
/// the weighted quantile read off), for 0 to 60 jobs a year; printed to more digits than are compared.
#[test]
fn a_year_and_its_band_agree() {
    let reference = Reference::read();
    let (rates, own) = (reference.rates(), reference.route("own"));
    let other_cost = expected(&reference.route("remote"), &rates).unwrap().cost;
    let work = OwnWork { route: &own, rates: &rates, belief: reference.belief(), other_cost };
    let offer = offer(&reference);
    let saving = reference.number("buy.saving_per_job");
    for (jobs, low, high) in [
        (0.0, -1_022.102_286, -1_022.102_286),
        (6.0, -881.844_483, -358.527_962),
        (16.0, -489.813_650, 522.578_091),
        (26.0, -77.476_348, 1_370.492_131),
        (60.0, 1_326.609_534, 4_190.369_725),
    ] {
        let gain = yearly_gain(&offer, &work, jobs).unwrap();
        // By hand from the saving per job, which is printed to six decimals, and the yearly cost of the same program.
        let average = jobs * 0.85 * saving - 1_022.102_286;
        assert!((gain.average - average).abs() < 1e-4, "{jobs} jobs: {} against {average}", gain.average);
        // The two grids over the chance of success differ: a dollar on a range of thousands.
        assert!((gain.low - low).abs() < 1.0, "{jobs} jobs: low {} against {low}", gain.low);
        assert!((gain.high - high).abs() < 1.0, "{jobs} jobs: high {} against {high}", gain.high);
    }
    let worth = worth(&offer, &demand(&reference), base_saving(&reference)).unwrap();
    let even = yearly_gain(&offer, &work, worth.break_even.unwrap() * 12.0).unwrap();
    assert!(even.average.abs() < 1e-6, "the average is nothing where it breaks even: {}", even.average);
    for bad in [-1.0, 1e9, f64::NAN] {
        assert!(yearly_gain(&offer, &work, bad).is_err(), "{bad}");
    }
}
