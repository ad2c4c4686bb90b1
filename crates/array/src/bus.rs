//! Strings on one bus, and the voltage rule: the speed that sun and strings allow a drive.
//!
//! Beyond its maximum-power voltage an array gives less power at more voltage. A drive that wants more bus voltage for
//! more speed therefore runs where the falling power of the curve meets the rising power of the pump.

use daylift_units::root;

use crate::cable::CableLoss;
use crate::curve::{Curve, Point};

/// Share of the interval to which a voltage is found: of some hundred volts, below a millionth of one.
const FOUND: f64 = 1e-10;

/// Strings of one length and plane, and their cable, on a bus that they share with others or not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnBus {
    /// Curve of the strings together.
    pub curve: Curve,
    /// Its point of greatest power.
    pub peak: Point,
    /// Their cable.
    pub cable: CableLoss,
}

impl OnBus {
    /// Strings with a curve.
    #[must_use]
    pub fn new(curve: Curve, cable: CableLoss) -> Self {
        Self {
            peak: curve.max_power(),
            curve,
            cable,
        }
    }
}

/// The greatest frequency \[Hz\] that the bus voltage allows, at most `hz_max`.
///
/// It is the largest f for which some voltage V satisfies V·(1 − c) ≥ `bus_v_per_hz`·f while the power of all strings
/// at V, less cables, is at least `power_w(f)`; c is the cables' fraction at that power. `power_w` must rise with f and
/// `hz_max` must be such that the maximum power suffices for it.
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
    // Surplus of the array over the pump when the bus stands at a place; it falls as the voltage rises.
    let surplus = |point: &BusPoint| (point.delivered_w - power_w(hz_at(point).min(hz_max))) / scale_w;
    if surplus(&at_peak) <= 0.0 {
        return hz_at(&at_peak);
    }
    // High enough for the greatest frequency whatever the cables lose, which is most at greatest power.
    let through = at_peak.bus_v / at_peak.strings_v;
    let enough = Place::at_voltage(strings, bus_v_per_hz * hz_max / through);
    if surplus(&enough.point(strings)) >= 0.0 {
        return hz_max;
    }
    let found = root::bracketed_within(FOUND, peak.x(), enough.x(), |x| surplus(&peak.moved(x).point(strings)));
    hz_at(&peak.moved(found.unwrap_or(peak.x())).point(strings)).min(hz_max)
}

/// Power \[W\] that strings bring to a bus at most, less cables; 0 without strings.
#[must_use]
pub fn greatest_delivered_w(strings: &[OnBus]) -> f64 {
    Place::peak(strings).map_or(0.0, |peak| peak.point(strings).delivered_w)
}

/// Where the bus stands \[V\] while a drive draws `power_w` from it: between greatest power and open circuit, where the
/// voltage rises as less is drawn; at greatest power when that is not enough. 0 without strings.
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
    // At open circuit the voltage of a junction is that of its terminals.
    let found = root::bracketed_within(FOUND, peak.x(), open_v, over).unwrap_or(open_v);
    peak.moved(found).point(strings).bus_v
}

/// What strings give a bus that something else holds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct HeldBus {
    /// Drawn from the array \[W\].
    pub sent_w: f64,
    /// Arriving at the bus, less cables \[W\].
    pub delivered_w: f64,
}

/// What strings give when the bus stands at `held_v`: nothing where their open-circuit voltage is not above it.
#[must_use]
pub fn held_bus(strings: &[OnBus], held_v: f64) -> HeldBus {
    let open_v = strings.iter().map(|s| s.curve.open_circuit_v()).fold(0.0, f64::max);
    if open_v <= held_v {
        return HeldBus::default();
    }
    let low = Place::at_voltage(strings, held_v);
    let off = |x: f64| (low.moved(x).point(strings).bus_v - held_v) / held_v;
    // Without cables the array stands at the bus voltage itself, and the bracket has one end. At open circuit the
    // voltage of a junction is that of its terminals.
    let found = root::bracketed_within(FOUND, low.x(), open_v, off).unwrap_or(low.x());
    let point = low.moved(found).point(strings);
    HeldBus {
        sent_w: point.sent_w,
        delivered_w: point.delivered_w,
    }
}

/// Where the strings stand: alone, by the voltage of their junction, which makes their point explicit; several, by the
/// voltage they have in common.
#[derive(Debug, Clone, Copy)]
enum Place {
    Junction(f64),
    Common(f64),
}

impl Place {
    /// Where the strings together give most; `None` without strings.
    fn peak(strings: &[OnBus]) -> Option<Self> {
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

    fn x(self) -> f64 {
        match self {
            Self::Junction(x) | Self::Common(x) => x,
        }
    }

    fn moved(self, x: f64) -> Self {
        match self {
            Self::Junction(_) => Self::Junction(x),
            Self::Common(_) => Self::Common(x),
        }
    }

    fn point(self, strings: &[OnBus]) -> BusPoint {
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

/// The common bus when all strings stand at one voltage.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct BusPoint {
    strings_v: f64,
    sent_w: f64,
    delivered_w: f64,
    bus_v: f64,
}

impl BusPoint {
    /// Adds strings at a point of theirs; beyond open circuit they give nothing.
    fn add(&mut self, strings: &OnBus, point: &Point) {
        let w = point.power_w.max(0.0);
        self.strings_v = point.voltage_v;
        self.sent_w += w;
        self.delivered_w += strings.cable.delivered_w(w);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use daylift_units::Month;

    use crate::{ArrayLosses, StringGroup, sample};

    /// 19 modules in series, 5 strings, no losses.
    fn group() -> StringGroup {
        strings(19)
    }

    /// So many modules in series, 5 strings, no losses.
    fn strings(series: u32) -> StringGroup {
        StringGroup::new(sample::module(), series, 5, ArrayLosses::NONE, 0.0).unwrap()
    }

    fn on_bus(curve: &Curve, group: &StringGroup) -> [OnBus; 1] {
        [OnBus::new(*curve, group.cable())]
    }

    const BUS_V_PER_HZ: f64 = 11.314;

    /// 13.7·(f/50)³ kW at the DC input.
    fn pump_w(hz: f64) -> f64 {
        13.7e3 * (hz / 50.0).powi(3)
    }

    /// Worked by hand, no published source: irradiance, cell temperature, greatest frequency.
    #[test]
    fn speed_follows_the_curve_and_not_the_maximum_power_voltage() {
        for (s_w_m2, cell_c, worked_hz) in [
            (1000.0, 65.0, 50.0),
            (1000.0, 70.0, 49.35),
            (600.0, 50.0, 49.35),
            (400.0, 45.0, 44.08),
        ] {
            let group = group();
            let curve = group.curve(s_w_m2, cell_c, Month::January);
            let by_power_hz = 50.0 * (curve.max_power().power_w / 13.7e3).cbrt();
            let hz = greatest_frequency_hz(&on_bus(&curve, &group), BUS_V_PER_HZ, by_power_hz.min(50.0), pump_w);
            assert!((hz - worked_hz).abs() <= 0.1, "{s_w_m2} W/m², {cell_c} °C: {hz} Hz");
        }
    }

    #[test]
    fn strings_parted_into_two_groups_allow_what_they_allow_together() {
        let group = group();
        for (s_w_m2, cell_c) in [(1000.0, 70.0), (600.0, 50.0), (800.0, 62.0)] {
            let curve = group.curve(s_w_m2, cell_c, Month::January);
            let whole = on_bus(&curve, &group);
            let part = |share: f64| OnBus {
                curve: curve.scaled(1.0, share),
                peak: curve.scaled(1.0, share).max_power(),
                cable: whole[0].cable,
            };
            let parts = [part(0.6), part(0.4)];
            let hz = |strings: &[OnBus]| greatest_frequency_hz(strings, BUS_V_PER_HZ, 50.0, pump_w);
            assert!((hz(&whole) - hz(&parts)).abs() < 1e-9, "{s_w_m2} W/m²");
            let (a, b) = (held_bus(&whole, 540.2), held_bus(&parts, 540.2));
            assert!((a.sent_w - b.sent_w).abs() < 1e-6 * a.sent_w);
        }
    }

    #[test]
    fn at_the_limit_the_array_carries_just_what_the_pump_takes() {
        let group = group();
        let curve = group.curve(1000.0, 70.0, Month::January);
        let hz = greatest_frequency_hz(&on_bus(&curve, &group), BUS_V_PER_HZ, 50.0, pump_w);
        let bus_v = BUS_V_PER_HZ * hz;
        assert!((bus_v - 558.3).abs() < 1.0, "{bus_v} V");
        assert!((curve.power_w(bus_v) / pump_w(hz) - 1.0).abs() < 1e-6);
    }

    /// Worked by hand, no published source: at 1000 W/m² and 65 °C a pump at full speed takes 13.7 kW, and the bus stands
    /// at 570.7 V, not at the 482.5 V of greatest power.
    #[test]
    fn the_bus_rises_by_itself_while_the_pump_takes_less_than_the_sun_gives() {
        let group = group();
        let strings = on_bus(&group.curve(1000.0, 65.0, Month::January), &group);
        assert!((bus_v_at_power(&strings, 13.7e3) - 570.7).abs() < 0.5);
        assert!((bus_v_at_power(&strings, 1e6) - 482.5).abs() < 0.5);
        assert!((bus_v_at_power(&strings, 0.0) - strings[0].curve.open_circuit_v()).abs() < 1e-6);
        assert!((greatest_delivered_w(&strings) - strings[0].peak.power_w).abs() < 1e-6);
        assert!(bus_v_at_power(&[], 1.0).abs() < 1e-12 && greatest_delivered_w(&[]).abs() < 1e-12);
        let parts = [0.6, 0.4].map(|share| OnBus::new(strings[0].curve.scaled(1.0, share), CableLoss::NONE));
        assert!((bus_v_at_power(&parts, 13.7e3) - bus_v_at_power(&strings, 13.7e3)).abs() < 1e-6);
    }

    #[test]
    fn a_bus_high_enough_at_maximum_power_allows_everything() {
        let group = group();
        let curve = group.curve(900.0, 20.0, Month::January);
        assert!((greatest_frequency_hz(&on_bus(&curve, &group), 5.0, 50.0, pump_w) - 50.0).abs() < 1e-12);
    }

    /// Worked by hand, no published source: a rectifier on 400 V holds 540.2 V at 1000 W/m² and 65 °C.
    #[test]
    fn a_rectifier_holds_long_strings_off_their_best_and_short_ones_off_altogether() {
        let held_v = 3.0 * 2.0_f64.sqrt() / std::f64::consts::PI * 400.0;
        assert!((held_v - 540.2).abs() < 0.1);
        let at = |series: u32| {
            let group = strings(series);
            let curve = group.curve(1000.0, 65.0, Month::January);
            (curve, held_bus(&on_bus(&curve, &group), held_v))
        };
        let (short, nothing) = at(16);
        assert!(
            (short.open_circuit_v() - 524.0).abs() < 0.5,
            "{} V",
            short.open_circuit_v()
        );
        assert!(nothing == HeldBus::default());
        let (long, held) = at(18);
        let available_w = long.max_power().power_w;
        assert!((available_w - 20.06e3).abs() < 20.0, "{available_w} W");
        assert!((held.delivered_w - 13.08e3).abs() < 20.0, "{} W", held.delivered_w);
        // A pump that takes 13.7 kW: 0.62 kW from the grid, 6.98 kW held off.
        assert!((13.7e3 - held.delivered_w - 0.62e3).abs() < 20.0);
        assert!((available_w - held.sent_w - 6.98e3).abs() < 20.0);
    }
}
