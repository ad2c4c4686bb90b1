//! A moment of a day: the flows while nothing changes, and the state of the switches.

use daylift_plant::Plant;
use daylift_supply::route::{ArrayFeed, PumpFeed, Route};
use daylift_supply::{Flow, LossCause, Piece};
use daylift_units::Month;
use daylift_units::constants::{HOUR_S, KWH_J};
use schemars::JsonSchema;
use serde::Serialize;

use crate::by_id::maybe_by_id;

const KW: f64 = 1e-3;
const M3_H: f64 = HOUR_S;

/// What the array is switched to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ArrayOn {
    /// Inverters.
    Inverter,
    /// Drives.
    Drive,
    /// Some string groups to inverters, others to drives.
    Both,
    /// Nothing, or there is no array.
    Neither,
}

/// What the pump runs on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PumpOn {
    /// Nothing: it does not run.
    Nothing,
    /// The farm's AC bus.
    Bus,
    /// A drive.
    Drive,
    /// Some pump sets on the bus, others on a drive.
    Both,
}

/// A part of the day in which nothing changes. Powers in kW, energies in kWh, flows in m³/h, volumes in m³.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Moment {
    /// Start, in s from the start of the day.
    pub start_s: f64,
    /// Length, in s.
    pub length_s: f64,
    /// Whether the grid is on.
    pub utility: bool,
    /// What the array is switched to.
    pub array_on: ArrayOn,
    /// What the pump runs on.
    pub pump_on: PumpOn,
    /// Array power at the maximum-power point.
    pub available_kw: f64,
    /// Array power at the motor's terminals.
    pub array_to_pump_kw: f64,
    /// Array power to the loads.
    pub array_to_loads_kw: f64,
    /// Array power into the battery.
    pub array_to_battery_kw: f64,
    /// Array power exported.
    pub exported_kw: f64,
    /// Array power lost.
    pub lost_kw: f64,
    /// The cause of the largest loss; null when nothing is lost.
    #[serde(serialize_with = "maybe_by_id")]
    #[schemars(with = "Option<String>")]
    pub main_loss: Option<LossCause>,
    /// Power imported from the grid.
    pub imported_kw: f64,
    /// Grid power at the motor's terminals.
    pub grid_to_pump_kw: f64,
    /// Grid power to the loads.
    pub grid_to_loads_kw: f64,
    /// Power at the battery's terminals: positive when it discharges, negative when it charges.
    pub battery_kw: f64,
    /// Battery power at the motor's terminals.
    pub battery_to_pump_kw: f64,
    /// Battery power to the loads.
    pub battery_to_loads_kw: f64,
    /// Battery content at the end.
    pub battery_kwh: f64,
    /// Power of the generator.
    pub generator_kw: f64,
    /// Generator power at the motor's terminals.
    pub generator_to_pump_kw: f64,
    /// Generator power to the loads.
    pub generator_to_loads_kw: f64,
    /// Power that the loads need.
    pub load_kw: f64,
    /// Load not served.
    pub unserved_kw: f64,
    /// Flow of the pumps.
    pub pumped_m3_h: f64,
    /// Water demand of the farm.
    pub demand_m3_h: f64,
    /// Water delivered to the farm.
    pub delivered_m3_h: f64,
    /// Tank content at the end.
    pub tank_m3: f64,
    /// Frequency of the drive, in Hz; 0 when it does not run.
    pub hz: f64,
    /// Water level in the well below the well head, in m; null with several pump sets.
    pub level_m: Option<f64>,
}

/// The water level in the well; known only where the plant has a single pump set.
pub(super) struct Level<'a> {
    well: Option<&'a daylift_lift::Well>,
    month: Month,
}

impl<'a> Level<'a> {
    pub(super) fn of(plant: &'a Plant, month: Month) -> Self {
        let well = match &plant.sets.raw[..] {
            [only] => Some(only.pump_set.system().well()),
            _ => None,
        };
        Self { well, month }
    }

    fn below_m(&self, flow_m3_s: f64) -> Option<f64> {
        self.well.map(|well| well.static_level_m(self.month) + well.drawdown_m(flow_m3_s))
    }
}

pub(super) fn moment(start_s: f64, piece: &Piece, route: Option<&Route>, level: &Level<'_>) -> Moment {
    let lost_w: f64 = piece.lost_w().iter().sum();
    let main_loss = LossCause::ALL
        .into_iter()
        .filter(|cause| piece[Flow::Lost(*cause)] > 0.0)
        .max_by(|a, b| piece[Flow::Lost(*a)].total_cmp(&piece[Flow::Lost(*b)]));
    // With a full tank the pump may run for part of a piece. The drawdown depends on the flow while it runs.
    let flow_m3_s = if piece[Flow::Pumping] > 0.0 {
        piece[Flow::Pumped] / piece[Flow::Pumping]
    } else {
        0.0
    };
    Moment {
        start_s,
        length_s: piece.length_s,
        utility: piece.utility,
        array_on: route.map_or(ArrayOn::Neither, array_on),
        pump_on: route.map_or(PumpOn::Nothing, |route| pump_on(route, piece)),
        available_kw: piece[Flow::Available] * KW,
        array_to_pump_kw: piece[Flow::ArrayToPump] * KW,
        array_to_loads_kw: piece[Flow::ArrayToLoads] * KW,
        array_to_battery_kw: piece[Flow::ArrayToBattery] * KW,
        exported_kw: piece[Flow::Exported] * KW,
        lost_kw: lost_w * KW,
        main_loss,
        imported_kw: piece[Flow::Imported] * KW,
        grid_to_pump_kw: piece[Flow::GridToPump] * KW,
        grid_to_loads_kw: piece[Flow::GridToLoads] * KW,
        battery_kw: -piece.battery_flow().net_w() * KW,
        battery_to_pump_kw: piece[Flow::BatteryToPump] * KW,
        battery_to_loads_kw: piece[Flow::BatteryToLoads] * KW,
        battery_kwh: piece.battery_j / KWH_J,
        generator_kw: piece[Flow::Generated] * KW,
        generator_to_pump_kw: piece[Flow::GeneratorToPump] * KW,
        generator_to_loads_kw: piece[Flow::GeneratorToLoads] * KW,
        load_kw: piece[Flow::Load] * KW,
        unserved_kw: piece[Flow::Unserved] * KW,
        pumped_m3_h: piece[Flow::Pumped] * M3_H,
        demand_m3_h: piece[Flow::Demand] * M3_H,
        delivered_m3_h: piece[Flow::Delivered] * M3_H,
        tank_m3: piece.tank_m3,
        hz: piece.hz,
        level_m: level.below_m(flow_m3_s),
    }
}

fn array_on(route: &Route) -> ArrayOn {
    let bus = route.groups.contains(&ArrayFeed::Bus);
    let drive = route.groups.contains(&ArrayFeed::Drive);
    match (bus, drive) {
        (true, true) => ArrayOn::Both,
        (true, false) => ArrayOn::Inverter,
        (false, true) => ArrayOn::Drive,
        (false, false) => ArrayOn::Neither,
    }
}

fn pump_on(route: &Route, piece: &Piece) -> PumpOn {
    if piece[Flow::Pumped] <= 0.0 {
        return PumpOn::Nothing;
    }
    let on_drive = |feed: &PumpFeed| match feed {
        PumpFeed::Drive | PumpFeed::DriveAndMains { .. } => Some(true),
        PumpFeed::DriveElseMains => Some(piece.hz > 0.0),
        PumpFeed::Mains => Some(false),
        PumpFeed::Stopped(_) => None,
    };
    let drive = route.sets.iter().filter_map(on_drive).any(|is| is);
    let bus = route.sets.iter().filter_map(on_drive).any(|is| !is);
    match (bus, drive) {
        (true, true) => PumpOn::Both,
        (true, false) => PumpOn::Bus,
        (false, true) => PumpOn::Drive,
        (false, false) => PumpOn::Nothing,
    }
}
