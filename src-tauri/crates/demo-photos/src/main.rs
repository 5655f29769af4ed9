//! Draws the demo's photographs: `demo-photos [--list FILE] [--out FOLDER] [--small] [--again] [NAME …]`.
//!
//! A picture whose scene has not changed is kept (only its time is set); `--again` draws it all the same.
//!
//! Every picture is computed from solids, light and noise by this program; none is taken from anywhere.

mod camera;
mod canvas;
mod chance;
mod exif;
mod film;
mod kept;
mod light;
mod list;
mod material;
mod scene;
mod segments;
mod shape;
mod vector;
mod world;

use crate::chance::{Chance, seed_of};
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};
use std::path::{Path, PathBuf};
use std::{env, fs, process};
use thiserror::Error;

const WIDTH: u16 = 1200;
const HEIGHT: u16 = 900;
const QUALITY: u8 = 78;

#[derive(Debug, Error)]
enum DrawError {
    #[error("{0}: {1}: check the path")]
    File(PathBuf, std::io::Error),
    #[error("{0}: {1}: correct the list")]
    List(PathBuf, serde_json::Error),
    #[error("{0}: {1}")]
    Encode(String, jpeg_encoder::EncodingError),
    #[error("{0} is not a plain file name ending in .jpg: correct the list")]
    Name(String),
}

struct Wishes {
    list: PathBuf,
    out: PathBuf,
    names: Vec<String>,
    /// Drawn at a third of the size, to look at a scene quickly.
    small: bool,
    /// Drawn even if it is there already.
    again: bool,
}

fn main() {
    if let Err(error) = draw_all(&Wishes::from_arguments(env::args().skip(1))) {
        eprintln!("{error}");
        process::exit(1);
    }
}

impl Wishes {
    fn from_arguments(mut arguments: impl Iterator<Item = String>) -> Self {
        let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../demo-data");
        let mut wishes = Self {
            list: data.join("photos.json"),
            out: data.join("photos"),
            names: Vec::new(),
            small: false,
            again: false,
        };
        while let Some(word) = arguments.next() {
            match word.as_str() {
                "--list" => wishes.list = arguments.next().unwrap_or_default().into(),
                "--out" => wishes.out = arguments.next().unwrap_or_default().into(),
                "--small" => wishes.small = true,
                "--again" => wishes.again = true,
                _ => wishes.names.push(word),
            }
        }
        wishes
    }
}

fn draw_all(wishes: &Wishes) -> Result<(), DrawError> {
    let file_error = |path: &Path| {
        let path = path.to_owned();
        move |error| DrawError::File(path, error)
    };
    let text = fs::read_to_string(&wishes.list).map_err(file_error(&wishes.list))?;
    let list_error = |error| DrawError::List(wishes.list.clone(), error);
    let values: Vec<serde_json::Value> = serde_json::from_str(&text).map_err(list_error)?;
    fs::create_dir_all(&wishes.out).map_err(file_error(&wishes.out))?;
    for value in values {
        let id = kept::identity(&value);
        let entry: list::Entry = serde_json::from_value(value).map_err(list_error)?;
        if wishes.names.is_empty() || wishes.names.iter().any(|name| entry.file.contains(name)) {
            if entry.file.contains(['/', '\\']) || !entry.file.ends_with(".jpg") {
                return Err(DrawError::Name(entry.file.clone()));
            }
            let path = wishes.out.join(&entry.file);
            let old = if wishes.again { None } else { fs::read(&path).ok() };
            let jpeg = picture(&entry, &id, old.as_deref(), if wishes.small { 3 } else { 1 })?;
            if old.as_ref() != Some(&jpeg) {
                fs::write(&path, &jpeg).map_err(file_error(&path))?;
                println!("{} {} bytes", entry.file, jpeg.len());
            }
        }
    }
    Ok(())
}

/// The picture as it is already there with its time set anew, or drawn.
fn picture(entry: &list::Entry, id: &str, old: Option<&[u8]>, divisor: u16) -> Result<Vec<u8>, DrawError> {
    let (width, height) = (WIDTH / divisor, HEIGHT / divisor);
    let seed = seed_of(&entry.file);
    let block = exif::block(&entry.taken, width.into(), height.into(), 8_000 + seed % 25_000, id);
    if let Some(retimed) = old.and_then(|old| kept::retimed(old, id, &block)) {
        return Ok(retimed);
    }
    let mut chance = Chance::new(seed);
    let shot = scene::build(&entry.scene, &mut chance);
    let exposure = camera::expose(&shot.world, &shot.light, &shot.camera, width.into(), height.into());
    let film = film::Film { exposure: shot.exposure, ..film::Film::by_chance(&mut chance, seed) };
    let dots = film::develop(&exposure, &shot.camera, &film);
    encode(&dots, width, height, &block).map_err(|error| DrawError::Encode(entry.file.clone(), error))
}

fn encode(dots: &[u8], width: u16, height: u16, exif: &[u8]) -> Result<Vec<u8>, jpeg_encoder::EncodingError> {
    let mut jpeg = Vec::new();
    let mut encoder = Encoder::new(&mut jpeg, QUALITY);
    encoder.set_sampling_factor(SamplingFactor::F_2_2);
    encoder.set_optimized_huffman_tables(true);
    encoder.add_app_segment(1, [kept::EXIF, exif].concat())?;
    encoder.encode(dots, width, height, ColorType::Rgb)?;
    Ok(jpeg)
}
