//! Two suppliers in one job: what one of them gets tells nothing about the other.

use crate::shop::*;
use api::entry::*;
use std::process::Command;

const SUPPLIERS: [(&str, &str, &str); 2] =
    [("Norbury Coding", "171.93", "Norbury said so"), ("Quillan Modules", "431.75", "Quillan said so")];

/// A photo of a paper; `shade` makes each another.
fn paper(shop: &Shop, job: &str, shade: u8) -> String {
    let mut jpeg = std::io::Cursor::new(Vec::new());
    let picture = image::RgbImage::from_fn(96, 64, |x, y| image::Rgb([x as u8, y as u8, shade]));
    picture.write_to(&mut jpeg, image::ImageFormat::Jpeg).unwrap();
    let entry = PhotoEntry { job: job.to_owned(), purpose: PhotoPurpose::SupplierPaper, live: false };
    shop.workshop.photo_keep(&entry, &jpeg.into_inner()).unwrap().sha256
}

/// A job with a bill of each supplier and its photo, and one paper that nothing names; the photos' hashes.
fn two_bills(shop: &Shop) -> (String, Vec<String>) {
    let job = shop.job().job;
    let photos: Vec<String> = (0..3).map(|shade| paper(shop, &job, shade * 60)).collect();
    for ((supplier, amount, by), photo) in SUPPLIERS.into_iter().zip(&photos) {
        let entry = SupplierStepEntry {
            step: SupplierStep::Billed,
            supplier: supplier.into(),
            what: CostKind::Part,
            description: "Module".into(),
            amount: amount.into(),
            means: None,
            day: String::new(),
            due: String::new(),
            reference: String::new(),
            by: by.into(),
            photos: vec![photo.clone()],
        };
        shop.workshop.supplier_step_keep(&job, &entry).unwrap();
    }
    (job, photos)
}

fn packet(supplier: &str) -> PacketEntry {
    PacketEntry { supplier: supplier.into(), ..PacketEntry::preset("en", Recipient::Supplier) }
}

/// Every file of a zip archive by its name, as Info-ZIP's `unzip` unpacks it.
fn files(path: &str) -> Vec<(String, Vec<u8>)> {
    let names = Command::new("unzip").args(["-Z1", path]).output().unwrap();
    let names = String::from_utf8(names.stdout).unwrap();
    let read = |name: &str| {
        let read = Command::new("unzip").args(["-p", path, name]).output().unwrap();
        assert!(read.status.success(), "{name}");
        (name.to_owned(), readable(name, read.stdout))
    };
    names.lines().filter(|name| !name.ends_with('/')).map(read).collect()
}

/// What a person reads in a file: the value of a disclosure, the text of a page and what is packed in it for programs.
fn readable(name: &str, bytes: Vec<u8>) -> Vec<u8> {
    if name.contains("/disclosures/") {
        let text = String::from_utf8(bytes).unwrap();
        return evidence::Disclosure::parse(&text).unwrap().value().to_string().into_bytes();
    }
    if !name.ends_with(".pdf") {
        return bytes;
    }
    let page = tempfile::NamedTempFile::new().unwrap();
    std::fs::write(page.path(), bytes).unwrap();
    let said = Command::new("pdftotext").arg(page.path()).arg("-").output().unwrap();
    let packed =
        Command::new("qpdf").arg("--show-attachment=records.json").arg(page.path()).output().unwrap();
    assert!(said.status.success() && packed.status.success());
    [said.stdout, packed.stdout].concat()
}

fn holds(files: &[(String, Vec<u8>)], text: &str) -> bool {
    files.iter().any(|(_, bytes)| bytes.windows(text.len()).any(|window| window == text.as_bytes()))
}

#[test]
fn one_suppliers_packet_tells_nothing_of_another() {
    let shop = Shop::open();
    let (job, photos) = two_bills(&shop);
    for own in 0..2 {
        let (supplier, _, by) = SUPPLIERS[own];
        let (other, other_amount, other_by) = SUPPLIERS[1 - own];
        let preview = shop.workshop.packet_preview(&job, &packet(supplier)).unwrap();
        let share = |photo: &String| {
            preview.photos.iter().find(|shared| shared.photo.sha256 == *photo).unwrap().share
        };
        assert_ne!(share(&photos[own]), PhotoShare::Withheld, "{supplier}'s own paper");
        assert_eq!(share(&photos[1 - own]), PhotoShare::Withheld, "{other}'s paper");
        assert_eq!(share(&photos[2]), PhotoShare::Withheld, "nothing says whose the third paper is");
        assert!(shop.workshop.packet_write(&job, &packet(supplier)).unwrap().good);
        let view = shop.workshop.job_view(&job).unwrap();
        let written = view.packets.last().unwrap();
        let files = files(&written.path);
        let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
        assert!(holds(&files, by), "{supplier}'s own words are in it: {names:?}");
        // As it is printed, and as it stands in records; bare digits stand in hashes, too.
        let stored = format!("\"{}\"", other_amount.replace('.', ""));
        for told in [other, other_by, other_amount, &stored] {
            assert!(!holds(&files, told), "{told} is in {supplier}'s packet");
        }
        assert!(!files.iter().any(|(name, _)| name.contains(&photos[1 - own])), "{other}'s photo");
        let pages = files.iter().filter(|(name, _)| name.ends_with(".pdf")).count();
        assert_eq!(pages, 1, "the statement about {supplier}'s bill, not the other's");
    }
    assert_eq!(shop.workshop.job_view(&job).unwrap().packets.len(), 2, "neither takes the other's place");
}

#[test]
fn without_a_name_it_is_the_one_that_differs_most_and_a_strangers_name_is_refused() {
    let shop = Shop::open();
    let (job, photos) = two_bills(&shop);
    let agreed = SupplierStepEntry {
        step: SupplierStep::Agreed,
        supplier: SUPPLIERS[0].0.into(),
        what: CostKind::Part,
        description: "Module".into(),
        amount: "120".into(),
        means: None,
        day: String::new(),
        due: String::new(),
        reference: String::new(),
        by: String::new(),
        photos: vec![],
    };
    shop.workshop.supplier_step_keep(&job, &agreed).unwrap();
    let preview = shop.workshop.packet_preview(&job, &packet("")).unwrap();
    let withheld = |photo: &String| {
        preview
            .photos
            .iter()
            .any(|shared| shared.photo.sha256 == *photo && shared.share == PhotoShare::Withheld)
    };
    assert!(!withheld(&photos[0]) && withheld(&photos[1]), "50.00 above what was agreed");
    for refused in [
        packet("Somebody Else"),
        PacketEntry { recipient: Recipient::Customer, ..packet(SUPPLIERS[0].0) },
        PacketEntry { recipient: Recipient::CardIssuer, ..packet(SUPPLIERS[0].0) },
    ] {
        assert_eq!(Shop::code(shop.workshop.packet_preview(&job, &refused)), "unknown_choice");
    }
    let offered =
        |recipient| shop.workshop.packet_preview(&job, &PacketEntry::preset("en", recipient)).unwrap();
    assert_eq!(offered(Recipient::Arbiter).suppliers.len(), 2);
    assert!(offered(Recipient::Customer).suppliers.is_empty(), "what the shop pays is the shop's own");
    assert_eq!(offered(Recipient::Customer).forms[0], ReportForm::Summary);
    assert_eq!(offered(Recipient::CardIssuer).forms, [ReportForm::Statement, ReportForm::Full]);
}
