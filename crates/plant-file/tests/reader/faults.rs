//! Wrong inputs: what is changed in a copy of the worked example, and what the faults or warnings must say.

use daylift_testing::Plant;

use crate::support::{outages, refused, refused_once, warned, warns};

fn spoilt(from: &str, to: &str) -> Plant {
    Plant::new().replace("plant.toml", from, to)
}

#[test]
fn numbers_outside_their_range() {
    refused(
        spoilt("latitude_deg = -15.6", "latitude_deg = -95.6"),
        &["site.latitude_deg: latitude: -95.6°", "allowed: -66 to 66°"],
    );
    refused(
        spoilt("altitude_m = 1150", "altitude_m = nan"),
        &["altitude above sea level: NaN m", "give `altitude_m` as a number"],
    );
    refused(
        spoilt("strings = 3", "strings = 2.5"),
        &["strings in parallel: 2.5", "a whole number"],
    );
    refused(
        spoilt("tilt_deg = 18", "tilt_deg = -18"),
        &["tilt of the modules: -18°", "0 is horizontal, 90 is vertical"],
    );
    refused(
        spoilt("capacity_m3 = 165", "capacity_m3 = 0"),
        &["volume of the tank when full: 0 m³"],
    );
    refused(spoilt("discount_pct = 10", "discount_pct = 1e400"), &["discount"]);
}

#[test]
fn wrong_types() {
    refused(
        spoilt("altitude_m = 1150", "altitude_m = \"1150 m\""),
        &[
            "\"1150 m\" (string)",
            "write a plain number; the unit (m) is in the key",
        ],
    );
    refused(spoilt("restart_pct = 90", "restart_pct = [90]"), &["[90] (array)"]);
    refused(
        spoilt("mains_hours = [6, 18]", "mains_hours = 6"),
        &["6 (integer)", "two hours such as [22, 6]", "in square brackets"],
    );
    refused(
        spoilt("mains_hours = [6, 18]", "mains_hours = [6, 6]"),
        &["two different hours"],
    );
}

#[test]
fn unknown_and_missing_keys() {
    refused(
        spoilt("altitude_m", "altidude_m"),
        &["unknown key: `altidude_m`", "did you mean `altitude_m`?"],
    );
    refused(
        spoilt("[tank]", "[tonk]"),
        &["unknown key: `tonk`", "did you mean `tank`?", "no [tank]"],
    );
    refused(
        spoilt("reference = \"grid-only\"", "reference = \"grid_only\""),
        &["did you mean \"grid-only\"?"],
    );
    refused(
        spoilt("format = 1", "format = 2"),
        &["format of the file: 2", "this version reads format 1"],
    );
}

#[test]
fn all_faults_are_reported_together() {
    let plant = spoilt("latitude_deg = -15.6", "latitude_deg = 99")
        .replace("plant.toml", "strings = 3", "strings = 0")
        .replace("motor.toml", "rated_voltage_v", "rated_voltage_kv");
    refused(
        plant,
        &[
            "99°",
            "strings in parallel: 0",
            "unknown key: `rated_voltage_kv`",
            "motor.toml:",
            "plant.toml:",
        ],
    );
}

#[test]
fn broken_toml() {
    refused(spoilt("[site]", "[site"), &["TOML", "plant.toml:"]);
}

#[test]
fn a_decimal_comma_is_named_with_the_number_to_write() {
    refused_once(
        spoilt("soiling_pct = 4.0", "soiling_pct = 5,5"),
        &["number: 5,5, with a decimal comma", "write 5.5, with a point"],
    );
    refused_once(
        spoilt("discount_pct = 10", "discount_pct = -0,75"),
        &["write -0.75, with a point"],
    );
    refused_once(
        spoilt("to_h = 18, per_kwh = 0.09 }", "to_h = 18, per_kwh = 0,09 }"),
        &["write 0.09, with a point"],
    );
    // A comma in quotes, in a comment or in a list is not the fault.
    refused_once(
        spoilt("name = \"Mulenga Ridge\"", "name = \"a = 5,5 # 1,2\" 3 # = 5,5"),
        &["TOML: unexpected"],
    );
}

#[test]
fn typographic_quotes_are_named() {
    for (open, close) in [('“', '”'), ('„', '“'), ('‘', '’')] {
        refused_once(
            spoilt("name = \"Mulenga Ridge\"", &format!("name = {open}Ridge{close}")),
            &[
                &format!("typographic quote {open}"),
                "use straight quotes",
                "plant.toml:8:",
            ],
        );
    }
}

#[test]
fn a_section_given_twice_names_the_first() {
    // [outlet] is renamed to [well], which is in line 51 of the example.
    let text = std::fs::read_to_string(Plant::new().path().join("plant.toml")).unwrap();
    let first = text.lines().position(|line| line == "[well]").unwrap() + 1;
    refused_once(
        spoilt("[outlet]", "[well]"),
        &[&format!("duplicate section [well]; the first is in line {first}; ")],
    );
    refused_once(
        spoilt("azimuth_deg = 0", "tilt_deg = 0"),
        &["duplicate key `tilt_deg`", "remove one of the two lines"],
    );
}

#[test]
fn a_fault_of_syntax_shows_some_text() {
    let plant = spoilt("export = \"paid\"", "export = \"paid");
    let faults = daylift_plant_file::read_plant(plant.path()).err().unwrap();
    let place = faults[0].place.as_ref().unwrap();
    assert_eq!(&place.source.text[place.span.clone()], "export = \"paid");
}

#[test]
fn a_pump_that_cannot_reach_the_head_is_reported_with_what_it_lacks() {
    refused(spoilt("lift_m = 28", "lift_m = 120"), &["shut-off head", "m short"]);
}

#[test]
fn prices_that_leave_hours_or_months_out() {
    let plant = spoilt("{ from_h = 22, to_h = 24, per_kwh = 0.06 }, # night\n", "");
    refused(
        plant,
        &[
            "no price for 22:00–24:00",
            "every hour of the day with exactly one price",
        ],
    );
    refused(
        spoilt("months = [1, 2, 3, 4, 11, 12]", "months = [1, 2, 3, 4, 11]"),
        &["no season for month 12"],
    );
    refused(
        spoilt("months = [1, 2, 3, 4, 11, 12]", "months = [1, 2, 3, 4, 5, 11, 12]"),
        &["more than one season for month 5"],
    );
}

#[test]
fn files_that_cannot_be_used() {
    refused(
        spoilt("file = \"weather.csv\"", "file = \"wether.csv\""),
        &["wether.csv: no such file"],
    );
    refused(
        spoilt("file = \"weather.csv\"", "file = \"/etc/hostname\""),
        &["a path relative to the file that names it"],
    );
    refused(
        Plant::new().write("weather.csv", ""),
        &["weather", "weather file: an empty file"],
    );
    refused(
        Plant::new().write("weather.csv", b"\xff\xfe\x00"),
        &["is not UTF-8 text (line 1)"],
    );
    refused(
        Plant::new().write("cold-room.csv", "a,b\n1,2\n"),
        &["header line month,h00,h01,…,h23"],
    );
}

#[test]
fn weather_that_is_not_a_year_in_order() {
    let cut = |text: String| text.lines().take(4000).collect::<Vec<_>>().join("\n");
    refused(
        Plant::new().edit("weather.csv", cut),
        &["3998 rows", "it seems to be incomplete"],
    );
    let swapped = |text: String| {
        let mut lines: Vec<&str> = text.lines().collect();
        lines.swap(100, 101);
        lines.join("\n")
    };
    refused(
        Plant::new().edit("weather.csv", swapped),
        &["put the hours in order", "weather.csv:101"],
    );
    refused(
        Plant::new().replace("weather.csv", "GHI (W/m^2)", "GHI (kW/m^2)"),
        &["no column \"GHI (W/m^2)\"", "found \"GHI (kW/m^2)\""],
    );
    let missing = |text: String| text.replacen(",0,0,0,0,0,19.1", ",0,0,nan,0,0,19.1", 1);
    refused(
        Plant::new().edit("weather.csv", missing),
        &["GHI (W/m^2) = \"nan\"", "a number from 0 to 1500"],
    );
}

#[test]
fn weather_that_is_too_dark_is_taken_for_a_wrong_unit() {
    let dim = |text: String| {
        let mut lines = text.lines();
        let mut out: Vec<String> = lines.by_ref().take(2).map(str::to_owned).collect();
        for line in lines {
            let cells: Vec<String> = line
                .split(',')
                .enumerate()
                .map(|(i, cell)| match i {
                    4..=6 => (cell.parse::<f64>().unwrap() / 1000.0).to_string(),
                    _ => cell.to_owned(),
                })
                .collect();
            out.push(cells.join(","));
        }
        out.join("\n")
    };
    refused(
        Plant::new().edit("weather.csv", dim),
        &["GHI never exceeds", "check the unit"],
    );
}

#[test]
fn outages_that_make_no_sense() {
    refused(
        Plant::new().write("outages.csv", "start,end\n2025-01-02T10:00,2025-01-02T09:00\n"),
        &["an end after the start", "outages.csv:2"],
    );
    refused(
        Plant::new().write("outages.csv", "start,end\nyesterday,today\n"),
        &["civil dates and times that exist, such as 2025-01-03T18:30"],
    );
    refused(Plant::new().write("outages.csv", "from,to\n"), &["columns start, end"]);
}

#[test]
fn overlapping_outages_are_merged_and_reported() {
    let plant = Plant::new().write(
        "outages.csv",
        "start,end\n2025-01-02T10:00,2025-01-02T12:00\n2025-01-02T11:00,2025-01-02T13:30\n",
    );
    // From 10:00 to 13:30.
    assert_eq!(outages(&plant), [("list outages.csv".to_owned(), 1, 3.5)]);
    warns(plant, &["1 of 2 outages overlapped"]);
}

#[test]
fn times_with_an_offset_are_refused_not_ignored() {
    for time in [
        "2025-06-05T10:00+02:00",
        "2025-06-05T10:00Z",
        "2025-06-05T10:00[Asia/Kolkata]",
        "2025-02-29T10:00",
    ] {
        let list = format!("start,end\n2025-01-05T09:00,{time}\n");
        refused(
            Plant::new().write("outages.csv", list),
            &["write local time without a zone or an offset"],
        );
    }
}

#[test]
fn outages_are_checked_along_with_other_faults() {
    let plant = spoilt("altitude_m = 1150", "altitude_m = 99999").write("outages.csv", "start,end\nx,y\n");
    refused(plant, &["altitude above sea level", "outages.csv:2"]);
}

#[test]
fn parts_that_make_no_sense_together() {
    let tank = spoilt("capacity_m3 = 165", "capacity_m3 = 0.5");
    refused(tank, &["the pumps fill the 0.050 m³", "at least 60 s of pumping"]);
    let exchanged = spoilt("file = \"drive.toml\"", "file = \"inverter.toml\"");
    refused(
        exchanged,
        &[
            "this file describes: inverter",
            "kind = \"drive\" here",
            "two files may be swapped",
        ],
    );
    let siphon = spoilt("lift_m = 28", "lift_m = -100");
    refused(siphon, &["outlet.lift_m", "below the standing water"]);
    let string = spoilt("modules_per_string = 15", "modules_per_string = 60");
    refused(string, &["array.modules_per_string", "1500 V"]);
}

#[test]
fn weather_whose_clock_is_wrong() {
    let shifted = |text: String| text.replacen("--,2.0,", "--,-10.0,", 1);
    refused(
        Plant::new().edit("weather.csv", shifted),
        &["falls while the sun is below the horizon", "check the time zone"],
    );
}

#[test]
fn values_that_would_be_ignored_are_refused() {
    refused(
        spoilt(
            "arrangements = [\"solar-drive\", \"solar-drive-with-grid\", \"grid-tied\", \"dual-mode\", \"battery-hybrid\"]",
            "arrangements = []",
        ),
        &["an empty list", "list them, or remove the entry"],
    );
    refused(
        spoilt("mains_hours = [6, 18]", "mains_hours = [24, 6]"),
        &["two different hours"],
    );
    refused(
        spoilt("name = \"Mulenga Ridge\"", "name = \"Mulenga\\u001b[31m\""),
        &["control characters"],
    );
    refused(
        spoilt("export = \"paid\"", "export = \"unpaid\""),
        &["a credit although export is not \"paid\""],
    );
}

#[test]
fn efficiencies_given_as_fractions() {
    let plant = Plant::new().edit("motor.toml", |text| {
        text.lines()
            .map(|line| {
                if line.starts_with("efficiency_pct") {
                    "efficiency_pct = [0.69, 0.78, 0.82, 0.83]"
                } else {
                    line
                }
            })
            .collect::<Vec<_>>()
            .join("\n")
    });
    refused_once(plant, &["motor.efficiency_pct", "did you give fractions?"]);
}

#[test]
fn an_array_that_faces_away_from_the_equator_is_reported() {
    warns(
        spoilt("azimuth_deg = 0", "azimuth_deg = 180"),
        &["away from the equator"],
    );
}

/// Strings are judged by `daylift_electrics` alone.
#[test]
fn reading_gives_no_warnings_about_strings() {
    for (from, to) in [
        ("modules_per_string = 15", "modules_per_string = 6"),
        ("modules_per_string = 15", "modules_per_string = 30"),
        ("strings = 3", "strings = 9"),
    ] {
        assert_eq!(warned(&spoilt(from, to)), "", "{to}");
    }
}

#[test]
fn a_key_of_a_later_version_is_not_calculated_yet() {
    for (section, key, meanwhile) in [
        ("[tariff]", "demand_charge_per_kva", "`fixed_per_month`"),
        ("[well]", "step_test", "`aquifer_loss_m_per_m3_h`"),
    ] {
        let plant = spoilt(section, &format!("{section}\n{key} = 8"));
        let given = format!("`{key}`, which Daylift does not calculate yet");
        refused_once(plant, &[&given, "comment it out with #; until then", meanwhile]);
    }
    // In another section it is an ordinary unknown key.
    refused_once(spoilt("[tank]", "[tank]\nstep_test = 8"), &["unknown key: `step_test`"]);
}

#[test]
fn impossible_marks_and_dates_are_refused_with_a_remedy() {
    let marked = |file: &str, entry: &str| {
        let entry = format!("\n[[origin]]\n{entry}\n");
        Plant::new().edit(file, |text| text + &entry)
    };
    for (file, entry, fragments) in [
        (
            "plant.toml",
            "of = [\"well\"]\nis = \"confirmed\"\ndate = 2025-02-30",
            &[
                "2025-02-30 is not in the calendar",
                "such as 2026-11-30",
                "correct the date",
            ][..],
        ),
        (
            "plant.toml",
            "of = [\"well\"]\nis = \"confirmed\"\ndate = 2025-13-01",
            &["2025-13-01 is not in the calendar"],
        ),
        (
            "plant.toml",
            "of = [\"borehole\"]\nis = \"confirmed\"",
            &[
                "\"borehole\"",
                "name one of the sections weather, site",
                "or a key in one of them",
            ],
        ),
        (
            "plant.toml",
            "of = [\"wel\"]\nis = \"confirmed\"",
            &["did you mean \"well\"?"],
        ),
        (
            "pump.toml",
            "of = [\"*\"]\nis = \"datasheet\"",
            &[
                "[[origin]] in an equipment file",
                "of = [\"pump\"]",
                "move the entry to the end of plant.toml",
            ],
        ),
    ] {
        refused_once(marked(file, entry), fragments);
    }
}

#[test]
fn a_misspelt_word_of_a_list_is_refused_with_the_nearest() {
    let plant = spoilt(
        "beside = [\"grid-tied\", \"dual-mode\"]",
        "beside = [\"grid-tied\", \"dual-mod\"]",
    );
    refused_once(plant, &["\"dual-mod\"", "did you mean \"dual-mode\"?"]);
}
