//! The three programming routes with this shop's assumptions, for one job.
//!
//! Every number is a judgement until the shop's own closed jobs say better; a quote replaces the assumed price.

use crate::event::ProgrammingRoute;
use money::programming::{CommonRates, Route, RouteKind};
use money::{Cents, Hours, MoneyError, Percent};

impl From<RouteKind> for ProgrammingRoute {
    fn from(kind: RouteKind) -> ProgrammingRoute {
        match kind {
            RouteKind::Own => ProgrammingRoute::OwnTool,
            RouteKind::Remote => ProgrammingRoute::RemoteService,
            RouteKind::Sublet => ProgrammingRoute::DealerSublet,
        }
    }
}

/// What an hour costs. The technician's hour counts at 60 % of the labour rate (what other work would bring in net of its
/// costs), a blocked bay at 5 %, the customer's waiting at 4 % (judgement).
pub fn rates(labour_rate: Cents) -> CommonRates {
    let share = |percent: i64| Cents(labour_rate.0.saturating_mul(percent) / 100);
    CommonRates { technician_hour: share(60), bay_hour: share(5), customer_hour: share(4) }
}

/// The three routes. `part_price` is the price of the module: what a lost module costs again.
///
/// # Errors
/// [`MoneyError`] when a number is out of its range.
pub fn three(part_price: Cents) -> Result<Vec<Route>, MoneyError> {
    let hours = |thousandths: u32| Hours::from_thousandths(thousandths);
    let percent = |parts: u32| Percent::from_parts(parts);
    Ok(vec![
        Route {
            kind: RouteKind::Own,
            provider: String::new(),
            cash: Cents(4_000),
            cash_retry: Cents(0),
            labour_hours: hours(1_500),
            wait: hours(500),
            wait_retry: hours(500),
            success: percent(88_000)?,
            recovery: percent(85_000)?,
            attempts: 2,
            bay: percent(100_000)?,
            loss: part_price,
            loss_hours: hours(24_000),
        },
        Route {
            kind: RouteKind::Remote,
            provider: String::new(),
            cash: Cents(14_500),
            cash_retry: Cents(0),
            labour_hours: hours(750),
            wait: hours(5_000),
            wait_retry: hours(3_000),
            success: percent(96_000)?,
            recovery: percent(94_000)?,
            attempts: 2,
            bay: percent(100_000)?,
            loss: part_price,
            loss_hours: hours(24_000),
        },
        Route {
            kind: RouteKind::Sublet,
            provider: String::new(),
            cash: Cents(34_000),
            cash_retry: Cents(0),
            labour_hours: hours(500),
            wait: hours(20_000),
            wait_retry: hours(8_000),
            success: percent(98_500)?,
            recovery: percent(97_000)?,
            attempts: 2,
            bay: percent(0)?,
            loss: Cents(15_000),
            loss_hours: hours(16_000),
        },
    ])
}
