//! The page: a contents list, then a chapter for each file with a table for each section.

use std::fmt::Write as _;
use std::ptr;

use daylift_plant_file::outline::{FILES, Key, Table, What};

use crate::examples::Examples;
use crate::row::{HEAD, if_left_out, row};

const INTRODUCTION: &str = "\
<!-- Made by `cargo xtask schema` from the program's own declarations. Do not edit this page. -->

# The plant file and the equipment files

Every section and key of the files that describe a plant. [The user guide](user-guide.md) shows how to fill them, and \
describes the tables of weather, outages and loads.

- The files are [TOML](https://toml.io). The folder of a plant holds `plant.toml`, and the equipment files that it names.
- The unit of a number is in its key: `length_m` is in metres, `loss_pct` in per cent.
- `daylift check` reports every value that was left out, with its default and the source of the default.
- *Must be given* means: in every section of this name. A section that is left out needs none of its keys.
- *May be left out* means that the key is not always needed. Another value may ask for it, as `mounting = \"fixed\"` asks \
for a tilt; `daylift check` says so.
- An example is from the invented worked plants or the guide, from the default, or is one of the allowed words. It is no \
advice.
- `[name]` is a section. `[[name]]` is one entry of a list: it may be written several times.
- The same rules are in `docs/schema` as JSON Schemas, with which an editor completes and checks the files.
";

/// The whole page.
pub(crate) fn page(examples: &Examples) -> String {
    let mut body = String::new();
    let mut contents = String::from("\n## Contents\n\n");
    for (kind, table) in FILES {
        let title = format!("{} file", capital(kind));
        writeln!(contents, "- [{title}](#{})", anchor(&title)).unwrap();
        write!(body, "\n## {title}\n").unwrap();
        let mut chapter = Chapter {
            kind,
            examples,
            seen: Vec::new(),
            body: &mut body,
            contents: &mut contents,
        };
        chapter.keys(table, &[]);
        chapter.sections_of(table, &[]);
    }
    format!("{INTRODUCTION}{contents}{body}")
}

/// One kind of file.
struct Chapter<'p> {
    kind: &'static str,
    examples: &'p Examples,
    /// Tables already described, with their headings: a second place refers to the first.
    seen: Vec<(&'static Table, String)>,
    body: &'p mut String,
    contents: &'p mut String,
}

impl Chapter<'_> {
    /// Writes a table of a section's own keys, then one for each of its groups.
    fn keys(&mut self, table: &'static Table, path: &[&str]) {
        let (groups, own): (Vec<&Key>, Vec<&Key>) =
            table.entries().iter().partition(|key| matches!(key.what, What::Group(_)));
        self.table(&own, path);
        for group in groups {
            let What::Group(inner) = group.what else { continue };
            write!(self.body, "\n{}\n", inner.about()).unwrap();
            self.keys(inner, path);
        }
    }

    fn table(&mut self, keys: &[&Key], path: &[&str]) {
        let rows: Vec<&&Key> = keys.iter().filter(|key| below(key).is_none()).collect();
        if rows.is_empty() {
            return;
        }
        write!(self.body, "\n{HEAD}").unwrap();
        for key in rows {
            self.body.push_str(&row(key, self.kind, path, self.examples));
        }
    }

    fn sections_of(&mut self, table: &'static Table, path: &[&'static str]) {
        for key in table.keys() {
            let Some(inner) = below(key) else { continue };
            let place = [path, &[key.name]].concat();
            self.section(key, inner, &place);
        }
    }

    fn section(&mut self, key: &Key, table: &'static Table, place: &[&'static str]) {
        let dotted = place.join(".");
        let heading = match key.what {
            What::Sections(_) => format!("`[[{dotted}]]`"),
            What::OneOrMany(_) => format!("`[{dotted}]` or `[[{dotted}]]`"),
            _ => format!("`[{dotted}]`"),
        };
        let indent = "  ".repeat(place.len());
        writeln!(self.contents, "{indent}- [{heading}](#{})", anchor(&heading)).unwrap();
        write!(self.body, "\n{} {heading}\n", "#".repeat(place.len() + 2)).unwrap();
        if let Some((_, first)) = self.seen.iter().find(|(seen, _)| ptr::eq(*seen, table)) {
            write!(self.body, "\nThe keys of [{first}](#{}).\n", anchor(first)).unwrap();
            return;
        }
        let about = table.about().rsplit_once("`: ").map_or(table.about(), |(_, about)| about);
        let given = format!("The section {}.", if_left_out(key).replace("**", ""));
        write!(self.body, "\n{} {given}\n", capital(about)).unwrap();
        self.seen.push((table, heading));
        self.keys(table, place);
        self.sections_of(table, place);
    }
}

fn below(key: &Key) -> Option<&'static Table> {
    match key.what {
        What::Section(table) | What::Sections(table) | What::OneOrMany(table) => Some(table),
        _ => None,
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The name under which GitHub links a heading.
fn anchor(heading: &str) -> String {
    let kept = heading.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
    kept.collect::<String>().to_lowercase().replace(' ', "-")
}
