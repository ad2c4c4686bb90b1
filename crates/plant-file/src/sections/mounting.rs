//! How the modules of a plane stand: fixed or on a tracker, alone or in rows.

use daylift_plant::{Facing, PlaneOf};
use daylift_sky::{Horizon, Mounting, Plane, RowShade, Rows, Surface, Tracker};
use daylift_units::fields::array;
use daylift_units::{Fault, Field};

use super::equipment::booked;
use crate::provenance::OriginValue;
use crate::read::Section;

/// Keys that say how a plane stands; the first two are a fixed plane's, the next three a tracker's.
const FIXED: [&str; 2] = [array::TILT.key, array::AZIMUTH.key];
const TURNING: [&str; 4] = [
    array::AXIS_AZIMUTH.key,
    array::AXIS_TILT.key,
    array::GREATEST_ROTATION.key,
    BACKTRACKING,
];
const MOUNTING: &str = "mounting";
const BACKTRACKING: &str = "backtracking";
const ROW_SHADE: &str = "row_shade";

/// Every key that says how a plane stands.
pub(crate) fn keys() -> impl Iterator<Item = &'static str> {
    let rows = [array::ROW_PITCH.key, array::ROW_WIDTH.key, ROW_SHADE, MOUNTING];
    FIXED.into_iter().chain(TURNING).chain(rows)
}

pub(crate) fn read_plane(
    section: &Section<'_>,
    name: String,
    albedo: Option<f64>,
    horizon: Option<&Horizon>,
) -> Option<PlaneOf> {
    let turns = section.choice_or(
        MOUNTING,
        "how the modules are mounted",
        &[("fixed", false), ("single-axis", true)],
        "usual practice on farms",
    );
    let rows = read_rows(section);
    let (facing, mounting) = if turns? {
        refuse(
            section,
            &FIXED,
            "on a tracker, which turns",
            "remove it; the tracker has an axis",
        );
        turning(section, albedo, &rows)?
    } else {
        refuse(
            section,
            &TURNING,
            "on a fixed plane",
            "remove it, or add `mounting = \"single-axis\"`",
        );
        fixed(section, albedo)?
    };
    Some(PlaneOf {
        name,
        surface: Surface::new(mounting, rows?, horizon.cloned()),
        facing,
    })
}

fn refuse(section: &Section<'_>, keys: &[&str], given: &str, remedy: &str) {
    for key in keys {
        section.know(key);
        if section.has(key) {
            let fault = Fault::new(
                *key,
                "how the modules are mounted",
                format!("`{key}` {given}"),
                "tilt and azimuth of a fixed plane, or the axis of a tracker",
                remedy,
            );
            section.fault(fault);
        }
    }
}

fn fixed(section: &Section<'_>, albedo: Option<f64>) -> Option<(Facing, Mounting)> {
    let direction = (section.number(&array::TILT), section.number(&array::AZIMUTH));
    let (tilt_deg, azimuth_deg) = (direction.0?, direction.1?);
    let plane = booked(section, Plane::new(tilt_deg, azimuth_deg, albedo?))?;
    Some((Facing::Fixed { tilt_deg, azimuth_deg }, Mounting::Fixed(plane)))
}

fn turning(section: &Section<'_>, albedo: Option<f64>, rows: &Option<Option<Rows>>) -> Option<(Facing, Mounting)> {
    let axis = [array::AXIS_AZIMUTH, array::AXIS_TILT, array::GREATEST_ROTATION].map(|field| section.number(&field));
    let turns_back = if section.has(BACKTRACKING) {
        section.flag(BACKTRACKING, "whether the tracker turns back from its own shade")
    } else {
        let of_rows = matches!(rows, Some(Some(_)));
        let source = "usual practice: trackers in rows turn back";
        section.know(BACKTRACKING);
        section.by_default(BACKTRACKING, OriginValue::Text(of_rows.to_string()), "", source);
        Some(of_rows)
    };
    if turns_back == Some(true) && matches!(rows, Some(None)) {
        section.fault(Fault::new(
            BACKTRACKING,
            "whether the tracker turns back from its own shade",
            "true, without rows",
            "`row_pitch_m` and `row_width_m` beside it: they say when rows shade each other",
            "add them, or remove `backtracking`",
        ));
        return None;
    }
    let [axis_azimuth_deg, axis_tilt_deg, greatest_deg] = axis;
    let (axis_azimuth_deg, axis_tilt_deg) = (axis_azimuth_deg?, axis_tilt_deg?);
    let tracker = booked(
        section,
        Tracker::new(axis_azimuth_deg, axis_tilt_deg, greatest_deg?, albedo?),
    )?;
    let tracker = match rows.as_ref()? {
        Some(rows) if turns_back? => tracker.backtracking(rows),
        _ => tracker,
    };
    let facing = Facing::SingleAxis {
        axis_azimuth_deg,
        axis_tilt_deg,
    };
    Some((facing, Mounting::SingleAxis(tracker)))
}

/// Rows, if there are any; the outer `None` when they have faults.
fn read_rows(section: &Section<'_>) -> Option<Option<Rows>> {
    let shade = section.has(ROW_SHADE).then(|| {
        section.choice(
            ROW_SHADE,
            "what shade on a row's edge does to its strings",
            &[("in-proportion", RowShade::InProportion), ("whole", RowShade::Whole)],
        )
    });
    section.know(ROW_SHADE);
    let is_there = |field: &Field| section.has(field.key);
    let (pitch, width) = (is_there(&array::ROW_PITCH), is_there(&array::ROW_WIDTH));
    let values = (section.optional(&array::ROW_PITCH), section.optional(&array::ROW_WIDTH));
    if !pitch && !width && shade.is_none() {
        return Some(None);
    }
    if !(pitch && width) {
        let there = [
            (pitch, array::ROW_PITCH.key),
            (width, array::ROW_WIDTH.key),
            (true, ROW_SHADE),
        ];
        let key = there.iter().find(|(is, _)| *is).map_or(ROW_SHADE, |(_, key)| key);
        section.fault(Fault::new(
            key,
            "rows of modules",
            format!("`{key}` alone"),
            "`row_pitch_m` and `row_width_m` together, or neither",
            format!(
                "add `{}`",
                if pitch {
                    array::ROW_WIDTH.key
                } else {
                    array::ROW_PITCH.key
                }
            ),
        ));
        return None;
    }
    let shade = match shade {
        Some(shade) => shade?,
        None => {
            let source = "usual practice: the least that is lost; \"whole\" is the most";
            section.by_default(ROW_SHADE, OriginValue::Text("in-proportion".to_owned()), "", source);
            RowShade::default()
        }
    };
    booked(section, Rows::new(values.0?, values.1?, shade)).map(Some)
}
