//! Random bills added up by Python's `decimal` (Python Software Foundation, library reference, "decimal"): another
//! implementation, in another arithmetic.

use money::{Cents, Condition, Line, LineKind, Quantity, TaxBasis, TaxRate, Taxation};
use std::io::Write;
use std::process::{Command, Stdio};

/// Chance that is the same in every run (Marsaglia's xorshift).
struct Chance(u64);

impl Chance {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % limit
    }
}

/// Rates with none, one, two and three decimals, and the ends.
const RATES: [u32; 8] = [0, 8_875, 7_250, 8_250, 6_000, 21_000, 33_333, 100_000];

fn bill(chance: &mut Chance) -> (Vec<Line>, Taxation) {
    let count = 1 + chance.below(12);
    let lines = (0..count).map(|_| {
        let deduction = chance.below(8) == 0;
        let kind = if deduction { LineKind::Discount } else { LineKind::Part };
        let price = i64::try_from(chance.below(500_000)).unwrap() * if deduction { -1 } else { 1 };
        let quantity = Quantity::from_thousandths(u32::try_from(chance.below(20_000)).unwrap());
        let taxed = chance.below(2) == 0;
        Line { taxed, condition: Some(Condition::New), ..Line::new(kind, "work", quantity, Cents(price)) }
    });
    let lines = lines.collect();
    let rate = RATES[usize::try_from(chance.below(8)).unwrap()];
    let basis = if chance.below(2) == 0 { TaxBasis::Invoice } else { TaxBasis::Line };
    let included = chance.below(3) == 0;
    (lines, Taxation { rate: TaxRate::from_parts(rate).unwrap(), basis, included })
}

/// 100,000 bills with TESTIMETER_FULL=1, else 5,000.
#[test]
fn python_decimal_agrees_to_the_cent() {
    let count = if std::env::var_os("TESTIMETER_FULL").is_some() { 100_000 } else { 5_000 };
    let mut chance = Chance(0x9E37_79B9_7F4A_7C15);
    let bills: Vec<_> = (0..count).map(|_| bill(&mut chance)).collect();
    let written = bills.iter().map(|(lines, taxation)| {
        let lines: Vec<_> =
            lines.iter().map(|line| (line.quantity.thousandths(), line.unit_price.0, line.taxed)).collect();
        let basis = serde_json::to_value(taxation.basis).unwrap();
        let basis = if taxation.included { "included".into() } else { basis };
        serde_json::to_string(&(taxation.rate.parts(), basis, lines)).unwrap() + "\n"
    });
    let asked: String = written.collect();
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/money/bills.py");
    let mut python = Command::new("python3");
    let mut child = python.arg(script).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let mut input = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || input.write_all(asked.as_bytes()));
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap().unwrap();
    assert!(output.status.success());
    let said = String::from_utf8(output.stdout).unwrap();
    let theirs: Vec<(i64, i64)> = said
        .lines()
        .map(|line| line.split_once(' ').unwrap())
        .map(|(tax, total)| (tax.parse().unwrap(), total.parse().unwrap()))
        .collect();
    assert_eq!(theirs.len(), bills.len());
    for ((lines, taxation), theirs) in bills.iter().zip(theirs) {
        let ours = taxation.totals(lines).unwrap();
        assert_eq!((ours.tax.0, ours.total.0), theirs, "{lines:?} {taxation:?}");
        let sums = [ours.parts, ours.labor, ours.sublet, ours.other, ours.tax];
        assert_eq!(Cents::sum(sums), Ok(ours.total), "{lines:?} {taxation:?}");
    }
}
