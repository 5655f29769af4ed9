//! What the technician saw: one reading or one answer, with everything that decides its meaning.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Stands where the value of a state variable stands: nobody knows in which position it was.
pub const UNKNOWN: &str = "unknown";

/// State variable name → value, such as `key` → `on`. Variables left out take their default; with the value `unknown` every
/// position counts, each with the same chance.
pub type State = BTreeMap<String, String>;

/// How it was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MeasureMode {
    /// DC volts, high input resistance.
    VoltsDc,
    /// DC volts, low input resistance.
    VoltsLowImpedance,
    /// Ohms, circuit not fed.
    Ohms,
    /// DC amperes through the meter. It takes the place of the fuse, wire, connection or switch that joins its two
    /// points, which is taken out for it.
    Amps,
    /// DC millivolts: the small drop across a fuse or a joint, in the meter's own range for it.
    MillivoltsDc,
    /// DC amperes by a clamp around the one part that joins the two points; positive from red to black.
    AmpsClamp,
    /// Share of the time the voltage is high, percent. Over-limit stands for a display without a duty (no pulses).
    Duty,
    /// AC volts (rms), as a winding gives them past which a toothed wheel turns.
    VoltsAc,
    /// Frequency of those, hertz. Over-limit stands for a display without one (too few volts).
    Hertz,
    /// Ohms by ear, circuit not fed: yes = the meter beeps, which says less than its threshold and no more. A test asks for ohms; a
    /// beep may answer it.
    Continuity,
    /// A look at a part: yes = damage found.
    Look,
    /// A question about what the circuit does: a click, a motor that runs, a value in the scan tool.
    YesNo,
}

/// What came out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ObservedValue {
    /// A number in SI units (V, ohm, A).
    Number(f64),
    /// The display showed over-limit ("OL").
    OverLimit,
    /// Yes.
    Yes,
    /// No.
    No,
}

/// What was done to the circuit while it was read, so that a fault that comes and goes shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Condition {
    /// Harness or connector moved.
    Wiggled,
    /// Warmed.
    Heated,
    /// Cooled.
    Cooled,
}

/// Was the complaint there at that moment?
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Present {
    /// The fault showed while this was observed.
    Yes,
    /// The circuit worked while this was observed.
    No,
    /// Nobody looked.
    Unknown,
}

/// One reading or answer. Order in the list is order in time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Observation {
    /// Caller's own name for it; comes back in results.
    pub id: String,
    /// The circuit's test it belongs to. Needed for looks and questions; for readings it may be absent.
    pub test: Option<String>,
    /// Meter mode, look or question.
    pub mode: MeasureMode,
    /// Point under the red lead.
    pub red: Option<String>,
    /// Point under the black lead.
    pub black: Option<String>,
    /// What was seen.
    pub value: ObservedValue,
    /// Key, relay, connector, request.
    #[serde(default)]
    pub state: State,
    /// Substitute load in place, by its id in the circuit.
    #[serde(default)]
    pub load: Option<String>,
    /// Complaint present at this moment?
    pub complaint: Present,
    /// Number that changes each time the leads were placed anew. Repeats at one placement count once.
    pub placement: u32,
    /// Name of the meter it was taken with; absent = the job's meter. Another meter's name must be among the options'.
    #[serde(default)]
    pub meter: Option<String>,
    /// Highest value that the meter's range shows, in the unit of the mode (V, ohm, A, percent): over-limit then means "more
    /// than that", no more. Absent = the meter chooses its range by itself, up to its own limit.
    #[serde(default)]
    pub range: Option<f64>,
    /// Lowest value of a minimum/maximum recording, beside the value. A test says which of them it is about.
    #[serde(default)]
    pub lowest: Option<f64>,
    /// Highest value of such a recording.
    #[serde(default)]
    pub highest: Option<f64>,
    /// What was done to the circuit while it was read.
    #[serde(default)]
    pub condition: Option<Condition>,
    /// Pin under the red lead, instead of a point: number of a pin in doubt.
    #[serde(default)]
    pub red_pin: Option<String>,
    /// Pin under the black lead, instead of a point.
    #[serde(default)]
    pub black_pin: Option<String>,
}

impl Observation {
    /// The range that decides what over-limit means. A number is a number in any range.
    pub(crate) fn over(&self) -> Option<f64> {
        self.range.filter(|_| self.value == ObservedValue::OverLimit)
    }
}

impl Default for Observation {
    /// A question answered "no" that names no test: something to fill in.
    fn default() -> Self {
        Self {
            id: String::new(),
            test: None,
            mode: MeasureMode::YesNo,
            red: None,
            black: None,
            value: ObservedValue::No,
            state: State::new(),
            load: None,
            complaint: Present::Unknown,
            placement: 0,
            meter: None,
            range: None,
            lowest: None,
            highest: None,
            condition: None,
            red_pin: None,
            black_pin: None,
        }
    }
}
