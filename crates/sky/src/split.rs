//! Splits global irradiance into direct and diffuse where the weather file does not give them.

/// Smallest cosine of the zenith angle in the clearness index: 86.3° (usual practice).
const LEAST_ZENITH_COS: f64 = 0.065;
/// Cosine of 87°: below this sun all light counts as diffuse (usual practice).
const LOWEST_SUN_COS: f64 = 0.052_336;

/// Direct and diffuse irradiance \[W/m²\] that add up to the global: GHI = DNI·cos z + DHI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parts {
    /// Direct normal.
    pub dni_w_m2: f64,
    /// Diffuse horizontal.
    pub dhi_w_m2: f64,
}

/// Diffuse share of the global irradiance from the clearness index k = GHI / (E0·cos z), for hourly means.
///
/// 1 − 0.09·k up to 0.22; 0.9511 − 0.1604·k + 4.388·k² − 16.638·k³ + 12.336·k⁴ up to 0.80; 0.165 above.
/// Erbs, D. G., Klein, S. A. & Duffie, J. A. (1982), *Estimation of the diffuse radiation fraction for hourly, daily and
/// monthly-average global radiation*, Solar Energy 28, 293–302, eq. 1.
///
/// ```
/// // Duffie & Beckman, Example 2.15.1: k = 0.445 gives 0.766
/// assert!((daylift_sky::split::diffuse_share(0.445) - 0.766).abs() < 0.001);
/// ```
#[must_use]
pub fn diffuse_share(clearness: f64) -> f64 {
    if clearness <= 0.22 {
        1.0 - 0.09 * clearness.max(0.0)
    } else if clearness <= 0.80 {
        0.9511 + clearness * (-0.1604 + clearness * (4.388 + clearness * (-16.638 + clearness * 12.336)))
    } else {
        0.165
    }
}

/// Splits the global irradiance with Erbs et al. (1982).
///
/// In the clearness index, cos z is at least 0.065; the index is at most 1.
#[must_use]
pub fn by_clearness(ghi_w_m2: f64, zenith_cos: f64, extraterrestrial_w_m2: f64) -> Parts {
    let potential_w_m2 = extraterrestrial_w_m2 * zenith_cos.max(LEAST_ZENITH_COS);
    let clearness = if potential_w_m2 > 0.0 {
        (ghi_w_m2 / potential_w_m2).min(1.0)
    } else {
        0.0
    };
    let dhi_w_m2 = ghi_w_m2 * diffuse_share(clearness);
    by_diffuse(ghi_w_m2, dhi_w_m2, zenith_cos, extraterrestrial_w_m2)
}

/// Direct irradiance from global and diffuse: DNI = (GHI − DHI)/cos z, at least 0 and at most E0.
///
/// What these limits exclude from DNI counts as diffuse. With the sun below 3° everything is diffuse.
#[must_use]
pub fn by_diffuse(ghi_w_m2: f64, dhi_w_m2: f64, zenith_cos: f64, extraterrestrial_w_m2: f64) -> Parts {
    if zenith_cos < LOWEST_SUN_COS {
        return Parts {
            dni_w_m2: 0.0,
            dhi_w_m2: ghi_w_m2,
        };
    }
    let wanted_w_m2 = (ghi_w_m2 - dhi_w_m2).max(0.0) / zenith_cos;
    let dni_w_m2 = wanted_w_m2.min(extraterrestrial_w_m2);
    Parts {
        dni_w_m2,
        dhi_w_m2: (ghi_w_m2 - dni_w_m2 * zenith_cos).max(0.0),
    }
}

/// Diffuse irradiance from global and direct: DHI = GHI − DNI·cos z, at least 0.
#[must_use]
pub fn by_direct(ghi_w_m2: f64, dni_w_m2: f64, zenith_cos: f64) -> Parts {
    Parts {
        dni_w_m2,
        dhi_w_m2: (ghi_w_m2 - dni_w_m2 * zenith_cos.max(0.0)).max(0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn diffuse_shares_match_the_published_polynomials() {
        // Computed from the polynomials of Erbs et al. (1982).
        for (clearness, share) in [
            (0.1, 0.9910),
            (0.2, 0.9820),
            (0.3, 0.9486),
            (0.4, 0.8400),
            (0.5, 0.6591),
            (0.6, 0.4395),
            (0.7, 0.2440),
            (0.8, 0.1653),
            (0.9, 0.165),
        ] {
            assert!((diffuse_share(clearness) - share).abs() < 5.1e-5, "{clearness}");
        }
    }

    #[test]
    fn the_split_matches_a_textbook_hour() {
        // Duffie & Beckman, Example 2.15.1: I = 1.04 and I_0 = 2.34 MJ/m² give I_d = 0.796 and I_b = 0.244. Here they
        // are W/m² on the horizontal, with a zenith angle of 60°.
        let parts = by_clearness(1.04, 0.5, 2.34 / 0.5);
        assert!((parts.dhi_w_m2 - 0.796).abs() < 0.002, "{parts:?}");
        assert!((parts.dni_w_m2 * 0.5 - 0.244).abs() < 0.002, "{parts:?}");
    }

    #[test]
    fn implausible_light_is_limited() {
        // More diffuse than global is a sensor error; a beam beyond E0 counts as diffuse.
        let parts = by_diffuse(100.0, 110.0, 0.5, 1361.0);
        assert!(parts.dni_w_m2.abs() < 1e-12 && (parts.dhi_w_m2 - 100.0).abs() < 1e-12);
        let parts = by_diffuse(1000.0, 100.0, 0.5, 1361.0);
        assert!((parts.dni_w_m2 - 1361.0).abs() < 1e-12 && (parts.dhi_w_m2 - 319.5).abs() < 1e-9);
        // A sun at 2.9°, and one below the horizon.
        for zenith_cos in [0.0506, -0.2] {
            assert!(by_clearness(30.0, zenith_cos, 1361.0).dni_w_m2.abs() < 1e-12);
        }
        assert!((by_direct(500.0, 600.0, 0.5).dhi_w_m2 - 200.0).abs() < 1e-12);
        assert!(by_direct(200.0, 600.0, 0.5).dhi_w_m2.abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn direct_and_diffuse_add_up_to_global(
            ghi_w_m2 in 0.0..1500.0_f64,
            dhi_w_m2 in 0.0..1000.0_f64,
            zenith_cos in -1.0..=1.0_f64,
        ) {
            for parts in [by_clearness(ghi_w_m2, zenith_cos, 1361.0), by_diffuse(ghi_w_m2, dhi_w_m2, zenith_cos, 1361.0)] {
                prop_assert!(parts.dni_w_m2 >= 0.0 && parts.dni_w_m2 <= 1361.0 && parts.dhi_w_m2 >= 0.0);
                let sum = parts.dni_w_m2 * zenith_cos.max(0.0) + parts.dhi_w_m2;
                prop_assert!((sum - ghi_w_m2).abs() < 1e-9 * (1.0 + ghi_w_m2));
            }
        }
    }
}
