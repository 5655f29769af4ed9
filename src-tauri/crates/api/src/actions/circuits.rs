//! The circuit, its pins, cautions, tests that can't be reached.

use crate::circuit_search::{self, CircuitSearch, Words};
use crate::entry::{CircuitsEntry, Form, PinEntry};
use crate::view::{BothLanguages, CircuitRow, JobView};
use crate::{ApiError, Workshop, show, typed};
use job::Event;
use job::event::{CautionAcknowledged, CircuitChosen, PinNoted, TestUnreachable};

impl Workshop {
    /// The library of circuits, then the shop's own; with words to search for, only those that have them. What the job's
    /// complaint is about comes first.
    ///
    /// # Errors
    /// An unknown job; a circuit file that contradicts itself; a store that can't be read.
    pub fn circuits(&self, entry: &CircuitsEntry) -> Result<Vec<CircuitRow>, ApiError> {
        let library = circuit::library::all()?;
        let mut all: Vec<(CircuitRow, Words)> = library.iter().map(listed).collect();
        for own in self.own_circuits()? {
            // One that can't be made any more stays in the list under its title: choosing it says what is wrong.
            let made = self.own_made(&own.id).ok().flatten();
            let (row, words) = made.as_ref().map_or_else(|| titled(&own.id, &own.title), listed);
            all.push((CircuitRow { own: true, ..row }, words));
        }
        let (rows, words): (Vec<CircuitRow>, Vec<Words>) = all.into_iter().unzip();
        let search = CircuitSearch::of(words);
        let about =
            if entry.job.is_empty() { Vec::new() } else { search.about(&self.complaint_of(&entry.job)?) };
        let rest = search.typed(&entry.query);
        let first = about.iter().filter(|place| rest.contains(place));
        let then = rest.iter().filter(|place| !about.contains(place));
        let row =
            |place: &usize| Some(CircuitRow { fits: about.contains(place), ..rows.get(*place)?.clone() });
        Ok(first.chain(then).filter_map(row).collect())
    }

    fn complaint_of(&self, job: &str) -> Result<String, ApiError> {
        Ok(self.load(job)?.job.intake.complaint.clone().unwrap_or_default())
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

fn listed(circuit: &circuit::Circuit) -> (CircuitRow, Words) {
    let row = CircuitRow {
        id: circuit.id.clone(),
        title: show::both(&circuit.title),
        complaint: show::both(&circuit.complaint.name),
        own: false,
        fits: false,
    };
    (row, circuit_search::words_of(circuit))
}

fn titled(id: &str, title: &str) -> (CircuitRow, Words) {
    let row = CircuitRow {
        id: id.to_owned(),
        title: BothLanguages { en: title.to_owned(), es: title.to_owned() },
        complaint: BothLanguages::default(),
        own: true,
        fits: false,
    };
    (row, circuit_search::words_of_title(title))
}
