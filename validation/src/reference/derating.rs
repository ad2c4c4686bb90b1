//! How far heat, thin air and warm water lower the ratings of the devices (§6, §7a).

use super::devices::{DriveHeat, Height, OfFeeder, WaterHeat};

/// Water of this temperature still cools a submersible motor as well as it should \[°C\].
const COOL_WATER_C: f64 = 30.0;

/// D_h of a drive.
pub(super) fn by_height(height: Height) -> f64 {
    let above_m = (height.altitude_m - height.rated_m).max(0.0);
    (1.0 - height.per_100m * above_m / 100.0).max(0.0)
}

/// D_T of a drive in air of a temperature.
pub(super) fn by_heat(heat: DriveHeat, air_c: f64) -> f64 {
    let above_k = (air_c + heat.rise_k - heat.rated_c).max(0.0);
    (1.0 - heat.per_k * above_k).max(0.0)
}

/// D_w of a motor.
pub(super) fn by_water(water: WaterHeat) -> f64 {
    if !water.submersible {
        return 1.0;
    }
    (1.0 - water.per_k * (water.water_c - COOL_WATER_C).max(0.0)).max(0.0)
}

/// Share of its rated AC output that an inverter gives in air of a temperature.
pub(super) fn of_inverter(inverter: &OfFeeder, air_c: f64) -> f64 {
    (1.0 - inverter.derates_per_k * (air_c - inverter.derates_above_c).max(0.0)).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-12
    }

    #[test]
    fn a_drive_loses_rating_by_height() {
        // By hand: 650 m above 1000 m at 1 % per 100 m: 6.5 %. Lower down nothing, and never below 0.
        let at = |altitude_m: f64, per_100m: f64| {
            by_height(Height {
                altitude_m,
                rated_m: 1000.0,
                per_100m,
            })
        };
        assert!(near(at(1650.0, 0.01), 0.935));
        assert!(near(at(400.0, 0.01), 1.0));
        assert!(near(at(3000.0, 0.06), 0.0));
    }

    #[test]
    fn a_drive_loses_rating_by_heat() {
        // By hand: 36 + 10 − 40 = 6 K at 1.5 %: 9 %.
        let heat = DriveHeat {
            rise_k: 10.0,
            rated_c: 40.0,
            per_k: 0.015,
        };
        assert!(near(by_heat(heat, 36.0), 0.91));
        assert!(near(by_heat(heat, 30.0), 1.0));
        assert!(near(by_heat(heat, 120.0), 0.0));
    }

    #[test]
    fn warm_water_derates_only_a_submersible_motor() {
        // By hand: 4 K above 30 °C at 1.5 %: 6 %.
        let water = WaterHeat {
            submersible: true,
            water_c: 34.0,
            per_k: 0.015,
        };
        assert!(near(by_water(water), 0.94));
        let dry = WaterHeat {
            submersible: false,
            ..water
        };
        assert!(near(by_water(dry), 1.0));
        let cool = WaterHeat { water_c: 18.0, ..water };
        assert!(near(by_water(cool), 1.0));
    }

    #[test]
    fn an_inverter_gives_less_in_hot_air() {
        // By hand: 3.5 K above 45 °C at 2 %: 7 %.
        let inverter = OfFeeder {
            derates_above_c: 45.0,
            derates_per_k: 0.02,
            ..OfFeeder::default()
        };
        assert!(near(of_inverter(&inverter, 48.5), 0.93));
        assert!(near(of_inverter(&inverter, 45.0), 1.0));
        assert!(near(of_inverter(&inverter, 99.0), 0.0));
    }
}
