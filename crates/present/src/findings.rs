//! Findings on strings, in words.

use daylift_electrics::{Finding, Found, Fuse, Measure, Remedy, Rule, SpeedLimit};
use daylift_study::by_id::by_id;
use daylift_study::strings::{Changed, MeasureRow, Subject, Weight};
use schemars::JsonSchema;
use serde::Serialize;

use crate::number::{decimals_apart, grouped, significant};
use crate::{say, term};

/// A finding on strings, to read before they are built.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FindingRow {
    /// `forbids`, `warns` or `notes`.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub weight: Weight,
    /// Id of the rule, or of the note.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub id: Subject,
    /// The device or modules concerned.
    pub about: String,
    /// What was found.
    pub says: String,
    /// The value.
    pub value: Option<f64>,
    /// Its limit.
    pub limit: Option<f64>,
    /// Unit of both; empty for a count.
    pub unit: String,
    /// The rule and its source; empty for a note.
    pub rule: String,
    /// How to fix it; empty where nothing needs fixing.
    pub remedy: String,
    /// Unconfirmed values that it depends on.
    pub unconfirmed: Vec<String>,
}

impl FindingRow {
    /// A finding in words.
    #[must_use]
    pub fn new(finding: &Finding) -> Self {
        let measure = finding.measure();
        Self {
            weight: finding.weight,
            id: finding.id(),
            about: finding.about.clone(),
            says: says(&finding.found),
            value: measure.map(|m| m.rule.printed_value(m.value)),
            limit: measure.and_then(|m| Some(m.rule.printed_value(m.limit?))),
            unit: measure.map_or("", |m| m.rule.unit()).to_owned(),
            rule: measure.map_or_else(String::new, |m| term!("rule-", m.rule)),
            remedy: remedy(&finding.found),
            unconfirmed: finding.unconfirmed.clone(),
        }
    }
}

/// A limit that is the only obstacle.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ChangeRow {
    /// The necessary change, in words.
    pub says: String,
    /// Modules in series of the layout that is suitable then.
    pub modules_per_string: u32,
    /// The value that the limit must allow, and today's limit.
    pub measure: MeasureRow,
}

impl ChangeRow {
    /// A change in words.
    #[must_use]
    pub fn new(changed: &Changed) -> Self {
        Self {
            says: change(changed),
            modules_per_string: changed.change.series,
            measure: changed.measure.clone(),
        }
    }
}

/// A value of a rule with its unit, to a tenth; counts are whole numbers.
fn printed(rule: Rule, value: f64) -> String {
    let value = rule.printed_value(value);
    match rule.unit() {
        "" => grouped(value, 0),
        unit => format!("{} {unit}", grouped(value, 1)),
    }
}

/// The same; if the measure exceeds its limit by less than 1, with so many decimals that it does not look like its limit.
fn finely(value: f64, m: &Measure) -> String {
    let (rule, unit) = (m.rule, m.rule.unit());
    let close = !unit.is_empty() && m.breaks && rule.printed_value(m.beyond()) < 1.0;
    if close {
        match rule.printed_value(value) {
            value if value != 0.0 && value.abs() < 0.01 => format!("{} {unit}", significant(2, value)),
            value => format!("{} {unit}", grouped(value, decimals_of(m))),
        }
    } else {
        printed(rule, value)
    }
}

/// Decimals with which a measure close to its limit differs from it.
fn decimals_of(m: &Measure) -> usize {
    let limit = m.limit.unwrap_or(f64::NAN);
    decimals_apart(m.rule.printed_value(m.value), m.rule.printed_value(limit), 2)
}

fn whole(value: f64) -> String {
    grouped(value, 0)
}

fn tenth(value: f64) -> String {
    grouped(value, 1)
}

fn kilo(watts: f64) -> String {
    tenth(watts / 1e3)
}

/// The finding, in a sentence.
#[must_use]
pub fn says(found: &Found) -> String {
    match found {
        Found::Broken { measure, .. } => broken(measure),
        Found::NotGiven { measure, key } => not_given(measure, key),
        Found::RecordExceeded {
            coldest,
            weather_c,
            record_c,
        } => {
            let (weather, record) = (tenth(*weather_c), tenth(*record_c));
            if *coldest {
                say!("found-record", weather = weather, record = record)
            } else {
                say!("found-record.hotter", weather = weather, record = record)
            }
        }
        Found::NoStrings => say!("found-no-strings"),
        Found::NoStringsOnInverter => say!("found-no-strings.inverter"),
        Found::PlanesApart { apart_deg } => say!("found-planes-apart", apart = whole(*apart_deg)),
        Found::ArrayOverPump { dc_w, pump_w } => {
            let ratio = format!("{:.2}", dc_w / pump_w);
            say!(
                "found-array-over-pump",
                kwp = kilo(*dc_w),
                ratio = ratio,
                pump = kilo(*pump_w)
            )
        }
        Found::Poles { poles } => say!("found-poles", inputs = poles / 2, poles = *poles),
        Found::StringFuses {
            fuse,
            rating_a,
            interrupts_v,
        } => string_fuses(fuse, *rating_a, *interrupts_v),
        Found::HeldBus { held_v, open_v, .. } if open_v <= held_v => {
            say!("found-held-bus.nothing", held = whole(*held_v), open = whole(*open_v))
        }
        Found::HeldBus {
            held_v, max_power_v, ..
        } => {
            say!("found-held-bus", held = whole(*held_v), best = whole(*max_power_v))
        }
        Found::DcOverAc {
            dc_w,
            ratio,
            inputs,
            clips_noon,
        } => {
            let (kwp, ratio) = (kilo(*dc_w), format!("{ratio:.2}"));
            let inputs = say!("counted-inputs", count = *inputs);
            if *clips_noon {
                say!("found-dc-over-ac.clips", kwp = kwp, ratio = ratio, inputs = inputs)
            } else {
                say!("found-dc-over-ac", kwp = kwp, ratio = ratio, inputs = inputs)
            }
        }
        Found::Idle { idle_w } => say!("found-idle-strings", kwp = kilo(*idle_w)),
    }
}

fn string_fuses(fuse: &Fuse, rating_a: f64, interrupts_v: f64) -> String {
    say!(
        "found-string-fuses",
        parallel = fuse.parallel,
        reverse = tenth(fuse.reverse_a),
        fuse = whole(fuse.module_a),
        rating = whole(rating_a),
        volts = whole(interrupts_v),
    )
}

fn not_given(m: &Measure, key: &str) -> String {
    match m.limit {
        Some(limit) if m.rule == Rule::ColdVoltageOnInverter => {
            say!("not-given.window", key = key, limit = printed(m.rule, limit))
        }
        Some(limit) => say!("not-given.usual", key = key, limit = printed(m.rule, limit)),
        None if m.rule.is_ceiling() => say!("not-given", key = key, value = printed(m.rule, m.value)),
        None => say!("not-given.less", key = key, value = printed(m.rule, m.value)),
    }
}

fn broken(m: &Measure) -> String {
    let limit = m.limit.unwrap_or(f64::NAN);
    let fill = Broken {
        modules: say!("counted-modules", count = m.series),
        strings: say!("counted-strings", count = m.strings),
        value: finely(m.value, m),
        limit: finely(limit, m),
        beyond: finely(m.beyond(), m),
    };
    match m.rule {
        Rule::ColdVoltageOnDrive | Rule::ColdVoltageOnInverter if !m.is_given => fill.usual(),
        Rule::PumpSpeed if m.strings == 0 => say!("broken-pump-speed.no-strings"),
        Rule::PumpSpeed if m.value <= 0.0 => {
            let Broken {
                modules,
                strings,
                limit,
                ..
            } = fill;
            say!(
                "broken-pump-speed.stopped",
                modules = modules,
                strings = strings,
                limit = limit
            )
        }
        rule => fill.words(rule),
    }
}

/// What fills the text of a violated rule.
struct Broken {
    modules: String,
    strings: String,
    value: String,
    limit: String,
    beyond: String,
}

impl Broken {
    fn words(self, rule: Rule) -> String {
        term!(
            "broken-",
            rule,
            modules = self.modules,
            strings = self.strings,
            value = self.value,
            limit = self.limit,
            beyond = self.beyond,
        )
    }

    /// Checked against the usual limit of such a device.
    fn usual(self) -> String {
        say!(
            "broken-cold-voltage-on-drive.usual",
            modules = self.modules,
            value = self.value,
            limit = self.limit,
            beyond = self.beyond,
        )
    }
}

/// How to fix it; empty where nothing needs fixing.
#[must_use]
pub fn remedy(found: &Found) -> String {
    match found {
        Found::Broken { measure, remedy } => remedy_of(measure.rule, *remedy),
        Found::NotGiven { key, .. } => say!("not-given.fix", key = *key),
        Found::RecordExceeded { coldest: true, .. } => say!("found-record.fix"),
        Found::RecordExceeded { coldest: false, .. } => say!("found-record.fix-hotter"),
        Found::NoStrings | Found::NoStringsOnInverter => say!("found-no-strings.fix"),
        Found::PlanesApart { .. } => say!("found-planes-apart.fix"),
        _ => String::new(),
    }
}

fn remedy_of(rule: Rule, remedy: Remedy) -> String {
    let (count, device) = match remedy {
        Remedy::Speed(Some(SpeedLimit::Voltage)) => return say!("fix-pump-speed.voltage"),
        Remedy::Speed(Some(SpeedLimit::Power)) => return say!("fix-pump-speed.power"),
        Remedy::Speed(Some(SpeedLimit::Nothing)) => return say!("fix-pump-speed.nothing"),
        Remedy::CountOrDevice { count, device } => (count, device),
        Remedy::Speed(None) | Remedy::Fewer => (f64::NAN, f64::NAN),
    };
    let series = match rule {
        Rule::MpptFloor | Rule::DriveStart => say!("at-least-in-series", count = whole(count)),
        _ if count < 1.0 => say!("at-most-in-series.none"),
        _ => say!("at-most-in-series", count = whole(count)),
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small count; 0 where no count is a remedy"
    )]
    let strings = say!("numbered-strings", count = count as u32);
    let device = match rule {
        Rule::FuseOnInverter | Rule::FuseOnDrive => tenth(device),
        _ => whole(device),
    };
    term!("fix-", rule, series = series, strings = strings, device = device)
}

/// The change that makes some layout suitable, in words.
#[must_use]
pub fn change(changed: &Changed) -> String {
    let (change, device) = (&changed.change, &changed.measure.about);
    let m = &change.measure;
    let value = printed(m.rule, m.value);
    let not = m.limit.map_or_else(String::new, |limit| {
        say!("change-limit", limit = printed(m.rule, limit))
    });
    match (m.rule, change.speed_limit) {
        (Rule::PumpSpeed, Some(SpeedLimit::Voltage)) => say!(
            "fixed-pump-speed.voltage",
            device = device,
            series = change.series.to_string(),
            value = value,
            not = not,
        ),
        (Rule::PumpSpeed, Some(SpeedLimit::Power)) => say!(
            "fixed-pump-speed.power",
            device = device,
            series = change.series.to_string(),
            value = value,
            not = not,
        ),
        // A warning never rules out a layout.
        (rule, _) if rule.weight() == Weight::Warns => String::new(),
        (rule, _) => term!(
            "fixed-",
            rule,
            device = device,
            value = value,
            not = not,
            then = say!("change-then", series = change.series.to_string()),
            amps = whole(m.limit.unwrap_or(f64::NAN)),
        ),
    }
}

#[cfg(test)]
mod tests {
    use daylift_electrics::Device;

    use super::*;

    fn measure(rule: Rule, value: f64, limit: Option<f64>) -> Measure {
        Measure {
            rule,
            device: Device::Drive(0.into()),
            series: 16,
            strings: 1,
            value,
            limit,
            is_given: true,
            breaks: limit.is_some(),
        }
    }

    /// Worked by hand: 16 modules of 50.8164 V are 813.0624 V, 13.0624 V above 800 V.
    #[test]
    fn a_violated_rule_has_value_limit_and_remedy_in_words() {
        let measure = measure(Rule::ColdVoltageOnDrive, 813.0624, Some(800.0));
        let (count, device) = (15.0, 814.0);
        let remedy = Remedy::CountOrDevice { count, device };
        let finding = Finding {
            weight: Weight::Forbids,
            about: "drive".to_owned(),
            found: Found::Broken { measure, remedy },
            unconfirmed: vec!["site.record_low_c".to_owned()],
        };
        let row = FindingRow::new(&finding);
        assert_eq!(
            row.says,
            "16 modules in series reach 813.1 V at open circuit on the coldest morning; the maximum is 800.0 V: 13.1 V too high"
        );
        assert_eq!(row.remedy, "at most 15 in series, or a drive that withstands 814 V");
        assert_eq!((row.limit, row.unit.as_str()), (Some(800.0), "V"));
    }

    #[test]
    fn no_string_fits_if_one_module_exceeds_the_limit() {
        let (count, device) = (0.0, 814.0);
        let said = remedy_of(Rule::ColdVoltageOnInverter, Remedy::CountOrDevice { count, device });
        assert_eq!(
            said,
            "no string of these modules fits, or an inverter that withstands 814 V"
        );
    }

    #[test]
    fn a_value_close_to_its_limit_has_one_more_decimal() {
        let close = measure(Rule::ColdVoltageOnDrive, 800.04, Some(800.0));
        assert!(broken(&close).contains("800.04 V") && broken(&close).contains("0.04 V too high"));
        let kilowatts = measure(Rule::PowerOnDrive, 16_500.0, Some(15_000.0));
        assert_eq!(
            broken(&kilowatts),
            "16.5 kW of modules are connected; the maximum is 15.0 kW: 1.5 kW too much"
        );
    }

    #[test]
    fn one_string_is_singular() {
        let said = |rule, count| remedy_of(rule, Remedy::CountOrDevice { count, device: 20.0 });
        assert_eq!(
            said(Rule::StringsOnInput, 1.0),
            "at most 1 string on an input; use more inputs"
        );
        assert!(said(Rule::ShortCircuitOnDrive, 1.0).starts_with("at most 1 string on the drive, or "));
        assert!(said(Rule::FuseOnDrive, 2.0).starts_with("at most 2 strings in parallel, or "));
    }

    #[test]
    fn a_value_very_close_to_its_limit_still_differs_from_it() {
        let close = broken(&measure(Rule::ColdVoltageOnDrive, 800.004, Some(800.0)));
        assert!(close.contains("800.004 V") && close.contains("is 800.000 V"), "{close}");
        let slow = broken(&measure(Rule::PumpSpeed, 44.66, Some(44.73)));
        assert!(
            slow.contains("44.66 Hz") && slow.contains("44.73 Hz: 0.07 Hz too low"),
            "{slow}"
        );
    }

    #[test]
    fn a_change_names_the_value_that_the_limit_must_allow() {
        let of = measure(Rule::ColdVoltageOnDrive, 700.375, Some(640.0));
        let changed = Changed {
            change: daylift_electrics::Change {
                measure: of,
                series: 14,
                per_input: 1,
                speed_limit: None,
            },
            measure: MeasureRow {
                rule: of.rule,
                about: "drive".to_owned(),
                value: of.value,
                limit: of.limit,
                unit: "V".to_owned(),
                beyond: 60.375,
                weight: Some(Weight::Forbids),
            },
        };
        assert_eq!(
            change(&changed),
            "drive: one that withstands 700.4 V DC instead of 640.0 V; then strings of 14 are suitable"
        );
    }
}
