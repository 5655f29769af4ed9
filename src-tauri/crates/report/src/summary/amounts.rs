//! Approved, billed, paid, due; and who said yes.

use crate::page::approvals::given;
use crate::page::wording::Wording;
use job::event::PaymentWay;
use job::{Balance, Job};
use money::Cents;
use serde::Serialize;

/// One amount.
#[derive(Serialize)]
pub(crate) struct Cell {
    pub(crate) label: String,
    pub(crate) amount: String,
    pub(crate) note: String,
}

/// Four amounts, and the yes.
#[derive(Serialize)]
pub(crate) struct Amounts {
    pub(crate) cells: [Cell; 4],
    pub(crate) who: Option<String>,
}

impl Amounts {
    pub fn of(job: &Job, wording: &Wording) -> Amounts {
        let balance = Balance::of(job).unwrap_or_default();
        let approved = job.approval_in_force().map(|kept| kept.event.amount);
        let billed = balance.billed.minus(balance.credited).unwrap_or_default();
        let cell = |name: &str, amount: Cents, note: String| Cell {
            label: wording.say(&format!("summary_{name}"), &[]),
            amount: wording.money(amount),
            note,
        };
        let due = Cents(balance.due.0.saturating_abs());
        let owes = balance.due.0 < 0 && !job.invoices.is_empty();
        Amounts {
            cells: [
                cell("approved", approved.unwrap_or_default(), replaced(job, wording)),
                cell("billed", billed, against(job, approved, billed, wording)),
                cell("paid", balance.held().unwrap_or_default(), paid(job, wording)),
                cell(if owes { "owed_back" } else { "due" }, due_now(job, due), due_note(job, due, wording)),
            ],
            who: who(job, wording),
        }
    }
}

/// Before a bill nothing is due, whatever was paid in advance.
fn due_now(job: &Job, due: Cents) -> Cents {
    if job.invoices.is_empty() { Cents::ZERO } else { due }
}

fn due_note(job: &Job, due: Cents, wording: &Wording) -> String {
    let nothing = due == Cents::ZERO || job.invoices.is_empty();
    if nothing { wording.say("summary_nothing_due", &[]) } else { String::new() }
}

/// "replaces the first $125.00": an approval takes the place of those before it.
fn replaced(job: &Job, wording: &Wording) -> String {
    let Some(force) = job.approval_in_force() else { return wording.say("summary_no_yes", &[]) };
    let earlier = job.approvals.iter().take_while(|kept| kept.record != force.record);
    let earlier = earlier.filter(|kept| kept.event.approves() && !job.is_withdrawn(kept)).last();
    earlier.map_or_else(String::new, |kept| {
        wording.say("summary_replaces", &[("amount", &wording.money(kept.event.amount))])
    })
}

fn against(job: &Job, approved: Option<Cents>, billed: Cents, wording: &Wording) -> String {
    if job.invoices.is_empty() {
        return wording.say("summary_no_bill", &[]);
    }
    let over = approved.and_then(|approved| billed.minus(approved).ok());
    match over {
        Some(over) if over.0 > 0 => wording.say("summary_over", &[("amount", &wording.money(over))]),
        Some(_) => wording.say("summary_within", &[]),
        None => String::new(),
    }
}

fn paid(job: &Job, wording: &Wording) -> String {
    let last = job.payments.iter().rfind(|kept| kept.event.way == PaymentWay::Received);
    last.map_or_else(String::new, |kept| {
        let means = wording.code_of("means", &kept.event.means);
        let day = wording.local_day(&kept.event.day);
        wording.say("summary_paid_by", &[("means", &means), ("day", &day)])
    })
}

/// Who said yes, how, when, in which words.
fn who(job: &Job, wording: &Wording) -> Option<String> {
    let kept = job.approval_in_force()?;
    let event = &kept.event;
    let channel = wording.code_of("approval_channel", &event.channel);
    let when = wording.day_and_time(given(kept));
    let name =
        if event.name.trim().is_empty() { wording.say("none_withheld", &[]) } else { event.name.clone() };
    let values = [("name", name.as_str()), ("channel", &channel), ("when", &when)];
    // Spanish times end with a point of their own.
    let said = wording.say("summary_said_yes", &values).replace("..", ".");
    let words = wording.say_if("summary_quoted", "words", &event.words);
    Some([Some(said), words].into_iter().flatten().collect::<Vec<_>>().join(" "))
}
