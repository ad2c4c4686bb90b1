//! Tables as they are meant: sections of named lines with values. How they are laid out is the reader's.

use crate::number::{grouped, maybe, percent};

/// A value of a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A number with so many decimals; none where there is none.
    Number(Option<f64>, usize),
    /// A share of 1; none where there is none.
    Share(Option<f64>),
    /// Words, or several numbers in a sentence.
    Words(String),
}

impl Value {
    /// A number with so many decimals.
    #[must_use]
    pub const fn number(value: f64, decimals: usize) -> Self {
        Self::Number(Some(value), decimals)
    }

    /// As text.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Number(value, decimals) => maybe(*value, *decimals),
            Self::Share(share) => percent(*share),
            Self::Words(words) => words.clone(),
        }
    }

    /// Whether it is 0 or there is no value.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        match self {
            Self::Number(value, decimals) => value.is_none_or(|v| grouped(v, *decimals) == grouped(0.0, *decimals)),
            Self::Share(share) => share.is_none(),
            Self::Words(_) => false,
        }
    }
}

/// A value of one column.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// The value.
    pub value: Value,
    /// Whether it is marked: it is not that of the same service.
    pub is_marked: bool,
}

/// A line of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its label.
    pub label: String,
    /// Its unit; empty for a pure number, and where the section has one for all.
    pub unit: String,
    /// A value for each column.
    pub cells: Vec<Cell>,
}

/// Lines that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What they are about.
    pub title: String,
    /// Unit of all lines; empty where each has its own.
    pub unit: String,
    /// The lines.
    pub lines: Vec<Line>,
}

/// A name with its unit behind a comma.
#[must_use]
pub fn with_unit(name: &str, unit: &str) -> String {
    if unit.is_empty() {
        name.to_owned()
    } else {
        format!("{name}, {unit}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_little_is_not_nothing() {
        assert!(Value::number(0.0, 0).is_nothing() && Value::Number(None, 0).is_nothing());
        assert!(!Value::number(0.2, 0).is_nothing() && !Value::Share(Some(0.0)).is_nothing());
        assert_eq!(Value::number(0.2, 0).text(), "<1");
        assert_eq!(with_unit("demand", "m³"), "demand, m³");
    }
}
