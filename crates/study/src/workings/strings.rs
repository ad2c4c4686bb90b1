//! Workings of strings: voltage on the coldest morning, and reverse current.

use daylift_electrics::{Conditions, Fuse};
use daylift_plant::{Array, Group, Plant, Set, SetId};

use super::{Case, Symbol, Working, named};

pub(super) fn workings(case: &Case<'_>) -> Vec<Working> {
    let plant = case.stages.plant;
    let Some(array) = &plant.array else { return Vec::new() };
    let conditions = Conditions::of(plant, array);
    let several = array.groups.len() > 1;
    let of_group = |group: &Group| named(several.then_some(group.name.as_str()), cold_voltage(group, &conditions));
    let mut out: Vec<Working> = array.groups.iter().map(of_group).collect();
    if case.year.arrangement.wiring.needs_drive() {
        out.extend(reverse_currents(plant, array));
    }
    out
}

fn cold_voltage(group: &Group, conditions: &Conditions) -> Working {
    let (strings, sheet) = (&group.strings, group.strings.module().sheet());
    let from = if conditions.coldest.is_from_record() {
        "lowest air temperature on record"
    } else {
        "lowest air temperature of the weather year"
    };
    Working {
        name: "cold-string-voltage".into(),
        comparable: true,
        title: "Open-circuit voltage of a string on the coldest morning".into(),
        value: f64::from(strings.series()) * conditions.module.cold_open_v,
        unit: "V".into(),
        formula: "s * (V + b * (T - 25))".into(),
        symbols: vec![
            Symbol::new("s", "modules in a string", f64::from(strings.series()), ""),
            Symbol::new(
                "V",
                "open-circuit voltage of a module at 25 °C",
                sheet.open_circuit_v,
                "V",
            ),
            Symbol::new("b", "temperature coefficient of the open-circuit voltage", sheet.open_circuit_v_per_k, "V/K"),
            Symbol::new("T", from, conditions.coldest.air_c, "°C"),
        ],
        source: "datasheet's linear coefficient; at sunrise the cells are as cold as the air (IEC 62548)".into(),
        caution:
            "the lowest maximum DC voltage of inverter, drive and modules must be above it; confirm the record low of the site"
                .into(),
    }
}

fn reverse_currents(plant: &Plant, array: &Array) -> Vec<Working> {
    let several = plant.sets.len() > 1;
    let of_set = |(index, set): (SetId, &Set)| {
        let groups = || array.groups.iter().filter(|g| g.set == Some(index));
        let module = groups().next()?.strings.module();
        let strings = groups().map(|g| g.strings.parallel()).sum();
        let fuse = Fuse::of(strings, module.sheet().short_circuit_a, module.limits().greatest_fuse_a);
        let working = reverse_current(&fuse, module.sheet().short_circuit_a);
        Some(named(several.then_some(set.name.as_str()), working))
    };
    plant.sets.iter_enumerated().filter_map(of_set).collect()
}

fn reverse_current(fuse: &Fuse, short_circuit_a: f64) -> Working {
    Working {
        name: "string-reverse-current".into(),
        comparable: true,
        title: "Current that the other strings on the drive can drive back through one".into(),
        value: fuse.reverse_a,
        unit: "A".into(),
        formula: "(N - 1) * I".into(),
        symbols: vec![
            Symbol::new("N", "strings in parallel on the drive", f64::from(fuse.parallel), ""),
            Symbol::new("I", "short-circuit current of a string", short_circuit_a, "A"),
        ],
        source: "IEC 62548".into(),
        caution: "if it is above the modules' maximum fuse rating, every string needs its own fuse, on the drive even where the inverter needs none".into(),
    }
}
