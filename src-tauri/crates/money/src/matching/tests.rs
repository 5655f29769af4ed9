//! Every case is one that a stranger got past the total alone, or its lawful counterpart. The rule they come from: work,
//! part, condition and business are those that were approved (16 CCR 3354, 3356; Cal. Bus. & Prof. Code 9884.9).

use super::*;
use crate::line::{Condition, LineKind};
use crate::quantity::Quantity;

fn labor(words: &str, thousandths: u32, price: i64) -> Line {
    Line::new(LineKind::Labor, words, Quantity::from_thousandths(thousandths), Cents(price))
}

fn part(condition: Condition, number: &str, price: i64) -> Line {
    Line {
        condition: Some(condition),
        part_number: (!number.is_empty()).then(|| number.to_owned()),
        taxed: true,
        ..Line::new(LineKind::Part, "Starter relay", Quantity::ONE, Cents(price))
    }
}

fn sublet(provider: &str, price: i64) -> Line {
    Line {
        provider: Some(provider.to_owned()),
        ..Line::new(LineKind::Sublet, "Program the module", Quantity::ONE, Cents(price))
    }
}

fn estimate() -> Vec<Line> {
    vec![
        labor("Fit the relay", 1_500, 12_000),
        part(Condition::New, "R-100", 4_500),
        sublet("Harbor Lane Motors", 18_000),
    ]
}

fn found(
    estimate: &[Line],
    answers: &[LineAnswer],
    before: &[Line],
    bill: &[Line],
) -> Vec<(usize, Difference)> {
    let answered: Vec<_> = estimate
        .iter()
        .zip(answers.iter().chain(std::iter::repeat(&LineAnswer::Approved)))
        .map(|(line, answer)| AnsweredLine { line, answer: *answer })
        .collect();
    let before: Vec<&Line> = before.iter().collect();
    let seen = deviations(&answered, &before, &[], bill, &Lenience::default()).unwrap();
    seen.into_iter().map(|deviation| (deviation.line, deviation.difference)).collect()
}

#[test]
fn what_was_approved_and_less_may_be_billed() {
    let whole = estimate();
    assert_eq!(found(&whole, &[], &[], &whole), []);
    let less = [
        labor(" fit  THE relay ", 1_250, 11_000),
        part(Condition::New, "r-100", 4_500),
        Line::new(LineKind::Discount, "Regular customer", Quantity::ONE, Cents(-500)),
    ];
    assert_eq!(found(&whole, &[], &[], &less), []);
}

#[test]
fn each_difference_names_its_line() {
    let whole = estimate();
    let with = |place: usize, line: Line| {
        let mut bill = whole.clone();
        bill[place] = line;
        found(&whole, &[], &[], &bill)
    };
    assert_eq!(with(1, part(Condition::Used, "R-100", 4_500)), [(2, Difference::Condition)]);
    assert_eq!(with(1, part(Condition::New, "R-200", 4_500)), [(2, Difference::PartNumber)]);
    assert_eq!(with(1, part(Condition::New, "R-100", 4_501)), [(2, Difference::Price)]);
    assert_eq!(with(2, sublet("Quayside Electric", 18_000)), [(3, Difference::Provider)]);
    assert_eq!(with(0, labor("Fit the relay", 1_501, 12_000)), [(1, Difference::Quantity)]);
    assert_eq!(with(0, labor("Fit another relay", 1_000, 12_000)), [(1, Difference::NotEstimated)]);
    let taxed = Line { taxed: true, ..labor("Fit the relay", 1_500, 12_000) };
    assert_eq!(with(0, taxed), [(1, Difference::Taxed)]);
    let kind = Line::new(LineKind::Fee, "Fit the relay", Quantity::ONE, Cents(100));
    assert_eq!(with(0, kind), [(1, Difference::NotEstimated)]);
}

#[test]
fn money_doesnt_move_from_one_line_to_another() {
    let whole = estimate();
    let moved = [labor("Fit the relay", 1_500, 13_000), part(Condition::New, "R-100", 3_000)];
    assert_eq!(found(&whole, &[], &[], &moved), [(1, Difference::Price)]);
}

#[test]
fn declined_and_deferred_lines_are_not_billed() {
    let whole = estimate();
    let answers = [LineAnswer::Approved, LineAnswer::Declined, LineAnswer::Deferred];
    assert_eq!(found(&whole, &answers, &[], &whole), [(2, Difference::Declined), (3, Difference::Deferred)]);
}

#[test]
fn nothing_is_billed_twice() {
    let whole = estimate();
    let relay = &whole[1..2];
    assert_eq!(found(&whole, &[], relay, relay), [(1, Difference::BilledBefore)]);
    assert_eq!(found(&whole, &[], relay, &whole[..1]), []);
    assert_eq!(
        found(&whole, &[], &[], &[whole[1].clone(), whole[1].clone()]),
        [(2, Difference::BilledBefore)]
    );
    let answered: Vec<_> =
        whole.iter().map(|line| AnsweredLine { line, answer: LineAnswer::Approved }).collect();
    let credited = deviations(&answered, &[&whole[1]], &[&whole[1]], relay, &Lenience::default());
    assert_eq!(credited, Ok(vec![]), "what was credited may be billed again");
}

#[test]
fn of_two_lines_alike_each_is_billed_once() {
    let two = [part(Condition::New, "R-100", 4_500), part(Condition::New, "R-100", 4_000)];
    assert_eq!(found(&two, &[], &[], &two), []);
    assert_eq!(found(&two, &[], &[], &[two[1].clone(), two[0].clone()]), []);
    let both_dear = [two[0].clone(), two[0].clone()];
    assert_eq!(found(&two, &[], &[], &both_dear).len(), 1);
}

#[test]
fn a_number_unknown_at_first_may_be_filled_in() {
    let unknown = [part(Condition::New, "", 4_500)];
    assert_eq!(found(&unknown, &[], &[], &[part(Condition::New, "R-100", 4_500)]), []);
}

/// A margin on the total leaves amounts to the total; one by line holds each line to its own.
#[test]
fn margins_by_line_and_by_total() {
    let whole = [labor("Fit the relay", 1_000, 10_000)];
    let answered = [AnsweredLine { line: &whole[0], answer: LineAnswer::Approved }];
    let margin = MarginRule { margin_percent: Some("10".parse().unwrap()), ..MarginRule::default() };
    let seen = |price: i64, per_line: bool| {
        let bill = [labor("Fit the relay", 1_000, price)];
        deviations(&answered, &[], &[], &bill, &Lenience { margin, per_line, tax_included: false })
            .unwrap()
            .len()
    };
    assert_eq!((seen(11_000, true), seen(11_001, true)), (0, 1));
    assert_eq!(seen(20_000, false), 0);
}

/// What the customer pays for a line is the same, taxed or not, where the price has the tax in it.
#[test]
fn with_tax_in_the_price_a_switch_of_tax_costs_nobody_anything() {
    let whole = estimate();
    let answered: Vec<_> =
        whole.iter().map(|line| AnsweredLine { line, answer: LineAnswer::Approved }).collect();
    let bill = [Line { taxed: true, ..labor("Fit the relay", 1_500, 12_000) }];
    let inside = Lenience { tax_included: true, ..Lenience::default() };
    assert_eq!(deviations(&answered, &[], &[], &bill, &inside), Ok(vec![]));
    let dearer = [Line { taxed: true, ..labor("Fit the relay", 1_500, 12_001) }];
    let seen = deviations(&answered, &[], &[], &dearer, &inside).unwrap();
    assert_eq!(seen[0].difference, Difference::Price, "the price with its tax is what was approved");
}
