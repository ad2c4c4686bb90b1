//! Sun, strings and pump sets of a plant, which all its rows share.

use std::cell::{OnceCell, RefCell};
use std::collections::HashMap;
use std::rc::Rc;

use daylift_plant::{ByGroup, ByInverter, ByPlane, BySet, Group, GroupId, InputKind, Plant, SetId};
use daylift_sky::year::SkyYear;
use daylift_sky::{Ephemeris, PlaneYear};
use daylift_units::{Axis, Month, Monthly, Step};
use typed_index_collections::TiSlice;

use super::drive::{self, Driven};
use super::inverter::Feeding;
use super::lift::Lift;
use super::strings::{Lit, Strings};

/// A plant with its year's light and its pump sets month by month.
///
/// The operation of a drive in a step is solved once and kept; nothing is interpolated.
pub struct Basis<'a> {
    pub(super) plant: &'a Plant,
    pub(super) axis: Axis,
    planes: ByPlane<PlaneYear>,
    sky: SkyYear,
    lifts: BySet<Monthly<Lift<'a>>>,
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
        let of_months = |set: &'a daylift_plant::Set| Monthly::from_fn(|month| Lift::new(&set.pump_set, month));
        Self {
            plant,
            planes,
            sky,
            lifts: plant.sets.iter().map(of_months).collect(),
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
        let drives = self.plant.sets.keys().map(|k| OnDrive {
            strings: Strings::new(of(&|g| g.set == Some(k))),
            alone: OnceCell::new(),
            with_mains: OnceCell::new(),
        });
        let feeders = self.plant.feeders.iter_enumerated();
        Moment {
            drives: drives.collect(),
            feeding: feeders.map(|(j, f)| Feeding::new(&f.inverter, of(&|g| g.inverter == Some(j)))).collect(),
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
    alone: OnceCell<Driven>,
    with_mains: OnceCell<Option<Driven>>,
}

impl OnDrive<'_> {
    /// The sun alone.
    pub(super) fn alone(&self, lift: &Lift<'_>) -> &Driven {
        self.alone.get_or_init(|| drive::sun(lift, &self.strings))
    }

    /// With mains on the second input; `None` where that does nothing.
    pub(super) fn with_mains(&self, lift: &Lift<'_>, kind: InputKind, wanted_speed: f64) -> Option<&Driven> {
        let solve = || drive::second_input(lift, &self.strings, self.alone(lift), kind, wanted_speed);
        self.with_mains.get_or_init(solve).as_ref()
    }
}

/// The array in a step.
pub(super) struct Moment<'a> {
    pub(super) groups: ByGroup<Lit<'a>>,
    pub(super) drives: BySet<OnDrive<'a>>,
    pub(super) feeding: ByInverter<Feeding<'a>>,
}
