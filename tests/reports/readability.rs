//! How hard a text is to read: published formulas over a simple count of syllables.

use report::Language;

/// Grade by Kincaid, Fishburne, Rogers and Chissom (1975), Research Branch Report 8-75, US Navy:
/// 0.39 words per sentence + 11.8 syllables per word − 15.59.
pub fn kincaid_grade(sentences: &[String]) -> f64 {
    let (words, syllables) = counts(sentences, english_syllables);
    0.39 * (words / full_stops(sentences)) + 11.8 * (syllables / words) - 15.59
}

/// Fernández Huerta (1959): 206.84 − 60 syllables per word − 1.02 words per sentence; 60 to 70 is "normal for an adult",
/// 7th or 8th grade (table in legible.es/blog/lecturabilidad-fernandez-huerta, which also corrects a spread misprint).
pub fn fernandez_huerta(sentences: &[String]) -> f64 {
    let (words, syllables) = counts(sentences, spanish_syllables);
    206.84 - 60.0 * (syllables / words) - 1.02 * (words / full_stops(sentences))
}

fn full_stops(sentences: &[String]) -> f64 {
    let stops = |s: &String| s.split_whitespace().filter(|w| w.ends_with(['.', '!', '?', ':'])).count();
    sentences.iter().map(stops).sum::<usize>() as f64
}

fn counts(sentences: &[String], syllables: fn(&str) -> usize) -> (f64, f64) {
    let words: Vec<String> = sentences
        .iter()
        .flat_map(|s| s.split_whitespace())
        .map(|w| w.chars().filter(|c| c.is_alphabetic()).collect::<String>().to_lowercase())
        .filter(|w| !w.is_empty())
        .collect();
    (words.len() as f64, words.iter().map(|w| syllables(w)).sum::<usize>() as f64)
}

/// Groups of vowels, without a silent final e (but "-le" after a consonant counts).
fn english_syllables(word: &str) -> usize {
    let letters: Vec<char> = word.chars().collect();
    let vowel = |c: char| "aeiouy".contains(c);
    let groups =
        letters.iter().enumerate().filter(|(i, c)| vowel(**c) && (*i == 0 || !vowel(letters[i - 1]))).count();
    let silent_e = word.ends_with('e') && !word.ends_with("le") && groups > 1;
    let silent_ed = word.ends_with("ed") && !word.ends_with("ted") && !word.ends_with("ded") && groups > 1;
    (groups - usize::from(silent_e || silent_ed)).max(1)
}

/// Nuclei: strong vowels apart, a weak vowel beside another vowel joins it unless it bears an accent.
fn spanish_syllables(word: &str) -> usize {
    let letters: Vec<char> =
        word.replace("qu", "k").replace("gue", "ge").replace("gui", "gi").chars().collect();
    let strong = |c: char| "aeoáéóíú".contains(c);
    let weak = |c: char| "iuüy".contains(c);
    let (mut nuclei, mut before) = (0, None::<char>);
    for (index, letter) in letters.iter().copied().enumerate() {
        let consonant_y = letter == 'y' && letters.get(index + 1).is_some_and(|c| strong(*c) || weak(*c));
        let vowel = (strong(letter) || weak(letter)) && !consonant_y;
        let joins = before.is_some_and(|b| !(strong(letter) && strong(b)));
        nuclei += usize::from(vowel && !joins);
        before = vowel.then_some(letter);
    }
    nuclei.max(1)
}

#[test]
fn syllables_are_counted_as_dictionaries_divide_them() {
    // Divisions from memory of common dictionaries.
    for (word, count) in
        [("fault", 1), ("measured", 2), ("reading", 2), ("before", 2), ("programming", 3), ("we", 1)]
    {
        assert_eq!(english_syllables(word), count, "{word}");
    }
    for (word, count) in [
        ("falla", 2),
        ("aprobó", 3),
        ("reparación", 4),
        ("batería", 4),
        ("pieza", 2),
        ("aún", 2),
        ("leer", 2),
        ("ya", 1),
    ] {
        assert_eq!(spanish_syllables(word), count, "{word}");
    }
}

#[test]
fn a_published_grade_comes_out() {
    // Known example: "The cat sat on the mat." has 6 words, 6 syllables: 0.39 * 6 + 11.8 - 15.59 = -1.45.
    let grade = kincaid_grade(&["The cat sat on the mat.".to_owned()]);
    assert!((grade + 1.45).abs() < 0.005, "{grade}");
}

#[test]
fn the_bottom_line_reads_at_grade_eight_or_below() {
    for (name, job) in crate::jobs::all() {
        let english = report::bottom_line(&job, Language::English, &crate::checks::dollars());
        let grade = kincaid_grade(&english);
        assert!(grade <= 8.0, "{name}: grade {grade:.1}: {english:#?}");
        let spanish = report::bottom_line(&job, Language::Spanish, &crate::checks::dollars());
        let ease = fernandez_huerta(&spanish);
        assert!(ease >= 60.0, "{name}: {ease:.1}: {spanish:#?}");
    }
}
