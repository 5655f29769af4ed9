//! Plans of drawings, kept in memory: where a circuit's parts lie doesn't change with a reading.

use std::sync::{Arc, Mutex, PoisonError};

use circuit::Circuit;
use drawing::Plan;

/// Plans kept; a shop works on few jobs at a time.
const PLANS: usize = 4;

/// The newest plans, each with its circuit.
#[derive(Default)]
pub(crate) struct Plans(Mutex<Vec<(Circuit, Arc<Plan>)>>);

impl Plans {
    /// A circuit's plan, made where there is none yet.
    pub fn of(&self, circuit: &Circuit) -> Arc<Plan> {
        if let Some(plan) = self.known(circuit) {
            return plan;
        }
        // Made without holding the others up.
        let plan = Arc::new(Plan::of(circuit));
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.truncate(PLANS.saturating_sub(1));
        kept.insert(0, (circuit.clone(), Arc::clone(&plan)));
        plan
    }

    fn known(&self, circuit: &Circuit) -> Option<Arc<Plan>> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.iter().find(|(known, _)| known == circuit).map(|(_, plan)| Arc::clone(plan))
    }
}
