//! What is claimed, in one line, with the two sums as bars.

use crate::page::wording::Wording;
use job::suppliers::SupplierAccount;
use job::{Balance, Job};
use money::Cents;
use serde::Serialize;

/// The claim.
#[derive(Serialize)]
pub(crate) struct Claim {
    text: String,
    bars: Vec<Bar>,
    alt: String,
}

/// A sum as a bar; shares of the longest, 0 to 1.
#[derive(Serialize)]
struct Bar {
    name: String,
    agreed: f64,
    agreed_words: String,
    beyond: f64,
    beyond_words: String,
}

impl Claim {
    pub fn of(job: &Job, account: Option<&SupplierAccount>, wording: &Wording) -> Claim {
        let (agreed, billed, paid) = sums(job, account);
        let over = billed.minus(agreed).unwrap_or_default();
        let values = [
            ("agreed", wording.money(agreed)),
            ("billed", wording.money(billed)),
            ("paid", wording.money(paid)),
            ("over", wording.money(Cents(over.0.saturating_abs()))),
        ];
        let values: Vec<(&str, &str)> = values.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let nothing = account.is_some_and(|account| account.lines.is_empty());
        let key = match (account.is_some(), over.0 > 0, billed == Cents::ZERO) {
            (true, true, _) => "statement_claim_supplier_over",
            (true, false, true) => "statement_claim_supplier_no_bill",
            (true, false, false) => "statement_claim_supplier_within",
            (false, true, _) => "statement_claim_customer_over",
            (false, false, true) => "statement_claim_customer_no_bill",
            (false, false, false) => "statement_claim_customer_within",
        };
        Claim {
            text: wording.say(if nothing { "statement_claim_supplier_nothing" } else { key }, &values),
            bars: bars(agreed, billed, wording),
            alt: wording.say("statement_bars_alt", &values),
        }
    }
}

/// Agreed, billed less credited, paid less refunded.
pub(super) fn sums(job: &Job, account: Option<&SupplierAccount>) -> (Cents, Cents, Cents) {
    if let Some(account) = account {
        let billed = account.billed.minus(account.credited).unwrap_or_default();
        return (account.expected, billed, account.paid);
    }
    let balance = Balance::of(job).unwrap_or_default();
    let agreed = job.approval_in_force().map(|kept| kept.event.amount).unwrap_or_default();
    (agreed, balance.billed.minus(balance.credited).unwrap_or_default(), balance.held().unwrap_or_default())
}

fn bars(agreed: Cents, billed: Cents, wording: &Wording) -> Vec<Bar> {
    let longest = agreed.0.max(billed.0);
    if longest <= 0 {
        return Vec::new();
    }
    // Sums of money fit a double to the cent far beyond what a bar shows.
    #[allow(clippy::cast_precision_loss)]
    let share = |amount: i64| (amount as f64 / longest as f64).clamp(0.0, 1.0);
    let within = billed.0.min(agreed.0);
    let beyond = billed.0.saturating_sub(within);
    let said = |key: &str, amount: i64| wording.say(key, &[("amount", &wording.money(Cents(amount)))]);
    vec![
        Bar {
            name: wording.say("statement_agreed", &[]),
            agreed: share(agreed.0),
            agreed_words: wording.money(agreed),
            beyond: 0.0,
            beyond_words: String::new(),
        },
        Bar {
            name: wording.say("statement_billed", &[]),
            agreed: share(within),
            agreed_words: said("statement_bar_agreed", within),
            beyond: share(beyond),
            beyond_words: if beyond > 0 { said("statement_bar_beyond", beyond) } else { String::new() },
        },
    ]
}
