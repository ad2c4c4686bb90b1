use super::*;

const TEXT: &str = "\
# head
name = \"A\" # of the farm

[tank] # on the hill
capacity_m3 = 165 # about a day
restart_pct = 90.0

[demand]
daily_m3 = [60, 55, # rains
  80]

[[pipe]]
bore_mm = 80
[[pipe]]
bore_mm = 93.8 # polyethylene

[[tariff.season]]
prices = [
  { from_h = 0, per_kwh = 0.06 }, # night
  { from_h = 6, per_kwh = 0.09 },
]
";

fn number(keys: &str, new: f64) -> String {
    set_value(TEXT, keys, &NewValue::Number(new)).unwrap()
}

#[test]
fn only_the_value_changes() {
    for (keys, new, from, to) in [
        ("tank.capacity_m3", 200.0, "capacity_m3 = 165", "capacity_m3 = 200"),
        ("tank.capacity_m3", 165.5, "capacity_m3 = 165", "capacity_m3 = 165.5"),
        ("tank.restart_pct", 85.0, "90.0", "85.0"),
        ("pipe[2].bore_mm", 110.0, "93.8", "110.0"),
        (
            "tariff.season[1].prices[2].per_kwh",
            0.11,
            "per_kwh = 0.09",
            "per_kwh = 0.11",
        ),
    ] {
        assert_eq!(number(keys, new), TEXT.replacen(from, to, 1), "{keys}");
    }
    let word = NewValue::Text("B".to_owned());
    assert_eq!(set_value(TEXT, "name", &word).unwrap(), TEXT.replace("\"A\"", "\"B\""));
}

#[test]
fn a_list_keeps_its_comments_and_equal_numbers() {
    let list = NewValue::Numbers(vec![60.0, 57.5, 80.0]);
    let text = set_value(TEXT, "demand.daily_m3", &list).unwrap();
    assert_eq!(text, TEXT.replace("55, # rains", "57.5, # rains"));
}

#[test]
fn a_missing_key_is_added_to_its_section() {
    let text = number("tank.low_mark_pct", 20.0);
    assert_eq!(
        text,
        TEXT.replace("restart_pct = 90.0\n", "restart_pct = 90.0\nlow_mark_pct = 20\n")
    );
    assert!(number("changeover.to_drive_s", 75.0).ends_with("\n[changeover]\nto_drive_s = 75\n"));
}

#[test]
fn line_endings_stay() {
    let windows = TEXT.replace('\n', "\r\n");
    let text = set_value(&windows, "tank.capacity_m3", &NewValue::Number(200.0)).unwrap();
    assert_eq!(text, windows.replace("= 165", "= 200"));
}

#[test]
fn a_key_is_removed() {
    let text = set_value(TEXT, "tank.restart_pct", &NewValue::Absent).unwrap();
    assert_eq!(text, TEXT.replace("restart_pct = 90.0\n", ""));
    assert_eq!(set_value(TEXT, "tank.low_mark_pct", &NewValue::Absent).unwrap(), TEXT);
}

#[test]
fn removing_a_key_keeps_all_other_comments() {
    let absent = |text: &str, keys: &str| set_value(text, keys, &NewValue::Absent).unwrap();
    let list = "daily_m3 = [60, 55, # rains\n  80]\n";
    assert_eq!(absent(TEXT, "demand.daily_m3"), TEXT.replace(list, ""));
    let text = "[tank]\n# of the farm\n\n# asked for twice\nlow_mark_pct = 20 # usual\n# beside\nrestart_pct = 90\n";
    let without = text.replace("low_mark_pct = 20 # usual\n", "");
    assert_eq!(absent(text, "tank.low_mark_pct"), without);
    assert_eq!(
        absent(&text.replace('\n', "\r\n"), "tank.low_mark_pct"),
        without.replace('\n', "\r\n")
    );
    assert_eq!(
        absent("# head\ntank.a = 1\ntank.b = 2", "tank.b"),
        "# head\ntank.a = 1\n"
    );
    // The blank before the brace belongs to the removed value.
    let inline = "tank = { a = 1, b = 2 } # on the hill\n";
    assert_eq!(absent(inline, "tank.b"), "tank = { a = 1} # on the hill\n");
    assert_eq!(absent(TEXT, "changeover.to_drive_s"), TEXT);
}

#[test]
fn a_byte_order_mark_and_a_last_line_without_a_newline_stay() {
    let new = NewValue::Number(2.0);
    assert_eq!(set_value("\u{feff}a = 1\n", "a", &new).unwrap(), "\u{feff}a = 2\n");
    assert_eq!(set_value("# x\r\na = 1", "a", &new).unwrap(), "# x\r\na = 2");
    assert_eq!(set_value("", "a", &new).unwrap(), "a = 2\n");
}

#[test]
fn the_same_value_changes_nothing() {
    assert_eq!(number("tank.restart_pct", 90.0), TEXT);
    assert_eq!(number("tank.capacity_m3", 165.0), TEXT);
}

#[test]
fn keys_without_a_place_are_refused() {
    for keys in [
        "pipe[3].bore_mm",
        "pipe[0].bore_mm",
        "pipe.bore_mm",
        "name.x",
        "tank",
        "",
        "tank.",
        "pipe[x].a",
        ".tank",
        "a..b",
        "a.b.c.d.e.f.g.h.i",
        &"a.".repeat(100_000),
        &"a".repeat(300),
    ] {
        let error = set_value(TEXT, keys, &NewValue::Number(1.0)).unwrap_err();
        assert_eq!(error, EditError::NoPlace(keys.to_owned()));
    }
    let none = set_value(TEXT, "tank.capacity_m3", &NewValue::Number(f64::NAN));
    assert_eq!(none, Err(EditError::NotANumber));
    assert!(matches!(
        set_value("a = [", "a", &NewValue::Number(1.0)),
        Err(EditError::Syntax(_))
    ));
}

/// Each type of value, where the key exists already and where it is new; the text that follows is TOML.
#[test]
fn every_type_is_written_as_toml_has_it() {
    let hours = NewValue::Numbers((0..24).map(f64::from).collect());
    let listed = "[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23]";
    for (value, written) in [
        (NewValue::Number(7.5), "7.5"),
        (NewValue::Number(7.0), "7"),
        (NewValue::Number(-0.25), "-0.25"),
        (NewValue::Flag(true), "true"),
        (NewValue::Flag(false), "false"),
        (NewValue::Text("blend".to_owned()), "\"blend\""),
        (NewValue::Text("true".to_owned()), "\"true\""),
        (NewValue::Numbers(vec![6.0, 18.0]), "[6, 18]"),
        (NewValue::Numbers(vec![0.5]), "[0.5]"),
        (hours, listed),
    ] {
        for old in ["3", "3.5 # why", "true", "\"even\" # why", "[1, 2]", "[ # why\n  1,\n]"] {
            let text = format!("# head\n[a]\nkey = {old}\nnext = 1 # beside\n");
            let new = set_value(&text, "a.key", &value).unwrap();
            let table: toml::Table = new.parse().unwrap();
            let wanted: toml::Table = format!("key = {written}").parse().unwrap();
            let same = |a: &toml::Value, b: &toml::Value| match (a, b) {
                // A number that had a point keeps it.
                (toml::Value::Float(a), toml::Value::Integer(b)) => i32::try_from(*b).ok().map(f64::from) == Some(*a),
                _ => a == b,
            };
            assert!(same(&table["a"]["key"], &wanted["key"]), "{old} to {written}: {new}");
            assert!(
                new.starts_with("# head\n[a]\n") && new.ends_with("\nnext = 1 # beside\n"),
                "{new}"
            );
        }
        let new = set_value("[a]\nnext = 1\n", "a.key", &value).unwrap();
        assert_eq!(new, format!("[a]\nnext = 1\nkey = {written}\n"));
        let made = set_value("next = 1\n", "a.key", &value).unwrap();
        assert_eq!(made, format!("next = 1\n\n[a]\nkey = {written}\n"));
    }
}

#[test]
fn a_yes_or_no_keeps_its_comment() {
    let text = "[[load]]\nbacked_up = true # the well's own pump\n";
    let no = set_value(text, "load[1].backed_up", &NewValue::Flag(false)).unwrap();
    assert_eq!(no, text.replace("true", "false"));
    assert_eq!(
        set_value(&no, "load[1].backed_up", &NewValue::Flag(true)).unwrap(),
        text
    );
}
