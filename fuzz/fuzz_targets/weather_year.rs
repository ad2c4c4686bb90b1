//! A year of weather with a few of its rows changed, read with the plant that it belongs to.

#![no_main]

use std::ops::RangeInclusive;
use std::sync::LazyLock;

use daylift_fuzz::{FULL, check_faults, patched, source};
use daylift_plant_file::read_plant;
use libfuzzer_sys::{Corpus, fuzz_target};

/// A plant without a grid, which is quick to read.
const PLANT: &str = include_str!("../../examples/tamarind-post/plant.toml");

const EQUIPMENT: [&str; 7] = ["module", "inverter", "drive", "pump", "motor", "battery", "generator"];

/// Plain CSV rows of an example that has a weather file: time, GHI, DNI, DHI, air, wind.
static ROWS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let table = include_str!("../../examples/mulenga-ridge/weather.csv");
    table.lines().skip(2).filter_map(plain).collect()
});

/// `01/02/2025,24:00,etr,etrn,ghi,…` stamped at the start of its hour.
fn plain(row: &str) -> Option<String> {
    let cells: Vec<&str> = row.split(',').collect();
    let (month, day, hour) = (
        cells[0].get(..2)?,
        cells[0].get(3..5)?,
        cells[1].get(..2)?.parse::<u32>().ok()?,
    );
    Some(format!(
        "2025-{month}-{day}T{:02}:00,{}",
        hour - 1,
        cells[4..9].join(",")
    ))
}

/// The plant with a weather file in place of its twelve means.
fn with_file(keys: &str) -> String {
    let begin = PLANT.find("[weather]\n").expect("a weather section");
    let end = begin + PLANT[begin..].find("\n\n").expect("a section after it");
    [&PLANT[..begin], "[weather]\n", keys, &PLANT[end..]].concat()
}

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(patch) = source(data) else {
        return Corpus::Reject;
    };
    FULL.write("patched.csv", patched(&ROWS, &patch.text).as_bytes());
    let (stamp, model) = [("start", "perez"), ("start", "hay-davies"), ("middle", "perez")][data.len() % 3];
    let weather = format!("file = \"patched.csv\"\nstamp = \"{stamp}\"\nutc_offset_h = 3\nsky_model = \"{model}\"");
    let text = EQUIPMENT.iter().fold(with_file(&weather), |text, kind| {
        text.replace(&format!("\"{kind}.toml\""), &format!("\"tamarind-post-{kind}.toml\""))
    });
    let path = FULL.write("plant.toml", text.as_bytes());
    match read_plant(&path) {
        Ok(read) => {
            let weather = &read.plant.weather;
            check(weather.ghi_w_m2(), 0.0..=1500.0);
            check(weather.dni_w_m2(), 0.0..=1500.0);
            check(weather.dhi_w_m2(), 0.0..=1000.0);
            check(weather.air_c(), -60.0..=60.0);
            check(weather.wind_m_s(), 0.0..=60.0);
        }
        Err(faults) => check_faults(&faults),
    }
    Corpus::Keep
});

fn check(values: &[f64], range: RangeInclusive<f64>) {
    let wrong = values.iter().find(|v| !range.contains(v));
    assert!(
        wrong.is_none() && values.len() % 8760 == 0,
        "{wrong:?} beyond {range:?}"
    );
}
