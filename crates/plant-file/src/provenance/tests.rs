use super::*;

/// A value at a path, from an origin.
pub(super) fn origin(path: &str, origin: Origin) -> ValueOrigin {
    ValueOrigin {
        path: path.to_owned(),
        file: "plant.toml".to_owned(),
        keys: path.to_owned(),
        origin,
        mark: None,
        value: OriginValue::Number(1.0),
        unit: "m",
        source: "plant.toml, line 1".to_owned(),
    }
}

#[test]
fn values_are_counted_by_origin() {
    let all = [
        origin("a", Origin::Given),
        origin("b", Origin::Found),
        origin("c", Origin::Given),
    ];
    assert_eq!(counts(&all).map(|(_, count)| count), [0, 0, 0, 2, 0, 1, 0]);
}

#[test]
fn defaults_and_generic_and_assumed_values_are_not_confirmed() {
    let marked = Origin::ALL.map(Origin::is_assumed_or_generic);
    assert_eq!(marked, [false, true, true, false, false, false, false]);
    let open = Origin::ALL.map(Origin::is_not_confirmed);
    assert_eq!(open, [true, true, true, false, false, false, false]);
    assert_eq!(not_confirmed(&Origin::ALL.map(|is| origin("a", is))), 3);
}

#[test]
fn the_warning_counts_values_and_names_their_sections() {
    let sound = [
        Origin::Given,
        Origin::Datasheet,
        Origin::Found,
        Origin::Confirmed,
        Origin::Default,
    ];
    assert_eq!(warning(&sound.map(|is| origin("tank.capacity_m3", is))), None);
    let three = [
        origin("pipe[1].bore_mm", Origin::Assumed),
        origin("pipe[2].bore_mm", Origin::Generic),
        origin("tank.capacity_m3", Origin::Assumed),
    ];
    assert_eq!(
        warning(&three).unwrap().to_string(),
        "assumed: 3 values are assumed or generic: pipe, tank"
    );
    let many: Vec<ValueOrigin> = (0..8).map(|i| origin(&format!("s{i}.x"), Origin::Assumed)).collect();
    assert!(warning(&many).unwrap().text.ends_with("s0, s1, s2, s3, s4, s5 and 2 more"));
}
