//! What is being put together: the choices looked up in their lists, and the points and parts laid down so far.

use std::collections::BTreeMap;

use crate::blocks::composition::{
    Composition, How, LoadChoice, ModuleChoice, Request, SwitchedBy, TestGroup,
};
use crate::blocks::faults::{self, WireRow};
use crate::blocks::load::{Asking, Load, LoadKind, load};
use crate::blocks::phrases::say;
use crate::blocks::switch::{ListedModule, Switch, module, switch};
use crate::error::CircuitError;
use crate::file::component::{Component, ComponentKind, Conditions};
use crate::file::fault::FaultSpec;
use crate::file::layout::Point;
use crate::file::observation::State;
use crate::file::text::Text;

/// The battery's negative post: the reference of every circuit that is made.
pub(super) const NEGATIVE: &str = "bat_neg";
/// Where grounds of the body end.
pub(super) const BODY: &str = "body_ground";
/// The fuse box.
pub(super) const FEED: &str = "feed";

pub(super) fn when(variable: &str, values: &[&str]) -> Conditions {
    Conditions::from([(variable.to_owned(), values.iter().map(|value| (*value).to_owned()).collect())])
}

pub(super) fn state(pairs: &[(&str, &str)]) -> State {
    pairs.iter().map(|(variable, value)| ((*variable).to_owned(), (*value).to_owned())).collect()
}

/// A part that is always there, healthy, without spread.
pub(super) fn made(id: &str, name: Text, kind: ComponentKind) -> Component {
    let (present_when, tolerance_percent, faults) = (Conditions::new(), 0.0, Vec::new());
    Component { id: id.to_owned(), name, label: None, kind, present_when, tolerance_percent, faults }
}

/// A request with what asks.
pub(super) struct Asked {
    pub request: Request,
    pub switch: Switch,
}

impl Asked {
    /// An id that belongs to this request: the one called `request` has the plain ids.
    pub fn id(&self, plain: &str, of: &str) -> String {
        if self.request.id == "request" { plain.to_owned() } else { format!("{of}_{}", self.request.id) }
    }
}

pub(super) struct Draft<'c> {
    pub composition: &'c Composition,
    pub load: Load,
    pub module: Option<ListedModule>,
    pub requests: Vec<Asked>,
    /// The switch in the coil's other leg.
    pub through: Option<Switch>,
    pub points: Vec<Point>,
    pub components: Vec<Component>,
    used_wires: Vec<String>,
}

impl<'c> Draft<'c> {
    pub fn of(composition: &'c Composition) -> Result<Self, CircuitError> {
        let load = match &composition.load {
            LoadChoice::Listed(id) => load(id)?,
            LoadChoice::Own(own) => (**own).clone(),
            LoadChoice::Named(named) => named.load()?,
        };
        let module = match &composition.module {
            None => None,
            Some(ModuleChoice::Listed(id)) => Some(module(id)?),
            Some(ModuleChoice::Own(words)) => Some(own_module(words)),
        };
        let asked = |request: &Request| Ok(Asked { request: request.clone(), switch: switch(&request.by)? });
        let requests = composition.requests.iter().map(asked).collect::<Result<_, CircuitError>>()?;
        let through = composition.leg.through.as_deref().map(switch).transpose()?;
        let (points, components, used_wires) = (Vec::new(), Vec::new(), Vec::new());
        Ok(Self { composition, load, module, requests, through, points, components, used_wires })
    }

    pub fn refuse(&self, place: &str, problem: impl Into<String>) -> CircuitError {
        let circuit = self.composition.id.clone();
        CircuitError::Invalid { circuit, place: place.to_owned(), problem: problem.into() }
    }

    /// Are these tests made?
    pub fn has(&self, group: TestGroup) -> bool {
        !self.composition.without.contains(&group)
    }

    pub fn coil_ohms(&self) -> f64 {
        self.composition.coil_ohms.unwrap_or(if self.solid_state() { 1000.0 } else { 75.0 })
    }

    /// Is the relay one without moving parts?
    pub fn solid_state(&self) -> bool {
        self.composition.switched_by == SwitchedBy::SolidStateRelay
    }

    /// Does the module drive the load itself?
    pub fn direct(&self) -> bool {
        self.composition.switched_by == SwitchedBy::ModuleOutput
    }

    /// Does the battery sag while the load works?
    pub const fn sags(&self) -> bool {
        matches!(self.load.kind, LoadKind::Starter { .. })
    }

    /// How far grounds lie lower in the drawing, because of the inputs above them.
    pub fn drop(&self) -> f64 {
        let inputs = self
            .requests
            .iter()
            .filter(|one| matches!(one.request.how, How::SwitchToGround | How::SwitchToFeed));
        2.0 * f64::from(u32::try_from(inputs.count().saturating_sub(1)).unwrap_or(0))
    }

    pub fn point(&mut self, id: &str, (x, y): (f64, f64), en: impl Into<String>, es: impl Into<String>) {
        self.place(id, (x, y), say(en, es), true);
    }

    /// A point that no lead reaches.
    pub fn inside(&mut self, id: &str, (x, y): (f64, f64), en: impl Into<String>, es: impl Into<String>) {
        self.place(id, (x, y), say(en, es), false);
    }

    fn place(&mut self, id: &str, (x, y): (f64, f64), name: Text, reachable: bool) {
        let id = id.to_owned();
        self.points.push(Point { id, name, label: None, x, y, reachable, never_load: false });
    }

    pub fn push(&mut self, part: Component) {
        self.components.push(part);
    }

    /// A joint that is there in some states only: a terminal, a test lead.
    pub fn joint(&mut self, id: &str, name: Text, ends: (&str, &str), ohms: f64, there: Conditions) {
        let kind = ComponentKind::Connection { from: ends.0.to_owned(), to: ends.1.to_owned(), ohms };
        self.push(Component { present_when: there, ..made(id, name, kind) });
    }

    /// A wire of a block, with what this vehicle's own is.
    pub fn wire(&mut self, id: &str, name: Text, ends: (&str, &str), row: &WireRow, range: (f64, f64)) {
        let kind = self.wire_kind(id, ends, row);
        self.push(Component { faults: faults::of_wire(row, range), ..made(id, name, kind) });
    }

    /// A battery cable.
    pub fn cable(&mut self, id: &str, name: Text, ends: (&str, &str), row: &WireRow, range: (f64, f64)) {
        let kind = self.wire_kind(id, ends, row);
        self.push(Component { faults: faults::of_cable(row, range), ..made(id, name, kind) });
    }

    fn wire_kind(&mut self, id: &str, (from, to): (&str, &str), row: &WireRow) -> ComponentKind {
        self.used_wires.push(id.to_owned());
        let own = self.composition.wires.get(id);
        ComponentKind::Wire {
            from: from.to_owned(),
            to: to.to_owned(),
            length_m: own.and_then(|own| own.length_m).unwrap_or(row.length_m),
            area_mm2: own.and_then(|own| own.area_mm2).unwrap_or(row.area_mm2),
            temperature_c: 25.0,
        }
    }

    /// 7.7 mohm at 10 A (published, seen), others in proportion, to a tenth of a milliohm.
    pub fn fuse(&mut self, id: &str, name: Text, ends: (&str, &str), amps: f64, faults: Vec<FaultSpec>) {
        let ohms = (770.0 / amps).round() / 10_000.0;
        let (from, to) = (ends.0.to_owned(), ends.1.to_owned());
        let kind = ComponentKind::Fuse { from, to, ohms, rating_amps: amps, renewed_when: Conditions::new() };
        self.push(Component { faults, ..made(id, name, kind) });
    }

    /// A switch of the list between two points.
    pub fn switch(&mut self, switch: &Switch, from: &str, to: &str) {
        let kind = ComponentKind::Switch {
            from: from.to_owned(),
            to: to.to_owned(),
            closed_when: switch.closed_when.clone(),
            closed_ohms: switch.closed_ohms,
        };
        let part = made(&switch.id, switch.words.part.clone(), kind);
        self.push(Component { faults: switch.faults.clone(), ..part });
    }

    /// Number of a pin in this vehicle, or what it usually is.
    pub fn pin(&self, point: &str, usual: &str) -> String {
        self.composition.pins.get(point).cloned().unwrap_or_else(|| usual.to_owned())
    }

    /// How it is said that the load is asked for.
    pub fn asking(&self) -> &Asking {
        let own = self.requests.iter().find_map(|one| one.switch.words.asking.as_ref());
        own.unwrap_or(&self.load.words.asking)
    }

    /// Conditions under which everything that has to ask does.
    pub fn asked_when(&self) -> BTreeMap<String, Vec<String>> {
        let switches = self.requests.iter().map(|one| &one.switch).chain(&self.through);
        let mut all = Conditions::new();
        switches.for_each(|switch| all.extend(switch.closed_when.clone()));
        all
    }

    /// Names in `pins` and `wires` that nothing bears.
    pub fn unused(&self) -> Option<CircuitError> {
        let point = |id: &&String| !self.points.iter().any(|point| point.id == **id);
        let wire = |id: &&String| !self.used_wires.contains(id);
        let pin = self.composition.pins.keys().find(point).map(|id| ("point", id));
        let wire = self.composition.wires.keys().find(wire).map(|id| ("wire", id));
        pin.or(wire).map(|(kind, id)| CircuitError::Unknown { kind, id: id.clone() })
    }
}

/// The technician's own words stand in both languages.
fn own_module(words: &str) -> ListedModule {
    let words = words.trim();
    let name = say(words, words);
    ListedModule { id: "module".to_owned(), name, of: say(format!("of: {words}"), format!("de: {words}")) }
}
