//! Properties every bill must have, on random lines.

use money::{Cents, Condition, Line, LineKind, Quantity, TaxBasis, TaxRate, tax_on, totals};
use proptest::prelude::*;

const KINDS: [LineKind; 10] = [
    LineKind::Diagnosis,
    LineKind::Labour,
    LineKind::Programming,
    LineKind::Part,
    LineKind::CoreCharge,
    LineKind::CoreCredit,
    LineKind::Sublet,
    LineKind::Supplies,
    LineKind::Fee,
    LineKind::Discount,
];

fn line() -> impl Strategy<Value = Line> {
    (prop::sample::select(KINDS.to_vec()), 0_u32..50_000, 0_i64..500_000, any::<bool>()).prop_map(
        |(kind, thousandths, price, taxed)| {
            let price = if kind.is_deduction() { -price } else { price };
            let quantity = Quantity::from_thousandths(thousandths);
            Line {
                taxed,
                condition: Some(Condition::New),
                provider: Some("Harbor Lane Motors".into()),
                ..Line::new(kind, "work", quantity, Cents(price))
            }
        },
    )
}

/// Half away from zero, computed another way: through the decimal text of the exact product.
fn half_away_by_text(exact: i128, power: usize) -> i128 {
    let digits = format!("{:0>width$}", exact.unsigned_abs(), width = power + 1);
    let (whole, rest) = digits.split_at(digits.len() - power);
    let up = i128::from(rest.starts_with(['5', '6', '7', '8', '9']));
    (whole.parse::<i128>().unwrap() + up) * exact.signum()
}

proptest! {
    #[test]
    fn subtotals_and_tax_make_the_total(
        lines in prop::collection::vec(line(), 0..12),
        rate in 0_u32..=15_000,
        by_line: bool,
    ) {
        let rate = TaxRate::from_parts(rate).unwrap();
        let basis = if by_line { TaxBasis::Line } else { TaxBasis::Invoice };
        let sum = totals(&lines, rate, basis).unwrap();
        prop_assert_eq!(sum.parts.0 + sum.labour.0 + sum.sublet.0 + sum.other.0 + sum.tax.0, sum.total.0);
        let amounts: i64 = lines.iter().map(|l| l.amount().unwrap().0).sum();
        prop_assert_eq!(amounts + sum.tax.0, sum.total.0);
        let taxed: i64 = lines.iter().filter(|l| l.taxed).map(|l| l.amount().unwrap().0).sum();
        prop_assert_eq!(taxed, sum.taxable.0);

        let mut reversed = lines.clone();
        reversed.reverse();
        prop_assert_eq!(totals(&reversed, rate, basis).unwrap(), sum);

        // Each rounding is off by at most half a cent, so the two bases differ by at most that per line.
        let other = if by_line { TaxBasis::Invoice } else { TaxBasis::Line };
        let difference = (totals(&lines, rate, other).unwrap().tax.0 - sum.tax.0).unsigned_abs() as usize;
        prop_assert!(2 * difference <= lines.len() + 1, "{} cents apart over {} lines", difference, lines.len());
    }

    #[test]
    fn rounding_agrees_with_the_decimal_text(price in -900_000_i64..900_000, thousandths in 0_u32..90_000) {
        let expected = half_away_by_text(i128::from(price) * i128::from(thousandths), 3);
        let got = Cents(price).times(Quantity::from_thousandths(thousandths)).unwrap();
        prop_assert_eq!(i128::from(got.0), expected);
    }

    #[test]
    fn tax_agrees_with_the_decimal_text(amount in -90_000_000_i64..90_000_000, rate in 0_u32..=100_000) {
        let expected = half_away_by_text(i128::from(amount) * i128::from(rate), 5);
        let got = tax_on(Cents(amount), TaxRate::from_parts(rate).unwrap()).unwrap();
        prop_assert_eq!(i128::from(got.0), expected);
    }

    #[test]
    fn what_is_shown_reads_back(minor in -Cents::MOST.0..=Cents::MOST.0) {
        let cents = Cents(minor);
        prop_assert_eq!(cents.to_string().parse::<Cents>().unwrap(), cents);
        prop_assert_eq!(cents.grouped('.', ',').parse::<Cents>().unwrap(), cents);
    }

    /// No text is one number in the price of a line and another one in its quantity or in a percentage.
    #[test]
    fn no_text_means_two_numbers(text in "-?[0-9]{1,4}([.,][0-9]{1,4}){0,2}") {
        let amount = text.parse::<Cents>().ok().map(|cents| cents.0 * 10);
        let quantity = text.parse::<Quantity>().ok().map(|quantity| i64::from(quantity.thousandths()));
        let percent = text.parse::<TaxRate>().ok().map(|percent| i64::from(percent.parts()));
        let read: Vec<i64> = [amount, quantity, percent].into_iter().flatten().collect();
        prop_assert!(read.iter().all(|value| *value == read[0]), "{}: {:?}", text, read);
    }

    #[test]
    fn what_is_recorded_reads_back(thousandths: u32, parts in 0_u32..=100_000) {
        let quantity = Quantity::from_thousandths(thousandths);
        prop_assert_eq!(Quantity::try_from(String::from(quantity)).unwrap(), quantity);
        let percent = TaxRate::from_parts(parts).unwrap();
        prop_assert_eq!(TaxRate::try_from(String::from(percent)).unwrap(), percent);
    }

    #[test]
    fn no_text_breaks_the_reader(text in ".{0,24}") {
        let _ = text.parse::<Cents>();
        let _ = text.parse::<Quantity>();
        let _ = text.parse::<TaxRate>();
    }
}
