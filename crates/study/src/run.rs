//! One arrangement through a year, in full.

use daylift_plant::{Arrangement, Plant};
use daylift_plant_file::ValueOrigin;
use daylift_supply::{NoRecorder, Recorder};
use daylift_units::{Step, Warning};

use crate::answer::{Row, WeatherSummary};
use crate::best_rule::{Effort, FindRules, find_or_held};
use crate::detail::{Month, WaterSecured, battery_of_array, months, water_secured, weather_summary};
use crate::memory::Memory;
use crate::money::{loads_only_bill, lost, years};
use crate::notice::{Notice, notices, of_strings, warnings_of};
use crate::origins::OriginRow;
use crate::prices::Prices;
use crate::row::row;
use crate::service::PricedAt;
use crate::stages::Stages;
use crate::strings::{CanBeBuilt, can_be_built};
use crate::sunlight::{ShadeRow, by_month_and_hour, shade};
use crate::workings::{Case, Working, name_by_id, workings};
use crate::year::ArrangementYear;

/// One arrangement through a year.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Name of the plant.
    pub plant: String,
    /// Today's arrangement, with which money is compared.
    pub reference: Arrangement,
    /// Length of a step, in s.
    pub step_s: u32,
    /// Steps in the year.
    pub steps: usize,
    /// Weather of the year.
    pub weather: WeatherSummary,
    /// Years of the money calculation; 0 without costs.
    pub years: u32,
    /// Which prices the plant has.
    pub prices: Prices,
    /// The year, as in a comparison.
    pub row: Row,
    /// Values of what is missing, which the money figures include; `None` if the plant gives none.
    pub priced_at: Option<PricedAt>,
    /// Notices for the reader.
    pub notices: Vec<Notice>,
    /// Water secured.
    pub water_secured: WaterSecured,
    /// Share of the battery's discharge that came from the array; `None` without a battery.
    pub battery_of_array: Option<f64>,
    /// The months.
    pub months: Vec<Month>,
    /// Irradiation on the array's planes lost to shade.
    pub shade: ShadeRow,
    /// Mean irradiance on the array's planes, in W/m², by month (January first) and hour of the civil day (from 00:00).
    /// Empty without an array.
    pub plane_by_month_and_hour_w_m2: Vec<Vec<f64>>,
    /// Headline numbers with their workings.
    pub workings: Vec<Working>,
    /// Every value of the plant and where it came from; empty until [`Run::with_origins`] adds them.
    pub origins: Vec<OriginRow>,
    /// Whether the strings can be built; `None` without an array, and until [`Run::with_origins`] adds it.
    pub can_be_built: Option<CanBeBuilt>,
}

impl Run {
    /// The same run with the origins of the plant's values, and the verdict on its strings, which depends on them.
    #[must_use]
    pub fn with_origins(mut self, plant: &Plant, origins: &[ValueOrigin]) -> Self {
        self.can_be_built = can_be_built(plant, origins).map(|(verdict, _)| verdict);
        self.origins = origins.iter().map(OriginRow::from).collect();
        self
    }
}

/// Runs the year of one arrangement; the recorder receives every piece of it. `read_warnings` are the warnings of reading
/// the plant.
///
/// # Errors
/// The arrangement itself, when the plant lacks the parts for it.
pub fn run<R: Recorder>(
    plant: &Plant,
    arrangement: Arrangement,
    step: Step,
    read_warnings: &[Warning],
    recorder: &mut R,
) -> Result<Run, Arrangement> {
    run_with(plant, arrangement, step, read_warnings, Effort::Descent, recorder)
}

/// The same with a given effort of the search for the best rule of pumping.
///
/// # Errors
/// The arrangement itself, when the plant lacks the parts for it.
pub fn run_with<R: Recorder>(
    plant: &Plant,
    arrangement: Arrangement,
    step: Step,
    read_warnings: &[Warning],
    effort: Effort,
    recorder: &mut R,
) -> Result<Run, Arrangement> {
    if !plant.can_run(arrangement) {
        return Err(arrangement);
    }
    // The search for the best rule needs most stages of the answer, too.
    let memory = Memory::new();
    let rows = [arrangement, plant.reference];
    let rules = find_or_held(plant, step, &rows, &memory, FindRules::Search(effort));
    let stages = Stages::for_rows(plant, step, &rows, &memory).with_rules(rules);
    let result = stages.year(arrangement, recorder);
    let loads_only_bill = loads_only_bill(&stages);
    let year = ArrangementYear::new(&stages, loads_only_bill, arrangement, result);
    let reference = if arrangement == plant.reference {
        year.clone()
    } else {
        let result = stages.year(plant.reference, &mut NoRecorder);
        ArrangementYear::new(&stages, loads_only_bill, plant.reference, result)
    };
    let row = row(&stages, &year, &reference);
    Ok(Run {
        plant: plant.name.clone(),
        reference: plant.reference,
        step_s: step.seconds(),
        steps: stages.axis.steps(),
        weather: weather_summary(&stages),
        years: years(plant),
        prices: Prices::of(plant),
        priced_at: PricedAt::of(&lost(plant)),
        water_secured: water_secured(&year),
        battery_of_array: battery_of_array(&year),
        months: months(&year),
        shade: shade(&stages),
        plane_by_month_and_hour_w_m2: by_month_and_hour(&stages),
        workings: workings(&Case {
            stages: &stages,
            year: &year,
            reference: &reference,
            row: &row,
            names: name_by_id,
        }),
        notices: warnings_of(read_warnings, &stages)
            .chain(of_strings(plant))
            .chain(notices(&stages, &year, &reference))
            .collect(),
        origins: Vec::new(),
        can_be_built: None,
        row,
    })
}
