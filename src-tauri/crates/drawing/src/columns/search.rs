//! The exact search for columns, bounded.

use super::Columns;
use super::cost::Costs;
use crate::graph::Graph;

/// Orders that are looked at for each number of columns.
const MOST: usize = 60_000;
/// Steps of improvement.
const ROUNDS: usize = 30;
/// Columns: four fit 366 px well, six at a pinch.
const COLUMNS: [usize; 5] = [2, 3, 4, 5, 6];
/// Below this nothing crosses and all that is joined is neighbors: more columns aren't tried.
const GOOD: f64 = 50.0;
/// An order that is bad enough to try a fifth column.
const POOR: f64 = 500.0;

/// An order of columns.
pub(super) struct Order {
    pub column: Vec<usize>,
    pub cost: f64,
}

/// The cheapest order found; nothing if no order is possible.
pub(super) fn best(graph: &Graph, columns: &Columns) -> Option<Order> {
    let costs = Costs::of(graph, columns);
    let lanes = costs.lanes();
    let may: Vec<Vec<bool>> =
        (0..lanes).map(|one| (0..lanes).map(|other| costs.share(one, other)).collect()).collect();
    let mut search = Search { costs: &costs, may: &may, best: None, seen: 0, column: Vec::new() };
    for count in COLUMNS {
        let cost = search.best.as_ref().map_or(f64::INFINITY, |best| best.cost);
        if (count >= 4 && cost < GOOD)
            || (count == 5 && cost < POOR && lanes > 7)
            || (count == 6 && cost < POOR)
        {
            break;
        }
        search.seen = 0;
        search.lane(count);
        search.improve(count);
    }
    search.best
}

struct Search<'s, 'c> {
    costs: &'s Costs<'c>,
    may: &'s [Vec<bool>],
    best: Option<Order>,
    seen: usize,
    column: Vec<usize>,
}

impl Search<'_, '_> {
    fn lane(&mut self, count: usize) {
        self.seen += 1;
        if self.seen > MOST {
            return;
        }
        let lane = self.column.len();
        let Some(may) = self.may.get(lane) else {
            let cost = self.costs.cost(&self.column);
            if self.best.as_ref().is_none_or(|best| cost < best.cost - 1e-9) {
                self.best = Some(Order { column: self.column.clone(), cost });
            }
            return;
        };
        for column in 0..count {
            let free = self.column.iter().zip(may).all(|(taken, may)| *taken != column || *may);
            if free {
                self.column.push(column);
                self.lane(count);
                self.column.pop();
            }
        }
    }

    /// Where the search ended before its end: lanes moved or exchanged, columns exchanged, as long as that costs less.
    fn improve(&mut self, count: usize) {
        for _ in 0..ROUNDS {
            let Some(best) = self.best.as_ref() else { return };
            let better = neighbors(&best.column, count)
                .filter(|column| self.is_possible(column))
                .map(|column| Order { cost: self.costs.cost(&column), column })
                .min_by(|one, other| one.cost.total_cmp(&other.cost))
                .filter(|order| order.cost < best.cost - 1e-9);
            match better {
                Some(better) => self.best = Some(better),
                None => return,
            }
        }
    }

    fn is_possible(&self, column: &[usize]) -> bool {
        column.iter().zip(self.may).enumerate().all(|(lane, (at, may))| {
            column.iter().zip(may).take(lane).all(|(other, may)| other != at || *may)
        })
    }
}

fn neighbors(column: &[usize], count: usize) -> impl Iterator<Item = Vec<usize>> + '_ {
    let lanes = column.len();
    let with = |changes: &[(usize, usize)]| {
        let mut column = column.to_vec();
        for (lane, at) in changes {
            if let Some(place) = column.get_mut(*lane) {
                *place = *at;
            }
        }
        column
    };
    let moved = (0..lanes).flat_map(move |lane| (0..count).map(move |at| with(&[(lane, at)])));
    let at = move |lane: usize| column.get(lane).copied().unwrap_or(0);
    let swapped = (0..lanes)
        .flat_map(move |one| (0..one).map(move |other| with(&[(one, at(other)), (other, at(one))])));
    let columns = (0..count).flat_map(move |one| {
        (0..one).map(move |other| {
            let change = |at: &usize| {
                if *at == one {
                    other
                } else if *at == other {
                    one
                } else {
                    *at
                }
            };
            column.iter().map(change).collect()
        })
    });
    // One column taken out and put in elsewhere.
    let shifted = (0..count).flat_map(move |from| {
        (0..count).map(move |to| {
            let mut order: Vec<usize> = (0..count).collect();
            if from < order.len() {
                let taken = order.remove(from);
                order.insert(to.min(order.len()), taken);
            }
            column.iter().map(|at| order.iter().position(|one| one == at).unwrap_or(*at)).collect()
        })
    });
    moved.chain(swapped).chain(columns).chain(shifted)
}
