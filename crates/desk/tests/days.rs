//! One day of an arrangement, moment by moment.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::time::{Duration, Instant};

use daylift_plant::Arrangement;
use daylift_plant_file::read_plant;
use daylift_study::series::StepMeans;
use daylift_study::{Memory, Series, Stages};
use daylift_supply::Flow;
use daylift_units::Step;
use serde_json::{Value, json};
use support::Asked;

fn of(moment: &Value, key: &str) -> f64 {
    moment[key].as_f64().unwrap()
}

fn moments(day: &Value) -> &Vec<Value> {
    day["moments"].as_array().unwrap()
}

/// The sum over a day: of a power in kWh, of a flow in m³.
fn summed(day: &Value, key: &str) -> f64 {
    moments(day).iter().map(|m| of(m, key) * of(m, "length_s")).sum::<f64>() / 3600.0
}

/// Asserts that the moments are in order, without gaps, and as long as the day.
fn is_whole(day: &Value) {
    let mut now_s = 0.0;
    for moment in moments(day) {
        assert!((of(moment, "start_s") - now_s).abs() < 1e-5, "{now_s}: {moment}");
        assert!(of(moment, "length_s") > 0.0);
        now_s = of(moment, "start_s") + of(moment, "length_s");
    }
    assert!(
        (now_s - of(day, "length_s")).abs() < 1e-5,
        "{now_s} of {}",
        day["length_s"]
    );
}

/// The clear day that an answer offers.
fn clear_day(desk: &Asked) -> u32 {
    let answer = desk.answer("plant.toml", &json!([])).answered();
    let days = answer["days"].as_array().unwrap();
    let clear = days.iter().find(|day| day["kind"] == "clear").unwrap();
    u32::try_from(clear["day"].as_u64().unwrap()).unwrap()
}

/// The moment at a second of the day.
fn at(day: &Value, second: f64) -> &Value {
    let is_then = |m: &&Value| of(m, "start_s") <= second && second < of(m, "start_s") + of(m, "length_s");
    moments(day).iter().find(is_then).unwrap()
}

#[test]
fn moments_fill_every_kind_of_day() {
    let desk = Asked::new();
    for arrangement in [
        "grid-only",
        "dual-mode",
        "battery-hybrid",
        "solar-drive",
        "grid-only+generator",
    ] {
        for day in [0, 1, 59, 180, 364] {
            let found = desk.day(arrangement, day, &json!([])).answered();
            is_whole(&found);
            assert_eq!((of(&found, "length_s"), &found["day"]), (86_400.0, &json!(day)));
            let first = &moments(&found)[0];
            // The content of the tank at the beginning, from inflow and outflow until the first end.
            let hours = of(first, "length_s") / 3600.0;
            let begin = of(first, "tank_m3") - (of(first, "pumped_m3_h") - of(first, "delivered_m3_h")) * hours;
            assert!(
                (begin - of(&found, "tank_at_begin_m3")).abs() < 1e-6,
                "{arrangement} {day}"
            );
        }
    }
    assert_eq!(desk.day("dual-mode", 180, &json!([])).answered()["date"], "2025-06-30");
}

#[test]
fn a_day_on_which_the_clock_changes_is_shorter_or_longer() {
    let desk = Asked::new();
    // The same standard time; the clock of 2025 goes forward on 25 April at midnight and back at the end of 30 October.
    desk.replace("plant.toml", "Africa/Lusaka", "Africa/Cairo");
    for (day, date, hours) in [
        (113, "2025-04-24", 24.0),
        (114, "2025-04-25", 23.0),
        (302, "2025-10-30", 25.0),
        (303, "2025-10-31", 24.0),
    ] {
        let found = desk.day("dual-mode", day, &json!([])).answered();
        is_whole(&found);
        assert_eq!((&found["date"], of(&found, "length_s")), (&json!(date), hours * 3600.0));
    }
}

#[test]
fn an_outage_at_eleven_moves_the_array_to_the_drive_and_back() {
    let desk = Asked::new();
    // A demand above what can be pumped, so that a full tank never stops the pump.
    desk.replace(
        "plant.toml",
        "daily_m3 = [60, 55, 80, 120, 135, 130, 140, 175, 210, 225, 205, 90]",
        "daily_m3 = 500",
    );
    let day = clear_day(&desk);
    let (away_s, back_s) = (11.0 * 3600.0, 14.0 * 3600.0);
    let switched = json!([
        { "at_s": 0, "utility": true }, { "at_s": away_s, "utility": false }, { "at_s": back_s, "utility": true },
    ]);
    let found = desk.day("dual-mode", day, &switched).answered();
    is_whole(&found);
    // From the plant file: 75 s to the drive, 120 s until the grid counts as stable, 40 s back, 60 s for the inverter.
    let borders = [
        (away_s, "inverter"),
        (away_s + 75.0, "neither"),
        (back_s + 120.0, "drive"),
        (back_s + 120.0 + 40.0 + 60.0, "neither"),
        (18.0 * 3600.0, "inverter"),
    ];
    let mut from_s = 9.0 * 3600.0;
    for (until_s, array_on) in borders {
        for second in [from_s + 1e-3, f64::midpoint(from_s, until_s), until_s - 1e-3] {
            let moment = at(&found, second);
            assert_eq!(moment["array_on"], array_on, "at {second} s");
            let utility = !(away_s..back_s).contains(&second);
            assert_eq!(moment["utility"], utility, "at {second} s");
            if array_on == "neither" {
                assert!(of(moment, "array_to_pump_kw") + of(moment, "exported_kw") < 1e-12);
            }
        }
        from_s = until_s;
    }
    let dark: f64 = moments(&found).iter().filter(|m| m["utility"] == false).map(|m| of(m, "length_s")).sum();
    assert!((dark - 10_800.0).abs() < 1e-5, "{dark}");
    let noon = at(&found, away_s + 600.0);
    assert_eq!((&noon["pump_on"], of(noon, "imported_kw")), (&json!("drive"), 0.0));
    assert!(of(noon, "hz") > 30.0 && of(noon, "array_to_pump_kw") > 1.0, "{noon}");
    for (second, pump_on) in [
        (away_s - 1.0, "bus"),
        (away_s + 74.0, "nothing"),
        (back_s + 119.0, "drive"),
        (back_s + 159.0, "nothing"),
        (back_s + 161.0, "bus"),
    ] {
        assert_eq!(at(&found, second)["pump_on"], pump_on, "at {second} s");
    }
}

#[test]
fn a_days_sums_are_those_of_the_years_steps() {
    let desk = Asked::new();
    // The steps below are those of the rules as written.
    let file = desk.folder().join("plant.toml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, text.replacen("[pumping]", "[pumping]\nrule = \"as-written\"", 1)).unwrap();
    let plant = read_plant(desk.folder()).unwrap().plant;
    let memory = Memory::new();
    for id in ["dual-mode", "battery-hybrid", "grid-only+generator", "grid-tied"] {
        let arrangement = Arrangement::from_id(id).unwrap();
        let stages = Stages::for_rows(&plant, Step::TenMinutes, &[arrangement], &memory);
        let mut series = Series::new(&stages.axis);
        let _ = stages.year(arrangement, &mut series);
        for day in [0, 20, 200, 364] {
            let found = desk.day(id, day, &json!([])).answered();
            // The time of the weather is civil time here.
            let steps = &series.steps()[day as usize * 144..][..144];
            let of_steps = |of: &dyn Fn(&StepMeans) -> f64| steps.iter().map(of).sum::<f64>() * 600.0;
            let of_flow = |flow| of_steps(&|s| s.of(flow).unwrap());
            let pairs: [(&str, f64); 11] = [
                ("available_kw", of_flow(Flow::Available) / 3.6e6),
                ("array_to_pump_kw", of_flow(Flow::ArrayToPump) / 3.6e6),
                ("exported_kw", of_flow(Flow::Exported) / 3.6e6),
                ("lost_kw", of_steps(&|s| s.lost_w) / 3.6e6),
                ("imported_kw", of_flow(Flow::Imported) / 3.6e6),
                ("battery_kw", of_steps(&|s| s.battery_w) / 3.6e6),
                ("generator_kw", of_flow(Flow::Generated) / 3.6e6),
                ("load_kw", of_flow(Flow::Load) / 3.6e6),
                ("unserved_kw", of_flow(Flow::Unserved) / 3.6e6),
                ("pumped_m3_h", of_flow(Flow::Pumped)),
                ("delivered_m3_h", of_flow(Flow::Delivered)),
            ];
            for (key, wanted) in pairs {
                let sum = summed(&found, key);
                assert!(
                    (sum - wanted).abs() < 1e-9 * wanted.abs().max(1.0),
                    "{id} {day} {key}: {sum}, {wanted}"
                );
            }
            let last = moments(&found).last().unwrap();
            assert!((of(last, "tank_m3") - steps[143].tank_m3).abs() < 1e-9);
            assert!(steps.iter().any(|s| s.of(Flow::Load).unwrap() > 0.0));
        }
    }
}

#[test]
fn switches_may_come_in_any_order_and_twice_at_an_instant() {
    let desk = Asked::new();
    let day = clear_day(&desk);
    let ask = |switched: Value| desk.day("dual-mode", day, &switched).answered();
    let event = |at_s: f64, utility: bool| json!({ "at_s": at_s, "utility": utility });
    let plain = ask(json!([event(0.0, true), event(39_600.0, false), event(50_400.0, true)]));
    let unordered = json!([event(50_400.0, true), event(0.0, true), event(39_600.0, false)]);
    assert_eq!(ask(unordered), plain);
    // Of two at one instant the last holds; one that changes nothing has no effect.
    let twice = json!([
        event(0.0, false),
        event(0.0, true),
        event(30_000.0, true),
        event(39_600.0, true),
        event(39_600.0, false),
        event(45_000.0, false),
        event(50_400.0, true),
        event(86_400.0, false),
        event(1e9, false),
        event(1e300, false),
    ]);
    assert_eq!(ask(twice), plain);
    // Before the first switch the outages of the plant hold.
    let own = ask(json!([]));
    let later = ask(json!([event(39_600.0, true)]));
    let morning = |day: &Value| {
        let early = moments(day).iter().filter(|m| of(m, "start_s") < 39_000.0);
        early.map(|m| (m["start_s"].clone(), m["utility"].clone())).collect::<Vec<_>>()
    };
    assert_eq!(morning(&own), morning(&later));
}

#[test]
fn an_invalid_day_is_refused() {
    let desk = Asked::new();
    desk.day("dual-mode", 364, &json!([])).answered();
    for day in [365, 366, 1_000_000, u32::MAX] {
        assert!(
            desk.day("dual-mode", day, &json!([])).why(400).contains("has no day"),
            "{day}"
        );
    }
    for arrangement in [
        "",
        "no-such-row",
        "dual-mode+",
        "DUAL-MODE",
        "dual-mode+generator+generator",
    ] {
        assert!(
            desk.day(arrangement, 1, &json!([])).why(400).contains("is not an arrangement"),
            "{arrangement}"
        );
    }
    for at_s in [-1.0, -1e-9, -1e300] {
        let switched = json!([{ "at_s": at_s, "utility": false }]);
        assert!(desk.day("dual-mode", 1, &switched).why(400).contains("not a time of the day"));
    }
    let sound = json!({
        "plant": "plant.toml", "changes": [], "arrangement": "dual-mode", "day": 1,
        "switched": [{ "at_s": 40_000, "utility": false }], "turn": { "page": "test", "number": 1 },
    })
    .to_string();
    let send = |body: String| desk.send(support::by_page("/api/day").body(body.into()).unwrap());
    send(sound.clone()).answered();
    for (from, to) in [
        (":40000", ":NaN"),
        (":40000", ":1e999"),
        (":40000", ":\"noon\""),
        (":40000", ":null"),
        ("\"utility\":false", "\"utility\":0"),
        ("\"day\":1", "\"day\":-1"),
        ("\"day\":1", "\"day\":1.5"),
        ("\"day\":1", "\"day\":4294967296"),
    ] {
        assert!(sound.contains(from), "{from}");
        send(sound.replace(from, to)).why(400);
    }
}

#[test]
fn a_row_whose_parts_the_plant_lacks_is_refused() {
    let desk = Asked::new();
    let text = desk.text("plant.toml");
    let (from, to) = (text.find("[battery]").unwrap(), text.find("[generator]").unwrap());
    let text = text[..from].to_owned() + &text[to..];
    let without: Vec<&str> = text.split("[[").filter(|part| !part.contains("item = \"battery")).collect();
    let text = without.join("[[").replace(", \"battery-hybrid\"", "");
    std::fs::write(desk.folder().join("plant.toml"), text).unwrap();
    desk.day("dual-mode", 1, &json!([])).answered();
    assert!(
        desk.day("battery-hybrid", 1, &json!([]))
            .why(400)
            .contains("is not an arrangement of this plant")
    );
}

#[test]
fn a_huge_list_of_switches_is_answered_or_refused_quickly() {
    let desk = Asked::new();
    desk.day("dual-mode", 1, &json!([])).answered();
    let list = |count: u32| {
        let events = (0..count).map(|i| json!({ "at_s": f64::from(i) * 43.0, "utility": i % 2 == 1 }));
        json!(events.collect::<Vec<_>>())
    };
    let started = Instant::now();
    let found = desk.day("dual-mode", 1, &list(2000)).answered();
    is_whole(&found);
    assert!(started.elapsed() < Duration::from_secs(20), "{:?}", started.elapsed());
    let dark: f64 = moments(&found).iter().filter(|m| m["utility"] == false).map(|m| of(m, "length_s")).sum();
    assert!((dark - 1000.0 * 43.0).abs() < 1e-3, "{dark}");
    assert!(desk.day("dual-mode", 1, &list(2001)).why(400).contains("at most 2000"));
}
