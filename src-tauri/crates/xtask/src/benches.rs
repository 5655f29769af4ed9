//! How long our work takes beside plain tools doing the same. Ratios are printed; nothing is asserted about time.
use std::time::Duration;

use clap::Args;

use crate::error::Error;

#[derive(Args)]
pub struct Bench {
    /// One JSON object, a ratio a key, for scripts.
    #[arg(long)]
    json: bool,
}

/// Two ways to the same end, each timed by running it once.
struct Pair {
    name: &'static str,
    ours: fn() -> Result<Duration, Error>,
    beside: fn() -> Result<Duration, Error>,
}

/// Odd, so that the median is a run that happened.
const RUNS: usize = 7;

const PAIRS: &[Pair] = &[];

impl Bench {
    pub fn go(self) -> Result<(), Error> {
        let ratios =
            PAIRS.iter().map(|pair| Ok((pair.name, ratio(pair)?))).collect::<Result<Vec<_>, Error>>()?;
        if self.json {
            let keys: Vec<String> =
                ratios.iter().map(|(name, ratio)| format!("\"{name}\":{ratio:.4}")).collect();
            println!("{{{}}}", keys.join(","));
        } else {
            ratios.iter().for_each(|(name, ratio)| println!("{name:<48} {ratio:>8.3}"));
        }
        Ok(())
    }
}

/// Our median time over theirs: below 1 we are faster.
fn ratio(pair: &Pair) -> Result<f64, Error> {
    Ok(median(pair.ours)?.as_secs_f64() / median(pair.beside)?.as_secs_f64())
}

fn median(run: fn() -> Result<Duration, Error>) -> Result<Duration, Error> {
    let mut times = (0..RUNS).map(|_| run()).collect::<Result<Vec<_>, _>>()?;
    times.sort_unstable();
    Ok(times.get(RUNS / 2).copied().unwrap_or_default())
}
