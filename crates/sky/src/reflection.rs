//! Reflection losses of the glass cover at oblique incidence.

/// Refractive index of glass (De Soto et al. 2006).
const REFRACTIVE_INDEX: f64 = 1.526;
/// Extinction in glass \[1/m\], water-white (De Soto et al. 2006).
const EXTINCTION_PER_M: f64 = 4.0;
/// Thickness of the glass \[m\] (De Soto et al. 2006).
const THICKNESS_M: f64 = 0.002;

/// Incidence-angle modifier: light that passes the glass at an angle of incidence, relative to normal incidence; 0 to
/// 1.
///
/// K(θ) = τ(θ)/τ(0), with τ(θ) = e^(−K·L/cos θr) · \[1 − ½·(sin²(θr − θ)/sin²(θr + θ) + tan²(θr − θ)/tan²(θr + θ))\]
/// and Snell's law sin θ = n·sin θr (De Soto et al. 2006, eq. 13 to 15). The two reflections are computed in Fresnel's
/// form, (cos θ − n·cos θr)/(cos θ + n·cos θr) and (n·cos θ − cos θr)/(n·cos θ + cos θr). By Snell's law this is the
/// same, and it also holds at normal incidence. 0 at 90° and beyond.
///
/// ```
/// // θ = 60°: θr = 34.577°; reflections 0.185478 and 0.001448; τ = 0.990331 · 0.906537 = 0.897772;
/// // normal incidence: τ = e^−0.008 · (1 − (0.526/2.526)²) = 0.949016
/// let k = daylift_sky::reflection::incidence_angle_modifier(0.5);
/// assert!((k - 0.897772 / 0.949016).abs() < 1e-5);
/// ```
#[must_use]
pub fn incidence_angle_modifier(incidence_cos: f64) -> f64 {
    if incidence_cos > 0.0 {
        (transmittance(incidence_cos.min(1.0)) / transmittance(1.0)).min(1.0)
    } else {
        0.0
    }
}

/// Share of light that passes the glass, for 0 < cos θ ≤ 1.
fn transmittance(incidence_cos: f64) -> f64 {
    let incidence_sin2 = 1.0 - incidence_cos * incidence_cos;
    let refracted_cos = (1.0 - incidence_sin2 / (REFRACTIVE_INDEX * REFRACTIVE_INDEX)).sqrt();
    let across = ratio(incidence_cos, REFRACTIVE_INDEX * refracted_cos);
    let along = ratio(REFRACTIVE_INDEX * incidence_cos, refracted_cos);
    let passes = (-EXTINCTION_PER_M * THICKNESS_M / refracted_cos).exp();
    passes * (1.0 - 0.5 * (across * across + along * along))
}

fn ratio(a: f64, b: f64) -> f64 {
    (a - b) / (a + b)
}

/// Angle of incidence at which a beam is reflected as much as the sky's diffuse light, on a plane with tilt β \[°\].
///
/// 59.7 − 0.1388·β + 0.001497·β² (Brandemuehl & Beckman 1980).
#[must_use]
pub fn effective_sky_deg(tilt_deg: f64) -> f64 {
    59.7 - 0.1388 * tilt_deg + 0.001_497 * tilt_deg * tilt_deg
}

/// Angle of incidence at which a beam is reflected as much as light from the ground, on a plane with tilt β \[°\].
///
/// 90 − 0.5788·β + 0.002693·β² (Brandemuehl & Beckman 1980).
#[must_use]
pub fn effective_ground_deg(tilt_deg: f64) -> f64 {
    90.0 - 0.5788 * tilt_deg + 0.002_693 * tilt_deg * tilt_deg
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_lost_at_normal_incidence_and_everything_at_90_degrees() {
        assert!((incidence_angle_modifier(1.0) - 1.0).abs() < 1e-15);
        assert!((incidence_angle_modifier(1.0 - 1e-12) - 1.0).abs() < 1e-9);
        assert!(incidence_angle_modifier(0.0).abs() < 1e-15 && incidence_angle_modifier(-0.5).abs() < 1e-15);
        assert!(incidence_angle_modifier(1e-6) < 1e-4);
        assert!(incidence_angle_modifier(f64::NAN).abs() < 1e-15);
    }

    #[test]
    fn transmittance_at_normal_incidence_by_hand() {
        // e^(−4 · 0.002) · (1 − ((1.526 − 1)/(1.526 + 1))²) = 0.992032 · (1 − 0.043362)
        assert!((transmittance(1.0) - 0.992_032 * 0.956_638).abs() < 1e-6);
    }

    #[test]
    fn equations_of_de_soto_worked_by_hand() {
        // θ 45°: θr = asin(0.707107/1.526) = 27.6050°; sin²(−17.3950°)/sin²(72.6050°) = 0.098148,
        //   tan² ratio 0.009633; τ = e^(−0.008/0.886162) · (1 − ½ · 0.107781) = 0.991013 · 0.946109 = 0.937607
        // θ 60°: τ = 0.990331 · (1 − ½ · (0.185478 + 0.001448)) = 0.897772
        // θ 80°: θr = 40.1921°; τ = 0.601787. All relative to τ(0) = 0.949016.
        for (incidence_deg, expected) in [(45.0_f64, 0.937_607), (60.0, 0.897_772), (80.0, 0.601_787)] {
            let k = incidence_angle_modifier(incidence_deg.to_radians().cos());
            assert!((k - expected / 0.949_016).abs() < 2e-6, "{incidence_deg}: {k}");
        }
    }

    #[test]
    fn the_modifier_falls_with_the_angle() {
        let k: Vec<f64> = (0..=90).map(|deg| incidence_angle_modifier(f64::from(deg).to_radians().cos())).collect();
        assert!(k.windows(2).all(|pair| pair[1] <= pair[0]));
    }

    #[test]
    fn effective_angles_by_hand() {
        // β 30°: 59.7 − 4.164 + 1.3473 = 56.8833; 90 − 17.364 + 2.4237 = 75.0597
        assert!((effective_sky_deg(30.0) - 56.8833).abs() < 1e-9);
        assert!((effective_ground_deg(30.0) - 75.0597).abs() < 1e-9);
        // A vertical plane sees half of each; both are near 60° (59.33 and 59.72).
        assert!((effective_sky_deg(90.0) - effective_ground_deg(90.0)).abs() < 0.5);
    }
}
