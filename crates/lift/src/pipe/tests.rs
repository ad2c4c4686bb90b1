use super::*;
use crate::testing::M3_H;
use proptest::prelude::*;

#[test]
fn friction_factors_match_colebrook() {
    // Computed independently from Colebrook's equation, to five decimals.
    for (re, roughness, f) in [
        (1e4, 0.0, 0.03088),
        (1e5, 0.0, 0.01799),
        (1e6, 0.0, 0.01165),
        (1e4, 1e-3, 0.03238),
        (1e5, 1e-4, 0.01851),
        (1e5, 1e-3, 0.02217),
        (1e6, 1e-4, 0.01344),
        (1e5, 1e-2, 0.03850),
        (1e7, 1e-5, 0.00900),
    ] {
        let ours = darcy_friction_factor(re, roughness);
        assert!((ours - f).abs() < 6e-6, "Re {re}, ε/D {roughness}: {ours}");
    }
}

#[test]
fn swamee_and_jain_agree_within_one_per_cent() {
    // Swamee & Jain (1976), ASCE J. Hydraulics Div. 102: f = 0.25/log₁₀(ε/3.7D + 5.74/Re^0.9)².
    for (re, e) in [(1e4, 1e-3_f64), (1e5, 1e-4), (1e6, 1e-4), (1e5, 1e-2), (1e7, 1e-5)] {
        let explicit = 0.25 / (e / 3.7 + 5.74 / f64::powf(re, 0.9)).log10().powi(2);
        assert!((darcy_friction_factor(re, e) / explicit - 1.0).abs() < 0.01);
    }
}

#[test]
fn friction_losses_of_four_pipes() {
    // Computed independently with ν = 1.004e-6 m²/s: flow m³/h, bore mm, length m, roughness mm, velocity, loss m.
    let water = Water {
        density_kg_m3: 998.2,
        kinematic_viscosity_m2_s: 1.004e-6,
        ..Water::at(20.0).unwrap()
    };
    for (flow, bore, length_m, roughness, velocity_m_s, loss_m) in [
        (30.0, 99.4, 500.0, 0.0015, 1.0739, 5.278),
        (180.0, 200.0, 1000.0, 0.045, 1.5915, 10.554),
        (12.0, 64.8, 300.0, 0.007, 1.0107, 4.859),
        (10.0, 53.1, 80.0, 0.15, 1.2543, 3.348),
    ] {
        let pipe = pipe(bore / 1e3, length_m, roughness / 1e3, 0.0);
        assert!((pipe.velocity_m_s(flow * M3_H) - velocity_m_s).abs() < 6e-5);
        let ours = pipe.friction_m(flow * M3_H, &water);
        assert!((ours - loss_m).abs() < 6e-4, "{bore} mm: {ours}");
    }
}

#[test]
fn friction_loss_of_the_oil_line_in_white() {
    // White, Fluid Mechanics, ch. 6 (from memory): the friction loss with the Moody chart is 117 m. 1 % of tolerance
    // for reading a chart.
    let oil = Water {
        density_kg_m3: 900.0,
        kinematic_viscosity_m2_s: 1e-5,
        ..Water::at(20.0).unwrap()
    };
    let loss_m = pipe(0.2, 500.0, 0.26e-3, 0.0).friction_m(0.2, &oil);
    assert!((loss_m / 117.0 - 1.0).abs() < 0.01, "{loss_m}");
}

#[test]
fn fittings_cost_k_velocity_heads() {
    // Worked by hand: K = 2.5 at 2 m/s is 2.5·4/(2·9.80665) = 0.50986 m.
    let pipe = pipe(0.1, 1.0, 0.0, 2.5);
    let flow_m3_s = 2.0 * PI / 4.0 * 0.01;
    assert!((pipe.fittings_m(flow_m3_s) - 0.509_86).abs() < 1e-5);
}

#[test]
fn every_fault_names_the_pipe_and_the_key() {
    let faults = Pipe::new(PipeSheet {
        name: "riser".to_owned(),
        bore_m: 0.05,
        length_m: -1.0,
        roughness_m: 0.15,
        fittings_k: f64::NAN,
    })
    .unwrap_err();
    let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
    assert_eq!(keys, ["length_m", "fittings_k", "roughness_mm"]);
    assert!(
        faults[2]
            .to_string()
            .starts_with("wall roughness of pipe \"riser\": 150 mm; allowed: 0 to 10 mm")
    );
}

#[test]
fn a_roughness_beyond_the_moody_diagram_is_a_fault() {
    let faults = Pipe::new(PipeSheet {
        name: "riser".to_owned(),
        bore_m: 0.05,
        length_m: 1.0,
        roughness_m: 0.003,
        fittings_k: 0.0,
    })
    .unwrap_err();
    assert!(faults[0].to_string().contains("3 mm; allowed: up to 2.5 mm, a twentieth of the bore"));
}

fn pipe(bore_m: f64, length_m: f64, roughness_m: f64, fittings_k: f64) -> Pipe {
    Pipe::new(PipeSheet {
        name: "test".to_owned(),
        bore_m,
        length_m,
        roughness_m,
        fittings_k,
    })
    .unwrap()
}

proptest! {
    #[test]
    fn colebrook_is_solved_to_rounding(log_re in 3.61..8.5_f64, roughness in 0.0..0.05_f64) {
        let re = 10_f64.powf(log_re);
        let x = 1.0 / darcy_friction_factor(re, roughness).sqrt();
        prop_assert!((x + 2.0 * (roughness / 3.7 + 2.51 * x / re).log10()).abs() < 2e-12);
    }

    #[test]
    fn more_flow_always_costs_more_head(
        flow_m3_s in 1e-6..0.1_f64, more in 1.000_001..3.0_f64, bore_m in 0.02..0.4_f64, e in 0.0..0.05_f64,
    ) {
        let pipe = pipe(bore_m, 100.0, (e * bore_m).min(0.01), 1.0);
        let water = Water::at(20.0).unwrap();
        let loss_m = |flow_m3_s| pipe.friction_m(flow_m3_s, &water) + pipe.fittings_m(flow_m3_s);
        prop_assert!(loss_m(flow_m3_s * more) > loss_m(flow_m3_s));
    }
}
