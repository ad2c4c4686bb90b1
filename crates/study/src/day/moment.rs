//! A moment of a day: what flows while nothing changes, and what is switched where.

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

/// Where the array is switched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ArrayOn {
    /// All that is switched feeds inverters.
    Inverter,
    /// All that is switched feeds drives.
    Drive,
    /// Some groups feed inverters, others drives.
    Both,
    /// Nothing, or no array.
    Neither,
}

/// What turns the pump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PumpOn {
    /// It stands.
    Nothing,
    /// The bus.
    Bus,
    /// A drive.
    Drive,
    /// Some sets the bus, others a drive.
    Both,
}

/// A stretch of the day in which nothing changes. Powers in kW, energies in kWh, flows in m³/h, volumes in m³.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Moment {
    /// Begin, in s from the begin of the day.
    pub start_s: f64,
    /// Length, in s.
    pub length_s: f64,
    /// Whether the utility is there.
    pub utility: bool,
    /// Where the array is switched.
    pub array_on: ArrayOn,
    /// What turns the pump.
    pub pump_on: PumpOn,
    /// Power at the maximum-power point.
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
    /// The cause that loses most; null when nothing is lost.
    #[serde(serialize_with = "maybe_by_id")]
    #[schemars(with = "Option<String>")]
    pub main_loss: Option<LossCause>,
    /// Taken from the utility.
    pub imported_kw: f64,
    /// Grid power at the motor's terminals.
    pub grid_to_pump_kw: f64,
    /// Grid power to the loads.
    pub grid_to_loads_kw: f64,
    /// At the battery's terminals: out of it above 0, into it below.
    pub battery_kw: f64,
    /// Battery power at the motor's terminals.
    pub battery_to_pump_kw: f64,
    /// Battery power to the loads.
    pub battery_to_loads_kw: f64,
    /// Battery content at the end.
    pub battery_kwh: f64,
    /// Made by the generating set.
    pub generator_kw: f64,
    /// Of that, at the motor's terminals.
    pub generator_to_pump_kw: f64,
    /// Of that, to the loads.
    pub generator_to_loads_kw: f64,
    /// Wanted by the loads.
    pub load_kw: f64,
    /// Not served.
    pub unserved_kw: f64,
    /// Pumped.
    pub pumped_m3_h: f64,
    /// Wanted by the farm.
    pub demand_m3_h: f64,
    /// Delivered to the farm.
    pub delivered_m3_h: f64,
    /// Tank content at the end.
    pub tank_m3: f64,
    /// Frequency of the drive, in Hz; 0 when it stands.
    pub hz: f64,
    /// Water level in the well below the well head, in m; null with several pump sets.
    pub level_m: Option<f64>,
}

/// The water level of the one well that a plant has.
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
    // Within a piece in which a full tank lets the pump run for a share of the time, flow is its mean.
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
