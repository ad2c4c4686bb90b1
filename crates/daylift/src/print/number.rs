//! Numbers with no more figures than they deserve.

/// A number with thousands apart and a fixed count of decimals; `–` for nothing.
pub(crate) fn grouped(value: f64, decimals: usize) -> String {
    let text = format!("{:.decimals$}", value.abs());
    let (whole, fraction) = text.split_once('.').map_or((text.as_str(), None), |(w, f)| (w, Some(f)));
    let mut out = String::new();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push(' ');
        }
        out.push(digit);
    }
    if let Some(fraction) = fraction {
        out.push('.');
        out.push_str(fraction);
    }
    let nothing = out.chars().all(|c| matches!(c, '0' | '.'));
    if value < 0.0 && !nothing {
        format!("−{out}")
    } else {
        out
    }
}

/// The same, `–` where there is no value.
pub(crate) fn maybe(value: Option<f64>, decimals: usize) -> String {
    value.map_or_else(|| "–".to_owned(), |v| grouped(v, decimals))
}

/// A fraction as per cent.
pub(crate) fn percent(value: Option<f64>) -> String {
    value.map_or_else(|| "–".to_owned(), |v| format!("{:.1}%", v * 100.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_stand_apart() {
        assert_eq!(grouped(1_234_567.0, 0), "1 234 567");
        assert_eq!(grouped(-1234.5, 1), "−1 234.5");
        assert_eq!(grouped(-0.001, 1), "0.0");
        assert_eq!(maybe(None, 1), "–");
        assert_eq!(percent(Some(0.987)), "98.7%");
    }
}
