//! A relay circuit put together from blocks. Like one from the library it is frozen into the job that uses it; nothing
//! of it is kept elsewhere.

use crate::entry::{BlocksEntry, BlocksRequest, Form};
use crate::view::{BlocksLoad, BlocksModule, BlocksSwitch, BlocksView, JobView};
use crate::{ApiError, Workshop, show};
use circuit::blocks::{Composition, Leg, LoadChoice, ModuleChoice, Request, VehicleWire, switch};
use circuit::{Circuit, ColorCode};
use job::Event;
use job::event::CircuitChosen;
use std::collections::BTreeMap;

impl Workshop {
    /// What a relay circuit can be put together from.
    ///
    /// # Errors
    /// Lists that can't be read: a mistake in our own data.
    pub fn circuit_blocks(&self) -> Result<BlocksView, ApiError> {
        let loads = circuit::blocks::loads()?.into_iter().map(|load| BlocksLoad {
            complaint: show::both(&load.words.complaint),
            id: load.id,
            asked_by: load.asked_by,
            conditions: load.conditions,
        });
        let switches = circuit::blocks::switches()?.into_iter().map(|switch| BlocksSwitch {
            name: show::both(&switch.words.part),
            how: show::code(&switch.how),
            id: switch.id,
        });
        let modules = circuit::blocks::modules()?;
        let modules = modules.into_iter().map(|one| BlocksModule { name: show::both(&one.name), id: one.id });
        Ok(BlocksView { loads: loads.collect(), switches: switches.collect(), modules: modules.collect() })
    }

    /// Chooses the circuit that the blocks make; it is frozen into the job's record whole.
    ///
    /// # Errors
    /// Blocks that aren't listed or don't fit together, with the field.
    pub fn circuit_compose(&self, form: impl Into<Form>, entry: &BlocksEntry) -> Result<JobView, ApiError> {
        let circuit = made(entry)?;
        let definition = serde_json::to_string(&circuit).map_err(|e| job::JobError::Event(e.to_string()))?;
        let event = Event::CircuitChosen(CircuitChosen { circuit: circuit.id, definition });
        self.act(&form.into(), |_| Ok(event))
    }
}

fn made(entry: &BlocksEntry) -> Result<Circuit, ApiError> {
    let mut composition = composition(entry)?;
    composition.id = composition.id_of_blocks();
    Ok(composition.circuit()?)
}

fn composition(entry: &BlocksEntry) -> Result<Composition, ApiError> {
    let there = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let asks = [&entry.asked].into_iter().chain(&entry.conditions);
    let coil_ohms = there(&entry.coil_ohms).map(|typed| number("coil_ohms", &typed)).transpose()?;
    Ok(Composition {
        blocks: 1,
        id: String::new(),
        version: 1,
        title: None,
        load: LoadChoice::Listed(entry.load.clone()),
        drive: show::from_code("drive", &entry.drive)?,
        leg: Leg { on: show::from_code("leg", &entry.leg)?, through: there(&entry.through) },
        across: show::from_code("across", &entry.across)?,
        coil_ohms,
        module: there(&entry.module).map(ModuleChoice::Listed),
        requests: asks.map(request).collect::<Result<_, ApiError>>()?,
        pins: entry.pins.iter().filter_map(|(point, pin)| Some((point.clone(), there(pin)?))).collect(),
        wires: wires(&entry.colours)?,
        without: Vec::new(),
    })
}

/// A number as typed, with point or comma; whether it fits is the circuit's check.
fn number(field: &'static str, typed: &str) -> Result<f64, ApiError> {
    let value = typed.replace(',', ".").parse::<f64>().ok().filter(|value| value.is_finite());
    value.ok_or_else(|| ApiError::Unknown { what: field, value: typed.to_owned() })
}

fn request(asked: &BlocksRequest) -> Result<Request, ApiError> {
    let id = switch(&asked.by)?.request;
    Ok(Request { id, by: asked.by.clone(), how: show::from_code("how", &asked.how)? })
}

fn wires(colours: &BTreeMap<String, String>) -> Result<BTreeMap<String, VehicleWire>, ApiError> {
    let typed = colours.iter().filter(|(_, typed)| !typed.trim().is_empty());
    typed
        .map(|(wire, typed)| {
            Ok((wire.clone(), VehicleWire { color: colors(typed)?, ..VehicleWire::default() }))
        })
        .collect()
}

fn colors(typed: &str) -> Result<Vec<ColorCode>, ApiError> {
    // "yegn", "YE/GN" and "ye gn" are the same; what is no color isn't passed over.
    let apart = |sign: &char| !matches!(sign, ' ' | '/' | '-');
    let letters: Vec<char> = typed.trim().chars().filter(apart).collect();
    let codes = letters.chunks(2).map(|pair| pair.iter().collect::<String>().to_uppercase());
    codes.map(|code| show::from_code("colour", &code)).collect()
}
