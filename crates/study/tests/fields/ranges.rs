//! A value just outside its range gives a fault with the field's name.

use daylift_plant_file::outline::{FILES, Key, What};
use daylift_units::Field;
use toml::Value;

use crate::complaints;
use crate::copy::{Copy, Edit};

struct Case {
    kind: &'static str,
    path: String,
    key: &'static Key,
    value: Value,
}

/// A value just below the minimum and one just above the maximum.
fn outside(field: &Field) -> [Value; 2] {
    if field.whole {
        #[expect(clippy::cast_possible_truncation, reason = "ranges of whole numbers are small")]
        return [field.least - 1.0, field.greatest + 1.0].map(|v| Value::Integer(v as i64));
    }
    let hair = 1e-6 * (field.greatest - field.least).max(1.0);
    [field.least - hair, field.greatest + hair].map(Value::Float)
}

fn cases() -> Vec<Case> {
    let mut out = Vec::new();
    for (kind, table) in FILES {
        let mut seen: Vec<&Field> = Vec::new();
        for (path, key) in table.walk() {
            // A field that several sections share is tried once, in the form that the example has.
            let known = key.field().is_some_and(|field| seen.contains(&field));
            seen.extend(key.field());
            if known {
                continue;
            }
            for value in key.field().map(outside).into_iter().flatten() {
                out.push(Case {
                    kind,
                    path: path.clone(),
                    key,
                    value,
                });
            }
        }
    }
    out
}

/// The value for the file: for a list, the example's list with the first number replaced.
fn placed(copy: &Copy, case: &Case) -> Value {
    if let What::Windows(_) = case.key.what {
        return vec![case.value.clone(), 12.into()].into();
    }
    let What::Numbers(field, length) = case.key.what else {
        return case.value.clone();
    };
    let list = copy.get(case.kind, &case.path);
    let mut items = list
        .and_then(|list| list.as_array().cloned())
        .unwrap_or_else(|| vec![Value::Float(field.greatest); length.unwrap_or(8)]);
    items[0] = case.value.clone();
    Value::Array(items)
}

/// Keys of a year made from twelve means; the example has a weather file.
fn of_synthetic_year(path: &str) -> bool {
    let keys = [
        "daily_ghi_kwh_m2",
        "correction_pct",
        "seed",
        "air_mean_c",
        "air_low_c",
        "air_high_c",
        "wind_m_s",
    ];
    path.strip_prefix("weather.").is_some_and(|key| keys.contains(&key))
}

fn check(base: &Copy, case: &Case) -> Option<String> {
    let field = case.key.field()?;
    let edit: Edit = (case.kind, case.path.clone(), Some(placed(base, case)));
    // The example's second input is of the kind without this key.
    let ground: Vec<Edit> = if case.path == "grid_input.takes_over_below_pct" {
        let of = |key: &str, value: Option<Value>| ("plant", format!("grid_input.{key}"), value);
        vec![of("kind", Some("switch".into())), of("line_voltage_v", None)]
    } else if case.path.starts_with("array.axis_") || case.path == "array.greatest_rotation_deg" {
        vec![
            ("plant", "array.mounting".to_owned(), Some("single-axis".into())),
            ("plant", "array.tilt_deg".to_owned(), None),
            ("plant", "array.azimuth_deg".to_owned(), None),
        ]
    } else if of_synthetic_year(&case.path) {
        vec![
            ("plant", "weather.file".to_owned(), None),
            ("plant", "weather.synthetic".to_owned(), Some(true.into())),
        ]
    } else {
        Vec::new()
    };
    let Err(faults) = base.clone().with(&ground).with(&[edit]).read() else {
        return Some(format!("{} {} = {} is accepted", case.kind, case.path, case.value));
    };
    let reported = faults.iter().any(|f| {
        f.fault.key.ends_with(field.key) && f.fault.quantity == field.quantity && f.fault.allowed == field.allowed()
    });
    let said: Vec<String> = faults.iter().map(|f| f.fault.to_string()).collect();
    (!reported).then(|| format!("{} {} = {}: {}", case.kind, case.path, case.value, said.join(" | ")))
}

#[test]
fn a_value_out_of_its_range_gives_a_fault_with_name_and_range() {
    // Without its weather file, the plant has one more fault and is read much faster.
    let base = Copy::new().with(&[("plant", "weather.file".to_owned(), Some("none.csv".into()))]);
    let cases = cases();
    assert!(cases.len() > 150, "{} cases", cases.len());
    let wrong = complaints(&cases, |case| check(&base, case));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
