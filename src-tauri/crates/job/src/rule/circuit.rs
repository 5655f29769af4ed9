//! What pins, tests and cautions demand.

use crate::Job;
use crate::event::{CautionAcknowledged, PinNoted, TestUnreachable};
use crate::refused::{Permission, Refused};

pub(super) fn pin(job: &Job, noted: &PinNoted) -> Permission {
    let circuit = job.circuit_file().ok_or_else(|| Refused::because("choose_circuit_first"))?;
    let known = circuit.connectors.iter().any(|connector| {
        connector.id == noted.connector && connector.pins.iter().any(|pin| pin.number == noted.pin)
    });
    let unknown = || Refused::unknown("pin", &format!("{} {}", noted.connector, noted.pin));
    if known { Ok(()) } else { Err(unknown()) }
}

pub(super) fn test(job: &Job, event: &TestUnreachable) -> Permission {
    let circuit = job.circuit_file().ok_or_else(|| Refused::because("choose_circuit_first"))?;
    let known = circuit.tests.iter().any(|test| test.id == event.test);
    if known { Ok(()) } else { Err(Refused::unknown("test", &event.test)) }
}

pub(super) fn caution(event: &CautionAcknowledged) -> Permission {
    if crate::cautions::is_known(&event.caution) {
        Ok(())
    } else {
        Err(Refused::unknown("caution", &event.caution))
    }
}
