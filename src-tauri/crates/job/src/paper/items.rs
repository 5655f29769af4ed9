//! The lines of a paper: what was bought, how many, for how much.

use super::says::{Row, Says, last_amount};
use super::words;
use money::{Cents, Quantity};

/// Characters of a part's number at least.
const LEAST_NUMBER: usize = 4;

/// One line of a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperItem {
    /// In the paper's words.
    pub description: String,
    /// Part number; empty where none was found.
    pub part_number: String,
    /// How many, as a record would spell it; empty where it isn't said.
    pub quantity: String,
    /// The line's amount.
    pub amount: Cents,
    /// Whether it is a core charge.
    pub is_core: bool,
}

/// The rows with an amount before the total, but for those that are sums; without a total, the rows before any sum. A row
/// below a line may say more of it; words alone in the row before belong to a line without words of its own.
pub fn of(said: &[Row]) -> Vec<PaperItem> {
    let first = |sums: &[Says]| said.iter().position(|row| sums.contains(&row.says) && row.amount.is_some());
    let upto =
        first(&[Says::Total]).or_else(|| first(&[Says::Subtotal, Says::Tax, Says::Payment])).unwrap_or(0);
    let mut before = "";
    let mut items: Vec<PaperItem> = Vec::new();
    for row in said.iter().take(upto) {
        if row.says == Says::Other && items.last_mut().is_some_and(|item| item.says_more(row)) {
            before = "";
            continue;
        }
        match row.amount {
            Some(amount) if row.says == Says::Other => {
                items.push(item(row, before, amount));
                before = "";
            }
            _ if row.says == Says::Other => before = row.before.as_str(),
            _ => before = "",
        }
    }
    items
}

impl PaperItem {
    /// Takes up a row below that has nothing but the part's number, or how many at which price: `2 x 32.94` under 65.88.
    fn says_more(&mut self, row: &Row) -> bool {
        let words: Vec<&str> = row.before.split_whitespace().collect();
        let part_number = words.iter().copied().find(|word| is_part_number(word));
        let others = words.iter().filter(|word| Some(**word) != part_number && !is_times(word));
        let others: Vec<&str> = others.copied().collect();
        let is_new = self.part_number.is_empty() || part_number.is_none();
        match (row.amount, others.as_slice()) {
            (None, []) if part_number.is_some() && is_new => {}
            (Some(one), [count]) if is_new => {
                let bare = count.trim_matches(['x', 'X', '×', '@']);
                let comes_to = bare.parse::<Quantity>().ok().and_then(|count| one.times(count).ok());
                if comes_to != Some(self.amount) || self.amount == one {
                    return false;
                }
                bare.clone_into(&mut self.quantity);
            }
            _ => return false,
        }
        if let Some(number) = part_number {
            number.clone_into(&mut self.part_number);
        }
        true
    }
}

fn item(row: &Row, above: &str, amount: Cents) -> PaperItem {
    // The price of one stands before the line's amount, if at all.
    let (rest, unit) = match last_amount(&row.before, row.marks) {
        Some((rest, unit)) => (rest, Some(unit)),
        None => (row.before.clone(), None),
    };
    let own_letters = rest.chars().filter(|c| c.is_alphabetic()).count();
    let all = if own_letters < 3 { format!("{above} {rest}") } else { rest };
    let words: Vec<&str> = all.split_whitespace().collect();
    let quantity = quantity(&words, unit, amount);
    let part_number = words.iter().copied().find(|word| is_part_number(word)).unwrap_or_default();
    let spoken = words.iter().enumerate().filter(|(place, word)| {
        let is_quantity = quantity.as_ref().is_some_and(|(at, _)| at == place);
        !is_quantity && **word != part_number && !is_times(word)
    });
    let description = spoken.map(|(_, word)| *word).collect::<Vec<_>>().join(" ");
    let is_core = words::holds(&words::plain(&all), words::CORE);
    let quantity = quantity.map(|(_, count)| count).unwrap_or_default();
    PaperItem { description, part_number: part_number.to_owned(), quantity, amount, is_core }
}

/// The number that, with the price of one, comes to the amount; without a price of one, a lone small number at either end.
fn quantity(words: &[&str], unit: Option<Cents>, amount: Cents) -> Option<(usize, String)> {
    let counts = words.iter().enumerate().filter_map(|(place, word)| {
        let bare = word.trim_start_matches(['x', 'X']).trim_end_matches(['x', 'X', '×', '@']);
        let count: Quantity = bare.parse().ok()?;
        Some((place, bare.to_owned(), count))
    });
    let mut counts: Vec<(usize, String, Quantity)> = counts.collect();
    match unit {
        Some(unit) => counts.retain(|(_, _, count)| unit.times(*count) == Ok(amount)),
        None => counts.retain(|(place, bare, _)| {
            bare.len() <= 2 && !bare.starts_with('0') && (*place == 0 || place + 1 == words.len())
        }),
    }
    counts.pop().map(|(place, bare, _)| (place, bare))
}

fn is_times(word: &str) -> bool {
    matches!(word, "x" | "X" | "×" | "@" | "pc" | "pcs" | "ea" | "ea." | "pz" | "ud" | "uds")
}

/// Capital letters or signs with digits among them: `KD-4471-B`, `88201`.
fn is_part_number(word: &str) -> bool {
    let digits = word.chars().filter(char::is_ascii_digit).count();
    let fits =
        word.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || matches!(c, '-' | '/' | '.'));
    word.len() >= LEAST_NUMBER
        && digits >= 2
        && fits
        && word.parse::<Quantity>().map_or(true, |_| word.len() >= 5)
}
