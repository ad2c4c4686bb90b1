//! Columns of results: each flow in the place that its declaration names, and columns derived from flows.
//!
//! A group of a row is a [`Sums`] of one of the types in [`groups`]. It holds the whole account and shows the columns of
//! its group. So a newly declared flow appears in rows, months and tables without a change here.

pub mod groups;

use std::borrow::Cow;
use std::marker::PhantomData;

use daylift_supply::{Flow, Measure, MonthBook, YearResult};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};
use serde_json::{Map, Value};

use self::groups::{Group, Layout};

/// The position of a column that differs from the order in which flows are declared.
#[derive(Debug, Clone, Copy)]
pub enum Position {
    /// Directly before the named column.
    Before(&'static str),
    /// Directly after the named column.
    After(&'static str),
    /// After all other columns.
    Last,
}

/// Something that [`Position`] can refer to by name.
pub trait Named {
    /// The name.
    fn name(&self) -> &str;
}

/// Inserts other columns at their positions, one by one. A column whose position names an unknown column goes last.
#[must_use]
pub fn with_inserted<T: Named>(mut columns: Vec<T>, others: impl IntoIterator<Item = (Position, T)>) -> Vec<T> {
    for (position, other) in others {
        let place = |name: &str| columns.iter().position(|column| column.name() == name);
        let at = match position {
            Position::Before(name) => place(name),
            Position::After(name) => place(name).map(|at| at + 1),
            Position::Last => None,
        };
        columns.insert(at.unwrap_or(columns.len()), other);
    }
    columns
}

/// Moves the named column to another position.
#[must_use]
pub fn moved<T: Named>(mut columns: Vec<T>, position: Position, name: &str) -> Vec<T> {
    let Some(at) = columns.iter().position(|column| column.name() == name) else {
        return columns;
    };
    let column = columns.remove(at);
    with_inserted(columns, [(position, column)])
}

/// Unit suffix in the names of columns with amounts of a measure: `kwh`, `m3`, `l` or `h`.
#[must_use]
pub const fn suffix(measure: Measure) -> &'static str {
    match measure {
        Measure::Energy => "kwh",
        Measure::Volume => "m3",
        Measure::Fuel => "l",
        Measure::Time => "h",
    }
}

/// An account over a period: the amount of every flow, and the change of content of battery and tank.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Account {
    /// Amount of every flow.
    pub book: MonthBook,
    /// Battery content at the end minus content at the start \[J\].
    pub battery_stored_j: f64,
    /// Tank content at the end minus content at the start \[m³\].
    pub stored_m3: f64,
}

impl Account {
    /// The account of a year.
    #[must_use]
    pub fn of_year(year: &YearResult) -> Self {
        Self {
            book: year.ledger.year(),
            battery_stored_j: year.battery_stored_j(),
            stored_m3: year.stored_m3(),
        }
    }

    /// The account of flows alone, with no change of content.
    #[must_use]
    pub fn of_flows(book: &MonthBook) -> Self {
        Self {
            book: *book,
            ..Self::default()
        }
    }
}

/// What a column shows.
#[derive(Debug, Clone)]
pub enum Amount {
    /// A flow, or the sum of several flows.
    Flows(Vec<Flow>),
    /// A value derived from the account, in the unit of results.
    Derived(fn(&Account) -> f64),
}

/// A column of a group.
#[derive(Debug, Clone)]
pub struct Column {
    /// Key in the group.
    pub key: Cow<'static, str>,
    /// Name in tables of rows; `None` if these tables leave the column out.
    pub name: Option<Cow<'static, str>>,
    /// Description for the schema; `None` for a member of a family (such as loss causes), whose key is clear enough.
    pub about: Option<String>,
    /// Its amount.
    pub amount: Amount,
}

impl Named for Column {
    fn name(&self) -> &str {
        &self.key
    }
}

impl Column {
    /// Its value, in the unit of results.
    #[must_use]
    pub fn of(&self, account: &Account) -> f64 {
        match &self.amount {
            Amount::Flows(flows) => shown(&account.book, flows),
            Amount::Derived(of) => of(account),
        }
    }

    /// Whether it shows a flow.
    #[must_use]
    pub fn shows(&self, flow: Flow) -> bool {
        matches!(&self.amount, Amount::Flows(flows) if flows.contains(&flow))
    }
}

/// The sum of flows with the same measure, in the unit of results.
fn shown(book: &MonthBook, flows: &[Flow]) -> f64 {
    let amount: f64 = flows.iter().map(|flow| book[*flow]).sum();
    flows.first().map_or(0.0, |flow| flow.measure().in_unit(amount))
}

/// An account, shown in the columns of a group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sums<G> {
    account: Account,
    group: PhantomData<fn() -> G>,
}

impl<G: Group> Sums<G> {
    /// Shows an account.
    #[must_use]
    pub fn new(account: Account) -> Self {
        Self {
            account,
            group: PhantomData,
        }
    }

    /// Amount of a flow, in the unit of results.
    #[must_use]
    pub fn of(&self, flow: Flow) -> f64 {
        self.account.book.shown(flow)
    }

    /// Keys and values of the group in order, without those of a nested group.
    pub fn iter(&self) -> impl Iterator<Item = (&'static str, f64)> {
        G::layout().columns.iter().map(|column| (&*column.key, column.of(&self.account)))
    }

    /// Names and values for tables of rows: the group's own columns, then those of a nested group.
    pub fn cells(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let part = (G::layout().part)().into_iter().flat_map(|part| part.layout.columns.iter());
        let columns = G::layout().columns.iter().chain(part);
        columns.filter_map(|column| Some((column.name.as_deref()?, column.of(&self.account))))
    }
}

impl<G: Group> Serialize for Sums<G> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        By(G::layout(), &self.account).serialize(serializer)
    }
}

/// An account with the layout to serialize it.
struct By<'a>(&'static Layout, &'a Account);

impl Serialize for By<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self(layout, account) = self;
        let mut map = serializer.serialize_map(None)?;
        for column in layout.columns.iter() {
            map.serialize_entry(&column.key, &column.of(account))?;
        }
        if let Some(part) = (layout.part)() {
            map.serialize_entry(part.key, &By(part.layout, account))?;
        }
        map.end()
    }
}

impl<G: Group> JsonSchema for Sums<G> {
    fn schema_name() -> Cow<'static, str> {
        G::layout().name.into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let layout = G::layout();
        let mut properties: Map<String, Value> = layout.columns.iter().map(property).collect();
        if let Some(part) = (layout.part)() {
            let mut schema = (part.schema)(generator);
            schema.insert("description".to_owned(), part.about.into());
            properties.insert(part.key.to_owned(), schema.to_value());
        }
        let required: Vec<&String> = properties.keys().collect();
        json_schema!({
            "description": layout.about,
            "type": "object",
            "required": required,
            "properties": properties,
        })
    }
}

/// A column's key, and the schema of its value.
fn property(column: &Column) -> (String, Value) {
    let mut schema = json_schema!({"type": "number", "format": "double"});
    if let Some(about) = &column.about {
        schema.insert("description".to_owned(), about.clone().into());
    }
    (column.key.clone().into_owned(), schema.to_value())
}

#[cfg(test)]
mod tests {
    use super::*;

    impl Named for &'static str {
        fn name(&self) -> &str {
            self
        }
    }

    #[test]
    fn a_column_is_inserted_before_or_after_another_or_last() {
        let others = [
            (Position::Before("imported"), "lost"),
            (Position::Before("imported"), "main_loss"),
            (Position::After("available"), "to_pump"),
            (Position::Last, "tank"),
            (Position::After("nothing"), "level"),
        ];
        let columns = with_inserted(vec!["available", "imported"], others);
        assert_eq!(
            columns,
            ["available", "to_pump", "lost", "main_loss", "imported", "tank", "level"]
        );
    }

    #[test]
    fn a_moved_column_occurs_once() {
        let columns = vec!["array", "grid", "demand"];
        assert_eq!(
            moved(columns.clone(), Position::Before("array"), "demand"),
            ["demand", "array", "grid"]
        );
        assert_eq!(moved(columns, Position::Last, "unknown"), ["array", "grid", "demand"]);
    }

    #[test]
    fn a_group_shows_its_flows_and_its_derived_columns() {
        let account = Account {
            battery_stored_j: 7.2e6,
            ..Account::default()
        };
        let battery = Sums::<groups::BatteryEnergy>::new(account);
        let keys = [
            ("from_array", 0.0),
            ("from_grid", 0.0),
            ("discharged", 0.0),
            ("stored_change", 2.0),
        ];
        assert_eq!(battery.iter().collect::<Vec<_>>(), keys);
        let cells: Vec<&str> = battery.cells().map(|(name, _)| name).collect();
        assert_eq!(cells.last(), Some(&"battery_stored_change_kwh"));
        let of_array = Sums::<groups::ArrayEnergy>::new(account);
        let text = serde_json::to_string(&of_array).unwrap_or_default();
        assert!(
            text.contains(r#""exported_paid":0.0,"exported_unpaid":0.0,"lost":{"grid-down":0.0,"#),
            "{text}"
        );
    }
}
