//! Suppliers' papers that ImageMagick set, photographed by arithmetic, through both networks and the proposal.
//!
//! The networks aren't in the tree: where `cargo xtask models` didn't fetch them, the first check says so and is skipped.
//! What is read of many such papers is measured by `cargo xtask bench paper`.

use photo::{PaperModels, PhotoError, read_paper};
use testimeter_checks::papers::{self, SMALL};

/// Papers that are read: with full counts two of each region.
fn papers() -> u64 {
    if std::env::var_os("TESTIMETER_FULL").is_some() { 8 } else { 1 }
}

#[test]
fn a_worn_paper_is_read_and_no_wrong_total_goes_without_a_doubt() {
    let Some(models) = papers::models() else {
        println!("skipped: the networks that read papers aren't here; `cargo xtask models` fetches them");
        return;
    };
    let mut right = 0;
    for seed in 0..papers() {
        let paper = papers::paper(seed, SMALL);
        let seen = api::paper_in(&paper.bytes, &models, paper.truth.region).unwrap();
        let total = seen.total.as_ref().map(|total| total.cents.clone());
        let is_right = total == Some(paper.truth.total.to_string());
        assert!(is_right || total.is_none() || !seen.doubts.is_empty(), "{seed}: {:?} {seen:?}", paper.truth);
        right += u64::from(is_right);
    }
    assert!(2 * right > papers(), "{right} of {} totals are right", papers());
}

#[test]
fn files_that_are_no_networks_are_refused_with_words_that_help() {
    for (finder, reader) in [(vec![], vec![]), (b"no network".to_vec(), vec![0; 4000])] {
        let error = PaperModels::load(finder, reader).unwrap_err();
        assert!(
            matches!(error, PhotoError::Paper(_)) && error.to_string().contains("type what it says"),
            "{error}"
        );
    }
    let Some(models) = papers::models() else { return };
    let file = |name| std::fs::read(models.join(name)).unwrap();
    // A network that finds text names no letters: it can't be the one that reads.
    assert!(matches!(PaperModels::load(file("finder.onnx"), file("finder.onnx")), Err(PhotoError::Paper(_))));
    let networks = PaperModels::load(file("finder.onnx"), file("reader.onnx")).unwrap();
    assert_eq!(read_paper(b"", &networks), Err(PhotoError::Empty));
    assert_eq!(read_paper(b"no picture at all", &networks), Err(PhotoError::NotAPicture));
    let tiny = image::GrayImage::from_pixel(1, 1, image::Luma([255]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    tiny.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    assert_eq!(read_paper(bytes.get_ref(), &networks), Ok(vec![]));
}
