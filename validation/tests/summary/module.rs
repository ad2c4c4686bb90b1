//! One module: its fitted parameters and its curve.

use daylift_array::{Module, ModuleSheet};
use daylift_validation::{Allowed, Report, Worst};

use crate::data::{Outcome, Table, faults_text};

const PVLIB: &str = "pvlib 0.16.1, fit_desoto, singlediode";

/// The module of the reference tables: 60 cells, 270 W, invented.
pub(crate) fn sample() -> Outcome<Module> {
    let sheet = ModuleSheet {
        name: "60 cells".into(),
        short_circuit_a: 9.43,
        open_circuit_v: 38.3,
        max_power_a: 8.71,
        max_power_v: 31.0,
        short_circuit_a_per_k: 0.005_658,
        open_circuit_v_per_k: -0.137_88,
        cells: 60,
    };
    Ok(Module::new(sheet).map_err(faults_text)?)
}

/// Five parameters and twenty points.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let module = sample()?;
    parameters(&module, report)?;
    points(&module, report)
}

fn parameters(module: &Module, report: &mut Report) -> Outcome {
    let table = Table::read("module_parameters.csv")?;
    let ours = module.reference_parameters();
    let mut worst = Worst::new(Allowed::relative(1e-4));
    for (name, theirs) in table.texts("parameter")?.into_iter().zip(table.numbers("value")?) {
        let ours = match name {
            "I_L_ref" => ours.light_a,
            "I_o_ref" => ours.saturation_a,
            "R_s" => ours.series_ohm,
            "R_sh_ref" => 1.0 / ours.shunt_s,
            "a_ref" => ours.thermal_v,
            other => return Err(format!("parameter {other} is not known").into()),
        };
        worst.see(name, ours, theirs);
    }
    report.push(worst.row("module's fitted parameters", PVLIB));
    Ok(())
}

fn points(module: &Module, report: &mut Report) -> Outcome {
    let table = Table::read("module_mpp.csv")?;
    let irradiances_w_m2 = table.numbers("irradiance_w_m2")?;
    let cells_c = table.numbers("cell_c")?;
    let columns = ["p_mp_w", "v_mp_v", "v_oc_v", "i_sc_a"];
    for column in columns {
        let mut worst = Worst::new(Allowed::relative(0.001));
        for ((s_w_m2, cell_c), theirs) in irradiances_w_m2.iter().zip(&cells_c).zip(table.numbers(column)?) {
            let curve = module.curve(*s_w_m2, *cell_c);
            let ours = match column {
                "p_mp_w" => curve.max_power().power_w,
                "v_mp_v" => curve.max_power().voltage_v,
                "v_oc_v" => curve.open_circuit_v(),
                _ => curve.short_circuit_a(),
            };
            worst.see(format!("{s_w_m2} W/m², {cell_c} °C"), ours, theirs);
        }
        report.push(worst.row(&format!("module's {column}"), PVLIB));
    }
    Ok(())
}
