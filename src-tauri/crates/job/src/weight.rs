//! How much one reading says, in words.

/// How much a reading says for or against a cause: bands of the factor by which it changed the odds. Edges 3, 20 and
/// 150: Kass and Raftery, "Bayes Factors", J. Am. Stat. Assoc. 90 (1995), p. 777.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Under 3 times: not worth more than a bare mention.
    Little,
    /// 3 to 20 times.
    Something,
    /// 20 to 150 times.
    Much,
    /// Over 150 times.
    VeryMuch,
}

impl Weight {
    /// The band of a change of the natural logarithm of the odds; its sign doesn't matter.
    pub fn of(log_odds: f64) -> Weight {
        match log_odds.abs().exp() {
            times if times > 150.0 => Weight::VeryMuch,
            times if times > 20.0 => Weight::Much,
            times if times >= 3.0 => Weight::Something,
            _ => Weight::Little,
        }
    }

    /// Code for the words.
    pub fn code(self) -> &'static str {
        match self {
            Weight::Little => "little",
            Weight::Something => "something",
            Weight::Much => "much",
            Weight::VeryMuch => "very_much",
        }
    }
}
