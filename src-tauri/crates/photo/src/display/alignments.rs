//! Strings and their probabilities from the recognizer's places: connectionist temporal classification (Graves and
//! others, 2006), whose probability of a string is the sum over every way to lay it along the places.

/// Letters of the recognizer after the blank, in the order of its classes.
pub const LETTERS: &str = "0123456789.-Lx?u";
/// Classes, the blank first.
pub const CLASSES: usize = 17;

/// Logarithms of each class's share at each place, from left to right.
#[derive(Debug, Clone, PartialEq)]
pub struct Scores {
    places: Vec<[f64; CLASSES]>,
}

impl Scores {
    /// From a network's raw outputs, place by place, each divided by `temperature`.
    #[must_use]
    pub fn of_raw(raw: &[f32], temperature: f64) -> Self {
        let places = raw
            .chunks_exact(CLASSES)
            .map(|chunk| {
                let mut place = [0.0; CLASSES];
                place.iter_mut().zip(chunk).for_each(|(to, from)| *to = f64::from(*from) / temperature);
                let most = place.iter().copied().fold(f64::MIN, f64::max);
                let total = most + place.iter().map(|score| (score - most).exp()).sum::<f64>().ln();
                place.map(|score| score - total)
            })
            .collect();
        Self { places }
    }
    fn at(place: &[f64; CLASSES], class: usize) -> f64 {
        place.get(class).copied().unwrap_or(f64::NEG_INFINITY)
    }
}

/// Logarithm of the probability that the places say `string`; minus infinity for letters that aren't the recognizer's.
#[must_use]
pub fn log_probability(scores: &Scores, string: &str) -> f64 {
    let Some(classes) = string.chars().map(class_of).collect::<Option<Vec<usize>>>() else {
        return f64::NEG_INFINITY;
    };
    // Blanks between, before and after the letters.
    let mut path = vec![0];
    classes.iter().for_each(|class| path.extend([*class, 0]));
    let mut now = vec![f64::NEG_INFINITY; path.len()];
    for (at, place) in scores.places.iter().enumerate() {
        let before = now.clone();
        let get = |index: usize, back: usize| {
            index.checked_sub(back).and_then(|index| before.get(index)).copied().unwrap_or(f64::NEG_INFINITY)
        };
        for (index, (slot, class)) in now.iter_mut().zip(&path).enumerate() {
            let came = if at == 0 {
                if index < 2 { 0.0 } else { f64::NEG_INFINITY }
            } else {
                let skips = index >= 2 && *class != 0 && path.get(index - 2) != Some(class);
                let two = if skips { get(index, 2) } else { f64::NEG_INFINITY };
                sum(sum(get(index, 0), get(index, 1)), two)
            };
            *slot = came + Scores::at(place, *class);
        }
    }
    let mut ends = now.iter().rev();
    let last = ends.next().copied().unwrap_or(0.0);
    if path.len() == 1 { last } else { sum(last, ends.next().copied().unwrap_or(f64::NEG_INFINITY)) }
}

/// The likeliest strings by prefix search, with the logarithm of each one's exact probability, likeliest first.
#[must_use]
pub fn best_strings(scores: &Scores, count: usize) -> Vec<(String, f64)> {
    // Of each prefix: probability that the places so far say it and end in a blank, or in its last letter.
    let mut beam: Vec<(String, f64, f64)> = vec![(String::new(), 0.0, f64::NEG_INFINITY)];
    for place in &scores.places {
        let mut next: Vec<(String, f64, f64)> = Vec::new();
        for (prefix, blank, letter) in &beam {
            let both = sum(*blank, *letter);
            add(&mut next, prefix.clone(), both + Scores::at(place, 0), f64::NEG_INFINITY);
            for (class, sign) in LETTERS.chars().enumerate() {
                let score = Scores::at(place, class + 1);
                // Letters that hardly any place supports only make the search slow.
                if score < -9.0 {
                    continue;
                }
                if prefix.ends_with(sign) {
                    add(&mut next, prefix.clone(), f64::NEG_INFINITY, letter + score);
                    add(&mut next, format!("{prefix}{sign}"), f64::NEG_INFINITY, blank + score);
                } else {
                    add(&mut next, format!("{prefix}{sign}"), f64::NEG_INFINITY, both + score);
                }
            }
        }
        next.sort_by(|a, b| sum(b.1, b.2).total_cmp(&sum(a.1, a.2)));
        next.truncate(count.max(1));
        beam = next;
    }
    let mut found: Vec<(String, f64)> = beam
        .into_iter()
        .map(|(string, ..)| {
            let exact = log_probability(scores, &string);
            (string, exact)
        })
        .collect();
    found.sort_by(|a, b| b.1.total_cmp(&a.1));
    found
}

fn add(beam: &mut Vec<(String, f64, f64)>, prefix: String, blank: f64, letter: f64) {
    match beam.iter_mut().find(|(other, ..)| *other == prefix) {
        Some((_, old_blank, old_letter)) => {
            (*old_blank, *old_letter) = (sum(*old_blank, blank), sum(*old_letter, letter));
        }
        None => beam.push((prefix, blank, letter)),
    }
}

fn class_of(letter: char) -> Option<usize> {
    LETTERS.chars().position(|other| other == letter).map(|at| at + 1)
}

/// Logarithm of the sum of two probabilities given by their logarithms.
fn sum(a: f64, b: f64) -> f64 {
    let (more, less) = if a > b { (a, b) } else { (b, a) };
    if less == f64::NEG_INFINITY { more } else { more + (less - more).exp().ln_1p() }
}
