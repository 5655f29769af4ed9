//! Parts of a circuit.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::fault::FaultSpec;
use crate::file::text::Text;

/// State variable → values that satisfy it; all variables must be satisfied. Empty = always.
pub type Conditions = BTreeMap<String, Vec<String>>;

/// One part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Component {
    /// Short name, unique among the parts.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// Name in the drawing: at most two lines of ten letters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<Text>,
    /// What it is.
    pub kind: ComponentKind,
    /// The part is in the circuit only in these states (relay fitted, connector plugged in).
    #[serde(default)]
    pub present_when: Conditions,
    /// How much healthy specimens differ, ± percent (95 %).
    #[serde(default)]
    pub tolerance_percent: f64,
    /// The ways it fails.
    #[serde(default)]
    pub faults: Vec<FaultSpec>,
}

/// What a part is. Resistances in ohm, lengths in m, areas in mm², volts, amperes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum ComponentKind {
    /// Battery with internal resistance.
    Battery {
        /// Positive post.
        positive: String,
        /// Negative post.
        negative: String,
        /// Open-circuit volts.
        volts: f64,
        /// How much healthy batteries differ, volts (one standard deviation).
        volts_spread: f64,
        /// Internal resistance, ohm.
        internal_ohms: f64,
        /// Other volts in other states (engine running).
        #[serde(default)]
        volts_when: Vec<VoltsWhen>,
    },
    /// Fuse; blows above twice its rating.
    Fuse {
        /// Feed side.
        from: String,
        /// Load side.
        to: String,
        /// Cold resistance.
        ohms: f64,
        /// Rating.
        rating_amps: f64,
        /// States in which a new one is fitted in its place: in all others one that blew before is still blown.
        #[serde(default)]
        renewed_when: Conditions,
    },
    /// Copper wire.
    Wire {
        /// One end.
        from: String,
        /// Other end.
        to: String,
        /// Length.
        length_m: f64,
        /// Cross-section.
        area_mm2: f64,
        /// Conductor temperature, °C.
        temperature_c: f64,
    },
    /// Terminal, splice, ground point, strap.
    Connection {
        /// One side.
        from: String,
        /// Other side.
        to: String,
        /// Healthy resistance.
        ohms: f64,
    },
    /// Switch.
    Switch {
        /// One side.
        from: String,
        /// Other side.
        to: String,
        /// States in which it is closed.
        closed_when: Conditions,
        /// Resistance when closed.
        closed_ohms: f64,
    },
    /// Relay or solenoid coil.
    Coil {
        /// One end.
        from: String,
        /// Other end.
        to: String,
        /// Resistance.
        ohms: f64,
        /// Volts at which it pulls in.
        pull_in_volts: f64,
        /// Volts below which it drops out.
        drop_out_volts: f64,
    },
    /// Contact moved by a coil.
    Contact {
        /// One side.
        from: String,
        /// Other side.
        to: String,
        /// The coil's id.
        coil: String,
        /// Closed while the coil is at rest (a break contact).
        #[serde(default)]
        closed_at_rest: bool,
        /// Resistance when closed.
        ohms: f64,
    },
    /// Electronic switch between a supply and its output.
    HighSideDriver {
        /// Supply inside the module.
        supply: String,
        /// Output.
        output: String,
        /// Module ground inside.
        ground: String,
        /// On-resistance.
        on_ohms: f64,
        /// Current limit.
        limit_amps: f64,
        /// States in which it is commanded.
        on_when: Conditions,
        /// What else its module needs to see before it switches on.
        #[serde(default)]
        needs: Vec<Need>,
        /// States in which a scan tool commands it, whatever is asked for; of its needs only those of its supply and
        /// of the module's own draw count then.
        #[serde(default)]
        forced_when: Conditions,
        /// Off-state pull-up to the supply.
        #[serde(default)]
        off_pull_up_ohms: Option<f64>,
        /// Off-state pull-down to ground.
        #[serde(default)]
        off_pull_down_ohms: Option<f64>,
        /// Share of the time it is on while commanded (PWM), above 0 and below 1; absent = on all the time. Such an
        /// output is solved as its average, with a coil or motor that keeps its current flowing (freewheel diode).
        #[serde(default)]
        duty: Option<f64>,
    },
    /// Electronic switch between its output and ground.
    LowSideDriver {
        /// Supply inside the module.
        supply: String,
        /// Output.
        output: String,
        /// Module ground inside.
        ground: String,
        /// On-resistance.
        on_ohms: f64,
        /// Current limit.
        limit_amps: f64,
        /// States in which it is commanded.
        on_when: Conditions,
        /// What else its module needs to see before it switches on.
        #[serde(default)]
        needs: Vec<Need>,
        /// States in which a scan tool commands it, whatever is asked for; of its needs only those of its supply and
        /// of the module's own draw count then.
        #[serde(default)]
        forced_when: Conditions,
        /// Off-state pull-up to the supply.
        #[serde(default)]
        off_pull_up_ohms: Option<f64>,
        /// Off-state pull-down to ground.
        #[serde(default)]
        off_pull_down_ohms: Option<f64>,
        /// Share of the time it is on while commanded (PWM), above 0 and below 1; absent = on all the time. Such an
        /// output is solved as its average, with a coil or motor that keeps its current flowing (freewheel diode).
        #[serde(default)]
        duty: Option<f64>,
        /// Where the load's current goes round to while a pulsed driver is off: the load's feed, when a diode lies
        /// across it; absent = the module's supply.
        #[serde(default)]
        freewheel: Option<String>,
    },
    /// Lamp: its hot resistance at 12 V, and its cold one where that matters.
    Lamp {
        /// One side.
        from: String,
        /// Other side.
        to: String,
        /// Hot resistance.
        ohms: f64,
        /// Cold resistance, as in ohms mode (about a tenth); absent = the hot one throughout.
        #[serde(default)]
        cold_ohms: Option<f64>,
    },
    /// Motor, as its resistance while working.
    Motor {
        /// Positive side.
        from: String,
        /// Negative side.
        to: String,
        /// Volts over amperes while it works at 12 V.
        ohms: f64,
        /// Resistance while it stands still (ohms mode, jammed); absent = as while it works.
        #[serde(default)]
        stalled_ohms: Option<f64>,
    },
    /// Diode: leakage below its forward drop, a small resistance above it.
    Diode {
        /// Anode.
        from: String,
        /// Cathode.
        to: String,
        /// Forward drop, volts.
        drop_volts: f64,
        /// Resistance beyond the drop.
        on_ohms: f64,
        /// Resistance below the drop and backwards.
        off_ohms: f64,
    },
    /// Thermistor whose resistance falls with heat: R = R25·exp(β·(1/T − 1/298.15 K)).
    Thermistor {
        /// One side.
        from: String,
        /// Other side.
        to: String,
        /// Resistance at 25 °C.
        ohms_25: f64,
        /// β, kelvin.
        beta_kelvin: f64,
        /// Its temperature, °C.
        temperature_c: f64,
    },
    /// Source that holds its volts up to a current limit and can only push: the 5 V reference of a module, an
    /// alternator with its regulator.
    RegulatedSupply {
        /// Output.
        output: String,
        /// Its ground.
        ground: String,
        /// Volts it holds.
        volts: f64,
        /// Resistance behind them.
        ohms: f64,
        /// Current limit.
        limit_amps: f64,
        /// What it needs to see before it works.
        #[serde(default)]
        needs: Vec<Need>,
    },
    /// Something that draws the same current at any volts above the least it works with.
    CurrentDraw {
        /// Positive side.
        from: String,
        /// Negative side.
        to: String,
        /// Current.
        amps: f64,
        /// Volts from which it draws all of it.
        least_volts: f64,
    },
    /// Two-wire magnetic pick-up: a winding beside a toothed wheel, which gives AC volts while the wheel is turned. For DC it is
    /// its resistance.
    PickUp {
        /// One side.
        from: String,
        /// Other side.
        to: String,
        /// Resistance of the winding.
        ohms: f64,
        /// AC volts (rms) that it gives at the speed the tests ask for, with nothing connected.
        volts_ac: f64,
        /// How far they lie around that, ± percent (95 %): no hand turns a wheel at one speed.
        volts_ac_percent: f64,
        /// Teeth a second at that speed.
        hertz: f64,
        /// States in which the wheel is turned.
        turned_when: Conditions,
    },
    /// Resistor.
    Resistor {
        /// One side.
        from: String,
        /// Other side.
        to: String,
        /// Resistance.
        ohms: f64,
    },
    /// What a module draws for itself.
    SupplyLoad {
        /// Supply inside the module.
        from: String,
        /// Ground inside the module.
        to: String,
        /// Volts over amperes.
        ohms: f64,
    },
}

/// Battery volts in certain states.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VoltsWhen {
    /// The states.
    pub when: Conditions,
    /// Volts.
    pub volts: f64,
}

/// Volts a module must see between two of its points.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Need {
    /// Positive point.
    pub red: String,
    /// Negative point.
    pub black: String,
    /// Not less than, volts.
    #[serde(default)]
    pub at_least: Option<f64>,
    /// Not more than, volts.
    #[serde(default)]
    pub at_most: Option<f64>,
}
