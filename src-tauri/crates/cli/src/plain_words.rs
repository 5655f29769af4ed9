//! A diagnosis in plain sentences, English or Spanish, each with its number in brackets.

use ::circuit::{
    CauseShare, Cheaper, Circuit, Diagnosis, DoubtCode, ModuleVerdict, Overturn, PossibleResult, Reason,
    TestOrBuy, Text,
};

/// Language of the sentences.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Language {
    /// English.
    En,
    /// Spanish.
    Es,
}

/// Causes below this aren't spoken of, unless they were ruled out.
const WORTH_SAYING: f64 = 0.01;

/// The whole result, sentence by sentence.
pub fn sentences(circuit: &Circuit, diagnosis: &Diagnosis, language: Language) -> Vec<String> {
    let speaker = Speaker { circuit, language };
    let mut lines = vec![format!("{} ({})", speaker.text(&circuit.title), diagnosis.engine)];
    for cause in diagnosis.causes.iter().filter(|cause| cause.probability >= WORTH_SAYING) {
        lines.push(speaker.remaining(cause));
        lines.extend(cause.reasons.first().map(|ground| speaker.ground(ground)));
    }
    for pair in &diagnosis.pairs {
        let names: Vec<String> = pair.causes.iter().map(|id| speaker.cause(id)).collect();
        lines.push(speaker.pair(&names, pair.probability));
    }
    lines.push(speaker.unmodelled(diagnosis.unmodeled));
    lines.extend(diagnosis.causes.iter().filter_map(|cause| speaker.ruled_out(cause)));
    diagnosis.modules.iter().for_each(|module| lines.extend(speaker.module(module)));
    lines.extend(diagnosis.open_fuses.iter().map(|fuse| speaker.open_fuse(fuse)));
    lines.extend(diagnosis.overturned_by.iter().map(|overturn| speaker.overturn(overturn)));
    for doubt in &diagnosis.doubts {
        lines.push(speaker.doubt(doubt.code, &doubt.observations, doubt.repeat.as_deref()));
    }
    for way in &diagnosis.pin_outs {
        let pins: Vec<String> = way.pins.iter().map(|(pin, point)| format!("{pin} = {point}")).collect();
        lines.push(format!(
            "{}: {} ({})",
            speaker.say("Pins", "Pines"),
            pins.join(", "),
            percent(way.probability)
        ));
    }
    lines.extend(diagnosis.next.iter().map(|next| {
        let minutes = next.expected_minutes;
        let (test, name) = (speaker.test(&next.test), speaker.say("Next", "Siguiente"));
        match language {
            Language::En => format!(
                "{name}: {test} ({:.0} min; the search then takes about {minutes:.0} min in all).",
                next.minutes
            ),
            Language::Es => format!(
                "{name}: {test} ({:.0} min; la búsqueda dura entonces unos {minutes:.0} min en total).",
                next.minutes
            ),
        }
    }));
    lines.extend(diagnosis.test_or_buy.iter().map(|money| speaker.money(money)));
    lines.push(speaker.say(
        "The maker's service information, local codes and a licensed technician's judgement come first.",
        "La información de servicio del fabricante, las normas locales y el criterio de un técnico autorizado van primero.",
    ));
    lines
}

struct Speaker<'s> {
    circuit: &'s Circuit,
    language: Language,
}

impl Speaker<'_> {
    fn say(&self, english: &str, spanish: &str) -> String {
        if self.language == Language::En { english } else { spanish }.to_owned()
    }

    fn text(&self, text: &Text) -> String {
        self.say(&text.en, &text.es)
    }

    /// A cause as its part's name with its id.
    fn cause(&self, id: &str) -> String {
        let part = id.split('/').next().unwrap_or(id);
        let part = self.circuit.components.iter().find(|component| component.id == part);
        part.map_or_else(|| id.to_owned(), |part| format!("{} [{id}]", self.text(&part.name)))
    }

    fn test(&self, id: &str) -> String {
        let test = self.circuit.tests.iter().find(|test| test.id == id);
        test.map_or_else(|| id.to_owned(), |test| format!("{} [{id}]", self.text(&test.name)))
    }

    fn remaining(&self, cause: &CauseShare) -> String {
        format!(
            "{}: {} ({})",
            self.say("Remaining", "Queda"),
            self.cause(&cause.id),
            percent(cause.probability)
        )
    }

    fn pair(&self, names: &[String], probability: f64) -> String {
        format!(
            "{}: {} ({})",
            self.say("Two faults at once", "Dos averías a la vez"),
            names.join(" + "),
            percent(probability)
        )
    }

    fn unmodelled(&self, probability: f64) -> String {
        let what = self.say("Something this circuit does not contain", "Algo que este circuito no contiene");
        format!("{what} ({})", percent(probability))
    }

    fn ground(&self, ground: &Reason) -> String {
        let (times, log) = (ground.log_odds.abs().exp(), ground.log_likelihood);
        let reading = &ground.observation;
        match (self.language, ground.log_odds >= 0.0) {
            (Language::En, true) => format!(
                "  Reading {reading} raised its odds most ({times:.3e}-fold, log-likelihood {log:.2})."
            ),
            (Language::En, false) => format!(
                "  Reading {reading} lowered its odds most ({times:.3e}-fold, log-likelihood {log:.2})."
            ),
            (Language::Es, true) => format!(
                "  La lectura {reading} es la que más la hizo subir ({times:.3e} veces, log-verosimilitud {log:.2})."
            ),
            (Language::Es, false) => format!(
                "  La lectura {reading} es la que más la hizo bajar ({times:.3e} veces, log-verosimilitud {log:.2})."
            ),
        }
    }

    fn ruled_out(&self, cause: &CauseShare) -> Option<String> {
        let out = cause.ruled_out.as_ref()?;
        let (name, by, factor) = (self.cause(&cause.id), &out.by, out.factor);
        Some(match self.language {
            Language::En => format!("Ruled out: {name}, by reading {by} (odds fell {factor:.0}-fold)."),
            Language::Es => format!("Descartada: {name}, por la lectura {by} (bajó {factor:.0} veces)."),
        })
    }

    fn open_fuse(&self, fuse: &str) -> String {
        let name = self.cause(fuse);
        match self.language {
            Language::En => format!(
                "Before a new fuse goes in ({name}): find what opened it. Battery disconnected, fuse out, what it feeds unplugged: measure its load side against ground. Never fit a larger one."
            ),
            Language::Es => format!(
                "Antes de poner un fusible nuevo ({name}): halla qué lo abrió. Batería desconectada, fusible fuera y lo que alimenta desenchufado: mide su lado de carga contra masa. Nunca pongas uno mayor."
            ),
        }
    }

    fn module(&self, module: &ModuleVerdict) -> Vec<String> {
        let known = self.circuit.modules.iter().find(|known| known.id == module.module);
        let name = known.map_or_else(|| module.module.clone(), |known| self.text(&known.name));
        let verdict = if module.may_be_called {
            self.say("may be called the cause", "puede señalarse como causa")
        } else {
            self.say("not proven", "no probado")
        };
        let mut lines = vec![format!("{name}: {verdict} ({})", percent(module.probability))];
        lines.extend(module.reasons.first().map(|ground| self.ground(ground)));
        for missing in &module.missing {
            let test = missing.test.as_deref().map(|id| format!(": {}", self.test(id))).unwrap_or_default();
            let about = missing.about.as_deref().map(|about| format!(" {about}")).unwrap_or_default();
            lines.push(format!("  {} {:?}{about}{test}", self.say("missing", "falta"), missing.code));
        }
        lines.extend(module.overturned_by.iter().map(|overturn| format!("  {}", self.overturn(overturn))));
        lines
    }

    fn overturn(&self, overturn: &Overturn) -> String {
        let (test, shown) = (self.test(&overturn.test), self.shown(overturn.result));
        let (chance, after) = (percent(overturn.chance), percent(overturn.probability_after));
        let (about, leading) = (&overturn.about, self.cause(&overturn.leading_after));
        match self.language {
            Language::En => format!(
                "What would change this: {test} showing {shown} (chance {chance}); then {about} would be at {after}, and {leading} would lead."
            ),
            Language::Es => format!(
                "Lo cambiaría: que {test} muestre {shown} (probabilidad {chance}); entonces {about} quedaría en {after}, y {leading} iría delante."
            ),
        }
    }

    fn shown(&self, result: PossibleResult) -> String {
        match result {
            PossibleResult::Between { from: Some(from), to: Some(to) } => match self.language {
                Language::En => format!("{from:.2} to {to:.2}"),
                Language::Es => format!("de {from:.2} a {to:.2}"),
            },
            PossibleResult::Between { .. } => self.say("any value", "cualquier valor"),
            PossibleResult::OverLimit => "OL".to_owned(),
            PossibleResult::Yes => self.say("yes", "sí"),
            PossibleResult::No => self.say("no", "no"),
        }
    }

    fn doubt(&self, code: DoubtCode, readings: &[String], repeat: Option<&str>) -> String {
        let all = readings.join(&self.say(" and ", " y "));
        let again = repeat.map(|id| format!(" {} {id}.", self.say("Take again first:", "Repetir primero:")));
        let what = match code {
            DoubtCode::Contradiction => {
                self.say("These readings contradict each other", "Estas lecturas se contradicen")
            }
            DoubtCode::NoCauseFitsAll => self.say(
                "No single cause fits all readings; look at",
                "Ninguna causa sola explica todas las lecturas; revisar",
            ),
            DoubtCode::NotInThisCircuit => self.say(
                "No cause of this circuit can show reading",
                "Ninguna causa de este circuito puede mostrar la lectura",
            ),
        };
        format!("{what}: {all} ({}).{}", readings.len(), again.unwrap_or_default())
    }

    fn money(&self, money: &TestOrBuy) -> String {
        let (test, buy, by) = (money.test_cents / 100.0, money.buy_cents / 100.0, money.by_cents / 100.0);
        match (self.language, money.cheaper) {
            (Language::En, Cheaper::Test) => format!(
                "Testing on is cheaper than a new {} by {by:.2} (expected {test:.2} against {buy:.2}).",
                money.module
            ),
            (Language::En, Cheaper::Buy) => format!(
                "By money alone a new {} is cheaper by {by:.2} (expected {buy:.2} against {test:.2}); the gate above still decides.",
                money.module
            ),
            (Language::Es, Cheaper::Test) => format!(
                "Seguir probando sale más barato que cambiar {} por {by:.2} (se esperan {test:.2} frente a {buy:.2}).",
                money.module
            ),
            (Language::Es, Cheaper::Buy) => format!(
                "Solo por dinero, cambiar {} sale más barato por {by:.2} (se esperan {buy:.2} frente a {test:.2}); decide lo probado arriba.",
                money.module
            ),
        }
    }
}

fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}
