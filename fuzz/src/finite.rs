//! No number that is none, wherever it stands.

/// The printed form of a value (`{:?}`) holds neither NaN nor an infinity outside its texts.
pub fn check_finite(printed: &str) {
    for word in outside_texts(printed) {
        assert!(!matches!(word, "NaN" | "inf"), "{word} in {}", around(printed, word));
    }
}

/// Words outside quoted texts.
fn outside_texts(printed: &str) -> impl Iterator<Item = &str> {
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
        // Within a text nothing splits, so that it stays one piece that is no word.
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
    fn texts_may_say_what_they_like() {
        check_finite(r#"X { name: "inf, NaN \" inf", power_w: 3.0, info: [1.0] }"#);
    }

    #[test]
    #[should_panic(expected = "NaN in")]
    fn numbers_may_not() {
        check_finite(r#"X { name: "\\", power_w: [1.0, NaN] }"#);
    }

    #[test]
    #[should_panic(expected = "inf in")]
    fn nor_be_infinite() {
        check_finite("X { power_w: -inf }");
    }
}
