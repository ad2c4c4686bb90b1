//! The array through the year: maximum power of every string group in every step.

use daylift_array::{Curve, StringGroup};
use daylift_plant::plant::Array;
use daylift_sky::{PlaneYear, SkyYear};
use daylift_units::Axis;

/// A string group in every step.
#[derive(Debug, Clone)]
pub struct GroupYear {
    /// Power at the maximum-power point, before cables \[W\].
    pub available_w: Vec<f64>,
    /// Voltage there \[V\].
    pub max_power_v: Vec<f64>,
    plane: usize,
}

/// A plane in every step.
#[derive(Debug, Clone)]
pub struct PlaneLight {
    /// Irradiance that reaches the cells, after reflection and before soiling \[W/m²\].
    pub absorbed_w_m2: Vec<f64>,
    /// Cell temperature \[°C\].
    pub cell_c: Vec<f64>,
    /// Irradiation of the year, before reflection \[J/m²\].
    pub plane_j_m2: f64,
}

/// What the array offers in every step.
#[derive(Debug, Clone)]
pub struct DcYear {
    /// Its planes, as in the plant.
    pub planes: Vec<PlaneLight>,
    /// Its string groups, as in the plant.
    pub groups: Vec<GroupYear>,
    /// Civil month of the middle of the step, 0 = January.
    pub month: Vec<u8>,
    /// Civil hour there.
    pub hour: Vec<u8>,
}

impl DcYear {
    /// Runs sun and planes through the array.
    #[must_use]
    pub fn new(sky: &SkyYear, array: &Array, axis: &Axis) -> Self {
        let planes: Vec<PlaneLight> = array
            .planes
            .iter()
            .map(|of| {
                let light = PlaneYear::new(sky, &of.plane);
                let cells = light.plane_w_m2.iter().zip(&sky.air_c).zip(&sky.wind_m_s);
                PlaneLight {
                    cell_c: cells.map(|((g, air), wind)| array.cell_model.cell_c(*g, *air, *wind)).collect(),
                    plane_j_m2: light.plane_w_m2.iter().sum::<f64>() * axis.step_s(),
                    absorbed_w_m2: light.absorbed_w_m2,
                }
            })
            .collect();
        let (month, hour) = months_and_hours(axis);
        let groups = array
            .groups
            .iter()
            .map(|group| {
                let light = &planes[group.plane];
                let points: Vec<_> = (0..axis.steps())
                    .map(|i| group.strings.curve(light.absorbed_w_m2[i], light.cell_c[i], month[i]).max_power())
                    .collect();
                GroupYear {
                    available_w: points.iter().map(|p| p.power_w).collect(),
                    max_power_v: points.iter().map(|p| p.voltage_v).collect(),
                    plane: group.plane,
                }
            })
            .collect();
        Self {
            planes,
            groups,
            month,
            hour,
        }
    }

    /// Number of steps.
    #[must_use]
    pub fn steps(&self) -> usize {
        self.month.len()
    }

    /// The curve of a group in a step; `strings` are those of the group.
    #[must_use]
    pub fn curve(&self, group: usize, strings: &StringGroup, step: usize) -> Curve {
        let light = &self.planes[self.groups[group].plane];
        strings.curve(light.absorbed_w_m2[step], light.cell_c[step], self.month[step])
    }

    /// Irradiation on the planes, each weighted with the power of its strings at standard test conditions \[J/m²\].
    #[must_use]
    pub fn mean_plane_j_m2(&self, array: &Array) -> f64 {
        let weighted = array.groups.iter().map(|g| g.strings.stc_w() * self.planes[g.plane].plane_j_m2);
        weighted.sum::<f64>() / array.stc_w().max(1.0)
    }
}

/// Civil month and hour of the middle of every step.
#[must_use]
pub fn months_and_hours(axis: &Axis) -> (Vec<u8>, Vec<u8>) {
    let hours = axis.civil_hours();
    let mut at = 0;
    let mut middle_s = axis.step_s() / 2.0;
    let at_middle = |_| {
        while at + 1 < hours.len() && hours[at + 1].start_s <= middle_s {
            at += 1;
        }
        middle_s += axis.step_s();
        (hours[at].month, hours[at].hour)
    };
    (0..axis.steps()).map(at_middle).unzip()
}
