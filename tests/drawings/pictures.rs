//! All pictures as files, to look at: `cargo test --test drawings -- --ignored pictures`.

use std::fmt::Write;

use circuit::library;
use drawing::{Language, Plan, UPRIGHT};

use crate::search::{drawn, moments, three};
use crate::svg::svg;

#[test]
#[ignore = "writes files to look at"]
fn pictures() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("drawings");
    std::fs::create_dir_all(&folder).unwrap();
    let only = std::env::var("ONLY").unwrap_or_default();
    let mut sheets = [String::new(), String::new(), String::new()];
    let spanish = std::env::var("SPANISH").is_ok();
    for circuit in library::all()
        .unwrap()
        .iter()
        .filter(|circuit| only.is_empty() || only.split(',').any(|id| id == circuit.id))
    {
        let moments = moments(circuit);
        let plan = Plan::of(circuit);
        for (place, moment) in three(&moments).into_iter().enumerate() {
            let language = if spanish { Language::Spanish } else { Language::English };
            let picture = drawn(&plan, circuit, moment, language, UPRIGHT);
            let text = svg(&picture);
            std::fs::write(folder.join(format!("{}-{place}.svg", circuit.id)), &text).unwrap();
            let _ = write!(
                sheets[place],
                "<figure><figcaption>{} (fold {}, {} px, {} listed)</figcaption>{text}</figure>",
                circuit.id,
                picture.folded,
                picture.height,
                picture.listed.len()
            );
        }
    }
    for (place, sheet) in sheets.iter().enumerate() {
        let page = format!(
            "<meta charset=utf8><link rel=stylesheet href=font.css><style>body{{margin:0;background:#f5f0e3;display:grid;grid-template-columns:repeat(4,376px);gap:8px;padding:6px;width:1540px;font-family:TM,sans-serif;color:#15120d}}figure{{margin:0;border:1px solid #d8cfbb;padding:4px}}figcaption{{font-weight:800;font-size:14px}}</style>{sheet}"
        );
        std::fs::write(folder.join(format!("sheet-{place}.html")), page).unwrap();
    }
    println!("{}", folder.display());
}
