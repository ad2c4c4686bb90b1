//! The array through the year: the maximum power of every string group in every step.

use std::sync::Arc;

use daylift_array::{CellModel, Curve, Point, StringGroup};
use daylift_plant::{Array, ByGroup, ByPlane, Group, GroupId, PlaneId, PlaneOf};
use daylift_sky::{Shade, SkyYear, Surface, broken_cloud};
use daylift_units::{Axis, Hour, Month};

use crate::stream::Bounded;

/// A string group in every step.
#[derive(Debug, Clone)]
pub struct GroupYear {
    /// Power at the maximum-power point, before cables \[W\].
    pub available_w: Bounded,
    /// Voltage there \[V\].
    pub max_power_v: Vec<f64>,
}

impl GroupYear {
    /// The maximum-power point of a group in every step.
    #[must_use]
    pub fn new(light: &PlaneLight, strings: &StringGroup, clock: &Clock) -> Self {
        let points = clock.month.iter().zip(&light.absorbed_w_m2).zip(&light.cell_c);
        let points = points.map(|((month, absorbed), cell)| strings.curve(*absorbed, *cell, *month).max_power());
        let (available_w, max_power_v) = points.map(|p| (p.power_w, p.voltage_v)).unzip();
        Self {
            available_w: Bounded::new(available_w, clock.per_hour),
            max_power_v,
        }
    }
}

/// A plane in every step.
#[derive(Debug, Clone)]
pub struct PlaneLight {
    /// Irradiance that reaches the cells, after reflection and before soiling \[W/m²\].
    pub absorbed_w_m2: Vec<f64>,
    /// Cell temperature \[°C\].
    pub cell_c: Vec<f64>,
    /// Irradiation of the year after shade, before reflection \[J/m²\].
    pub plane_j_m2: f64,
    /// What shade from horizon and rows took of the irradiation.
    pub shade: Shade,
    /// Mean irradiance of each hour, before reflection \[W/m²\].
    pub by_hour_w_m2: Vec<f64>,
}

impl PlaneLight {
    /// The light on a plane and the temperature of its cells.
    #[must_use]
    pub fn new(sky: &SkyYear, surface: &Surface, cell_model: &CellModel) -> Self {
        let light = surface.year(sky);
        let cells = light.plane_w_m2.iter().zip(&sky.air_c).zip(&sky.wind_m_s);
        Self {
            cell_c: cells.map(|((g, air), wind)| cell_model.cell_c(*g, *air, *wind)).collect(),
            plane_j_m2: light.plane_w_m2.iter().sum::<f64>() * sky.step_s,
            shade: light.shade,
            by_hour_w_m2: light.hourly_w_m2(sky.step_s),
            absorbed_w_m2: light.absorbed_w_m2,
        }
    }
}

/// Civil month and hour at the middle of every step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clock {
    /// Month.
    pub month: Vec<Month>,
    /// Hour of the day.
    pub hour: Vec<Hour>,
    /// Steps in an hour.
    pub per_hour: usize,
}

impl Clock {
    /// The clock of an axis.
    #[must_use]
    pub fn new(axis: &Axis) -> Self {
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
        let (month, hour) = (0..axis.steps()).map(at_middle).unzip();
        Self {
            month,
            hour,
            per_hour: axis.steps_per_hour(),
        }
    }
}

/// The weather that the devices themselves depend on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Conditions {
    /// Air temperature of every step \[°C\].
    pub air_c: Vec<f64>,
    /// Broken cloud of every hour, 0 to 1; empty where no device depends on it.
    pub broken: Vec<f64>,
}

impl Conditions {
    /// From the sky. Broken cloud is computed only when a device depends on it.
    #[must_use]
    pub fn new(sky: &SkyYear, per_hour: usize, with_broken_cloud: bool) -> Self {
        Self {
            air_c: sky.air_c.clone(),
            broken: if with_broken_cloud {
                broken_cloud::of_hours(sky, per_hour)
            } else {
                Vec::new()
            },
        }
    }
}

/// What the array offers in every step.
#[derive(Debug, Clone)]
pub struct DcYear {
    /// Its planes.
    pub planes: ByPlane<Arc<PlaneLight>>,
    /// Its string groups.
    pub groups: ByGroup<Arc<GroupYear>>,
    /// The plane of each group.
    pub plane_of: ByGroup<PlaneId>,
    /// Month and hour.
    pub clock: Arc<Clock>,
    /// The weather that the devices depend on.
    pub conditions: Arc<Conditions>,
}

impl DcYear {
    /// Calculates the array's year from the sky: planes first, then string groups. It leaves out broken cloud, on which the
    /// array itself does not depend.
    #[must_use]
    pub fn new(sky: &SkyYear, array: &Array, axis: &Axis) -> Self {
        let clock = Clock::new(axis);
        let light = |of: &PlaneOf| Arc::new(PlaneLight::new(sky, &of.surface, &array.cell_model));
        let planes: ByPlane<_> = array.planes.iter().map(light).collect();
        let group = |g: &Group| Arc::new(GroupYear::new(&planes[g.plane], &g.strings, &clock));
        Self {
            groups: array.groups.iter().map(group).collect(),
            plane_of: array.groups.iter().map(|g| g.plane).collect(),
            planes,
            conditions: Arc::new(Conditions::new(sky, clock.per_hour, false)),
            clock: Arc::new(clock),
        }
    }

    /// Broken cloud in a step, 0 to 1.
    #[must_use]
    pub fn broken(&self, step: usize) -> f64 {
        let hour = step / self.clock.per_hour.max(1);
        self.conditions.broken.get(hour).copied().unwrap_or(0.0)
    }

    /// Air temperature in a step \[°C\].
    #[must_use]
    pub fn air_c(&self, step: usize) -> f64 {
        self.conditions.air_c.get(step).copied().unwrap_or(0.0)
    }

    /// Number of steps.
    #[must_use]
    pub fn steps(&self) -> usize {
        self.clock.month.len()
    }

    /// The curve of a group in a step; `strings` are those of the group.
    #[must_use]
    pub fn curve(&self, group: GroupId, strings: &StringGroup, step: usize) -> Curve {
        let light = &self.planes[self.plane_of[group]];
        strings.curve(light.absorbed_w_m2[step], light.cell_c[step], self.clock.month[step])
    }

    /// The maximum-power point of a group in a step.
    #[must_use]
    pub fn peak(&self, group: GroupId, step: usize) -> Point {
        let of = &self.groups[group];
        let (power_w, voltage_v) = (of.available_w.at(step), of.max_power_v[step]);
        Point {
            voltage_v,
            current_a: if voltage_v > 0.0 { power_w / voltage_v } else { 0.0 },
            power_w,
        }
    }

    /// Mean irradiation on the planes \[J/m²\], weighted with the power of their strings at standard test conditions.
    #[must_use]
    pub fn mean_plane_j_m2(&self, array: &Array) -> f64 {
        self.mean_of_planes(array, |plane| plane.plane_j_m2)
    }

    /// What shade took of it, with the same weights.
    #[must_use]
    pub fn mean_shade(&self, array: &Array) -> Shade {
        let mean = |of: fn(&Shade) -> f64| self.mean_of_planes(array, |plane| of(&plane.shade));
        Shade {
            horizon_j_m2: mean(|s| s.horizon_j_m2),
            rows_j_m2: mean(|s| s.rows_j_m2),
            direct_j_m2: mean(|s| s.direct_j_m2),
            direct_to_rows_j_m2: mean(|s| s.direct_to_rows_j_m2),
        }
    }

    fn mean_of_planes(&self, array: &Array, of: impl Fn(&PlaneLight) -> f64) -> f64 {
        let weighted = array.groups.iter().map(|g| g.strings.stc_w() * of(&self.planes[g.plane]));
        weighted.sum::<f64>() / array.stc_w().max(1.0)
    }
}
