use super::*;

fn row(key: &str, ratio: Option<f64>) -> Row {
    Row {
        key: Some(key.to_owned()),
        letter: "a",
        measure: String::new(),
        ours: String::new(),
        reference: String::new(),
        ratio,
        all_cores: key == "all",
        aim: None,
    }
}

fn committed(key: &str, ratio: f64) -> Committed {
    Committed {
        cores: 2,
        ratios: [(key.to_owned(), Value::Float(ratio))].into_iter().collect(),
    }
}

fn failures(key: &str, measured: Option<f64>, cores: usize) -> Vec<String> {
    committed(key, 30.0).hold_on(cores, &[row(key, measured)]).failures().collect()
}

#[test]
fn a_ratio_may_fall_by_a_third_and_no_more() {
    assert!(failures("loop", Some(20.1), 2).is_empty());
    assert_eq!(
        failures("loop", Some(19.9), 2),
        ["loop: the ratio fell by more than a third, from 30.0 committed to 19.9 measured"]
    );
}

#[test]
fn nan_counts_as_fallen() {
    assert_eq!(failures("loop", Some(f64::NAN), 2).len(), 1);
}

#[test]
fn a_committed_ratio_must_be_measured() {
    assert_eq!(failures("loop", None, 2), ["loop: committed as 30.0, but not measured"]);
    assert_eq!(committed("old", 30.0).hold_on(2, &[]).failures().count(), 1);
}

#[test]
fn rows_on_all_cores_are_checked_on_as_many_cores() {
    assert!(failures("all", Some(10.0), 1).is_empty());
    assert_eq!(failures("all", Some(10.0), 2).len(), 1);
}

#[test]
fn a_new_row_does_not_fail() {
    let held = committed("loop", 30.0).hold_on(2, &[row("loop", Some(30.0)), row("new", Some(1.0))]);
    assert_eq!(held.failures().count(), 0);
    assert!(held.to_string().contains("new"));
}
