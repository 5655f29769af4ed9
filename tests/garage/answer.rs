//! What a technician answers to a question or sees at a look, and how often he is wrong.

use circuit::Question;

use super::dice::Dice;

/// Technicians are wrong a bit more often than the circuit files say.
const MORE: f64 = 1.3;
const FLOOR: f64 = 0.005;

/// Yes or no as it is written down.
pub fn written(question: &Question, truth: bool, dice: &mut Dice) -> bool {
    let wrong = if truth { question.miss } else { question.false_alarm };
    truth != dice.chance((wrong * MORE + FLOOR).min(0.4))
}
