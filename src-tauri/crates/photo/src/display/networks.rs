//! The two networks, run in pure Rust.

use super::alignments::{CLASSES, Scores};
use super::cut::CUT;
use crate::PhotoError;
use rten::Model;
use rten_tensor::NdTensor;
use rten_tensor::prelude::*;
use std::sync::OnceLock;

/// Side of the locator's picture, in pixels.
pub const LOOK: usize = 320;
/// Places of the locator's answer, across and down.
pub const PLACES: usize = 40;
/// Numbers at each place: a score, then x and y of four corners.
pub const NUMBERS: usize = 9;

const RECOGNIZER: &[u8] = include_bytes!("networks/recognizer.onnx");
const LOCATOR: &[u8] = include_bytes!("networks/locator.onnx");
/// What the recognizer's scores are divided by, so that its shares are right on invented pictures it never saw.
const TEMPERATURE: f64 = 1.0;

/// Reads straightened cuts of [`CUT`] pixels, three bytes a pixel.
///
/// # Errors
/// [`PhotoError::Reader`] when the network can't be run.
pub fn recognize(cuts: &[Vec<u8>]) -> Result<Vec<Scores>, PhotoError> {
    static NETWORK: OnceLock<Result<Model, String>> = OnceLock::new();
    let (wide, high) = CUT;
    let data: Vec<f32> = cuts.iter().flat_map(|cut| evened(cut, wide * high)).collect();
    let answer = run(&NETWORK, RECOGNIZER, [cuts.len(), 3, high, wide], data)?;
    let each = (answer.len() / cuts.len().max(1)).max(CLASSES);
    Ok(answer.chunks_exact(each).map(|raw| Scores::of_raw(raw, TEMPERATURE)).collect())
}

/// Looks at [`LOOK`] by [`LOOK`] pixels; [`NUMBERS`] planes of [`PLACES`] by [`PLACES`] numbers come back.
///
/// # Errors
/// [`PhotoError::Reader`] when the network can't be run.
pub fn locate(pixels: &[u8]) -> Result<Vec<f32>, PhotoError> {
    static NETWORK: OnceLock<Result<Model, String>> = OnceLock::new();
    let data = planes(pixels, LOOK * LOOK, |value| value / 127.5 - 1.0);
    run(&NETWORK, LOCATOR, [1, 3, LOOK, LOOK], data)
}

fn run(
    network: &OnceLock<Result<Model, String>>,
    bytes: &'static [u8],
    shape: [usize; 4],
    data: Vec<f32>,
) -> Result<Vec<f32>, PhotoError> {
    let failed = |problem: String| PhotoError::Reader(problem);
    let load = || Model::load_static_slice(bytes).map_err(|error| error.to_string());
    let model = network.get_or_init(load).as_ref().map_err(|problem| failed(problem.clone()))?;
    let input = NdTensor::try_from_data(shape, data).map_err(|error| failed(error.to_string()))?;
    let answer = model.run_one(input.view().into(), None).map_err(|error| failed(error.to_string()))?;
    let answer: rten_tensor::Tensor<f32> =
        answer.try_into().map_err(|_| failed("the answer has no numbers".to_owned()))?;
    Ok(answer.to_vec())
}

/// Color after color, brought to the same mean and spread whatever the light was.
fn evened(cut: &[u8], count: usize) -> Vec<f32> {
    let total = cut.len().max(1) as f32;
    let mean = cut.iter().map(|byte| f32::from(*byte)).sum::<f32>() / total;
    let square = cut.iter().map(|byte| (f32::from(*byte) - mean).powi(2)).sum::<f32>() / total;
    let spread = square.sqrt() + 6.0;
    planes(cut, count, |value| (value - mean) / spread)
}

fn planes(pixels: &[u8], count: usize, change: impl Fn(f32) -> f32) -> Vec<f32> {
    let mut data = Vec::with_capacity(count * 3);
    for color in 0..3 {
        data.extend(pixels.iter().skip(color).step_by(3).take(count).map(|byte| change(f32::from(*byte))));
    }
    data
}
