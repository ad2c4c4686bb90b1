//! The wiring of a row at a moment: what holds the bus, what each set and string group is connected to (§10, §10a).

use daylift_grid::Battery;
use daylift_lift::Tank;
use daylift_plant::{Arrangement, GeneratorUse, Group, InverterId, Plant, Restart, SecondInput, SetId, Wiring};

use super::basis::Basis;
use super::bus::Source;
use super::phases::{Dual, Piece};
use super::restart::ByHand;
use super::rule::Rule;

/// What a set is connected to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SetAt {
    Bus,
    Drive,
    Nowhere,
}

/// What a string group is connected to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum GroupAt {
    Inverter(InverterId),
    Drive,
    Lost(&'static str),
}

/// A row of a plant.
pub(super) struct Plan<'p, 'a> {
    pub(super) basis: &'p Basis<'a>,
    pub(super) wiring: Wiring,
    pub(super) battery: Option<&'a Battery>,
    pub(super) generator: Option<&'a GeneratorUse>,
    pub(super) input: Option<&'a SecondInput>,
    pub(super) tank: Tank,
    pub(super) rule: Rule,
    /// Restart by hand, where some starter can drop out.
    pub(super) by_hand: Option<ByHand>,
    slowest_s: f64,
}

/// Restart by hand, where some starter can drop out: a battery's island takes over without a break.
fn by_hand(plant: &Plant, wiring: Wiring) -> Option<ByHand> {
    match plant.restart {
        Restart::ByHand { attended, delay_s } if wiring != Wiring::BatteryHybrid => Some(ByHand { delay_s, attended }),
        Restart::ByHand { .. } | Restart::Automatic => None,
    }
}

impl<'p, 'a> Plan<'p, 'a> {
    pub(super) fn new(basis: &'p Basis<'a>, arrangement: Arrangement) -> Self {
        let plant = basis.plant;
        let wiring = arrangement.wiring;
        let night = plant.beside.night_tank.as_ref().filter(|_| arrangement.night_tank);
        let input = plant.beside.second_input.as_ref().filter(|_| wiring == Wiring::SolarDriveWithGrid);
        Self {
            basis,
            wiring,
            battery: plant.beside.battery.as_ref().filter(|_| wiring == Wiring::BatteryHybrid),
            generator: plant.beside.generator.as_ref().filter(|_| arrangement.generator),
            input,
            tank: night.map_or(plant.tank, |n| n.tank),
            rule: Rule::of(plant, arrangement),
            by_hand: by_hand(plant, wiring),
            slowest_s: plant.feeders.iter().map(|f| f.reconnection_s).fold(0.0, f64::max),
        }
    }

    pub(super) fn plant(&self) -> &'a Plant {
        self.basis.plant
    }

    pub(super) fn source(&self, piece: &Piece, shut_down: bool) -> Source {
        if !piece.grid_down {
            return Source::Grid;
        }
        if self.battery.is_some() && !shut_down {
            return Source::Island;
        }
        let ready = self
            .generator
            .is_some_and(|g| piece.middle_s() >= piece.since_s + g.start_delay_s && g.hours.allows(piece.hour));
        match (ready, self.battery) {
            (true, _) => Source::Generator,
            (false, Some(_)) => Source::Dark,
            (false, None) => Source::Nothing,
        }
    }

    /// Whether the bus is open to the pumps above the tank's low mark.
    pub(super) fn is_open(&self, piece: &Piece, source: Source, filled: bool) -> bool {
        let only_low = source == Source::Generator && self.generator.is_some_and(|g| g.pumps_only_when_low);
        !only_low && !filled && self.rule.hours.allows(piece.hour)
    }

    /// Whether strings feed a set through its drive in this row; a changeover starts such a set, not a starter.
    pub(super) fn is_driven(&self, set: SetId) -> bool {
        match self.wiring {
            Wiring::GridOnly | Wiring::GridTied | Wiring::BatteryHybrid => false,
            Wiring::SolarDrive | Wiring::SolarDriveWithGrid | Wiring::DualMode => self.has_strings(set),
        }
    }

    /// Whether a set's starter is closed, or it has none that drops out.
    pub(super) fn is_closed(&self, set: SetId, piece: &Piece) -> bool {
        piece.starters_closed || self.is_driven(set)
    }

    /// Whether the battery works while the grid is on.
    pub(super) fn battery_works(&self, piece: &Piece) -> bool {
        piece.grid_down || piece.middle_s() >= piece.since_s + self.slowest_s
    }

    fn has_strings(&self, set: SetId) -> bool {
        self.basis.groups().iter().any(|g| g.set == Some(set))
    }

    pub(super) fn set_at(&self, set: SetId, piece: &Piece) -> SetAt {
        match (self.wiring, piece.dual) {
            _ if !self.is_driven(set) => SetAt::Bus,
            (Wiring::DualMode, Dual::Steady) => SetAt::Bus,
            (Wiring::DualMode, Dual::ToDrive | Dual::Observing | Dual::ToMains) => SetAt::Nowhere,
            _ => SetAt::Drive,
        }
    }

    pub(super) fn group_at(&self, group: &Group, piece: &Piece) -> GroupAt {
        const IDLE: GroupAt = GroupAt::Lost("idle-strings");
        match (self.wiring, group.inverter) {
            (Wiring::GridOnly, _) => GroupAt::Lost(""),
            (Wiring::SolarDrive | Wiring::SolarDriveWithGrid, _) if group.set.is_some() => GroupAt::Drive,
            (Wiring::SolarDrive | Wiring::SolarDriveWithGrid, _) => IDLE,
            (Wiring::GridTied, _) if piece.grid_down => GroupAt::Lost("grid-down"),
            (Wiring::GridTied | Wiring::BatteryHybrid, None) => IDLE,
            (Wiring::GridTied | Wiring::BatteryHybrid, Some(j)) => self.feeds(j, piece, piece.since_s),
            (Wiring::DualMode, _) => self.switched_group_at(group, piece),
        }
    }

    fn feeds(&self, inverter: InverterId, piece: &Piece, since_s: f64) -> GroupAt {
        let reconnection_s = self.plant().feeders[inverter].reconnection_s;
        if !piece.grid_down && piece.middle_s() < since_s + reconnection_s {
            return GroupAt::Lost("waiting-to-reconnect");
        }
        GroupAt::Inverter(inverter)
    }

    fn switched_group_at(&self, group: &Group, piece: &Piece) -> GroupAt {
        let has_drive = group.set.is_some();
        let switched = |j: InverterId| self.basis.groups().iter().any(|g| g.inverter == Some(j) && g.set.is_some());
        let moved = has_drive || group.inverter.is_some_and(switched);
        if !moved {
            return match group.inverter {
                Some(j) if !piece.grid_down => self.feeds(j, piece, piece.since_s),
                _ => GroupAt::Lost("idle-strings"),
            };
        }
        match (piece.dual, group.inverter) {
            (Dual::Steady, Some(j)) => self.feeds(j, piece, piece.steady_since_s),
            (Dual::Steady, None) => GroupAt::Lost("idle-strings"),
            (Dual::OnDrive, _) if has_drive => GroupAt::Drive,
            (Dual::OnDrive, _) => GroupAt::Lost("idle-strings"),
            (Dual::ToDrive, _) if !has_drive => GroupAt::Lost("idle-strings"),
            (Dual::ToDrive | Dual::Observing | Dual::ToMains, _) => GroupAt::Lost("changeover"),
        }
    }
}
