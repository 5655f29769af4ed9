//! A circuit of one load put together from blocks. Like one from the library it is frozen into the job that uses it; nothing
//! of it is kept elsewhere.

use crate::entry::{BlocksEntry, BlocksRequest, Form};
use crate::view::{BlocksLoad, BlocksModule, BlocksSwitch, BlocksView, JobView};
use crate::{ApiError, Workshop, show};
use circuit::blocks::{
    Across, Composition, Leg, LoadChoice, ModuleChoice, NAMED, NAMED_ASKED_BY, NamedLoad, Request, Stated,
    SwitchedBy, VehicleWire, switch,
};
use circuit::{Circuit, CircuitError, ColorCode};
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
            usual_module: load.usual_module.unwrap_or_default(),
        });
        let switches = circuit::blocks::switches()?.into_iter().map(|switch| BlocksSwitch {
            name: show::both(&switch.words.part),
            how: show::code(&switch.how),
            id: switch.id,
        });
        let modules = circuit::blocks::modules()?;
        let modules = modules.into_iter().map(|one| BlocksModule { name: show::both(&one.name), id: one.id });
        Ok(BlocksView {
            loads: loads.collect(),
            named_asked_by: NAMED_ASKED_BY.map(str::to_owned).into(),
            switches: switches.collect(),
            modules: modules.collect(),
        })
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
    composition.circuit().map_err(|error| at_field(entry, error))
}

/// A refusal of the engine at the field of the screen it is about, with what was typed there.
fn at_field(entry: &BlocksEntry, error: CircuitError) -> ApiError {
    let on_screen = |place: &str| place.replace("load/stated", "own/amount").replace("load/", "own/");
    match error {
        CircuitError::OutOfRange { place, least, most, unit, .. } => {
            let place = on_screen(&place);
            let typed = if place == "own/amount" { &entry.own.amount } else { &entry.coil_ohms };
            let value = typed.trim().to_owned();
            let error = CircuitError::OutOfRange { place: place.clone(), value, least, most, unit };
            field(&place, error.into())
        }
        CircuitError::Field { place, problem } => {
            let place = on_screen(&place);
            field(&place, CircuitError::Field { place: place.clone(), problem }.into())
        }
        other => other.into(),
    }
}

fn field(place: &str, error: ApiError) -> ApiError {
    ApiError::Field { place: place.to_owned(), error: Box::new(error) }
}

fn composition(entry: &BlocksEntry) -> Result<Composition, ApiError> {
    let there = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let asks = [&entry.asked].into_iter().chain(&entry.conditions);
    let switched_by: SwitchedBy = show::from_code("switched_by", &entry.switched_by)?;
    // Fields that the screen doesn't show for this way of switching are not looked at.
    let relay = switched_by == SwitchedBy::Relay;
    let leg = Leg { on: show::from_code("leg", &entry.leg)?, through: there(&entry.through) };
    let coil_ohms = there(&entry.coil_ohms).filter(|_| relay);
    Ok(Composition {
        blocks: 1,
        id: String::new(),
        version: 1,
        title: None,
        load: load(entry)?,
        switched_by,
        drive: show::from_code("drive", &entry.drive)?,
        leg: if switched_by.by_relay() { leg } else { Leg::default() },
        across: if relay { show::from_code("across", &entry.across)? } else { Across::Nothing },
        coil_ohms: coil_ohms.map(|typed| number("coil_ohms", &typed)).transpose()?,
        module: there(&entry.module).map(ModuleChoice::Listed),
        requests: asks.map(request).collect::<Result<_, ApiError>>()?,
        pins: entry.pins.iter().filter_map(|(point, pin)| Some((point.clone(), there(pin)?))).collect(),
        wires: wires(&entry.colours)?,
        without: Vec::new(),
    })
}

fn load(entry: &BlocksEntry) -> Result<LoadChoice, ApiError> {
    if entry.load != NAMED {
        return Ok(LoadChoice::Listed(entry.load.clone()));
    }
    let own = &entry.own;
    for (place, field_name, typed) in [
        ("own/name", "load_name", &own.name),
        ("own/complaint", "load_complaint", &own.complaint),
        ("own/amount", "load_amount", &own.amount),
    ] {
        if typed.trim().is_empty() {
            return Err(field(place, ApiError::Empty { field: field_name }));
        }
    }
    let amount = number("own/amount", own.amount.trim())?;
    Ok(LoadChoice::Named(NamedLoad {
        name: own.name.trim().to_owned(),
        complaint: own.complaint.trim().to_owned(),
        sort: show::from_code("sort", &own.sort)?,
        stated: match own.unit.as_str() {
            "amps" => Stated::Amps(amount),
            "ohms" => Stated::Ohms(amount),
            other => return Err(ApiError::Unknown { what: "unit", value: other.to_owned() }),
        },
    }))
}

/// A number as typed, with point or comma; whether it fits is the circuit's check.
fn number(place: &str, typed: &str) -> Result<f64, ApiError> {
    let value = typed.replace(',', ".").parse::<f64>().ok().filter(|value| value.is_finite());
    value.ok_or_else(|| field(place, ApiError::NotANumber(typed.to_owned())))
}

fn request(asked: &BlocksRequest) -> Result<Request, ApiError> {
    let id = switch(&asked.by)?.request;
    Ok(Request { id, by: asked.by.clone(), how: show::from_code("how", &asked.how)? })
}

fn wires(colours: &BTreeMap<String, String>) -> Result<BTreeMap<String, VehicleWire>, ApiError> {
    let typed = colours.iter().filter(|(_, typed)| !typed.trim().is_empty());
    typed
        .map(|(wire, typed)| {
            let color = colors(typed).ok_or_else(|| {
                field(&format!("colours/{wire}"), ApiError::NoColor(typed.trim().to_owned()))
            })?;
            Ok((wire.clone(), VehicleWire { color, ..VehicleWire::default() }))
        })
        .collect()
}

fn colors(typed: &str) -> Option<Vec<ColorCode>> {
    // "yegn", "YE/GN" and "ye gn" are the same; what is no color isn't passed over.
    let apart = |sign: &char| !matches!(sign, ' ' | '/' | '-');
    let letters: Vec<char> = typed.trim().chars().filter(apart).collect();
    let codes = letters.chunks(2).map(|pair| pair.iter().collect::<String>().to_uppercase());
    codes.map(|code| show::from_code("colour", &code).ok()).collect()
}
