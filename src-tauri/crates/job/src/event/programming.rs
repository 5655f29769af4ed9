use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{COSTS, Descriptor, EVERYBODY, Field, JUDGES, MEASURED};
use evidence::Digest;
use money::Cents;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Who programs a module.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ProgrammingRoute {
    /// The shop, with its own pass-thru tool.
    OwnTool,
    /// A remote service, by appointment.
    RemoteService,
    /// A dealer, as sublet work.
    DealerSublet,
}

/// How programming ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ProgrammingOutcome {
    /// The module runs.
    Succeeded,
    /// It doesn't; it may be tried again.
    Failed,
    /// The module is beyond recovery.
    ModuleLost,
}

/// What was made sure of before an attempt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ProgrammingCheck {
    /// A maintainer holds the battery.
    MaintainerOn,
    /// The supply is in the window that the maker states.
    SupplyInWindow,
    /// The interface was hooked up the minutes before that the shop has set.
    InterfaceHookedUp,
    /// The key is where it has to be, and stays there.
    KeyReady,
    /// Doors and hood stay closed, so that nothing wakes or drains.
    DoorsClosed,
    /// The network holds.
    NetworkHolds,
}

impl ProgrammingCheck {
    /// Every check, in the order in which they are made.
    pub const ALL: [ProgrammingCheck; 6] = [
        ProgrammingCheck::MaintainerOn,
        ProgrammingCheck::SupplyInWindow,
        ProgrammingCheck::InterfaceHookedUp,
        ProgrammingCheck::KeyReady,
        ProgrammingCheck::DoorsClosed,
        ProgrammingCheck::NetworkHolds,
    ];
}

/// A supply voltage as it was written down during an attempt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VoltageAt {
    /// Minutes since it began, decimal.
    pub minute: String,
    /// Volts, decimal.
    pub volts: String,
}

/// The window that the supply has to stay in, as it was typed from the maker's information.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SupplyWindow {
    /// Lowest volts, decimal.
    pub lowest: String,
    /// Highest volts, decimal.
    pub highest: String,
}

/// Most voltages of one attempt.
pub const MOST_VOLTAGES: usize = 200;
/// Latest minute and highest volts that can be written down: ten days, and more than a 48 V system.
const MOST_MINUTES: f64 = 14_400.0;
const MOST_VOLTS: f64 = 60.0;

/// Who programs the module.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProgrammingDecided {
    /// The route that is taken.
    pub route: ProgrammingRoute,
    /// Provider: a business; empty for the own tool. Withheld, so that another supplier's packet can leave it out. Public in
    /// records of older versions.
    #[serde(default)]
    pub provider: String,
    /// Quoted amount.
    #[serde(default)]
    pub quoted: Cents,
    /// What the model expected of every route when it was decided.
    #[serde(default)]
    pub weighed: Vec<WeighedRoute>,
    /// Appointment as it was written down, without a zone. Withheld. Since there is a field with the zone, nothing new is
    /// written here.
    #[serde(default)]
    pub appointment: String,
    /// Appointment with its offset (RFC 3339). Withheld.
    #[serde(default)]
    pub appointment_at: String,
    /// Why. Withheld.
    #[serde(default)]
    pub reason: String,
}

/// A route as it was weighed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeighedRoute {
    /// Route.
    pub route: ProgrammingRoute,
    /// Expected cost.
    pub expected_cost: Cents,
    /// Expected hours, decimal.
    pub expected_hours: String,
    /// Probability of success, decimal.
    pub success: String,
}

/// What came of the programming.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProgrammingReported {
    /// How it ended.
    pub outcome: ProgrammingOutcome,
    /// Supply voltage logged, decimal volts; empty when not logged.
    #[serde(default)]
    pub supply_volts: String,
    /// Software number before.
    #[serde(default)]
    pub software_before: String,
    /// Software number after.
    #[serde(default)]
    pub software_after: String,
    /// Billed amount.
    #[serde(default)]
    pub billed: Cents,
    /// Photos of bill, charger, screen.
    #[serde(default)]
    pub photos: Vec<Digest>,
    /// Record of the attempt that was written down wrong and is corrected by this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corrects: Option<Digest>,
    /// What was made sure of beforehand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub checks: Vec<ProgrammingCheck>,
    /// Supply voltages while it ran, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub voltages: Vec<VoltageAt>,
    /// The window that the supply had to stay in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<SupplyWindow>,
}

impl ProgrammingReported {
    /// Voltages below the window; none where no window is on record.
    #[must_use]
    pub fn below_window(&self) -> usize {
        let number = |text: &str| text.parse::<f64>().ok();
        let lowest = self.window.as_ref().and_then(|window| number(&window.lowest));
        let below =
            |at: &&VoltageAt| lowest.zip(number(&at.volts)).is_some_and(|(lowest, volts)| volts < lowest);
        self.voltages.iter().filter(below).count()
    }
}

impl ProgrammingDecided {
    /// The appointment as it is known: with its offset, or as an older record has it. Empty where there is none.
    #[must_use]
    pub fn due(&self) -> &str {
        if self.appointment_at.is_empty() { &self.appointment } else { &self.appointment_at }
    }
}

impl RecordKind for ProgrammingDecided {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "programming_decided",
        &[
            Field::public("route"),
            Field::withheld("provider", EVERYBODY),
            Field::withheld("quoted", COSTS),
            Field::withheld("weighed", &[]),
            Field::withheld("appointment", MEASURED),
            Field::withheld("appointment_at", MEASURED),
            Field::withheld("reason", JUDGES),
        ],
    );

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("quoted", self.quoted)
    }
}

impl RecordKind for ProgrammingReported {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "programming_reported",
        &[
            Field::public("outcome"),
            Field::public("supply_volts"),
            Field::public("software_before"),
            Field::public("software_after"),
            Field::withheld("billed", COSTS),
            Field::public("photos"),
            Field::public("corrects"),
            Field::public("checks"),
            Field::public("voltages"),
            Field::public("window"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("billed", self.billed)?;
        if self.voltages.len() > MOST_VOLTAGES {
            return Err(Unusable::new(
                "voltages",
                format!("more than {MOST_VOLTAGES}: keep every other one"),
            ));
        }
        let mut before = -1.0;
        for at in &self.voltages {
            check::decimal("voltages", &at.minute, 0.0, MOST_MINUTES)?;
            check::decimal("voltages", &at.volts, 0.0, MOST_VOLTS)?;
            let minute: f64 = at.minute.parse().unwrap_or_default();
            if minute < before {
                return Err(Unusable::new(
                    "voltages",
                    format!("minute {} comes after a later one", at.minute),
                ));
            }
            before = minute;
        }
        let Some(window) = &self.window else { return Ok(()) };
        check::decimal("window", &window.lowest, 0.0, MOST_VOLTS)?;
        check::decimal("window", &window.highest, 0.0, MOST_VOLTS)?;
        let ends = window.lowest.parse::<f64>().ok().zip(window.highest.parse::<f64>().ok());
        match ends.is_some_and(|(lowest, highest)| lowest < highest) {
            true => Ok(()),
            false => Err(Unusable::new("window", "its lowest volts are not below its highest".to_owned())),
        }
    }
}
