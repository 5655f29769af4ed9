//! The circuit, its pins, cautions, tests that can't be reached.

use crate::entry::{Form, PinEntry};
use crate::view::{BothLanguages, CircuitRow, JobView};
use crate::{ApiError, Workshop, show, typed};
use job::Event;
use job::event::{CautionAcknowledged, CircuitChosen, PinNoted, TestUnreachable};

impl Workshop {
    /// The library of circuits, then the shop's own.
    ///
    /// # Errors
    /// A circuit file that contradicts itself; a store that can't be read.
    pub fn circuits(&self) -> Result<Vec<CircuitRow>, ApiError> {
        let row = |c: circuit::Circuit| CircuitRow { id: c.id, title: show::both(&c.title), own: false };
        let own = self.own_circuits()?.into_iter().map(|own| CircuitRow {
            id: own.id,
            title: BothLanguages { en: own.title.clone(), es: own.title },
            own: true,
        });
        Ok(circuit::library::all()?.into_iter().map(row).chain(own).collect())
    }

    /// Chooses the circuit that is tested; its file is frozen into the record.
    ///
    /// # Errors
    /// An unknown id.
    pub fn circuit_choose(&self, form: impl Into<Form>, id: &str) -> Result<JobView, ApiError> {
        let circuit = match self.own_made(id)? {
            Some(own) => own,
            None => circuit::library::find(id)?,
        };
        let definition = serde_json::to_string(&circuit).map_err(|e| job::JobError::Event(e.to_string()))?;
        let event = Event::CircuitChosen(CircuitChosen { circuit: circuit.id, definition });
        self.act(&form.into(), |_| Ok(event))
    }

    /// Notes what was found at a pin.
    ///
    /// # Errors
    /// A connector, pin or photo that isn't there.
    pub fn pin_keep(&self, form: impl Into<Form>, entry: &PinEntry) -> Result<JobView, ApiError> {
        let event = Event::PinNoted(PinNoted {
            connector: entry.connector.clone(),
            pin: entry.pin.clone(),
            colour: typed::text("colour", &entry.colour)?.to_uppercase(),
            function: typed::text("function", &entry.function)?,
            note: typed::text("note", &entry.note)?,
            in_doubt: entry.in_doubt,
            photos: typed::photos(&entry.photos)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }

    /// Acknowledges a caution, once per job.
    ///
    /// # Errors
    /// An unknown job or caution.
    pub fn caution_acknowledge(&self, form: impl Into<Form>, caution: &str) -> Result<JobView, ApiError> {
        let caution = typed::required("caution", caution)?;
        self.act_unless_same(&form.into(), |loaded| {
            let known = loaded.job.cautions.contains(&caution);
            Ok((!known).then_some(Event::CautionAcknowledged(CautionAcknowledged { caution })))
        })
    }

    /// "Can't reach it", or can again.
    ///
    /// # Errors
    /// An unknown job or test.
    pub fn test_unreachable(
        &self,
        form: impl Into<Form>,
        test: &str,
        unreachable: bool,
    ) -> Result<JobView, ApiError> {
        let event = TestUnreachable { test: typed::required("test", test)?, unreachable };
        self.act_unless_same(&form.into(), |loaded| {
            let same = loaded.job.unreachable.contains(&event.test) == unreachable;
            Ok((!same).then_some(Event::TestUnreachable(event)))
        })
    }
}
