//! The finished answers with their texts, for JSON: `daylift.compare.1`, `daylift.run.1`, `daylift.strings.1`.
//!
//! Energies in kWh, volumes in m³, times in hours, money in the plant's currency. Every key is always present, except
//! `pairs`; a value that does not apply is 0 or null.

use daylift_plant::Arrangement;
use daylift_study::answer::WeatherSummary;
use daylift_study::by_id::by_id;
use daylift_study::detail::{Month, WaterSecured};
use daylift_study::origins::OriginRow;
use daylift_study::service::PricedAt;
use daylift_study::sunlight::ShadeRow;
use daylift_study::{Notice, Pair, Working};
use schemars::JsonSchema;
use serde::Serialize;

use crate::findings::{ChangeRow, FindingRow};
use crate::notices::notices;
use crate::strings;

/// Name and version of the layout of [`Comparison`].
pub const COMPARE_SCHEMA: &str = "daylift.compare.1";
/// Name and version of the layout of [`Run`].
pub const RUN_SCHEMA: &str = "daylift.run.1";

/// Every arrangement of a plant side by side.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Comparison {
    /// Name and version of this layout.
    pub schema: String,
    /// Name of the plant.
    pub plant: String,
    /// Today's arrangement, with which money is compared.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub reference: Arrangement,
    /// Length of a step, in s.
    pub step_s: u32,
    /// Steps in the year.
    pub steps: usize,
    /// Weather of the year.
    pub weather: WeatherSummary,
    /// Values of what is missing, which `npv`, `payback_years` and `irr` include; null if the plant gives none.
    pub priced_at: Option<PricedAt>,
    /// What the best comparable row adds to its runner-up; null if no comparable row has a net present value above 0.
    pub runner_up: Option<Pair>,
    /// What each comparable row adds to every cheaper one; only if requested with `--pairs`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pairs: Option<Vec<Pair>>,
    /// A row for each arrangement that the plant has the parts for.
    pub arrangements: Vec<Row>,
}

/// One arrangement through the year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Row {
    /// Its figures.
    #[serde(flatten)]
    pub figures: daylift_study::Row,
    /// Notices on this row.
    pub warnings: Vec<String>,
}

impl Row {
    fn new(figures: &daylift_study::Row, notes: &[Notice]) -> Self {
        Self {
            figures: figures.clone(),
            warnings: notices(notes),
        }
    }
}

impl Comparison {
    /// The same with what each comparable row adds to every cheaper one.
    #[must_use]
    pub fn with_pairs(self, found: &daylift_study::Comparison) -> Self {
        Self {
            pairs: Some(found.pairs()),
            ..self
        }
    }
}

impl From<&daylift_study::Comparison> for Comparison {
    fn from(found: &daylift_study::Comparison) -> Self {
        Self {
            schema: COMPARE_SCHEMA.to_owned(),
            plant: found.plant.clone(),
            reference: found.reference,
            step_s: found.step_s,
            steps: found.steps,
            weather: found.weather.clone(),
            priced_at: found.priced_at,
            runner_up: found.runner_up,
            pairs: None,
            arrangements: found.rows.iter().map(|one| Row::new(&one.row, &one.notices)).collect(),
        }
    }
}

/// One arrangement through a year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Run {
    /// Name and version of this layout.
    pub schema: String,
    /// Name of the plant.
    pub plant: String,
    /// Today's arrangement, with which money is compared.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub reference: Arrangement,
    /// Length of a step, in s.
    pub step_s: u32,
    /// Steps in the year.
    pub steps: usize,
    /// Weather of the year.
    pub weather: WeatherSummary,
    /// Years of the money calculation; 0 without `[money]`.
    pub years: u32,
    /// Values of what is missing, which `npv`, `payback_years` and `irr` include; null if the plant gives none.
    pub priced_at: Option<PricedAt>,
    /// The year, as in a comparison.
    pub row: Row,
    /// Water secured.
    pub water_secured: WaterSecured,
    /// Share of the battery's discharge that came from the array; null without a battery.
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
    /// Every value of the plant and where it came from.
    pub origins: Vec<OriginRow>,
}

impl From<&daylift_study::Run> for Run {
    fn from(found: &daylift_study::Run) -> Self {
        Self {
            schema: RUN_SCHEMA.to_owned(),
            plant: found.plant.clone(),
            reference: found.reference,
            step_s: found.step_s,
            steps: found.steps,
            weather: found.weather.clone(),
            years: found.years,
            priced_at: found.priced_at,
            row: Row::new(&found.row, &found.notices),
            water_secured: found.water_secured.clone(),
            battery_of_array: found.battery_of_array,
            months: found.months.clone(),
            shade: found.shade,
            plane_by_month_and_hour_w_m2: found.plane_by_month_and_hour_w_m2.clone(),
            workings: found.workings.clone(),
            origins: found.origins.clone(),
        }
    }
}

/// Whether the strings can be built, and which layouts are suitable.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StringsAnswer {
    /// The verdict, findings and layouts.
    #[serde(flatten)]
    pub found: daylift_study::strings::StringsAnswer<FindingRow, ChangeRow>,
    /// Cautions.
    pub cautions: Vec<String>,
}

impl From<&daylift_study::strings::StringsAnswer> for StringsAnswer {
    fn from(found: &daylift_study::strings::StringsAnswer) -> Self {
        Self {
            found: found.in_words(FindingRow::new, ChangeRow::new),
            cautions: strings::cautions().to_vec(),
        }
    }
}
