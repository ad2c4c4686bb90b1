//! The equipment files.

use daylift_units::fields::{battery, drive, file, generator, inverter, module, motor, pump};

use super::{Table, choice, named, number, numbers};

/// A module file.
pub const MODULE: Table = Table {
    keys: &[
        number(&file::FORMAT),
        choice("kind", "kind of equipment", &["module"]),
        named("name of the equipment"),
        number(&module::ISC),
        number(&module::VOC),
        number(&module::IMP),
        number(&module::VMP),
        number(&module::ALPHA),
        number(&module::BETA),
        number(&module::CELLS),
        number(&module::SYSTEM_V),
        number(&module::GREATEST_FUSE),
    ],
};

/// An inverter file.
pub const INVERTER: Table = Table {
    keys: &[
        number(&file::FORMAT),
        choice("kind", "kind of equipment", &["inverter"]),
        named("name of the equipment"),
        number(&inverter::RATED),
        numbers(&inverter::LOAD, None),
        numbers(&inverter::EFFICIENCY, None),
        number(&inverter::START),
        number(&inverter::MPPT_MIN),
        number(&inverter::MPPT_MAX),
        number(&inverter::GREATEST_DC_V).optional(),
        number(&inverter::MPPT_INPUTS).optional(),
        number(&inverter::INPUT_STRINGS).optional(),
        number(&inverter::INPUT_CURRENT).optional(),
        number(&inverter::INPUT_SHORT_CIRCUIT).optional(),
        number(&inverter::GREATEST_DC_POWER).optional(),
    ],
};

/// A drive file.
pub const DRIVE: Table = Table {
    keys: &[
        number(&file::FORMAT),
        choice("kind", "kind of equipment", &["drive"]),
        named("name of the equipment"),
        number(&drive::RATED),
        numbers(&drive::LOAD, None),
        numbers(&drive::EFFICIENCY, None),
        number(&drive::GREATEST).optional(),
        number(&drive::DROP),
        number(&drive::GREATEST_DC_V).optional(),
        number(&drive::START_DC_V).optional(),
        number(&drive::DC_CURRENT).optional(),
        number(&drive::DC_SHORT_CIRCUIT).optional(),
        number(&drive::GREATEST_DC_POWER).optional(),
    ],
};

/// A motor file.
pub const MOTOR: Table = Table {
    keys: &[
        number(&file::FORMAT),
        choice("kind", "kind of equipment", &["motor"]),
        named("name of the equipment"),
        number(&motor::RATED),
        number(&motor::FREQUENCY),
        number(&motor::VOLTAGE),
        numbers(&motor::LOAD, None),
        numbers(&motor::EFFICIENCY, None),
        number(&motor::LEAST),
    ],
};

/// A pump file; it has efficiencies or shaft powers, one of them at least.
pub const PUMP: Table = Table {
    keys: &[
        number(&file::FORMAT),
        choice("kind", "kind of equipment", &["pump"]),
        named("name of the equipment"),
        numbers(&pump::FLOW, None),
        numbers(&pump::HEAD, None),
        numbers(&pump::EFFICIENCY, None).optional(),
        numbers(&pump::SHAFT_POWER, None).optional(),
    ],
};

/// A battery file.
pub const BATTERY: Table = Table {
    keys: &[
        number(&file::FORMAT),
        choice("kind", "kind of equipment", &["battery"]),
        named("name of the equipment"),
        number(&battery::CAPACITY),
        number(&battery::LEAST),
        number(&battery::CHARGE),
        number(&battery::DISCHARGE),
        number(&battery::CHARGE_EFFICIENCY),
        number(&battery::DISCHARGE_EFFICIENCY),
    ],
};

/// A generator file.
pub const GENERATOR: Table = Table {
    keys: &[
        number(&file::FORMAT),
        choice("kind", "kind of equipment", &["generator"]),
        named("name of the equipment"),
        number(&generator::RATED),
        number(&generator::LEAST_LOAD),
        numbers(&generator::LOAD, None),
        numbers(&generator::FUEL, None),
    ],
};
