use jiff::civil::date;

use super::*;

const TEXT: &str = "\
# head
name = \"A\"

[tank] # on the hill
capacity_m3 = 165 # about a day

# what nobody looked at
[[origin]]
of = [\"*\"] # all
is = \"assumed\"

# dipped
[[origin]]
of = [\"well\", \"tank\"] # both
is = \"confirmed\"
date = 2026-11-30
";

fn keys(keys: &[&str]) -> Vec<String> {
    keys.iter().map(|key| (*key).to_owned()).collect()
}

fn dipped() -> Mark {
    Mark {
        date: Some(date(2026, 11, 30)),
        note: None,
    }
}

#[test]
fn a_first_mark_is_a_new_entry_at_the_end() {
    let mark = Mark {
        date: Some(date(2026, 11, 30)),
        note: Some("by \"tape\"".to_owned()),
    };
    let text = set_origin(
        "# head\na = 1 # x\n",
        &keys(&["well", "tank.x"]),
        Origin::Confirmed,
        &mark,
    )
    .unwrap();
    assert_eq!(
        text,
        "# head\na = 1 # x\n\n[[origin]]\nof = [\"well\", \"tank.x\"]\nis = \"confirmed\"\ndate = 2026-11-30\nnote = 'by \"tape\"'\n"
    );
}

#[test]
fn a_key_joins_the_entry_that_says_the_same() {
    let text = set_origin(TEXT, &keys(&["pipe"]), Origin::Confirmed, &dipped()).unwrap();
    assert_eq!(
        text,
        TEXT.replace("[\"well\", \"tank\"] # both", "[\"well\", \"tank\", \"pipe\"] # both")
    );
}

#[test]
fn a_key_leaves_the_entry_that_said_something_else() {
    let text = set_origin(TEXT, &keys(&["tank"]), Origin::Found, &Mark::default()).unwrap();
    let left = TEXT.replace("[\"well\", \"tank\"] # both", "[\"well\"] # both");
    assert_eq!(text, format!("{left}\n[[origin]]\nof = [\"tank\"]\nis = \"found\"\n"));
    let text = set_origin(TEXT, &keys(&["*"]), Origin::Given, &Mark::default()).unwrap();
    assert!(
        !text.contains("assumed") && text.contains("# dipped\n[[origin]]\n"),
        "{text}"
    );
}

#[test]
fn the_same_mark_again_changes_nothing() {
    let once = set_origin(TEXT, &keys(&["a", "b"]), Origin::Generic, &Mark::default()).unwrap();
    let twice = set_origin(&once, &keys(&["a", "b"]), Origin::Generic, &Mark::default()).unwrap();
    assert_eq!(once, twice);
    assert_eq!(
        set_origin("a = 1", &[], Origin::Found, &Mark::default()).unwrap(),
        "a = 1"
    );
    let windows = TEXT.replace('\n', "\r\n");
    let text = set_origin(&windows, &keys(&["x"]), Origin::Found, &Mark::default()).unwrap();
    assert!(text.ends_with("\r\nis = \"found\"\r\n"));
}

#[test]
fn inline_entries_become_sections_and_anything_else_is_refused() {
    let set = |text: &str| set_origin(text, &keys(&["well"]), Origin::Found, &Mark::default());
    let text = set("origin = [{ of = [\"*\"], is = \"assumed\" }]\nname = \"A\"\n").unwrap();
    let entries: toml::Table = text.parse().unwrap();
    assert_eq!(entries["origin"][0]["of"][0].as_str(), Some("*"), "{text}");
    assert_eq!(entries["origin"][1]["of"][0].as_str(), Some("well"), "{text}");
    assert_eq!(set("origin = 1\n"), Err(EditError::NoPlace("origin".to_owned())));
}

/// Where a wider mark exists, an unmarked key does not count as given: it needs the mark `given`.
#[test]
fn given_is_a_mark_where_a_wider_one_covers_the_key() {
    let text = set_origin(TEXT, &keys(&["pipe"]), Origin::Given, &Mark::default()).unwrap();
    assert_eq!(text, format!("{TEXT}\n[[origin]]\nof = [\"pipe\"]\nis = \"given\"\n"));
    let alone = "a = 1\n";
    assert_eq!(
        set_origin(alone, &keys(&["a"]), Origin::Given, &Mark::default()).unwrap(),
        alone
    );
    let typed = set_origin(alone, &keys(&["a"]), Origin::Given, &dipped()).unwrap();
    assert!(typed.ends_with("is = \"given\"\ndate = 2026-11-30\n"), "{typed}");
}
