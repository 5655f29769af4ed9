//! What the report must show and must not carry.

use crate::jobs::{self, HOSTILE_COMPLAINT, HOSTILE_CUSTOMER, digest, wall};
use crate::programs::{Printed, path, run};
use evidence::{Checkpoint, DeviceKey, Digest, LogId, fingerprint_words};
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use job::Job;
use job::event::{ProgrammingOutcome, ProgrammingReported};
use money::Cents;
use report::{CUSTOMER_BYTES, CheckpointPrint, FindingsInput, Language, RulesPrint, ShopPrint, findings_pdf};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Stands for a circuit's drawing.
pub const DRAWING: &str =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40\" height=\"20\"><path d=\"M0 0h40v20\"/></svg>";

pub fn checkpoint() -> CheckpointPrint {
    let key = DeviceKey::from_seed([7; 32]);
    let log = LogId { shop: "quillan".to_owned(), job: "j-0017".to_owned(), device: "phone-1".to_owned() };
    let signed = key.sign(&Checkpoint { origin: log.origin(), size: 41, root: digest("root") });
    let fingerprint = key.fingerprint().unwrap();
    CheckpointPrint {
        text: signed.text,
        size: 41,
        root_words: fingerprint_words(&digest("root")),
        note: signed.note,
        fingerprint,
        fingerprint_words: fingerprint_words(&fingerprint),
        signed: wall("16:06"),
    }
}

/// A picture with enough grain to weigh what a phone's small preview weighs (about 55 kB).
pub fn small_picture(photo: &Digest) -> Vec<u8> {
    let seed = u32::from(photo.0[0]);
    let picture = RgbImage::from_fn(800, 600, |x, y| {
        let grain = (x.wrapping_mul(7919) ^ y.wrapping_mul(104_729) ^ seed).wrapping_mul(2_654_435_761) >> 27;
        let level = |n: u32| u8::try_from((n + grain) % 256).unwrap();
        Rgb([level(60 + x / 8), level(90 + y / 8), level(seed / 2 + 40)])
    });
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, 45).encode_image(&picture).unwrap();
    jpeg
}

/// Six such pictures, made once: the time of a report is Typst's, not theirs.
pub static PICTURES: LazyLock<BTreeMap<Digest, Vec<u8>>> =
    LazyLock::new(|| jobs::photo_names().map(|n| (digest(n), small_picture(&digest(n)))).into());

fn print_with(job: &Job, language: Language, picture: &dyn Fn(&Digest) -> Option<Vec<u8>>) -> Vec<u8> {
    let home = RulesPrint { locale: dollars(), ..RulesPrint::default() };
    print_at(job, language, picture, &home, &ShopPrint::default())
}

fn print_at(
    job: &Job,
    language: Language,
    picture: &dyn Fn(&Digest) -> Option<Vec<u8>>,
    home: &RulesPrint,
    shop: &ShopPrint,
) -> Vec<u8> {
    let input = FindingsInput {
        job,
        number: 1,
        shop: shop.clone(),
        drawing: DRAWING.to_owned(),
        checkpoint: checkpoint(),
        picture,
        missing_photos: BTreeMap::new(),
        most_bytes: CUSTOMER_BYTES,
        written: wall("16:10"),
        rules: RulesPrint {
            region: "Example State".to_owned(),
            locale: home.locale.clone(),
            card_notice_days: None,
            sources: vec!["Example Code 12.3".to_owned()],
        },
        outside_times: Vec::new(),
    };
    findings_pdf(&input, language).unwrap()
}

fn print(job: &Job, language: Language) -> Vec<u8> {
    print_with(job, language, &|photo| PICTURES.get(photo).cloned())
}

pub fn has(text: &str, wanted: &[&str]) {
    let missing: Vec<_> = wanted.iter().filter(|w| !text.contains(**w)).collect();
    assert!(missing.is_empty(), "not in the report: {missing:#?}\n{text}");
}

#[test]
fn qpdf_and_poppler_read_a_tagged_titled_report() {
    for (language, title, code) in [
        (Language::English, "Findings report, job 17", "en"),
        (Language::Spanish, "Informe de hallazgos, trabajo 17", "es"),
    ] {
        LazyLock::force(&PICTURES);
        let start = std::time::Instant::now();
        let pdf = print(&jobs::repaired(), language);
        println!("{code}: {} bytes in {} ms", pdf.len(), start.elapsed().as_millis());
        if let Ok(folder) = std::env::var("KEEP_REPORTS") {
            std::fs::write(format!("{folder}/{code}.pdf"), &pdf).unwrap();
        }
        let printed = Printed::new(&pdf);
        run("qpdf", &["--check", path(&printed.path)]);
        assert_eq!(printed.info("Title"), title);
        assert_eq!(printed.info("Tagged"), "yes");
        let pages: u32 = printed.info("Pages").parse().unwrap();
        assert!((2..=8).contains(&pages), "{pages} pages");
        let catalog = run("qpdf", &["--qdf", "--object-streams=disable", path(&printed.path), "-"]);
        assert!(catalog.contains(&format!("/Lang ({code}")), "language");
    }
}

#[test]
fn names_that_look_like_markup_come_out_as_they_were_typed() {
    let text = Printed::new(&print(&jobs::repaired(), Language::English)).text();
    let plain = |s: &str| s.split_whitespace().collect::<Vec<_>>().join(" ");
    has(
        &text,
        &[&plain(HOSTILE_CUSTOMER), &plain(HOSTILE_COMPLAINT), "Norbury Supply & <Sons>", "Ring terminal #1"],
    );
}

#[test]
fn amounts_readings_hashes_and_the_seal_are_printed() {
    let text = Printed::new(&print(&jobs::repaired(), Language::English)).text();
    // 1.25 h and 0.8 h at 120.00 plus 12.90; tax 7.25 % of 12.90 = 0.935 -> 0.94: 150 + 96 + 12.90 + 0.94.
    has(&text, &["$259.84", "$0.94", "$410.40", "$150.56", "$95.00", "$110.00", "$15.00", "$999.00"]);
    has(
        &text,
        &["3.84 V", "0.04 V", "0.18 V", "at most 0.2 V", "common practice: 0.2 V in a ground under load"],
    );
    has(
        &text,
        &["red lead on heater ground tab, black lead on battery negative post", "Key: engine running"],
    );
    has(&text, &["Corrects reading 1: wrong post", "Corrected by reading 2", "very likely (97%)", "(<1%)"]);
    has(
        &text,
        &[
            "March 4, 2031, 3:40 PM (UTC-06:00)",
            "more than a minute apart",
            "Check your local rules",
            "Example Code 12.3",
        ],
    );
    for name in jobs::photo_names() {
        has(&text, &[&digest(name).to_string()]);
    }
    let seal = checkpoint();
    has(
        &text,
        &[&seal.root_words, &seal.fingerprint_words, &seal.fingerprint.to_string(), "quillan/j-0017/phone-1"],
    );
    has(&text, &["unchanged since this key sealed it", "It can’t prove “true.”"]);
    assert!(!text.contains("label_") && !text.contains("{"), "an open place or key: {text}");
}

/// ISO 216 gives A4 210 by 297 mm (595 by 842 points); ANSI/ASME Y14.1 gives A, the letter, 8.5 by 11 inches (612 by 792).
#[test]
fn a_report_is_written_as_its_region_writes() {
    let printed = |region: &str, registration: &str| {
        let mut job = jobs::repaired();
        job.opened.registration = String::new();
        let locale = job::rules::of_region(region).locale;
        let home = RulesPrint { locale, ..RulesPrint::default() };
        let shop = ShopPrint { registration: registration.to_owned(), ..ShopPrint::default() };
        Printed::new(&print_at(&job, Language::Spanish, &|_| None, &home, &shop))
    };
    let spain = printed("ES", "TALLER-77");
    // The text comes with plain spaces for those that don't break.
    has(&spain.text(), &["Total 259,84 €", "0,94 €", "Técnico Registro", "TALLER-77"]);
    assert!(!spain.text().contains("$0") && !spain.text().contains("$2"), "{}", spain.text());
    assert!(spain.info("Page size").starts_with("595."), "{}", spain.info("Page size"));
    let mexico = printed("MX", "");
    has(&mexico.text(), &["$259.84", "$0.94"]);
    assert!(mexico.info("Page size").starts_with("612 x 792"), "{}", mexico.info("Page size"));
    assert!(!mexico.text().contains("Técnico Registro"), "a number nobody has is left out");
}

/// A session that failed and was billed, one that was written down wrong, and the one that worked.
#[test]
fn every_attempt_at_programming_is_printed_with_its_bill() {
    let mut job = jobs::repaired();
    let with = |outcome, billed| ProgrammingReported { outcome, billed: Cents(billed), ..jobs::reported() };
    let mut wrong = jobs::attempt(2, "14:10", with(ProgrammingOutcome::Succeeded, 99_999));
    wrong.corrected_by = Some(digest("reported 3"));
    job.programmed = vec![
        jobs::attempt(1, "13:50", with(ProgrammingOutcome::Failed, 4_321)),
        wrong,
        jobs::attempt(3, "14:50", with(ProgrammingOutcome::Succeeded, 11_000)),
    ];
    let text = Printed::new(&print(&job, Language::English)).text();
    // By hand: 95.00 quoted once for both; 43.21 and 110.00 billed are 153.21, 58.21 more.
    has(
        &text,
        &["attempt 1: it failed, billed $43.21", "$153.21", "$58.21", "attempt 3: it worked, billed $110.00"],
    );
    has(&text, &["One try at programming failed. It was billed at $43.21 all the same."]);
    has(&text, &["attempt 2: it worked, billed $999.99", "Written down wrong; attempt 3 corrects it"]);
    assert!(!text.contains("{"), "an open place: {text}");
    let text = Printed::new(&print(&job, Language::Spanish)).text();
    has(&text, &["Un intento de programación falló. Aun así cobraron $43.21.", "$58.21"]);
}

#[test]
fn spanish_says_the_same_in_spanish() {
    let text = Printed::new(&print(&jobs::repaired(), Language::Spanish)).text();
    has(
        &text,
        &["Encontramos la falla: Masa del pilar izquierdo: demasiada resistencia.", "muy probable (97%)"],
    );
    has(
        &text,
        &[
            "4 de marzo de 2031, 3:40 p.m. (UTC-06:00)",
            "a lo sumo 0.2 V",
            "$259.84",
            "Consulte sus reglas locales",
        ],
    );
    has(
        &text,
        &["sin cambios desde que esta llave lo selló", "punta roja en lengüeta de masa del desempañador"],
    );
    assert!(!text.contains("label_") && !text.contains("{"), "an open place or key: {text}");
}

#[test]
fn every_job_is_printed_in_both_languages() {
    for (name, job) in jobs::all() {
        for language in [Language::English, Language::Spanish] {
            let printed = Printed::new(&print(&job, language));
            run("qpdf", &["--check", path(&printed.path)]);
            let text = printed.text();
            assert!(!text.contains('{'), "{name}: {text}");
            let bottom = report::bottom_line(&job, language, &dollars());
            let bottom: Vec<String> = bottom.iter().map(|s| s.replace('\u{a0}', " ")).collect();
            let bottom: Vec<&str> = bottom.iter().map(String::as_str).collect();
            has(&text, &bottom);
        }
    }
    let fuse = Printed::new(&print(&jobs::fuse_called(), Language::English)).text();
    has(&fuse, &["A fuse blows because too much current went through it."]);
    let unproven = Printed::new(&print(&jobs::not_proven(), Language::English)).text();
    has(
        &unproven,
        &[
            "not proven yet",
            "A power feed was not measured while the fault was there: Feed of the body module.",
        ],
    );
    // Rivals in one sentence: three by name, two faults at once and what the circuit doesn't contain in words.
    let open = "it is open, no current gets through";
    let rivals = format!(
        "Another cause is still too likely: Rear window heater: {open} + Left pillar ground: {open}; \
         Something outside the circuit we tested; Rear window heater: {open}; and 2 more."
    );
    has(&unproven, &[&rivals]);
    assert!(!unproven.contains("The module is not likely enough"), "that was said of a less likely module");
    assert_eq!(unproven.matches("Another cause is still too likely").count(), 1);
    assert!(!unproven.contains("unmodelled") && !unproven.contains("heater/"), "{unproven}");
}

#[test]
fn six_photos_fit_in_500_kb_and_carry_no_metadata() {
    let pdf = print(&jobs::repaired(), Language::English);
    assert!(pdf.len() <= 500_000, "{} bytes", pdf.len());
    let printed = Printed::new(&pdf);
    let pictures = printed.pictures();
    assert_eq!(printed.picture_objects(), 6, "each picture once");
    assert!(pictures.len() >= 6);
    for picture in &pictures {
        let tags =
            run("exiftool", &["-s", "-G1", "-EXIF:all", "-GPS:all", "-XMP:all", "-IPTC:all", path(picture)]);
        assert_eq!(tags.trim(), "", "{}", picture.display());
    }
}

#[test]
fn a_picture_with_a_place_in_it_or_a_broken_one_is_left_out_and_said_so() {
    let spoilt = |photo: &Digest| {
        let jpeg = small_picture(photo);
        if *photo == digest("receipt") {
            return Some(jpeg[..200].to_vec());
        }
        if *photo != digest("meter 2") {
            return Some(jpeg);
        }
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("p.jpg");
        std::fs::write(&file, jpeg).unwrap();
        run("exiftool", &["-q", "-GPSLatitude=1.5", "-GPSLatitudeRef=N", path(&file)]);
        Some(std::fs::read(&file).unwrap())
    };
    let printed = Printed::new(&print_with(&jobs::repaired(), Language::English, &spoilt));
    assert_eq!(printed.picture_objects(), 4);
    has(&printed.text(), &["it carries data about place or camera", "no small picture at hand"]);
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    assert!(print(&jobs::repaired(), Language::English) == print(&jobs::repaired(), Language::English));
    assert!(print(&jobs::repaired(), Language::English) != print(&jobs::not_proven(), Language::English));
}

#[test]
fn a_report_whose_characters_all_have_glyphs_claims_the_archive_and_the_accessibility_standard() {
    let pdf = print(&jobs::not_proven(), Language::English);
    let written = run("qpdf", &["--qdf", "--object-streams=disable", path(&Printed::new(&pdf).path), "-"]);
    for claim in ["<pdfaid:part>3</pdfaid:part>", "<pdfuaid:part>1</pdfuaid:part>"] {
        assert!(written.contains(claim), "{claim}");
    }
}

#[test]
fn a_character_without_a_glyph_is_no_reason_to_print_nothing() {
    let mut job = jobs::repaired();
    job.intake.customer = Some("陈 \u{1F9FF} \u{0} \u{E000} e\u{301}\u{202E}x".to_owned());
    let printed = Printed::new(&print(&job, Language::English));
    run("qpdf", &["--check", path(&printed.path)]);
}

/// As California writes amounts.
pub fn dollars() -> job::rules::Locale {
    job::rules::of_region("US-CA").locale
}
