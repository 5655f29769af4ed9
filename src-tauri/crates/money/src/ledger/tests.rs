use super::*;
use crate::line::{Line, LineKind, Subtotal};
use crate::quantity::Quantity;
use crate::tax::TaxBasis;
use crate::totals::{Totals, totals};
use proptest::prelude::*;

fn day(movements: Vec<Movement>) -> Posting {
    Posting { day: "2026-11-28".into(), reference: "7".into(), description: "Invoice".into(), movements }
}

fn sold(parts: i64, labor: i64, discount: i64) -> Totals {
    let lines = [
        Line {
            taxed: true,
            condition: Some(crate::line::Condition::New),
            ..Line::new(LineKind::Part, "Relay", Quantity::ONE, Cents(parts))
        },
        Line::new(LineKind::Labor, "Fit", Quantity::ONE, Cents(labor)),
        Line::new(LineKind::Discount, "Regular customer", Quantity::ONE, Cents(-discount)),
    ];
    totals(&lines, "8.875".parse().unwrap(), TaxBasis::Invoice).unwrap()
}

#[test]
fn an_invoice_paid_and_partly_credited() {
    let mut movements = invoice(&sold(10_000, 5_000, 1_000)).unwrap();
    // 100.00 taxed at 8.875 % is 8.875, third decimal over four: 8.88.
    movements.extend(payment(Means::Card, Cents(14_888)).unwrap());
    movements.extend(credit(&sold(10_000, 0, 0)).unwrap());
    movements.extend(refund(Means::Check, Cents(10_888)).unwrap());
    let balances = balances(&movements).unwrap();
    assert_eq!(balances[&Account::Customers], Cents::ZERO);
    assert_eq!(balances[&Account::Sales(Subtotal::Parts)], Cents::ZERO);
    assert_eq!(balances[&Account::Sales(Subtotal::Labor)], Cents(-5_000));
    assert_eq!(balances[&Account::Sales(Subtotal::Other)], Cents(1_000));
    assert_eq!(balances[&Account::SalesTax], Cents::ZERO);
    assert_eq!(balances[&Account::Funds(Means::Card)], Cents(14_888));
    assert_eq!(balances[&Account::Funds(Means::Check)], Cents(-10_888));
}

#[test]
fn a_core_is_owed_back_by_its_supplier() {
    let mut movements = bill("Quayside", CostKind::Part, Cents(30_000)).unwrap();
    movements.extend(bill("Quayside", CostKind::Core, Cents(6_000)).unwrap());
    movements.extend(supplier_paid("Quayside", Means::Card, Cents(36_000)).unwrap());
    movements.extend(supplier_credit("Quayside", CostKind::Core, Cents(6_000)).unwrap());
    let balances = balances(&movements).unwrap();
    assert_eq!(balances[&Account::CoreDeposits], Cents::ZERO);
    assert_eq!(balances[&Account::Costs(CostKind::Part)], Cents(30_000));
    assert_eq!(balances[&Account::Supplier("Quayside".into())], Cents(6_000), "Quayside owes the shop");
}

#[test]
fn nothing_of_a_name_reads_as_something_else_in_a_journal() {
    let account = Account::Supplier("(Ö:l)  & \n; Söhne | ☕".into());
    assert_eq!(account.name(), "liabilities:suppliers:Ö l & Söhne");
    assert_eq!(Account::Supplier(" ; ".into()).name(), "liabilities:suppliers:unnamed");
    let mut posting = day(payment(Means::Cash, Cents(5)).unwrap());
    posting.description = "paid\n; in  (cash)".into();
    posting.reference = "a)b".into();
    assert_eq!(
        journal::text(&[posting], "USD"),
        "decimal-mark .\n\n2026-11-28 * (a b) paid in (cash)\n    assets:funds:cash  USD 0.05\n    assets:customers  USD -0.05\n"
    );
}

proptest! {
    /// Whatever happens: the sum over all accounts is zero, and the customers' account is what an adding machine says.
    #[test]
    fn sums_are_always_zero(happened in prop::collection::vec((0..7u8, 0..=1_000_000_000i64, 0..=1_000_000_000i64), 0..40)) {
        let mut movements = Vec::new();
        let mut owed = 0i128;
        for (what, amount, other) in happened {
            let cents = Cents(amount);
            let totals = sold(amount, other, amount.min(other));
            movements.extend(match what {
                0 => { owed += i128::from(totals.total.0); invoice(&totals) }
                1 => { owed -= i128::from(totals.total.0); credit(&totals) }
                2 => { owed -= i128::from(amount); payment(Means::Cash, cents) }
                3 => { owed += i128::from(amount); refund(Means::Transfer, cents) }
                4 => bill("Quayside", CostKind::Core, cents),
                5 => supplier_paid("Quayside", Means::Check, cents),
                _ => supplier_credit("Harbor Lane", CostKind::Sublet, cents),
            }.unwrap());
        }
        let balances = balances(&movements).unwrap();
        prop_assert_eq!(balances.values().map(|sum| i128::from(sum.0)).sum::<i128>(), 0);
        let customers = balances.get(&Account::Customers).map_or(0, |sum| i128::from(sum.0));
        prop_assert_eq!(customers, owed);
        prop_assert!(movements.iter().all(|movement| movement.amount > Cents::ZERO));
    }
}
