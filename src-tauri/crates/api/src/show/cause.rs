use super::code;
use crate::view::BothLanguages;
use ::circuit::{CauseShare, Circuit, FaultMode, LikelihoodWord, UNMODELED};
use report::{Language, words};

/// Name of a cause: the part and what is wrong with it, in both languages.
pub(crate) fn cause_name(circuit: &Circuit, cause: &CauseShare) -> BothLanguages {
    name(circuit, &cause.component, cause.mode)
}

/// Name of a cause by its id (`component/mode`); two at once, joined by a plus; what the circuit doesn't contain. The id
/// itself when the circuit doesn't have it.
pub(crate) fn cause_name_of(circuit: &Circuit, id: &str) -> BothLanguages {
    if id == UNMODELED {
        let say = |language| words::say(language, "cause_unmodelled", &[]);
        return BothLanguages { en: say(Language::English), es: say(Language::Spanish) };
    }
    let all: Vec<BothLanguages> = id.split(" + ").map(|one| one_name(circuit, one)).collect();
    let joined = |of: fn(&BothLanguages) -> &str| all.iter().map(of).collect::<Vec<_>>().join(" + ");
    BothLanguages { en: joined(|one| &one.en), es: joined(|one| &one.es) }
}

fn one_name(circuit: &Circuit, id: &str) -> BothLanguages {
    let found = id.split_once('/').and_then(|(component, mode)| {
        let mode = serde_json::from_value(serde_json::Value::String(mode.to_owned())).ok()?;
        Some(name(circuit, component, mode))
    });
    found.unwrap_or_else(|| BothLanguages { en: id.to_owned(), es: id.to_owned() })
}

/// Code of a word for likelihood.
pub(crate) fn likelihood(word: LikelihoodWord) -> String {
    code(&word)
}

fn name(circuit: &Circuit, component: &str, mode: FaultMode) -> BothLanguages {
    let part = circuit.components.iter().find(|c| c.id == component);
    let say = |language: Language| {
        let failure = words::failure(language, part, &code(&mode));
        let part = part.map(|c| if language == Language::Spanish { &c.name.es } else { &c.name.en });
        let part = part.map_or(component, String::as_str);
        words::say(language, "cause_text", &[("part", part), ("failure", &failure)])
    };
    BothLanguages { en: say(Language::English), es: say(Language::Spanish) }
}
