//! Personal and free-text values stand in no record's public bytes.

use crate::shop::*;
use api::entry::*;
use std::io::Read;

const NAME: &str = "Odalys Brandt";
const PLATE: &str = "DEMO-77";
const COMPLAINT: &str = "It hums when parked near the quarry.";

#[test]
fn names_plates_and_words_are_digests_in_the_records() {
    let shop = Shop::open();
    let job = shop.job().job;
    let entry = IntakeEntry {
        customer: Some(NAME.into()),
        plate: Some(PLATE.into()),
        complaint: Some(COMPLAINT.into()),
        make: Some("Corvane".into()),
        ..Default::default()
    };
    shop.workshop.intake_keep(&job, &entry).unwrap();
    assert!(shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().good);
    let view = shop.workshop.job_view(&job).unwrap();
    let mut packet = Vec::new();
    std::fs::File::open(&view.packets[0].path).unwrap().read_to_end(&mut packet).unwrap();
    let records = stored_files(&packet, "/records/");
    assert_eq!(records.len(), 3, "opening, intake, the packet's page");
    let text: String = records.iter().map(|(_, bytes)| String::from_utf8_lossy(bytes).into_owned()).collect();
    assert!(text.contains("Corvane"), "what is public stands in the record");
    for hidden in [NAME, PLATE, COMPLAINT, "Imre Valdsson"] {
        assert!(!text.contains(hidden), "{hidden} stands in a record");
    }
    assert_eq!(
        shop.workshop.jobs_search(&JobsEntry::of("quarry")).unwrap().rows.len(),
        1,
        "the shop itself finds it"
    );
}

/// Files of a stored zip whose name holds `part`: local headers as APPNOTE 4.3.7 lays them out.
fn stored_files(zip: &[u8], part: &str) -> Vec<(String, Vec<u8>)> {
    let mut files = Vec::new();
    let mut at = 0;
    while zip.get(at..at + 4) == Some(b"PK\x03\x04".as_slice()) {
        let number = |from: usize, to: usize| {
            zip[at + from..at + to].iter().rev().fold(0usize, |sum, byte| (sum << 8) | usize::from(*byte))
        };
        let (size, name, extra) = (number(18, 22), number(26, 28), number(28, 30));
        let start = at + 30 + name + extra;
        let path = String::from_utf8_lossy(&zip[at + 30..at + 30 + name]).into_owned();
        if path.contains(part) {
            files.push((path, zip[start..start + size].to_vec()));
        }
        at = start + size;
    }
    files
}
