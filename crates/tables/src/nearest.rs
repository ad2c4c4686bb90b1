//! Suggestions for misspelt words.

/// The known word closest to a wrong one, if it is close enough to be meant.
pub fn nearest<'n>(wrong: &str, known: impl Iterator<Item = &'n str>) -> Option<&'n str> {
    known
        .map(|k| (strsim::jaro_winkler(wrong, k), k))
        .filter(|(score, _)| *score > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, k)| k)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_misspelt_word_has_a_suggestion_and_a_strange_one_has_none() {
        let known = ["altitude_m", "latitude_deg", "name"];
        assert_eq!(nearest("altidude_m", known.into_iter()), Some("altitude_m"));
        assert_eq!(nearest("colour", known.into_iter()), None);
    }
}
