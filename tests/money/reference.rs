//! The reference files and what they hold.

use std::collections::BTreeMap;

use money::Cents;
use money::programming::{CommonRates, Route, RouteKind, SuccessBelief};

/// Routes in the order of the file.
pub const NAMES: [&str; 3] = ["own", "remote", "sublet"];

/// Keys and values of a file.
pub struct Reference(BTreeMap<&'static str, &'static str>);

impl Reference {
    pub fn read() -> Reference {
        let files = [include_str!("programming-routes.csv"), include_str!("tool-purchase.csv")];
        let rows = files.into_iter().flat_map(|file| file.lines().skip(1));
        let cells = rows.map(|row| row.split(',').collect::<Vec<_>>());
        Reference(cells.map(|cells| (cells[1], cells[2])).collect())
    }

    pub fn text(&self, key: &str) -> &'static str {
        self.0.get(key).unwrap_or_else(|| panic!("no {key} in the reference files"))
    }

    pub fn number(&self, key: &str) -> f64 {
        self.text(key).parse().unwrap()
    }

    pub fn rates(&self) -> CommonRates {
        let cents = |name: &str| self.text(&format!("common.{name}")).parse::<Cents>().unwrap();
        CommonRates {
            technician_hour: cents("technician_hour"),
            bay_hour: cents("bay_hour"),
            customer_hour: cents("customer_hour"),
        }
    }

    pub fn route(&self, name: &str) -> Route {
        let text = |field: &str| self.text(&format!("{name}.{field}"));
        let kinds = [RouteKind::Own, RouteKind::Remote, RouteKind::Sublet];
        let kind = NAMES.iter().zip(kinds).find(|(n, _)| **n == name).unwrap().1;
        Route {
            kind,
            provider: name.into(),
            cash: text("cash").parse().unwrap(),
            cash_retry: text("cash_retry").parse().unwrap(),
            labor_hours: text("labour_hours").parse().unwrap(),
            wait: text("wait").parse().unwrap(),
            wait_retry: text("wait_retry").parse().unwrap(),
            success: text("success").parse().unwrap(),
            recovery: text("recovery").parse().unwrap(),
            attempts: text("attempts").parse().unwrap(),
            bay: text("bay").parse().unwrap(),
            loss: text("loss").parse().unwrap(),
            loss_hours: text("loss_hours").parse().unwrap(),
        }
    }

    pub fn belief(&self) -> SuccessBelief {
        let count = |name: &str| self.text(&format!("belief.{name}")).parse::<u32>().unwrap();
        SuccessBelief {
            assumed_successes: count("assumed_successes"),
            assumed_failures: count("assumed_failures"),
            successes: count("successes"),
            failures: count("failures"),
        }
    }

    /// Within one in a million, as the file is rounded.
    pub fn agrees(&self, key: &str, got: f64) {
        close(got, self.number(key), 1e-6, key);
    }
}

/// Relative agreement.
pub fn close(got: f64, want: f64, relative: f64, what: &str) {
    assert!((got - want).abs() <= relative * want.abs(), "{what}: got {got}, reference {want}");
}
