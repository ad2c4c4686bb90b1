use std::collections::BTreeSet;

use daylift_units::{Field, fields};

use super::*;

#[test]
fn every_declared_field_is_in_the_outline_except_those_of_csv_tables() {
    let outlined: Vec<&Field> = paths().iter().filter_map(|(_, key)| key.field()).collect();
    for (section, all) in fields::SECTIONS {
        for field in *all {
            let of_csv = [&fields::grid::LOAD, &fields::timetable::DAY, &fields::voltage::READING];
            let is_of_csv = of_csv.contains(&field);
            assert!(is_of_csv || outlined.contains(&field), "{section}.{}", field.key);
        }
    }
}

#[test]
fn a_key_is_once_in_its_table_and_has_a_place_in_the_order() {
    for (file, table) in FILES {
        let paths: BTreeSet<String> = table.walk().into_iter().map(|(path, _)| path).collect();
        assert_eq!(paths.len(), table.walk().len(), "{file}");
        let orders: Vec<Vec<usize>> = table.walk().iter().map(|(path, _)| table.order_of(path)).collect();
        assert!(orders.is_sorted(), "{file}: {orders:?}");
    }
}
