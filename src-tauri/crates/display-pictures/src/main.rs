//! Streams what the networks learn from, or writes photos to measure on.
//!
//! `display-pictures lines|looks SEED [COUNT]` writes records to standard output: for `lines` the pixels of a cut, the
//! number of letters and 15 bytes of letters (1 = the first letter); for `looks` the pixels, the number of rows (0 to 2)
//! and 16 numbers (32 bits, little-endian) with their corners. `display-pictures photos SEED COUNT FOLDER [held-back|learned] [easy]`
//! writes JPEG files and `truth.jsonl`.

use display_pictures::chance::Chance;
use display_pictures::sample::{self, LETTERS, MOST};
use display_pictures::whole;
use std::io::{self, BufWriter, Write};
use std::path::Path;
use std::{env, fs, process};

fn main() {
    let words: Vec<String> = env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["lines", seed, rest @ ..] => stream(seed, rest, lines),
        ["looks", seed, rest @ ..] => stream(seed, rest, looks),
        ["photos", seed, count, folder, rest @ ..] => {
            photos(seed, count, Path::new(folder), !rest.contains(&"learned"), rest.contains(&"easy"))
        }
        ["weigh", seed, count, rest @ ..] => {
            weigh(seed, count, rest.contains(&"held-back"), rest.contains(&"easy"))
        }
        _ => Err(io::Error::other(
            "type lines SEED, looks SEED, or photos SEED COUNT FOLDER [held-back|learned] [easy]",
        )),
    };
    match done {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            eprintln!("{error}");
            process::exit(1);
        }
        _ => {}
    }
}

/// Reads invented photos and prints, a line each: seed, truth, value, whether it is what the display says, and the terms of its confidence.
fn weigh(seed: &str, count: &str, held_back: bool, easy: bool) -> io::Result<()> {
    let (seed, count) = (number(seed)?, number(count)?);
    let mut out = io::stdout().lock();
    for at in seed..seed.saturating_add(count) {
        let Some(whole) = whole::photo(at, held_back, easy) else { continue };
        let begun = std::time::Instant::now();
        let read = photo::display::read_with_evidence(&whole.file);
        let (reading, evidence) = read.map_err(|error| io::Error::other(error.to_string()))?;
        let spent = begun.elapsed().as_secs_f64() * 1000.0;
        let truth = whole.value.unwrap_or_default();
        let says = whole.says.unwrap_or_default();
        let value = reading.value.unwrap_or_default();
        let terms = photo::display::terms(&evidence).map(|term| format!("{term:.4}")).join(",");
        let miss = whole.corners.zip(reading.corners).map_or(-1.0, |(a, b)| {
            let high = (a[0].0 - a[3].0).hypot(a[0].1 - a[3].1).max(1.0);
            a.iter().zip(b).map(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1)).fold(0.0, f32::max) / high
        });
        writeln!(
            out,
            "{at}\t{truth}\t{value}\t{}\t{:.5}\t{miss:.2}\t{spent:.0}\t{terms}",
            u8::from(says == value),
            reading.confidence
        )?;
    }
    Ok(())
}

fn number(word: &str) -> io::Result<u64> {
    word.parse().map_err(|_| io::Error::other(format!("{word} is no whole number: type a seed or a count")))
}

fn stream(
    seed: &str,
    rest: &[&str],
    one: fn(&mut Chance, bool, &mut dyn Write) -> io::Result<()>,
) -> io::Result<()> {
    let seed = number(seed)?;
    let count = rest.first().map_or(Ok(u64::MAX), |word| number(word))?;
    let held_back = rest.contains(&"held-back");
    let mut out = BufWriter::with_capacity(1 << 20, io::stdout().lock());
    for at in 0..count {
        one(&mut Chance::new(seed.wrapping_mul(0x1_0000_0001).wrapping_add(at << 20)), held_back, &mut out)?;
    }
    out.flush()
}

fn lines(chance: &mut Chance, held_back: bool, out: &mut dyn Write) -> io::Result<()> {
    for line in sample::lines(chance, held_back) {
        out.write_all(&line.pixels)?;
        let mut letters = [0_u8; MOST + 1];
        let place =
            |letter: char| LETTERS.chars().position(|other| other == letter).map_or(0, |at| at as u8 + 1);
        let (count, rest) = letters.split_at_mut(1);
        count.fill(line.letters.chars().count() as u8);
        rest.iter_mut().zip(line.letters.chars()).for_each(|(byte, letter)| *byte = place(letter));
        out.write_all(&letters)?;
    }
    Ok(())
}

fn looks(chance: &mut Chance, held_back: bool, out: &mut dyn Write) -> io::Result<()> {
    let look = sample::look(chance, held_back);
    out.write_all(&look.pixels)?;
    out.write_all(&[look.corners.len().min(2) as u8])?;
    let mut numbers = look.corners.iter().take(2).flatten().flat_map(|corner| [corner.0, corner.1]);
    for _ in 0..16 {
        out.write_all(&numbers.next().unwrap_or(0.0).to_le_bytes())?;
    }
    Ok(())
}

fn photos(seed: &str, count: &str, folder: &Path, held_back: bool, easy: bool) -> io::Result<()> {
    let (seed, count) = (number(seed)?, number(count)?);
    fs::create_dir_all(folder)?;
    let mut truth = String::new();
    for at in 0..count {
        let Some(whole) = whole::photo(seed.wrapping_add(at), held_back, easy) else { continue };
        let name = format!("{at:05}.jpg");
        fs::write(folder.join(&name), &whole.file)?;
        let value = whole.value.map_or("null".to_owned(), |value| format!("\"{value}\""));
        let corners = whole.corners.map_or("null".to_owned(), |corners| {
            format!("[{}]", corners.map(|(x, y)| format!("[{x:.1},{y:.1}]")).join(","))
        });
        truth.push_str(&format!("{{\"file\":\"{name}\",\"value\":{value},\"corners\":{corners}}}\n"));
    }
    fs::write(folder.join("truth.jsonl"), truth)
}
