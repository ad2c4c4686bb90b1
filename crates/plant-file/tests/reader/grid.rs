//! Outages from several sources: how they are read, and what is reported about wrong ones.

use std::fs;

use daylift_testing::{Plant, folder};

use crate::support::{outages, read, refused, refused_once, warned, warns};

/// The example, with other lines in place of its outage list.
fn grid(lines: &str) -> Plant {
    Plant::new().replace("plant.toml", "outages = \"outages.csv\"\n", "").replace(
        "plant.toml",
        "[[load]]",
        &format!("{lines}\n[[load]]"),
    )
}

const TIMETABLE: &str = "[grid.timetable]\nfile = \"timetable.csv\"\narea_block = \"7\"\n";

const RANDOM: &str = "[grid.random]\nseed = 7\nmean_outage_h = 2\n";

const VOLTAGE: &str = "[grid.voltage]\nfile = \"voltage.csv\"\n";

const SLOTS: &str = "stage,block,day,start,end\n1,7,1,06:00,08:00\n2,7,2,22:00,00:30\n1,8,1,08:00,10:00\n";

#[test]
fn each_source_is_reported_and_all_are_merged() {
    // Worked by hand, no published source. Stage 1 is 12 × 2 h. The voltage is outside its window from 07:00 to 10:00 on
    // 1 January; one of these hours is also in the timetable. The list adds one more hour.
    let plant = grid(&format!("{TIMETABLE}stage = 1\n{VOLTAGE}"))
        .replace(
            "plant.toml",
            "export = \"paid\"",
            "outages = \"outages.csv\"\nexport = \"paid\"",
        )
        .write("outages.csv", "start,end\n2025-05-05T10:00,2025-05-05T11:00\n")
        .write("timetable.csv", SLOTS)
        .write(
            "voltage.csv",
            "time,voltage_pu\n2025-01-01 00:00,1.0\n2025-01-01 07:00,0.8\n2025-01-01 10:00,0.99\n",
        );
    let sources = outages(&plant);
    let names = [
        "list outages.csv",
        "timetable timetable.csv, block 7, stage 1",
        "voltage voltage.csv, outside 0.85 to 1.1 of nominal",
    ];
    let own = [(1, 1.0), (12, 24.0), (1, 3.0)];
    let wanted: Vec<_> = names
        .iter()
        .zip(own)
        .map(|(name, (count, hours))| ((*name).to_owned(), count, hours))
        .collect();
    assert_eq!(sources, wanted);
    let whole = read(&plant).plant.grid.outages;
    assert_eq!(whole.intervals().len(), 13);
    assert!((whole.total_s() - 27.0 * 3600.0).abs() < 1e-6);
    warns(
        plant,
        &[
            "1.0 h with outages from more than one source were counted once",
            "is used for 364.6 days",
        ],
    );
}

#[test]
fn active_stages_and_random_outages_are_reported() {
    let stages = grid(&format!("{TIMETABLE}stages = \"stages.csv\"\n"))
        .write("timetable.csv", SLOTS)
        .write(
            "stages.csv",
            "start,end,stage\n2025-03-01T00:00,2025-05-01T00:00,2\n2024-03-01T00:00,2024-04-01T00:00,1\n",
        );
    let name = "timetable timetable.csv, block 7, stages of stages.csv".to_owned();
    assert_eq!(outages(&stages), [(name, 4, 9.0)]);
    warns(stages, &["1 of 2 active stages are outside the simulation year"]);
    let random = || grid(&format!("{RANDOM}share_pct = 33\n"));
    let [(name, ..)] = &outages(&random())[..] else {
        panic!("one source");
    };
    assert!(name.contains("random, seed 7, expected 33.0% of the hours"), "{name}");
    assert_eq!(read(&random()).plant.grid.outages, read(&random()).plant.grid.outages);
    warns(
        grid(&format!("{RANDOM}share_pct = 0.33\n")),
        &["share_pct = 0.33 is less than one per cent of the hours; write 33 for 33%"],
    );
}

#[test]
fn timetables_that_make_no_sense() {
    let slots = |rows: &str| {
        grid(&format!("{TIMETABLE}stage = 2\n")).write("timetable.csv", format!("stage,block,day,start,end\n{rows}"))
    };
    refused(
        slots("1,9,1,06:00,08:00\n"),
        &["grid.timetable.area_block", "\"7\"", "one of \"9\""],
    );
    refused(
        slots("1,7,32,06:00,08:00\n"),
        &["day \"32\"", "1 to 31", "timetable.csv:2"],
    );
    refused(slots("1,7,1,6 am,08:00\n"), &["\"6 am\"", "a time from 00:00 to 24:00"]);
    refused(slots("1,7,1,06:00,24:30\n"), &["\"24:30\""]);
    refused(slots("1,7,1,06:00\n"), &["4 values", "stage,block,day,start,end"]);
    refused(
        slots("half,7,1,06:00,08:00\n"),
        &["stage \"half\"", "write a whole number"],
    );
    let both = grid(&format!("{TIMETABLE}stage = 2\nstages = \"stages.csv\"\n")).write("timetable.csv", SLOTS);
    refused(both, &["a fixed `stage` and a list of `stages`"]);
    let neither = grid(TIMETABLE).write("timetable.csv", SLOTS);
    refused(
        neither,
        &["grid.timetable.stage: active stage of the timetable: neither `stage` nor `stages`"],
    );
    let number = grid("[grid.timetable]\nfile = \"timetable.csv\"\narea_block = 7\nstage = 1\n");
    refused(
        number.write("timetable.csv", SLOTS),
        &["7 (integer)", "write it in quotes"],
    );
}

#[test]
fn random_outages_that_make_no_sense() {
    refused(grid(RANDOM), &["neither `share_pct` nor `mean_up_h`"]);
    refused(
        grid(&format!("{RANDOM}share_pct = 20\nmean_up_h = 8\n")),
        &["remove one: the other follows from it"],
    );
    refused(
        grid(&format!("{RANDOM}share_pct = 20\nhour_weight = [1, 2]\n")),
        &["2 numbers", "a list of 24 numbers"],
    );
    let evening = "[0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0]";
    refused(
        grid(&format!("{RANDOM}share_pct = 60\nhour_weight = {evening}\n")),
        &["60.00% of the time", "with these weights", "raise `mean_outage_h`"],
    );
    refused(
        grid(&format!(
            "{RANDOM}share_pct = 60\nmonth_weight = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]\n"
        )),
        &["no weight above 0"],
    );
    refused(
        grid("[grid.random]\nseed = -1\nmean_outage_h = 2\nshare_pct = 120\n"),
        &["random seed of the outages: -1", "120%"],
    );
}

#[test]
fn voltages_that_make_no_sense() {
    let readings = |content: &str| grid(VOLTAGE).write("voltage.csv", content);
    refused(
        readings("time,voltage_pu\n2025-01-01 00:00,231\n"),
        &["voltage \"231\"", "is it in the unit of the column's name?"],
    );
    refused(
        readings("time,voltage_v\n2025-01-01 00:00,231\n"),
        &["add `nominal_v` to [grid.voltage]"],
    );
    refused(
        readings("time,voltage_pu\n2025-01-02 00:00,1\n2025-01-01 00:00,1\n"),
        &["not after the row before", "voltage.csv:3"],
    );
    refused(
        readings("time,voltage_pu\n2023-01-02 00:00,1\n2026-01-01 00:00,1\n").replace(
            "plant.toml",
            "file = \"voltage.csv\"",
            "file = \"voltage.csv\"\nleast_pu = 1.2",
        ),
        &["minimum usable voltage: 1.2"],
    );
    refused(
        readings("time,voltage_pu\n2031-01-02 00:00,1\n"),
        &["no reading in the simulation year; the first is of 2031-01-02"],
    );
}

#[test]
fn ready_made_lists_have_the_stated_shares_of_outages() {
    for share in [15, 33, 50, 70] {
        let list = fs::read_to_string(folder("data/outages").join(format!("outages-{share}.csv"))).unwrap();
        let plant = Plant::new().write("outages.csv", list);
        let plain = read(&plant);
        let found = plain.plant.grid.outages.total_s() / plain.plant.site.axis.length_s() * 100.0;
        assert!((found - f64::from(share)).abs() < 0.05, "{share}: {found}");
        assert!(!warned(&plant).contains("overlapped"), "{}", warned(&plant));
    }
}

#[test]
fn a_source_without_outages_is_reported() {
    assert!(outages(&grid("")).is_empty());
    assert!(read(&grid("")).plant.grid.outages.total_s().abs() < 1e-9);
    warns(grid(""), &["[grid] defines no outages: the grid counts as on all year"]);
    let timetable = |more: &str| grid(&format!("{TIMETABLE}{more}\n")).write("timetable.csv", SLOTS);
    warns(
        timetable("stages = \"stages.csv\"").write("stages.csv", "start,end,stage\n"),
        &["stages of stages.csv: no outage in the year"],
    );
    warns(
        timetable("stage = 9"),
        &["stage 9 is active, but the timetable's slots for block 7 only go up to stage 2"],
    );
    refused_once(timetable(""), &["neither `stage` nor `stages`"]);
    refused_once(
        grid(&format!("{TIMETABLE}stage = 1\n")).write("timetable.csv", "stage,block,day,start,end\n"),
        &["outage timetable: no rows"],
    );
    refused_once(
        grid(VOLTAGE).write("voltage.csv", "time,voltage_pu\n"),
        &["voltage readings: no rows"],
    );
    refused_once(
        grid(VOLTAGE).write("voltage.csv", "time,voltage_pu\n2025-01-01T00:00,230\n"),
        &["voltage \"230\""],
    );
}
