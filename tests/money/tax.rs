//! Sales tax against R.I. Gen. Laws: the rounding rule of 44-18.1-25 worked by hand, and the printed
//! bracket tables of 44-18-19 (both texts read on the legislature's site), cent by cent.

use money::{Cents, TaxRate, tax_in, tax_on};

fn tax(amount: i64, rate: &str) -> i64 {
    tax_on(Cents(amount), rate.parse::<TaxRate>().unwrap()).unwrap().0
}

/// The last cent of each bracket; the tax rises by one cent after it.
fn follows_brackets(rate: &str, last_of_bracket: &[i64]) {
    let mut amount = 1;
    for (due, last) in (0_i64..).zip(last_of_bracket) {
        while amount <= *last {
            assert_eq!(tax(amount, rate), due, "{rate} % of {amount} cents");
            amount += 1;
        }
    }
}

/// R.I. Gen. Laws 44-18-19, table for six per cent.
#[test]
fn six_per_cent_follows_the_printed_table() {
    follows_brackets("6", &[8, 24, 41, 58, 74, 91, 108]);
}

/// R.I. Gen. Laws 44-18-19, table for seven per cent.
#[test]
fn seven_per_cent_follows_the_printed_table() {
    follows_brackets("7", &[7, 21, 35, 49, 64, 78, 92, 107]);
}

/// Worked by hand from 44-18.1-25(A): carry to the third decimal, then up if that digit is over four.
#[test]
fn the_third_decimal_decides() {
    for (amount, rate, due, because) in [
        (120, "7", 8, "0.084: the third digit is four"),
        (65, "7", 5, "0.0455: the third digit is five"),
        (62, "7.25", 4, "0.04495 carries to 0.044; rounding it to 0.045 first would give five cents"),
        (12_999, "8.875", 1_154, "11.5366...: the third digit is six"),
        (10_000, "7.25", 725, "no third digit"),
        (0, "7.25", 0, "nothing"),
        (12_999, "0", 0, "no tax"),
    ] {
        assert_eq!(tax(amount, rate), due, "{because}");
        assert_eq!(tax(-amount, rate), -due, "a credit takes back what was charged");
    }
}

/// HM Revenue and Customs, "Calculating VAT for VAT-inclusive and VAT-exclusive prices": 100 and 20 % are 120, 100 and 5 %
/// are 105; the VAT fraction of 20 % is 1/6, of 5 % 1/21, of 17.5 % 7/47.
#[test]
fn tax_inside_a_price_is_the_published_fraction_of_it() {
    let inside = |paid: i64, rate: &str| tax_in(Cents(paid), rate.parse().unwrap()).unwrap().0;
    assert_eq!((inside(12_000, "20"), inside(10_500, "5"), inside(11_750, "17.5")), (2_000, 500, 1_750));
    for paid in (0..20_000).step_by(7) {
        for (rate, over, under) in [("20", 1, 6), ("5", 1, 21), ("17.5", 7, 47)] {
            // Half a cent and more goes up: twice the fraction of the price, plus one half, cut.
            assert_eq!(inside(paid, rate), (2 * paid * over + under) / (2 * under), "{rate} % in {paid}");
            assert_eq!(inside(-paid, rate), -inside(paid, rate), "what is credited takes back its tax");
        }
        assert_eq!(inside(paid, "0"), 0);
    }
}
