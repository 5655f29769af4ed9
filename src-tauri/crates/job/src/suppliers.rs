//! What stands between the shop and each of its suppliers in one job: quoted, agreed, billed, paid, and what is to come back.

mod others;

use crate::Job;
use crate::event::{Event, SupplierStep};
use evidence::Digest;
use money::ledger::CostKind;
use money::{Cents, MoneyError};
use std::collections::BTreeMap;

pub use others::{OfOthers, loose_papers, meant, of_others};

/// One line of a supplier's account.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SupplierLine {
    /// The record it stands in.
    pub record: Digest,
    /// Day, `YYYY-MM-DD`.
    pub day: String,
    /// What happened.
    pub step: SupplierStep,
    /// What it is for.
    pub what: CostKind,
    /// In words.
    pub description: String,
    /// How much.
    pub amount: Cents,
    /// Day until which a return is taken or its credit is due; empty where nobody said.
    pub due: String,
    /// Number of the paper.
    pub reference: String,
    /// Who of the supplier said so.
    pub by: String,
}

/// Sums of one supplier in one job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SupplierAccount {
    /// The business.
    pub supplier: String,
    /// Lines in the order of their records.
    pub lines: Vec<SupplierLine>,
    /// Sum of the agreements, and of the quotes for what nothing was agreed on.
    pub expected: Cents,
    /// Sum of the bills.
    pub billed: Cents,
    /// Sum of the credits.
    pub credited: Cents,
    /// Sum of the payments.
    pub paid: Cents,
    /// Billed beyond what was expected; below zero when less was billed. Zero while either is missing.
    pub over_expected: Cents,
    /// Billed less credited and paid: what the shop owes, below zero what it is owed.
    pub owed: Cents,
    /// Returns whose credit hasn't come: returned less credited, never below zero.
    pub to_come_back: Cents,
}

/// Every supplier of a job, in the order in which they first appear. Names that differ in capitals or spaces alone are one.
///
/// # Errors
/// [`MoneyError::TooLarge`].
pub fn accounts(job: &Job) -> Result<Vec<SupplierAccount>, MoneyError> {
    let mut accounts: Vec<SupplierAccount> = Vec::new();
    for (supplier, line) in lines(job) {
        let known = accounts.iter().position(|account| same(&account.supplier, &supplier));
        let place = known.unwrap_or_else(|| {
            accounts.push(SupplierAccount { supplier, ..SupplierAccount::default() });
            accounts.len().saturating_sub(1)
        });
        if let Some(account) = accounts.get_mut(place) {
            account.lines.push(line);
        }
    }
    accounts.iter_mut().try_for_each(SupplierAccount::add_up)?;
    Ok(accounts)
}

impl SupplierAccount {
    fn add_up(&mut self) -> Result<(), MoneyError> {
        let sum = |step: SupplierStep| {
            Cents::sum(self.lines.iter().filter(|line| line.step == step).map(|line| line.amount))
        };
        let returned = sum(SupplierStep::Returned)?;
        self.billed = sum(SupplierStep::Billed)?;
        self.credited = sum(SupplierStep::Credited)?;
        self.paid = sum(SupplierStep::Paid)?;
        self.owed = self.billed.minus(self.credited)?.minus(self.paid)?;
        self.to_come_back = returned.minus(self.credited)?.max(Cents::ZERO);
        let (mut expected, mut over) = (Cents::ZERO, Cents::ZERO);
        for (promised, billed) in self.promises()?.into_values() {
            expected = expected.plus(promised)?;
            if billed != Cents::ZERO && promised != Cents::ZERO {
                over = over.plus(billed.minus(promised)?)?;
            }
        }
        (self.expected, self.over_expected) = (expected, over);
        Ok(())
    }

    /// By what it is for: what was promised (agreed, else quoted: the last word counts), and what was billed for it.
    fn promises(&self) -> Result<BTreeMap<CostKind, (Cents, Cents)>, MoneyError> {
        let mut sums: BTreeMap<CostKind, (Cents, Cents)> = BTreeMap::new();
        for line in &self.lines {
            let entry = sums.entry(line.what).or_default();
            match line.step {
                SupplierStep::Quoted | SupplierStep::Agreed => entry.0 = line.amount,
                SupplierStep::Billed => entry.1 = entry.1.plus(line.amount)?,
                _ => {}
            }
        }
        Ok(sums)
    }
}

/// Every step with its supplier: those that were entered as such, parts by their receipts, programming by quote and bill.
fn lines(job: &Job) -> Vec<(String, SupplierLine)> {
    let mut lines = Vec::new();
    for record in job.timeline.iter().filter(|record| record.vouched) {
        let blank = SupplierLine {
            record: record.record,
            day: record.wall.get(..10).unwrap_or_default().to_owned(),
            step: SupplierStep::Billed,
            what: CostKind::Part,
            description: String::new(),
            amount: Cents::ZERO,
            due: String::new(),
            reference: String::new(),
            by: String::new(),
        };
        match &record.event {
            Some(Event::SupplierStepKept(e)) => {
                let (day, due, by) = (e.day.clone(), e.due.clone(), e.by.clone());
                let (description, reference) = (e.description.clone(), e.reference.clone());
                let line = SupplierLine {
                    step: e.step,
                    what: e.what,
                    amount: e.amount,
                    day,
                    due,
                    by,
                    description,
                    reference,
                    ..blank
                };
                lines.push((e.supplier.clone(), line));
            }
            Some(Event::PartReceived(e)) => {
                let (description, reference) = (e.description.clone(), e.part_number.clone());
                let part = SupplierLine { description, reference, amount: e.price, ..blank };
                let core = SupplierLine { what: CostKind::Core, amount: e.core_charge, ..part.clone() };
                lines.push((e.supplier.clone(), part));
                if e.core_charge != Cents::ZERO {
                    lines.push((e.supplier.clone(), core));
                }
            }
            Some(Event::ProgrammingDecided(e)) if !e.provider.is_empty() => {
                let line = SupplierLine {
                    step: SupplierStep::Quoted,
                    what: CostKind::Programming,
                    amount: e.quoted,
                    ..blank
                };
                lines.push((e.provider.clone(), line));
            }
            Some(Event::ProgrammingReported(e)) => {
                let provider = job.programmed_by(record);
                if !provider.is_empty() {
                    lines.push((
                        provider,
                        SupplierLine { what: CostKind::Programming, amount: e.billed, ..blank },
                    ));
                }
            }
            _ => {}
        }
    }
    lines
}

fn same(left: &str, right: &str) -> bool {
    let words = |text: &str| text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
    words(left) == words(right)
}
