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

/// A number with so many significant figures and no zeros at its end.
pub(crate) fn significant(figures: i32, value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = value.abs().log10().floor();
    if !(-4.0..9.0).contains(&magnitude) {
        return format!("{value:.3e}");
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 9")]
    let decimals = (f64::from(figures - 1) - magnitude).clamp(0.0, 9.0) as usize;
    let text = grouped(value, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A number with three significant figures, or all of its whole ones.
pub(crate) fn short(value: f64) -> String {
    significant(3, value)
}

/// Years until a row is paid back, in words a farmer may read: `never`, `not in 20`, or the years.
pub(crate) fn payback(years: Option<f64>, reckoned: u32) -> String {
    match years {
        None => "never".to_owned(),
        Some(years) if years > f64::from(reckoned) => format!("not in {reckoned}"),
        Some(years) => grouped(years, 1),
    }
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
