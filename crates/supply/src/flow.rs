//! What flows, each quantity declared once: its name, its measure, and its place in results.
//!
//! [`Piece`](crate::Piece) holds a rate for each flow, [`MonthBook`](crate::MonthBook) an amount, both under the same
//! index: `piece[Flow::Pumped]` is in m³/s, `book[Flow::Pumped]` in m³. Every flow is booked alike, as its rate times the
//! length of the piece. So a new flow takes one line below, and the place in the engine that sets its rate.
//!
//! Flows are grouped in sections. While the first flow of a section is zero, nothing in the section flows, and the section
//! is not booked.

#[macro_use]
mod declare;

use std::borrow::Cow;
use std::ops::Range;

use daylift_units::constants::{HOUR_S, KWH_J, LITRES_PER_M3};

use self::declare::starts;
use crate::cause::{LossCause, ShortfallCause};

flows! {
    /// Energy of the array.
    Array {
        /// DC energy at the maximum-power point after the array's own losses, before cables.
        Available = "available", Energy, [("array_kwh", "available", "available_kwh")], [Months, Steps];
        /// Array energy lost to a cause.
        Lost(cause: LossCause) = "lost", Energy, [("array_kwh.lost", "*", "lost_*_kwh")];
        /// Array energy to the pump, at the motor's terminals.
        ArrayToPump = "array_to_pump", Energy,
            [("array_kwh", "to_pump", "to_pump_kwh"), ("pump_kwh", "array", "pump_from_array_kwh")], [Months, Steps];
        /// Array energy to the farm's other loads.
        ArrayToLoads = "array_to_loads", Energy,
            [("array_kwh", "to_loads", "to_loads_kwh"), ("load_kwh", "array", "load_from_array_kwh")], [Months, Steps];
        /// Array energy into the battery.
        ArrayToBattery = "array_to_battery", Energy,
            [("array_kwh", "to_battery", "to_battery_kwh"), ("battery_kwh", "from_array", "battery_from_array_kwh")], [Months, Steps];
        /// Array energy given to the utility.
        Exported = "exported", Energy, [("grid_kwh", "exported", "exported_kwh")], [Steps];
        /// Array energy exported at a credit.
        ExportedPaid = "exported_paid", Energy, [("array_kwh", "exported_paid", "exported_paid_kwh")];
        /// What `export-limit` took, at the bus: AC energy that could have been exported if the agreement had allowed it.
        ExportLimitAc = "export_limit_ac", Energy, [];
    }
    /// Energy of the utility.
    Grid {
        /// Taken from the utility: for the pump and its feed's loss, the loads, the battery and its charging loss.
        Imported = "imported", Energy, [("grid_kwh", "imported", "imported_kwh")], [Months, Steps];
        /// Grid energy at the motor's terminals.
        GridToPump = "grid_to_pump", Energy, [("pump_kwh", "grid", "pump_from_grid_kwh")], [Steps];
        /// Grid energy to the loads.
        GridToLoads = "grid_to_loads", Energy, [("load_kwh", "grid", "load_from_grid_kwh")];
        /// Grid energy into the battery.
        GridToBattery = "grid_to_battery", Energy, [("battery_kwh", "from_grid", "battery_from_grid_kwh")];
        /// Grid energy lost on its way to the pump: in the motor cable and, on a drive's second input, in the drive.
        GridLost = "grid_lost", Energy, [("grid_kwh", "pump_feed_loss", "grid_pump_feed_loss_kwh")];
        /// Grid energy lost on its way into the battery.
        GridChargingLost = "grid_charging_lost", Energy, [("grid_kwh", "charging_loss", "grid_charging_loss_kwh")];
    }
    /// Energy of the battery.
    Battery {
        /// Given by the battery, at its terminals.
        Discharged = "battery_discharged", Energy, [("battery_kwh", "discharged", "battery_discharged_kwh")], [Months];
        /// Battery energy at the motor's terminals.
        BatteryToPump = "battery_to_pump", Energy, [("pump_kwh", "battery", "pump_from_battery_kwh")];
        /// Battery energy to the loads.
        BatteryToLoads = "battery_to_loads", Energy, [("load_kwh", "battery", "load_from_battery_kwh")];
        /// Battery energy lost in motor cable and battery's inverter.
        BatteryLost = "battery_lost", Energy, [];
        /// Of what was discharged, what had come from the array.
        DischargedOfArray = "battery_discharged_of_array", Energy, [];
    }
    /// Energy and fuel of the generator.
    Generator {
        /// Made by the generator, at its terminals.
        Generated = "generator", Energy, [("generator", "kwh", "generator_kwh")], [Months, Steps];
        /// Energy of the generator at the motor's terminals.
        GeneratorToPump = "generator_to_pump", Energy, [("pump_kwh", "generator", "pump_from_generator_kwh")];
        /// Energy of the generator to the loads.
        GeneratorToLoads = "generator_to_loads", Energy, [("load_kwh", "generator", "load_from_generator_kwh")];
        /// Energy of the generator lost in the motor cable.
        GeneratorLost = "generator_lost", Energy, [];
        /// Time that the generator runs.
        GeneratorRunning = "generator_running", Time, [("generator", "hours", "generator_h")];
        /// Of that, below its minimum load.
        GeneratorBelowLeast = "generator_below_least", Time, [];
        /// Fuel of the generator.
        Fuel = "fuel", Fuel, [("generator", "fuel_l", "fuel_l")], [Months];
    }
    /// What is there at any time.
    Always {
        /// All time.
        Time = "time", Time, [];
        /// Energy that the loads want.
        Load = "load", Energy, [("load_kwh", "demand", "load_kwh")], [Steps];
        /// Load not served.
        Unserved = "unserved", Energy, [("load_kwh", "unserved", "load_unserved_kwh")], [Months, Steps];
        /// Water wanted by the farm.
        Demand = "demand", Volume, [("water_m3", "demand", "demand_m3")], [Months, Steps];
        /// Water pumped into the tank.
        Pumped = "pumped", Volume, [("water_m3", "pumped", "pumped_m3")], [Months, Steps];
        /// Water delivered to the farm.
        Delivered = "delivered", Volume, [("water_m3", "delivered", "delivered_m3")], [Months, Steps];
        /// Demand not met, by what held the pump back.
        Shortfall(cause: ShortfallCause) = "shortfall", Volume, [("water_m3", "shortfall", "shortfall_m3")];
        /// Time with flow in any pump set.
        Pumping = "pumping", Time, [("hours", "pumping", "pumping_h")], [Months];
    }
    /// The same, of the time in which the utility is away.
    Away {
        /// Time with the utility away.
        Outage = "outage", Time, [("hours", "outage", "outage_h")], [Months];
        /// Water wanted while the utility was away.
        DemandInOutage = "demand_in_outage", Volume, [];
        /// Water delivered while the utility was away.
        DeliveredInOutage = "delivered_in_outage", Volume, [];
        /// Time with flow and the utility away.
        PumpingInOutage = "pumping_in_outage", Time, [("hours", "pumping_in_outage", "pumping_in_outage_h")];
    }
}

/// What a flow is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// A rate in W, an amount in J, a result in kWh.
    Energy,
    /// A rate in m³/s, an amount and a result in m³.
    Volume,
    /// A rate in m³/s, an amount in m³, a result in l.
    Fuel,
    /// A rate as a share of the time, an amount in s, a result in h.
    Time,
}

impl Measure {
    /// Unit of results.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Energy => "kWh",
            Self::Volume => "m³",
            Self::Fuel => "l",
            Self::Time => "h",
        }
    }

    /// An amount \[J, m³ or s\] in the unit of results.
    #[must_use]
    pub const fn in_unit(self, amount: f64) -> f64 {
        match self {
            Self::Energy => amount / KWH_J,
            Self::Volume => amount,
            Self::Fuel => amount * LITRES_PER_M3,
            Self::Time => amount / HOUR_S,
        }
    }
}

/// Where results show the amount of a flow. Flows with the same place are added up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Object of a row, such as `array_kwh`; with a dot, an object inside it.
    pub group: &'static str,
    /// Key in that object; `*` is replaced by the id of the flow's cause.
    pub key: &'static str,
    /// Column in tables of rows; `*` as in the key.
    pub column: &'static str,
}

/// A table of all flows over time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    /// A line for each month.
    Months,
    /// A line for each step.
    Steps,
}

impl Flow {
    /// All of them, section by section.
    pub const ALL: [Self; Self::COUNT] = listed([Self::Available; Self::COUNT]);

    /// The flows that a series by step holds, in the same order.
    pub const OF_STEPS: [Self; count_in_steps()] = listed_in_steps();

    /// The uses of the array's energy that is not lost, in the same order: from the pump to the export.
    #[must_use]
    pub fn uses_of_array() -> &'static [Self] {
        const ALL: [Flow; Flow::COUNT] = Flow::ALL;
        &ALL[USES]
    }

    /// Whether a table shows this flow.
    #[must_use]
    pub const fn is_in(self, table: Table) -> bool {
        let tables = self.tables();
        let mut i = 0;
        while i < tables.len() {
            if tables[i] as u8 == table as u8 {
                return true;
            }
            i += 1;
        }
        false
    }

    /// A key or column of this flow, with the id of its cause instead of `*`.
    #[must_use]
    pub fn named(self, pattern: &'static str) -> Cow<'static, str> {
        match self.cause() {
            Some(cause) if pattern.contains('*') => Cow::Owned(pattern.replace('*', cause)),
            _ => Cow::Borrowed(pattern),
        }
    }
}

/// The places of the array's uses: everything declared from the pump to the export.
pub(crate) const USES: Range<usize> = Flow::ArrayToPump.index()..Flow::Exported.index() + 1;
/// The places of what is lost, in the order of the causes.
pub(crate) const LOST: Range<usize> = range_of(Flow::Lost(LossCause::ALL[0]), LossCause::COUNT);
/// The places of the shortfall, in the order of the causes.
pub(crate) const SHORTFALL: Range<usize> = range_of(Flow::Shortfall(ShortfallCause::ALL[0]), ShortfallCause::COUNT);

/// Adds the flows of one section, unless its first flow is zero.
#[inline]
fn book_section<const SECTION: usize>(amounts: &mut [f64; Flow::COUNT], rates: &[f64; Flow::COUNT], length_s: f64) {
    let (first, end) = const { (SECTIONS[SECTION], SECTIONS[SECTION + 1]) };
    if rates[first] == 0.0 {
        return;
    }
    for (amount, rate) in amounts[first..end].iter_mut().zip(&rates[first..end]) {
        *amount += rate * length_s;
    }
}

const fn count_in_steps() -> usize {
    let (mut count, mut i) = (0, 0);
    while i < Flow::COUNT {
        count += Flow::ALL[i].is_in(Table::Steps) as usize;
        i += 1;
    }
    count
}

const fn listed_in_steps() -> [Flow; count_in_steps()] {
    let mut listed = [Flow::Available; count_in_steps()];
    let (mut count, mut i) = (0, 0);
    while i < Flow::COUNT {
        if Flow::ALL[i].is_in(Table::Steps) {
            listed[count] = Flow::ALL[i];
            count += 1;
        }
        i += 1;
    }
    listed
}

const fn range_of(first: Flow, count: usize) -> Range<usize> {
    first.index()..first.index() + count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_flow_has_an_index_and_a_name_of_its_own() {
        for (i, flow) in Flow::ALL.into_iter().enumerate() {
            assert_eq!(flow.index(), i);
            let same = Flow::ALL[..i].iter().any(|f| (f.id(), f.cause()) == (flow.id(), flow.cause()));
            assert!(!same, "{flow:?}");
        }
    }

    #[test]
    fn a_section_is_left_out_while_its_first_flow_is_zero() {
        let mut rates = [1.0; Flow::COUNT];
        rates[Flow::Available.index()] = 0.0;
        rates[Flow::Generated.index()] = 0.0;
        let mut amounts = [0.0; Flow::COUNT];
        book(&mut amounts, &rates, 2.0);
        let nil = |flow: &Flow| (Flow::Available.index()..Flow::Imported.index()).contains(&flow.index());
        let nil = |flow: &Flow| nil(flow) || (Flow::Generated.index()..Flow::Time.index()).contains(&flow.index());
        for flow in Flow::ALL {
            let amount = amounts[flow.index()];
            assert!(
                (amount - if nil(&flow) { 0.0 } else { 2.0 }).abs() < 1e-15,
                "{flow:?}: {amount}"
            );
        }
    }

    #[test]
    fn a_place_belongs_to_one_flow_or_to_one_family() {
        let places = Flow::ALL
            .into_iter()
            .flat_map(|flow| flow.places().iter().map(move |place| (flow, place)));
        let mut seen: Vec<(Flow, &Place)> = Vec::new();
        for (flow, place) in places {
            for (other, taken) in &seen {
                let keys = [flow.named(place.key), other.named(taken.key)];
                let one_place = place.group == taken.group && keys[0] == keys[1];
                assert!(!one_place || flow.id() == other.id(), "{flow:?} and {other:?}");
            }
            seen.push((flow, place));
        }
    }

    #[test]
    fn amounts_are_shown_in_the_units_of_results() {
        // 7.2 MJ are 2 kWh, 5400 s are 1.5 h, 0.25 m³ of fuel are 250 l.
        let shown = [Flow::Imported, Flow::Pumping, Flow::Fuel, Flow::Pumped].map(Flow::measure);
        let amounts = [7.2e6, 5400.0, 0.25, 0.25];
        let units: Vec<_> = shown.iter().zip(amounts).map(|(m, amount)| (m.in_unit(amount), m.unit())).collect();
        assert_eq!(units, [(2.0, "kWh"), (1.5, "h"), (250.0, "l"), (0.25, "m³")]);
    }
}
