//! Files for programs inside the papers, taken out by qpdf and held against their schema by Python's jsonschema.

use crate::checks::{PICTURES, checkpoint, dollars, has};
use crate::jobs;
use crate::programs::{Printed, path, run};
use crate::summary::input;
use evidence::Digest;
use report::{Against, Language, findings_pdf, statement_pdf, summary_pdf};
use std::process::Command;
use testimeter_checks::venv::python_for_pages;

/// Draft 2020-12 of JSON Schema, as the schema itself says.
const VALID: &str = "import json, sys
from jsonschema import Draft202012Validator
document, schema = (json.load(open(path)) for path in sys.argv[1:3])
Draft202012Validator.check_schema(schema)
Draft202012Validator(schema).validate(document)
document['records'][0]['sequence'] = 'six' if document['records'] else None
print(len(list(Draft202012Validator(schema).iter_errors(document))))";

fn picture(photo: &Digest) -> Option<Vec<u8>> {
    PICTURES.get(photo).cloned()
}

#[test]
fn every_paper_carries_its_readings_and_records_for_programs() {
    let job = jobs::repaired();
    let locale = dollars();
    let input = input(&job, &locale, &picture);
    let papers = [
        findings_pdf(&input, Language::English).unwrap(),
        summary_pdf(&input, Language::Spanish).unwrap(),
        statement_pdf(&input, &Against::Customer, Language::English).unwrap(),
    ];
    let folder = tempfile::tempdir().unwrap();
    for pdf in papers {
        let printed = Printed::new(&pdf);
        let listed = run("qpdf", &["--list-attachments", path(&printed.path)]);
        has(&listed, &["readings.csv", "records.json", "records.schema.json", "checkpoint.txt"]);
        let taken = |name: &str| run("qpdf", &[&format!("--show-attachment={name}"), path(&printed.path)]);
        assert_eq!(
            taken("readings.csv").as_bytes(),
            report::readings_csv(std::slice::from_ref(&job)).unwrap()
        );
        assert_eq!(taken("checkpoint.txt"), checkpoint().note);
        let files = ["records.json", "records.schema.json"].map(|name| {
            let file = folder.path().join(name);
            std::fs::write(&file, taken(name)).unwrap();
            file
        });
        let checked = Command::new(python_for_pages()).args(["-c", VALID]).args(&files).output().unwrap();
        assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stderr));
        assert_ne!(String::from_utf8_lossy(&checked.stdout).trim(), "0", "a wrong document is found");
    }
}
