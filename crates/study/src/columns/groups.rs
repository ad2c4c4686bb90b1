//! The groups of a row and of a month: which flows each shows, and what stands beside the flows.

use std::borrow::Cow;
use std::sync::LazyLock;

use daylift_supply::{Flow, LossCause, Table};
use daylift_units::constants::KWH_J;
use schemars::{Schema, SchemaGenerator};

use super::Stands::{After, Before, Last};
use super::{Account, Amount, Column, Stands, Sums, arranged, moved, suffix};

/// A group of results, by which [`Sums`] shows an account.
pub trait Group: 'static {
    /// How it is laid out.
    fn layout() -> &'static Layout;
}

/// How a group is laid out.
pub struct Layout {
    /// Name in schemas.
    pub name: &'static str,
    /// What it is, for the schema.
    pub about: &'static str,
    /// Its columns in order.
    pub columns: LazyLock<Vec<Column>>,
    /// A group in it, after its columns.
    pub part: fn() -> Option<Part>,
}

/// A group in another.
pub struct Part {
    /// Key in the other.
    pub key: &'static str,
    /// What it is there, for the schema.
    pub about: &'static str,
    /// How it is laid out.
    pub layout: &'static Layout,
    /// Its schema.
    pub schema: fn(&mut SchemaGenerator) -> Schema,
}

/// Where a group has its flows from.
#[derive(Debug, Clone, Copy)]
enum FlowsOf {
    /// Those that are placed in it, by their keys there.
    Places(&'static str),
    /// Those that the table of months shows by their names, less the array's, which stand in a group of their own.
    Months,
}

/// A column that does not follow from a declaration.
struct Beside {
    stands: Stands,
    key: &'static str,
    name: Option<&'static str>,
    about: &'static str,
    of: fn(&Account) -> f64,
}

/// A column of rows alone.
const fn beside(stands: Stands, key: &'static str, about: &'static str, of: fn(&Account) -> f64) -> Beside {
    Beside {
        stands,
        key,
        name: None,
        about,
        of,
    }
}

impl Beside {
    /// The same in tables of rows too.
    const fn named(self, name: &'static str) -> Self {
        Self {
            name: Some(name),
            ..self
        }
    }
}

/// Nothing, or an expression.
macro_rules! maybe {
    () => {
        None
    };
    ($value:expr) => {
        Some($value)
    };
}

/// Groups: a type for each, where its flows come from, which keys stand elsewhere than where their flows are declared, and
/// what stands beside the flows.
macro_rules! groups {
    ($($(#[doc = $doc:literal])+ $group:ident of $from:expr => {
        $(moved: [$($moved:expr),+],)?
        $(beside: [$($beside:expr),+],)?
        $(part: $part:expr,)?
    })+) => {
        $(
            $(#[doc = $doc])+
            #[derive(Debug, Clone, Copy, PartialEq)]
            pub struct $group;

            impl Group for $group {
                fn layout() -> &'static Layout {
                    static LAYOUT: Layout = Layout {
                        name: stringify!($group),
                        about: concat!($($doc),+).trim_ascii(),
                        columns: LazyLock::new(|| columns($from, &[$($($moved),+)?], &[$($($beside),+)?])),
                        part: || maybe!($($part)?),
                    };
                    &LAYOUT
                }
            }
        )+
    };
}

groups! {
    /// Where the array's energy went, in kWh.
    ArrayEnergy of FlowsOf::Places("array_kwh") => {
        beside: [
            beside(After("exported_paid"), "exported_unpaid", "Exported without a credit.", exported_unpaid_kwh)
                .named("exported_unpaid_kwh")
        ],
        part: Part {
            key: "lost",
            about: "Lost, by cause; with the uses above it adds up to what was available.",
            layout: Lost::layout(),
            schema: |generator| generator.subschema_for::<Sums<Lost>>(),
        },
    }
    /// Lost energy by cause, in kWh, in the order in which a cause has a kWh first.
    Lost of FlowsOf::Places("array_kwh.lost") => {}
    /// Energy at the utility's meter, in kWh.
    GridEnergy of FlowsOf::Places("grid_kwh") => {
        moved: [(Before("exported"), "imported")],
    }
    /// Energy at the pump motor's terminals by origin, in kWh.
    PumpEnergy of FlowsOf::Places("pump_kwh") => {}
    /// Energy of the farm's other loads by origin, in kWh.
    LoadEnergy of FlowsOf::Places("load_kwh") => {
        moved: [(Before("array"), "demand")],
    }
    /// Energy of the battery, in kWh.
    BatteryEnergy of FlowsOf::Places("battery_kwh") => {
        beside: [
            beside(Last, "stored_change", "Content at the end minus content at the start.", |a| a.battery_stored_j / KWH_J)
                .named("battery_stored_change_kwh")
        ],
    }
    /// The generating set.
    Generator of FlowsOf::Places("generator") => {}
    /// Water, in m³.
    WaterVolume of FlowsOf::Places("water_m3") => {
        beside: [
            beside(After("pumped"), "rain", "Rain into the tank.", |_| 0.0),
            beside(Last, "overflow", "Overflow of the tank.", |_| 0.0),
            beside(Last, "evaporated", "Lost to the air.", |_| 0.0),
            beside(Last, "stored_change", "Content at the end minus content at the start.", |a| a.stored_m3)
        ],
    }
    /// Times, in h.
    Hours of FlowsOf::Places("hours") => {
        moved: [(Before("pumping"), "outage")],
    }
    /// Sums of a month.
    MonthSums of FlowsOf::Months => {
        beside: [
            beside(After("imported_kwh"), "pump_kwh", "Energy at the motor's terminals, from wherever it came [kWh].", at_pump_kwh)
        ],
    }
}

/// Columns of a group in order.
fn columns(from: FlowsOf, to_move: &[(Stands, &'static str)], beside: &[Beside]) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    for flow in Flow::ALL {
        let Some(column) = from.column(flow) else { continue };
        match columns.iter_mut().find(|other| other.key == column.key) {
            Some(Column {
                amount: Amount::Flows(flows),
                ..
            }) => flows.push(flow),
            _ => columns.push(column),
        }
    }
    let columns = to_move.iter().fold(columns, |columns, (stands, key)| moved(columns, *stands, key));
    arranged(columns, beside.iter().map(|b| (b.stands, b.column())))
}

impl FlowsOf {
    /// The column of a flow, when the group shows it.
    fn column(self, flow: Flow) -> Option<Column> {
        let (key, name, is_of_family) = match self {
            Self::Places(group) => {
                let place = flow.places().iter().find(|place| place.group == group)?;
                (
                    flow.named(place.key),
                    Some(flow.named(place.column)),
                    place.key.contains('*'),
                )
            }
            Self::Months => {
                let is_of_array = flow.places().iter().any(|place| place.group == "array_kwh");
                let shows = flow.is_in(Table::Months) && !is_of_array;
                (Cow::Owned(shows.then(|| column_name(flow))?), None, false)
            }
        };
        let about = format!("{} [{}].", flow.about().trim_end_matches('.'), flow.measure().unit());
        Some(Column {
            key,
            name,
            about: (!is_of_family).then_some(about),
            amount: Amount::Flows(vec![flow]),
        })
    }
}

impl Beside {
    fn column(&self) -> Column {
        Column {
            key: Cow::Borrowed(self.key),
            name: self.name.map(Cow::Borrowed),
            about: Some(self.about.to_owned()),
            amount: Amount::Derived(self.of),
        }
    }
}

/// What a flow is called in tables over time that hold amounts.
#[must_use]
pub fn column_name(flow: Flow) -> String {
    format!("{}_{}", flow.id(), suffix(flow.measure()))
}

/// What the utility got without paying.
fn exported_unpaid_kwh(account: &Account) -> f64 {
    (account.book[Flow::Exported] - account.book[Flow::ExportedPaid]) / KWH_J
}

/// Energy at the motor's terminals of all that feed it.
fn at_pump_kwh(account: &Account) -> f64 {
    let feeds = |flow: &Flow| flow.places().iter().any(|place| place.group == "pump_kwh");
    let sum_j: f64 = Flow::ALL.into_iter().filter(feeds).map(|flow| account.book[flow]).sum();
    sum_j / KWH_J
}

impl Sums<LoadEnergy> {
    /// What was served, by origin, in order.
    pub fn sources(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let columns = LoadEnergy::layout().columns.iter();
        let sources = columns.filter(|column| !column.shows(Flow::Load) && !column.shows(Flow::Unserved));
        sources.map(|column| (&*column.key, column.of(&self.account)))
    }
}

impl Sums<MonthSums> {
    /// At the motor's terminals, of all that feed it.
    #[must_use]
    pub fn at_pump(&self) -> f64 {
        at_pump_kwh(&self.account)
    }
}

impl Sums<ArrayEnergy> {
    /// What it was used for or given away for, by key, in order.
    pub fn uses(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let columns = ArrayEnergy::layout().columns.iter();
        let uses = columns.filter(|column| !column.shows(Flow::Available));
        uses.map(|column| (&*column.key, column.of(&self.account)))
    }

    /// What was used or paid for: all uses less what the utility got without paying.
    #[must_use]
    pub fn used(&self) -> f64 {
        let columns = ArrayEnergy::layout().columns.iter();
        let flows = columns.filter(|column| matches!(column.amount, Amount::Flows(_)));
        let uses = flows.filter(|column| !column.shows(Flow::Available));
        uses.map(|column| column.of(&self.account)).sum()
    }

    /// Exported, with a credit and without.
    #[must_use]
    pub fn exported(&self) -> f64 {
        self.of(Flow::ExportedPaid) + exported_unpaid_kwh(&self.account)
    }

    /// Lost to a cause.
    #[must_use]
    pub fn lost(&self, cause: LossCause) -> f64 {
        self.of(Flow::Lost(cause))
    }
}
