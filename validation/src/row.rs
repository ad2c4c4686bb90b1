//! A row of the summary, and how the worst of many comparisons becomes one.

use crate::allowed::Allowed;
use crate::figures::figures;

/// Significant figures of the numbers compared.
const FIGURES: usize = 8;

/// One thing that was checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What was compared.
    pub what: String,
    /// Where the other number comes from.
    pub source: String,
    /// The program's number.
    pub ours: String,
    /// The other number.
    pub theirs: String,
    /// How much they differ.
    pub difference: String,
    /// How much they may differ.
    pub allowed: String,
    /// Whether the difference is allowed.
    pub ok: bool,
}

impl Row {
    /// Two numbers that should agree.
    #[must_use]
    pub fn new(what: &str, source: &str, ours: f64, theirs: f64, allowed: Allowed) -> Self {
        let mut worst = Worst::new(allowed);
        worst.see("", ours, theirs);
        worst.row(what, source)
    }

    /// A count that should exceed another.
    #[must_use]
    pub fn count(what: &str, source: &str, ours: usize, least: usize, ok: bool) -> Self {
        Self {
            what: what.to_owned(),
            source: source.to_owned(),
            ours: ours.to_string(),
            theirs: "–".to_owned(),
            difference: "–".to_owned(),
            allowed: format!("more than {least}"),
            ok: ok && ours > least,
        }
    }
}

/// Keeps the comparison that uses the largest share of its allowed difference.
#[derive(Debug, Clone)]
pub struct Worst {
    allowed: Allowed,
    seen: usize,
    worst: Option<Seen>,
}

#[derive(Debug, Clone)]
struct Seen {
    label: String,
    ours: f64,
    theirs: f64,
    size: f64,
    used: f64,
}

impl Worst {
    /// Nothing seen yet.
    #[must_use]
    pub fn new(allowed: Allowed) -> Self {
        Self {
            allowed,
            seen: 0,
            worst: None,
        }
    }

    /// Adds a comparison, relative to the size of the other number.
    pub fn see(&mut self, label: impl Into<String>, ours: f64, theirs: f64) {
        self.see_of(label, ours, theirs, theirs);
    }

    /// Adds a comparison, relative to a given size.
    pub fn see_of(&mut self, label: impl Into<String>, ours: f64, theirs: f64, size: f64) {
        let used = self.allowed.used(ours - theirs, size);
        self.seen += 1;
        if self.worst.as_ref().is_none_or(|w| used > w.used) {
            self.worst = Some(Seen {
                label: label.into(),
                ours,
                theirs,
                size,
                used,
            });
        }
    }

    /// Adds a comparison of numbers that may be missing: both must be missing, or neither.
    pub fn see_maybe(&mut self, label: &str, ours: Option<f64>, theirs: Option<f64>, size: f64) {
        match (ours, theirs) {
            (Some(ours), Some(theirs)) => self.see_of(label, ours, theirs, size),
            (None, None) => self.see_of(label, 0.0, 0.0, size),
            (ours, theirs) => self.see_of(
                format!("{label}, missing on one side"),
                ours.unwrap_or(f64::NAN),
                theirs.unwrap_or(f64::NAN),
                size,
            ),
        }
    }

    /// The row; it names the worst comparison and says how many there were.
    #[must_use]
    pub fn row(self, what: &str, source: &str) -> Row {
        let allowed = self.allowed;
        let Some(worst) = self.worst else {
            return Row {
                what: format!("{what}: nothing was compared"),
                source: source.to_owned(),
                ours: "–".to_owned(),
                theirs: "–".to_owned(),
                difference: "–".to_owned(),
                allowed: allowed.text(),
                ok: false,
            };
        };
        let what = match (self.seen, worst.label.as_str()) {
            (1, "") => what.to_owned(),
            (1, label) => format!("{what}, {label}"),
            (seen, "") => format!("{what}, worst of {seen}"),
            (seen, label) => format!("{what}, worst of {seen}: {label}"),
        };
        Row {
            what,
            source: source.to_owned(),
            ours: figures(worst.ours, FIGURES),
            theirs: figures(worst.theirs, FIGURES),
            difference: allowed.difference_text(worst.ours - worst.theirs, worst.size),
            allowed: allowed.text(),
            ok: worst.used <= 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worst_uses_the_largest_share_of_its_allowed_difference() {
        let mut worst = Worst::new(Allowed::relative(0.01));
        worst.see("large", 1005.0, 1000.0);
        worst.see("small", 1.02, 1.0);
        let row = worst.row("numbers", "by hand");
        assert_eq!(row.what, "numbers, worst of 2: small");
        assert!(!row.ok);
    }

    #[test]
    fn a_check_without_comparisons_fails() {
        assert!(!Worst::new(Allowed::relative(0.01)).row("numbers", "by hand").ok);
    }

    #[test]
    fn a_number_missing_on_one_side_fails() {
        for (ours, theirs, ok) in [(None, None, true), (Some(1.0), None, false), (None, Some(1.0), false)] {
            let mut worst = Worst::new(Allowed::relative(0.01));
            worst.see_maybe("rate", ours, theirs, 1.0);
            assert_eq!(worst.row("numbers", "by hand").ok, ok);
        }
    }
}
