//! What is proven good, and what is ruled out.

use std::collections::BTreeSet;

use circuit::{Behavior, CauseShare, Circuit, Diagnosis, Observation, Test};

use super::Facts;
use crate::graph::net::Net;
use crate::picture::Look;
use crate::table::Table;

/// Proven: every cause of the part is ruled out, and what did that for at least half of them (by their prior) is a reading with
/// the part's own points among its leads, or an answer about the part itself. Ruled out: every cause is, by whatever reading.
/// A part is never proven because its neighbor is good.
pub(super) fn looks(net: &Net, circuit: &Circuit, facts: &Facts<'_>) -> Table<Look> {
    let mut looks = Table::filled(&Look::Plain, net.parts.len());
    for place in net.parts.places() {
        let part = &net.parts[place];
        let causes: Vec<&CauseShare> =
            facts.diagnosis.causes.iter().filter(|cause| cause.component == part.id).collect();
        if causes.is_empty()
            || causes.iter().any(|cause| cause.ruled_out.is_none())
            || in_pair(facts.diagnosis, &part.id)
        {
            continue;
        }
        let own: BTreeSet<&str> = facts
            .observations
            .iter()
            .filter(|seen| is_about(net, circuit, place, seen))
            .map(|seen| seen.id.as_str())
            .collect();
        let by_own = |cause: &&&CauseShare| {
            cause.ruled_out.as_ref().is_some_and(|ruled_out| own.contains(ruled_out.by.as_str()))
        };
        let prior = |causes: &mut dyn Iterator<Item = f64>| causes.sum::<f64>();
        let whole = prior(&mut causes.iter().map(|cause| cause.prior));
        let shown = prior(&mut causes.iter().filter(by_own).map(|cause| cause.prior));
        looks[place] = if shown * 2.0 >= whole && shown > 0.0 { Look::Proven } else { Look::RuledOut };
    }
    looks
}

/// Two faults together are still in question.
fn in_pair(diagnosis: &Diagnosis, part: &str) -> bool {
    diagnosis.pairs.iter().any(|pair| {
        let of = |cause: &String| cause.split('/').next() == Some(part);
        pair.probability >= super::SUSPECT && pair.causes.iter().any(of)
    })
}

/// Is this seen on the part itself? The battery's posts belong to every reading and say nothing of what hangs on them, unless both
/// leads lie on the part.
fn is_about(net: &Net, circuit: &Circuit, place: usize, seen: &Observation) -> bool {
    let part = &net.parts[place];
    let lead = |point: &Option<String>| point.as_ref().and_then(|id| net.point_of.get(id)).copied();
    let leads: Vec<usize> = [lead(&seen.red), lead(&seen.black)].into_iter().flatten().collect();
    let post = |point: usize| point == net.plus || point == net.minus;
    let on = |point: &usize| part.touches(*point);
    let measured =
        leads.iter().any(|point| on(point) && !post(*point)) || (leads.len() == 2 && leads.iter().all(on));
    let asked = || {
        let test = circuit.tests.iter().find(|test| seen.test.as_deref() == Some(test.id.as_str()));
        test.is_some_and(|test| asks_about(test, &part.id))
    };
    measured || asked()
}

fn asks_about(test: &Test, part: &str) -> bool {
    match test.question.as_ref().map(|question| &question.behavior) {
        Some(Behavior::CoilPullsIn { coil }) => coil == part,
        Some(
            Behavior::PartWorks { component, .. }
            | Behavior::CarriesMoreThan { component, .. }
            | Behavior::ConditionsMet { component },
        ) => component == part,
        Some(Behavior::DamageSeen { components }) => components.iter().any(|one| one == part),
        _ => false,
    }
}
