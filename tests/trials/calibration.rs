//! Does a probability mean what it says? Reliability of what leads, over many searches.

use crate::figures::{Figures, Trial};

/// Bins of equal width (Naeini, Cooper, Hauskrecht: "Obtaining Well Calibrated Probabilities Using Bayesian Binning",
/// 2015, whose expected calibration error this is).
const BINS: usize = 10;

/// How far what leads is from what is right.
#[derive(Debug, Clone, Copy, Default)]
pub struct Calibration {
    /// Expected calibration error: mean over all searches of the gap of each one's bin.
    pub expected_error: f64,
    /// What that error would be on average if every probability were exactly right: a bin's share of right ones lies around
    /// its probability p with the binomial standard deviation √(p(1−p)/n), on average √(2/π) of that away (normal
    /// approximation).
    pub by_chance: f64,
    /// Root mean square of the bins' gaps with what chance gives taken out (A. Kumar, P. Liang, T. Ma, "Verified uncertainty
    /// calibration", 2019, the debiased estimator); 0 where chance explains all of it.
    pub debiased: f64,
    /// Mean probability above 0.9 less the share that was right there; positive is too sure.
    pub top_gap: f64,
}

impl Calibration {
    pub fn of(trials: &[&Trial]) -> Self {
        let mut bins = [(0.0_f64, 0.0_f64, 0.0_f64); BINS];
        for trial in trials {
            let bin = &mut bins[((trial.judged.leading * BINS as f64) as usize).min(BINS - 1)];
            bin.0 += 1.0;
            bin.1 += trial.judged.leading;
            bin.2 += f64::from(u8::from(trial.judged.right));
        }
        let all = trials.len().max(1) as f64;
        let gaps = bins.iter().map(|(_, said, right)| (said - right).abs() / all);
        let filled = || bins.iter().filter(|(count, ..)| *count > 0.0);
        let chance = |(count, said, _): &(f64, f64, f64)| count / all * by_chance(*count, said / count);
        let squared = |(count, said, right): &(f64, f64, f64)| {
            let (said, right) = (said / count, right / count);
            count / all * ((said - right).powi(2) - right * (1.0 - right) / (count - 1.0).max(1.0))
        };
        let debiased = filled().map(squared).sum::<f64>().max(0.0).sqrt();
        let (count, said, right) = bins[BINS - 1];
        Self {
            expected_error: gaps.sum(),
            by_chance: filled().map(chance).sum(),
            debiased,
            top_gap: (said - right) / count.max(1.0),
        }
    }
}

/// How far the share of right ones lies from its probability on average, by chance alone.
fn by_chance(count: f64, probability: f64) -> f64 {
    (2.0 / std::f64::consts::PI * probability * (1.0 - probability) / count).sqrt()
}

/// A calibration curve as a picture: what was said against how often it was right, a dot for each tenth, as large as the
/// share of searches in it.
pub fn picture(curves: &[(&str, &str, Vec<&Trial>)]) -> String {
    let (size, edge) = (320.0, 40.0);
    let x = |share: f64| edge + share * size;
    let y = |share: f64| edge + (1.0 - share) * size;
    let mut lines = vec![
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" font-family=\"sans-serif\" font-size=\"12\">",
            size + 2.0 * edge,
            size + 2.5 * edge
        ),
        format!(
            "<rect x=\"{edge}\" y=\"{edge}\" width=\"{size}\" height=\"{size}\" fill=\"none\" stroke=\"#888\"/>"
        ),
        format!(
            "<path d=\"M{} {} L{} {}\" stroke=\"#888\" stroke-dasharray=\"4 4\"/>",
            x(0.0),
            y(0.0),
            x(1.0),
            y(1.0)
        ),
        format!("<text x=\"{}\" y=\"{}\">probability of what leads</text>", x(0.3), y(0.0) + 30.0),
        format!("<text x=\"{}\" y=\"{}\">right</text>", x(0.0), y(1.0) - 8.0),
    ];
    for (place, (name, color, trials)) in curves.iter().enumerate() {
        let all = trials.len().max(1) as f64;
        for (jobs, said, right, _) in Figures::of(trials).reliability.iter().filter(|(jobs, ..)| *jobs > 0) {
            let radius = 2.0 + 20.0 * (*jobs as f64 / all).sqrt();
            lines.push(format!(
                "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"{radius:.1}\" fill=\"{color}\" fill-opacity=\"0.5\"/>",
                x(*said),
                y(*right)
            ));
        }
        let row = y(0.0) + 48.0;
        lines.push(format!(
            "<text x=\"{}\" y=\"{row}\" fill=\"{color}\">{name}</text>",
            x(0.5 * place as f64)
        ));
    }
    lines.push("</svg>\n".to_owned());
    lines.join("\n")
}

/// One line of what matters while the engine is being changed.
pub fn line(name: &str, trials: &[&Trial]) {
    let (figures, calibration) = (Figures::of(trials), Calibration::of(trials));
    println!(
        "{name:<28} {:>6} jobs  top-1 {:.3}  ece {:.4} (by chance {:.4}, debiased {:.4})  top gap {:+.4}  brier {:.4}  log-loss {:.4}  minutes {:.2}  module calls {} wrong {}  needless {:.3}  update p95 {:.1} ms",
        figures.jobs,
        figures.top_1,
        calibration.expected_error,
        calibration.by_chance,
        calibration.debiased,
        calibration.top_gap,
        figures.brier,
        figures.log_loss,
        figures.minutes,
        figures.module_calls,
        figures.wrong_module_calls,
        figures.not_proven_share(),
        figures.update_ms_p95,
    );
}

#[cfg(test)]
mod tests {
    use super::by_chance;

    /// 100 searches at one half: √(2/π · 0.25 / 100) = 0.0399 by hand; the exact mean of |k/100 − 1/2| for a fair coin is
    /// C(100, 50) / 2^101 = 0.0398 (de Moivre).
    #[test]
    fn chance_alone_gives_this_much() {
        assert!((by_chance(100.0, 0.5) - 0.0398).abs() < 2e-4);
    }
}
