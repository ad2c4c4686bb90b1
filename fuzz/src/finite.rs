//! Checks that no number is NaN or infinite.

/// Checks that the printed form of a value (`{:?}`) has neither NaN nor an infinity outside strings.
pub fn check_finite(printed: &str) {
    for word in outside_strings(printed) {
        assert!(!matches!(word, "NaN" | "inf"), "{word} in {}", around(printed, word));
    }
}

/// Words outside quoted strings.
fn outside_strings(printed: &str) -> impl Iterator<Item = &str> {
    let mut quoted = false;
    let mut escaped = false;
    let pieces = printed.split(move |c: char| {
        let was_quoted = quoted;
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            _ => {}
        }
        // A quoted string is not split, so it stays one piece, which is not a word.
        !was_quoted && !c.is_alphanumeric() && c != '_' && c != '"'
    });
    pieces.filter(|piece| !piece.is_empty())
}

fn around<'t>(printed: &'t str, word: &str) -> &'t str {
    let at = printed.find(word).unwrap_or(0);
    let from = (0..=at.saturating_sub(200)).rev().find(|i| printed.is_char_boundary(*i)).unwrap_or(0);
    let to = (at + 200..printed.len()).find(|i| printed.is_char_boundary(*i)).unwrap_or(printed.len());
    &printed[from..to]
}

#[cfg(test)]
mod tests {
    use super::check_finite;

    #[test]
    fn strings_may_contain_any_word() {
        check_finite(r#"X { name: "inf, NaN \" inf", power_w: 3.0, info: [1.0] }"#);
    }

    #[test]
    #[should_panic(expected = "NaN in")]
    fn a_nan_number_is_found() {
        check_finite(r#"X { name: "\\", power_w: [1.0, NaN] }"#);
    }

    #[test]
    #[should_panic(expected = "inf in")]
    fn an_infinite_number_is_found() {
        check_finite("X { power_w: -inf }");
    }
}
