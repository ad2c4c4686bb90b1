//! Sample module for tests.

use crate::{Module, ModuleSheet};

/// A 60-cell module of 270 W, whose fitted parameters and operating points are known from an independent computation.
pub(crate) fn sheet() -> ModuleSheet {
    ModuleSheet {
        name: "270 W, 60 cells".to_owned(),
        short_circuit_a: 9.43,
        open_circuit_v: 38.3,
        max_power_a: 8.71,
        max_power_v: 31.0,
        short_circuit_a_per_k: 0.005_658,
        open_circuit_v_per_k: -0.137_88,
        cells: 60,
    }
}

pub(crate) fn module() -> Module {
    Module::new(sheet()).unwrap()
}
