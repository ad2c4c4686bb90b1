//! The array through the year: its I–V curve and maximum power in every step.

use daylift_array::{Curve, StringGroup};
use daylift_plant::plant::Array;
use daylift_sky::{PlaneYear, SkyYear};
use daylift_units::Axis;

/// What the array offers in every step, before cables.
#[derive(Debug, Clone)]
pub struct DcYear {
    /// Power at the maximum-power point \[W\].
    pub available_w: Vec<f64>,
    /// Voltage there \[V\].
    pub max_power_v: Vec<f64>,
    /// Irradiance that reaches the cells, after reflection and before soiling \[W/m²\].
    pub absorbed_w_m2: Vec<f64>,
    /// Cell temperature \[°C\].
    pub cell_c: Vec<f64>,
    /// Civil month of the middle of the step, 0 = January.
    pub month: Vec<u8>,
    /// Plane irradiation of the year \[J/m²\].
    pub plane_j_m2: f64,
}

impl DcYear {
    /// Runs sun and plane through the array.
    #[must_use]
    pub fn new(sky: &SkyYear, plane: &PlaneYear, array: &Array, axis: &Axis) -> Self {
        let steps = axis.steps();
        let mut out = Self {
            available_w: Vec::with_capacity(steps),
            max_power_v: Vec::with_capacity(steps),
            absorbed_w_m2: plane.absorbed_w_m2.clone(),
            cell_c: Vec::with_capacity(steps),
            month: months(axis),
            plane_j_m2: plane.plane_w_m2.iter().sum::<f64>() * axis.step_s(),
        };
        for i in 0..steps {
            let cell_c = array.cell_model.cell_c(plane.plane_w_m2[i], sky.air_c[i], sky.wind_m_s[i]);
            let point = array.group.curve(plane.absorbed_w_m2[i], cell_c, out.month[i]).max_power();
            out.available_w.push(point.power_w);
            out.max_power_v.push(point.voltage_v);
            out.cell_c.push(cell_c);
        }
        out
    }

    /// The array's curve in a step.
    #[must_use]
    pub fn curve(&self, group: &StringGroup, step: usize) -> Curve {
        group.curve(self.absorbed_w_m2[step], self.cell_c[step], self.month[step])
    }
}

/// Civil month of the middle of every step.
#[must_use]
pub fn months(axis: &Axis) -> Vec<u8> {
    let hours = axis.civil_hours();
    let mut at = 0;
    let mut middle_s = axis.step_s() / 2.0;
    (0..axis.steps())
        .map(|_| {
            while at + 1 < hours.len() && hours[at + 1].start_s <= middle_s {
                at += 1;
            }
            middle_s += axis.step_s();
            hours[at].month
        })
        .collect()
}
