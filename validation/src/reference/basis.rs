//! Sun, strings and pump sets of a plant, which all its rows share.

use std::cell::{OnceCell, RefCell};
use std::collections::HashMap;
use std::rc::Rc;

use daylift_plant::{ByGroup, ByInverter, ByPlane, BySet, Group, GroupId, InputKind, Plant, SetId};
use daylift_sky::year::SkyYear;
use daylift_sky::{Ephemeris, PlaneYear};
use daylift_units::{Axis, Month, Monthly, Step};
use typed_index_collections::TiSlice;

use super::derating;
use super::devices::Devices;
use super::drive::{Driven, Spot};
use super::inverter::Feeding;
use super::lift::Lift;
use super::lockout::{self, Sun};
use super::strings::{Lit, Strings};
use super::tracking;

/// A plant with its year's light and its pump sets month by month.
///
/// The operation of a drive in a step is solved once and kept; nothing is interpolated.
pub struct Basis<'a> {
    pub(super) plant: &'a Plant,
    pub(super) axis: Axis,
    planes: ByPlane<PlaneYear>,
    sky: SkyYear,
    /// b of every step.
    broken: Vec<f64>,
    devices: Devices,
    lifts: BySet<Monthly<Lift<'a>>>,
    /// Share of every step in which each set runs on the sun alone.
    running: OnceCell<BySet<Vec<f64>>>,
    moments: RefCell<HashMap<(usize, Month), Rc<Moment<'a>>>>,
}

impl<'a> Basis<'a> {
    /// The basis of a plant at a step.
    #[must_use]
    pub fn new(plant: &'a Plant, step: Step) -> Self {
        let axis = plant.site.axis.with_step(step);
        #[expect(clippy::cast_precision_loss, reason = "seconds of an epoch are exact in f64")]
        let ephemeris = Ephemeris::new(axis.start_unix_s() as f64, axis.length_s());
        let sky = SkyYear::new(&plant.weather, &ephemeris, &plant.site.observer, &axis);
        let planes = plant.array.iter().flat_map(|a| &a.planes);
        let planes = planes.map(|p| p.surface.year(&sky)).collect();
        let devices = Devices::of(plant);
        let with_devices = plant.sets.iter().zip(&devices.sets);
        let lifts = with_devices.map(|(set, of_set)| Monthly::from_fn(|month| Lift::new(&set.pump_set, of_set, month)));
        Self {
            lifts: lifts.collect(),
            broken: tracking::broken(&sky, axis.steps_per_hour()),
            plant,
            planes,
            sky,
            devices,
            running: OnceCell::new(),
            moments: RefCell::default(),
            axis,
        }
    }

    pub(super) fn groups(&self) -> &'a TiSlice<GroupId, Group> {
        self.plant.groups()
    }

    pub(super) fn lift(&self, set: SetId, month: Month) -> &Lift<'a> {
        &self.lifts[set][month]
    }

    /// Share of a step in which a set runs on the sun alone, where it can run (§8a).
    pub(super) fn running(&self, set: SetId, step: usize) -> f64 {
        let of_set = |k: SetId| {
            let rule = &self.devices.sets[k].restart;
            let suns = (0..self.axis.steps()).map(|step| {
                let month = self.month_at(step);
                self.moment(step, month).drives[k].sun(self.lift(k, month), rule.power)
            });
            lockout::shares(rule, self.axis.step_s(), suns)
        };
        let all = self.running.get_or_init(|| self.plant.sets.keys().map(of_set).collect());
        all[set][step]
    }

    /// D of a set's drive where no temperature applies.
    pub(super) fn height_derating(&self, set: SetId) -> f64 {
        derating::by_height(self.devices.sets[set].height)
    }

    /// Civil month at the middle of a step.
    fn month_at(&self, step: usize) -> Month {
        #[expect(clippy::cast_precision_loss, reason = "steps of one year are exact in f64")]
        let middle_s = (step as f64 + 0.5) * self.axis.step_s();
        let hours = self.axis.civil_hours();
        hours[hours.partition_point(|h| h.start_s <= middle_s).saturating_sub(1)].month
    }

    pub(super) fn moment(&self, step: usize, month: Month) -> Rc<Moment<'a>> {
        if let Some(known) = self.moments.borrow().get(&(step, month)) {
            return Rc::clone(known);
        }
        let moment = Rc::new(self.lit(step, month));
        self.moments.borrow_mut().insert((step, month), Rc::clone(&moment));
        moment
    }

    fn lit(&self, step: usize, month: Month) -> Moment<'a> {
        let groups: ByGroup<Lit<'a>> = self.groups().iter().map(|g| self.lit_group(g, step, month)).collect();
        let of = |wanted: &dyn Fn(&Group) -> bool| -> Vec<Lit<'a>> {
            let all = self.groups().iter().zip(&groups);
            all.filter(|(group, _)| wanted(group)).map(|(_, lit)| lit.clone()).collect()
        };
        let (air_c, broken) = (self.sky.air_c[step], self.broken[step]);
        let drives = self.plant.sets.keys().map(|k| {
            let of_set = &self.devices.sets[k];
            let strings = Strings::new(of(&|g| g.set == Some(k)));
            let derating = derating::by_height(of_set.height) * derating::by_heat(of_set.heat, air_c);
            OnDrive::new(strings, tracking::of_drive(of_set.tracking, broken), derating)
        });
        let feeders = self.plant.feeders.iter_enumerated().map(|(j, f)| {
            let of_feeder = &self.devices.feeders[j];
            let lost = tracking::of_inverter(of_feeder, broken);
            let derating = derating::of_inverter(of_feeder, air_c);
            Feeding::new(&f.inverter, of(&|g| g.inverter == Some(j)), lost, derating)
        });
        Moment {
            drives: drives.collect(),
            feeding: feeders.collect(),
            groups,
        }
    }

    fn lit_group(&self, group: &'a Group, step: usize, month: Month) -> Lit<'a> {
        let plane = &self.planes[group.plane];
        let (air_c, wind_m_s) = (self.sky.air_c[step], self.sky.wind_m_s[step]);
        let cell_c = self
            .plant
            .array
            .as_ref()
            .map_or(air_c, |a| a.cell_model.cell_c(plane.plane_w_m2[step], air_c, wind_m_s));
        let curve = group.strings.curve(plane.absorbed_w_m2[step], cell_c, month);
        Lit {
            strings: &group.strings,
            best: curve.max_power(),
            curve,
        }
    }
}

/// A set's drive and its strings at a moment.
pub(super) struct OnDrive<'a> {
    pub(super) strings: Strings<'a>,
    tracking: f64,
    derating: f64,
    rating_hz: OnceCell<Option<f64>>,
    alone: OnceCell<Driven>,
    locked: OnceCell<Driven>,
    with_mains: OnceCell<Option<Driven>>,
}

impl<'a> OnDrive<'a> {
    fn new(strings: Strings<'a>, tracking: f64, derating: f64) -> Self {
        Self {
            strings,
            tracking,
            derating,
            rating_hz: OnceCell::new(),
            alone: OnceCell::new(),
            locked: OnceCell::new(),
            with_mains: OnceCell::new(),
        }
    }

    fn spot<'s>(&'s self, lift: &'s Lift<'a>) -> Spot<'s, 'a> {
        Spot {
            lift,
            strings: &self.strings,
            tracking: self.tracking,
            derating: self.derating,
            rating_hz: *self.rating_hz.get_or_init(|| lift.rating_hz(self.derating)),
        }
    }

    /// The sun alone, whenever the set can run.
    pub(super) fn free(&self, lift: &Lift<'a>) -> &Driven {
        self.alone.get_or_init(|| self.spot(lift).sun())
    }

    /// The sun alone, in the share of the step in which the set may run.
    pub(super) fn alone(&self, lift: &Lift<'a>, share: f64) -> &Driven {
        self.locked.get_or_init(|| self.free(lift).locked_out(self.strings.offered_w(), share))
    }

    /// The strings while another supply runs the set.
    pub(super) fn held_off(&self, lift: &Lift<'a>) -> Driven {
        self.spot(lift).held_off()
    }

    /// With mains on the second input; `None` where that does nothing.
    pub(super) fn with_mains(&self, lift: &Lift<'a>, kind: InputKind, wanted_speed: f64) -> Option<&Driven> {
        let solve = || self.spot(lift).second_input(self.free(lift), kind, wanted_speed);
        self.with_mains.get_or_init(solve).as_ref()
    }

    fn sun(&self, lift: &Lift<'a>, restart_power: f64) -> Sun {
        if self.strings.offered_w() <= 0.0 {
            Sun::Dark
        } else if self.free(lift).work.is_none() {
            Sun::TooLittle
        } else if self.spot(lift).is_ready(restart_power) {
            Sun::Ready
        } else {
            Sun::Enough
        }
    }
}

/// The array in a step.
pub(super) struct Moment<'a> {
    pub(super) groups: ByGroup<Lit<'a>>,
    pub(super) drives: BySet<OnDrive<'a>>,
    pub(super) feeding: ByInverter<Feeding<'a>>,
}
