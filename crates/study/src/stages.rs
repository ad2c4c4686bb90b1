//! The shared stages: sun, plane, array and devices, computed once for all arrangements.

use daylift_grid::{Battery, Loads};
use daylift_lift::Tank;
use daylift_plant::{Arrangement, DayHours, LoadsFed, Plant, Wiring};
use daylift_sky::{Ephemeris, SkyYear};
use daylift_supply::routes::{GroupParts, ScheduleInputs, schedule};
use daylift_supply::{DcYear, GeneratorRules, Offers, Recorder, Schedule, Timeline, YearInputs, YearResult, run_year};
use daylift_units::{Axis, Step, Warning};

/// Everything that does not depend on the arrangement.
#[derive(Debug, Clone)]
pub struct Stages<'p> {
    /// The plant.
    pub plant: &'p Plant,
    /// The year at the step asked for.
    pub axis: Axis,
    /// The array through the year; `None` without an array.
    pub dc: Option<DcYear>,
    /// The devices through the year.
    pub offers: Offers,
    /// Global horizontal irradiation of the weather file \[J/m²\].
    pub ghi_j_m2: f64,
    /// What the stages noticed.
    pub warnings: Vec<Warning>,
}

/// Seconds in an hour.
const HOUR_S: u32 = 3600;

/// Irradiation that could not be placed in a step with sun, as a share of the year's, above which it is told.
const DROPPED_TOLD: f64 = 1e-3;

impl<'p> Stages<'p> {
    /// Computes sun, plane, array and devices at a step.
    #[must_use]
    pub fn new(plant: &'p Plant, step: Step) -> Self {
        let axis = plant.site.axis.with_step(step);
        let mut warnings = Vec::new();
        let dc = plant.array.as_ref().map(|array| {
            #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
            let ephemeris = Ephemeris::new(axis.start_unix_s() as f64, axis.length_s());
            let sky = SkyYear::new(&plant.weather, &ephemeris, &plant.site.observer, &axis);
            let share = sky.dropped_j_m2 / plant.weather.ghi_j_m2().max(1.0);
            if share > DROPPED_TOLD {
                warnings.push(Warning::new(
                    "weather",
                    format!(
                        "{:.1} kWh/m² of sunlight ({:.2}% of the year's) fall in steps whose middle has the sun below the horizon and are not used; a finer step uses them",
                        sky.dropped_j_m2 / 3.6e6,
                        share * 100.0
                    ),
                ));
            }
            DcYear::new(&sky, array, &axis)
        });
        let offers = Offers::new(plant, dc.as_ref(), axis.steps_per_hour());
        Self {
            plant,
            axis,
            dc,
            offers,
            ghi_j_m2: plant.weather.ghi_j_m2(),
            warnings,
        }
    }

    /// The schedule of an arrangement.
    #[must_use]
    pub fn schedule(&self, arrangement: Arrangement) -> Schedule {
        let plant = self.plant;
        let groups = plant.array.as_ref().map_or(&[][..], |a| &a.groups);
        let parts: Vec<GroupParts> = groups.iter().map(GroupParts::of).collect();
        let set_has_drive: Vec<bool> = (0..plant.sets.len()).map(|s| groups.iter().any(|g| g.set == Some(s))).collect();
        let reconnection_s: Vec<f64> = plant.feeders.iter().map(|f| f.reconnection_s).collect();
        schedule(
            arrangement,
            &ScheduleInputs {
                outages: &plant.grid.outages,
                mains_hours: self.mains_hours(arrangement),
                switch_times: plant.design.switch_times,
                generator_delay_s: plant.beside.generator.as_ref().map_or(0.0, |g| g.start_delay_s),
                reconnection_s: &reconnection_s,
                groups: &parts,
                set_has_drive: &set_has_drive,
            },
        )
    }

    /// The year cut at every edge of a schedule and of the loads.
    #[must_use]
    pub fn timeline(&self, schedule: &Schedule) -> Timeline {
        let (grid, step_s) = (&self.plant.grid, self.axis.step().seconds());
        let shared_s = grid.backed_up.shared_interval_s(grid.loads.shared_interval_s(HOUR_S));
        // Where a load changes within a step, the mean over each step counts.
        let longest_s = if shared_s.is_multiple_of(step_s) {
            shared_s
        } else {
            step_s
        };
        Timeline::new(&self.axis, &schedule.phases, f64::from(longest_s))
    }

    /// Hours of pumping on the bus in a row.
    fn mains_hours(&self, row: Arrangement) -> DayHours {
        let plant = self.plant;
        match (&plant.beside.night_tank, &plant.beside.second_input) {
            (Some(night), _) if row.night_tank => night.hours,
            (_, Some(input)) if row.wiring == Wiring::SolarDriveWithGrid => input.hours,
            _ if row.wiring == Wiring::GridOnly => plant.pumping.grid_only_hours,
            _ => plant.pumping.mains_hours,
        }
    }

    /// The tank of a row.
    #[must_use]
    pub fn tank(&self, row: Arrangement) -> &Tank {
        match &self.plant.beside.night_tank {
            Some(night) if row.night_tank => &night.tank,
            _ => &self.plant.tank,
        }
    }

    /// The battery of a row.
    #[must_use]
    pub fn battery(&self, row: Arrangement) -> Option<&Battery> {
        self.plant.beside.battery.as_ref().filter(|_| row.wiring == Wiring::BatteryHybrid)
    }

    /// Runs the year of an arrangement.
    pub fn year<R: Recorder>(&self, arrangement: Arrangement, recorder: &mut R) -> YearResult {
        let plant = self.plant;
        let generator = plant.beside.generator.as_ref().filter(|_| arrangement.generator);
        let none = Loads::none();
        let schedule = self.schedule(arrangement);
        let inputs = YearInputs {
            axis: &self.axis,
            routes: &schedule.routes,
            timeline: &self.timeline(&schedule),
            offers: &self.offers,
            tank: self.tank(arrangement),
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
            }),
            sun_to_pump_first: plant.pumping.sun_to_pump_first,
        };
        run_year(&inputs, recorder)
    }
}
