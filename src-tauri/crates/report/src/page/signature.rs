//! A drawn signature as SVG. Only lines and curves get through: the path comes from a screen, and SVG can carry more.

/// Longest path that is drawn; a signature has a few thousand characters.
const LONGEST: usize = 200_000;

/// The signature (a path in a box of 600 by 200) as an SVG image. `None` unless the path consists of the commands M, L, C,
/// Q and plain decimals, each command with all its numbers.
pub fn signature_svg(path: &str) -> Option<String> {
    let tokens = tokens(path)?;
    complete(&tokens).then(|| {
        let path = tokens.join(" ");
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"600\" height=\"200\" viewBox=\"0 0 600 200\">\
             <path d=\"{path}\" fill=\"none\" stroke=\"#14181b\" stroke-width=\"4\" stroke-linecap=\"round\" \
             stroke-linejoin=\"round\"/></svg>"
        )
    })
}

/// Commands and numbers, apart.
fn tokens(path: &str) -> Option<Vec<String>> {
    if path.trim().is_empty() || path.len() > LONGEST {
        return None;
    }
    let mut spaced = String::new();
    for sign in path.chars() {
        match sign {
            'M' | 'L' | 'C' | 'Q' => spaced.extend([' ', sign, ' ']),
            '-' => spaced.push_str(" -"),
            '0'..='9' | '.' => spaced.push(sign),
            ',' => spaced.push(' '),
            space if space.is_ascii_whitespace() => spaced.push(' '),
            _ => return None,
        }
    }
    Some(spaced.split_whitespace().map(str::to_owned).collect())
}

/// Starts with M, and every command has at least one full set of finite numbers.
fn complete(tokens: &[String]) -> bool {
    if tokens.first().is_none_or(|first| first != "M") {
        return false;
    }
    let (mut wanted, mut numbers) = (0_usize, 0_usize);
    for token in tokens {
        match token.as_str() {
            "M" | "L" | "Q" | "C" if !whole(wanted, numbers) => return false,
            "M" | "L" => (wanted, numbers) = (2, 0),
            "Q" => (wanted, numbers) = (4, 0),
            "C" => (wanted, numbers) = (6, 0),
            number if number.parse::<f32>().is_ok_and(f32::is_finite) => numbers += 1,
            _ => return false,
        }
    }
    whole(wanted, numbers)
}

fn whole(wanted: usize, numbers: usize) -> bool {
    wanted == 0 || (numbers > 0 && numbers.is_multiple_of(wanted))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_lines_and_curves_are_drawn() {
        for good in ["M10 20L30.5,40", "M0-5 L1 2 3 4", "M 1 1 C 1 2 3 4 5 6 Q 1 2 3 4"] {
            assert!(signature_svg(good).is_some(), "{good}");
        }
        for bad in [
            "",
            "M",
            "L 1 2",
            "M 1",
            "M 1 2 C 1 2 3",
            "M 1 2 A 1 2 3 4 5 6 7",
            "M 1 2\"/><script>alert(1)</script>",
            "M 1 2 url(#x)",
            "M 1.2.3 4",
            "M 1e9 2",
            "M - -",
        ] {
            assert_eq!(signature_svg(bad), None, "{bad}");
        }
    }
}
