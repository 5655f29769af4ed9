//! Relays, drivers and fuses move until they agree with the volts they make.
//!
//! Everything starts at rest, as when the key is turned; relays and drivers have hysteresis; a blown fuse stays blown.
//! A circuit that returns to a position it has left chatters: a named result, not an error.

use crate::error::CircuitError;
use crate::file::component::{ComponentKind, Need};
use crate::file::fault::FaultMode;
use crate::solve::bend::{Bend, Side};
use crate::solve::part::{Failing, Moment, Own, Part, Position};
use crate::solve::solved::Solved;
use crate::solve::wiring::{Setting, Wiring};

/// A module that is on stays on down to this share of the volts it needs to switch on (judgment).
pub(crate) const STAY_ON: f64 = 0.9;
/// A blade fuse opens well above twice its rating; below that it may hold for minutes (common practice).
pub(crate) const BLOWS_AT: f64 = 2.0;
/// Share of the most it may see at which a driver is asked clearly (judgment).
const CLEARLY: f64 = 0.9;
const ROUNDS: usize = 48;

/// Positions and volts that agree; `steady` is false when the circuit chatters.
#[derive(Debug)]
pub(crate) struct Settled {
    pub positions: Vec<Position>,
    pub solved: Solved,
    pub steady: bool,
}

/// As [`settle`], but tries given positions first. They hold when every relay and driver that works there would
/// also switch on there by itself; then a start from rest comes to the same, because loads only pull volts down.
///
/// # Errors
/// [`CircuitError::NoSolution`] when ideal sources conflict.
pub(crate) fn settle_near(
    wiring: &Wiring<'_>,
    setting: &Setting,
    faults: &[Failing],
    near: &[Position],
) -> Result<Settled, CircuitError> {
    // A load that keeps its current going is found from rest only: with it or without, both can agree.
    let plain = |position: &Position| {
        !matches!(position, Position::Limited | Position::Blown | Position::Freewheeling)
    };
    // A supply that has started can hold up the very volts it waits for.
    let starts = |part: &Part<'_>| matches!(&part.component.kind, ComponentKind::RegulatedSupply { needs, .. } if !needs.is_empty());
    if near.iter().all(plain) && !wiring.parts.iter().any(starts) {
        let solved = setting.at_hand.solve(wiring.nodes, &wiring.elements(setting, faults, near))?;
        let from_rest = wiring.at_rest(setting);
        if moved(wiring, setting, faults, near, &solved) == near
            && moved(wiring, setting, faults, &from_rest, &solved) == near
            && asks_clearly(wiring, near, &solved)
        {
            return Ok(Settled { positions: near.to_vec(), solved, steady: true });
        }
    }
    settle(wiring, setting, faults)
}

/// Would every driver that works be asked clearly? What draws current lifts a module's ground, so that an input which is
/// just low enough while the driver works may not have been before.
fn asks_clearly(wiring: &Wiring<'_>, near: &[Position], solved: &Solved) -> bool {
    wiring.parts.iter().zip(near).filter(|(_, position)| **position != Position::Rest).all(|(part, _)| {
        let (ComponentKind::HighSideDriver { needs, .. } | ComponentKind::LowSideDriver { needs, .. }) =
            &part.component.kind
        else {
            return true;
        };
        let clear = |need: &Need| Need { at_most: need.at_most.map(|most| most * CLEARLY), ..need.clone() };
        needs.iter().all(|need| is_met(wiring, &clear(need), Position::Rest, solved))
    })
}

/// From rest until nothing moves any more.
///
/// # Errors
/// [`CircuitError::NoSolution`] when ideal sources conflict.
pub(crate) fn settle(
    wiring: &Wiring<'_>,
    setting: &Setting,
    faults: &[Failing],
) -> Result<Settled, CircuitError> {
    let together = run(wiring, setting, faults, |_, next| next)?;
    // Parts that move at once can overshoot each other and turn for ever; what turns even when they move one after the
    // other chatters in truth.
    if together.steady { Ok(together) } else { run(wiring, setting, faults, first_move) }
}

/// Moves parts until nothing moves any more, or until a position comes back.
fn run(
    wiring: &Wiring<'_>,
    setting: &Setting,
    faults: &[Failing],
    step: impl Fn(&[Position], Vec<Position>) -> Vec<Position>,
) -> Result<Settled, CircuitError> {
    let mut positions = wiring.at_rest(setting);
    let mut seen: Vec<Vec<Position>> = Vec::with_capacity(6);
    loop {
        let solved = setting.at_hand.solve(wiring.nodes, &wiring.elements(setting, faults, &positions))?;
        let next = moved(wiring, setting, faults, &positions, &solved);
        if next == positions {
            return Ok(Settled { positions, solved, steady: true });
        }
        let next = step(&positions, soonest(wiring, &positions, next));
        if seen.contains(&next) || seen.len() >= ROUNDS {
            return Ok(Settled { positions, solved, steady: false });
        }
        seen.push(std::mem::replace(&mut positions, next));
    }
}

/// How soon a part moves. What conducts follows its volts at once, a driver's current limit too; relays and modules take
/// milliseconds; a fuse takes the rush into cold lamps and standing motors, and blows only by what flows when nothing
/// else moves.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum SwitchingSpeed {
    AtOnce,
    Milliseconds,
    Last,
}

fn switching_speed(part: Option<&Part<'_>>, now: Position, next: Position) -> SwitchingSpeed {
    let switches = now == Position::Rest || next == Position::Rest;
    match part.map(|part| &part.component.kind) {
        Some(ComponentKind::Fuse { .. }) => SwitchingSpeed::Last,
        Some(ComponentKind::Coil { .. }) => SwitchingSpeed::Milliseconds,
        Some(ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. }) if switches => {
            SwitchingSpeed::Milliseconds
        }
        _ => SwitchingSpeed::AtOnce,
    }
}

/// Of all that want to move only those that move soonest.
fn soonest(wiring: &Wiring<'_>, now: &[Position], mut next: Vec<Position>) -> Vec<Position> {
    let rank = |i: usize, now: Position, next: Position| switching_speed(wiring.parts.get(i), now, next);
    let moving = now.iter().zip(&next).enumerate().filter(|(_, (now, next))| now != next);
    let first = moving.map(|(i, (now, next))| rank(i, *now, *next)).min();
    for (i, (now, next)) in now.iter().zip(&mut next).enumerate() {
        if *now != *next && Some(rank(i, *now, *next)) != first {
            *next = *now;
        }
    }
    next
}

/// The first part that wants to move, alone.
fn first_move(now: &[Position], next: Vec<Position>) -> Vec<Position> {
    let moving = now.iter().zip(&next).position(|(now, next)| now != next);
    let keep = |(i, (now, next)): (usize, (&Position, Position))| if Some(i) == moving { next } else { *now };
    now.iter().zip(next).enumerate().map(keep).collect()
}

fn moved(
    wiring: &Wiring<'_>,
    setting: &Setting,
    faults: &[Failing],
    positions: &[Position],
    solved: &Solved,
) -> Vec<Position> {
    let parts = wiring.parts.iter().zip(positions).enumerate();
    let mut next: Vec<Position> = parts
        .map(|(i, (part, position))| {
            let own = Own { faults, part: i };
            if setting.present.get(i) != Some(&true) {
                return Position::Rest;
            }
            match &part.component.kind {
                ComponentKind::Coil { .. } => coil(part, own, *position, solved),
                ComponentKind::Fuse { rating_amps, .. } => fuse(part, own, *position, *rating_amps, solved),
                ComponentKind::HighSideDriver { needs, limit_amps, .. }
                | ComponentKind::LowSideDriver { needs, limit_amps, .. } => {
                    let asked = setting.asked.get(i) == Some(&true) && !own.has(FaultMode::NotCommanded);
                    let met = |need: &&Need| is_met(wiring, need, *position, solved);
                    let asked = asked && needs.iter().all(|need| met(&need));
                    let forced = setting.forced.get(i) == Some(&true)
                        && needs_of_supply(wiring, part, needs).all(|need| met(&need));
                    let asked = (asked || forced) && !own.has(FaultMode::Unresponsive);
                    let off = part.component.kind.duty().is_some() && setting.moment == Moment::Off;
                    let broken = own.has(FaultMode::Dead) || own.has(FaultMode::Leaks);
                    let on = (asked && !off || own.has(FaultMode::AlwaysOn)) && !broken;
                    match on {
                        true if part.pulses(own, setting.moment).is_some() => {
                            let was_on = *position != Position::Rest;
                            let freewheels =
                                was_on && part.freewheels(own, setting.moment, *position, solved);
                            if freewheels { Position::Freewheeling } else { Position::Working }
                        }
                        true => driver(part, own, *position, *limit_amps, solved),
                        false => Position::Rest,
                    }
                }
                ComponentKind::RegulatedSupply { needs, limit_amps, .. } => {
                    let on = needs.iter().all(|need| is_met(wiring, need, *position, solved));
                    let on = on && !own.has(FaultMode::Dead);
                    if on { regulated(part, own, *position, *limit_amps, solved) } else { Position::Rest }
                }
                _ => part.bend_now(own).map_or(Position::Rest, |bend| {
                    bent(bend, *position, solved.between(part.a, part.b), own.added_ohms())
                }),
            }
        })
        .collect();
    let put_in = setting.added.iter().zip(positions.get(wiring.parts.len()..).unwrap_or_default());
    let bends = put_in.map(|(added, position)| {
        added.bend.map_or(Position::Rest, |bend| bent(bend, *position, solved.between(added.a, added.b), 0.0))
    });
    next.extend(bends);
    next
}

/// What a driver needs of its module's supply: without it no scan tool gets an answer. A module that has another feed for
/// its loads answers from the one that it draws from itself.
fn needs_of_supply<'n>(
    wiring: &Wiring<'n>,
    part: &Part<'n>,
    needs: &'n [Need],
) -> impl Iterator<Item = &'n Need> {
    let supply = match &part.component.kind {
        ComponentKind::HighSideDriver { supply, .. } | ComponentKind::LowSideDriver { supply, .. } => {
            supply.as_str()
        }
        _ => "",
    };
    let draws = |part: &Part<'n>, point: &str| matches!(&part.component.kind, ComponentKind::SupplyLoad { from, .. } if from == point);
    needs
        .iter()
        .filter(move |need| need.red == supply || wiring.parts.iter().any(|part| draws(part, &need.red)))
}

/// Nothing goes from one direction to the other but through rest: a part cut off from all else would turn for ever.
fn bent(bend: Bend, position: Position, volts: Option<f64>, added_ohms: f64) -> Position {
    match bend.side(volts.unwrap_or(0.0), added_ohms) {
        Side::Beyond if position != Position::Backwards => Position::Working,
        Side::Backwards if position != Position::Working => Position::Backwards,
        _ => Position::Rest,
    }
}

/// Volts that a solution may be off by: a supply of 0 V would push and let go for ever.
const ROUNDING: f64 = 1e-10;

/// It can only push, and no more than its limit.
fn regulated(part: &Part<'_>, own: Own<'_>, position: Position, limit: f64, solved: &Solved) -> Position {
    let (volts, ohms) = part.regulated(own);
    let missing = volts - solved.between(part.a, part.b).unwrap_or(0.0);
    match position {
        Position::Working | Position::Limited if missing > limit * ohms => Position::Limited,
        Position::Working | Position::Limited if missing > -ROUNDING => Position::Working,
        _ if missing > ROUNDING => Position::Working,
        _ => Position::Rest,
    }
}

fn coil(part: &Part<'_>, own: Own<'_>, position: Position, solved: &Solved) -> Position {
    let ComponentKind::Coil { pull_in_volts, drop_out_volts, .. } = part.component.kind else {
        return Position::Rest;
    };
    if own.has(FaultMode::Jammed) || own.has(FaultMode::Open) {
        return Position::Rest;
    }
    // Only the winding's share of the volts pulls; resistance inside the coil's own joint takes the rest.
    let winding = own.scaled(part.ohms);
    let volts = solved.between(part.a, part.b).unwrap_or(0.0).abs() * winding / (winding + own.added_ohms());
    let threshold = if position == Position::Working { drop_out_volts } else { pull_in_volts };
    if volts >= threshold { Position::Working } else { Position::Rest }
}

fn fuse(part: &Part<'_>, own: Own<'_>, position: Position, rating: f64, solved: &Solved) -> Position {
    let amps = solved.between(part.a, part.b).unwrap_or(0.0).abs() / (part.ohms + own.added_ohms());
    let blows = !own.has(FaultMode::Open) && amps > BLOWS_AT * rating;
    if position == Position::Blown || blows { Position::Blown } else { Position::Rest }
}

fn driver(part: &Part<'_>, own: Own<'_>, position: Position, limit: f64, solved: &Solved) -> Position {
    let (from, to, ..) = part.driver_nodes();
    let volts = solved.between(from, to).unwrap_or(0.0);
    let at_limit = limit * (part.driver_ohms() + own.added_ohms());
    match position {
        Position::Working | Position::Limited if volts > at_limit => Position::Limited,
        _ => Position::Working,
    }
}

fn is_met(wiring: &Wiring<'_>, need: &Need, position: Position, solved: &Solved) -> bool {
    let points = wiring.point(&need.red).ok().zip(wiring.point(&need.black).ok());
    let Some(volts) = points.and_then(|(red, black)| solved.between(red, black)) else {
        return false;
    };
    let slack = if position == Position::Rest { 1.0 } else { STAY_ON };
    need.at_least.is_none_or(|least| volts >= least * slack)
        && need.at_most.is_none_or(|most| volts <= most / slack)
}
