//! What a shop has set about programming.

use crate::event::ProgrammingRoute;
use money::{Cents, Hours, Marks, MoneyError, Percent};
use serde::{Deserialize, Serialize};

/// What a shop has set for one route; what it left open is as judged.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct RouteSetting {
    /// The shop can't have it.
    pub unavailable: bool,
    /// Who does it: a business.
    pub provider: String,
    /// Paid for the first attempt.
    pub cash: Option<Cents>,
    /// Paid again for each further attempt.
    pub cash_retry: Option<Cents>,
    /// Hours that the technician is tied up in each attempt.
    pub labor_hours: Option<Hours>,
    /// Hours until the first attempt starts.
    pub wait: Option<Hours>,
    /// Hours until each further attempt starts.
    pub wait_retry: Option<Hours>,
    /// Chance that one attempt succeeds, before the shop's own jobs are counted.
    pub success: Option<Percent>,
}

/// What a shop has set about programming.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct ProgrammingSettings {
    /// The shop's own tool.
    pub own_tool: RouteSetting,
    /// A remote service.
    pub remote_service: RouteSetting,
    /// A dealer, as sublet work.
    pub dealer_sublet: RouteSetting,
    /// Price of a module while a job says none.
    pub module: Option<Cents>,
    /// Minutes before the appointment at which the interface is hooked up.
    pub hook_up_minutes: Option<u32>,
}

/// Minutes before an appointment at which the interface is hooked up, while the shop sets none (common practice: logging in
/// takes 15 to 20).
pub const HOOK_UP_MINUTES: u32 = 30;
/// Most of them that can be set: half a day.
const MOST_MINUTES: u32 = 720;

/// Longest time of a route that can be set, in thousandths of an hour: 1,000 hours.
const MOST_HOURS: u32 = 1_000_000;

impl ProgrammingSettings {
    /// What is set for a route.
    #[must_use]
    pub fn of(&self, route: ProgrammingRoute) -> &RouteSetting {
        match route {
            ProgrammingRoute::OwnTool => &self.own_tool,
            ProgrammingRoute::RemoteService => &self.remote_service,
            ProgrammingRoute::DealerSublet => &self.dealer_sublet,
        }
    }

    /// Minutes before an appointment at which the interface is hooked up, set or judged.
    #[must_use]
    pub fn hook_up_minutes(&self) -> u32 {
        self.hook_up_minutes.unwrap_or(HOOK_UP_MINUTES)
    }

    /// Sets the minutes as they were typed; nothing typed puts the judgment back.
    ///
    /// # Errors
    /// What is no whole number from 1 to 720.
    pub fn set_hook_up(&mut self, typed: &str) -> Result<(), MoneyError> {
        keep(&mut self.hook_up_minutes, typed, |typed| crate::tool::count(typed, MOST_MINUTES))
    }

    /// The same, to be changed.
    pub fn of_mut(&mut self, route: ProgrammingRoute) -> &mut RouteSetting {
        match route {
            ProgrammingRoute::OwnTool => &mut self.own_tool,
            ProgrammingRoute::RemoteService => &mut self.remote_service,
            ProgrammingRoute::DealerSublet => &mut self.dealer_sublet,
        }
    }
}

impl RouteSetting {
    /// Sets a number as it was typed, an amount with the marks of the shop's region; nothing typed puts the judgment back.
    ///
    /// # Errors
    /// What can't be read, is below zero or out of range; `None` for a name that is no number of a route.
    pub fn set(&mut self, name: &str, typed: &str, home: Option<Marks>) -> Option<Result<(), MoneyError>> {
        let amount = |typed: &str| Cents::price_at_home(typed, home);
        Some(match name {
            "cash" => keep(&mut self.cash, typed, amount),
            "cash_retry" => keep(&mut self.cash_retry, typed, amount),
            "labor_hours" => keep(&mut self.labor_hours, typed, hours),
            "wait" => keep(&mut self.wait, typed, hours),
            "wait_retry" => keep(&mut self.wait_retry, typed, hours),
            "success" => keep(&mut self.success, typed, |typed| typed.parse()),
            _ => return None,
        })
    }
}

fn hours(typed: &str) -> Result<Hours, MoneyError> {
    let read: Hours = typed.parse()?;
    if read.thousandths() <= MOST_HOURS {
        return Ok(read);
    }
    let most = Hours::from_thousandths(MOST_HOURS).to_string();
    Err(MoneyError::OverLimit { text: typed.to_owned(), most })
}

/// Keeps what was typed; an error leaves what was there.
pub(crate) fn keep<T>(
    place: &mut Option<T>,
    typed: &str,
    read: impl Fn(&str) -> Result<T, MoneyError>,
) -> Result<(), MoneyError> {
    *place = if typed.trim().is_empty() { None } else { Some(read(typed.trim())?) };
    Ok(())
}
