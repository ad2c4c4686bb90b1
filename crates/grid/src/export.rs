//! What becomes of energy that the farm does not use.

use daylift_units::{Hour, Month, MonthHour, fingerprint};

use crate::WeakLine;

/// The export agreement, and what the line bears.
#[derive(Debug, Clone, PartialEq)]
pub struct Export {
    agreed_w: f64,
    credit_per_j: MonthHour<f64>,
    line: Option<WeakLine>,
}

fingerprint!(Export {
    agreed_w,
    credit_per_j,
    line
});

impl Export {
    /// Nothing may leave the farm: the inverters are held to what the farm takes.
    #[must_use]
    pub fn forbidden() -> Self {
        Self {
            agreed_w: 0.0,
            ..Self::unpaid()
        }
    }

    /// Energy may leave the farm and nobody pays for it.
    #[must_use]
    pub fn unpaid() -> Self {
        Self::paid(MonthHour::default())
    }

    /// Energy may leave the farm at a credit \[money/J\] for each hour of each month; an hour at 0 is not paid.
    #[must_use]
    pub fn paid(credit_per_j: MonthHour<f64>) -> Self {
        Self {
            agreed_w: f64::INFINITY,
            credit_per_j,
            line: None,
        }
    }

    /// The same with a greatest power \[W\].
    #[must_use]
    pub fn at_most(mut self, greatest_w: f64) -> Self {
        self.agreed_w = self.agreed_w.min(greatest_w);
        self
    }

    /// The same on a line whose voltage the export raises.
    #[must_use]
    pub fn on_line(mut self, line: WeakLine) -> Self {
        self.line = Some(line);
        self
    }

    /// Greatest power that the agreement lets out \[W\].
    #[must_use]
    pub fn agreed_w(&self) -> f64 {
        self.agreed_w
    }

    /// Greatest power that the line bears before its voltage throws the inverters off \[W\]; where nothing may leave its
    /// voltage never rises.
    #[must_use]
    pub fn borne_by_line_w(&self) -> f64 {
        let line = self.line.as_ref().filter(|_| self.agreed_w > 0.0);
        line.map_or(f64::INFINITY, WeakLine::greatest_export_w)
    }

    /// The weak line, when there is one.
    #[must_use]
    pub fn line(&self) -> Option<&WeakLine> {
        self.line.as_ref()
    }

    /// Credit \[money/J\] in an hour of a month.
    #[must_use]
    pub fn credit_per_j(&self, month: Month, hour: Hour) -> f64 {
        self.credit_per_j[month][hour]
    }

    /// Credits by month and hour \[money/J\].
    #[must_use]
    pub fn credits(&self) -> &MonthHour<f64> {
        &self.credit_per_j
    }

    /// Whether energy exported in an hour counts as used: a credit of nothing is no credit.
    #[must_use]
    pub fn is_paid(&self, month: Month, hour: Hour) -> bool {
        self.credit_per_j(month, hour) > 0.0
    }
}
