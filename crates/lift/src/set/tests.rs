//! Tests of the pump set.

use daylift_units::{Month, Monthly};
use proptest::prelude::*;

use crate::testing::{Kit, M3_H, drive_sheet, motor_sheet, water, well_sheet};
use crate::{DriveSheet, MotorSheet, Pipe, PipeSheet, PumpSheet, WellSheet};

/// No drawdown and no pipe: the head is the standing level at any flow.
fn river(level_m: f64) -> WellSheet {
    WellSheet {
        static_level_m: Monthly::from_array([level_m; 12]),
        aquifer_loss_s_m2: 0.0,
        well_loss_s2_m5: 0.0,
        ..well_sheet()
    }
}

/// A pump exactly on H = 60 − 10·x² m and η = 0.72·(2x − x²), x = Q/(30 m³/h): 50 m and 72 % at 30 m³/h.
fn exact_pump(top_efficiency: f64) -> PumpSheet {
    let x = [0.0, 0.4, 0.8, 1.0, 1.3];
    PumpSheet {
        name: "exact".to_owned(),
        flow_m3_s: x.map(|x| 30.0 * x * M3_H).to_vec(),
        head_m: x.map(|x| 60.0 - 10.0 * x * x).to_vec(),
        efficiency: Some(x.map(|x| top_efficiency * (2.0 * x - x * x)).to_vec()),
        ..PumpSheet::default()
    }
}

#[test]
fn power_for_30_m3_h_against_50_m_matches_the_handbook() {
    // Handbook calculation with g = 9.81 and 1000 kg/m³: 4.0875 kW hydraulic. With pump 0.70, motor 0.85 and drive 0.96
    // this is 7.156 kW electric. Our values use water at 20 °C and g = 9.80665.
    let weight = water().density_kg_m3() * 9.806_65 / 9810.0;
    let shaft_w = 4087.5 / 0.70 * weight;
    let set = Kit {
        well: river(50.0),
        pipes: Vec::new(),
        outlet_lift_m: 0.0,
        pump: exact_pump(0.70),
        motor: MotorSheet {
            rated_power_w: shaft_w,
            efficiency_points: vec![(1.0, 0.85)],
            ..motor_sheet()
        },
        drive: Some(DriveSheet {
            rated_power_w: shaft_w / 0.85,
            efficiency_points: vec![(1.0, 0.96)],
            ..drive_sheet()
        }),
        cable_loss: 0.0,
        ..Kit::default()
    }
    .build()
    .unwrap();
    let point = set.drive_point(Month::January, 50.0).unwrap();
    assert!((point.duty.flow_m3_s / M3_H - 30.0).abs() < 1e-9);
    assert!((point.dc_w / weight - 7156.0).abs() < 1.0, "{}", point.dc_w);
}

#[test]
fn with_a_standing_lift_the_duty_does_not_follow_the_cube_law() {
    // Worked by hand: H0 = 60 m against 40 m of lift, no friction. At 50 Hz, 10·x² = 20 and x = √2. Flow begins at
    // 50·√(40/60) = 40.825 Hz. At 45 Hz, 10·x² = 0.81·60 − 40 = 8.6 and x = 0.92736, not 0.9·√2 = 1.273.
    let set = Kit {
        well: river(40.0),
        pipes: Vec::new(),
        outlet_lift_m: 0.0,
        pump: PumpSheet {
            flow_m3_s: [0.0, 12.0, 24.0, 36.0, 48.0].map(|q| q * M3_H).to_vec(),
            head_m: [0.0, 0.4, 0.8, 1.2, 1.6].map(|x| 60.0 - 10.0 * x * x).to_vec(),
            efficiency: Some([0.0, 0.4, 0.8, 1.2, 1.6].map(|x| 0.72 * (2.0 * x - x * x)).to_vec()),
            ..exact_pump(0.72)
        },
        ..Kit::default()
    }
    .build()
    .unwrap();
    assert!((set.flow_begins_hz(Month::January) - 40.8248).abs() < 1e-4);
    assert!(set.duty(Month::January, 40.82 / 50.0).is_none());
    assert!(set.drive_point(Month::January, 40.82).is_none());
    let (full, slow) = (
        set.duty(Month::January, 1.0).unwrap(),
        set.duty(Month::January, 0.9).unwrap(),
    );
    assert!((full.flow_m3_s / M3_H - 30.0 * 2_f64.sqrt()).abs() < 1e-6);
    assert!((slow.flow_m3_s / M3_H - 30.0 * 0.927_36).abs() < 1e-3);
    assert!((slow.shaft_w / full.shaft_w - 0.9_f64.powi(3)).abs() > 0.05);
}

#[test]
fn without_a_standing_lift_the_duty_follows_the_affinity_laws() {
    // Karassik et al., Pump Handbook: Q ∝ n, H ∝ n², P ∝ n³ along a parabola through the origin. ΣK gives such a
    // parabola, except for the friction along 0.1 m.
    let fittings = Pipe::new(PipeSheet {
        name: "valve".to_owned(),
        bore_m: 0.094,
        length_m: 0.1,
        roughness_m: 0.0,
        fittings_k: 500.0,
    })
    .unwrap();
    let set = Kit {
        well: river(0.0),
        pipes: vec![fittings],
        outlet_lift_m: 0.0,
        ..Kit::default()
    }
    .build()
    .unwrap();
    let (full, slow) = (
        set.duty(Month::January, 1.0).unwrap(),
        set.duty(Month::January, 0.8).unwrap(),
    );
    assert!((slow.flow_m3_s / full.flow_m3_s - 0.8).abs() < 1e-5);
    assert!((slow.head_m / full.head_m - 0.64).abs() < 1e-5);
    assert!((slow.shaft_w / full.shaft_w - 0.512).abs() < 1e-5);
}

#[test]
fn a_pump_with_too_little_head_is_a_fault_with_amount_and_month() {
    let mut well = well_sheet();
    well.static_level_m[Month::October] = 56.4;
    let faults = Kit {
        well,
        pump: exact_pump(0.72),
        ..Kit::default()
    }
    .build()
    .unwrap_err();
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].key, "file");
    // 56.4 m and 15 m of lift against 60 m.
    assert_eq!(
        faults[0].given,
        "shut-off head 60.0 m, standing lift 71.4 m in October: 11.4 m short"
    );
}

#[test]
fn faults_of_cable_frequency_and_head_are_reported_together() {
    let faults = Kit {
        outlet_lift_m: 60.0,
        cable_loss: f64::NAN,
        wanted_hz: Some(65.0),
        ..Kit::default()
    }
    .build()
    .unwrap_err();
    let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
    assert_eq!(keys, ["motor_cable_loss_pct", "wanted_frequency_hz", "file"]);
}

#[test]
fn a_drive_below_the_motors_lowest_frequency_is_a_fault() {
    let faults = Kit {
        motor: MotorSheet {
            least_frequency_hz: 40.0,
            ..motor_sheet()
        },
        drive: Some(DriveSheet {
            greatest_frequency_hz: Some(35.0),
            ..drive_sheet()
        }),
        ..Kit::default()
    }
    .build()
    .unwrap_err();
    assert_eq!(faults[0].key, "greatest_frequency_hz");
}

#[test]
fn a_duty_with_a_meaningless_fitted_efficiency_is_a_fault() {
    // η = 0.72·(2x − x²) is 0 at x = 2; with 5 m of lift the pump would run at x = √5.5 = 2.35.
    let faults = Kit {
        well: river(5.0),
        pipes: Vec::new(),
        outlet_lift_m: 0.0,
        pump: exact_pump(0.72),
        ..Kit::default()
    }
    .build()
    .unwrap_err();
    assert_eq!(faults[0].key, "file");
    assert!(faults[0].to_string().contains("give datasheet points up to that flow"));
}

#[test]
fn the_well_limits_the_flow_by_a_valve_on_mains_and_by_speed_on_the_drive() {
    // 10 m³/h has a drawdown of 0.92 m: intake at 22.92 m, margin 2 m, standing level 20 m.
    let set = Kit {
        well: WellSheet {
            intake_depth_m: Some(22.92),
            ..well_sheet()
        },
        ..Kit::default()
    }
    .build()
    .unwrap();
    let mains = set.mains(Month::January).unwrap();
    assert!(mains.throttled && (mains.duty.flow_m3_s / M3_H - 10.0).abs() < 1e-9);
    // The pump runs on its own curve at that flow and rated speed.
    assert!((mains.duty.head_m - set.pump().head_m(10.0 * M3_H, 1.0)).abs() < 1e-12);
    assert!(mains.duty.head_m > set.system().head_m(Month::January, 10.0 * M3_H) + 1.0);
    let at_limit = set.drive_point(Month::January, set.well_limit_hz(Month::January).unwrap()).unwrap();
    assert!((at_limit.duty.flow_m3_s / M3_H - 10.0).abs() < 1e-6);
    assert!(set.warnings().iter().any(|w| w.subject == "well" && w.text.contains("in every month")));
}

#[test]
fn a_standing_level_below_the_intake_margin_gives_no_water() {
    let mut well = WellSheet {
        intake_depth_m: Some(40.0),
        ..well_sheet()
    };
    well.static_level_m[Month::September] = 39.0;
    let set = Kit { well, ..Kit::default() }.build().unwrap();
    assert!(set.mains(Month::September).is_none() && set.mains(Month::August).is_some());
    assert!(set.well_limit_hz(Month::September) == Some(0.0) && set.well_limit_hz(Month::August).is_none());
    let said =
        "intake at 40 m, but standing water at 39 m in September plus margin 2 m: no water is pumped in September";
    assert!(set.warnings().iter().any(|w| w.subject == "well" && w.text == said));
}

#[test]
fn at_the_drive_limit_the_output_is_the_rating() {
    let small = |rated_power_w| {
        let kit = Kit {
            drive: Some(DriveSheet {
                rated_power_w,
                ..drive_sheet()
            }),
            ..Kit::default()
        };
        kit.build().unwrap()
    };
    let set = small(4e3);
    let hz = set.drive_limit_hz(Month::January).unwrap();
    assert!((set.drive_point(Month::January, hz).unwrap().drive_output_w - 4e3).abs() < 1e-6);
    assert!(small(11e3).drive_limit_hz(Month::January).is_none());
    assert!(small(500.0).drive_limit_hz(Month::January) == Some(0.0));
}

#[test]
fn the_motor_cable_loses_its_fraction_at_rated_power() {
    // Loss = k·P²/P_r: k·P_r at rated shaft power, otherwise proportional to the square.
    let set = Kit::default().build().unwrap();
    let duty = set.duty(Month::January, 1.0).unwrap();
    let rated_w = set.motor().rated_input_w();
    assert!((duty.cable_w - 0.02 * duty.motor_w.powi(2) / rated_w).abs() < 1e-9);
    let mains = set.mains(Month::January).unwrap();
    assert!((mains.supply_w - mains.duty.motor_w - mains.duty.cable_w).abs() < 1e-9);
    assert!(!mains.throttled);
}

#[test]
fn values_beyond_the_usual_range_are_warnings() {
    let narrow = Pipe::new(PipeSheet {
        name: "hose".to_owned(),
        bore_m: 0.06,
        length_m: 2.0,
        roughness_m: 0.0,
        fittings_k: 0.0,
    })
    .unwrap();
    let set = Kit {
        well: river(20.0),
        pipes: vec![narrow],
        outlet_lift_m: 8.0,
        motor: MotorSheet {
            rated_power_w: 4000.0,
            ..motor_sheet()
        },
        ..Kit::default()
    }
    .build()
    .unwrap();
    let subjects: Vec<&str> = set.warnings().iter().map(|w| w.subject.as_str()).collect();
    assert_eq!(subjects, ["pump", "motor", "pipe"], "{:?}", set.warnings());
    assert!(Kit::default().build().unwrap().warnings().is_empty());
}

#[test]
fn a_wanted_frequency_without_flow_in_any_month_is_a_fault() {
    // Worked by hand: H0 = 60 m against 40 m: flow begins at 50·√(40/60) = 40.825 Hz; in March at 50·√(38.4/60) = 40
    // Hz.
    let kit = |wanted_hz, greatest_frequency_hz| {
        let mut well = river(40.0);
        well.static_level_m[Month::March] = 38.4;
        Kit {
            well,
            pipes: Vec::new(),
            outlet_lift_m: 0.0,
            pump: PumpSheet {
                flow_m3_s: [0.0, 12.0, 24.0, 36.0, 48.0].map(|q| q * M3_H).to_vec(),
                head_m: [0.0, 0.4, 0.8, 1.2, 1.6].map(|x| 60.0 - 10.0 * x * x).to_vec(),
                efficiency: Some([0.0, 0.4, 0.8, 1.2, 1.6].map(|x| 0.72 * (2.0 * x - x * x)).to_vec()),
                ..exact_pump(0.72)
            },
            drive: Some(DriveSheet {
                greatest_frequency_hz,
                ..drive_sheet()
            }),
            wanted_hz,
            ..Kit::default()
        }
    };
    let given = kit(Some(39.9), None).build().unwrap_err();
    assert_eq!((given.len(), given[0].key.as_str()), (1, "wanted_frequency_hz"));
    assert!(
        given[0]
            .to_string()
            .contains("39.9 Hz; allowed: above 40 Hz, at which flow starts in March")
    );
    let by_drive = kit(None, Some(39.9)).build().unwrap_err();
    assert_eq!((by_drive.len(), by_drive[0].key.as_str()), (1, "file"));
    assert!(by_drive[0].remedy.contains("greatest_frequency_hz"));
    let in_march = kit(Some(40.5), None).build().unwrap();
    let said: Vec<String> = in_march.warnings().iter().map(ToString::to_string).collect();
    assert!(
        said.contains(&"drive: no flow up to the wanted frequency, 40.5 Hz, in 11 months, first in January".to_owned())
    );
}

#[test]
fn a_drive_too_small_to_start_the_pump_is_a_warning() {
    let set = Kit {
        drive: Some(DriveSheet {
            rated_power_w: 500.0,
            ..drive_sheet()
        }),
        ..Kit::default()
    }
    .build()
    .unwrap();
    let [warning] = set.warnings() else {
        panic!("{:?}", set.warnings())
    };
    assert!(warning.subject == "drive" && warning.text.starts_with("its rated output, 0.5 kW, is less"));
}

#[test]
fn running_beyond_rated_frequency_is_a_warning_with_the_load() {
    // Cube law: at 60 Hz the pump takes about 1.7 times its power at 50 Hz; the motor is rated for the latter.
    let at = |wanted_hz| {
        let kit = Kit {
            motor: MotorSheet {
                rated_power_w: 6000.0,
                ..motor_sheet()
            },
            drive: Some(DriveSheet {
                greatest_frequency_hz: Some(60.0),
                ..drive_sheet()
            }),
            wanted_hz: Some(wanted_hz),
            ..Kit::default()
        };
        let texts = kit.build().unwrap().warnings().iter().map(ToString::to_string).collect::<Vec<_>>();
        texts.join("\n")
    };
    let fast = at(60.0);
    assert!(
        fast.contains("60 Hz, is 20% above the motor's rated 50 Hz; usual practice is up to 5%"),
        "{fast}"
    );
    assert!(
        fast.contains("on the drive, up to the wanted frequency of 60 Hz, the pump takes up to"),
        "{fast}"
    );
    assert!(!at(52.5).contains("above the motor's rated"));
    assert!(!at(48.0).contains("motor"));
}

#[test]
fn a_velocity_printed_as_the_usual_limit_is_no_warning() {
    let set = Kit::default().build().unwrap();
    let flow_m3_s = set.mains(Month::January).unwrap().duty.flow_m3_s;
    // The default pipe has little friction: another 2 m of this bore change the flow by less than 0.1 %.
    let warned = |velocity_m_s: f64| {
        let pipe = Pipe::new(PipeSheet {
            name: "wide".to_owned(),
            bore_m: (4.0 * flow_m3_s / std::f64::consts::PI / velocity_m_s).sqrt(),
            length_m: 2.0,
            roughness_m: 0.0,
            fittings_k: 0.0,
        })
        .unwrap();
        let mut kit = Kit::default();
        kit.pipes.push(pipe);
        let set = kit.build().unwrap();
        set.warnings().iter().any(|w| w.subject == "pipe")
    };
    assert!(!warned(0.497) && warned(0.493));
    assert!(!warned(2.503) && warned(2.53));
}

#[test]
fn a_set_without_a_drive_runs_on_mains_only() {
    let set = Kit {
        drive: None,
        ..Kit::default()
    }
    .build()
    .unwrap();
    assert!(set.mains(Month::January).is_some() && set.drive_point(Month::January, 50.0).is_none());
    assert!(set.drive_limit_hz(Month::January).is_none() && set.bus_v_per_hz().is_none());
}

proptest! {
    #[test]
    fn the_heads_of_pump_and_system_agree_at_the_duty_point(
        level_m in 0.0..40.0_f64, lift_m in 0.0..10.0_f64, ratio in 0.3..1.2_f64,
    ) {
        let set = Kit {
            well: WellSheet { static_level_m: Monthly::from_array([level_m; 12]), ..well_sheet() },
            outlet_lift_m: lift_m,
            ..Kit::default()
        }
        .build();
        prop_assume!(set.is_ok());
        let set = set.unwrap();
        let begins = set.flow_begins_hz(Month::January) / 50.0;
        match set.duty(Month::January, ratio) {
            Some(duty) => {
                prop_assert!(ratio > begins - 1e-12);
                let gap_m = duty.head_m - set.system().head_m(Month::January, duty.flow_m3_s);
                prop_assert!(gap_m.abs() < 1e-9 * duty.head_m, "{gap_m}");
            }
            None => prop_assert!(ratio <= begins + 1e-9),
        }
    }
}
