//! The two networks, run in pure Rust: one finds text, one reads a straightened line of it.

use crate::PhotoError;
use rten::Model;
use rten_tensor::prelude::*;
use rten_tensor::{NdTensor, Tensor};

/// Least width of what the recognizer is shown; narrower lines stand on gray.
const LEAST_WIDTH: usize = 320;

/// The networks in memory.
pub struct PaperModels {
    finder: Model,
    reader: Model,
    /// A letter a class; `None` for the blank and for letters that papers here aren't written in.
    letters: Vec<Option<char>>,
}

impl std::fmt::Debug for PaperModels {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("PaperModels").field("letters", &self.letters.len()).finish_non_exhaustive()
    }
}

impl PaperModels {
    /// From the bytes of two ONNX files: the finder (differentiable binarization, Liao and others, 2020: a picture in, a map
    /// of how surely text is at each place out) and the reader (connectionist temporal classification, Graves and others,
    /// 2006; its letters, a line each, stand in the file's metadata as `character`).
    ///
    /// # Errors
    /// [`PhotoError::Paper`] when a file isn't such a network.
    pub fn load(finder: Vec<u8>, reader: Vec<u8>) -> Result<Self, PhotoError> {
        let load = |bytes| Model::load(bytes).map_err(failed);
        let (finder, reader) = (load(finder)?, load(reader)?);
        let list = reader.metadata().get("character").ok_or_else(|| failed("the reader names no letters"))?;
        // The blank comes first, a space last.
        let named = list.lines().map(|line| line.chars().next().filter(|letter| is_latin(*letter)));
        let letters = [None].into_iter().chain(named).chain([Some(' ')]).collect();
        Ok(Self { finder, reader, letters })
    }

    /// How surely text is at each pixel of a picture, three bytes a pixel.
    pub(super) fn find(&self, pixels: &[u8], (wide, high): (usize, usize)) -> Result<Vec<f32>, PhotoError> {
        let map = run(&self.finder, [1, 3, high, wide], planes(pixels, wide * high))?.to_vec();
        if map.len() == wide * high { Ok(map) } else { Err(failed("the finder's map has another size")) }
    }

    /// The likeliest text of a straightened line and the product of its letters' probabilities.
    pub(super) fn read(
        &self,
        pixels: &[u8],
        (wide, high): (usize, usize),
    ) -> Result<(String, f64), PhotoError> {
        let shown = wide.max(LEAST_WIDTH);
        // Zero is the middle gray that the network was taught to see beyond the line's end.
        let mut data = vec![0.0; 3 * shown * high];
        let line = planes(pixels, wide * high);
        data.chunks_exact_mut(shown).zip(line.chunks_exact(wide)).for_each(|(to, from)| {
            to.iter_mut().zip(from).for_each(|(to, from)| *to = *from);
        });
        let answer = run(&self.reader, [1, 3, high, shown], data)?;
        if answer.shape().last().copied() != Some(self.letters.len()) {
            return Err(failed("the reader has more or fewer letters than it names"));
        }
        Ok(self.likeliest(&answer.to_vec()))
    }

    fn likeliest(&self, shares: &[f32]) -> (String, f64) {
        let (mut text, mut probability, mut before) = (String::new(), 1.0, 0);
        let mut most_of_letter = 0.0_f32;
        let mut close = |most: &mut f32| {
            if *most > 0.0 {
                probability *= f64::from(*most);
            }
            *most = 0.0;
        };
        for place in shares.chunks_exact(self.letters.len()) {
            let (class, share) = self.best(place);
            if class != before {
                close(&mut most_of_letter);
                text.extend(self.letters.get(class).copied().flatten());
            }
            if class != 0 {
                most_of_letter = most_of_letter.max(share);
            }
            before = class;
        }
        close(&mut most_of_letter);
        (text.trim().to_owned(), probability)
    }

    /// The likeliest class of a place among the blank and the letters that papers here are written in.
    fn best(&self, place: &[f32]) -> (usize, f32) {
        let mut best = (0, place.first().copied().unwrap_or(0.0));
        for (class, (share, letter)) in place.iter().zip(&self.letters).enumerate() {
            if letter.is_some() && *share > best.1 {
                best = (class, *share);
            }
        }
        best
    }
}

/// Unicode's Basic Latin, Latin-1 Supplement and Latin Extended-A, and the signs that prices and lists are written with.
fn is_latin(letter: char) -> bool {
    matches!(letter, '!'..='\u{17f}' | '€' | '–' | '—' | '•' | '’' | '‘' | '“' | '”' | '№')
}

fn run(model: &Model, shape: [usize; 4], data: Vec<f32>) -> Result<Tensor<f32>, PhotoError> {
    let input = NdTensor::try_from_data(shape, data).map_err(failed)?;
    let answer = model.run_one(input.view().into(), None).map_err(failed)?;
    answer.try_into().map_err(|_| failed("the answer has no numbers"))
}

/// Color after color, blue first, from -1 to 1: what the networks were taught with.
fn planes(pixels: &[u8], count: usize) -> Vec<f32> {
    let color =
        |color| pixels.iter().skip(color).step_by(3).take(count).map(|byte| f32::from(*byte) / 127.5 - 1.0);
    [2, 1, 0].into_iter().flat_map(color).collect()
}

fn failed(problem: impl ToString) -> PhotoError {
    PhotoError::Paper(problem.to_string())
}
