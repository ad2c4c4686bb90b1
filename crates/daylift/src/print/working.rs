//! A working as text.

use daylift_study::Working;

use super::number::grouped;

/// Title, number, formula, symbols, source, caution.
pub(crate) fn text(working: &Working) -> String {
    let mut out = format!(
        "{}\n\n  {} = {} {}\n\n  {}\n\n",
        working.title,
        working.name,
        short(working.value),
        working.unit,
        working.formula
    );
    let width = working.symbols.iter().map(|s| s.symbol.chars().count()).max().unwrap_or(0);
    let values: Vec<String> = working.symbols.iter().map(|s| short(s.value)).collect();
    let value_width = values.iter().map(|v| v.chars().count()).max().unwrap_or(0);
    let unit_width = working.symbols.iter().map(|s| s.unit.chars().count()).max().unwrap_or(0);
    for (s, value) in working.symbols.iter().zip(&values) {
        out += &format!(
            "  {:<width$} = {value:>value_width$} {:<unit_width$}  {}\n",
            s.symbol, s.unit, s.meaning
        );
    }
    out += &format!(
        "\n  Source: {}.\n  Mind: {}.\n",
        working.source,
        working.caution.trim_end_matches('.')
    );
    out
}

/// Six significant figures, which is more than any of the inputs has.
fn short(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = value.abs().log10().floor();
    if !(-4.0..9.0).contains(&magnitude) {
        return format!("{value:.5e}");
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 9")]
    let decimals = (5.0 - magnitude).clamp(0.0, 9.0) as usize;
    let text = grouped(value, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
