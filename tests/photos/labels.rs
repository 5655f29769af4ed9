//! Labels whose bar codes an outside encoder drew (Debian's `zint`), photographed here by a camera of arithmetic: turned,
//! tilted, small, on a curved pillar, out of focus, dirty, in bad light.

use crate::outside::{demo_photos, run};
use image::{GrayImage, Luma};
use photo::{Effort, PhotoError, Symbology, read_label};
use proptest::prelude::*;
use std::io::Cursor;

/// The worked example of 49 CFR 565.15.
const VIN: &str = "1G4AH59H45G118341";
const PART: &str = "KD-4471-B";

/// Sorts of bar code by their number in zint.
const SORTS: [(Symbology, &str); 4] = [
    (Symbology::Code39, "8"),
    (Symbology::Code128, "20"),
    (Symbology::DataMatrix, "71"),
    (Symbology::Qr, "58"),
];

/// What happens to a label on its way into the picture.
#[derive(Clone, Copy, Debug)]
struct Damage {
    /// Turned, in degrees.
    turn: f32,
    /// The far side is this share smaller.
    tilt: f32,
    /// Width of the label in the picture, in pixels.
    wide: f32,
    /// Bent round a pillar of this many label widths; 0 is flat.
    bent: f32,
    /// Spread of the blur, in pixels.
    blur: f32,
    /// Grains of noise, in grey levels.
    noise: f32,
    /// Spots of dirt.
    spots: u32,
    /// Light at the darkest, of 1.
    light: f32,
    /// A stripe of glare across it.
    glare: bool,
}

const CLEAN: Damage = Damage {
    turn: 0.0,
    tilt: 0.0,
    wide: 760.0,
    bent: 0.0,
    blur: 0.0,
    noise: 0.0,
    spots: 0,
    light: 1.0,
    glare: false,
};

/// The bar code as zint draws it, with the margins that its standard asks for.
fn drawn(sort: &str, text: &str) -> GrayImage {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("code.png");
    let file = file.to_str().unwrap();
    run(
        "zint",
        &["-b", sort, "--quietzones", "--notext", "--scale=3", "--height=60", "-o", file, "-d", text],
    );
    image::open(file).unwrap().into_luma8()
}

/// Numbers that look random and are the same at each run (a linear congruential generator, Knuth's constants).
struct Chance(u64);

impl Chance {
    fn below_one(&mut self) -> f32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f32 / (1_u64 << 24) as f32
    }
}

/// The label in a picture of 1280 × 960, as JPEG.
fn photographed(code: &GrayImage, damage: &Damage, seed: u64) -> Vec<u8> {
    let mut chance = Chance(seed);
    let (cosine, sine) = (damage.turn.to_radians().cos(), damage.turn.to_radians().sin());
    let (code_wide, code_high) = (code.width() as f32, code.height() as f32);
    // A square symbol takes less of the picture's height than its width would.
    let wide = if code_high > 0.6 * code_wide { damage.wide * 0.5 } else { damage.wide };
    let scale = wide / code_wide;
    let spots: Vec<(f32, f32, f32)> = (0..damage.spots)
        .map(|_| {
            let (x, y) = (chance.below_one() - 0.5, chance.below_one() - 0.5);
            (x * code_wide, y * code_high, (0.01 + 0.012 * chance.below_one()) * code_wide)
        })
        .collect();
    let mut picture = GrayImage::from_fn(1280, 960, |x, y| {
        let (dx, dy) = ((x as f32 - 640.0) / scale, (y as f32 - 480.0) / scale);
        let (u, v) = (dx * cosine + dy * sine, dy * cosine - dx * sine);
        let far = 1.0 + damage.tilt * u / code_wide;
        let (mut u, v) = (u / far, v / far);
        let mut shade = damage.light + (1.0 - damage.light) * x as f32 / 1280.0;
        if damage.bent > 0.0 {
            let radius = damage.bent * code_wide;
            let along = (u / radius).clamp(-0.99, 0.99);
            u = radius * along.asin();
            shade *= (1.0 - along * along).sqrt();
        }
        let (px, py) = (u + code_wide / 2.0, v + code_high / 2.0);
        let margin = 0.08 * code_wide;
        let on_card = px > -margin && py > -margin && px < code_wide + margin && py < code_high + margin;
        let dirty = spots.iter().any(|(sx, sy, r)| (u - sx).hypot(v - sy) < *r);
        let ink = match (dirty, on_card) {
            (true, true) => 90.0,
            (false, true) => 25.0 + 205.0 * lightness(code, px, py),
            (_, false) => 110.0,
        };
        let stripe = damage.glare && (u + v - 0.1 * code_wide).abs() < 0.04 * code_wide;
        let lit = ink * shade + if stripe { 150.0 } else { 0.0 };
        Luma([lit.clamp(0.0, 255.0) as u8])
    });
    if damage.blur > 0.0 {
        picture = image::imageops::blur(&picture, damage.blur);
    }
    for Luma([light]) in picture.pixels_mut() {
        let grain = damage.noise * (chance.below_one() + chance.below_one() + chance.below_one() - 1.5);
        *light = (f32::from(*light) + grain).clamp(0.0, 255.0) as u8;
    }
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}

/// Between the pixels, white beyond them.
fn lightness(code: &GrayImage, x: f32, y: f32) -> f32 {
    let (left, top) = ((x - 0.5).floor(), (y - 0.5).floor());
    let (fx, fy) = (x - 0.5 - left, y - 0.5 - top);
    let one = |dx: f32, dy: f32| {
        let (x, y) = (left + dx, top + dy);
        let inside = x >= 0.0 && y >= 0.0;
        let pixel = inside.then(|| code.get_pixel_checked(x as u32, y as u32)).flatten();
        pixel.map_or(1.0, |Luma([light])| f32::from(*light) / 255.0)
    };
    let upper = one(0.0, 0.0) * (1.0 - fx) + one(1.0, 0.0) * fx;
    let lower = one(0.0, 1.0) * (1.0 - fx) + one(1.0, 1.0) * fx;
    upper * (1.0 - fy) + lower * fy
}

/// Damages by name, each worse than what one takes care to avoid.
fn damages() -> Vec<(&'static str, Damage)> {
    vec![
        ("clean", CLEAN),
        ("turned by 7°", Damage { turn: 7.0, ..CLEAN }),
        ("turned by 20°", Damage { turn: 20.0, ..CLEAN }),
        ("turned by 45°", Damage { turn: 45.0, ..CLEAN }),
        ("turned by 90°", Damage { turn: 90.0, ..CLEAN }),
        ("upside down", Damage { turn: 180.0, ..CLEAN }),
        ("tilted", Damage { tilt: 0.35, ..CLEAN }),
        ("tilted and turned", Damage { tilt: 0.3, turn: -15.0, ..CLEAN }),
        ("small (480 pixels)", Damage { wide: 480.0, ..CLEAN }),
        ("very small (300 pixels)", Damage { wide: 300.0, ..CLEAN }),
        ("on a pillar", Damage { bent: 0.75, ..CLEAN }),
        ("on a thin pillar", Damage { bent: 0.56, ..CLEAN }),
        ("out of focus", Damage { blur: 1.5, ..CLEAN }),
        ("far out of focus", Damage { blur: 3.0, ..CLEAN }),
        ("grainy", Damage { noise: 45.0, ..CLEAN }),
        ("grainy and out of focus", Damage { noise: 30.0, blur: 1.2, ..CLEAN }),
        ("dirty", Damage { spots: 14, ..CLEAN }),
        ("dirty, turned", Damage { spots: 14, turn: 10.0, ..CLEAN }),
        ("in the dark", Damage { light: 0.15, noise: 8.0, ..CLEAN }),
        ("glare", Damage { glare: true, ..CLEAN }),
    ]
}

/// Seeds of each damage: one, or as many as TESTIMETER_LABELS says. The table was made with three.
fn seeds() -> u64 {
    std::env::var("TESTIMETER_LABELS").ok().and_then(|count| count.parse().ok()).unwrap_or(1)
}

/// How many of each damage are read, by sort; none may be read as anything else. The table is printed, and stands with its
/// date in `src-tauri/crates/photo/FIGURES.md`.
#[test]
fn what_is_read_is_right_and_clean_turned_and_tilted_labels_are_read() {
    let codes: Vec<(Symbology, GrayImage)> =
        SORTS.into_iter().map(|(symbology, sort)| (symbology, drawn(sort, VIN))).collect();
    let seeds = seeds();
    let mut times = Vec::new();
    println!("| damage | Code 39 | Code 128 | Data Matrix | QR |\n|---|---|---|---|---|");
    for (name, damage) in damages() {
        let counts: Vec<u64> = codes
            .iter()
            .map(|(symbology, code)| {
                let mut read = |seed| {
                    let bytes = photographed(code, &damage, seed);
                    let start = std::time::Instant::now();
                    let label = read_label(&bytes, Effort::Photo, &|text| text == VIN).unwrap();
                    let spent = start.elapsed().as_millis();
                    label.is_some_and(|label| {
                        assert_eq!((label.text.as_str(), label.symbology), (VIN, *symbology));
                        times.push(spent);
                        true
                    })
                };
                (1..=seeds).filter(|seed| read(*seed)).count() as u64
            })
            .collect();
        let cells: Vec<String> = counts.iter().map(|count| format!("{count} of {seeds}")).collect();
        println!("| {name} | {} |", cells.join(" | "));
        let must = [
            "clean",
            "turned by 7°",
            "turned by 45°",
            "turned by 90°",
            "upside down",
            "tilted",
            "on a pillar",
            "out of focus",
            "grainy",
            "glare",
        ];
        if must.contains(&name) {
            assert_eq!(counts, [seeds; 4], "{name}");
        }
    }
    times.sort_unstable();
    let at = |share: usize| times[(times.len() * share / 100).min(times.len() - 1)];
    println!("first answer of {} labels: median {} ms, 95 % point {} ms", times.len(), at(50), at(95));
}

#[test]
fn a_frame_of_the_camera_is_enough_where_the_label_is_held_straight() {
    for (symbology, sort) in SORTS {
        let bytes = photographed(&drawn(sort, PART), &CLEAN, 1);
        let label = read_label(&bytes, Effort::Frame(0), &|_| true).unwrap().unwrap();
        assert_eq!((label.text.as_str(), label.symbology), (PART, symbology));
        assert!(label.corners.iter().all(|(x, y)| (0.0..1280.0).contains(x) && (0.0..960.0).contains(y)));
    }
}

/// The places are those of the label in the picture: turned by hand, they turn with it.
#[test]
fn the_corners_lie_on_the_label() {
    let turns = [0.0, 12.0, 90.0].map(|turn| ("20", turn)).into_iter().chain([("8", 0.0), ("71", 12.0)]);
    for (sort, turn) in turns {
        let code = drawn(sort, VIN);
        let bytes = photographed(&code, &Damage { turn, ..CLEAN }, 1);
        let label = read_label(&bytes, Effort::Photo, &|text| text == VIN).unwrap().unwrap();
        let direction = |(x, y): (f32, f32)| {
            let (dx, dy) = (x - 640.0, y - 480.0);
            let (cosine, sine) = (turn.to_radians().cos(), turn.to_radians().sin());
            (dx * cosine + dy * sine, dy * cosine - dx * sine)
        };
        assert!(!label.corners.is_empty());
        for corner in label.corners {
            let (along, across) = direction(corner);
            let high = 380.0 * code.height() as f32 / code.width() as f32;
            assert!(along.abs() < 400.0 && across.abs() < high + 10.0, "{sort} {turn}: {along} {across}");
        }
    }
}

#[test]
fn only_what_the_caller_takes_is_given_and_no_picture_is_refused_with_words_that_help() {
    let bytes = photographed(&drawn("8", VIN), &CLEAN, 1);
    assert_eq!(read_label(&bytes, Effort::Photo, &|text| text.starts_with("none")).unwrap(), None);
    assert_eq!(read_label(b"", Effort::Photo, &|_| true), Err(PhotoError::Empty));
    assert_eq!(read_label(b"VIN", Effort::Photo, &|_| true), Err(PhotoError::NotAPicture));
}

/// The labels of the demo say the VINs that they were drawn from; meters, dashes and grounds say none, whatever is taken for one.
#[test]
fn demo_labels_are_read_and_no_other_photo_says_a_vin() {
    let list = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data/photos.json");
    let list: Vec<serde_json::Value> = serde_json::from_str(&std::fs::read_to_string(list).unwrap()).unwrap();
    let vin_of = |name: &str| {
        let entry = list.iter().find(|entry| entry["file"] == name)?;
        entry["vin"].as_str().map(str::to_owned)
    };
    let mut labels = 0;
    for path in demo_photos() {
        let wanted = vin_of(path.file_name().unwrap().to_str().unwrap());
        // The others are looked at as frames are: twenty looks at thirty photos take minutes.
        let effort = if wanted.is_some() { Effort::Photo } else { Effort::Frame(3) };
        let bytes = std::fs::read(&path).unwrap();
        let label = read_label(&bytes, effort, &|text| job::label::vin_on(text).is_some()).unwrap();
        assert_eq!(label.map(|label| label.text), wanted, "{}", path.display());
        labels += usize::from(wanted.is_some());
    }
    assert_eq!(labels, 3);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn any_pixels_are_looked_at_without_panic(wide in 1_u32..300, high in 1_u32..200, seed in any::<u32>()) {
        let picture = GrayImage::from_fn(wide, high, |x, y| {
            Luma([((x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503) ^ seed) >> 7) as u8])
        });
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        let _ = read_label(&bytes.into_inner(), Effort::Photo, &|_| false).unwrap();
    }
}
