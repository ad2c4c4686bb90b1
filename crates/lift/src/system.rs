//! The system that the pump works against: from the standing water level to the outlet.

use daylift_units::constants::GRAVITY_M_S2;
use daylift_units::fields::outlet;
use daylift_units::{Fault, Month, fingerprint};

use crate::check::Faults;
use crate::pipe::Pipe;
use crate::water::Water;
use crate::well::Well;

/// Well, pipes and outlet.
#[derive(Debug, Clone, PartialEq)]
pub struct System {
    well: Well,
    pipes: Vec<Pipe>,
    outlet_lift_m: f64,
    outlet_pressure_pa: f64,
    water: Water,
}

fingerprint!(System {
    well,
    pipes,
    outlet_lift_m,
    outlet_pressure_pa,
    water
});

/// Parts of the total dynamic head \[m\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadParts {
    /// From the well head down to the standing water level.
    pub static_level_m: f64,
    /// From the standing level down to the pumped level.
    pub drawdown_m: f64,
    /// From the well head up to the outlet; negative when the outlet is lower.
    pub outlet_lift_m: f64,
    /// Pressure demanded at the outlet.
    pub outlet_pressure_m: f64,
    /// Friction along the pipes.
    pub friction_m: f64,
    /// Losses at the fittings of the pipes.
    pub fittings_m: f64,
}

impl HeadParts {
    /// Total dynamic head \[m\].
    #[must_use]
    pub fn total_m(&self) -> f64 {
        self.static_level_m
            + self.drawdown_m
            + self.outlet_lift_m
            + self.outlet_pressure_m
            + self.friction_m
            + self.fittings_m
    }
}

impl System {
    /// A well, pipes in series, and an outlet `outlet_lift_m` above the well head with a pressure of
    /// `outlet_pressure_pa`.
    ///
    /// # Errors
    /// Faults for a lift or pressure out of range, and for an outlet below the standing water in some month (water
    /// would flow there without a pump).
    pub fn new(
        well: Well,
        pipes: Vec<Pipe>,
        outlet_lift_m: f64,
        outlet_pressure_pa: f64,
        water: Water,
    ) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        faults.field(&outlet::LIFT, outlet_lift_m);
        faults.field(&outlet::PRESSURE, outlet_pressure_pa);
        let system = Self {
            well,
            pipes,
            outlet_lift_m,
            outlet_pressure_pa,
            water,
        };
        let below: Vec<Month> = Month::ALL.into_iter().filter(|&m| system.static_head_m(m) < 0.0).collect();
        if faults.is_empty() && !below.is_empty() {
            faults.push(Fault::new(
                outlet::LIFT.key,
                outlet::LIFT.quantity,
                format!(
                    "{}: the outlet is below the standing water {}",
                    outlet::LIFT.print_si(outlet_lift_m),
                    Month::in_words(&below)
                ),
                "an outlet not below the standing water in any month",
                "water flows there without a pump: correct `lift_m` or `static_level_m`",
            ));
        }
        faults.or(|| system)
    }

    /// The well.
    #[must_use]
    pub fn well(&self) -> &Well {
        &self.well
    }

    /// The pipes in series.
    #[must_use]
    pub fn pipes(&self) -> &[Pipe] {
        &self.pipes
    }

    /// The water.
    #[must_use]
    pub fn water(&self) -> &Water {
        &self.water
    }

    /// Height of the outlet above the well head \[m\]; negative when the outlet is lower.
    #[must_use]
    pub fn outlet_lift_m(&self) -> f64 {
        self.outlet_lift_m
    }

    /// Pressure demanded at the outlet \[Pa\].
    #[must_use]
    pub fn outlet_pressure_pa(&self) -> f64 {
        self.outlet_pressure_pa
    }

    /// Parts of the total dynamic head at a flow \[m³/s\].
    #[must_use]
    pub fn head_parts(&self, month: Month, flow_m3_s: f64) -> HeadParts {
        HeadParts {
            static_level_m: self.well.static_level_m(month),
            drawdown_m: self.well.drawdown_m(flow_m3_s),
            outlet_lift_m: self.outlet_lift_m,
            outlet_pressure_m: self.outlet_pressure_m(),
            friction_m: self.pipes.iter().map(|p| p.friction_m(flow_m3_s, &self.water)).sum(),
            fittings_m: self.pipes.iter().map(|p| p.fittings_m(flow_m3_s)).sum(),
        }
    }

    /// Total dynamic head \[m\] at a flow \[m³/s\]: standing level + drawdown + lift to the outlet + outlet
    /// pressure/(ρ·g) + friction + fittings. It includes the velocity head at the outlet only if ΣK includes an exit (K
    /// = 1).
    #[must_use]
    pub fn head_m(&self, month: Month, flow_m3_s: f64) -> f64 {
        self.head_parts(month, flow_m3_s).total_m()
    }

    /// Head at zero flow \[m\]: the standing lift and the outlet pressure.
    #[must_use]
    pub fn static_head_m(&self, month: Month) -> f64 {
        self.well.static_level_m(month) + self.outlet_lift_m + self.outlet_pressure_m()
    }

    fn outlet_pressure_m(&self) -> f64 {
        self.outlet_pressure_pa / (self.water.density_kg_m3() * GRAVITY_M_S2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use daylift_units::Monthly;

    use crate::pipe::PipeSheet;
    use crate::testing::{M3_H, well_sheet};

    fn pvc() -> Pipe {
        Pipe::new(PipeSheet {
            name: "main".to_owned(),
            bore_m: 99.4e-3,
            length_m: 500.0,
            roughness_m: 0.0015e-3,
            fittings_k: 5.0,
        })
        .unwrap()
    }

    #[test]
    fn total_dynamic_head_by_hand() {
        // Worked by hand for 30 m³/h: 20 m standing level + 3.48 m drawdown + 6 m lift + 1 bar = 10.216 m
        // (1e5/(998.20·9.80665)) + 5.278 m friction (PVC pipe) + 5·1.0739²/19.6133 = 0.294 m.
        let water = Water::at(20.0).unwrap();
        let system = System::new(Well::new(well_sheet()).unwrap(), vec![pvc()], 6.0, 1e5, water).unwrap();
        let parts = system.head_parts(Month::May, 30.0 * M3_H);
        assert!((parts.outlet_pressure_m - 10.2156).abs() < 1e-3);
        assert!((parts.fittings_m - 0.2940).abs() < 1e-4);
        assert!((parts.total_m() - 45.268).abs() < 3e-3, "{}", parts.total_m());
        assert!((system.static_head_m(Month::May) - 36.216).abs() < 1e-3);
    }

    #[test]
    fn an_outlet_below_the_standing_water_is_a_fault() {
        let water = Water::at(20.0).unwrap();
        let faults = System::new(Well::new(well_sheet()).unwrap(), Vec::new(), -30.0, 0.0, water).unwrap_err();
        assert_eq!(faults[0].key, "lift_m");
        assert!(faults[0].given.contains("-30 m: the outlet is below the standing water in every month"));
        // Standing level 20 m from August on, 35 m before.
        let mut sheet = well_sheet();
        sheet.static_level_m = Monthly::from_fn(|month| if month < Month::August { 35.0 } else { 20.0 });
        let faults = System::new(Well::new(sheet).unwrap(), Vec::new(), -30.0, 0.0, water).unwrap_err();
        assert!(
            faults[0].given.ends_with("in 5 months, first in August"),
            "{}",
            faults[0]
        );
    }

    #[test]
    fn lift_and_pressure_are_both_reported() {
        let water = Water::at(20.0).unwrap();
        let faults = System::new(Well::new(well_sheet()).unwrap(), Vec::new(), f64::NAN, -1.0, water).unwrap_err();
        assert_eq!(faults.len(), 2);
    }
}
