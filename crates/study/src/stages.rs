//! The stages that all arrangements share: sun, planes, array and devices. Also runs the year of each arrangement.

use std::borrow::Cow;
use std::sync::Arc;

use daylift_array::StringGroup;
use daylift_grid::{Battery, Loads};
use daylift_lift::{Drive, Tank};
use daylift_plant::{
    Arrangement, Array, ByGroup, ByInverter, ByPlane, BySet, DayHours, Feeder, Group, GroupId, InverterId, LoadsFed,
    PlaneOf, Plant, Restart, Set, SetId,
};
use daylift_sky::{Ephemeris, Shade, SkyYear};
use daylift_supply::routes::{GroupParts, RestartByHand, ScheduleInputs, changeover_cycles, schedule};
use daylift_supply::strings::Feeding;
use daylift_supply::{
    Clock, Conditions, DcYear, GeneratorRules, GroupYear, InverterOffers, NoRecorder, Offers, PlaneLight, Recorder,
    SetOffers, Timeline, YearInputs, YearResult, run_year,
};
use daylift_units::constants::KWH_J;
use daylift_units::field::thousands;
use daylift_units::{Axis, Step, Warning};
use rayon::prelude::*;

use crate::memory::{Key, Memory, Timetable};
use crate::rules::{FoundRule, Rules};

/// The results of the shared stages of a plant.
#[derive(Debug, Clone)]
pub struct Stages<'p> {
    /// The plant.
    pub plant: &'p Plant,
    /// The time axis of the year, at the requested step.
    pub axis: Axis,
    /// The array through the year; `None` without an array.
    pub dc: Option<DcYear>,
    /// The devices through the year.
    pub offers: Offers,
    /// Global horizontal irradiation of the weather file \[J/m²\].
    pub ghi_j_m2: f64,
    /// Warnings of the stages.
    pub warnings: Vec<Warning>,
    memory: &'p Memory,
    /// The rules of pumping that were found.
    rules: Rules,
    /// Memory key of sun and weather; `None` without an array.
    sky_key: Option<Key>,
    /// Whether the drives are solved with mains on their second input.
    on_second_input: bool,
    /// Memory keys of the devices; empty without an array.
    device_keys: Vec<Key>,
}

/// Seconds in an hour.
const HOUR_S: u32 = 3600;

/// Share of the year's irradiation, in steps with the sun below the horizon, above which there is a warning.
const DROPPED_WARNS: f64 = 1e-3;

impl<'p> Stages<'p> {
    /// Computes sun, planes, array and devices at a step for every arrangement of the plant, or takes them from `memory`.
    #[must_use]
    pub fn new(plant: &'p Plant, step: Step, memory: &'p Memory) -> Self {
        Self::for_rows(plant, step, &plant.arrangements(), memory)
    }

    /// The same for some arrangements. What only others need is computed later, if one of those is run.
    #[must_use]
    pub fn for_rows(plant: &'p Plant, step: Step, rows: &[Arrangement], memory: &'p Memory) -> Self {
        Self::without_devices(plant, step, memory).with_devices(rows)
    }

    /// Sun, planes and array, without the devices.
    pub(crate) fn without_devices(plant: &'p Plant, step: Step, memory: &'p Memory) -> Self {
        let axis = plant.site.axis.with_step(step);
        let mut warnings = Vec::new();
        let array = plant.array.as_ref().map(|array| array_year(plant, array, &axis, memory, &mut warnings));
        Self {
            plant,
            axis,
            sky_key: array.as_ref().map(|(_, key)| *key),
            dc: array.map(|(dc, _)| dc),
            on_second_input: false,
            device_keys: Vec::new(),
            offers: Offers {
                groups: ByGroup::new(),
                sets: BySet::new(),
                inverters: Vec::new(),
            },
            ghi_j_m2: plant.weather.ghi_j_m2(),
            warnings,
            memory,
            rules: Rules::default(),
        }
    }

    /// The same stages with rules of pumping that were found.
    pub(crate) fn with_rules(&self, rules: Rules) -> Self {
        Self { rules, ..self.clone() }
    }

    /// The rule of pumping of an arrangement: the one found for it, otherwise as written.
    #[must_use]
    pub fn rule(&self, row: Arrangement) -> FoundRule {
        self.rules.of(self.plant, row)
    }

    /// The same stages with the devices that some arrangements need.
    pub(crate) fn with_devices(&self, rows: &[Arrangement]) -> Self {
        let plant = self.plant;
        let on_second_input = rows.iter().any(|row| self.takes_second_input(*row));
        let (offers, device_keys) = match (&plant.array, &self.dc, self.sky_key) {
            (Some(array), Some(dc), Some(key)) => devices(plant, array, dc, key, on_second_input, self.memory),
            _ => (on_mains(plant), Vec::new()),
        };
        Self {
            offers,
            device_keys,
            on_second_input,
            ..self.clone()
        }
    }

    /// Whether an arrangement uses the drives' second input.
    pub(crate) fn takes_second_input(&self, row: Arrangement) -> bool {
        row.traits().has_second_input && self.plant.beside.second_input.is_some()
    }

    /// The devices that an arrangement needs.
    fn offers_for(&self, row: Arrangement) -> Cow<'_, Offers> {
        let solved = self.on_second_input || !self.takes_second_input(row);
        match (&self.plant.array, &self.dc, self.sky_key) {
            (Some(array), Some(dc), Some(key)) if !solved => {
                Cow::Owned(devices(self.plant, array, dc, key, true, self.memory).0)
            }
            _ => Cow::Borrowed(&self.offers),
        }
    }

    /// The routes of an arrangement, and when each applies.
    #[must_use]
    pub fn timetable(&self, arrangement: Arrangement) -> Arc<Timetable> {
        self.timetable_with_key(arrangement).0
    }

    fn timetable_with_key(&self, arrangement: Arrangement) -> (Arc<Timetable>, Key) {
        let (grid, step_s) = (&self.plant.grid, self.axis.step().seconds());
        let shared_s = grid.backed_up.shared_interval_s(grid.loads.shared_interval_s(HOUR_S));
        // Where a load changes within a step, its mean over the step counts.
        let longest_s = if shared_s.is_multiple_of(step_s) {
            shared_s
        } else {
            step_s
        };
        self.with_schedule_inputs(arrangement, |inputs| {
            let key = Key::of(&(arrangement, inputs, &self.axis, longest_s));
            let make = || {
                let schedule = schedule(arrangement, inputs);
                Timetable {
                    timeline: Timeline::new(&self.axis, &schedule.phases, f64::from(longest_s)),
                    routes: schedule.routes,
                }
            };
            (self.memory.recall(key, make), key)
        })
    }

    fn with_schedule_inputs<T>(&self, arrangement: Arrangement, with: impl FnOnce(&ScheduleInputs<'_>) -> T) -> T {
        let plant = self.plant;
        let groups = plant.groups();
        let parts: ByGroup<GroupParts> = groups.iter().map(GroupParts::of).collect();
        let set_has_drive: BySet<bool> = plant.sets.keys().map(|s| groups.iter().any(|g| g.set == Some(s))).collect();
        let reconnection_s: ByInverter<f64> = plant.feeders.iter().map(|f| f.reconnection_s).collect();
        with(&ScheduleInputs {
            outages: &plant.grid.outages,
            mains_hours: self.rule(arrangement).rule.hours,
            switch_times: plant.design.switch_times,
            generator_delay_s: plant.beside.generator.as_ref().map_or(0.0, |g| g.start_delay_s),
            reconnection_s: &reconnection_s,
            groups: &parts,
            set_has_drive: &set_has_drive,
            restart: self.restart_by_hand(),
        })
    }

    /// Restart by hand, if the plant has it.
    fn restart_by_hand(&self) -> Option<RestartByHand<'_>> {
        let Restart::ByHand { attended, delay_s } = self.plant.restart else {
            return None;
        };
        Some(RestartByHand {
            attended,
            delay_s,
            generator_hours: self.plant.beside.generator.as_ref().map_or(DayHours::ALL, |g| g.hours),
            axis: &self.axis,
        })
    }

    /// How often the changeover of an arrangement leaves the grid in the year; 0 without one.
    #[must_use]
    pub fn changeover_cycles(&self, arrangement: Arrangement) -> usize {
        self.with_schedule_inputs(arrangement, |inputs| changeover_cycles(arrangement, inputs))
    }

    /// The tank of an arrangement, with the low mark of its rule.
    #[must_use]
    pub fn tank(&self, row: Arrangement) -> Tank {
        let tank = match &self.plant.beside.night_tank {
            Some(night) if row.night_tank => night.tank,
            _ => self.plant.tank,
        };
        tank.with_low_mark(self.rule(row).rule.low_mark)
    }

    /// The battery of an arrangement, if it has one.
    #[must_use]
    pub fn battery(&self, row: Arrangement) -> Option<&Battery> {
        self.plant.beside.battery.as_ref().filter(|_| row.traits().has_battery)
    }

    /// Runs the year of an arrangement; `recorder` receives every piece of it.
    pub fn year<R: Recorder>(&self, arrangement: Arrangement, recorder: &mut R) -> YearResult {
        let timetable = self.timetable(arrangement);
        let offers = self.offers_for(arrangement);
        self.with_year_inputs(arrangement, &timetable, &offers, |inputs| run_year(inputs, recorder))
    }

    /// The year of an arrangement, from memory if an earlier answer ran it.
    pub(crate) fn year_or_earlier(&self, arrangement: Arrangement) -> YearResult {
        if self.memory.is_none() {
            return self.year(arrangement, &mut NoRecorder);
        }
        let (timetable, timetable_key) = self.timetable_with_key(arrangement);
        let (offers, devices) = if arrangement.has_array() {
            (self.offers_for(arrangement), self.device_keys.clone())
        } else {
            let sets = self.plant.sets.iter().map(|set| Key::of(&set.pump_set)).collect();
            (Cow::Owned(on_mains(self.plant)), sets)
        };
        self.with_year_inputs(arrangement, &timetable, &offers, |inputs| {
            let key = self.year_key(arrangement, timetable_key, &devices, inputs);
            let earlier = self.memory.recall(key, || run_year(inputs, &mut NoRecorder));
            YearResult::clone(&earlier)
        })
    }

    /// Memory key of everything that a year depends on. A new field of [`YearInputs`] does not compile until it is named
    /// here.
    fn year_key(&self, arrangement: Arrangement, timetable: Key, devices: &[Key], inputs: &YearInputs<'_>) -> Key {
        let YearInputs {
            // The timetable's key covers axis, routes and timeline; the devices' keys cover the offers.
            axis: _,
            routes: _,
            timeline: _,
            offers: _,
            tank,
            fill,
            surplus,
            demand,
            loads,
            backed_up,
            generator_loads,
            export,
            battery,
            generator,
            sun_to_pump_first,
        } = inputs;
        let second_input = self.plant.beside.second_input.as_ref();
        let second_input = second_input.filter(|_| self.takes_second_input(arrangement));
        Key::of(&(
            (timetable, devices, second_input),
            (tank, fill, surplus, demand),
            (export, battery, generator, sun_to_pump_first),
            (loads, backed_up, generator_loads),
        ))
    }

    fn with_year_inputs<T>(
        &self,
        arrangement: Arrangement,
        timetable: &Timetable,
        offers: &Offers,
        with: impl FnOnce(&YearInputs<'_>) -> T,
    ) -> T {
        let plant = self.plant;
        let generator = plant.beside.generator.as_ref().filter(|_| arrangement.generator);
        let none = Loads::none();
        let rule = self.rule(arrangement).rule;
        with(&YearInputs {
            axis: &self.axis,
            routes: &timetable.routes,
            timeline: &timetable.timeline,
            offers,
            tank: &self.tank(arrangement),
            fill: rule.fill,
            surplus: rule.surplus,
            demand: &plant.demand,
            loads: &plant.grid.loads,
            backed_up: &plant.grid.backed_up,
            generator_loads: match generator.map_or(LoadsFed::None, |g| g.loads) {
                LoadsFed::None => &none,
                LoadsFed::BackedUp => &plant.grid.backed_up,
                LoadsFed::All => &plant.grid.loads,
            },
            export: &plant.grid.export,
            battery: self.battery(arrangement),
            generator: generator.map(|g| GeneratorRules {
                set: &g.set,
                hours: g.hours,
                pumps_only_when_low: g.pumps_only_when_low,
                sun_share: g.sun_share,
            }),
            sun_to_pump_first: plant.pumping.sun_to_pump_first,
        })
    }
}

/// The devices of a plant whose pumps run only on mains.
fn on_mains(plant: &Plant) -> Offers {
    Offers {
        groups: ByGroup::new(),
        sets: plant.sets.iter().map(|set| Arc::new(SetOffers::on_mains(&set.pump_set))).collect(),
        inverters: Vec::new(),
    }
}

/// The array through the year, with the memory key of sun and weather.
fn array_year(
    plant: &Plant,
    array: &Array,
    axis: &Axis,
    memory: &Memory,
    warnings: &mut Vec<Warning>,
) -> (DcYear, Key) {
    let (weather, observer) = (&plant.weather, &plant.site.observer);
    let sky_key = Key::of(&(weather, observer, axis));
    let sky = memory.recall(sky_key, || {
        #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
        let ephemeris = Ephemeris::new(axis.start_unix_s() as f64, axis.length_s());
        SkyYear::new(weather, &ephemeris, observer, axis)
    });
    let share = sky.dropped_j_m2 / weather.ghi_j_m2().max(1.0);
    if share > DROPPED_WARNS {
        warnings.push(Warning::new(
            "weather",
            format!(
                "{:.1} kWh/m² of sunlight ({:.2}% of the year's) fall in steps with the sun below the horizon at their midpoint, and are not used; with a shorter step they are used",
                sky.dropped_j_m2 / 3.6e6,
                share * 100.0
            ),
        ));
    }
    if weather.clouds().is_some() && axis.step().seconds() >= weather.interval_s() {
        warnings.push(Warning::new(
            "weather",
            "`minute_clouds` has no effect at this step, which is as long as the weather's own: use a shorter `--step`",
        ));
    }
    let plane_key = |of: &PlaneOf| Key::of(&(sky_key, &of.surface, &array.cell_model));
    let light = |of: &PlaneOf| {
        let make = || PlaneLight::new(&sky, &of.surface, &array.cell_model);
        memory.recall(plane_key(of), make)
    };
    let planes: ByPlane<Arc<PlaneLight>> = array.planes.iter().map(light).collect();
    let clock = memory.recall(Key::of(axis), || Clock::new(axis));
    let with_broken_cloud = depends_on_clouds(plant);
    let conditions = memory.recall(Key::of(&(sky_key, with_broken_cloud)), || {
        Conditions::new(&sky, clock.per_hour, with_broken_cloud)
    });
    drop(sky);
    for (of, light) in array.planes.iter().zip(&planes) {
        warnings.extend(row_shade_warning(&of.name, &light.shade));
    }
    let group = |group: &Group| {
        let key = group_key(sky_key, array, group);
        memory.recall(key, || GroupYear::new(&planes[group.plane], &group.strings, &clock))
    };
    let dc = DcYear {
        groups: array.groups.iter().map(group).collect(),
        plane_of: array.groups.iter().map(|g| g.plane).collect(),
        planes,
        clock,
        conditions,
    };
    (dc, sky_key)
}

/// Whether the tracking of a device of the plant depends on broken cloud.
fn depends_on_clouds(plant: &Plant) -> bool {
    let drives = plant.sets.iter().filter_map(|set| set.pump_set.drive()).map(Drive::tracking);
    let inverters = plant.feeders.iter().map(|feeder| feeder.inverter.tracking());
    drives.chain(inverters).any(|tracking| tracking.depends_on_clouds())
}

/// Share of the year's direct light lost to neighbouring rows above which there is a warning.
const ROW_SHADE_WARNS: f64 = 0.05;

/// The warning about rows that shade each other, if they lose much.
fn row_shade_warning(plane: &str, shade: &Shade) -> Option<Warning> {
    let share = shade.direct_to_rows_j_m2 / shade.direct_j_m2.max(1.0);
    (share > ROW_SHADE_WARNS).then(|| {
        let text = format!(
            "rows of {plane} shade each other: {:.0}% of the year's direct light ({} kWh/m²) is lost; a larger \
             `row_pitch_m` reduces the loss",
            share * 100.0,
            thousands(&format!("{:.0}", shade.direct_to_rows_j_m2 / KWH_J))
        );
        Warning::new("array", text)
    })
}

fn group_key(sky_key: Key, array: &Array, group: &Group) -> Key {
    let surface = &array.planes[group.plane].surface;
    Key::of(&(sky_key, surface, &array.cell_model, &group.strings))
}

/// The devices through the year, with their memory keys. `on_second_input`: solve the drives also with mains on their
/// second input.
fn devices(
    plant: &Plant,
    array: &Array,
    dc: &DcYear,
    sky_key: Key,
    on_second_input: bool,
    memory: &Memory,
) -> (Offers, Vec<Key>) {
    let strings: Vec<(GroupId, &StringGroup)> =
        array.groups.iter_enumerated().map(|(g, of)| (g, &of.strings)).collect();
    let keys: ByGroup<Key> = array.groups.iter().map(|g| group_key(sky_key, array, g)).collect();
    // The indices of the groups count too, because the result of an inverter contains one of them.
    let feeding_key =
        |feeding: &Feeding<'_>| -> Vec<(GroupId, Key)> { feeding.indices().map(|i| (i, keys[i])).collect() };
    let input = plant.beside.second_input.as_ref().filter(|_| on_second_input);
    let set = |s: SetId, set: &Set| {
        let feeding = Feeding::new(&strings, |g| array.groups[g].set == Some(s));
        let key = Key::of(&(feeding_key(&feeding), &set.pump_set, input));
        let make = || SetOffers::new(&set.pump_set, dc, &feeding, input);
        (memory.recall(key, make), key)
    };
    let inverter = |i: InverterId, feeder: &Feeder| {
        let feeding = Feeding::new(&strings, |g| array.groups[g].inverter == Some(i));
        let key = Key::of(&(feeding_key(&feeding), &feeder.inverter));
        let make = |group| InverterOffers::new(&feeder.inverter, group, dc, &feeding);
        let solve = |group| (memory.recall(key, || make(group)), key);
        feeding.indices().next().map(solve)
    };
    let ((sets, set_keys), (inverters, inverter_keys)) = rayon::join(
        || {
            plant
                .sets
                .raw
                .par_iter()
                .enumerate()
                .map(|(s, of)| set(s.into(), of))
                .unzip::<_, _, Vec<_>, Vec<Key>>()
        },
        || {
            plant
                .feeders
                .raw
                .par_iter()
                .enumerate()
                .filter_map(|(i, of)| inverter(i.into(), of))
                .unzip::<_, _, Vec<_>, Vec<Key>>()
        },
    );
    let offers = Offers {
        groups: dc.groups.clone(),
        sets: sets.into(),
        inverters,
    };
    (offers, [keys.raw, set_keys, inverter_keys].concat())
}
