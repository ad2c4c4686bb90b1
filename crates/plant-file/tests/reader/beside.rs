//! Optional parts in addition to grid, array and drive: battery, generator, second input, bigger tank, export.

use daylift_testing::Plant;

use crate::support::{refused, refused_once, warns};

fn spoilt(from: &str, to: &str) -> Plant {
    Plant::new().replace("plant.toml", from, to)
}

#[test]
fn battery_levels_that_contradict_each_other() {
    refused(
        spoilt("reserve_pct = 50", "reserve_pct = 5"),
        &["reserve_pct", "not below the minimum content, 10%"],
    );
    refused(
        spoilt("restart_pct = 30", "restart_pct = 10"),
        &["restart_pct", "above the minimum content"],
    );
    refused(
        spoilt("grid_charges_to_pct = 50", "grid_charges_to_pct = 80"),
        &["grid_charges_to_pct", "at most the reserve, 50%"],
    );
    refused(
        spoilt("restart_pct = 30", "restart_pct = 10.01"),
        &["content to there last 0.5 s", "the island would switch on and off"],
    );
}

#[test]
fn a_second_input_has_only_the_keys_of_its_kind() {
    refused(
        spoilt("kind = \"blend\"", "kind = \"switch\""),
        &["line_voltage_v", "only with kind = \"blend\""],
    );
    refused(
        spoilt("kind = \"blend\"", "kind = \"both\""),
        &["\"switch\", \"blend\""],
    );
}

#[test]
fn a_generator_is_started_by_hand_or_automatically() {
    refused(
        spoilt("start = \"by-hand\"", "start = \"automatic\""),
        &["attended_hours", "only with start = \"by-hand\""],
    );
    refused(
        spoilt("attended_hours = [6, 20]", "attended_hours = [6, 6]"),
        &["two different hours"],
    );
    refused(
        Plant::new().replace(
            "generator.toml",
            "fuel_l_per_h = [4.3, 6.7, 9.3, 12.1]",
            "fuel_l_per_h = [12.1, 9.3, 6.7, 4.3]",
        ),
        &[
            "fuel that falls as the load rises",
            "give loads and fuel in the same order",
        ],
    );
    refused(
        Plant::new().replace(
            "generator.toml",
            "load_pct = [25, 50, 75, 100]",
            "load_pct = [0.25, 0.5, 0.75, 1.0]",
        ),
        &["load_pct", "did you give fractions"],
    );
    warns(
        Plant::new().replace("generator.toml", "rated_power_kw = 40", "rated_power_kw = 8"),
        &["it supplies only 8.0 kW: the generator never runs it direct"],
    );
}

#[test]
fn implausible_parts_are_refused_or_reported() {
    refused(
        Plant::new().replace("generator.toml", "rated_power_kw = 40", "rated_power_kw = 400"),
        &["kWh per litre at full load", "the best generators reach 4.3"],
    );
    warns(
        spoilt("line_voltage_v = 400", "line_voltage_v = 230"),
        &["mains holds the bus at 311 V", "which it cannot"],
    );
    warns(
        spoilt("every_years = 12", "every_years = 20"),
        &["is replaced after 20 years, but the calculation covers 20 years: it is never replaced"],
    );
    warns(
        spoilt("wanted_speed_pct = [100,", "wanted_speed_pct = [40,"),
        &["in 1 of 24 hours", "mains has no effect then"],
    );
    warns(
        Plant::new().replace("battery.toml", "discharge_kw = 30", "discharge_kw = 3"),
        &["in an outage it runs only with enough sun"],
    );
}

/// A wrong kind is one fault: the keys of both kinds are then accepted.
#[test]
fn a_wrong_kind_causes_no_other_fault() {
    refused_once(spoilt("kind = \"blend\"", "kind = \"Blend\""), &[]);
}

#[test]
fn a_reference_must_have_a_row() {
    refused(
        spoilt("reference = \"grid-only\"", "reference = \"solar-drive+generator\""),
        &[
            "\"solar-drive+generator\", which this plant cannot have",
            "under `beside`",
        ],
    );
    refused(
        spoilt("reference = \"grid-only\"", "reference = \"grid-only+diesel\""),
        &["did you mean"],
    );
}

#[test]
fn a_bigger_tank_must_be_bigger() {
    refused(
        spoilt("capacity_m3 = 400", "capacity_m3 = 165"),
        &["more than the present tank, 165 m³"],
    );
}

#[test]
fn export_that_is_not_allowed_has_neither_limit_nor_credit() {
    refused(
        spoilt(
            "export = \"paid\"\nexport_credit_per_kwh = 0.04",
            "export = \"none\"\nexport_limit_kw = 5",
        ),
        &[
            "a limit although export is \"none\"",
            "a limit only where export is allowed",
        ],
    );
    refused(
        spoilt("export = \"paid\"\nexport_credit_per_kwh = 0.04", "export = \"unpaid\"").replace(
            "plant.toml",
            "per_kwh = 0.09 }",
            "per_kwh = 0.09, credit_per_kwh = 0.02 }",
        ),
        &[
            "`credit_per_kwh` with a price of the",
            "a credit only with export = \"paid\"",
        ],
    );
    let line = "[grid.line]\nresistance_ohm_per_km = 0.868\nlength_m = 300\nno_load_voltage_pct = 112\n\n[[load]]\nname = \"cold room\"";
    refused(
        spoilt("[[load]]\nname = \"cold room\"", line),
        &["no_load_voltage_pct", "below `greatest_voltage_pct`, 110%"],
    );
}

#[test]
fn a_credit_that_rises_where_no_export_is_paid_is_reported() {
    let unpaid = spoilt("export = \"paid\"\nexport_credit_per_kwh = 0.04", "export = \"unpaid\"");
    warns(
        unpaid.replace(
            "plant.toml",
            "price_escalation_pct = 5",
            "price_escalation_pct = 5\nexport_credit_escalation_pct = 2",
        ),
        &["no export is paid: nothing uses `export_credit_escalation_pct`"],
    );
}
