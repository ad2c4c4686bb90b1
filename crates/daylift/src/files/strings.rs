//! Strings, layouts and findings as CSV.

use std::io::Write;

use csv::{Result, Writer};
use daylift_present::findings::FindingRow;
use daylift_study::strings::{LayoutRow, MeasureRow, StringsAnswer, SubArrayRow};

fn maybe(value: Option<f64>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

/// A table with a header.
fn table<const N: usize>(
    out: impl Write,
    header: [&str; N],
    rows: impl IntoIterator<Item = [String; N]>,
) -> Result<()> {
    let mut out = Writer::from_writer(out);
    out.write_record(header)?;
    for row in rows {
        out.write_record(row)?;
    }
    Ok(out.flush()?)
}

/// A line for each finding.
pub(super) fn findings(out: impl Write, found: &StringsAnswer) -> Result<()> {
    let header = [
        "weight",
        "id",
        "about",
        "says",
        "value",
        "limit",
        "unit",
        "remedy",
        "rule",
        "unconfirmed",
    ];
    let rows = found.findings.iter().map(FindingRow::new).map(|f| {
        let unconfirmed = f.unconfirmed.join(" ");
        [
            f.weight.id().to_owned(),
            f.id.id().to_owned(),
            f.about,
            f.says,
            maybe(f.value),
            maybe(f.limit),
            f.unit,
            f.remedy,
            f.rule,
            unconfirmed,
        ]
    });
    table(out, header, rows)
}

/// The cells of a rule.
const MEASURE: [&str; 7] = ["rule", "about", "value", "limit", "unit", "beyond", "weight"];

fn measure_cells(m: &MeasureRow) -> [String; MEASURE.len()] {
    [
        m.rule.id().to_owned(),
        m.about.clone(),
        m.value.to_string(),
        maybe(m.limit),
        m.unit.clone(),
        m.beyond.to_string(),
        m.weight.map_or_else(String::new, |weight| weight.id().to_owned()),
    ]
}

/// A line for each rule that the plant's own strings were checked against.
pub(super) fn measures(out: impl Write, found: &StringsAnswer) -> Result<()> {
    table(out, MEASURE, found.measures.iter().map(measure_cells))
}

/// A line for each rule of each length of string.
pub(super) fn lengths(out: impl Write, found: &StringsAnswer) -> Result<()> {
    let [rule, about, value, limit, unit, beyond, weight] = MEASURE;
    let header = [
        "sub_array",
        "modules_per_string",
        "layouts",
        rule,
        about,
        value,
        limit,
        unit,
        beyond,
        weight,
    ];
    let lengths = found
        .sub_arrays
        .iter()
        .flat_map(|sub| sub.lengths.iter().map(move |length| (sub, length)));
    let rows = lengths.flat_map(|(sub, length)| {
        length.measures.iter().map(move |m| {
            let [rule, about, value, limit, unit, beyond, weight] = measure_cells(m);
            let (series, layouts) = (length.modules_per_string.to_string(), length.layouts.to_string());
            [
                sub.name.clone(),
                series,
                layouts,
                rule,
                about,
                value,
                limit,
                unit,
                beyond,
                weight,
            ]
        })
    });
    table(out, header, rows)
}

/// The cells of a layout.
const LAYOUT: [&str; 25] = [
    "sub_array",
    "rank",
    "is_present",
    "modules_per_string",
    "strings_per_input",
    "shares",
    "left_over_modules",
    "warns",
    "idle_kwp",
    "poles",
    "noon_hz",
    "noon_limit",
    "drive_kwp",
    "array_over_pump",
    "drive_string_fuse_a",
    "inverter_kwp",
    "dc_over_ac",
    "inputs",
    "inverter_string_fuse_a",
    "outage_water_m3",
    "feed_kwh",
    "delivered_m3",
    "delivered_in_outages_m3",
    "array_used_kwh",
    "array_use",
];

/// A line for each suitable layout.
pub(super) fn layouts(out: impl Write, found: &StringsAnswer) -> Result<()> {
    let of_sub = |sub: &'_ SubArrayRow| -> Vec<_> { sub.layouts.iter().map(|l| layout_cells(&sub.name, l)).collect() };
    table(out, LAYOUT, found.sub_arrays.iter().flat_map(of_sub))
}

/// The values of several drives or inverters share one cell.
fn layout_cells(sub_array: &str, layout: &LayoutRow) -> [String; LAYOUT.len()] {
    fn side_by_side<T>(of: &[T], value: impl Fn(&T) -> String) -> String {
        of.iter().map(value).collect::<Vec<_>>().join(" ")
    }
    let (drives, inverters) = (&layout.drives, &layout.inverters);
    let shares = layout.shares.iter().map(|s| {
        let to = s.to_drives.iter().map(|to| format!("{}:{}", to.drive, to.strings));
        let parts: Vec<String> = to.chain([format!("idle:{}", s.idle)]).collect();
        format!("{}>{}", s.plane, parts.join(";"))
    });
    let year = layout.year.as_ref();
    [
        sub_array.to_owned(),
        layout.rank.to_string(),
        u8::from(layout.is_present).to_string(),
        layout.modules_per_string.to_string(),
        layout.strings_per_input.map_or_else(String::new, |s| s.to_string()),
        shares.collect::<Vec<_>>().join("|"),
        layout.left_over_modules.to_string(),
        layout.warns.iter().map(|m| m.rule.id()).collect::<Vec<_>>().join(" "),
        layout.idle_kwp.to_string(),
        layout.poles.to_string(),
        side_by_side(drives, |d| d.noon_hz.to_string()),
        side_by_side(drives, |d| d.noon_limit.id().to_owned()),
        side_by_side(drives, |d| d.kwp.to_string()),
        side_by_side(drives, |d| d.array_over_pump.to_string()),
        side_by_side(drives, |d| maybe(d.string_fuse_a)),
        side_by_side(inverters, |i| i.kwp.to_string()),
        side_by_side(inverters, |i| i.dc_over_ac.to_string()),
        side_by_side(inverters, |i| i.inputs.to_string()),
        side_by_side(inverters, |i| maybe(i.string_fuse_a)),
        side_by_side(drives, |d| maybe(d.outage_water_m3)),
        side_by_side(inverters, |i| maybe(i.feed_kwh)),
        maybe(year.map(|y| y.delivered_m3)),
        maybe(year.map(|y| y.delivered_in_outages_m3)),
        maybe(year.map(|y| y.array_used_kwh)),
        maybe(year.and_then(|y| y.array_use)),
    ]
}

/// A line for each sun and cell temperature of the plant's own strings.
pub(super) fn voltages(out: impl Write, found: &StringsAnswer) -> Result<()> {
    let header = [
        "sub_array",
        "inverter",
        "drive",
        "modules_per_string",
        "strings_on_drive",
        "w_m2",
        "cell_c",
        "open_circuit_v",
        "max_power_v",
        "on_inverter_v",
        "on_drive_v",
        "on_drive_hz",
    ];
    let devices = found
        .sub_arrays
        .iter()
        .flat_map(|sub| sub.devices.iter().map(move |device| (sub, device)));
    let rows = devices.flat_map(|(sub, device)| {
        device.points.iter().map(move |p| {
            [
                sub.name.clone(),
                device.inverter.clone().unwrap_or_default(),
                device.drive.clone().unwrap_or_default(),
                device.modules_per_string.to_string(),
                device.strings_on_drive.to_string(),
                p.w_m2.to_string(),
                p.cell_c.to_string(),
                p.open_circuit_v.to_string(),
                p.max_power_v.to_string(),
                maybe(p.on_inverter_v),
                maybe(p.on_drive_v),
                maybe(p.on_drive_hz),
            ]
        })
    });
    table(out, header, rows)
}
