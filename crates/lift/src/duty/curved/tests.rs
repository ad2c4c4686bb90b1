//! Duty points of pumps that are not on H0 + c·Q².

use daylift_units::{CurveForm, Month, Monthly};
use proptest::prelude::*;

use crate::testing::{Kit, M3_H, humped_sheet, main_pipe, pump_sheet, water, well_sheet};
use crate::{Pipe, PipeSheet, Pump, PumpMap, PumpSet, PumpSheet, System, Well, WellSheet};

const JANUARY: Month = Month::January;

/// Standing level 25 m, 15 m to the outlet, drawdown 0.1·Q + 0.005·Q² (m³/h), nothing else.
fn plain_set(pump: PumpSheet, intake_depth_m: Option<f64>) -> PumpSet {
    Kit {
        well: WellSheet {
            static_level_m: Monthly::from_array([25.0; 12]),
            aquifer_loss_s_m2: 0.1 * 3600.0,
            well_loss_s2_m5: 0.005 * 3600.0 * 3600.0,
            intake_depth_m,
            ..well_sheet()
        },
        pipes: Vec::new(),
        pump,
        ..Kit::default()
    }
    .build()
    .unwrap()
}

fn through(sheet: PumpSheet) -> PumpSheet {
    PumpSheet {
        curve: CurveForm::ThroughPoints,
        ..sheet
    }
}

fn flow_m3_h(set: &PumpSet, ratio: f64) -> f64 {
    set.flow_m3_s(JANUARY, ratio) / M3_H
}

#[test]
fn a_humped_pump_runs_at_the_larger_flow() {
    // By hand, heads in m and flows in m³/h. At r = 1: 50 + 0.8·Q − 0.03·Q² = 40 + 0.1·Q + 0.005·Q²,
    // Q = (0.7 + √(0.49 + 1.4))/0.07 = 29.63961.
    let set = plain_set(humped_sheet(), None);
    assert!((flow_m3_h(&set, 1.0) - 29.639_610_12).abs() < 1e-7);
    assert!((set.mains(JANUARY).unwrap().duty.flow_m3_s / M3_H - 29.639_610_12).abs() < 1e-7);
    // At r = 0.95: 45.125 + 0.76·Q − 0.03·Q² = 40 + 0.1·Q + 0.005·Q², Q = (0.66 + √(0.4356 + 0.7175))/0.07 = 24.76893.
    let slower = (0.66 + (0.4356_f64 + 0.7175).sqrt()) / 0.07;
    assert!((flow_m3_h(&set, 0.95) - slower).abs() < 1e-7 && (slower - 24.768_93).abs() < 1e-4);
}

#[test]
fn a_humped_pump_starts_with_a_jump() {
    // Flow begins at 50·√(40/50) = 44.72136 Hz. There 0.8·r·Q − 0.03·Q² = 0.1·Q + 0.005·Q², so Q is 0 or
    // (0.8·√0.8 − 0.1)/0.035 = 17.58691 m³/h. Slightly below, only the hump reaches the lift: the pump does not run.
    let set = plain_set(humped_sheet(), None);
    let begins_hz = set.flow_begins_hz(JANUARY);
    assert!((begins_hz - 44.721_359_55).abs() < 1e-7);
    let flow_at = |hz: f64| set.drive_point(JANUARY, hz).map_or(0.0, |point| point.duty.flow_m3_s / M3_H);
    assert!((flow_at(begins_hz) - 17.586_907_22).abs() < 1e-6);
    assert!(flow_at(begins_hz * (1.0 - 1e-6)) <= 0.0);
    assert!(flow_at(begins_hz * (1.0 + 1e-6)) > 17.586);
    // The map jumps as the set does.
    let map = PumpMap::new(&set).unwrap();
    let column = map.month(JANUARY);
    assert!((column.at_start().flow_m3_s / M3_H - 17.586_907_22).abs() < 1e-6);
    assert!(column.at_hz(begins_hz * (1.0 - 1e-6)).flow_m3_s <= 0.0);
}

#[test]
fn the_wells_limit_of_a_humped_pump_is_the_root_of_a_quadratic() {
    // Intake at 25 + 5.625 + 2 m: 25 m³/h, drawdown 2.5 + 3.125 m, head 45.625 m. 50·r² + 0.8·25·r − 0.03·625 = 45.625,
    // r = (−20 + √(400 + 200·64.375))/100 = 0.95217186.
    let set = plain_set(humped_sheet(), Some(32.625));
    assert!((set.well_limit_hz(JANUARY).unwrap() - 47.608_593_1).abs() < 1e-6);
    assert!((flow_m3_h(&set, 0.952_171_862) - 25.0).abs() < 1e-5);
    assert!(set.mains(JANUARY).unwrap().throttled);
    // Intake at 25 + 1.5 + 2 m: 10 m³/h at 41.5 m, r = (−8 + √(64 + 200·44.5))/100, 43.33920 Hz. That is below the start
    // at 44.72 Hz with 17.6 m³/h: on its drive the set cannot run.
    let shallow = plain_set(humped_sheet(), Some(28.5));
    assert!((shallow.well_limit_hz(JANUARY).unwrap() - 43.339_201_5).abs() < 1e-6);
    let map = PumpMap::new(&shallow).unwrap();
    let column = map.month(JANUARY);
    assert!(column.top_hz(1.0) < column.start_hz() && column.well_limit().unwrap().dc_w <= 0.0);
    // On mains the valve takes what the pump has more than the system: 50 + 8 − 3 = 55 m.
    let mains = shallow.mains(JANUARY).unwrap();
    assert!(mains.throttled && (mains.duty.head_m - 55.0).abs() < 1e-9);
}

#[test]
fn a_pump_through_its_points_meets_the_system_where_scipy_says() {
    // scipy.optimize.brentq on PchipInterpolator: r, flow [m³/h], head [m], efficiency.
    let set = plain_set(through(pump_sheet()), None);
    for (ratio, flow, head_m, efficiency) in [
        (1.0, 28.659_313_868, 46.972_712_744, 0.718_233_349),
        (0.9, 19.186_085_480, 43.759_137_928, 0.663_989_348),
        (0.82, 6.894_549_265, 40.927_128_974, 0.368_977_114),
    ] {
        let duty = set.duty(JANUARY, ratio).unwrap();
        assert!(
            (duty.flow_m3_s / M3_H - flow).abs() < 1e-8,
            "{ratio}: {}",
            duty.flow_m3_s / M3_H
        );
        assert!((duty.head_m - head_m).abs() < 1e-8 && (duty.pump_efficiency - efficiency).abs() < 1e-8);
    }
    // Flow begins at 50·√(40/62) Hz, as for any pump.
    assert!((set.flow_begins_hz(JANUARY) - 40.160_966_445).abs() < 1e-8);
    assert!(set.duty(JANUARY, 0.803).is_none() && set.duty(JANUARY, 0.8035).is_some());
    // The well's limit of 25 m³/h.
    let limited = plain_set(through(pump_sheet()), Some(32.625));
    assert!((limited.well_limit_hz(JANUARY).unwrap() - 47.914_731_141).abs() < 1e-7);
}

#[test]
fn no_speed_or_no_number_is_no_flow() {
    for sheet in [humped_sheet(), through(pump_sheet())] {
        let set = plain_set(sheet, None);
        for ratio in [0.0, -1.0, f64::NAN, 0.5] {
            assert!(set.flow_m3_s(JANUARY, ratio) <= 0.0, "{ratio}");
        }
    }
}

/// What is left at a flow: the pump's head less the system's.
fn left_m(set: &PumpSet, ratio: f64, flow_m3_s: f64) -> f64 {
    set.pump().head_m(flow_m3_s, ratio) - set.system().head_m(JANUARY, flow_m3_s)
}

/// The largest flow at which anything is left, by 200,000 samples up to `most`; and the distance of the samples.
fn sampled(set: &PumpSet, ratio: f64, most: f64) -> (f64, f64) {
    let samples = 200_000;
    let step = most / f64::from(samples);
    let last = (1..=samples).rev().find(|&i| left_m(set, ratio, f64::from(i) * step) >= 0.0);
    (last.map_or(0.0, |i| f64::from(i) * step), step)
}

fn any_pipe(bore_m: f64, length_m: f64) -> Pipe {
    Pipe::new(PipeSheet {
        name: "any".to_owned(),
        bore_m,
        length_m,
        roughness_m: 0.05e-3,
        fittings_k: 3.0,
    })
    .unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn the_duty_is_the_largest_flow_at_which_heads_agree(
        shut_off_m in 20.0..90.0_f64, hump in 0.02..0.5_f64, last_m3_h in 2.0..80.0_f64,
        (b, c) in (0.0..1500.0_f64, 0.0..1e5_f64), bore_m in 0.03..0.2_f64, length_m in 1.0..800.0_f64,
        lift in 0.3..0.98_f64, up in 1e-4..0.3_f64, points in any::<bool>(),
    ) {
        // H = H0·(1 + 4·h·x − (4·h + 0.6)·x²), x the flow over the last flow.
        let x = [0.0, 0.2, 0.4, 0.6, 0.8, 1.0];
        let head = |x: f64| shut_off_m * (1.0 + 4.0 * hump * x - (4.0 * hump + 0.6) * x * x);
        let sheet = PumpSheet {
            name: String::new(),
            flow_m3_s: x.map(|x| x * last_m3_h * M3_H).to_vec(),
            head_m: if points { x.map(|x| shut_off_m * (1.0 - 0.7 * x.powf(1.4))) } else { x.map(head) }.to_vec(),
            efficiency: Some(x.map(|x| 0.7 * x * (2.0 - x)).to_vec()),
            shaft_power_w: None,
            curve: if points { CurveForm::ThroughPoints } else { CurveForm::Fitted },
        };
        let pump = Pump::new(sheet, &water());
        prop_assume!(pump.is_ok());
        let well = Well::new(WellSheet {
            static_level_m: Monthly::from_array([lift * shut_off_m - 1.0; 12]),
            aquifer_loss_s_m2: b,
            well_loss_s2_m5: c,
            ..well_sheet()
        });
        let pipes = vec![any_pipe(bore_m, length_m), any_pipe(0.1, 10.0)];
        let system = System::new(well.unwrap(), pipes, 1.0, 0.0, water()).unwrap();
        let motor = crate::Motor::new(crate::testing::motor_sheet()).unwrap();
        let set = PumpSet::new(pump.unwrap(), motor, None, system, crate::SetSheet::plain(0.0, None));
        prop_assume!(set.is_ok());
        let set = set.unwrap();
        let ratio = set.flow_begins_hz(JANUARY) / 50.0 * (1.0 + up);
        let flow_m3_s = set.flow_m3_s(JANUARY, ratio);
        prop_assert!(flow_m3_s > 0.0);
        prop_assert!(left_m(&set, ratio, flow_m3_s).abs() < 1e-9 * shut_off_m);
        let (largest, step) = sampled(&set, ratio, 2.5 * last_m3_h * M3_H * ratio);
        prop_assert!(flow_m3_s >= largest * (1.0 - 1e-9) && flow_m3_s < largest + 1.01 * step,
            "{flow_m3_s} {largest} {step}");
    }
}

/// Largest errors of flow and powers in the map, relative to their values at the maximum frequency.
fn map_errors(set: &PumpSet) -> (f64, f64) {
    let map = PumpMap::new(set).unwrap();
    let column = map.month(JANUARY);
    let (start, top) = (column.start_hz(), column.greatest_hz());
    let full = set.drive_point(JANUARY, top).unwrap();
    let (mut flow, mut power) = (0.0_f64, 0.0_f64);
    for i in 1..=3000_u32 {
        let x = f64::from(i) / 3000.0;
        for hz in [start + (top - start) * x, start + (top - start) * x.powi(4)] {
            let Some(exact) = set.drive_point(JANUARY, hz) else {
                continue;
            };
            let point = column.at_hz(hz);
            flow = flow.max((point.flow_m3_s - exact.duty.flow_m3_s).abs() / full.duty.flow_m3_s);
            power = power.max((point.dc_w - exact.dc_w).abs() / full.dc_w);
            power = power.max((point.motor_w - exact.duty.motor_w).abs() / full.dc_w);
        }
    }
    (flow, power)
}

/// H = 50 + 0.12·Q − 0.03·Q² (m³/h): a pump that barely humps, whose flow bends sharply near the start.
fn slightly_humped_sheet() -> PumpSheet {
    let flows = [0.0, 2.0, 10.0, 20.0, 30.0];
    PumpSheet {
        flow_m3_s: flows.map(|q| q * M3_H).to_vec(),
        head_m: flows.map(|q| 50.0 + 0.12 * q - 0.03 * q * q).to_vec(),
        efficiency: Some(vec![0.0, 0.12, 0.48, 0.68, 0.60]),
        ..humped_sheet()
    }
}

#[test]
fn the_map_of_other_curves_is_within_the_stated_error() {
    let sheets = [
        ("hump", humped_sheet()),
        ("slight hump", slightly_humped_sheet()),
        ("through points", through(pump_sheet())),
    ];
    for (name, sheet) in sheets {
        for (level_m, pipes) in [
            (20.0, vec![main_pipe()]),
            (5.0, vec![main_pipe(), any_pipe(0.08, 600.0)]),
            (30.0, Vec::new()),
        ] {
            for (b, c) in [(0.0, 0.0), (10.0, 0.0), (400.0, 1e4), (900.0, 6e4)] {
                let set = Kit {
                    well: WellSheet {
                        static_level_m: Monthly::from_array([level_m; 12]),
                        aquifer_loss_s_m2: b,
                        well_loss_s2_m5: c,
                        ..well_sheet()
                    },
                    pipes: pipes.clone(),
                    pump: sheet.clone(),
                    ..Kit::default()
                }
                .build();
                let Ok(set) = set else { continue };
                let (flow, power) = map_errors(&set);
                assert!(
                    flow < 2e-4 && power < 5e-4,
                    "{name}, {level_m} m, B {b}, C {c}: flow {flow}, power {power}"
                );
            }
        }
    }
}
