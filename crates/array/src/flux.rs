//! The voltage rule with reduced flux: the speed that sun and strings allow a drive which may weaken the motor's field.
//!
//! A drive that has less bus voltage than full flux needs can still turn the motor at the wanted frequency, with less
//! flux: with less iron loss, more copper loss and more current. The drive chooses among the voltages of the strings at and
//! above maximum power. A higher voltage gives more flux, and less power.

use daylift_units::root;

use crate::bus::{BusPoint, OnBus, Place};

#[cfg(test)]
mod tests;

/// Share of the interval to which a voltage or a frequency is found.
const FOUND: f64 = 1e-10;
/// Rounds of the golden section. The frequency is flat at its maximum, so its error is of the order of the square of the
/// remaining interval, 0.618²⁰ of the first.
const GOLDEN_ROUNDS: u32 = 20;
/// 1/φ, the golden section.
const GOLDEN: f64 = 0.618_033_988_749_894_9;
/// Step to the right of a voltage, as a share of the interval, that tells whether the frequency still rises there.
const HAIR: f64 = 1e-6;

/// Bus voltage that full flux needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BusNeed {
    /// Volts per hertz, all drops included \[V/Hz\].
    pub v_per_hz: f64,
    /// Frequency above which the need stays the same \[Hz\]: the motor's rated frequency, where the drive may go above it.
    pub flat_from_hz: f64,
}

impl BusNeed {
    /// At a frequency \[V\].
    #[must_use]
    pub fn volts(&self, hz: f64) -> f64 {
        self.v_per_hz * hz.min(self.flat_from_hz)
    }
}

/// A pump on a drive, as the strings see it.
pub trait FluxLoad {
    /// Power that the drive takes from its bus \[W\] at a frequency \[Hz\] and a flux, a share of what is full at that
    /// frequency. It must rise with the frequency, also while the flux falls in inverse proportion.
    fn power_w(&self, hz: f64, flux: f64) -> f64;

    /// Least flux at a frequency, a share: that of the drive, or what the limits of current ask for, if that is more. Above
    /// 1 where no flux keeps these limits. It must not fall as the frequency rises.
    fn least_flux(&self, hz: f64) -> f64;
}

/// Frequency and flux at which a drive runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FluxPoint {
    /// Frequency \[Hz\]; 0 where the voltage allows none.
    pub hz: f64,
    /// Flux, a share of what is full at that frequency.
    pub flux: f64,
}

/// The highest frequency up to `hz_max` for which some voltage, from that of maximum power to open circuit, gives enough
/// flux and enough power; with the flux there. Where several voltages do so at `hz_max`, the highest counts.
///
/// The strings give no more than `most_w` \[W\] at their terminals: what the tracker reaches. Powers and voltages are
/// compared at the drive, after the cables. The caller makes sure that the power at `hz_max` and full flux is not more than
/// what `most_w` delivers.
#[must_use]
pub fn greatest_at_flux(strings: &[OnBus], most_w: f64, need: BusNeed, hz_max: f64, load: &impl FluxLoad) -> FluxPoint {
    let Some(peak) = Place::peak(strings) else {
        return FluxPoint { hz: 0.0, flux: 1.0 };
    };
    let at_peak = capped(peak.point(strings), most_w);
    if at_peak.bus_v >= need.volts(hz_max) {
        return FluxPoint { hz: hz_max, flux: 1.0 };
    }
    let rule = Rule {
        strings,
        most_w,
        need,
        hz_max,
        load,
        peak,
        scale_w: at_peak.delivered_w.max(1.0),
    };
    rule.solve()
}

/// A point of the strings that give no more than `most_w`. The cables lose in proportion to the square of what they carry.
fn capped(point: BusPoint, most_w: f64) -> BusPoint {
    if point.sent_w <= most_w {
        return point;
    }
    let share = most_w / point.sent_w;
    let delivered_w = most_w - share * share * (point.sent_w - point.delivered_w);
    BusPoint {
        sent_w: most_w,
        delivered_w,
        bus_v: point.strings_v * delivered_w / most_w,
        ..point
    }
}

/// Voltage over need, at frequencies so low that the exact number does not matter.
const ENOUGH_FLUX: f64 = 10.0;

struct Rule<'a, L> {
    strings: &'a [OnBus],
    most_w: f64,
    need: BusNeed,
    hz_max: f64,
    load: &'a L,
    peak: Place,
    scale_w: f64,
}

impl<L: FluxLoad> Rule<'_, L> {
    fn solve(&self) -> FluxPoint {
        let (low_x, high_x) = (self.peak.x(), self.full_flux_x());
        // At full flux.
        if self.power_left(&self.at(high_x), self.hz_max) >= 0.0 && self.flux_left(&self.at(high_x), self.hz_max) >= 0.0
        {
            return FluxPoint {
                hz: self.hz_max,
                flux: 1.0,
            };
        }
        let best_x = self.best_x(low_x, high_x);
        let at = self.at(best_x);
        let hz = self.hz(&at);
        if hz < self.hz_max {
            return FluxPoint {
                hz,
                flux: self.flux(&at, hz),
            };
        }
        let left = |x: f64| self.power_left(&self.at(x), self.hz_max);
        let highest_x = root::bracketed_within(FOUND, best_x, high_x, left).unwrap_or(best_x);
        FluxPoint {
            hz: self.hz_max,
            flux: self.flux(&self.at(highest_x), self.hz_max),
        }
    }

    /// The place at which the frequency is greatest. Up to the place where least flux and power allow the same, the flux
    /// limits it, and it rises with the voltage. From there on the power limits it, and it has one maximum.
    fn best_x(&self, low_x: f64, high_x: f64) -> f64 {
        let by_flux = |x: f64| {
            let at = self.at(x);
            self.power_left(&at, self.hz_by_flux(&at))
        };
        let from_x = if by_flux(low_x) <= 0.0 {
            low_x
        } else {
            match root::bracketed_within(FOUND, low_x, high_x, by_flux) {
                Some(x) => x,
                None => return high_x,
            }
        };
        let hz_at = |x: f64| self.hz(&self.at(x));
        if hz_at(from_x + HAIR * (high_x - low_x)) <= hz_at(from_x) {
            return from_x;
        }
        self.golden(from_x, high_x, hz_at)
    }

    /// The maximum of a function with one maximum, by the golden section; ends early where it reaches `hz_max`.
    fn golden(&self, mut low: f64, mut high: f64, hz_at: impl Fn(f64) -> f64) -> f64 {
        let inner = |low: f64, high: f64| (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
        let (mut a, mut b) = inner(low, high);
        let (mut hz_a, mut hz_b) = (hz_at(a), hz_at(b));
        for _ in 0..GOLDEN_ROUNDS {
            if hz_a >= self.hz_max {
                return a;
            }
            if hz_a < hz_b {
                (low, a, hz_a) = (a, b, hz_b);
                b = inner(low, high).1;
                hz_b = hz_at(b);
            } else {
                (high, b, hz_b) = (b, a, hz_a);
                a = inner(low, high).0;
                hz_a = hz_at(a);
            }
        }
        if hz_a < hz_b { b } else { a }
    }

    /// The place at which the bus has what full flux needs at `hz_max`, or open circuit if that is lower.
    fn full_flux_x(&self) -> f64 {
        let needs_v = self.need.volts(self.hz_max);
        let open_v = self.strings.iter().map(|s| s.curve.open_circuit_v()).fold(0.0, f64::max);
        let short = |x: f64| self.at(x).bus_v / needs_v - 1.0;
        // At open circuit the voltage of the junction is that of the terminals.
        root::bracketed_within(FOUND, self.peak.x(), open_v, short).unwrap_or(open_v)
    }

    fn at(&self, x: f64) -> BusPoint {
        capped(self.peak.moved(x).point(self.strings), self.most_w)
    }

    fn flux(&self, at: &BusPoint, hz: f64) -> f64 {
        (at.bus_v / self.need.volts(hz)).min(1.0)
    }

    /// Power of the strings that is left, as a share of the greatest.
    fn power_left(&self, at: &BusPoint, hz: f64) -> f64 {
        (at.delivered_w - self.load.power_w(hz, self.flux(at, hz))) / self.scale_w
    }

    /// Flux above the least. It is not cut at full flux here, so that it falls with the frequency everywhere.
    fn flux_left(&self, at: &BusPoint, hz: f64) -> f64 {
        let least = self.load.least_flux(hz);
        let could_be = (at.bus_v / self.need.volts(hz)).min(ENOUGH_FLUX);
        let most = if least > 1.0 { could_be.min(1.0) } else { could_be };
        most - least
    }

    /// The highest frequency that the least flux allows.
    fn hz_by_flux(&self, at: &BusPoint) -> f64 {
        self.highest(|hz| self.flux_left(at, hz))
    }

    /// The highest frequency that flux and power allow.
    fn hz(&self, at: &BusPoint) -> f64 {
        self.highest(|hz| self.flux_left(at, hz).min(self.power_left(at, hz)))
    }

    /// The highest frequency up to `hz_max` at which something that falls with the frequency is not negative; 0 without one.
    fn highest(&self, left: impl Fn(f64) -> f64) -> f64 {
        if left(self.hz_max) >= 0.0 {
            self.hz_max
        } else if left(0.0) < 0.0 {
            0.0
        } else {
            root::bracketed_within(FOUND, 0.0, self.hz_max, left).unwrap_or(0.0)
        }
    }
}
