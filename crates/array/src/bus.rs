//! Strings on a DC bus, and the voltage rule: the speed that sun and strings allow a drive.
//!
//! Above its maximum-power voltage, an array gives less power as the voltage rises. A drive needs more bus voltage for
//! more speed. It therefore runs where the falling power of the array meets the rising power of the pump.

use daylift_units::root;

use crate::cable::CableLoss;
use crate::curve::{Curve, Point};

#[cfg(test)]
mod tests;

/// Share of the interval to which a voltage is found: less than a millionth of a volt at some hundred volts.
const FOUND: f64 = 1e-10;

/// Strings of one length and plane with their cable, on a bus that may be shared with others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnBus {
    /// Curve of all these strings together.
    pub curve: Curve,
    /// Maximum-power point of the curve.
    pub peak: Point,
    /// Cable of the strings.
    pub cable: CableLoss,
}

impl OnBus {
    /// Strings with this curve and cable.
    #[must_use]
    pub fn new(curve: Curve, cable: CableLoss) -> Self {
        Self {
            peak: curve.max_power(),
            curve,
            cable,
        }
    }
}

/// The highest frequency \[Hz\] that the bus voltage allows, up to `hz_max`.
///
/// It is the largest f for which a voltage V exists with V·(1 − c) ≥ `bus_v_per_hz`·f and a power of all strings at V,
/// after cable losses, of at least `power_w(f)`. Here c is the fraction that the cables lose at that power. `power_w`
/// must rise with f, and the maximum power must be enough for `hz_max`.
#[must_use]
pub fn greatest_frequency_hz(strings: &[OnBus], bus_v_per_hz: f64, hz_max: f64, power_w: impl Fn(f64) -> f64) -> f64 {
    let hz_at = |point: &BusPoint| point.bus_v / bus_v_per_hz;
    let Some(peak) = Place::peak(strings) else {
        return 0.0;
    };
    let at_peak = peak.point(strings);
    if hz_at(&at_peak) >= hz_max {
        return hz_max;
    }
    let scale_w = at_peak.delivered_w.max(1.0);
    // Power of the array less that of the pump, for an operating point of the bus; it falls as the voltage rises.
    let surplus = |point: &BusPoint| (point.delivered_w - power_w(hz_at(point).min(hz_max))) / scale_w;
    if surplus(&at_peak) <= 0.0 {
        return hz_at(&at_peak);
    }
    // High enough for `hz_max` whatever the cables lose, which is most at maximum power.
    let through = at_peak.bus_v / at_peak.strings_v;
    let enough = Place::at_voltage(strings, bus_v_per_hz * hz_max / through);
    if surplus(&enough.point(strings)) >= 0.0 {
        return hz_max;
    }
    let found = root::bracketed_within(FOUND, peak.x(), enough.x(), |x| surplus(&peak.moved(x).point(strings)));
    hz_at(&peak.moved(found.unwrap_or(peak.x())).point(strings)).min(hz_max)
}

/// Maximum power \[W\] that strings can deliver to a bus, after cable losses; 0 without strings.
#[must_use]
pub fn greatest_delivered_w(strings: &[OnBus]) -> f64 {
    Place::peak(strings).map_or(0.0, |peak| peak.point(strings).delivered_w)
}

/// Bus voltage \[V\] while a drive draws `power_w`. It lies between maximum power and open circuit, where the voltage
/// rises as less is drawn. If the power is not enough, it is the voltage at maximum power. 0 without strings.
#[must_use]
pub fn bus_v_at_power(strings: &[OnBus], power_w: f64) -> f64 {
    let Some(peak) = Place::peak(strings) else {
        return 0.0;
    };
    let at_peak = peak.point(strings);
    if power_w >= at_peak.delivered_w {
        return at_peak.bus_v;
    }
    let open_v = strings.iter().map(|s| s.curve.open_circuit_v()).fold(0.0, f64::max);
    let over = |x: f64| (peak.moved(x).point(strings).delivered_w - power_w) / at_peak.delivered_w.max(1.0);
    // At open circuit the voltage of the junction is that of the terminals.
    let found = root::bracketed_within(FOUND, peak.x(), open_v, over).unwrap_or(open_v);
    peak.moved(found).point(strings).bus_v
}

/// Power of strings on a bus whose voltage something else holds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct HeldBus {
    /// Power at the array's terminals \[W\].
    pub sent_w: f64,
    /// Power that reaches the bus, after cable losses \[W\].
    pub delivered_w: f64,
}

/// Power of strings when the bus is held at `held_v`: none if their open-circuit voltage is not above it.
#[must_use]
pub fn held_bus(strings: &[OnBus], held_v: f64) -> HeldBus {
    let open_v = strings.iter().map(|s| s.curve.open_circuit_v()).fold(0.0, f64::max);
    if open_v <= held_v {
        return HeldBus::default();
    }
    let low = Place::at_voltage(strings, held_v);
    let off = |x: f64| (low.moved(x).point(strings).bus_v - held_v) / held_v;
    // Without cables the array is at the bus voltage itself, and both ends of the bracket coincide. At open circuit the
    // voltage of the junction is that of the terminals.
    let found = root::bracketed_within(FOUND, low.x(), open_v, off).unwrap_or(low.x());
    let point = low.moved(found).point(strings);
    HeldBus {
        sent_w: point.sent_w,
        delivered_w: point.delivered_w,
    }
}

/// Operating point of the strings. A single curve is described by its junction voltage, which makes the point explicit;
/// several curves by their common terminal voltage.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Place {
    Junction(f64),
    Common(f64),
}

impl Place {
    /// The maximum-power point of all strings; `None` without strings.
    pub(crate) fn peak(strings: &[OnBus]) -> Option<Self> {
        if let [one] = strings {
            return Some(Self::Junction(one.curve.junction_v_at(&one.peak)));
        }
        let peaks = strings.iter().map(|s| Self::Common(s.peak.voltage_v));
        peaks.max_by(|a, b| a.point(strings).delivered_w.total_cmp(&b.point(strings).delivered_w))
    }

    fn at_voltage(strings: &[OnBus], v: f64) -> Self {
        match strings {
            [one] => Self::Junction(one.curve.junction_v(v)),
            _ => Self::Common(v),
        }
    }

    pub(crate) fn x(self) -> f64 {
        match self {
            Self::Junction(x) | Self::Common(x) => x,
        }
    }

    pub(crate) fn moved(self, x: f64) -> Self {
        match self {
            Self::Junction(_) => Self::Junction(x),
            Self::Common(_) => Self::Common(x),
        }
    }

    pub(crate) fn point(self, strings: &[OnBus]) -> BusPoint {
        let mut sum = BusPoint::default();
        match (self, strings) {
            (Self::Junction(u), [one]) => sum.add(one, &one.curve.point_at_junction(u)),
            (Self::Junction(v) | Self::Common(v), _) => {
                for s in strings {
                    let current_a = s.curve.current_a(v);
                    let at_v = Point {
                        voltage_v: v,
                        current_a,
                        power_w: v * current_a,
                    };
                    sum.add(s, &at_v);
                }
            }
        }
        sum.bus_v = if sum.sent_w > 0.0 {
            sum.strings_v * sum.delivered_w / sum.sent_w
        } else {
            sum.strings_v
        };
        sum
    }
}

/// Voltages and powers when all strings are at one voltage.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct BusPoint {
    pub(crate) strings_v: f64,
    pub(crate) sent_w: f64,
    pub(crate) delivered_w: f64,
    pub(crate) bus_v: f64,
}

impl BusPoint {
    /// Adds strings at a point of their curve; beyond open circuit they give nothing.
    fn add(&mut self, strings: &OnBus, point: &Point) {
        let w = point.power_w.max(0.0);
        self.strings_v = point.voltage_v;
        self.sent_w += w;
        self.delivered_w += strings.cable.delivered_w(w);
    }
}
