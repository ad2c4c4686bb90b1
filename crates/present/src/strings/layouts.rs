//! Suitable layouts, as a table with the lines below it.

use daylift_study::strings::{LayoutRow, StringsAnswer, SubArrayRow};

use crate::number::{NONE, maybe};
use crate::say;

/// Number of layouts of a sub-array that are shown, unless all are requested.
const LAYOUTS_SHOWN: usize = 8;

/// Maximum number of layouts to show.
#[must_use]
pub const fn most_shown(all: bool) -> usize {
    if all { usize::MAX } else { LAYOUTS_SHOWN }
}

/// The title: number of layouts, and the arrangement whose year ranks them.
#[must_use]
pub fn title(found: &StringsAnswer, sub: &SubArrayRow) -> String {
    let row = found.arrangement.map_or_else(|| say!("layouts-no-row"), |row| row.to_string());
    let step = (found.step_s / 60).to_string();
    say!("layouts-title", count = sub.layouts.len(), row = row, step = step)
}

/// A column: its name, the second line of its header (often the unit), and its cell for a layout.
struct Column<'a> {
    name: String,
    second: String,
    cell: Box<dyn Fn(&LayoutRow) -> String + 'a>,
}

fn column<'a>(name: String, second: impl Into<String>, cell: impl Fn(&LayoutRow) -> String + 'a) -> Column<'a> {
    Column {
        name,
        second: second.into(),
        cell: Box::new(cell),
    }
}

/// Header and rows. A cell of the header has one or two lines. `shown`: the maximum number of rows.
#[must_use]
pub fn table(sub: &SubArrayRow, shown: usize) -> (Vec<String>, Vec<Vec<String>>) {
    let columns = columns(sub);
    let header = columns.iter().map(|column| match column.second.as_str() {
        "" => column.name.clone(),
        second => format!("{}\n{second}", column.name),
    });
    let cells = |layout: &LayoutRow| columns.iter().map(|column| (column.cell)(layout)).collect();
    (header.collect(), sub.layouts.iter().take(shown).map(cells).collect())
}

fn columns(sub: &SubArrayRow) -> Vec<Column<'_>> {
    let (inverter, drive) = (!sub.inverters.is_empty(), !sub.drives.is_empty());
    let left_over = sub.layouts.iter().any(|layout| layout.left_over_modules > 0);
    let mut out = vec![
        column(say!("layouts-layout"), "", number),
        column(say!("layouts-series"), "", |l| l.modules_per_string.to_string()),
    ];
    let mut put = |wanted: bool, column: Column<'static>| out.extend(wanted.then_some(column));
    put(
        inverter,
        column(say!("layouts-input"), say!("layouts-input.second"), |l| {
            l.strings_per_input.map_or_else(|| NONE.to_owned(), |s| s.to_string())
        }),
    );
    for name in sub.drives.clone() {
        let shown = if name == "pump" {
            say!("layouts-drive-of-pump")
        } else {
            name.clone()
        };
        put(true, column(say!("layouts-on"), shown, move |l| on_drive(l, &name)));
    }
    put(
        left_over,
        column(say!("layouts-left"), say!("layouts-left.second"), |l| {
            l.left_over_modules.to_string()
        }),
    );
    put(
        inverter && drive,
        column(say!("layouts-idle"), "kWp", |l| format!("{:.1}", l.idle_kwp)),
    );
    put(
        inverter && drive,
        column(say!("layouts-poles"), "", |l| l.poles.to_string()),
    );
    put(
        drive,
        column(say!("layouts-noon"), "Hz", |l| {
            side_by_side(&l.drives, |d| format!("{:.1}", d.noon_hz))
        }),
    );
    put(
        inverter,
        column(say!("layouts-dc-over-ac"), "", |l| {
            side_by_side(&l.inverters, |i| format!("{:.2}", i.dc_over_ac))
        }),
    );
    put(
        true,
        column(say!("layouts-water"), "m³", |l| {
            maybe(l.year.as_ref().map(|y| y.delivered_m3), 0)
        }),
    );
    let is_free = sub.layouts.iter().any(|l| free_water_m3(l).is_some());
    put(
        is_free,
        column(say!("layouts-free"), "m³", |l| maybe(free_water_m3(l), 0)),
    );
    put(
        true,
        column(say!("layouts-sun"), "kWh", |l| {
            maybe(l.year.as_ref().map(|y| y.array_used_kwh), 0)
        }),
    );
    put(
        drive,
        column(say!("layouts-drive"), "m³", |l| {
            side_by_side(&l.drives, |d| maybe(d.outage_water_m3, 0))
        }),
    );
    put(
        inverter,
        column(say!("layouts-inverter"), "kWh", |l| {
            side_by_side(&l.inverters, |i| maybe(i.feed_kwh, 0))
        }),
    );
    out
}

/// Water of the year if full flux needed no bus voltage \[m³\].
fn free_water_m3(layout: &LayoutRow) -> Option<f64> {
    layout.year.as_ref()?.delivered_without_voltage_limit_m3
}

/// The rank, with `!` if the layout violates a rule that only warns and `*` if it is that of the plant file.
fn number(layout: &LayoutRow) -> String {
    let warns = if layout.warns.is_empty() { "" } else { " !" };
    let present = if layout.is_present { " *" } else { "" };
    format!("{}{warns}{present}", layout.rank)
}

/// Numbers of strings that go to a drive, from each field of modules.
fn on_drive(layout: &LayoutRow, name: &str) -> String {
    let to_drives = layout.shares.iter().flat_map(|shares| &shares.to_drives);
    let of_each: Vec<String> = to_drives.filter(|to| to.drive == name).map(|to| to.strings.to_string()).collect();
    of_each.join(" + ")
}

fn side_by_side<T>(of: &[T], text: impl Fn(&T) -> String) -> String {
    of.iter().map(text).collect::<Vec<_>>().join(", ")
}

/// The lines below a table of at most `shown` rows.
#[must_use]
pub fn legend(sub: &SubArrayRow, shown: usize) -> Vec<String> {
    let mut out = Vec::new();
    if let Some(own) = sub.layouts.iter().find(|layout| layout.is_present) {
        out.push(format!(
            "* {}",
            say!("layouts-own", rank = own.rank, count = sub.layouts.len())
        ));
    }
    let drive = (!sub.drives.is_empty()).then(|| say!("layouts-legend-drive"));
    let inverter = (!sub.inverters.is_empty()).then(|| say!("layouts-legend-inverter"));
    out.push([drive, inverter].into_iter().flatten().collect::<Vec<_>>().join("; "));
    if sub.layouts.iter().any(|layout| free_water_m3(layout).is_some()) {
        out.push(say!("layouts-legend-free"));
    }
    if sub.layouts.iter().take(shown).any(|layout| !layout.warns.is_empty()) {
        out.push(format!("! {}", say!("layouts-warns")));
    }
    if !sub.not_checked.is_empty() {
        out.push(say!("layouts-not-checked", limits = sub.not_checked.join(", ")));
    }
    if sub.layouts.len() > shown {
        out.push(say!("layouts-more", count = sub.layouts.len() - shown));
    }
    if sub.every_nth > 1 {
        out.push(say!("layouts-every-nth", nth = sub.every_nth.to_string()));
    }
    out
}
