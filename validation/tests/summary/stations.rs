//! Years made from twelve means, compared with the stations' own measurements.

use daylift_plant::Arrangement;
use daylift_plant_file::{Files, read_plant_from};
use daylift_sky::world;
use daylift_study::run;
use daylift_supply::{Flow, NoRecorder};
use daylift_units::{Month, Step};
use daylift_validation::{Allowed, Report, Row, Worst};

use crate::data::{Outcome, Table, faults_text, root};

const STATION: &str = "the station's own hours";
const GRID: &str = "gsee-climate-data 1.0.0 by stations.py";
/// Years made for each station.
const SEEDS: u32 = 50;
/// Station, its weather file (relative to the plant's folder), time zone.
const STATIONS: [(&str, &str, &str); 3] = [
    ("703165", "../../data/tmy3/703165TY.csv", "America/Anchorage"),
    ("723170", "../../data/tmy3/723170TYA.CSV", "America/New_York"),
    ("12839", "../../data/tmy2/12839.csv", "America/New_York"),
];
/// Tolerance of the plane's year, and that of the station far north: of its 3.8 %, 3.1 come from splitting its own hours by
/// Erbs et al. (`stations.py` computes them with pvlib).
const PLANE: f64 = 0.03;
const PLANE_FAR_NORTH: f64 = 0.04;

/// The grid's numbers, by how much they are too high, and years made from the stations' twelve means.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let table = Table::read("stations.csv")?;
    let mut grid = [
        Worst::new(Allowed::absolute(0.06, "W/m²")),
        Worst::new(Allowed::absolute(0.06, "W/m²")),
    ];
    let mut high = Worst::new(Allowed::absolute(0.06, "%"));
    for ((key, file, zone), (place, shown_pct)) in STATIONS.into_iter().zip(world::OVERESTIMATE_PCT) {
        let station = Station::of(&table, key)?;
        let there = world::sun_at(station.latitude_deg, station.longitude_deg).ok_or("no cell")?;
        for (month, index) in Month::ALL.into_iter().zip(0..) {
            let label = format!("{key}, month {}", month.number());
            grid[0].see(label.as_str(), there.sun.mean_w_m2[month], station.grid_w_m2[index]);
            grid[1].see(
                label.as_str(),
                there.sun.spread_w_m2[month],
                station.grid_spread_w_m2[index],
            );
        }
        high.see(place, shown_pct, station.reads_high_pct);
        years(&station, file, zone, report)?;
    }
    let [mean, spread] = grid;
    report.push(mean.row("world grid, monthly mean at three stations", GRID));
    report.push(spread.row("world grid, day-to-day spread at three stations", GRID));
    report.push(high.row("world grid's excess over the stations, as shown with results", GRID));
    Ok(())
}

struct Station {
    key: String,
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
    ghi_w_m2: Vec<f64>,
    grid_w_m2: Vec<f64>,
    grid_spread_w_m2: Vec<f64>,
    reads_high_pct: f64,
    plane_kwh_m2: f64,
}

impl Station {
    fn of(table: &Table, key: &str) -> Outcome<Self> {
        let keys = table.texts("station")?;
        let column = |name: &str| -> Outcome<Vec<f64>> {
            let values = table.numbers(name)?;
            Ok(values.into_iter().zip(&keys).filter(|(_, k)| **k == key).map(|(v, _)| v).collect())
        };
        let first = |name: &str| -> Outcome<f64> { Ok(*column(name)?.first().ok_or("no such station")?) };
        Ok(Self {
            key: key.to_owned(),
            latitude_deg: first("latitude_deg")?,
            longitude_deg: first("longitude_deg")?,
            altitude_m: first("altitude_m")?,
            ghi_w_m2: column("ghi_w_m2")?,
            grid_w_m2: column("grid_w_m2")?,
            grid_spread_w_m2: column("grid_spread_w_m2")?,
            reads_high_pct: first("grid_reads_high_pct")?,
            plane_kwh_m2: first("plane_kwh_m2")?,
        })
    }
}

/// Sun on the plane \[kWh/m²\] and water of a solar drive \[m³\] in a year.
#[derive(Debug, Clone, Copy)]
struct Year {
    plane_kwh_m2: f64,
    water_m3: f64,
}

fn years(station: &Station, file: &str, zone: &str, report: &mut Report) -> Outcome {
    let of = |weather: &str| year(station, zone, weather);
    let truth = of(&format!("file = \"{file}\""))?;
    let daily: Vec<String> = station.ghi_w_m2.iter().map(|w| format!("{:.6}", w * 0.024)).collect();
    let made = |seed| {
        of(&format!(
            "synthetic = true\nseed = {seed}\ndaily_ghi_kwh_m2 = [{}]",
            daily.join(", ")
        ))
    };
    let made = (1..=SEEDS).map(made).collect::<Outcome<Vec<Year>>>()?;
    let plane = Allowed::relative(0.002);
    let what = format!("plane kWh/m² from hours, station {}", station.key);
    report.push(Row::new(
        &what,
        "pvlib 0.16.1, haydavies",
        truth.plane_kwh_m2,
        station.plane_kwh_m2,
        plane,
    ));
    let is_far_north = station.latitude_deg > 50.0;
    let of_plane = if is_far_north { PLANE_FAR_NORTH } else { PLANE };
    for (what, of, allowed) in [
        ("plane kWh/m²", (|year| year.plane_kwh_m2) as fn(&Year) -> f64, of_plane),
        ("solar-drive m³", |year| year.water_m3, 0.05),
    ] {
        let mut all: Vec<f64> = made.iter().map(of).collect();
        all.sort_by(f64::total_cmp);
        let at = |tenths: usize| all[(all.len() - 1) * tenths / 10];
        let (low, middle, high, truth) = (at(1), at(5), at(9), of(&truth));
        let is_inside = (low..=high).contains(&truth);
        let what = format!(
            "{what}, station {}, from twelve means, median of {SEEDS} years (P10 {low:.0}, P90 {high:.0}: the station's {})",
            station.key,
            if is_inside { "inside" } else { "outside" },
        );
        report.push(Row::new(&what, STATION, middle, truth, Allowed::relative(allowed)));
    }
    Ok(())
}

/// The plant of the whole-year comparison at a station; its tank never gets full, so the pump never stops for that.
fn year(station: &Station, zone: &str, weather: &str) -> Outcome<Year> {
    let path = root().join("plants/greensboro/plant.toml");
    let text = std::fs::read_to_string(&path)?;
    let begin = text.find("[site]").ok_or("no site")?;
    let end = text.find("[array]").ok_or("no array")?;
    let site = format!(
        "[site]\nlatitude_deg = {}\nlongitude_deg = {}\naltitude_m = {}\ntime_zone = \"{zone}\"\nyear = 2025\n\n[weather]\n{weather}\n\n",
        station.latitude_deg, station.longitude_deg, station.altitude_m
    );
    let text = [&text[..begin], &site, &text[end..]].concat();
    let text = text.replace("tilt_deg = 25", "tilt_deg = 30");
    let begin = text.find("daily_m3").ok_or("no demand")?;
    let end = begin + text[begin..].find('\n').ok_or("no line")?;
    let text = [&text[..begin], "daily_m3 = 2000", &text[end..]].concat();
    let read = read_plant_from(&path, Files::default().with_draft(&path, text)?)
        .map_err(|faults| faults_text(faults.into_iter().map(|located| located.fault)))?;
    let run = run(&read.plant, Arrangement::SOLAR_DRIVE, Step::Hour, &[], &mut NoRecorder);
    let run = run.map_err(|row| format!("no row {}", row.id()))?;
    Ok(Year {
        plane_kwh_m2: run.weather.plane_kwh_m2,
        water_m3: run.row.water_m3.of(Flow::Pumped),
    })
}
