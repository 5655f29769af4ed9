//! Circuits by what a customer says or a technician types: their words against each circuit's own, rare words counting most.

use ::circuit::Circuit;

/// A circuit's words by what they say about it: its name and its complaint, then the names of its parts.
const NAMED: f64 = 1.0;
const PART: f64 = 0.3;
/// Shorter words (is, no, la) say nothing.
const SHORTEST: usize = 3;
/// Words that begin alike are the same word (crank, cranking; arranca, arranque): so many letters, or one of them whole and so
/// many more.
const ALIKE: usize = 5;
const ENDING: usize = 3;
/// Circuits this near the best one are offered first, and no more than so many.
const NEAR_BEST: f64 = 0.4;
const OFFERED: usize = 6;
/// What customers say, and what the trade calls it (common practice, no source).
const SAID_FOR: &[(&str, &str)] = &[("start", "crank")];
/// A word that more than this share of the circuits have singles none out.
const COMMON: f64 = 0.35;

/// Words of one circuit, each with what it counts.
pub(crate) type Words = Vec<(String, f64)>;

/// Words of every circuit.
pub(crate) struct CircuitSearch {
    circuits: Vec<Words>,
}

impl CircuitSearch {
    pub const fn of(circuits: Vec<Words>) -> Self {
        Self { circuits }
    }

    /// Places of the circuits that have every typed word, all of them for none; the best first, else in their own order.
    pub fn typed(&self, query: &str) -> Vec<usize> {
        let asked = words(query, 1);
        let mut found: Vec<(usize, f64)> = Vec::new();
        for (place, circuit) in self.circuits.iter().enumerate() {
            let weights: Option<Vec<f64>> = asked
                .iter()
                .map(|word| weight(circuit, |own| own.starts_with(word) || alike(own, word)))
                .collect();
            if let Some(weights) = weights {
                found.push((place, weights.iter().sum()));
            }
        }
        found.sort_by(|left, right| right.1.total_cmp(&left.1).then(left.0.cmp(&right.0)));
        found.into_iter().map(|(place, _)| place).collect()
    }

    /// Places of the circuits that a complaint is about, the likeliest first; none where its words single out none.
    pub fn about(&self, complaint: &str) -> Vec<usize> {
        let mut scores = vec![0.0; self.circuits.len()];
        for word in words(complaint, SHORTEST) {
            let meant = SAID_FOR.iter().filter(|(said, _)| alike(said, &word)).map(|(_, meant)| *meant);
            let meant: Vec<&str> = meant.chain([word.as_str()]).collect();
            let is = |own: &str| meant.iter().any(|word| alike(own, word));
            let found: Vec<f64> =
                self.circuits.iter().map(|circuit| weight(circuit, is).unwrap_or(0.0)).collect();
            let rare = rarity(found.iter().sum(), found.len());
            for (score, weight) in scores.iter_mut().zip(found) {
                *score += rare * weight;
            }
        }
        let best = scores.iter().copied().fold(0.0, f64::max);
        let mut near: Vec<(usize, f64)> = scores
            .into_iter()
            .enumerate()
            .filter(|(_, score)| *score > 0.0 && *score >= best * NEAR_BEST)
            .collect();
        near.sort_by(|left, right| right.1.total_cmp(&left.1).then(left.0.cmp(&right.0)));
        near.into_iter().take(OFFERED).map(|(place, _)| place).collect()
    }
}

/// The more circuits have a word, the less it says (inverse document frequency: Spärck Jones, 1972).
fn rarity(having: f64, all: usize) -> f64 {
    let all = f64::from(u32::try_from(all).unwrap_or(u32::MAX));
    if having <= 0.0 || having > all * COMMON { 0.0 } else { (all / having).ln() }
}

fn weight(circuit: &[(String, f64)], is: impl Fn(&str) -> bool) -> Option<f64> {
    circuit.iter().filter(|(own, _)| is(own)).map(|(_, weight)| *weight).reduce(f64::max)
}

/// What a circuit says of itself, in both languages.
pub(crate) fn words_of(circuit: &Circuit) -> Words {
    let named = [&circuit.title, &circuit.complaint.name].map(|text| (text, NAMED));
    let parts = circuit.components.iter().map(|part| (&part.name, PART));
    let texts = named.into_iter().chain(parts);
    let mut all: Words = texts
        .flat_map(|(text, weight)| {
            [&text.en, &text.es]
                .map(|text| words(text, 2))
                .concat()
                .into_iter()
                .map(move |word| (word, weight))
        })
        .collect();
    all.sort_by(|left, right| left.0.cmp(&right.0).then(right.1.total_cmp(&left.1)));
    all.dedup_by(|right, left| right.0 == left.0);
    all
}

/// Of a circuit nothing but its title is known.
pub(crate) fn words_of_title(title: &str) -> Words {
    words(title, 2).into_iter().map(|word| (word, NAMED)).collect()
}

/// Letters and digits in small letters, without accents.
fn words(text: &str, shortest: usize) -> Vec<String> {
    let plain: String = text.to_lowercase().chars().map(unaccented).collect();
    let all = plain.split(|character: char| !character.is_alphanumeric());
    all.filter(|word| word.chars().count() >= shortest).map(str::to_owned).collect()
}

const fn unaccented(letter: char) -> char {
    match letter {
        'á' => 'a',
        'é' => 'e',
        'í' => 'i',
        'ó' => 'o',
        'ú' | 'ü' => 'u',
        'ñ' => 'n',
        other => other,
    }
}

fn alike(left: &str, right: &str) -> bool {
    let same = left.chars().zip(right.chars()).take_while(|(left, right)| left == right).count();
    let (short, long) = {
        let (left, right) = (left.chars().count(), right.chars().count());
        (left.min(right), left.max(right))
    };
    let whole = same == short && short >= SHORTEST && long - short <= ENDING;
    whole || same >= ALIKE
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What customers say, in both languages, and a circuit that has to be among those offered first (sentences of our own).
    const SAID: &[(&str, &str)] = &[
        ("Radiator fan never runs, engine gets hot in traffic", "fan_pwm"),
        ("Doesn't start in the morning, only clicks once", "starter_power"),
        ("Starter does nothing at all, key turned to crank", "starter_control_high_side"),
        ("Left rear lamp flickers over bumps", "lamps_shared_ground"),
        ("Trailer lights go dim when braking", "trailer_lights"),
        ("Battery flat every other day while parked", "parasitic_draw"),
        ("Seat heater stays cold on the driver's side", "heated_seat"),
        ("No power at the coil", "ignition_feed"),
        ("El ventilador del radiador no gira", "fan_pwm"),
        ("El asiento no calienta", "heated_seat"),
        ("La batería se descarga estacionado", "parasitic_draw"),
    ];

    #[test]
    fn a_complaint_finds_its_circuit() {
        let all = ::circuit::library::all().unwrap();
        let search = CircuitSearch::of(all.iter().map(words_of).collect());
        let offered = |said: &str| -> Vec<&str> {
            search.about(said).into_iter().map(|place| all[place].id.as_str()).collect()
        };
        let lost: Vec<_> = SAID.iter().filter(|(said, id)| !offered(said).contains(id)).collect();
        assert!(
            lost.is_empty(),
            "{:?}",
            lost.iter().map(|(said, id)| (said, id, offered(said))).collect::<Vec<_>>()
        );
        assert!(offered("it makes a noise").is_empty(), "{:?}", offered("it makes a noise"));
        assert!(offered("").is_empty());
    }

    #[test]
    fn what_is_typed_narrows_the_list() {
        let all = ::circuit::library::all().unwrap();
        let search = CircuitSearch::of(all.iter().map(words_of).collect());
        let found = |typed: &str| -> Vec<&str> {
            search.typed(typed).into_iter().map(|place| all[place].id.as_str()).collect()
        };
        assert_eq!(found("").len(), all.len());
        assert!(found("fan").contains(&"fan_pwm") && !found("fan").contains(&"trailer_lights"));
        assert!(found("remol").contains(&"trailer_lights"), "{:?}", found("remol"));
        assert!(found("batería").contains(&"charging") && found("bateria").contains(&"charging"));
        assert!(found("zzz").is_empty());
    }
}
