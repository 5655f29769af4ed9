//! The statement of a dispute, in both directions.

use crate::checks::{PICTURES, dollars, has};
use crate::jobs;
use crate::programs::{Printed, path, run};
use crate::summary::input;
use evidence::Digest;
use job::Recipient;
use report::{Against, Language, statement_pdf};

fn picture(photo: &Digest) -> Option<Vec<u8>> {
    PICTURES.get(photo).cloned()
}

#[test]
fn the_customers_side_is_told_with_exhibits() {
    let job = jobs::repaired();
    for language in [Language::English, Language::Spanish] {
        let pdf = statement_pdf(&input(&job, &dollars(), &picture), &Against::Customer, language).unwrap();
        let printed = Printed::new(&pdf);
        run("qpdf", &["--check", path(&printed.path)]);
        let text = printed.text();
        assert!(!text.contains('{') && !text.contains("statement_"), "{text}");
        // By hand: 410.40 approved by the second yes; the bill is 259.84.
        has(&text, &["$410.40", "$259.84"]);
        let invoice = job.invoices.last().unwrap().record.to_string();
        has(&text, &[&invoice]);
    }
}

#[test]
fn a_statement_is_about_whom_its_reader_needs() {
    let job = jobs::repaired();
    let about = Against::of("", Recipient::Supplier);
    assert_eq!(about, Against::Supplier(String::new()));
    assert_eq!(Against::of("", Recipient::CardIssuer), Against::Customer);
    assert_eq!(Against::of("Norbury", Recipient::Arbiter), Against::Supplier("Norbury".to_owned()));
    let pdf = statement_pdf(&input(&job, &dollars(), &picture), &about, Language::English).unwrap();
    run("qpdf", &["--check", path(&Printed::new(&pdf).path)]);
}
