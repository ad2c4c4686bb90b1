//! The fast engine against the reference simulator, on plants made by chance.

#[path = "reference/draws.rs"]
mod draws;
#[path = "reference/held.rs"]
mod held;
#[path = "reference/made.rs"]
mod made;
#[path = "reference/supply.rs"]
mod supply;

use daylift_plant::{Arrangement, Plant};
use daylift_units::Step;
use daylift_validation::reference::{Account, Basis, year_on};
use serde_json::Value;

use held::{Held, Kind};

/// Plants of an ordinary run, and the variable that asks for more.
const PLANTS: u32 = 12;
const MORE: &str = "DAYLIFT_REFERENCE_PLANTS";

/// All values of all rows of a plant, and the worst imbalance of the reference's own array.
fn hold(name: &str, plant: &Plant) -> (Vec<Held>, f64) {
    let fast = serde_json::to_value(daylift_study::compare(plant, Step::Hour, &[])).unwrap();
    let rows = fast["arrangements"].as_array().unwrap();
    let basis = Basis::new(plant, Step::Hour);
    let (mut all, mut worst) = (Vec::new(), 0.0_f64);
    for row in rows {
        let arrangement = Arrangement::from_id(row["id"].as_str().unwrap()).unwrap();
        let account = year_on(&basis, arrangement);
        worst = worst.max(imbalance(&account, row));
        all.extend(held::held(name, row, &account));
    }
    assert_eq!(rows.len(), plant.arrangements().len(), "{name}");
    (all, worst)
}

/// What the reference's uses and losses miss of what was available, as a share.
fn imbalance(account: &Account, row: &Value) -> f64 {
    let causes = &row["array_kwh"]["lost"];
    let lost: f64 = account.iter().filter(|(id, _)| causes.get(*id).is_some()).map(|(_, j)| j).sum();
    let used: f64 = ["to-pump", "to-loads", "to-battery", "exported"].iter().map(|id| account.get(id)).sum();
    let available = account.get("available");
    (lost + used - available).abs() / available.max(1.0)
}

#[test]
fn the_fast_engine_agrees_with_the_reference() {
    let plants = std::env::var(MORE).ok().and_then(|n| n.parse().ok()).unwrap_or(PLANTS);
    let only: Option<u32> = std::env::var("DAYLIFT_REFERENCE_SEED").ok().and_then(|n| n.parse().ok());
    let parents = made::parents();
    let (mut all, mut rows) = (Vec::new(), 0);
    for seed in (0..plants).filter(|s| only.is_none_or(|o| o == *s)) {
        let name = format!("seed {seed}");
        let plant = made::plant(seed, &parents);
        let (held, worst) = hold(&name, &plant);
        assert!(worst < 1e-9, "{name}: the reference itself misses {worst:e}");
        rows += plant.arrangements().len();
        all.extend(held);
    }
    all.sort_by(|a, b| b.share().total_cmp(&a.share()));
    println!("{plants} plants, {rows} rows");
    for kind in Kind::ALL {
        for worst in all.iter().filter(|h| h.kind == kind).take(4) {
            println!("{worst}");
        }
    }
    let failing: Vec<String> = all.iter().filter(|h| h.fails()).map(ToString::to_string).collect();
    assert!(
        failing.is_empty(),
        "{} values disagree:\n{}",
        failing.len(),
        failing.join("\n")
    );
}
