//! The duty point compared with a bracketing search over the heads themselves.

use daylift_units::{Month, Monthly, root};
use proptest::prelude::*;

use crate::duty::DutySolver;
use crate::testing::{M3_H, pump_sheet, water, well_sheet};
use crate::{Pipe, PipeSheet, Pump, PumpSheet, System, Water, Well, WellSheet};

fn pipe(bore_m: f64, length_m: f64, relative_roughness: f64, fittings_k: f64) -> Pipe {
    Pipe::new(PipeSheet {
        name: "pipe".to_owned(),
        bore_m,
        length_m,
        roughness_m: (relative_roughness * bore_m).min(0.01),
        fittings_k,
    })
    .unwrap()
}

/// A pump on H = H0·(1 − 0.6·(Q/Q_last)²).
fn pump(shut_off_m: f64, last_m3_s: f64, water: &Water) -> Pump {
    let x = [0.0, 0.25, 0.5, 0.75, 1.0];
    let sheet = PumpSheet {
        name: "pump".to_owned(),
        flow_m3_s: x.map(|x| x * last_m3_s).to_vec(),
        head_m: x.map(|x| shut_off_m * (1.0 - 0.6 * x * x)).to_vec(),
        efficiency: Some(x.map(|x| 0.7 * x * (2.0 - x)).to_vec()),
        ..PumpSheet::default()
    };
    Pump::new(sheet, water).unwrap()
}

fn square_s2_m5(pump: &Pump) -> f64 {
    let [_, b, c] = pump.head_terms().unwrap();
    assert!(b.abs() <= 0.0);
    c
}

/// Head used divided by spare head, minus 1, from the published heads of pump and system.
fn gap(pump: &Pump, system: &System, spare_m: f64, flow_m3_s: f64) -> f64 {
    let parts = system.head_parts(Month::January, flow_m3_s);
    let curve_m = square_s2_m5(pump) * flow_m3_s * flow_m3_s;
    (parts.drawdown_m + parts.friction_m + parts.fittings_m - curve_m) / spare_m - 1.0
}

/// The flow by Brent's method, with every friction factor solved from scratch, and the smallest relative difference it
/// resolves.
fn bracketed_m3_s(pump: &Pump, system: &System, spare_m: f64) -> (f64, f64) {
    let most_m3_s = (spare_m / -square_s2_m5(pump)).sqrt() * (1.0 + 1e-9);
    let flow_m3_s = root::bracketed(0.0, most_m3_s, |q| gap(pump, system, spare_m, q)).unwrap();
    (flow_m3_s, 2e-14 * most_m3_s / flow_m3_s)
}

fn agree(pump: &Pump, system: &System, solver: &DutySolver, spare_m: f64) {
    let flow_m3_s = solver.flow_m3_s(spare_m);
    let left = gap(pump, system, spare_m, flow_m3_s);
    assert!(
        left.abs() < 1e-12,
        "spare head {spare_m} m, {flow_m3_s} m³/s: gap {left:e}"
    );
    let (theirs, resolution) = bracketed_m3_s(pump, system, spare_m);
    let error = flow_m3_s / theirs - 1.0;
    assert!(
        error.abs() < 1e-10 + resolution,
        "spare head {spare_m} m, {flow_m3_s} m³/s: {error:e}"
    );
}

fn spare_m(pump: &Pump, system: &System, ratio: f64) -> f64 {
    pump.head_m(0.0, ratio) - system.static_head_m(Month::January)
}

/// From laminar to turbulent, from smooth to rough.
fn any_pipe() -> impl Strategy<Value = Pipe> {
    let roughness = prop_oneof![Just(0.0), 1e-6..0.05_f64];
    (0.02..0.4_f64, 0.5..2000.0_f64, roughness, 0.0..30.0_f64).prop_map(|(d, l, e, k)| pipe(d, l, e, k))
}

fn any_system(water: Water) -> impl Strategy<Value = System> {
    let losses = (
        prop_oneof![Just(0.0), 0.0..2000.0_f64],
        prop_oneof![Just(0.0), 0.0..1e6_f64],
    );
    let pipes = prop::collection::vec(any_pipe(), 0..5);
    (losses, pipes, 0.0..30.0_f64, 0.0..1e5_f64).prop_map(move |((b, c), pipes, level_m, pressure_pa)| {
        let well = Well::new(WellSheet {
            static_level_m: Monthly::from_array([level_m; 12]),
            aquifer_loss_s_m2: b,
            well_loss_s2_m5: c,
            ..well_sheet()
        });
        System::new(well.unwrap(), pipes, 5.0, pressure_pa, water).unwrap()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn the_flow_agrees_with_a_bracketing_search(
        (celsius, system) in (2.0..40.0_f64).prop_flat_map(|t| (Just(t), any_system(Water::at(t).unwrap()))),
        shut_off_m in 1.0..200.0_f64, log_last_m3_h in 0.0..2.5_f64,
        greatest in 0.8..1.2_f64, ratio in 0.3..1.5_f64, log_spare in -9.0..0.0_f64,
    ) {
        let pump = pump(shut_off_m, 10_f64.powf(log_last_m3_h) * M3_H, &Water::at(celsius).unwrap());
        let solver = DutySolver::new(&pump, &system, greatest);
        let spare_m = spare_m(&pump, &system, ratio);
        if spare_m > 0.0 {
            agree(&pump, &system, &solver, spare_m);
        } else {
            prop_assert!(solver.flow_m3_s(spare_m) <= 0.0);
        }
        // Spare heads close to 0.
        agree(&pump, &system, &solver, shut_off_m * 10_f64.powf(log_spare));
    }
}

/// A pump on a well with two pipes that become turbulent at different flows.
fn two_pipes() -> (Pump, System) {
    let pipes = vec![pipe(0.0814, 100.0, 2e-5, 6.0), pipe(0.0994, 400.0, 0.01, 4.0)];
    let system = System::new(Well::new(well_sheet()).unwrap(), pipes, 15.0, 2e4, water()).unwrap();
    (Pump::new(pump_sheet(), &water()).unwrap(), system)
}

#[test]
fn the_flow_is_exact_at_the_kinks_of_the_friction() {
    let (pump, system) = two_pipes();
    let solver = DutySolver::new(&pump, &system, 1.0);
    for pipe in system.pipes() {
        for re in [2000.0, 4000.0] {
            for aside in [-1e-6, -1e-9, -1e-12, 0.0, 1e-12, 1e-9, 1e-6] {
                let flow_m3_s = re / pipe.reynolds(1.0, &water()) * (1.0 + aside);
                let spare_m = gap(&pump, &system, 1.0, flow_m3_s) + 1.0;
                agree(&pump, &system, &solver, spare_m);
                assert!((solver.flow_m3_s(spare_m) / flow_m3_s - 1.0).abs() < 1e-12);
            }
        }
    }
}

#[test]
fn no_spare_head_gives_no_flow_and_heads_beyond_the_start_values_are_solved() {
    let (pump, system) = two_pipes();
    let solver = DutySolver::new(&pump, &system, 1.0);
    for none_m in [0.0, -0.0, -3.0, f64::NAN, f64::NEG_INFINITY] {
        assert!(solver.flow_m3_s(none_m).to_bits() == 0);
    }
    for spare_m in [1e-100, 1e-30, 1e-15] {
        // Only B·Q and laminar friction: the flow is proportional to the spare head.
        let (flow_m3_s, twice) = (solver.flow_m3_s(spare_m), solver.flow_m3_s(2.0 * spare_m));
        assert!(flow_m3_s > 0.0 && (twice / flow_m3_s - 2.0).abs() < 1e-9, "{spare_m}");
    }
    for ratio in [1.0, 1.2, 2.0, 10.0, 1e3] {
        agree(&pump, &system, &solver, spare_m(&pump, &system, ratio));
    }
    // A pump that does not reach the lift has no start values.
    let deep = DutySolver::new(&pump, &system, 0.1);
    agree(&pump, &system, &deep, 10.0);
}
