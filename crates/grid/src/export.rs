//! Export of energy that the farm does not use.

use daylift_units::{Hour, Month, MonthHour, fingerprint};

use crate::WeakLine;

/// The export agreement and the limit of the line.
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
    /// No export: the inverters are limited to what the farm takes.
    #[must_use]
    pub fn forbidden() -> Self {
        Self {
            agreed_w: 0.0,
            ..Self::unpaid()
        }
    }

    /// Export without payment.
    #[must_use]
    pub fn unpaid() -> Self {
        Self::paid(MonthHour::default())
    }

    /// Export at a credit \[money/J\] for each hour of each month; a credit of 0 is no payment.
    #[must_use]
    pub fn paid(credit_per_j: MonthHour<f64>) -> Self {
        Self {
            agreed_w: f64::INFINITY,
            credit_per_j,
            line: None,
        }
    }

    /// The same agreement with a maximum power \[W\].
    #[must_use]
    pub fn at_most(mut self, greatest_w: f64) -> Self {
        self.agreed_w = self.agreed_w.min(greatest_w);
        self
    }

    /// The same agreement on a line whose voltage rises with export.
    #[must_use]
    pub fn on_line(mut self, line: WeakLine) -> Self {
        self.line = Some(line);
        self
    }

    /// Maximum power that the agreement allows \[W\].
    #[must_use]
    pub fn agreed_w(&self) -> f64 {
        self.agreed_w
    }

    /// Maximum power at which the voltage of the line does not yet trip the inverters \[W\]. Infinite without a weak
    /// line, and where no export is allowed.
    #[must_use]
    pub fn line_limit_w(&self) -> f64 {
        let line = self.line.as_ref().filter(|_| self.agreed_w > 0.0);
        line.map_or(f64::INFINITY, WeakLine::greatest_export_w)
    }

    /// The weak line, if there is one.
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

    /// Whether energy exported in an hour counts as used: only at a credit above 0.
    #[must_use]
    pub fn is_paid(&self, month: Month, hour: Hour) -> bool {
        self.credit_per_j(month, hour) > 0.0
    }
}
