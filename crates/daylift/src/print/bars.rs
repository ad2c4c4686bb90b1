//! A whole and its parts as bars of text, one line each. Colour is a second sign only: every part has its name.

use anstyle::{AnsiColor, Style};

use daylift_present::flows::{Matter, Part};
use daylift_present::number::{grouped, percent};

/// The sign that fills a bar.
pub(super) fn pattern(matter: Matter) -> char {
    match matter {
        Matter::Sun | Matter::Water => '█',
        Matter::Loads | Matter::Battery | Matter::Generator => '▓',
        Matter::Grid => '▒',
        Matter::Lost => '░',
        Matter::Rest => '·',
    }
}

fn style(matter: Matter) -> Style {
    match matter {
        Matter::Sun => AnsiColor::Yellow,
        Matter::Water => AnsiColor::Cyan,
        Matter::Loads => AnsiColor::Magenta,
        Matter::Grid => AnsiColor::Blue,
        Matter::Battery => AnsiColor::Green,
        Matter::Generator => AnsiColor::Red,
        Matter::Lost | Matter::Rest => AnsiColor::BrightBlack,
    }
    .on_default()
}

pub(super) fn paint(matter: Matter, text: &str) -> String {
    let style = style(matter);
    format!("{style}{text}{style:#}")
}

/// A whole and its parts, one line for each that is there: name, amount, share, bar.
pub(crate) fn list(title: &str, unit: &str, whole: &Part, parts: &[Part], names: usize, width: usize) -> String {
    let amounts = grouped(whole.amount, 0).chars().count().max(8);
    let before = 2 + names + 2 + amounts + 2 + 6 + 2;
    let most = width.saturating_sub(before).max(10);
    let mut out = format!("\n  {title:<names$}  {unit:>amounts$}\n{}\n", "─".repeat(width));
    for part in std::iter::once(whole).chain(parts).filter(|p| p.amount > 0.0) {
        let share = if whole.amount > 0.0 {
            part.amount / whole.amount
        } else {
            0.0
        };
        out += &format!(
            "  {:<names$}  {:>amounts$}  {:>6}  {}\n",
            part.name,
            grouped(part.amount, 0),
            percent(Some(share)),
            paint(part.matter, &bar(share, most, part.matter))
        );
    }
    out
}

/// A bar to the eighth of a cell where its pattern is solid, to the cell elsewhere; what is there shows at least a line.
fn bar(share: f64, most: usize, matter: Matter) -> String {
    const EIGHTHS: [&str; 8] = ["", "▏", "▎", "▍", "▌", "▋", "▊", "▉"];
    let eighths = cells(share.min(1.0) * 8.0, most).max(1);
    let pattern = pattern(matter);
    if pattern == '█' {
        return "█".repeat(eighths / 8) + EIGHTHS[eighths % 8];
    }
    match (eighths + 4) / 8 {
        0 => EIGHTHS[1].to_owned(),
        whole => pattern.to_string().repeat(whole),
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "not negative and at most 8 times a width"
)]
#[expect(clippy::cast_precision_loss, reason = "a width in cells")]
pub(super) fn cells(share: f64, most: usize) -> usize {
    (share.max(0.0) * most as f64).round() as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_part_has_its_line() {
        let whole = Part::new("available", 2000.0, Matter::Sun);
        let parts = [
            Part::new("to the pump", 1000.0, Matter::Water),
            Part::new("to the loads", 0.0, Matter::Loads),
            Part::new("below-start", 480.0, Matter::Lost),
            Part::new("cables", 1.0, Matter::Lost),
        ];
        let text = list("Where the sun went", "kWh", &whole, &parts, 18, 60);
        assert_eq!(
            anstream::adapter::strip_str(&text).to_string(),
            "
  Where the sun went       kWh
────────────────────────────────────────────────────────────
  available              2,000  100.0%  ████████████████████
  to the pump            1,000   50.0%  ██████████
  below-start              480   24.0%  ░░░░░
  cables                     1    0.1%  ▏
"
        );
        assert!(text.contains("\u{1b}[36m██████████\u{1b}[0m"));
    }

    #[test]
    fn solid_bars_end_at_an_eighth() {
        assert_eq!(bar(0.55, 10, Matter::Water), "█████▌");
        assert_eq!(bar(0.55, 10, Matter::Loads), "▓▓▓▓▓▓");
        assert_eq!(bar(1e-6, 10, Matter::Water), "▏");
    }
}
