//! Places sideways: columns, gutters, boxes, and what hangs on a box's right side.

use crate::columns::Form;
use crate::graph::Graph;
use crate::sheet::Sheet;

use super::Rect;

/// Clear edge of the sheet beside boxes.
const EDGE: f64 = 6.0;

/// A gutter is so many columns wider than the way from column to column.
const GUTTER: f64 = 1.25;

/// A wire that leaves a box on its right side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Port {
    pub strand: usize,
    /// Row, from 0; a loop comes back one row below.
    pub row: usize,
}

/// What hangs on a box's right side, from the top; and how many rows that are.
pub(crate) fn ports(sheet: &Sheet, hub: usize) -> (Vec<Port>, usize) {
    let graph = &sheet.graph;
    let up = |strand: usize| {
        let strand = &graph.strands[strand];
        graph.net.potential(strand.first()) + graph.net.potential(strand.last())
    };
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (hanging, on) in &sheet.columns.hangs_on {
        if *on == hub {
            let of =
                |strand: &usize| graph.strands[*strand].meets(*hanging) && graph.strands[*strand].meets(hub);
            let mut wires: Vec<usize> = sheet.columns.all(Form::Across).filter(of).collect();
            wires.sort_by(|one, other| up(*other).total_cmp(&up(*one)).then(one.cmp(other)));
            groups.push(wires);
        }
    }
    groups.extend(
        sheet
            .columns
            .all(Form::Loop)
            .filter(|strand| graph.strands[*strand].meets(hub))
            .map(|strand| vec![strand]),
    );
    groups.retain(|group| !group.is_empty());
    let height =
        |group: &[usize]| group.iter().map(|strand| up(*strand)).sum::<f64>() / group.len().max(1) as f64;
    groups.sort_by(|one, other| height(other).total_cmp(&height(one)).then(one.cmp(other)));
    let (mut ports, mut row) = (Vec::new(), 0);
    for strand in groups.into_iter().flatten() {
        ports.push(Port { strand, row });
        row += if sheet.columns.is(strand, Form::Loop) { 2 } else { 1 };
    }
    (ports, row)
}

/// Middles of the columns.
pub(super) fn columns(sheet: &Sheet, width: f64) -> Vec<f64> {
    let count = sheet.columns.count;
    let hanging = sheet.standing.iter().any(|hub| ports(sheet, *hub).1 > 0);
    if hanging {
        let pitch = if count == 2 { 56.0 } else { 50.0 };
        return (0..count).map(|place| if count == 1 { 51.0 } else { 36.0 + place as f64 * pitch }).collect();
    }
    let gutters = gutters(sheet);
    let margin = match count {
        1 => width / 2.0,
        2 => width * 0.262,
        3 => width * 0.18,
        4 => 44.0,
        _ => 38.0,
    };
    let units = (count - 1) as f64 + GUTTER * gutters.len() as f64;
    let pitch = if units > 0.0 { (width - 2.0 * margin) / units } else { 0.0 };
    let mut x = margin;
    let mut columns = Vec::new();
    for place in 0..count {
        columns.push(x);
        x += if gutters.contains(&place) { (1.0 + GUTTER) * pitch } else { pitch };
    }
    columns
}

/// Columns behind which a wire runs between two boxes.
fn gutters(sheet: &Sheet) -> Vec<usize> {
    let graph = &sheet.graph;
    let mut gutters = Vec::new();
    for strand in sheet.columns.all(Form::Gutter).chain(sheet.columns.all(Form::Across)) {
        let span = |hub: usize| sheet.columns.span(graph, hub);
        let strand = &graph.strands[strand];
        if let (Some(from), Some(to)) = (span(strand.from), span(strand.to)) {
            let gutter = from.1.min(to.1);
            if gutter + 1 < sheet.columns.count && !gutters.contains(&gutter) {
                gutters.push(gutter);
            }
        }
    }
    gutters
}

/// Left and right edges of a box that stands in columns; `name`: width of its name.
pub(super) fn box_of(sheet: &Sheet, hub: usize, columns: &[f64], (width, name): (f64, f64)) -> Rect {
    let graph = &sheet.graph;
    let at = |column: usize| columns.get(column).copied().unwrap_or(width / 2.0);
    let (first, last) = sheet.columns.span(graph, hub).unwrap_or((0, 0));
    let (mut left, mut right) = (at(first) - 32.0, at(last) + 32.0);
    if ports(sheet, hub).1 > 0 {
        (left, right) = (EDGE, (at(last) + 30.0).max(100.0));
    }
    let side = !gutters(sheet).is_empty();
    let need = f64::max(if side { 88.0 } else { 108.0 }, name);
    if right - left < need {
        let more = (need - (right - left)) / 2.0;
        (left, right) = (left - more, right + more);
    }
    if left < EDGE {
        (left, right) = (EDGE, right + EDGE - left);
    }
    if right > width - EDGE {
        (left, right) = (left - (right - width + EDGE), width - EDGE);
    }
    // Wires and boxes beside it keep their room.
    let (low, high) = beside(sheet, hub);
    if let Some(column) = low {
        left = left.max(at(column) + (at(first) - at(column)) * 0.45).min(at(first) - 14.0);
    }
    if let Some(column) = high {
        right = right.min(at(column) - (at(column) - at(last)) * 0.45).max(at(last) + 14.0);
    }
    let (left, right) = (left.max(EDGE), right.min(width - EDGE));
    Rect { x: left, width: right - left, ..Rect::default() }
}

/// Nearest columns left and right of a box in which something passes at its height.
fn beside(sheet: &Sheet, hub: usize) -> (Option<usize>, Option<usize>) {
    let graph: &Graph = &sheet.graph;
    let columns = &sheet.columns;
    let level = columns.level.get(&hub).copied().unwrap_or(0);
    let (first, last) = columns.span(graph, hub).unwrap_or((0, 0));
    let mut taken: Vec<usize> = Vec::new();
    for strand in columns.all(Form::Down) {
        let (from, to) = columns.heights(graph, strand);
        if from < level
            && to > level
            && let Some(column) = columns.column_of(strand)
        {
            taken.push(column);
        }
    }
    for other in sheet.standing.iter().copied().filter(|other| *other != hub) {
        if columns.level.get(&other) == Some(&level)
            && let Some((from, to)) = columns.span(graph, other)
        {
            taken.extend([from, to]);
        }
    }
    let low = taken.iter().copied().filter(|column| *column < first).max();
    let high = taken.iter().copied().filter(|column| *column > last).min();
    (low, high)
}
