//! Which strand takes which column: once per circuit, from its wiring alone. Only heights depend on what was read.

mod bands;
mod cost;
mod search;

pub(crate) use bands::on_contacts;

use std::collections::BTreeMap;

use crate::graph::Graph;

/// How a strand runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Down a column.
    Down,
    /// From a box straight across to one that hangs on it alone.
    Across,
    /// Both ends on one box.
    Loop,
    /// Between two boxes side by side, up or down in the gutter.
    Gutter,
}

/// What takes a column of its own: strands one behind the other, or one half of a relay with what hangs on it.
#[derive(Debug, Clone, Default)]
pub struct Lane {
    pub strands: Vec<usize>,
    /// A half of this relay's hub; true for its contacts.
    pub half: Option<(usize, bool)>,
}

/// Where everything goes, sideways.
#[derive(Debug, Clone, Default)]
pub struct Columns {
    pub forms: BTreeMap<usize, Form>,
    /// The box that a box hangs on.
    pub hangs_on: BTreeMap<usize, usize>,
    pub lanes: Vec<Lane>,
    /// Column of each lane.
    pub column: Vec<usize>,
    pub count: usize,
    pub stacked: bool,
    pub cost: f64,
    /// Band of each hub from the top.
    pub level: BTreeMap<usize, usize>,
    /// Row of boxes: those that lie behind one another take rows of their own.
    pub row: BTreeMap<usize, usize>,
}

/// Cost of a drawing with a crossing.
pub const CROSSED: f64 = 100.0;

impl Columns {
    /// Nothing if no order of columns was found. `stacked`: boxes that a wire joins stand one below the other instead of side by
    /// side, which takes height and saves columns.
    pub fn of(graph: &mut Graph, stacked: bool) -> Option<Self> {
        let mut columns = Self { stacked, ..Self::default() };
        columns.shapes(graph);
        columns.acyclic(graph);
        columns.rows(graph);
        columns.levels(graph);
        columns.lanes(graph);
        let found = search::best(graph, &columns)?;
        let mut used: Vec<usize> = found.column.clone();
        used.sort_unstable();
        used.dedup();
        columns.column =
            found.column.iter().map(|at| used.iter().position(|one| one == at).unwrap_or(0)).collect();
        columns.count = used.len().max(1);
        columns.cost = found.cost;
        Some(columns)
    }

    pub fn form(&self, strand: usize) -> Option<Form> {
        self.forms.get(&strand).copied()
    }

    pub fn is(&self, strand: usize, form: Form) -> bool {
        self.form(strand) == Some(form)
    }

    /// Strands of a form, in their order.
    pub fn all(&self, form: Form) -> impl Iterator<Item = usize> + '_ {
        self.forms.iter().filter(move |(_, of)| **of == form).map(|(strand, _)| *strand)
    }

    /// Column of a strand that runs down.
    pub fn column_of(&self, strand: usize) -> Option<usize> {
        let lane = self.lanes.iter().position(|lane| lane.strands.contains(&strand))?;
        self.column.get(lane).copied()
    }

    /// Column of a relay's coil (false) or contacts (true).
    pub fn half(&self, hub: usize, contacts: bool) -> usize {
        let lane = self.lanes.iter().position(|lane| lane.half == Some((hub, contacts)));
        lane.and_then(|lane| self.column.get(lane).copied()).unwrap_or(0)
    }

    /// First and last column of a hub.
    pub fn span(&self, graph: &Graph, hub: usize) -> Option<(usize, usize)> {
        let lanes = self.lanes.iter().zip(&self.column);
        let at = lanes.filter(|(lane, _)| {
            lane.half.is_some_and(|(of, _)| of == hub)
                || lane.strands.iter().any(|strand| graph.strands[*strand].meets(hub))
        });
        let at: Vec<usize> = at.map(|(_, column)| *column).collect();
        Some((*at.iter().min()?, *at.iter().max()?))
    }

    /// Boxes that stand in columns.
    pub fn standing(&self, graph: &Graph) -> Vec<usize> {
        graph
            .hubs
            .places()
            .filter(|hub| graph.is_frame(*hub) && !self.hangs_on.contains_key(hub))
            .filter(|hub| graph.strands.iter().any(|strand| strand.meets(*hub)))
            .collect()
    }
}
