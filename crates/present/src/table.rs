//! Tables without a layout: sections of named lines with values.

use crate::number::{grouped, maybe, percent};

/// A value of a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A number with a given number of decimals; `None` if there is no value.
    Number(Option<f64>, usize),
    /// A share of 1; `None` if there is no value.
    Share(Option<f64>),
    /// Words, or several numbers in a sentence.
    Words(String),
}

impl Value {
    /// A number with a given number of decimals.
    #[must_use]
    pub const fn number(value: f64, decimals: usize) -> Self {
        Self::Number(Some(value), decimals)
    }

    /// The value as text.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Number(value, decimals) => maybe(*value, *decimals),
            Self::Share(share) => percent(*share),
            Self::Words(words) => words.clone(),
        }
    }

    /// Whether it is 0, or there is no value.
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
    /// Whether it is marked as not comparable: the column's arrangement serves less than the reference.
    pub is_marked: bool,
}

/// A line of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its label.
    pub label: String,
    /// Its unit; empty for a pure number, and where the section has one unit for all lines.
    pub unit: String,
    /// A value for each column.
    pub cells: Vec<Cell>,
}

/// Lines that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The title.
    pub title: String,
    /// Unit of all lines; empty where each has its own.
    pub unit: String,
    /// The lines.
    pub lines: Vec<Line>,
}

/// A name, followed by a comma and its unit if there is one.
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
    fn a_small_value_is_not_nothing() {
        assert!(Value::number(0.0, 0).is_nothing() && Value::Number(None, 0).is_nothing());
        assert!(!Value::number(0.2, 0).is_nothing() && !Value::Share(Some(0.0)).is_nothing());
        assert_eq!(Value::number(0.2, 0).text(), "<1");
        assert_eq!(with_unit("demand", "m³"), "demand, m³");
    }
}
