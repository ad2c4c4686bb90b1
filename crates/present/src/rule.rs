//! The rule by which the pumps of a row run on mains, in words.

use daylift_study::answer::Rule;
use daylift_study::rules::{Found, RulePart};
use daylift_study::{ComparedRow, Comparison};

use crate::number::grouped;
use crate::say;
use crate::table::{Cell, Line, Value};

/// Stands for a value that a row does not have.
const NONE: &str = "–";

/// Windows of hours: `22:00–6:00, 10:00–15:00`, or the word for all hours.
#[must_use]
pub fn hours(rule: &Rule) -> String {
    windows(&rule.mains_hours)
}

/// Windows of whole hours: `22:00–6:00, 10:00–15:00`, or the word for all hours.
#[must_use]
pub fn windows(hours: &[[u8; 2]]) -> String {
    let windows: Vec<String> = hours.iter().map(|[from, to]| format!("{from}:00–{to}:00")).collect();
    match hours {
        [[0, 24]] => say!("rule-all-hours"),
        _ => windows.join(", "),
    }
}

/// Fill level in per cent: a number, or the lowest and the highest of the day.
#[must_use]
pub fn fill(rule: &Rule) -> String {
    let levels = || rule.mains_fill_pct.iter().copied();
    let (least, most) = (
        levels().fold(f64::INFINITY, f64::min),
        levels().fold(f64::NEG_INFINITY, f64::max),
    );
    if least < most {
        format!("{}–{}", grouped(least, 0), grouped(most, 0))
    } else {
        grouped(most, 0)
    }
}

/// The parts that the plant file gives; all of a rule that was not searched for.
#[must_use]
pub fn from_file(rule: &Rule) -> String {
    let part = |part: &RulePart| match part {
        RulePart::Hours => say!("rule-part-mains_hours"),
        RulePart::Fill => say!("rule-part-mains_fill_pct"),
        RulePart::LowMark => say!("rule-part-low_mark_pct"),
        RulePart::Surplus => say!("rule-part-surplus_pct"),
    };
    match (rule.found, rule.from_file.as_slice()) {
        (Found::AsWritten, _) => say!("rule-all-parts"),
        (_, []) => say!("rule-no-part"),
        (_, parts) => parts.iter().map(part).collect::<Vec<_>>().join(", "),
    }
}

/// What the search found, in a word.
#[must_use]
pub fn found(found: Found) -> String {
    match found {
        Found::AsWritten => say!("rule-as-written"),
        Found::Best => say!("rule-best"),
        Found::Wettest => say!("rule-wettest"),
    }
}

fn found_long(found: Found) -> String {
    match found {
        Found::AsWritten => say!("rule-as-written.long"),
        Found::Best => say!("rule-best.long"),
        Found::Wettest => say!("rule-wettest.long"),
    }
}

/// The rule as labels with values; none where no pump runs on a bus.
#[must_use]
pub fn facts(rule: Option<&Rule>) -> Vec<(String, String)> {
    let Some(rule) = rule else { return Vec::new() };
    let label = |part: String| say!("rule-of-row", part = part);
    let percent = |value: String| format!("{value} %");
    let mut facts = vec![
        (label(say!("rule-hours")), hours(rule)),
        (label(say!("rule-fill")), percent(fill(rule))),
        (label(say!("rule-low")), percent(grouped(rule.low_mark_pct, 0))),
    ];
    let surplus = rule.surplus_pct.map(|share| percent(grouped(share, 0)));
    facts.extend(surplus.map(|share| (label(say!("rule-surplus")), share)));
    facts.push((label(say!("rule-given")), from_file(rule)));
    facts.push((label(say!("rule-found")), found_long(rule.found)));
    facts
}

/// The rules of all rows as lines of a table.
pub(crate) fn lines(full: &Comparison) -> Vec<Line> {
    let line = |label: String, unit: &str, of: &dyn Fn(&Rule) -> String| Line {
        label,
        unit: unit.to_owned(),
        cells: full
            .rows
            .iter()
            .map(|one| Cell {
                value: Value::Words(one.row.rule.as_ref().map_or_else(|| NONE.to_owned(), of)),
                is_marked: false,
            })
            .collect(),
    };
    let mut lines = vec![
        line(say!("rule-hours"), "", &hours),
        line(say!("rule-fill"), "%", &fill),
        line(say!("rule-low"), "%", &|rule| grouped(rule.low_mark_pct, 0)),
    ];
    let has_surplus = |one: &ComparedRow| one.row.rule.as_ref().is_some_and(|rule| rule.surplus_pct.is_some());
    if full.rows.iter().any(has_surplus) {
        let share = |rule: &Rule| rule.surplus_pct.map_or_else(|| NONE.to_owned(), |share| grouped(share, 0));
        lines.push(line(say!("rule-surplus"), "%", &share));
    }
    lines.push(line(say!("rule-given"), "", &from_file));
    lines.push(line(say!("rule-found"), "", &|rule| found(rule.found)));
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rule(mains_hours: &[[u8; 2]], mains_fill_pct: &[f64], surplus_pct: Option<f64>) -> Rule {
        Rule {
            mains_hours: mains_hours.to_vec(),
            mains_fill_pct: mains_fill_pct.to_vec(),
            low_mark_pct: 20.0,
            surplus_pct,
            found: Found::Best,
            from_file: vec![RulePart::Hours, RulePart::LowMark],
        }
    }

    #[test]
    fn windows_and_levels_are_short() {
        let all_day = rule(&[[0, 24]], &[100.0], None);
        assert_eq!((hours(&all_day), fill(&all_day)), ("all".to_owned(), "100".to_owned()));
        let two = rule(&[[10, 15], [22, 6]], &[60.0, 100.0], Some(70.0));
        assert_eq!(
            (hours(&two), fill(&two)),
            ("10:00–15:00, 22:00–6:00".to_owned(), "60–100".to_owned())
        );
        assert_eq!(facts(Some(&two)).len(), 6);
        assert_eq!(from_file(&two), "hours, low level");
        assert!(facts(None).is_empty());
    }
}
