//! Prices per unit, and plants without prices.

use daylift_plant::Arrangement;
use daylift_testing::{Plant, example};

use crate::support::{read, refused, refused_once, warned, warns};

/// A line of capital with these keys, after the example's own.
fn line(keys: &str) -> Plant {
    let text = format!("\n[[money.capital]]\nitem = \"a part\"\ncost = 100\n{keys}\n");
    Plant::new().edit("plant.toml", |plant| plant + &text)
}

/// The same, for rows on the grid and on the drive.
fn counted(keys: &str) -> Plant {
    line(&format!("{keys}\narrangements = [\"grid-only\", \"solar-drive\"]"))
}

/// The example without the sections whose headings begin with these texts.
fn without(starts: &[&str]) -> Plant {
    let kept = |text: String| {
        let mut skipping = false;
        let lines = text.lines().filter(|line| {
            if line.starts_with('[') {
                skipping = starts.iter().any(|start| line.trim_start_matches('[').starts_with(start));
            }
            !skipping
        });
        lines.collect::<Vec<_>>().join("\n")
    };
    Plant::new().edit("plant.toml", kept)
}

/// Adds a line of upkeep with a price per unit.
fn priced(plant: Plant, per: &str) -> Plant {
    let text = format!(
        "\n[[money.upkeep]]\nitem = \"a part\"\ncost_per_year = 1\nper = \"{per}\"\narrangements = [\"grid-only\"]\n"
    );
    plant.edit("plant.toml", |plant| plant + &text)
}

/// Worked by hand from the example's files: 3 strings of 15 modules; 78 m and 340 m of pipe; tanks of 165 and 400 m³.
/// A module gives its current times its voltage at maximum power.
#[test]
fn a_row_has_what_its_wiring_uses() {
    let read = read(&Plant::new());
    let has = |row: Arrangement| read.plant.quantities(row);
    let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let dual = has(Arrangement::DUAL_MODE);
    assert!(near(dual.modules, 45.0) && near(dual.inverter_kw, 20.0) && near(dual.drive_kw, 15.0));
    assert!((dual.kwp - 22.96).abs() < 0.005, "{}", dual.kwp);
    assert!(near(dual.motor_kw, 11.0) && near(dual.pipe_m, 418.0) && near(dual.tank_m3, 165.0));
    let grid = has(Arrangement::GRID_ONLY.with_night_tank());
    assert!(near(
        grid.modules + grid.kwp + grid.inverter_kw + grid.drive_kw + grid.battery_kwh,
        0.0
    ));
    assert!(near(grid.motor_kw, 11.0) && near(grid.tank_m3, 400.0));
    assert!(near(has(Arrangement::SOLAR_DRIVE).inverter_kw, 0.0) && near(has(Arrangement::GRID_TIED).drive_kw, 0.0));
    let island = has(Arrangement::from_id("battery-hybrid").unwrap());
    assert!(near(island.battery_kwh, 40.0) && near(island.modules, 45.0));
}

/// Worked by hand: 8 + 8 + 5 strings of 16 modules are on drives and inverters, 9 more on inverters alone.
#[test]
fn modules_count_where_their_strings_are_used() {
    let read = read(&Plant::of(&example().with_file_name("three-weirs")));
    let modules = |row| read.plant.quantities(row).modules;
    assert!((modules(Arrangement::SOLAR_DRIVE) - 336.0).abs() < 1e-9);
    assert!((modules(Arrangement::DUAL_MODE) - 480.0).abs() < 1e-9);
    let dual = read.plant.quantities(Arrangement::DUAL_MODE);
    assert!((dual.drive_kw - 147.0).abs() < 1e-9 && (dual.motor_kw - 120.0).abs() < 1e-9);
    assert!((dual.inverter_kw - 225.0).abs() < 1e-9);
}

#[test]
fn a_price_per_unit_of_something_the_plant_lacks_is_refused() {
    for (section, per) in [
        ("battery", "battery-kwh"),
        ("inverter", "inverter-kw"),
        ("drive", "drive-kw"),
        ("array", "module"),
        ("array", "kwp"),
    ] {
        let plant = priced(without(&[section]), per);
        let given = format!("unit that the cost is for: \"{per}\", and the file has no [{section}]");
        let remedy = format!("add [{section}], choose another `per`, or remove the cost");
        refused(plant, &["per: ", &given, &remedy]);
    }
}

#[test]
fn wrong_units_and_quantities_are_refused() {
    refused_once(
        counted("per = \"modules\""),
        &["per: ", "\"modules\"", "did you mean \"module\"?"],
    );
    refused_once(counted("per = \"kW\""), &["per: ", "\"kW\"", "\"inverter-kw\""]);
    refused_once(counted("per = 1"), &["per: ", "quotes"]);
    refused_once(
        counted("per = \"module\"\nowned = -3"),
        &["owned: ", "-3", "not negative"],
    );
    refused_once(
        counted("per = \"module\"\nowned = \"3\""),
        &["owned: ", "a plain number"],
    );
    let upkeep = "\n[[money.upkeep]]\nitem = \"wash\"\ncost_per_year = 1\nowned = 2\narrangements = [\"grid-only\"]\n";
    let plant = Plant::new().edit("plant.toml", |text| text + upkeep);
    refused_once(plant, &["`owned`", "in [money.upkeep[7]]"]);
}

#[test]
fn a_line_that_costs_nothing_is_reported() {
    // The array has 45 modules, and only the drive's row has any.
    warns(
        counted("per = \"module\"\nowned = 60"),
        &["the farm owns 60 of \"a part\" (\"module\"), but no arrangement that it belongs to has more than 45"],
    );
    warns(
        line("per = \"module\"\narrangements = [\"grid-only\"]"),
        &["\"a part\" is priced per \"module\", and no arrangement that it belongs to has any: it costs nothing"],
    );
    warns(counted("owned = 2"), &["the farm owns 2 of \"a part\", but"]);
    assert!(!warned(&counted("per = \"module\"\nowned = 45")).contains("a part"));
}

#[test]
fn costs_and_tariff_may_be_left_out() {
    let has = |plant: &Plant| {
        let plant = read(plant).plant;
        (
            plant.costs.is_some(),
            plant.grid.tariff.is_some(),
            plant.currency().to_owned(),
        )
    };
    assert_eq!(has(&Plant::new()), (true, true, "USD".to_owned()));
    assert_eq!(has(&without(&["money"])), (false, true, "USD".to_owned()));
    assert_eq!(has(&without(&["money", "tariff"])), (false, false, String::new()));
    // Then the costs need a currency of their own.
    refused_once(
        without(&["tariff"]),
        &["currency: not given", "needed if there is no [tariff]"],
    );
    let named = without(&["tariff"]).replace("plant.toml", "[money]", "[money]\ncurrency = \"ZMW\"");
    assert!(warned(&named).contains("nothing uses `export_credit_per_kwh`"));
    assert_eq!(has(&named), (true, false, "ZMW".to_owned()));
}

#[test]
fn a_tariff_without_a_grid_is_still_refused() {
    refused(
        without(&["grid]", "grid."]),
        &["grid: no [grid]; allowed: a table [grid]"],
    );
}
