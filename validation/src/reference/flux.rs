//! The voltage rule with reduced flux (§8): the highest frequency that some voltage of the strings allows.

use super::lift::{Duty, Lift, Work};
use super::strings::Strings;

/// Powers closer than this share are the same.
const HAIR: f64 = 1e-9;
/// Voltages tried before the best of them is refined.
const PARTS: u32 = 16;
/// Steps of the golden section.
const STEPS: u32 = 32;

/// What the voltage allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Allowed {
    /// The frequency that everything else allows, at full flux.
    Everything,
    /// This operating point.
    Work(Work),
    /// Not even the start frequency.
    Nothing,
}

/// Lift and strings, and what the other limits leave.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rule<'r, 'a> {
    pub(super) lift: &'r Lift<'a>,
    pub(super) strings: &'r Strings<'a>,
    /// The most that the strings give: (1 − t) of their maximum power \[W\].
    pub(super) most_w: f64,
    /// Derating of the drive.
    pub(super) derating: f64,
}

/// A voltage, the share of full flux that it gives, and its power over the power that the drive takes, less 1.
#[derive(Debug, Clone, Copy)]
struct At {
    voltage_v: f64,
    share: f64,
    margin: f64,
}

impl Rule<'_, '_> {
    /// The operating point up to `top`, which power, well, drive and wanted frequency allow at full flux.
    pub(super) fn allowed(&self, top: Work) -> Allowed {
        if self.strings.best_bus_v() >= self.lift.need_v(top.hz) {
            return Allowed::Everything;
        }
        let Some(start) = self.lift.start else {
            return Allowed::Nothing;
        };
        let best = |flow_m3_s: f64| self.best(self.lift.duty_at_flow(flow_m3_s));
        let at_top = best(top.flow_m3_s);
        if at_top.margin >= -HAIR {
            return match self.highest(self.lift.duty_at_flow(top.flow_m3_s), at_top) {
                share if share >= 1.0 => Allowed::Everything,
                share => self.work(top.flow_m3_s, share),
            };
        }
        if best(start.flow_m3_s).margin < 0.0 {
            return Allowed::Nothing;
        }
        match self.lift.where_zero(top, |flow_m3_s| best(flow_m3_s).margin) {
            Some(flow_m3_s) => self.work(flow_m3_s, best(flow_m3_s).share),
            None => Allowed::Nothing,
        }
    }

    fn work(&self, flow_m3_s: f64, share: f64) -> Allowed {
        let work = self.lift.work(self.lift.duty_at_flow(flow_m3_s), share);
        work.map_or(Allowed::Nothing, Allowed::Work)
    }

    /// Whether and how a voltage serves a duty.
    fn at(&self, duty: Duty, voltage_v: f64) -> At {
        let (array_w, drive_w) = self.strings.at_voltage(voltage_v, self.most_w);
        let bus_v = voltage_v * if array_w > 0.0 { drive_w / array_w } else { 1.0 };
        self.serves(duty, voltage_v, bus_v, drive_w)
    }

    fn serves(&self, duty: Duty, voltage_v: f64, bus_v: f64, drive_w: f64) -> At {
        let share = (bus_v / self.lift.need_v(duty.hz)).min(1.0);
        let taken_w = self.lift.work(duty, share).map_or(f64::INFINITY, |work| work.dc_w());
        At {
            voltage_v,
            share,
            margin: drive_w / taken_w - 1.0,
        }
    }

    /// The least share of full flux with which drive and motor may run.
    fn least_share(&self, duty: Duty) -> f64 {
        self.lift.least_flux().max(self.lift.share_for_current(duty, self.derating))
    }

    /// The voltages that give less than full flux, and enough of it; `None` where there are none.
    fn reduced(&self, duty: Duty) -> Option<(f64, f64)> {
        let need_v = self.lift.need_v(duty.hz);
        let least_share = self.least_share(duty);
        if least_share >= 1.0 {
            return None;
        }
        let best_v = self.strings.least_best_v();
        let low_v = self.strings.array_v_for_bus(least_share * need_v, self.most_w)?.max(best_v);
        let full_v = self.strings.array_v_for_bus(need_v, self.most_w);
        let high_v = full_v.unwrap_or(self.strings.open_v());
        (low_v < high_v).then_some((low_v, high_v))
    }

    /// The voltage at which most power is left for a duty.
    fn best(&self, duty: Duty) -> At {
        let mut best = At {
            voltage_v: 0.0,
            share: 1.0,
            margin: -1.0,
        };
        let mut better = |at: At| {
            if at.margin > best.margin {
                best = at;
            }
        };
        // Up to the lowest voltage of maximum power, all groups give theirs.
        let at_best = self.at_best(duty);
        if at_best.share >= self.least_share(duty).min(1.0) {
            better(at_best);
        }
        if let Some(full_v) = self.full_v(duty) {
            let top_v = self.strings.greatest_best_v();
            better(self.at(duty, full_v));
            if full_v < top_v {
                better(self.crest(duty, full_v, top_v));
            }
        }
        if let Some((low_v, high_v)) = self.reduced(duty) {
            better(self.crest(duty, low_v, high_v));
        }
        best
    }

    fn at_best(&self, duty: Duty) -> At {
        let bus_v = self.strings.bus_v_at_best(self.most_w);
        let drive_w = self.strings.delivered_w(self.most_w);
        self.serves(duty, self.strings.least_best_v(), bus_v, drive_w)
    }

    /// The lowest voltage, from that of maximum power on, that gives full flux.
    fn full_v(&self, duty: Duty) -> Option<f64> {
        let full_v = self.strings.array_v_for_bus(self.lift.need_v(duty.hz), self.most_w)?;
        Some(full_v.max(self.strings.least_best_v()))
    }

    /// The best of some voltages, refined by golden section.
    fn crest(&self, duty: Duty, low_v: f64, high_v: f64) -> At {
        let part_v = (high_v - low_v) / f64::from(PARTS);
        let tried = (0..=PARTS).map(|i| self.at(duty, low_v + part_v * f64::from(i)));
        let Some(best) = tried.max_by(|a, b| a.margin.total_cmp(&b.margin)) else {
            return self.at(duty, low_v);
        };
        let (mut left_v, mut right_v) = (
            (best.voltage_v - part_v).max(low_v),
            (best.voltage_v + part_v).min(high_v),
        );
        let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
        let at_part = |left_v: f64, right_v: f64, part: f64| self.at(duty, left_v + part * (right_v - left_v));
        let (mut one, mut other) = (at_part(left_v, right_v, 1.0 - golden), at_part(left_v, right_v, golden));
        for _ in 0..STEPS {
            if one.margin < other.margin {
                left_v = one.voltage_v;
                (one, other) = (other, at_part(left_v, right_v, golden));
            } else {
                right_v = other.voltage_v;
                (one, other) = (at_part(left_v, right_v, 1.0 - golden), one);
            }
        }
        let refined = self.at(duty, 0.5 * (left_v + right_v));
        if refined.margin > best.margin { refined } else { best }
    }

    /// The greatest share of full flux with which a duty is served; `best` serves it.
    fn highest(&self, duty: Duty, best: At) -> f64 {
        let serves = |at: At| at.margin >= -HAIR;
        let at_full = self.full_v(duty).map(|full_v| {
            let top_v = self.strings.greatest_best_v();
            let at = self.at(duty, full_v);
            if full_v < top_v && !serves(at) {
                self.crest(duty, full_v, top_v)
            } else {
                at
            }
        });
        if at_full.is_some_and(serves) || self.at_best(duty).share >= 1.0 {
            return 1.0;
        }
        let Some((low_v, high_v)) = self.reduced(duty) else {
            return best.share;
        };
        // Down from the highest voltage to the first that serves.
        let part_v = (high_v - low_v) / f64::from(PARTS);
        let found = (0..=PARTS)
            .rev()
            .map(|i| self.at(duty, low_v + part_v * f64::from(i)))
            .find(|at| serves(*at));
        let (mut served, mut unserved_v) = match found {
            Some(at) if at.voltage_v > best.voltage_v || best.voltage_v < low_v => (at, at.voltage_v + part_v),
            _ => (best, best.voltage_v + part_v),
        };
        unserved_v = unserved_v.min(high_v);
        for _ in 0..60 {
            let middle = self.at(duty, 0.5 * (served.voltage_v + unserved_v));
            if serves(middle) {
                served = middle;
            } else {
                unserved_v = middle.voltage_v;
            }
        }
        served.share
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;
    use std::rc::Rc;

    use daylift_array::StringGroup;
    use daylift_plant::Plant;
    use daylift_units::Month;

    use super::super::devices::{Currents, OfSet};
    use super::super::lift::Bus;
    use super::super::strings::Lit;
    use super::*;

    const MONTH: Month = Month::March;

    /// A motor of 230 V and 50 Hz behind a drive with d = 3 %.
    fn plant() -> Plant {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/tamarind-post");
        daylift_plant_file::read_plant(&folder).unwrap().plant
    }

    fn lift(plant: &Plant, of_set: OfSet) -> Lift<'_> {
        Lift::new(&plant.sets.raw[0].pump_set, &Rc::new(of_set), MONTH)
    }

    fn near(a: f64, b: f64) -> bool {
        (a / b - 1.0).abs() < 1e-5
    }

    #[test]
    fn the_voltage_that_full_flux_needs() {
        let plant = plant();
        let of_set = OfSet {
            filter_drop: 0.015,
            least_flux: 0.95,
            flux_on_mains: true,
            ..OfSet::default()
        };
        let plain = lift(&plant, of_set.clone());
        // By hand: √2·230·1.045 = 339.9063 V at 50 Hz, 271.9250 V at 40 Hz, 407.8875 V at 60 Hz.
        assert!(near(plain.need_v(50.0), 339.9063), "{}", plain.need_v(50.0));
        assert!(near(plain.need_v(40.0), 271.9250));
        assert!(near(plain.need_v(60.0), 407.8875));
        // A rectifier on 230 V holds 3√2/π·230 = 310.6091 V: 95 % of full flux up to 48.0951 Hz.
        let bus = plain.held_bus(None);
        assert!(matches!(bus, Bus::Held(v) if near(v, 310.6091)));
        assert!(near(plain.flux_hz(bus), 48.0951), "{}", plain.flux_hz(bus));
        let weakened = lift(
            &plant,
            OfSet {
                weakens: true,
                least_flux: 0.9,
                ..of_set
            },
        );
        assert!(near(weakened.need_v(60.0), 339.9063));
        assert!(weakened.flux_hz(bus).is_infinite());
    }

    /// The greatest share of full flux with which some of many voltages serves a flow, word for word as the rule says.
    fn tried(rule: &Rule<'_, '_>, flow_m3_s: f64) -> Option<f64> {
        const MANY: u32 = 20_000;
        let duty = rule.lift.duty_at_flow(flow_m3_s);
        let (low_v, high_v) = (rule.strings.least_best_v(), rule.strings.open_v());
        let serves = |i: u32| {
            let voltage_v = low_v + (high_v - low_v) * f64::from(i) / f64::from(MANY);
            let (array_w, drive_w) = rule.strings.at_voltage(voltage_v, rule.most_w);
            let share = (voltage_v * drive_w / array_w / rule.lift.need_v(duty.hz)).min(1.0);
            let enough = share >= rule.lift.least_flux()
                && share >= rule.lift.share_for_current(duty, rule.derating)
                && drive_w >= rule.lift.work(duty, share)?.dc_w();
            enough.then_some(share)
        };
        (0..MANY).rev().find_map(serves)
    }

    /// The strings of the plant in another length, in some light.
    fn lit(group: &StringGroup, light_w_m2: f64) -> Lit<'_> {
        let curve = group.curve(light_w_m2, 25.0 + light_w_m2 / 30.0, MONTH);
        Lit {
            strings: group,
            best: curve.max_power(),
            curve,
        }
    }

    #[test]
    fn no_voltage_allows_more_and_some_voltage_allows_as_much() {
        let plant = plant();
        let of_sets = [(1.0, None), (0.9, None), (0.8, Some(6.0))].map(|(least_flux, motor_a)| OfSet {
            least_flux,
            filter_drop: 0.015,
            harmonic_loss: 0.15,
            currents: Currents {
                motor_a,
                ..Currents::default()
            },
            ..OfSet::default()
        });
        let (mut limited, mut reduced) = (0, 0);
        for of_set in of_sets {
            let lift = lift(&plant, of_set);
            let top_hz = lift.rating_hz(1.0).unwrap_or(f64::INFINITY).min(lift.wanted_hz());
            let top = lift.at_hz(top_hz, Bus::Full).unwrap();
            for series in 6..14 {
                let group = plant.groups().raw[0].strings.in_strings(series, 2).unwrap();
                for light_w_m2 in [350.0, 600.0, 900.0] {
                    let strings = Strings::new(vec![lit(&group, light_w_m2)]);
                    let rule = Rule {
                        lift: &lift,
                        strings: &strings,
                        most_w: 0.96 * strings.offered_w(),
                        derating: 1.0,
                    };
                    let by_power = lift.at_power(strings.delivered_w(rule.most_w), Bus::Full).unwrap();
                    let top = if by_power.hz < top.hz { by_power } else { top };
                    let start_m3_s = lift.start.unwrap().flow_m3_s;
                    if top.flow_m3_s <= start_m3_s * 1.001 {
                        continue;
                    }
                    match rule.allowed(top) {
                        Allowed::Everything => {
                            assert!(
                                strings.best_bus_v() >= lift.need_v(top.hz)
                                    || tried(&rule, top.flow_m3_s * (1.0 - 1e-4)).is_some()
                            );
                        }
                        Allowed::Nothing => assert_eq!(tried(&rule, start_m3_s * 1.001), None),
                        Allowed::Work(work) => {
                            limited += 1;
                            let at_top = work.flow_m3_s >= top.flow_m3_s;
                            let flow_m3_s = |times: f64| lift.at_hz(work.hz * times, Bus::Full).map(|w| w.flow_m3_s);
                            let Some(less_m3_s) = flow_m3_s(1.0 - 2e-4) else {
                                continue;
                            };
                            let share = tried(&rule, less_m3_s).unwrap();
                            assert!(at_top || tried(&rule, flow_m3_s(1.0 + 2e-4).unwrap()).is_none());
                            if share < 1.0 {
                                reduced += 1;
                            }
                            if at_top {
                                let same = lift.work(lift.duty_at_flow(work.flow_m3_s), share).unwrap();
                                assert!((work.dc_w() / same.dc_w() - 1.0).abs() < 1e-3);
                            }
                        }
                    }
                }
            }
        }
        assert!(
            limited > 10 && reduced > 5,
            "{limited} limited, {reduced} of them reduced"
        );
    }
}
