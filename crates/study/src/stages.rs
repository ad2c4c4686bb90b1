//! The shared stages: sun, plane, array and devices, computed once for all arrangements.

use daylift_plant::{Arrangement, Plant};
use daylift_sky::{Ephemeris, SkyYear};
use daylift_supply::routes::{GroupParts, ScheduleInputs, schedule};
use daylift_supply::{DcYear, Offers, Recorder, Schedule, YearInputs, YearResult, run_year};
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
        let offers = Offers::new(plant, dc.as_ref());
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
        schedule(
            arrangement,
            &ScheduleInputs {
                outages: &plant.grid.outages,
                pumping: plant.pumping,
                switch_times: plant.design.switch_times,
                reconnection_s: plant.reconnection_s(),
                groups: &parts,
                set_has_drive: &set_has_drive,
            },
        )
    }

    /// Runs the year of an arrangement.
    pub fn year<R: Recorder>(&self, arrangement: Arrangement, recorder: &mut R) -> YearResult {
        let plant = self.plant;
        let inputs = YearInputs {
            axis: &self.axis,
            schedule: &self.schedule(arrangement),
            offers: &self.offers,
            tank: &plant.tank,
            demand: &plant.demand,
            loads: &plant.grid.loads,
            export: plant.grid.export,
            sun_to_pump_first: plant.pumping.sun_to_pump_first,
        };
        run_year(&inputs, recorder)
    }
}
