//! The groups of a row and of a month: which flows each shows, and which derived columns.

use std::borrow::Cow;
use std::sync::LazyLock;

use daylift_supply::{Flow, LossCause, Table};
use daylift_units::constants::KWH_J;
use schemars::{Schema, SchemaGenerator};

use super::Position::{After, Before, Last};
use super::{Account, Amount, Column, Position, Sums, moved, suffix, with_inserted};

/// A group of columns in results, for [`Sums`].
pub trait Group: 'static {
    /// The layout of the group.
    fn layout() -> &'static Layout;
}

/// The layout of a group.
pub struct Layout {
    /// Name in schemas.
    pub name: &'static str,
    /// Description for the schema.
    pub about: &'static str,
    /// Its columns in order.
    pub columns: LazyLock<Vec<Column>>,
    /// A nested group, after the columns.
    pub part: fn() -> Option<Part>,
}

/// A group nested in another.
pub struct Part {
    /// Its key in the outer group.
    pub key: &'static str,
    /// Description for the schema.
    pub about: &'static str,
    /// Its layout.
    pub layout: &'static Layout,
    /// Its schema.
    pub schema: fn(&mut SchemaGenerator) -> Schema,
}

/// Which flows a group shows.
#[derive(Debug, Clone, Copy)]
enum FlowsOf {
    /// The flows declared for the named group, under the keys declared there.
    Places(&'static str),
    /// The flows of the table of months, under their names; without the array's, which have a group of their own.
    Months,
}

/// A column that is derived from the account instead of declared with a flow.
struct Derived {
    position: Position,
    key: &'static str,
    name: Option<&'static str>,
    about: &'static str,
    of: fn(&Account) -> f64,
}

/// A derived column that tables of rows leave out.
const fn derived(position: Position, key: &'static str, about: &'static str, of: fn(&Account) -> f64) -> Derived {
    Derived {
        position,
        key,
        name: None,
        about,
        of,
    }
}

impl Derived {
    /// The same column with a name in tables of rows.
    const fn named(self, name: &'static str) -> Self {
        Self {
            name: Some(name),
            ..self
        }
    }
}

/// `None`, or `Some` of an expression.
macro_rules! maybe {
    () => {
        None
    };
    ($value:expr) => {
        Some($value)
    };
}

/// Declares groups: a type for each, which flows it shows, which keys move from the declared order, which columns are
/// derived, and a nested group.
macro_rules! groups {
    ($($(#[doc = $doc:literal])+ $group:ident of $from:expr => {
        $(moved: [$($moved:expr),+],)?
        $(derived: [$($derived:expr),+],)?
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
                        columns: LazyLock::new(|| columns($from, &[$($($moved),+)?], &[$($($derived),+)?])),
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
        derived: [
            derived(After("exported_paid"), "exported_unpaid", "Exported without a credit.", exported_unpaid_kwh)
                .named("exported_unpaid_kwh")
        ],
        part: Part {
            key: "lost",
            about: "Lost energy by cause; losses and the uses above add up to the available energy.",
            layout: Lost::layout(),
            schema: |generator| generator.subschema_for::<Sums<Lost>>(),
        },
    }
    /// Lost energy by cause, in kWh. Where several causes apply to a kWh, the first in this order counts.
    Lost of FlowsOf::Places("array_kwh.lost") => {}
    /// Energy at the utility's meter, in kWh.
    GridEnergy of FlowsOf::Places("grid_kwh") => {
        moved: [(Before("exported"), "imported")],
    }
    /// Energy at the pump motor's terminals by source, in kWh.
    PumpEnergy of FlowsOf::Places("pump_kwh") => {}
    /// Energy of the farm's other loads by source, in kWh.
    LoadEnergy of FlowsOf::Places("load_kwh") => {
        moved: [(Before("array"), "demand")],
    }
    /// Energy of the battery, in kWh.
    BatteryEnergy of FlowsOf::Places("battery_kwh") => {
        derived: [
            derived(Last, "stored_change", "Content at the end minus content at the start.", |a| a.battery_stored_j / KWH_J)
                .named("battery_stored_change_kwh")
        ],
    }
    /// The generator.
    Generator of FlowsOf::Places("generator") => {}
    /// Water, in m³.
    WaterVolume of FlowsOf::Places("water_m3") => {
        derived: [
            derived(After("pumped"), "rain", "Rain into the tank.", |_| 0.0),
            derived(Last, "overflow", "Overflow of the tank.", |_| 0.0),
            derived(Last, "evaporated", "Evaporated from the tank.", |_| 0.0),
            derived(Last, "stored_change", "Content at the end minus content at the start.", |a| a.stored_m3)
        ],
    }
    /// Times, in h.
    Hours of FlowsOf::Places("hours") => {
        moved: [(Before("pumping"), "outage")],
    }
    /// Sums of a month.
    MonthSums of FlowsOf::Months => {
        derived: [
            derived(After("imported_kwh"), "pump_kwh", "Energy at the pump motor's terminals, from all sources [kWh].", at_pump_kwh)
        ],
    }
}

/// Columns of a group in order.
fn columns(from: FlowsOf, to_move: &[(Position, &'static str)], derived: &[Derived]) -> Vec<Column> {
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
    let columns = to_move.iter().fold(columns, |columns, (position, key)| moved(columns, *position, key));
    with_inserted(columns, derived.iter().map(|d| (d.position, d.column())))
}

impl FlowsOf {
    /// The column of a flow; `None` if the group does not show it.
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

impl Derived {
    fn column(&self) -> Column {
        Column {
            key: Cow::Borrowed(self.key),
            name: self.name.map(Cow::Borrowed),
            about: Some(self.about.to_owned()),
            amount: Amount::Derived(self.of),
        }
    }
}

/// Name of a flow's column in tables of amounts over time, such as `imported_kwh`.
#[must_use]
pub fn column_name(flow: Flow) -> String {
    format!("{}_{}", flow.id(), suffix(flow.measure()))
}

/// Exported without a credit.
fn exported_unpaid_kwh(account: &Account) -> f64 {
    (account.book[Flow::Exported] - account.book[Flow::ExportedPaid]) / KWH_J
}

/// Energy at the motor's terminals, from all sources.
fn at_pump_kwh(account: &Account) -> f64 {
    let feeds = |flow: &Flow| flow.places().iter().any(|place| place.group == "pump_kwh");
    let sum_j: f64 = Flow::ALL.into_iter().filter(feeds).map(|flow| account.book[flow]).sum();
    sum_j / KWH_J
}

impl Sums<LoadEnergy> {
    /// Energy served by each source, in order.
    pub fn sources(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let columns = LoadEnergy::layout().columns.iter();
        let sources = columns.filter(|column| !column.shows(Flow::Load) && !column.shows(Flow::Unserved));
        sources.map(|column| (&*column.key, column.of(&self.account)))
    }
}

impl Sums<MonthSums> {
    /// Energy at the motor's terminals, from all sources, in kWh.
    #[must_use]
    pub fn at_pump(&self) -> f64 {
        at_pump_kwh(&self.account)
    }
}

impl Sums<ArrayEnergy> {
    /// Energy of each use, including unpaid export, by key, in order.
    pub fn uses(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let columns = ArrayEnergy::layout().columns.iter();
        let uses = columns.filter(|column| !column.shows(Flow::Available));
        uses.map(|column| (&*column.key, column.of(&self.account)))
    }

    /// Energy used or paid for, in kWh: all uses without unpaid export.
    #[must_use]
    pub fn used(&self) -> f64 {
        let columns = ArrayEnergy::layout().columns.iter();
        let flows = columns.filter(|column| matches!(column.amount, Amount::Flows(_)));
        let uses = flows.filter(|column| !column.shows(Flow::Available));
        uses.map(|column| column.of(&self.account)).sum()
    }

    /// Energy exported, with and without a credit, in kWh.
    #[must_use]
    pub fn exported(&self) -> f64 {
        self.of(Flow::ExportedPaid) + exported_unpaid_kwh(&self.account)
    }

    /// Energy lost to a cause, in kWh.
    #[must_use]
    pub fn lost(&self, cause: LossCause) -> f64 {
        self.of(Flow::Lost(cause))
    }
}
