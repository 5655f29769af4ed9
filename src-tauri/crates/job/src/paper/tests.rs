use super::*;
use crate::rules::{DateOrder, SignPlace};
use proptest::prelude::*;

fn united_states() -> Locale {
    Locale { sign: "$".into(), date_order: DateOrder::MonthDayYear, ..Locale::default() }
}

fn spain() -> Locale {
    let (decimal, group, sign_place) = (',', '.', SignPlace::After);
    Locale {
        sign: "€".into(),
        decimal,
        group,
        sign_place,
        date_order: DateOrder::DayMonthYear,
        ..Locale::default()
    }
}

fn rows(text: &str) -> Vec<PaperRow> {
    let row = |text: &str| PaperRow { text: text.trim().to_owned(), probability: 0.99 };
    text.lines().map(row).filter(|row| !row.text.is_empty()).collect()
}

fn read(text: &str, home: &Locale) -> PaperProposal {
    proposal(&rows(text), home, &[])
}

const INVOICE: &str = "
    Copper Hollow Parts Co.
    14 Foundry Lane, Millbrook
    Tel: 555-0114
    INVOICE  No. CH-20418
    Date: 03/07/2026  Due: 04/06/2026
    Part No.  Description  Qty  Price  Amount
    KD-4471-B  Fan relay 12 V  2  18.40  36.80
    88201  Cooling fan motor  1  142.50  142.50
    Core charge motor  1  45.00  45.00
    Subtotal  224.30
    Sales tax 6.25 %  14.02
    TOTAL  $238.32
    Card  238.32";

const FACTURA: &str = "
    Recambios Valdeolmo, S.L.
    C/ Molino 8, Peñarroble
    NIF B00000000
    Factura n.º: 2026/0817   Fecha: 07/03/2026
    Cant.  Descripción  Precio  Importe
    1  Alternador reconstruido  1.180,00  1.180,00 €
    1  Depósito por casco  60,00  60,00 €
    Base imponible  1.240,00 €
    IVA 21 %  260,40 €
    Total factura  1.500,40 €";

#[test]
fn an_invoice_with_tax_on_top_is_read_whole() {
    let seen = read(INVOICE, &united_states());
    assert_eq!(seen.supplier, "Copper Hollow Parts Co.");
    assert_eq!((seen.day.as_str(), seen.number.as_str()), ("2026-03-07", "CH-20418"));
    let line = |description: &str, part_number: &str, quantity: &str, cents, is_core| PaperItem {
        description: description.into(),
        part_number: part_number.into(),
        quantity: quantity.into(),
        amount: Cents(cents),
        is_core,
    };
    assert_eq!(
        seen.lines,
        [
            line("Fan relay 12 V", "KD-4471-B", "2", 3680, false),
            line("Cooling fan motor", "88201", "1", 14250, false),
            line("Core charge motor", "", "1", 4500, true),
        ]
    );
    assert_eq!((seen.core, seen.tax, seen.total), (Some(Cents(4500)), Some(Cents(1402)), Some(Cents(23832))));
    assert_eq!((seen.tax_inside, seen.doubts), (false, vec![]));
}

#[test]
fn a_spanish_invoice_is_read_by_the_marks_and_the_order_of_spain() {
    let seen = read(FACTURA, &spain());
    assert_eq!(seen.supplier, "Recambios Valdeolmo, S.L.");
    assert_eq!((seen.day.as_str(), seen.number.as_str()), ("2026-03-07", "2026/0817"));
    assert_eq!(
        (seen.core, seen.tax, seen.total),
        (Some(Cents(6000)), Some(Cents(26040)), Some(Cents(150_040)))
    );
    assert_eq!(seen.lines.len(), 2);
    assert_eq!(seen.doubts, []);
}

#[test]
fn a_tax_inside_the_prices_is_not_added_again() {
    let text = "Brook & Daughter Motor Factors\nReceipt 00482\n12 Jan 2026\nWiper relay  9.60\nFuse kit  2.40
        Total  £12.00\nVAT incl. 20 %  2.00\nCash  20.00\nChange  8.00";
    let seen = read(text, &Locale { sign: "£".into(), ..spain() });
    assert_eq!((seen.total, seen.tax, seen.tax_inside), (Some(Cents(1200)), Some(Cents(200)), true));
    assert_eq!((seen.day.as_str(), seen.number.as_str(), seen.doubts.len()), ("2026-01-12", "00482", 0));
}

#[test]
fn a_total_that_the_lines_contradict_is_said_with_its_doubt() {
    let misread = INVOICE.replace("36.80", "86.80");
    let seen = read(&misread, &united_states());
    assert_eq!((seen.total, seen.doubts), (Some(Cents(23832)), vec![PaperDoubt::SumsDiffer]));
    assert_eq!(seen.adds_up_to, Some(Cents(28832)));
    let alone = read("Copper Hollow Parts Co.\nTOTAL  $238.32", &united_states());
    assert_eq!((alone.total, alone.doubts), (Some(Cents(23832)), vec![PaperDoubt::NoLines]));
    let none = read(&INVOICE.replace("TOTAL  $238.32", ""), &united_states());
    assert_eq!((none.total, none.doubts), (None, vec![]), "a total that isn't read isn't reckoned");
}

#[test]
fn of_two_totals_the_one_that_the_lines_come_to() {
    let text =
        "Tarn Electric\nQuote Q-118\nHarness repair  80.00\nTotal  80.00\nTotal due by 04/30/2026  40.00";
    let seen = read(text, &united_states());
    assert_eq!((seen.total, seen.doubts), (Some(Cents(8000)), vec![]));
}

#[test]
fn words_above_an_amount_belong_to_it_and_misread_letters_are_forgiven() {
    let text = "Tarn Electric\nBlower resistor pack\n2 x  14.25  28. 50\nT0TAL  28.50";
    let seen = read(text, &united_states());
    let [line] = seen.lines.as_slice() else { panic!("{:?}", seen.lines) };
    assert_eq!((line.description.as_str(), line.quantity.as_str()), ("Blower resistor pack", "2"));
    assert_eq!((seen.total, seen.doubts), (Some(Cents(2850)), vec![]));
}

#[test]
fn a_row_below_a_line_says_its_number_or_how_many() {
    let text =
        "Tarn Electric\nFuse kit  65.88\nRB-6489-C  2 x 32.94\nGround strap  39.51\nKD-9535-B\nBulb  2.00
        Lamp  2.00\nTotal  109.39";
    let seen = read(text, &united_states());
    let line = |item: &PaperItem| (item.description.clone(), item.part_number.clone(), item.quantity.clone());
    let expected = [
        ("Fuse kit", "RB-6489-C", "2"),
        ("Ground strap", "KD-9535-B", ""),
        ("Bulb", "", ""),
        ("Lamp", "", ""),
    ];
    let expected = expected.map(|(a, b, c)| (a.to_owned(), b.to_owned(), c.to_owned()));
    assert_eq!(seen.lines.iter().map(line).collect::<Vec<_>>(), expected);
    assert_eq!(seen.doubts, []);
}

#[test]
fn a_known_supplier_is_recognized_anywhere() {
    let known = ["Copper Hollow".to_owned(), "COPPER HOLLOW PARTS CO".to_owned()];
    assert_eq!(proposal(&rows(INVOICE), &united_states(), &known).supplier, "COPPER HOLLOW PARTS CO");
}

#[test]
fn dates_in_each_order() {
    for (text, order, day) in [
        ("03/07/2026", DateOrder::MonthDayYear, "2026-03-07"),
        ("03/07/2026", DateOrder::DayMonthYear, "2026-07-03"),
        ("25/07/2026", DateOrder::MonthDayYear, "2026-07-25"),
        ("07-25-26", DateOrder::DayMonthYear, "2026-07-25"),
        ("25.07.2026", DateOrder::YearMonthDay, "2026-07-25"),
        ("2026-07-25", DateOrder::MonthDayYear, "2026-07-25"),
        ("July 25, 2026", DateOrder::DayMonthYear, "2026-07-25"),
        ("25 de julio de 2026", DateOrder::DayMonthYear, "2026-07-25"),
        ("31/02/2026", DateOrder::DayMonthYear, ""),
        ("555-01-14", DateOrder::DayMonthYear, ""),
        ("Due: 25/07/2026", DateOrder::DayMonthYear, ""),
    ] {
        assert_eq!(dates::day(&rows(text), order), day, "{text} {order:?}");
    }
}

#[test]
fn amounts_at_the_end_of_a_row() {
    let home = united_states();
    for (text, cents) in [
        ("Relay 24.90", Some(2490)),
        ("Relay $24.90", Some(2490)),
        ("Relay 1,024.90 T", Some(102_490)),
        ("Discount -5.00", Some(-500)),
        ("Discount 5.00-", Some(-500)),
        ("Discount (5.00)", Some(-500)),
        ("Tax 6.25 %", None),
        ("14:05", None),
        ("03.07.26", None),
        ("KD-44.71", None),
        ("Fuse 15", None),
    ] {
        assert_eq!(says::last_amount(text, home.marks()).map(|(_, amount)| amount.0), cents, "{text}");
    }
}

proptest! {
    /// Whatever rows are read: a total without a doubt is what the lines come to, and it stood on the paper.
    #[test]
    fn no_total_that_its_own_lines_contradict_goes_unsaid(
        lines in proptest::collection::vec((0_u32..4, 1_i64..99_999), 0..9),
        misread in proptest::option::of(1_i64..500),
    ) {
        let sum: i64 = lines.iter().filter(|(sort, _)| *sort != 1).map(|(_, cents)| cents).sum();
        let total = sum + misread.unwrap_or(0);
        let written = |cents: i64| format!("{}.{:02}", cents / 100, cents % 100);
        let mut text = String::from("Tarn Electric\n");
        for (sort, cents) in &lines {
            let what = ["Relay", "Subtotal", "Sales tax", "Core charge"][*sort as usize];
            text.push_str(&format!("{what}  {}\n", written(*cents)));
        }
        text.push_str(&format!("Total  {}", written(total)));
        let seen = read(&text, &united_states());
        prop_assert_eq!(seen.total, Some(Cents(total)));
        let goods: i64 = seen.lines.iter().map(|line| line.amount.0).sum();
        let on_top = goods + seen.tax.map_or(0, |tax| tax.0);
        let fits = !seen.lines.is_empty() && (on_top == total || goods == total);
        prop_assert_eq!(seen.doubts.is_empty(), fits);
        if misread.is_none() && !seen.lines.is_empty() {
            prop_assert!(seen.doubts.is_empty());
        }
    }

    /// Texts that no paper has: nothing panics, and a total is one that was written.
    #[test]
    fn any_text_is_taken(text in "[ -~áéñ€£\n]{0,400}") {
        let seen = read(&text, &spain());
        prop_assert!(seen.doubts.is_empty() || seen.total.is_some());
    }
}
