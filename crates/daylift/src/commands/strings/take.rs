//! A layout written into the plant file.

use std::path::Path;

use daylift_plant_file::{EditError, Files, Read, WrittenGroup, read_plant_from, set_strings};
use daylift_study::strings::{StringsAnswer, SubArrayRow};

use crate::files;

/// Writes the layout with a number in place of the sub-array's strings, and returns what to print. It refuses a text with
/// faults, and a file that changed since it was read.
pub(super) fn take(read: &Read, found: &StringsAnswer, number: usize, of: Option<&str>) -> Result<String, String> {
    let sub = chosen(&found.sub_arrays, of)?;
    let Some(layout) = sub.layouts.iter().find(|layout| layout.rank == number) else {
        return Err(match sub.layouts.len() {
            0 => format!(
                "{} has no suitable layout; run `daylift strings` without --take to see what must change",
                sub.name
            ),
            n => format!("{} has layouts 1 to {n}; {number} is not one of them", sub.name),
        });
    };
    let groups = sub.as_groups(layout);
    let Some(document) = read.documents.first() else {
        return Err("the plant file is not known".to_owned());
    };
    let path = Path::new(&document.name);
    let text = set_strings(&document.text, &sub.groups, &groups).map_err(|why| {
        let why = match why {
            EditError::NoPlace(_) => {
                "its strings are not written as [array] or [[array.group]] with one key per line".to_owned()
            }
            other => other.to_string(),
        };
        format!(
            "cannot write the strings into {}: {why}; enter them by hand:\n{}",
            document.name,
            by_hand(&groups)
        )
    })?;
    let files = Files::default().with_draft(path, text.clone()).map_err(|e| e.to_string())?;
    if let Err(faults) = read_plant_from(path, files) {
        let texts: Vec<String> = faults.iter().map(|located| located.fault.to_string()).collect();
        return Err(format!("with these strings the plant has faults: {}", texts.join("; ")));
    }
    files::replace(path, &document.text, &text)?;
    Ok(format!(
        "{}: the strings of {} are now layout {number} (steps of {} min):\n{}{}Comments on the old numbers are unchanged; check them.\n",
        document.name,
        sub.name,
        found.step_s / 60,
        by_hand(&groups),
        left_over(layout.left_over_modules)
    ))
}

fn chosen<'f>(subs: &'f [SubArrayRow], of: Option<&str>) -> Result<&'f SubArrayRow, String> {
    let names = || subs.iter().map(|sub| format!("\"{}\"", sub.name)).collect::<Vec<_>>().join(", ");
    match (of, subs) {
        (None, [only]) => Ok(only),
        (None, _) => Err(format!(
            "the plant has several sub-arrays; choose one with --of: {}",
            names()
        )),
        (Some(name), _) => {
            let found = subs.iter().find(|sub| sub.name == name);
            found.ok_or_else(|| format!("there is no sub-array \"{name}\"; allowed: {}", names()))
        }
    }
}

/// A line about modules that make no whole string.
fn left_over(modules: u32) -> String {
    match modules {
        0 => String::new(),
        1 => "1 module is in no string and was removed from the file.\n".to_owned(),
        n => format!("{n} modules are in no string and were removed from the file.\n"),
    }
}

/// A line for each group.
fn by_hand(groups: &[WrittenGroup]) -> String {
    let line = |g: &WrittenGroup| {
        let devices = [
            g.inverter.as_ref().map(|name| format!("on {name}")),
            g.strings_per_input.map(|count| format!("{count} on an input")),
            g.drive.as_ref().map(|name| format!("on the drive of {name} in an outage")),
        ];
        let devices: Vec<String> = devices.into_iter().flatten().collect();
        let plural = if g.strings == 1 { "" } else { "s" };
        format!(
            "  {}: {} string{plural} of {}, {}\n",
            g.plane,
            g.strings,
            g.modules_per_string,
            devices.join(", ")
        )
    };
    groups.iter().map(line).collect()
}
