//! Files that are small and claim, or unfold to, far more than a phone has; and files that are two things at once.
//!
//! Each is kept (`inspect` answers), and a preview comes or is refused within seconds and within the stated memory; the memory
//! of a process is measured in `large.rs`.

use crate::outside::run;
use crate::samples;
use chrono::Utc;
use photo::{
    Carries, Facts, Kind, PhotoError, Preview, WhyNoPreview, carried, inspect, preview, without_metadata,
};
use std::time::{Duration, Instant};
use tempfile::tempdir;

/// Kept; and the preview, which takes no longer than a second or a few in a build for tests.
fn kept(bytes: &[u8], what: &str) -> (Facts, Result<Vec<u8>, PhotoError>) {
    let start = Instant::now();
    let facts = inspect(bytes, Utc::now()).expect(what);
    let shown = preview(bytes, 320);
    let _ = carried(bytes);
    assert!(start.elapsed() < Duration::from_secs(20), "{what}: {:?}", start.elapsed());
    (facts, shown)
}

fn too_large(bytes: &[u8], what: &str) {
    let (facts, shown) = kept(bytes, what);
    assert_eq!(facts.preview, Preview::NotPossible(WhyNoPreview::TooLarge), "{what}");
    assert_eq!(shown, Err(PhotoError::NoPreview(WhyNoPreview::TooLarge)), "{what}");
}

/// A chunk of a PNG with its checksum.
fn chunk(name: &[u8], body: &[u8]) -> Vec<u8> {
    let named = [name, body].concat();
    let mut sum = u32::MAX;
    // PNG, annex D.
    for byte in &named {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 { sum >> 1 ^ 0xEDB8_8320 } else { sum >> 1 };
        }
    }
    [&u32::try_from(body.len()).unwrap().to_be_bytes()[..], &named, &(!sum).to_be_bytes()].concat()
}

fn png(width: u32, height: u32, interlaced: u8, more: &[u8], pixels: &[u8]) -> Vec<u8> {
    let mut header = [width.to_be_bytes(), height.to_be_bytes()].concat();
    header.extend([8, 2, 0, 0, interlaced]);
    let parts = [chunk(b"IHDR", &header), more.to_vec(), chunk(b"IDAT", pixels), chunk(b"IEND", b"")];
    [b"\x89PNG\r\n\x1a\n".to_vec(), parts.concat()].concat()
}

/// Zeros, deflated a thousandfold by Perl's zlib.
fn deflated_zeros(count: u64) -> Vec<u8> {
    let script = format!(
        "use Compress::Zlib; my $d = deflateInit(); my $z = \"\\0\" x 1048576; my $n = {count}; \
         while ($n > 0) {{ my $k = $n < 1048576 ? $n : 1048576; my ($o) = $d->deflate(substr($z, 0, $k)); print $o; $n -= $k }} \
         my ($o) = $d->flush(); print $o;"
    );
    run("perl", &["-e", &script])
}

#[test]
fn pngs_that_unfold() {
    too_large(&png(60_000, 60_000, 0, b"", &deflated_zeros(1 << 20)), "60,000 × 60,000");
    too_large(&png(u32::MAX / 2, 3, 0, b"", b""), "the widest that the header can say");
    // A small picture behind which a hundred megabytes are deflated.
    let (_, shown) = kept(&png(30, 20, 0, b"", &deflated_zeros(100 << 20)), "pixels without end");
    assert!(shown.is_ok(), "{shown:?}");
    // Texts and color profiles that unfold; nobody asks for them.
    let bomb = deflated_zeros(200 << 20);
    let pixels = deflated_zeros(20 * 91);
    for (name, start) in
        [(b"zTXt", &b"note\0\0"[..]), (b"iCCP", b"profile\0\0"), (b"iTXt", b"XML:com.adobe.xmp\0\x01\0\0\0")]
    {
        let more = chunk(name, &[start, &bomb].concat());
        let (_, shown) = kept(&png(30, 20, 0, &more, &pixels), "a chunk that unfolds");
        assert!(shown.is_ok(), "{name:?}: {shown:?}");
    }
    // Within the limit of pixels, interlaced, and all of it there in half a megabyte.
    let (_, shown) = kept(&png(14_000, 14_000, 1, b"", &deflated_zeros(1 << 20)), "a large interlaced one");
    assert!(shown.is_err(), "its pixels end early");
}

#[test]
fn webps_that_unfold() {
    let folder = tempdir().unwrap();
    let bytes = samples::bytes(&samples::file(&folder, "a.webp"));
    // Lossless: after the signature byte, 14 bits each of width and height less one (RFC 9649, section 4.1).
    let at = bytes.windows(4).position(|name| name == b"VP8L").unwrap() + 9;
    let mut huge = bytes.clone();
    huge[at..at + 4].copy_from_slice(&(0x0FFF_FFFF_u32 | (bytes[at + 3] as u32 & 0xF0) << 24).to_le_bytes());
    too_large(&huge, "16,384 × 16,384");
    // An extended header that says 2^24 by 2^24.
    let extended = [&b"VP8X\x0A\0\0\0\0\0\0\0"[..], &[0xFF; 6]].concat();
    let body = [&b"WEBP"[..], &extended, &bytes[12..]].concat();
    let whole = [&b"RIFF"[..], &u32::try_from(body.len()).unwrap().to_le_bytes(), &body].concat();
    too_large(&whole, "an extended header of 2^24 × 2^24");
}

/// A JPEG by hand: frame header, then what is given.
fn jpeg(marker: u8, width: u16, height: u16, sampling: u8, rest: &[u8]) -> Vec<u8> {
    let mut bytes = vec![0xFF, 0xD8, 0xFF, 0xDB, 0, 67, 0];
    bytes.extend([1; 64]);
    // Two codes: one bit 0 for symbol 0, two bits 10 for symbol 0xE0: a run of blocks without anything new (T.81, G.1.2.2).
    for class in [0x00, 0x10] {
        bytes.extend([0xFF, 0xC4, 0, 21, class, 1, 1]);
        bytes.extend([0; 14]);
        bytes.extend([0x00, if class == 0 { 0x01 } else { 0xE0 }]);
    }
    bytes.extend([0xFF, marker, 0, 17, 8]);
    bytes.extend(height.to_be_bytes());
    bytes.extend(width.to_be_bytes());
    bytes.extend([3, 1, sampling, 0, 2, 0x11, 0, 3, 0x11, 0]);
    bytes.extend(rest);
    bytes.extend([0xFF, 0xD9]);
    bytes
}

#[test]
fn jpegs_that_unfold() {
    too_large(&jpeg(0xC0, 65_535, 65_535, 0x11, b""), "65,535 × 65,535");
    // Progressive and within the limit of pixels: twenty thousand scans, a few bytes each, over nine million blocks.
    let first = b"\xFF\xDA\0\x0C\x03\x01\0\x02\0\x03\0\0\0\0\0";
    let run_of_nothing = b"\xFF\xDA\0\x08\x01\x01\0\x01\x3F\0\xBF\xFF\x00\xBF\xFF\x00\xBF";
    let mut scans = first.to_vec();
    for _ in 0..20_000 {
        scans.extend(run_of_nothing);
    }
    let rare = (Preview::NotPossible(WhyNoPreview::Rare), Err(PhotoError::NoPreview(WhyNoPreview::Rare)));
    let (facts, shown) = kept(&jpeg(0xC2, 14_000, 14_000, 0x11, &scans), "scans without end");
    assert_eq!((facts.preview, shown), rare);
    // The same with bits of precision that are handed in later, which every block has to be asked for.
    let later = b"\xFF\xDA\0\x08\x01\x01\0\x01\x3F\x10\x9F\x9F";
    let mut scans = first.to_vec();
    for _ in 0..20_000 {
        scans.extend(later);
    }
    let (facts, shown) = kept(&jpeg(0xC2, 14_000, 14_000, 0x11, &scans), "refining scans without end");
    assert_eq!((facts.preview, shown), rare);
}

#[test]
fn rare_forms_of_jpeg_are_kept_and_say_that_they_are() {
    let twelve_bits = {
        let mut bytes = jpeg(0xC1, 64, 48, 0x11, b"");
        let frame = bytes.windows(2).position(|pair| pair == b"\xFF\xC1").unwrap();
        bytes[frame + 4] = 12;
        bytes
    };
    assert_eq!(kept(&twelve_bits, "twelve bits").1, Err(PhotoError::NoPreview(WhyNoPreview::Rare)));
    for marker in [0xC3, 0xC5, 0xC9, 0xCA, 0xCB] {
        let (facts, shown) = kept(&jpeg(marker, 64, 48, 0x11, b""), "lossless, differential, arithmetic");
        assert_eq!(facts.preview, Preview::NotPossible(WhyNoPreview::Rare), "{marker:X}");
        assert_eq!(shown, Err(PhotoError::NoPreview(WhyNoPreview::Rare)), "{marker:X}");
    }
}

fn heif_box(name: &[u8], body: &[u8]) -> Vec<u8> {
    [&u32::try_from(body.len() + 8).unwrap().to_be_bytes()[..], name, body].concat()
}

#[test]
fn heifs_that_unfold() {
    let start = heif_box(b"ftyp", b"heic\0\0\0\0mif1heic");
    // A million items of 65,535 extents that take no bytes (item location box, version 2, all widths 0).
    let mut places = b"\x02\0\0\0\0\0\0\x0F\x42\x40".to_vec();
    for item in 0..1_000_000_u32 {
        places.extend(item.to_be_bytes());
        places.extend([0, 0, 0, 0, 0xFF, 0xFF]);
    }
    let meta = heif_box(b"meta", &[&b"\0\0\0\0"[..], &heif_box(b"iloc", &places)].concat());
    let (facts, shown) = kept(&[start.clone(), meta].concat(), "extents without end");
    assert_eq!(facts.kind, Kind::Heic);
    assert_eq!(shown, Err(PhotoError::NoPreview(WhyNoPreview::Heic)));
    // Boxes in boxes, and as many side by side as fit.
    let mut nested = Vec::new();
    for _ in 0..2_000 {
        nested = heif_box(b"meta", &[&b"\0\0\0\0"[..], &nested].concat());
    }
    kept(&[start.clone(), nested].concat(), "boxes in boxes").1.unwrap_err();
    kept(&[start.clone(), heif_box(b"free", b"").repeat(500_000)].concat(), "boxes side by side")
        .1
        .unwrap_err();
    // A box that says it is larger than anything.
    kept(
        &[start, b"\0\0\0\x01meta\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF".to_vec()].concat(),
        "a box of 2^64 bytes",
    )
    .1
    .unwrap_err();
}

#[test]
fn a_picture_that_is_an_archive_or_a_document_too_goes_out_as_a_picture_alone() {
    const SECRET: &str = "Odalys was here";
    let folder = tempdir().unwrap();
    let path = samples::file(&folder, "a.jpg");
    let note = folder.path().join("note.txt");
    std::fs::write(&note, SECRET).unwrap();
    // Stored, so that the text stands in it as it is. Readers of archives begin at the end.
    let script = "use IO::Compress::Zip qw(:all); zip $ARGV[0] => '-', Name => 'note.txt', Method => ZIP_CM_STORE or die";
    let archive = run("perl", &["-e", script, note.to_str().unwrap()]);
    let plain = samples::bytes(&path);
    let with_archive = [plain.clone(), archive].concat();
    // A document whose first kilobyte is a JPEG's comment: its readers look for %PDF there.
    let document = format!("%PDF-1.4\n{SECRET}\n");
    let comment =
        [&[0xFF, 0xFE][..], &u16::try_from(document.len() + 2).unwrap().to_be_bytes(), document.as_bytes()];
    let with_document = [&plain[..2], &comment.concat(), &plain[2..]].concat();
    for (bytes, what) in [(with_archive, Carries::Appended), (with_document, Carries::Text)] {
        let (facts, shown) = kept(&bytes, "two things at once");
        assert_eq!(facts.kind, Kind::Jpeg);
        assert!(carried(&bytes).unwrap().contains(&what), "{what:?}");
        for out in [shown.unwrap(), without_metadata(&bytes).unwrap()] {
            let text = String::from_utf8_lossy(&out);
            assert!(
                !text.contains(SECRET) && !text.contains("%PDF") && !text.contains("PK\u{3}"),
                "{what:?}"
            );
        }
    }
    // A document that holds a picture is a document.
    let behind = [b"%PDF-1.4\n".to_vec(), plain].concat();
    assert_eq!(inspect(&behind, Utc::now()), Err(PhotoError::NotAPicture));
}
