//! The model of cell temperature: `cell_temperature` of `[array]`.

use daylift_array::{CellModel, Faiman, Noct};
use daylift_units::fields::array;
use daylift_units::{Fault, Field, Id};

use crate::outline::{CellKeys, CellModelKind};
use crate::read::Section;

/// The model with its factors; a factor of the other model is a fault.
pub(crate) fn read_cell_model(at: &Section, keys: &CellKeys) -> Option<CellModel> {
    let ignored: &[(&Field, bool)] = match keys.model {
        CellModelKind::Noct => &[
            (&array::U0, keys.u0_w_m2_k.given().is_some()),
            (&array::U1, keys.u1_w_s_m3_k.given().is_some()),
        ],
        CellModelKind::Faiman => &[(&array::NOCT, keys.noct_c.given().is_some())],
    };
    for (field, _) in ignored.iter().filter(|(_, is_given)| *is_given) {
        at.fault(Fault::new(
            field.key,
            field.quantity,
            format!(
                "given although `cell_temperature` is \"{}\", which does not use it",
                keys.model.id()
            ),
            "only the values of the chosen model",
            format!("remove `{}`, or change `cell_temperature`", field.key),
        ));
    }
    match keys.model {
        CellModelKind::Noct => at.booked(Noct::new(keys.noct_c.value(at))).map(CellModel::Noct),
        CellModelKind::Faiman => {
            let made = Faiman::new(keys.u0_w_m2_k.value(at), keys.u1_w_s_m3_k.value(at));
            at.booked(made).map(CellModel::Faiman)
        }
    }
}
