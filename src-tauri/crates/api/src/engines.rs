//! Prepared engines, kept in memory: an update with one more reading must not solve the whole circuit again.
//!
//! An engine borrows its circuit. Each therefore lives on a thread of its own that owns both and answers questions; when
//! it is forgotten, its thread ends.

use circuit::{Circuit, CircuitError, Diagnosis, Engine, Meter, Observation, Options};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Engines kept; a shop works on few jobs at a time.
const ENGINES: usize = 2;
/// Results kept: most actions of a job change nothing that is weighed.
const RESULTS: usize = 4;

type Answer = Result<Diagnosis, CircuitError>;

/// The engines and the newest results.
#[derive(Default)]
pub(crate) struct Engines {
    prepared: Mutex<Vec<Prepared>>,
    results: Mutex<Vec<(Asked, Answer)>>,
}

/// What decides a result.
#[derive(Clone, PartialEq)]
struct Asked {
    circuit: Circuit,
    meter: Meter,
    observations: Arc<[Observation]>,
    options: Options,
}

struct Prepared {
    circuit: Circuit,
    meter: Meter,
    questions: Sender<DiagnosisRequest>,
}

struct DiagnosisRequest {
    observations: Arc<[Observation]>,
    options: Options,
    answer: Sender<Answer>,
}

impl Engines {
    /// As `circuit::diagnose`, with what is kept.
    pub fn diagnose(
        &self,
        circuit: &Circuit,
        meter: &Meter,
        observations: &[Observation],
        options: &Options,
    ) -> Answer {
        let asked = Asked {
            circuit: circuit.clone(),
            meter: meter.clone(),
            observations: observations.into(),
            options: options.clone(),
        };
        if let Some((_, answer)) = held(&self.results).iter().find(|(known, _)| *known == asked) {
            return answer.clone();
        }
        let answer = self.ask(&asked);
        let mut results = held(&self.results);
        results.truncate(RESULTS.saturating_sub(1));
        results.insert(0, (asked, answer.clone()));
        answer
    }

    /// Asks the prepared engine. Where there is none yet, one is prepared beside, and the question is answered without:
    /// one diagnosis alone is sooner done than everything solved.
    fn ask(&self, asked: &Asked) -> Answer {
        let (send, receive) = channel();
        let (observations, options) = (Arc::clone(&asked.observations), asked.options.clone());
        let question = DiagnosisRequest { observations, options, answer: send };
        let sent = self.questions(asked).is_some_and(|questions| questions.send(question).is_ok());
        let answer = if sent { receive.recv().ok() } else { None };
        answer.unwrap_or_else(|| {
            circuit::diagnose(&asked.circuit, &asked.meter, &asked.observations, &asked.options)
        })
    }

    /// Where this circuit's engine listens; `None` when it only now begins to prepare.
    fn questions(&self, asked: &Asked) -> Option<Sender<DiagnosisRequest>> {
        let mut prepared = held(&self.prepared);
        let fits = |one: &Prepared| one.circuit == asked.circuit && one.meter == asked.meter;
        let known = prepared.iter().position(fits).map(|place| prepared.remove(place));
        let questions = known.as_ref().map(|engine| engine.questions.clone());
        if let Some(engine) = known.or_else(|| Prepared::start(asked)) {
            prepared.insert(0, engine);
        }
        prepared.truncate(ENGINES);
        questions
    }
}

impl Prepared {
    fn start(asked: &Asked) -> Option<Prepared> {
        let (questions, receive) = channel();
        let (circuit, meter, options) = (asked.circuit.clone(), asked.meter.clone(), asked.options.clone());
        let thread = std::thread::Builder::new().name("engine".to_owned());
        thread.spawn(move || answer_all(&circuit, &meter, &options, &receive)).ok()?;
        Some(Prepared { circuit: asked.circuit.clone(), meter: asked.meter.clone(), questions })
    }
}

fn answer_all(circuit: &Circuit, meter: &Meter, options: &Options, questions: &Receiver<DiagnosisRequest>) {
    let engine = Engine::new(circuit, meter, options);
    while let Ok(question) = questions.recv() {
        let answer = match &engine {
            Ok(engine) => engine.diagnose_with(&question.observations, &question.options),
            Err(error) => Err(error.clone()),
        };
        // Whoever asked may have gone.
        let _ = question.answer.send(answer);
    }
}

/// What is kept stays usable after a thread that held it ended: it is replaced whole, never half.
fn held<T>(kept: &Mutex<T>) -> MutexGuard<'_, T> {
    kept.lock().unwrap_or_else(PoisonError::into_inner)
}
