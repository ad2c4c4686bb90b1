//! The fuel of a generator (§10d).

use daylift_grid::GeneratorSheet;

/// Load below which the fuel no longer falls, as a fraction of the rating.
const LEAST: f64 = 0.1;

/// Fuel at an output \[W\], 0 at rest \[m³/s\]: a line through the datasheet's points by least squares, neither of whose
/// parameters is negative.
pub(super) fn flow_m3_s(sheet: &GeneratorSheet, output_w: f64) -> f64 {
    if output_w <= 0.0 {
        return 0.0;
    }
    let load = (output_w / sheet.rated_w).max(LEAST);
    let (at_rest, rise) = line(&sheet.fuel_points);
    at_rest + rise * load
}

/// The line with the smallest error among the free fit and those in which a parameter is 0.
fn line(points: &[(f64, f64)]) -> (f64, f64) {
    let sum = |of: &dyn Fn(f64, f64) -> f64| points.iter().map(|&(load, fuel)| of(load, fuel)).sum::<f64>();
    let (n, loads, fuels) = (sum(&|_, _| 1.0), sum(&|x, _| x), sum(&|_, y| y));
    let (squares, products) = (sum(&|x, _| x * x), sum(&|x, y| x * y));
    let rise = (n * products - loads * fuels) / (n * squares - loads * loads);
    let free = ((fuels - rise * loads) / n, rise);
    if free.0 >= 0.0 && free.1 >= 0.0 {
        return free;
    }
    let error = |(a, b): (f64, f64)| sum(&|x, y| (a + b * x - y).powi(2));
    let (proportional, constant) = ((0.0, products / squares), (fuels / n, 0.0));
    if error(proportional) <= error(constant) {
        proportional
    } else {
        constant
    }
}
