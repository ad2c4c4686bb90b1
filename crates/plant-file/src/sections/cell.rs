//! How warm the cells get: `cell_temperature` of `[array]`.

use daylift_array::{CellModel, Faiman, Noct};
use daylift_units::fields::array;
use daylift_units::{Fault, Field};

use super::equipment::booked;
use crate::read::Section;

const KEY: &str = "cell_temperature";

/// The model with its factors; a factor of the model that is not used is a fault.
pub(crate) fn read_cell_model(section: &Section<'_>) -> Option<CellModel> {
    let by_noct = section.choice_or(
        KEY,
        "model of cell temperature",
        &[("faiman", false), ("noct", true)],
        "usual practice: it knows the wind",
    )?;
    let (used, ignored): (&str, &[&Field]) = if by_noct {
        ("noct", &[&array::U0, &array::U1])
    } else {
        ("faiman", &[&array::NOCT])
    };
    for field in ignored.iter().filter(|field| section.has(field.key)) {
        section.optional(field);
        section.fault(Fault::new(
            field.key,
            field.quantity,
            format!("given although `{KEY}` is \"{used}\", which does not use it"),
            "the factors of the model that is used",
            format!("remove `{}`, or change `{KEY}`", field.key),
        ));
    }
    if by_noct {
        let noct_c = section.number(&array::NOCT)?;
        booked(section, Noct::new(noct_c)).map(CellModel::Noct)
    } else {
        let factors = (section.number(&array::U0), section.number(&array::U1));
        booked(section, Faiman::new(factors.0?, factors.1?)).map(CellModel::Faiman)
    }
}
