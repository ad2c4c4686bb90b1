//! Strings, layouts and findings of a plant as text.

use daylift_study::strings::{
    CanBeBuilt, ExtremeRow, FindingRow, LayoutRow, LengthRow, MeasureRow, Rule, StringsAnswer, SubArrayRow, Verdict,
    Weight,
};

use super::{page, table};
use daylift_present::number::maybe;
use daylift_present::strings::cautions;

/// Layouts that are printed of a sub-array unless all are asked for.
const LAYOUTS_TOLD: usize = 8;
/// Rules that are told of a length that breaks several.
const RULES_TOLD: usize = 2;

/// The verdict, the findings, and of each sub-array the lengths and the layouts.
pub(crate) fn text(found: &StringsAnswer, all: bool, width: usize) -> String {
    let mut out = head(found, width);
    out += &verdict(&found.can_be_built, width);
    out += &findings(&found.findings, width);
    out += &measures(&found.measures, all);
    for sub in &found.sub_arrays {
        out += &sub_array(found, sub, all, width);
    }
    for caution in cautions() {
        out += &format!("\n{}", page::hang(&caution, width, 0));
    }
    out + "\n"
}

fn head(found: &StringsAnswer, width: usize) -> String {
    let c = &found.conditions;
    let extreme = |e: &ExtremeRow| {
        let of_record = e
            .record_c
            .is_some_and(|record_c| (record_c - e.weather_c).abs() > 0.0 && record_c.eq(&e.air_c));
        let from = match (of_record, e.record_c) {
            (true, _) => format!("on record; {:.1} °C in the year's weather", e.weather_c),
            (false, Some(record_c)) => format!("the year's weather; {record_c:.1} °C on record"),
            (false, None) => "the year's weather; no record given".to_owned(),
        };
        format!("{:.1} °C ({from})", e.air_c)
    };
    let lines = [
        format!("{}: do the strings suit inverter and drive?", found.plant),
        format!("coldest morning: {}", extreme(&c.coldest)),
        format!(
            "hot noon: {:.0} W/m², air {}, cells at {:.1} °C",
            c.noon_w_m2,
            extreme(&c.hottest),
            c.noon_cell_c
        ),
        format!(
            "a module: {:.2} V open on the coldest morning; {:.2} V open and {:.2} V at greatest power at a hot noon",
            c.module_cold_open_v, c.module_hot_open_v, c.module_hot_max_power_v
        ),
    ];
    lines.map(|line| page::hang(&line, width, 2) + "\n").concat() + "\n"
}

/// `can be built`, in a sentence.
pub(crate) fn verdict(verdict: &CanBeBuilt, width: usize) -> String {
    let warns = match verdict.warns {
        0 => String::new(),
        1 => "; 1 warning".to_owned(),
        n => format!("; {n} warnings"),
    };
    let text = match verdict.verdict {
        Verdict::Good => format!("The strings can be built: no rule forbids them{warns}."),
        Verdict::Assumed => format!(
            "The strings are not yet ready to build: no rule forbids them{warns}, but {} not confirmed: {}.",
            match verdict.unconfirmed.len() {
                1 => "1 value that this rests on is".to_owned(),
                n => format!("{n} values that this rests on are"),
            },
            verdict.unconfirmed.join(", ")
        ),
        Verdict::Forbidden => match verdict.forbids {
            1 => format!("The strings must not be built so: 1 finding forbids them{warns}."),
            n => format!("The strings must not be built so: {n} findings forbid them{warns}."),
        },
    };
    page::hang(&text, width, 0) + "\n"
}

/// Each finding with its remedy.
pub(crate) fn findings(findings: &[FindingRow], width: usize) -> String {
    let mut out = String::from("\n");
    for finding in findings {
        let mut text = format!("  {:<8} {}: {}", finding.weight.id(), finding.about, finding.says);
        if !finding.remedy.is_empty() {
            text += &format!(". Remedy: {}", finding.remedy);
        }
        if finding.weight != Weight::Notes && !finding.unconfirmed.is_empty() {
            text += &format!(". Rests on what is not confirmed: {}", finding.unconfirmed.join(", "));
        }
        out += &(page::hang(&text, width, 11) + "\n");
    }
    out
}

/// Every rule with its value and limit, of the device with the least room unless all are asked for.
fn measures(measures: &[MeasureRow], all: bool) -> String {
    let header = ["Held against the rules", "device", "value", "limit", "room"].map(str::to_owned);
    let mut table = table::new(&header);
    if let Some(column) = table.column_mut(1) {
        column.set_cell_alignment(comfy_table::CellAlignment::Left);
    }
    for of_rule in measures.chunk_by(|a, b| a.rule == b.rule) {
        let mut devices: Vec<&MeasureRow> = of_rule.iter().collect();
        devices.sort_by(|a, b| room(a).total_cmp(&room(b)));
        let told = if all { devices.len() } else { 1 };
        for m in devices.iter().take(told) {
            let more = if told < devices.len() {
                format!(" (of {})", devices.len())
            } else {
                String::new()
            };
            table.add_row([
                m.rule.id().to_owned(),
                format!("{}{more}", m.about),
                amount(m.value, &m.unit),
                m.limit.map_or_else(|| "not given".to_owned(), |limit| amount(limit, &m.unit)),
                room_text(m),
            ]);
        }
    }
    format!("\n{}", table::text(&table))
}

/// Room to the limit as a share of it, below 0 beyond it; where it is not known the least of all.
fn room(m: &MeasureRow) -> f64 {
    match (m.limit, &m.weight) {
        (None, _) => f64::NEG_INFINITY,
        (Some(limit), None) => (limit - m.value).abs() / limit.abs().max(f64::MIN_POSITIVE),
        (Some(limit), Some(_)) => -(limit - m.value).abs() / limit.abs().max(f64::MIN_POSITIVE),
    }
}

fn room_text(m: &MeasureRow) -> String {
    let Some(limit) = m.limit else { return "–".to_owned() };
    let distance = amount((limit - m.value).abs(), &m.unit);
    match &m.weight {
        // Beyond what the modules bear without a fuse, and one for each string does.
        None if matches!(m.rule, Rule::FuseOnInverter | Rule::FuseOnDrive) && m.value > limit => "by fuses".to_owned(),
        None => distance,
        Some(weight) => format!("−{distance} {}", weight.id()),
    }
}

fn sub_array(found: &StringsAnswer, sub: &SubArrayRow, all: bool, width: usize) -> String {
    let fields: Vec<String> = match &sub.fields[..] {
        [one] => vec![counted(one.modules, "module")],
        several => several
            .iter()
            .map(|f| {
                // With several inverters the plane alone does not say which modules are meant.
                let of = f.inverter.as_ref().filter(|_| sub.inverters.len() > 1);
                let on = of.map_or_else(String::new, |inverter| format!(" of {inverter}"));
                format!("{} on {}{on}", counted(f.modules, "module"), f.plane)
            })
            .collect(),
    };
    let mut out = format!("\n{}: {}\n", sub.name, fields.join(", "));
    out += &lengths(sub, width);
    if sub.layouts.is_empty() {
        return out + &what_to_change(sub, width);
    }
    let told = if all { usize::MAX } else { LAYOUTS_TOLD };
    out += &layouts(found, sub, told);
    let own = sub.layouts.iter().find(|layout| layout.is_present);
    if let Some(own) = own {
        out += &format!(
            "* what the plant file has, number {} of {}\n",
            own.rank,
            sub.layouts.len()
        );
    }
    let drive = "drive: what it could lift in the outages if water were always wanted";
    let inverter = "inverter: what it could feed while the grid is there";
    let parts = [
        (!sub.drives.is_empty()).then_some(drive),
        (!sub.inverters.is_empty()).then_some(inverter),
    ];
    out += &(page::hang(&parts.into_iter().flatten().collect::<Vec<_>>().join("; "), width, 2) + "\n");
    if sub.layouts.iter().take(told).any(|layout| !layout.warns.is_empty()) {
        out += "! breaks a rule that only warns: its year does not count what that costs\n";
    }
    if !sub.not_checked.is_empty() {
        let text = format!(
            "as far as the limits are known; not checked: {}",
            sub.not_checked.join(", ")
        );
        out += &(page::hang(&text, width, 2) + "\n");
    }
    if sub.layouts.len() > told {
        out += &format!("{} more suit; --all prints them\n", sub.layouts.len() - told);
    }
    if sub.every_nth > 1 {
        out += &format!(
            "looked at: every {}. number of strings on a drive, and all or none\n",
            sub.every_nth
        );
    }
    out + &refused(sub, width)
}

/// Where none suits: each change that alone would help, or what stands in the way of the nearest layout.
fn what_to_change(sub: &SubArrayRow, width: usize) -> String {
    let lines: Vec<String> = if sub.changes.is_empty() {
        sub.nearest.iter().map(broken_rule).collect()
    } else {
        sub.changes.iter().map(|change| change.says.clone()).collect()
    };
    let head = if sub.changes.is_empty() {
        "\nNo layout suits, and no single change would let one. The nearest has against it:\n"
    } else {
        "\nNo layout suits. Each of these alone would let one suit:\n"
    };
    lines.iter().fold(head.to_owned(), |out, line| {
        out + &page::hang(&format!("  {line}"), width, 4) + "\n"
    })
}

/// What other layouts of these lengths break, and the nearest of them.
fn refused(sub: &SubArrayRow, width: usize) -> String {
    if sub.refused.is_empty() {
        return String::new();
    }
    let mut out = String::from("\nOther layouts of these lengths break\n");
    for refused in &sub.refused {
        let strings = match refused.strings {
            0 => String::new(),
            1 => ", 1 string".to_owned(),
            n => format!(", {n} strings"),
        };
        let text = format!(
            "  {:<22} {:>4}; the nearest, {} in series{strings}: {}",
            refused.nearest.rule.id(),
            refused.layouts,
            refused.modules_per_string,
            broken_rule(&refused.nearest)
        );
        out += &(page::hang(&text, width, 31) + "\n");
    }
    out
}

fn counted(count: u32, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        n => format!("{n} {what}s"),
    }
}

/// A value with its unit; less than one with a figure more.
fn amount(value: f64, unit: &str) -> String {
    match unit {
        "" => format!("{value:.0}"),
        unit if value.abs() < 1.0 => format!("{value:.2} {unit}"),
        unit => format!("{value:.1} {unit}"),
    }
}

/// A broken rule in words.
fn broken_rule(m: &MeasureRow) -> String {
    let (value, beyond) = (amount(m.value, &m.unit), amount(m.beyond, &m.unit));
    // A device with a name of its own has no article.
    let named = m.about.starts_with("inverter ");
    let about = if named {
        m.about.clone()
    } else {
        format!("the {}", m.about)
    };
    match m.rule {
        Rule::ColdVoltageOnDrive | Rule::ColdVoltageOnInverter => {
            format!("{value} on the coldest morning, {beyond} above what {about} bears")
        }
        Rule::ColdVoltageOfModule => {
            format!("{value} on the coldest morning, {beyond} above what the modules bear")
        }
        Rule::MpptFloor => format!("{value} at a hot noon, {beyond} below the MPPT window of {about}"),
        Rule::DriveStart => format!("{value} open at a hot noon, {beyond} too little to start {about}"),
        Rule::PumpSpeed if m.value <= 0.0 => format!("{about} stands at a hot noon"),
        Rule::PumpSpeed => format!("{value} on {about} at a hot noon, {beyond} too slow"),
        Rule::Inputs => format!("{value} MPPT inputs, {beyond} more than {about} has"),
        Rule::StringsOnInput => format!("{value} strings on an input, {beyond} more than fit on {about}"),
        Rule::ShortCircuitOnInput | Rule::ShortCircuitOnDrive => {
            format!("1.25 times the short-circuit current is {value}, {beyond} above what {about} bears")
        }
        Rule::PowerOnInverter | Rule::PowerOnDrive => {
            format!("{value} of modules, {beyond} more than may be connected to {about}")
        }
        _ => format!("no fuse size fits the strings on {about}: {value} flow back through one"),
    }
}

/// The lengths that suit one by one; runs of others that break the same rules as one line, with the nearest of them.
fn lengths(sub: &SubArrayRow, width: usize) -> String {
    let broken = |length: &LengthRow| -> Vec<(Rule, String)> {
        let forbidding = length.measures.iter().filter(|m| m.weight == Some(Weight::Forbids));
        forbidding.map(|m| (m.rule, m.about.clone())).collect()
    };
    let mut out = String::from("\nModules in series\n");
    for run in sub.lengths.chunk_by(|a, b| broken(a) == broken(b)) {
        let (Some(first), Some(last)) = (run.first(), run.last()) else {
            continue;
        };
        let which = match (first.modules_per_string, last.modules_per_string) {
            (a, b) if a == b => a.to_string(),
            (a, b) => format!("{a} to {b}"),
        };
        let text = if first.suits {
            let counts: Vec<String> = run.iter().map(|l| l.layouts.to_string()).collect();
            format!(
                "  {which:<9} no rule of length forbids them; layouts that suit: {}",
                counts.join(", ")
            )
        } else {
            format!("  {which:<9} {}", nearest(run))
        };
        out += &(page::hang(&text, width, 12) + "\n");
    }
    out
}

/// What the nearest of some lengths breaks, and by how much.
fn nearest(run: &[LengthRow]) -> String {
    let forbidding = |l: &LengthRow| -> Vec<MeasureRow> {
        l.measures.iter().filter(|m| m.weight == Some(Weight::Forbids)).cloned().collect()
    };
    let beyond = |l: &LengthRow| -> f64 { forbidding(l).iter().map(|m| m.beyond).sum() };
    let Some(near) = run.iter().min_by(|a, b| beyond(a).total_cmp(&beyond(b))) else {
        return String::new();
    };
    let broken = forbidding(near);
    let by_length = broken.iter().any(|m| m.rule != Rule::PumpSpeed);
    // A pump that stands for want of volts says nothing more.
    let told = broken.iter().filter(|m| m.rule != Rule::PumpSpeed || !by_length);
    let words: Vec<String> = told.take(RULES_TOLD).map(broken_rule).collect();
    let which = if run.len() > 1 {
        format!("the nearest, {}: ", near.modules_per_string)
    } else {
        String::new()
    };
    which + &words.join("; ")
}

fn layouts(found: &StringsAnswer, sub: &SubArrayRow, told: usize) -> String {
    let has = Has {
        inverter: !sub.inverters.is_empty(),
        drive: !sub.drives.is_empty(),
    };
    let mut header = vec!["Layout".to_owned(), "in series".to_owned()];
    if has.inverter {
        header.push("on an\ninput".to_owned());
    }
    header.extend(
        sub.drives
            .iter()
            .map(|drive| format!("on\n{}", if drive == "pump" { "drive" } else { drive })),
    );
    if sub.layouts.iter().any(|layout| layout.left_over_modules > 0) {
        header.push("left\nover".to_owned());
    }
    if has.both() {
        header.extend(["idle\nkWp", "poles"].map(str::to_owned));
    }
    if has.drive {
        header.push("hot noon\nHz".to_owned());
    }
    if has.inverter {
        header.push("DC/AC".to_owned());
    }
    header.extend(["water\nm³", "sun used\nkWh"].map(str::to_owned));
    if has.drive {
        header.push("drive\nm³".to_owned());
    }
    if has.inverter {
        header.push("inverter\nkWh".to_owned());
    }
    let mut table = table::new(&header);
    for layout in sub.layouts.iter().take(told) {
        table.add_row(layout_cells(layout, has, sub));
    }
    let year = found.arrangement.map_or("no arrangement", daylift_plant::Arrangement::id);
    format!(
        "\nLayouts that suit: {}, the best year of {year} first (steps of {} min)\n{}",
        sub.layouts.len(),
        found.step_s / 60,
        table::text(&table)
    )
}

/// What a sub-array has.
#[derive(Clone, Copy)]
struct Has {
    inverter: bool,
    drive: bool,
}

impl Has {
    fn both(self) -> bool {
        self.inverter && self.drive
    }
}

fn layout_cells(layout: &LayoutRow, has: Has, sub: &SubArrayRow) -> Vec<String> {
    let warns = if layout.warns.is_empty() { "" } else { " !" };
    let present = if layout.is_present { " *" } else { "" };
    let mut cells = vec![
        format!("{}{warns}{present}", layout.rank),
        layout.modules_per_string.to_string(),
    ];
    if has.inverter {
        cells.push(layout.strings_per_input.map_or_else(|| "–".to_owned(), |s| s.to_string()));
    }
    for name in &sub.drives {
        let to_drives = layout.shares.iter().flat_map(|shares| &shares.to_drives);
        let of_each: Vec<String> = to_drives.filter(|to| to.drive == *name).map(|to| to.strings.to_string()).collect();
        cells.push(of_each.join(" + "));
    }
    if sub.layouts.iter().any(|layout| layout.left_over_modules > 0) {
        cells.push(layout.left_over_modules.to_string());
    }
    if has.both() {
        cells.extend([format!("{:.1}", layout.idle_kwp), layout.poles.to_string()]);
    }
    if has.drive {
        cells.push(side_by_side(&layout.drives, |drive| format!("{:.1}", drive.noon_hz)));
    }
    if has.inverter {
        cells.push(side_by_side(&layout.inverters, |i| format!("{:.2}", i.dc_over_ac)));
    }
    let year = layout.year.as_ref();
    cells.push(maybe(year.map(|y| y.delivered_m3), 0));
    cells.push(maybe(year.map(|y| y.array_used_kwh), 0));
    if has.drive {
        cells.push(side_by_side(&layout.drives, |drive| maybe(drive.outage_water_m3, 0)));
    }
    if has.inverter {
        cells.push(side_by_side(&layout.inverters, |i| maybe(i.feed_kwh, 0)));
    }
    cells
}

fn side_by_side<T>(of: &[T], text: impl Fn(&T) -> String) -> String {
    of.iter().map(text).collect::<Vec<_>>().join(", ")
}
