//! Writes another layout of strings into a plant file.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, value};

use crate::outline::MountKeys;
use crate::provenance::{Mark, Origin};
use crate::read::Outlined;

use super::origin::{mark_in, rename_in};
use super::{EditError, MARK, syntax, with_ends_of};

/// A string group as a plant file writes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrittenGroup {
    /// Name.
    pub name: String,
    /// Name of its plane.
    pub plane: String,
    /// Modules in series.
    pub modules_per_string: u32,
    /// Strings in parallel.
    pub strings: u32,
    /// Strings on each MPPT input; `None` without an inverter.
    pub strings_per_input: Option<u32>,
    /// Name of its inverter, if it feeds one.
    pub inverter: Option<String>,
    /// Name of the pump set whose drive it feeds, if any.
    pub drive: Option<String>,
}

/// Keys of strings written in `[array]` itself.
const INLINE: [&str; 3] = ["modules_per_string", "strings", "strings_per_input"];

/// Replaces the groups named in `replaced` by `groups`, and marks what it writes as [`Origin::Found`].
///
/// Strings in `[array]` itself stay there when a single group that feeds a device replaces them. Otherwise they become
/// `[[array.plane]]` and `[[array.group]]`. Comments stay; a comment on the line of a number stays even when the number changes.
///
/// # Errors
/// When the text is not valid TOML, has no `[array]`, or has none of the groups to replace.
pub fn set_strings(text: &str, replaced: &[String], groups: &[WrittenGroup]) -> Result<String, EditError> {
    let (mark, plain) = match text.strip_prefix(MARK) {
        Some(plain) => (MARK, plain),
        None => ("", text),
    };
    let mut document: DocumentMut = plain.parse().map_err(|e| syntax(&e))?;
    let no_place = || EditError::NoPlace("array".to_owned());
    let array = document.get_mut("array").and_then(Item::as_table_mut).ok_or_else(no_place)?;
    let before = names(array);
    match (array.get_mut("group"), groups) {
        (Some(Item::ArrayOfTables(old)), _) => {
            let new = replaced_in(old, replaced, groups).ok_or_else(no_place)?;
            *old = new;
        }
        (Some(_), _) => return Err(no_place()),
        (None, [one]) if one.drive.is_some() || one.inverter.is_some() => set_inline(array, one),
        (None, _) => spread(array, groups),
    }
    let after = names(array);
    mark_as_found(&mut document, (&before, &after), groups)?;
    Ok(format!("{mark}{}", with_ends_of(plain, document.to_string())))
}

/// Names of the groups in `[[array.group]]`, in order.
fn names(array: &Table) -> Vec<String> {
    let list = array.get("group").and_then(Item::as_array_of_tables);
    let tables = list.into_iter().flat_map(ArrayOfTables::iter);
    tables
        .map(|table| table.get("name").and_then(Item::as_str).unwrap_or_default().to_owned())
        .collect()
}

/// Marks the new groups as found. Marks of groups that stay follow them to their new numbers.
fn mark_as_found(
    document: &mut DocumentMut,
    (before, after): (&[String], &[String]),
    groups: &[WrittenGroup],
) -> Result<(), EditError> {
    let found = Mark {
        date: None,
        note: Some("a layout of `daylift strings`".to_owned()),
    };
    let inline = |keys: &[&str]| -> Vec<String> { keys.iter().map(|key| format!("array.{key}")).collect() };
    if after.is_empty() {
        let written = groups.iter().any(|group| group.strings_per_input.is_some());
        mark_in(document, &inline(&INLINE), Origin::Given, &Mark::default())?;
        return mark_in(
            document,
            &inline(&INLINE[..if written { 3 } else { 2 }]),
            Origin::Found,
            &found,
        );
    }
    let is_written = |name: &String| groups.iter().any(|group| group.name == *name);
    rename_in(document, |key| {
        let Some((number, rest)) = key.strip_prefix("array.group[").and_then(|rest| rest.split_once(']')) else {
            return (!inline(&INLINE).iter().any(|gone| gone == key)).then(|| key.to_owned());
        };
        let name = before.get(number.parse::<usize>().ok()?.checked_sub(1)?)?;
        let now = after.iter().position(|n| n == name).filter(|_| !is_written(name))?;
        Some(format!("array.group[{}]{rest}", now + 1))
    })?;
    let places = after.iter().enumerate().filter(|(_, name)| is_written(name));
    let written: Vec<String> = places.map(|(i, _)| format!("array.group[{}]", i + 1)).collect();
    mark_in(document, &written, Origin::Found, &found)
}

/// The list with the new groups in place of the first old one. Comments above that one stay above the new groups. `None`
/// when no group in the list is to be replaced.
fn replaced_in(old: &ArrayOfTables, replaced: &[String], groups: &[WrittenGroup]) -> Option<ArrayOfTables> {
    let is_replaced = |table: &Table| {
        let name = table.get("name").and_then(Item::as_str);
        name.is_some_and(|name| replaced.iter().any(|r| r == name))
    };
    let first = old.iter().find(|table| is_replaced(table))?;
    let above = first.decor().prefix().cloned();
    let mut new = ArrayOfTables::new();
    let mut placed = false;
    for table in old {
        if !is_replaced(table) {
            new.push(unplaced(table));
            continue;
        }
        if !placed {
            placed = true;
            for (i, group) in groups.iter().enumerate() {
                let mut table = written(group);
                if let (0, Some(above)) = (i, &above) {
                    table.decor_mut().set_prefix(above.clone());
                }
                new.push(table);
            }
        }
    }
    Some(new)
}

/// Clears the table's old position in the document, so that it is printed in the order of its list.
fn unplaced(table: &Table) -> Table {
    let mut table = table.clone();
    table.set_position(None);
    table
}

fn written(group: &WrittenGroup) -> Table {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    let count = |count: u32| value(i64::from(count));
    table.insert("name", value(&group.name));
    table.insert("plane", value(&group.plane));
    table.insert("modules_per_string", count(group.modules_per_string));
    table.insert("strings", count(group.strings));
    if let Some(per_input) = group.strings_per_input {
        table.insert("strings_per_input", count(per_input));
    }
    if let Some(inverter) = &group.inverter {
        table.insert("inverter", value(inverter));
    }
    if let Some(drive) = &group.drive {
        table.insert("drive", value(drive));
    }
    table
}

/// Changes the numbers in `[array]` itself.
fn set_inline(array: &mut Table, group: &WrittenGroup) {
    let counts = [
        ("modules_per_string", Some(group.modules_per_string)),
        ("strings", Some(group.strings)),
        ("strings_per_input", group.strings_per_input),
    ];
    for (key, count) in counts {
        match (array.get_mut(key).and_then(Item::as_value_mut), count) {
            (Some(old), Some(count)) => {
                let decor = old.decor().clone();
                *old = i64::from(count).into();
                *old.decor_mut() = decor;
            }
            (None, Some(count)) => {
                array.insert(key, value(i64::from(count)));
            }
            (_, None) => {
                array.remove(key);
            }
        }
    }
}

/// Moves the plane and the strings of `[array]` itself into lists.
fn spread(array: &mut Table, groups: &[WrittenGroup]) {
    let mut plane = Table::new();
    plane.decor_mut().set_prefix("\n");
    if let Some(first) = groups.first() {
        plane.insert("name", value(&first.plane));
    }
    let of_plane = MountKeys::TABLE.keys();
    let present: Vec<String> = array.iter().map(|(key, _)| key.to_owned()).collect();
    for key in present.iter().filter(|key| of_plane.iter().any(|of| of.name == *key)) {
        if let Some(item) = array.remove(key) {
            plane.insert(key, item);
        }
    }
    for key in INLINE {
        array.remove(key);
    }
    let mut planes = ArrayOfTables::new();
    planes.push(plane);
    let mut list = ArrayOfTables::new();
    groups.iter().for_each(|group| list.push(written(group)));
    array.insert("plane", Item::ArrayOfTables(planes));
    array.insert("group", Item::ArrayOfTables(list));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn group(name: &str, strings: u32, drive: Option<&str>) -> WrittenGroup {
        WrittenGroup {
            name: name.to_owned(),
            plane: "array".to_owned(),
            modules_per_string: 15,
            strings,
            strings_per_input: Some(2),
            inverter: Some("inverter".to_owned()),
            drive: drive.map(str::to_owned),
        }
    }

    const INLINE: &str = "# the farm\n[array]\ntilt_deg = 18 # as the latitude\nazimuth_deg = 0\nmodules_per_string = 14 # long\nstrings = 3\n\n[inverter]\nfile = \"inverter.toml\"\n";

    #[test]
    fn one_group_on_both_devices_changes_the_numbers_in_place() {
        let text = set_strings(INLINE, &["array".to_owned()], &[group("array", 2, Some("pump"))]).unwrap();
        assert_eq!(
            text,
            "# the farm\n[array]\ntilt_deg = 18 # as the latitude\nazimuth_deg = 0\nmodules_per_string = 15 # long\nstrings = 2\nstrings_per_input = 2\n\n[inverter]\nfile = \"inverter.toml\"\n\n[[origin]]\nof = [\"array.modules_per_string\", \"array.strings\", \"array.strings_per_input\"]\nis = \"found\"\nnote = \"a layout of `daylift strings`\"\n"
        );
    }

    #[test]
    fn several_groups_turn_the_strings_of_the_array_into_lists() {
        let groups = [group("on the drive", 2, Some("pump")), group("idle", 1, None)];
        let text = set_strings(INLINE, &["array".to_owned()], &groups).unwrap();
        assert_eq!(
            text,
            "# the farm\n[array]\n\n[[array.plane]]\nname = \"array\"\ntilt_deg = 18 # as the latitude\nazimuth_deg = 0\n\n\
             [[array.group]]\nname = \"on the drive\"\nplane = \"array\"\nmodules_per_string = 15\nstrings = 2\nstrings_per_input = 2\ninverter = \"inverter\"\ndrive = \"pump\"\n\n\
             [[array.group]]\nname = \"idle\"\nplane = \"array\"\nmodules_per_string = 15\nstrings = 1\nstrings_per_input = 2\ninverter = \"inverter\"\n\n\
             [inverter]\nfile = \"inverter.toml\"\n\n\
             [[origin]]\nof = [\"array.group[1]\", \"array.group[2]\"]\nis = \"found\"\nnote = \"a layout of `daylift strings`\"\n"
        );
    }

    #[test]
    fn groups_of_other_names_stay_as_they_are() {
        let text = "[array]\nmodule = \"m\"\n\n# A\n[[array.group]]\nname = \"a\"\nstrings = 4 # four\n\n# B\n[[array.group]]\nname = \"b\"\nstrings = 4\n\n# C\n[[array.group]]\nname = \"c\"\nstrings = 1\n\n[tank]\ncapacity_m3 = 1\n";
        let groups = [group("x", 2, Some("pump")), group("y", 2, None)];
        let new = set_strings(text, &["b".to_owned()], &groups).unwrap();
        let lists = |name: &str, strings: u32, drive: &str| {
            format!(
                "[[array.group]]\nname = \"{name}\"\nplane = \"array\"\nmodules_per_string = 15\nstrings = {strings}\nstrings_per_input = 2\ninverter = \"inverter\"\n{drive}"
            )
        };
        assert_eq!(
            new,
            format!(
                "[array]\nmodule = \"m\"\n\n# A\n[[array.group]]\nname = \"a\"\nstrings = 4 # four\n\n# B\n{}\n{}\n# C\n[[array.group]]\nname = \"c\"\nstrings = 1\n\n[tank]\ncapacity_m3 = 1\n\n\
                 [[origin]]\nof = [\"array.group[2]\", \"array.group[3]\"]\nis = \"found\"\nnote = \"a layout of `daylift strings`\"\n",
                lists("x", 2, "drive = \"pump\"\n"),
                lists("y", 2, "")
            )
        );
        assert!(set_strings(text, &["z".to_owned()], &groups).is_err());
        assert!(set_strings("[tank]\n", &["b".to_owned()], &groups).is_err());
        assert!(set_strings("[array\n", &["b".to_owned()], &groups).is_err());
    }

    #[test]
    fn marks_follow_the_groups_that_stay() {
        let text = "[array]\n\n[[array.group]]\nname = \"a\"\nstrings = 1\n\n[[array.group]]\nname = \"b\"\nstrings = 1\n\n\
                    [[origin]]\nof = [\"array.group[1].strings\", \"array.group[2]\", \"tank\"] # seen\nis = \"confirmed\"\n";
        let groups = [group("x", 2, Some("pump")), group("y", 2, None)];
        let new = set_strings(text, &["a".to_owned()], &groups).unwrap();
        assert!(
            new.contains("of = [ \"array.group[3]\", \"tank\"] # seen\nis = \"confirmed\"\n"),
            "{new}"
        );
        assert!(
            new.contains("of = [\"array.group[1]\", \"array.group[2]\"]\nis = \"found\""),
            "{new}"
        );
    }
}
