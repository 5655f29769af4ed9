//! What truly happens in a vehicle, and whether the customer has the complaint.

use std::collections::BTreeSet;

use circuit::{Behavior, Circuit, ObservedValue, Test};

use super::Failure;
use super::measure::{self, Instrument};
use super::moment::{Stage, are_met};
use super::settle::{Bench, Meter};
use super::specimen::{Vehicle, holds};

/// Does it happen? Looks ask for damage that can be seen; that is known only with the harm, so here they see blown fuses.
/// Whether a module's conditions are met is read by scan tool, and told whatever else is wrong.
///
/// # Errors
/// ngspice finds no operating point.
pub fn happens(bench: &mut Bench, test: &Test) -> Result<bool, Failure> {
    let Some(question) = &test.question else { return Ok(false) };
    let load = test.load.as_deref();
    let at = |bench: &Bench, id: &str| bench.vehicle.parts.iter().position(|part| part.id == id);
    let happens = match &question.behavior {
        Behavior::CoilPullsIn { coil } => {
            let Some(index) = at(bench, coil) else { return Ok(false) };
            let settled = bench.settle(&test.state, load, &Meter::None)?;
            let useless = bench.vehicle.part(coil).is_some_and(|part| part.harm.useless);
            settled.stages.get(index) == Some(&Stage::Active) && !useless
        }
        Behavior::PartWorks { component, at_least_volts } => {
            let Some(index) = at(bench, component) else { return Ok(false) };
            let settled = bench.settle(&test.state, load, &Meter::None)?;
            let state = bench.vehicle.full_state(&test.state);
            bench.vehicle.part(component).is_some_and(|part| {
                let able =
                    !part.harm.jammed && !part.harm.useless && !part.harm.open && holds(&part.when, &state);
                able && settled.solution.across(index).abs() >= *at_least_volts
            })
        }
        Behavior::ModuleSees { needs } => {
            are_met(needs, &bench.settle(&test.state, load, &Meter::None)?.solution)
        }
        // Nothing here turns a wheel: `garage::on_the_bench` leaves such circuits out.
        Behavior::AlternatingSeen { .. } => return Ok(false),
        Behavior::CarriesMoreThan { component, amps } => {
            let Some(index) = at(bench, component) else { return Ok(false) };
            let settled = bench.settle(&test.state, load, &Meter::Around(index))?;
            settled.solution.through(index).abs() > *amps
        }
        Behavior::ConditionsMet { component } => {
            !bench.vehicle.part(component).is_some_and(|part| part.harm.not_commanded)
        }
        Behavior::DamageSeen { components } => {
            // A new one is put in to see whether it blows.
            let blown = if renews(&bench.vehicle, test) {
                bench.settle(&test.state, load, &Meter::None)?.blown
            } else {
                bench.blown.clone()
            };
            let asked = |index: &usize| {
                bench.vehicle.parts.get(*index).is_some_and(|part| components.contains(&part.id))
            };
            blown.iter().any(asked)
        }
    };
    Ok(happens != bench.vehicle.lies.contains(&test.id))
}

/// Does a test ask for damage on a fuse that is new in its state?
pub fn renews(vehicle: &Vehicle, test: &Test) -> bool {
    let question = test.question.as_ref().map(|question| &question.behavior);
    let Some(Behavior::DamageSeen { components }) = question else { return false };
    let state = vehicle.full_state(&test.state);
    vehicle.parts.iter().any(|part| components.contains(&part.id) && part.is_renewed(&state))
}

/// Is the complaint there now?
///
/// # Errors
/// The circuit has no complaint test; ngspice finds no operating point.
pub fn complains(circuit: &Circuit, bench: &mut Bench) -> Result<bool, Failure> {
    let test = complaint_test(circuit)?;
    Ok(happens(bench, test)? == circuit.complaint.answer)
}

/// The test that shows the complaint.
///
/// # Errors
/// The circuit has none.
pub fn complaint_test(circuit: &Circuit) -> Result<&Test, Failure> {
    let test = circuit.tests.iter().find(|test| test.id == circuit.complaint.test);
    test.ok_or_else(|| Failure(format!("{} has no complaint test", circuit.id)))
}

/// What every test gives on the vehicle of the drawing, which has no fault.
///
/// # Errors
/// ngspice finds no operating point.
pub fn of_the_drawing(circuit: &Circuit) -> Result<Vec<(String, ObservedValue)>, Failure> {
    let mut bench = Bench::new(Vehicle::as_drawn(circuit), BTreeSet::new());
    let each = circuit.tests.iter().map(|test| {
        let shown = measure::perfect(circuit, &mut bench, test, &Instrument::plain())?;
        let value = match shown {
            Some(value) => value,
            None if happens(&mut bench, test)? => ObservedValue::Yes,
            None => ObservedValue::No,
        };
        Ok((test.id.clone(), value))
    });
    each.collect()
}
