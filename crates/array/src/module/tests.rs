use super::*;
use crate::sample;

fn close(got: f64, expected: f64, half_unit: f64) {
    assert!((got - expected).abs() <= half_unit, "{got} {expected}");
}

#[test]
fn the_fitted_values_agree_to_five_figures() {
    // Published values for this datasheet: pvlib-python, `test_fit_desoto` (method of De Soto et al. 2006). The last
    // figures of R_s, R_sh and a are truncated there, so one unit is allowed.
    let p = sample::module().reference_parameters();
    close(p.light_a, 9.452_32, 0.5e-5);
    close(p.saturation_a, 3.2246e-10, 0.5e-14);
    close(p.series_ohm, 0.297_814, 1e-6);
    close(1.0 / p.shunt_s, 125.798, 1e-3);
    close(p.thermal_v, 1.591_28, 1e-5);
}

#[test]
fn the_operating_points_agree_to_the_last_figure() {
    // Independent computation with the relations of De Soto et al. (2006).
    for (w_m2, cell_c, isc, voc, imp, vmp, pmp) in [
        (1000.0, 25.0, 9.4300, 38.3000, 8.7100, 31.0000, 270.01),
        (1000.0, 50.0, 9.5711, 34.8400, 8.7608, 27.4826, 240.77),
        (800.0, 45.0, 7.6379, 35.1559, 7.0153, 28.2827, 198.41),
        (400.0, 25.0, 3.7774, 36.8439, 3.4983, 31.0131, 108.49),
        (200.0, 25.0, 1.8896, 35.7425, 1.7507, 30.4351, 53.28),
    ] {
        let curve = sample::module().curve(w_m2, cell_c);
        let point = curve.max_power();
        close(curve.short_circuit_a(), isc, 0.5e-4);
        close(curve.open_circuit_v(), voc, 0.5e-4);
        close(point.current_a, imp, 0.5e-4);
        close(point.voltage_v, vmp, 0.5e-4);
        close(point.power_w, pmp, 0.5e-2);
    }
}

#[test]
fn standard_test_conditions_reproduce_the_datasheet() {
    let (sheet, curve) = (sample::sheet(), sample::module().curve(1000.0, 25.0));
    let point = curve.max_power();
    close(curve.short_circuit_a(), sheet.short_circuit_a, 1e-9);
    close(curve.open_circuit_v(), sheet.open_circuit_v, 1e-9);
    close(point.current_a, sheet.max_power_a, 1e-6);
    close(point.voltage_v, sheet.max_power_v, 1e-6);
    close(point.power_w, sheet.max_power_w(), 1e-9);
}

#[test]
fn two_kelvin_reproduce_the_voltage_coefficient() {
    let (sheet, module) = (sample::sheet(), sample::module());
    let change_v = module.curve(1000.0, 27.0).open_circuit_v() - module.curve(1000.0, 25.0).open_circuit_v();
    close(change_v, 2.0 * sheet.open_circuit_v_per_k, 1e-9);
}

#[test]
fn the_voltage_at_50_degrees_is_close_to_the_linear_value() {
    // 25·β is −3.447 V; the model gives −3.460 V, by an independent computation.
    let module = sample::module();
    let change_v = module.curve(1000.0, 50.0).open_circuit_v() - module.curve(1000.0, 25.0).open_circuit_v();
    close(change_v, -3.460, 0.5e-3);
}

#[test]
fn other_kinds_of_module_reproduce_their_datasheets() {
    // Typical values of: 72-cell multicrystalline; half-cut, 144 cells (72 in series); heterojunction; 36-cell. Usual
    // practice.
    for (isc, voc, imp, vmp, alpha, beta, cells) in [
        (9.10, 46.2, 8.60, 37.4, 0.0006, -0.0032, 72),
        (13.9, 49.7, 13.2, 41.5, 0.00048, -0.0027, 72),
        (13.9, 53.6, 13.2, 45.0, 0.0005, -0.0024, 72),
        (3.4, 21.6, 3.05, 17.4, 0.0006, -0.0035, 36),
    ] {
        let module = Module::new(ModuleSheet {
            name: String::new(),
            short_circuit_a: isc,
            open_circuit_v: voc,
            max_power_a: imp,
            max_power_v: vmp,
            short_circuit_a_per_k: alpha * isc,
            open_circuit_v_per_k: beta * voc,
            cells,
        })
        .unwrap();
        let point = module.curve(1000.0, 25.0).max_power();
        close(point.voltage_v, vmp, 1e-6);
        close(point.current_a, imp, 1e-6);
    }
}

#[test]
fn a_datasheet_that_no_single_diode_can_have_is_a_fault() {
    let mut sheet = sample::sheet();
    sheet.max_power_a = 9.2;
    sheet.max_power_v = 33.8;
    let faults = Module::new(sheet).unwrap_err();
    assert_eq!(faults.len(), 1);
    assert!(faults[0].to_string().contains("single-diode"), "{}", faults[0]);
}

#[test]
fn without_light_the_module_is_dark() {
    let module = sample::module();
    for (w_m2, cell_c) in [(0.0, 25.0), (-3.0, 25.0), (f64::NAN, 25.0), (500.0, f64::NAN)] {
        let curve = module.curve(w_m2, cell_c);
        assert!(curve.max_power().power_w == 0.0 && curve.open_circuit_v() == 0.0 && curve.current_a(0.0) == 0.0);
    }
}
