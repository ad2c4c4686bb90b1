//! What becomes of energy that the farm does not use.

/// The export agreement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Export {
    /// Nothing may leave the farm: the inverter is held to what pump and loads take.
    Forbidden,
    /// Energy may leave the farm and nobody pays for it.
    Unpaid,
    /// Energy may leave the farm at a credit \[money/J\], above 0.
    Paid {
        /// Credit \[money/J\].
        credit_per_j: f64,
    },
}

impl Export {
    /// Greatest export power \[W\].
    #[must_use]
    pub fn greatest_w(self) -> f64 {
        match self {
            Export::Forbidden => 0.0,
            Export::Unpaid | Export::Paid { .. } => f64::INFINITY,
        }
    }

    /// Credit \[money/J\].
    #[must_use]
    pub fn credit_per_j(self) -> f64 {
        match self {
            Export::Paid { credit_per_j } => credit_per_j,
            Export::Forbidden | Export::Unpaid => 0.0,
        }
    }

    /// Whether exported energy counts as used: a credit of nothing is no credit.
    #[must_use]
    pub fn is_paid(self) -> bool {
        self.credit_per_j() > 0.0
    }
}
