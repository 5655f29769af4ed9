//! Which run a reading between two points is drawn on.

use super::item::{Host, Run};
use crate::columns::{Columns, Form};
use crate::graph::Graph;
use crate::known::{Known, Span};

/// For every span: the run that holds both its points, else one that holds one of them, else nothing.
pub(crate) fn hosts(graph: &Graph, columns: &Columns, known: &Known) -> Vec<Option<Host>> {
    known.spans.iter().map(|span| host(graph, columns, span)).collect()
}

fn host(graph: &Graph, columns: &Columns, span: &Span) -> Option<Host> {
    let drawn = |strand: &usize| match columns.form(*strand) {
        Some(Form::Down) => columns.column_of(*strand).is_some(),
        Some(_) => true,
        None => false,
    };
    let runs = || {
        let strands = graph.strands.places().filter(drawn).map(Run::Strand);
        strands.chain([Run::Top, Run::Bottom]).filter(|run| !run.slots(graph).is_empty())
    };
    let place = |run: Run, point: usize| run.points(graph).iter().position(|other| *other == point);
    // The shortest stretch between them, if several runs hold both.
    let whole = runs()
        .filter_map(|run| Some((place(run, span.red)?.abs_diff(place(run, span.black)?), run)))
        .filter(|(length, _)| *length > 0)
        .min_by_key(|(length, _)| *length);
    if let Some((_, run)) = whole {
        return Some(Host { run, whole: true });
    }
    let inner = |point: usize| {
        runs().find(|run| {
            let last = run.points(graph).len().saturating_sub(1);
            place(*run, point).is_some_and(|place| place > 0 && place < last)
        })
    };
    let ends = |point: usize| runs().find(|run| place(*run, point).is_some());
    let run =
        inner(span.red).or_else(|| inner(span.black)).or_else(|| ends(span.red)).or_else(|| ends(span.black));
    run.map(|run| Host { run, whole: false })
}
