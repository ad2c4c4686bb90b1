//! Words that are asked for are there, and words that are there are asked for.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use daylift_plant::Wiring;
use daylift_plant_file::Origin;
use daylift_study::changes::Quantity;
use daylift_study::columns::groups::{ArrayEnergy, PumpEnergy};
use daylift_study::columns::{Account, Sums};
use daylift_study::strings::{Rule, Weight};
use daylift_supply::{LossCause, ShortfallCause};
use daylift_units::Id;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every message and attribute of a file with the names that it is filled with.
fn messages(file: &str) -> BTreeMap<String, BTreeSet<String>> {
    let path = root().join("crates/present/words/en").join(file);
    let parsed = fluent_syntax::parser::parse(fs::read_to_string(path).unwrap()).unwrap();
    let mut out = BTreeMap::new();
    for entry in &parsed.body {
        let Entry::Message(message) = entry else { continue };
        let id = message.id.name.clone();
        for attribute in &message.attributes {
            out.insert(format!("{id}.{}", attribute.id.name), filled(&attribute.value));
        }
        out.extend(message.value.as_ref().map(|value| (id, filled(value))));
    }
    out
}

fn filled(pattern: &Pattern<String>) -> BTreeSet<String> {
    let mut out = BTreeSet::new();
    for element in &pattern.elements {
        match element {
            PatternElement::Placeable {
                expression: Expression::Inline(inline),
            } => name(inline, &mut out),
            PatternElement::Placeable {
                expression: Expression::Select { selector, variants },
            } => {
                name(selector, &mut out);
                out.extend(variants.iter().flat_map(|variant| filled(&variant.value)));
            }
            PatternElement::TextElement { .. } => {}
        }
    }
    out
}

fn name(inline: &InlineExpression<String>, out: &mut BTreeSet<String>) {
    if let InlineExpression::VariableReference { id } = inline {
        out.insert(id.name.clone());
    }
}

/// Texts of a folder's files of a kind without their comments, those of folders in it too.
fn sources(folder: &Path, kinds: &[&str], out: &mut String) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, kinds, out);
        } else if path.extension().is_some_and(|kind| kinds.iter().any(|k| kind == *k)) {
            let text = fs::read_to_string(path).unwrap();
            let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
            code.for_each(|line| *out += &format!("{line}\n"));
        }
    }
}

/// An asking in a source: the literals that it begins with, and the names that it fills in.
struct Asked {
    literals: Vec<String>,
    fills: BTreeSet<String>,
}

/// Every `say!` or `term!` of a source.
fn asked(source: &str, call: &str) -> Vec<Asked> {
    let tails = source.match_indices(call).map(|(at, _)| &source[at + call.len()..]);
    tails.filter(|tail| tail.trim_start().starts_with('"')).map(arguments).collect()
}

/// The text up to the closing bracket, split at the commas that are not inside other brackets.
fn arguments(tail: &str) -> Asked {
    let (mut depth, mut in_text, mut part) = (0, false, String::new());
    let mut parts = Vec::new();
    for c in tail.chars() {
        in_text ^= c == '"';
        match c {
            _ if in_text => {}
            '(' | '[' | '{' => depth += 1,
            ')' if depth == 0 => break,
            ')' | ']' | '}' => depth -= 1,
            ',' if depth == 0 => parts.push(std::mem::take(&mut part)),
            _ => {}
        }
        part.push(c);
    }
    parts.push(part);
    let parts: Vec<&str> = parts.iter().map(|part| part.trim_start_matches(',').trim()).collect();
    let literal = |part: &&str| Some(part.strip_prefix('"')?.strip_suffix('"')?.to_owned());
    let fill = |part: &&str| {
        let (name, _) = part.split_once(" = ")?;
        name.chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
            .then(|| name.to_owned())
    };
    Asked {
        literals: parts.iter().filter_map(literal).collect(),
        fills: parts.iter().filter_map(fill).collect(),
    }
}

fn ids<T: Id>() -> Vec<&'static str> {
    T::ALL.iter().map(|member| member.id()).collect()
}

/// Members of the families that `term!` asks for.
fn family(name: &str) -> Vec<&'static str> {
    match name {
        "arrangement-" | "works-" | "away-" => ids::<Wiring>(),
        "loss-" => ids::<LossCause>(),
        "shortfall-" => ids::<ShortfallCause>(),
        "weight-" => ids::<Weight>(),
        "change-" => ids::<Quantity>(),
        "rule-" | "broken-" | "fix-" | "short-" => ids::<Rule>(),
        "fixed-" => Rule::ALL
            .iter()
            .filter(|rule| rule.weight() == Weight::Forbids)
            .map(|rule| rule.id())
            .collect(),
        "origin-" => Origin::ALL.iter().map(|origin| origin.id()).collect(),
        "use-" => Sums::<ArrayEnergy>::new(Account::default()).uses().map(|(key, _)| key).collect(),
        "source-" => Sums::<PumpEnergy>::new(Account::default()).iter().map(|(key, _)| key).collect(),
        other => panic!("{other} is no family"),
    }
}

/// Every id that the program asks for, with what is filled in.
fn asked_for() -> BTreeMap<String, BTreeSet<String>> {
    let mut source = String::new();
    for room in ["present", "daylift", "desk"] {
        sources(&root().join("crates").join(room).join("src"), &["rs"], &mut source);
    }
    let mut out = BTreeMap::new();
    for one in asked(&source, "say!(") {
        out.insert(one.literals[0].clone(), one.fills);
    }
    for one in asked(&source, "term!(") {
        let attribute = one.literals.get(1).map_or("", String::as_str);
        for member in family(&one.literals[0]) {
            out.insert(format!("{}{member}{attribute}", one.literals[0]), one.fills.clone());
        }
    }
    out
}

#[test]
fn words_that_are_asked_for_are_there_and_get_what_they_are_filled_with() {
    let there: BTreeMap<_, _> = ["terms.ftl", "answers.ftl", "terminal.ftl"].into_iter().flat_map(messages).collect();
    let asked = asked_for();
    assert!(asked.len() > 100, "{}", asked.len());
    for (id, fills) in asked {
        let Some(wanted) = there.get(&id) else {
            panic!("{id} is in no file")
        };
        assert!(wanted.is_subset(&fills), "{id} wants {wanted:?} and gets {fills:?}");
    }
}

#[test]
fn words_that_are_there_are_asked_for() {
    let asked = asked_for();
    let unused =
        |file: &str| -> Vec<String> { messages(file).into_keys().filter(|id| !asked.contains_key(id)).collect() };
    assert_eq!(unused("answers.ftl"), Vec::<String>::new());
    assert_eq!(unused("terminal.ftl"), Vec::<String>::new());
    // The rest of the shared words is the page's; its own tests hold its families to what the program sends.
    let mut page = String::new();
    sources(&root().join("ui/src"), &["ts", "svelte"], &mut page);
    let says = |id: &String| {
        let family = id.split('-').next().unwrap_or_default();
        page.contains(&format!("say('{id}'"))
            || page.contains(&format!("'{id}'"))
            || page.contains(&format!("nameOf('{family}'"))
    };
    assert_eq!(
        unused("terms.ftl").into_iter().filter(|id| !says(id)).collect::<Vec<_>>(),
        Vec::<String>::new()
    );
}

#[test]
fn no_word_is_in_two_files() {
    let mut seen = BTreeSet::new();
    for file in ["terms.ftl", "answers.ftl", "terminal.ftl"] {
        for id in messages(file).into_keys() {
            assert!(seen.insert(id.clone()), "{id} is in two files");
        }
    }
}
