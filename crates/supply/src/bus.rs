//! The bus that pumps on mains, loads, inverters and the utility share.

use crate::cause::LossCause;
use crate::offers::{Mains, Offers};
use crate::piece::Piece;
use crate::route::{ArrayFeed, Route};
use crate::settle::{Surroundings, book_cuts};

/// Shares the array's power among pumps, loads and export in the plant's order; the grid fills what is missing.
pub(crate) fn bus_side(piece: &mut Piece, route: &Route, around: &Surroundings<'_>, mains: &Mains, step: usize) {
    if !route.utility {
        piece.unserved_w = piece.load_w;
        return;
    }
    let pump_w = mains.bus_w();
    let wanted_w = pump_w + piece.load_w + around.export.greatest_w();
    let sun_w = if route.groups.contains(&ArrayFeed::Bus) {
        array_to_bus(piece, around.offers, step, wanted_w)
    } else {
        0.0
    };
    let (sun_to_pump_w, sun_to_loads_w) = if around.sun_to_pump_first {
        let to_pump_w = sun_w.min(pump_w);
        (to_pump_w, (sun_w - to_pump_w).min(piece.load_w))
    } else {
        let to_loads_w = sun_w.min(piece.load_w);
        ((sun_w - to_loads_w).min(pump_w), to_loads_w)
    };
    piece.array_to_loads_w = sun_to_loads_w;
    piece.exported_w = sun_w - sun_to_pump_w - sun_to_loads_w;
    let grid_to_pump_bus_w = pump_w - sun_to_pump_w;
    piece.grid_to_loads_w = piece.load_w - sun_to_loads_w;
    piece.imported_w = grid_to_pump_bus_w + piece.grid_to_loads_w;
    if pump_w > 0.0 {
        // Energy to the pump counts at the motor's terminals; both sources bear the motor cable alike.
        let (motor, cable) = (mains.motor_w / pump_w, mains.cable_w / pump_w);
        piece.array_to_pump_w += sun_to_pump_w * motor;
        piece.lose(LossCause::Cables, sun_to_pump_w * cable);
        piece.grid_to_pump_w = grid_to_pump_bus_w * motor;
        piece.grid_cable_w = grid_to_pump_bus_w * cable;
    }
}

/// Brings array power to the bus, at most `wanted_w`; gives what arrives \[W\] and books what does not. Inverters that are
/// held back give in proportion to what they offer.
fn array_to_bus(piece: &mut Piece, offers: &Offers, step: usize, wanted_w: f64) -> f64 {
    let at_step = || offers.inverters.iter().filter_map(|i| Some((&i.inverter, i.bus.get(step)?)));
    let offered_w: f64 = at_step().map(|(_, offer)| offer.bus_w).sum();
    let share = if offered_w > wanted_w {
        wanted_w / offered_w
    } else {
        1.0
    };
    for (inverter, offer) in at_step() {
        book_cuts(piece, &offer.cuts);
        let brought = offer.bring(inverter, offer.bus_w * share);
        piece.lose(LossCause::ExportLimit, offer.array_w - brought.array_w);
        piece.lose(LossCause::InverterConversion, brought.conversion_w);
        piece.lose(LossCause::Cables, brought.cables_w);
    }
    offered_w * share
}
