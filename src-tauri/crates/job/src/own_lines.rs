//! Lines that a shop writes again and again, from its own records.

use crate::Job;
use crate::event::Outcome;
use circuit::ComponentKind;
use money::Line;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// How many are offered beside those that were pinned: what fits a thumb's scroll (judgment).
const MOST: usize = 20;

/// A line as a job used it last.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LineUsed {
    /// Wall time of the record that holds it.
    pub wall: String,
    /// The line.
    pub line: Line,
}

/// A line that the shop has used before, or pinned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnLine {
    /// As it was used last, or as it was pinned.
    pub line: Line,
    /// The shop pinned it.
    pub pinned: bool,
    /// How many jobs used it.
    pub jobs: u32,
}

/// What a finding blames: what is bought, or mended where it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blamed {
    /// Its name in English.
    pub en: String,
    /// Its name in Spanish.
    pub es: String,
    /// A part that another one takes the place of; a wire or a connection is mended.
    pub is_part: bool,
}

impl LineUsed {
    /// Those of a job: its invoices' lines and those of the latest estimate, each kind with its words once, newest first.
    #[must_use]
    pub fn of(job: &Job) -> Vec<LineUsed> {
        let estimate = job.estimates.last().map(|kept| (&kept.wall, &kept.event.estimate.lines));
        let invoices = job.invoices.iter().map(|kept| (&kept.wall, &kept.event.invoice.lines));
        let mut papers: Vec<_> = estimate.into_iter().chain(invoices).collect();
        papers.sort_by(|a, b| b.0.cmp(a.0));
        let lines = papers.into_iter().flat_map(|(wall, lines)| lines.iter().map(move |line| (wall, line)));
        let mut used: Vec<LineUsed> = Vec::new();
        for (wall, line) in lines {
            if !used.iter().any(|known| same(&known.line, line)) {
                used.push(LineUsed { wall: wall.clone(), line: line.clone() });
            }
        }
        used
    }
}

/// The pinned ones in the order in which they were pinned, then those of the jobs, newest first.
#[must_use]
pub fn own_lines(pinned: &[Line], used: Vec<LineUsed>) -> Vec<OwnLine> {
    let mut newest: BTreeMap<(String, String), (LineUsed, u32)> = BTreeMap::new();
    for one in used {
        let known = newest.entry(key(&one.line)).or_insert_with(|| (one.clone(), 0));
        known.1 = known.1.saturating_add(1);
        if one.wall > known.0.wall {
            known.0 = one;
        }
    }
    let count = |line: &Line| newest.get(&key(line)).map_or(0, |(_, jobs)| *jobs);
    let first =
        pinned.iter().map(|line| OwnLine { line: line.clone(), pinned: true, jobs: count(line) }).collect();
    let mut others: Vec<&(LineUsed, u32)> =
        newest.values().filter(|(used, _)| !pinned.iter().any(|line| same(line, &used.line))).collect();
    others.sort_by(|a, b| b.0.wall.cmp(&a.0.wall));
    let others = others.into_iter().take(MOST);
    let others = others.map(|(used, jobs)| OwnLine { line: used.line.clone(), pinned: false, jobs: *jobs });
    [first, others.collect::<Vec<_>>()].concat()
}

/// Same kind, same words: capitals and spaces mean nothing.
#[must_use]
pub fn same(left: &Line, right: &Line) -> bool {
    key(left) == key(right)
}

fn key(line: &Line) -> (String, String) {
    let words = line.description.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
    (crate::code(&line.kind), words.join(" "))
}

impl Blamed {
    /// What the newest finding blames; nothing where it proves nothing, blames two at once or what the circuit doesn't hold.
    #[must_use]
    pub fn of(job: &Job) -> Option<Blamed> {
        let finding = &job.findings.last()?.event;
        let circuit = job.circuit_file().filter(|circuit| circuit.id == finding.circuit)?;
        let (id, _) = finding.cause.split_once('/')?;
        let module = circuit.modules.iter().find(|module| module.components.iter().any(|part| part == id));
        if let Some(module) = module.filter(|_| finding.outcome == Outcome::ModuleCalled) {
            return Some(Blamed { en: module.name.en.clone(), es: module.name.es.clone(), is_part: true });
        }
        let part = circuit.components.iter().find(|part| part.id == id)?;
        let mended = matches!(part.kind, ComponentKind::Wire { .. } | ComponentKind::Connection { .. });
        Some(Blamed { en: part.name.en.clone(), es: part.name.es.clone(), is_part: !mended })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use money::{Cents, LineKind, Quantity};

    fn used(wall: &str, words: &str, price: i64) -> LineUsed {
        let line = Line::new(LineKind::Labor, words, Quantity::ONE, Cents(price));
        LineUsed { wall: wall.into(), line }
    }

    #[test]
    fn the_newest_price_stands_and_what_is_pinned_comes_first() {
        let all = vec![
            used("2026-10-01", "Fit the relay", 9_000),
            used("2026-10-03", " fit  THE relay ", 9_500),
            used("2026-10-02", "Find the fault", 12_000),
        ];
        let shown = |lines: Vec<OwnLine>| -> Vec<(String, i64, bool, u32)> {
            let one = |own: OwnLine| (own.line.description, own.line.unit_price.0, own.pinned, own.jobs);
            lines.into_iter().map(one).collect()
        };
        assert_eq!(
            shown(own_lines(&[], all.clone())),
            [(" fit  THE relay ".into(), 9_500, false, 2), ("Find the fault".into(), 12_000, false, 1)]
        );
        let pinned = [Line::new(LineKind::Labor, "Find the fault", Quantity::ONE, Cents(11_000))];
        assert_eq!(
            shown(own_lines(&pinned, all))[0],
            ("Find the fault".into(), 11_000, true, 1),
            "a pinned line keeps its own price"
        );
    }

    #[test]
    fn many_are_cut_and_pinned_ones_never() {
        let many = (0..99).map(|n| used(&format!("2026-10-{n:02}"), &format!("Line {n}"), n)).collect();
        let pinned: Vec<Line> = (100..140)
            .map(|n| Line::new(LineKind::Fee, format!("Line {n}"), Quantity::ONE, Cents(n)))
            .collect();
        let own = own_lines(&pinned, many);
        assert_eq!((own.len(), own[40].line.description.as_str()), (60, "Line 98"));
    }
}
