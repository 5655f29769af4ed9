//! From a list entry to things, light and camera.

mod charger;
mod dash;
mod label;
mod meter;
mod paper;
mod part;
mod setting;
mod socket;
mod vehicle;
mod wire;

use crate::camera::Camera;
use crate::chance::Chance;
use crate::light::Light;
use crate::list::Scene;
use crate::world::World;

/// Ready to be photographed.
pub struct Shot {
    pub world: World,
    pub light: Light,
    pub camera: Camera,
    pub exposure: f32,
}

/// Builds the scene; `chance` varies camera, light and clutter.
pub fn build(scene: &Scene, chance: &mut Chance) -> Shot {
    match scene {
        Scene::Meter(meter) => meter::shot(meter, chance),
        Scene::Socket(socket) => socket::shot(socket, chance),
        Scene::WireCorroded(wire) => wire::shot(wire, true, chance),
        Scene::ConnectorClean(wire) => wire::shot(wire, false, chance),
        Scene::VinLabel { vin, maker } => label::shot(vin, maker, chance),
        Scene::Vehicle(vehicle) => vehicle::shot(vehicle, chance),
        Scene::Odometer { value, unit } => dash::shot(value, unit, chance),
        Scene::Part { number, name, supplier } => part::shot(number, name, supplier, chance),
        Scene::Receipt(paper) => paper::receipt(paper, chance),
        Scene::Bill(paper) => paper::bill(paper, chance),
        Scene::ComplaintNote { text } => paper::note(text, chance),
        Scene::Charger { volts } => charger::shot(volts, chance),
    }
}
