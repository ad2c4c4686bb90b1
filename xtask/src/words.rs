//! Arguments of a chore: a number, and the name of a single item.

/// Maximum number accepted, of any unit.
const MOST: u32 = 100_000;

/// A whole number of `unit`, above 0, and one of `names`, in any order; each is optional.
pub(crate) fn number_and_name<'w>(
    words: &[&'w str],
    unit: &str,
    names: &[&str],
) -> Result<(Option<u32>, Option<&'w str>), String> {
    let (mut number, mut name) = (None, None);
    for word in words {
        let before = if names.contains(word) {
            name.replace(*word).map(str::to_owned)
        } else {
            number.replace(read_number(word, unit, names)?).map(|n: u32| n.to_string())
        };
        if let Some(before) = before {
            return Err(format!(
                "`{before}` and `{word}` cannot be used together: give one of them"
            ));
        }
    }
    Ok((number, name))
}

fn read_number(word: &str, unit: &str, names: &[&str]) -> Result<u32, String> {
    match word.parse() {
        Ok(number @ 1..=MOST) => Ok(number),
        _ if word.parse::<f64>().is_ok() => Err(format!(
            "`{word}` {unit} is not allowed: give a whole number from 1 to {MOST}"
        )),
        _ if names.is_empty() => Err(format!("`{word}` is not a number of {unit}")),
        _ => Err(format!(
            "`{word}` is neither a number of {unit} nor one of {}",
            names.join(", ")
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [&str; 2] = ["settle", "bill"];

    fn read<'w>(words: &[&'w str]) -> Result<(Option<u32>, Option<&'w str>), String> {
        number_and_name(words, "minutes", &NAMES)
    }

    #[test]
    fn a_number_and_a_name_in_any_order() {
        assert_eq!(read(&[]), Ok((None, None)));
        assert_eq!(read(&["5", "bill"]), Ok((Some(5), Some("bill"))));
        assert_eq!(read(&["settle", "100000"]), Ok((Some(100_000), Some("settle"))));
    }

    #[test]
    fn other_words_are_refused() {
        for (words, part) in [
            (&["nonsense"][..], "neither a number of minutes nor one of settle, bill"),
            (
                &["0"],
                "`0` minutes is not allowed: give a whole number from 1 to 100000",
            ),
            (&["-3"], "`-3` minutes is not allowed"),
            (&["2.5"], "`2.5` minutes is not allowed"),
            (&["100001"], "`100001` minutes is not allowed"),
            (&["2", "3"], "`2` and `3` cannot be used together"),
            (&["bill", "settle"], "`bill` and `settle` cannot be used together"),
        ] {
            let why = read(words).unwrap_err();
            assert!(why.contains(part), "{why}");
        }
    }
}
