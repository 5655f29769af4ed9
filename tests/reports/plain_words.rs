//! What is said to a reader without knowledge of cars: every fault of every circuit, in both languages.

use crate::checks::dollars;
use crate::jobs;
use job::event::Outcome;
use report::{Language, everyday_cause, headline};
use std::collections::BTreeSet;
use std::io::Write;
use std::process::{Command, Stdio};
use testimeter_checks::venv::python_for_pages;

/// Words that need a dictionary or a workshop.
const JARGON: [&str; 26] = [
    "pin",
    "terminal",
    "relay",
    "module",
    "driver",
    "circuit",
    "ohm",
    "harness",
    "ground",
    "resistance",
    "connector",
    "voltage",
    "coil",
    "solenoid",
    "actuator",
    "PWM",
    "CAN",
    "ECU",
    "short",
    "open",
    "relé",
    "módulo",
    "masa",
    "resistencia",
    "conector",
    "bobina",
];

/// Every sentence of every cause of the library's circuits, once.
fn sentences(language: Language) -> BTreeSet<String> {
    let mut said = BTreeSet::new();
    for circuit in circuit::library::all().unwrap() {
        let mut job = jobs::repaired();
        let definition = serde_json::to_string(&circuit).unwrap();
        job.circuit.as_mut().unwrap().event.definition = definition;
        for component in &circuit.components {
            for fault in &component.faults {
                let mode = serde_json::to_value(fault.mode).unwrap();
                let finding = &mut job.findings.last_mut().unwrap().event;
                finding.cause = format!("{}/{}", component.id, mode.as_str().unwrap());
                finding.outcome = Outcome::CauseCalled;
                said.insert(everyday_cause(&job, language, &dollars()).unwrap());
                said.insert(headline(&job, language, &dollars()));
            }
        }
    }
    said
}

#[test]
fn no_sentence_needs_a_dictionary() {
    for language in [Language::English, Language::Spanish] {
        let said = sentences(language);
        assert!(said.len() > 60, "{}", said.len());
        for text in &said {
            assert!(!text.contains("everyday_") && !text.contains('{'), "a key or an open place: {text}");
            let words: Vec<&str> =
                text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
            let jargon =
                JARGON.iter().find(|jargon| words.iter().any(|word| word.eq_ignore_ascii_case(jargon)));
            assert!(jargon.is_none(), "{jargon:?} in: {text}");
            let longest = text.split(['.', '!', '?']).map(|part| part.split_whitespace().count()).max();
            assert!(longest.unwrap() <= 20, "{longest:?} words in a sentence: {text}");
            assert!(text.chars().next().unwrap().is_uppercase(), "{text}");
            assert!(!text.contains(" de el ") && !text.contains(" a el "), "{text}");
        }
    }
}

/// Grades by the PyPI package textstat: Flesch-Kincaid at most 8 for all sentences together; Fernández-Huerta at least 60,
/// which its table calls 8th or 9th grade and "normal for an adult".
#[test]
fn an_eighth_grader_can_read_it() {
    let program = "import sys, json, textstat\n\
        data = json.load(sys.stdin)\n\
        print(textstat.flesch_kincaid_grade(' '.join(data['en'])))\n\
        textstat.set_lang('es')\n\
        print(textstat.fernandez_huerta(' '.join(data['es'])))\n";
    let data = serde_json::json!({
        "en": sentences(Language::English),
        "es": sentences(Language::Spanish),
    });
    let mut child = Command::new(python_for_pages())
        .args(["-c", program])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(data.to_string().as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    let numbers: Vec<f64> = said.lines().map(|line| line.trim().parse().unwrap()).collect();
    println!("Flesch-Kincaid grade {}, Fernández-Huerta {}", numbers[0], numbers[1]);
    assert!(numbers[0] <= 8.0, "Flesch-Kincaid {}", numbers[0]);
    assert!(numbers[1] >= 60.0, "Fernández-Huerta {}", numbers[1]);
}
