//! Tests a technician can make.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::compared::Compared;
use crate::file::component::Need;
use crate::file::observation::{Condition, MeasureMode, Observation, ObservedValue, Present, State};
use crate::file::text::Text;

/// Sort of test, for the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TestKind {
    /// With the meter.
    Meter,
    /// With the eyes.
    Look,
    /// A question with yes or no.
    YesNo,
}

/// One test.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Test {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// Meter mode, look or question.
    pub mode: MeasureMode,
    /// Red lead on.
    #[serde(default)]
    pub red: Option<String>,
    /// Black lead on.
    #[serde(default)]
    pub black: Option<String>,
    /// State to bring about; variables left out take their default.
    #[serde(default)]
    pub state: State,
    /// Substitute load.
    #[serde(default)]
    pub load: Option<String>,
    /// Minutes it takes.
    pub minutes: f64,
    /// Codes of the cautions to show first: `job::cautions` lists them.
    #[serde(default)]
    pub cautions: Vec<String>,
    /// What must be proven first.
    #[serde(default)]
    pub requires: Vec<Requirement>,
    /// What a good result is, for readings.
    #[serde(default)]
    pub limits: Option<Limits>,
    /// Which value of a minimum/maximum recording it is about.
    #[serde(default, skip_serializing_if = "Compared::is_value")]
    pub compares: Compared,
    /// What is done to the circuit meanwhile, so that a fault that comes and goes shows. Such a test is never chosen for what it
    /// tells: it stands beside the others for when the fault hides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub condition: Option<Condition>,
    /// What is asked, for looks and questions.
    #[serde(default)]
    pub question: Option<Question>,
}

impl Test {
    /// A test with nothing but its name, mode, state and minutes.
    pub(crate) fn blank(
        id: impl Into<String>,
        name: Text,
        mode: MeasureMode,
        state: State,
        minutes: f64,
    ) -> Self {
        Self {
            id: id.into(),
            name,
            mode,
            red: None,
            black: None,
            state,
            load: None,
            minutes,
            cautions: Vec::new(),
            requires: Vec::new(),
            limits: None,
            compares: Compared::Value,
            condition: None,
            question: None,
        }
    }

    /// Meter, look or question.
    #[must_use]
    pub const fn kind(&self) -> TestKind {
        match self.mode {
            MeasureMode::Look => TestKind::Look,
            MeasureMode::YesNo => TestKind::YesNo,
            _ => TestKind::Meter,
        }
    }
}

impl Observation {
    /// What a test gave: its leads, mode, state, load and condition, seen while the complaint was there, at a placement of its
    /// own.
    #[must_use]
    pub fn at(test: &Test, id: impl Into<String>, value: ObservedValue, placement: u32) -> Self {
        Self {
            id: id.into(),
            test: Some(test.id.clone()),
            mode: test.mode,
            red: test.red.clone(),
            black: test.black.clone(),
            value,
            state: test.state.clone(),
            load: test.load.clone(),
            condition: test.condition,
            complaint: Present::Yes,
            placement,
            ..Self::default()
        }
    }
}

/// Another test that must have been done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Requirement {
    /// Which.
    pub test: String,
    /// With what result.
    pub result: Required,
}

/// Result that is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Required {
    /// Within its limits (readings), or as a healthy circuit answers (questions, looks).
    Good,
    /// Done, whatever came out.
    Done,
}

/// Limits of a good reading, in the unit of the mode.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Not less than.
    #[serde(default)]
    pub min: Option<f64>,
    /// Not more than.
    #[serde(default)]
    pub max: Option<f64>,
    /// Where the limit comes from.
    pub source: String,
}

impl Limits {
    /// Within the limits?
    #[must_use]
    pub fn contain(&self, reading: f64) -> bool {
        self.min.is_none_or(|min| reading >= min) && self.max.is_none_or(|max| reading <= max)
    }
}

/// What a yes/no test asks, with how often the answer is wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// What is asked about.
    #[serde(rename = "happening")]
    pub behavior: Behavior,
    /// Chance of "no" although it is so.
    pub miss: f64,
    /// Chance of "yes" although it isn't.
    pub false_alarm: f64,
}

/// What can be asked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Behavior {
    /// The coil pulls in (click).
    CoilPullsIn {
        /// Coil id.
        coil: String,
    },
    /// A part has at least so many volts across it and is able to work (motor turns, lamp lights, horn sounds).
    PartWorks {
        /// Part id.
        component: String,
        /// Volts.
        at_least_volts: f64,
    },
    /// The module sees what it needs at two of its points (scan-tool value).
    ModuleSees {
        /// All of these must be met (its supply too, or the scan tool gets no answer).
        needs: Vec<Need>,
    },
    /// A module counts a signal: at least so many AC volts between two of its points.
    AlternatingSeen {
        /// Its supply, and whatever else must be met.
        needs: Vec<Need>,
        /// One point.
        red: String,
        /// The other.
        black: String,
        /// Volts (rms).
        at_least_volts: f64,
    },
    /// More current than this flows through a part (a battery that goes flat while parked).
    CarriesMoreThan {
        /// Part id.
        component: String,
        /// Ampere.
        amps: f64,
    },
    /// All that a module wants before it commands this driver is met, as its data on a scan tool show (no inhibit, no
    /// other code that withholds it, no software update open for this complaint).
    ConditionsMet {
        /// Driver id.
        component: String,
    },
    /// Damage can be seen on one of these parts.
    DamageSeen {
        /// Part ids.
        components: Vec<String>,
    },
}
