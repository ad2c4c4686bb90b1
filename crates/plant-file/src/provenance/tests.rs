use super::*;

fn origin(path: &str, state: State) -> Origin {
    Origin {
        path: path.to_owned(),
        file: "plant.toml".to_owned(),
        keys: path.to_owned(),
        state,
        value: OriginValue::Number(1.0),
        unit: "m",
        source: "plant.toml, line 1".to_owned(),
    }
}

#[test]
fn an_entry_covers_its_key_its_section_and_its_list() {
    for (entry, path) in [
        ("*", "tank.capacity_m3"),
        ("tank", "tank.capacity_m3"),
        ("tank.capacity_m3", "tank.capacity_m3"),
        ("pipe", "pipe[2].bore_mm"),
        ("pipe.bore_mm", "pipe[2].bore_mm"),
        ("pipe[2]", "pipe[2].bore_mm"),
        ("tariff.season.prices.per_kwh", "tariff.season[1].prices[3].per_kwh"),
    ] {
        assert!(covers(entry, path), "{entry} {path}");
    }
    for (entry, path) in [
        ("tan", "tank.capacity_m3"),
        ("tank.restart_pct", "tank.capacity_m3"),
        ("pipe[1]", "pipe[2].bore_mm"),
        ("tank.capacity_m3.x", "tank.capacity_m3"),
        ("", "tank.capacity_m3"),
    ] {
        assert!(!covers(entry, path), "{entry} {path}");
    }
}

#[test]
fn only_what_was_given_can_be_assumed() {
    let origins = vec![
        origin("well.static_level_m", State::Given),
        origin("well.intake_margin_m", State::Default),
        origin("tank.capacity_m3", State::Given),
    ];
    let marked = mark(origins, &["well".to_owned()]);
    assert_eq!(
        marked.iter().map(|o| o.state).collect::<Vec<_>>(),
        [State::Assumed, State::Default, State::Given]
    );
    assert_eq!(counts(&marked), [1, 1, 1]);
}

#[test]
fn the_warning_counts_values_and_names_their_sections() {
    assert_eq!(warning(&[origin("tank.capacity_m3", State::Given)]), None);
    let two = [
        origin("pipe[1].bore_mm", State::Assumed),
        origin("pipe[2].bore_mm", State::Assumed),
        origin("tank.capacity_m3", State::Assumed),
    ];
    assert_eq!(
        warning(&two).unwrap().to_string(),
        "assumed: 3 values are not confirmed on the farm: pipe, tank"
    );
    let many: Vec<Origin> = (0..8).map(|i| origin(&format!("s{i}.x"), State::Assumed)).collect();
    assert!(warning(&many).unwrap().text.ends_with("s0, s1, s2, s3, s4, s5 and 2 more"));
}
