//! Numbers as text with a fixed number of significant figures.

/// Below this a number is written with a power of ten.
const SMALL: f64 = 1e-3;

/// A number to `count` significant figures.
pub(crate) fn figures(value: f64, count: usize) -> String {
    let decimals = count.saturating_sub(1);
    let scientific = format!("{value:.decimals$e}");
    match scientific.parse::<f64>() {
        Ok(0.0) => "0".to_owned(),
        Ok(rounded) if rounded.abs() >= SMALL => rounded.to_string(),
        _ => scientific,
    }
}

#[cfg(test)]
mod tests {
    use super::figures;

    #[test]
    fn figures_are_kept_and_no_more() {
        assert_eq!(figures(1234.567, 5), "1234.6");
        assert_eq!(figures(-0.000_012_34, 2), "-1.2e-5");
        assert_eq!(figures(0.0, 3), "0");
        assert_eq!(figures(f64::NAN, 3), "NaN");
    }
}
