//! How the modules of a plane stand: fixed or on a tracker, alone or in rows.

use daylift_sky::{Horizon, Mounting, Plane, Rows, Surface, Tracker};
use daylift_units::Fault;
use daylift_units::fields::array;

use crate::outline::{Listed, MountKeys, MountingKind};
use crate::read::Section;
use daylift_plant::{Facing, PlaneOf};

const BACKTRACKING: &str = "backtracking";

pub(crate) fn read_plane(
    at: &Section,
    keys: &MountKeys,
    name: String,
    albedo: Option<f64>,
    horizon: Option<&Horizon>,
) -> Option<PlaneOf> {
    let rows = read_rows(at, keys);
    let (facing, mounting) = match keys.mounting.value(at) {
        MountingKind::SingleAxis => {
            let of_fixed = [
                (array::TILT.key, keys.tilt_deg.is_some()),
                (array::AZIMUTH.key, keys.azimuth_deg.is_some()),
            ];
            let remedy = "remove it; a tracker has an axis instead";
            refuse(at, &of_fixed, "on a tracker, which turns", remedy);
            turning(at, keys, albedo, rows.as_ref())?
        }
        MountingKind::Fixed => {
            let of_tracker = [
                (array::AXIS_AZIMUTH.key, keys.axis_azimuth_deg.given().is_some()),
                (array::AXIS_TILT.key, keys.axis_tilt_deg.given().is_some()),
                (
                    array::GREATEST_ROTATION.key,
                    keys.greatest_rotation_deg.given().is_some(),
                ),
                (BACKTRACKING, keys.backtracking.is_some()),
            ];
            let remedy = "remove it, or add `mounting = \"single-axis\"`";
            refuse(at, &of_tracker, "on a fixed plane", remedy);
            fixed(at, keys, albedo)?
        }
    };
    Some(PlaneOf {
        name,
        surface: Surface::new(mounting, rows?, horizon.cloned()),
        facing,
    })
}

fn refuse(at: &Section, keys: &[(&str, bool)], given: &str, remedy: &str) {
    for (key, _) in keys.iter().filter(|(_, is_given)| *is_given) {
        at.fault(Fault::new(
            *key,
            "how the modules are mounted",
            format!("`{key}` {given}"),
            "tilt and azimuth of a fixed plane, or the axis of a tracker",
            remedy,
        ));
    }
}

fn fixed(at: &Section, keys: &MountKeys, albedo: Option<f64>) -> Option<(Facing, Mounting)> {
    let tilt_deg = at.needed(&array::TILT, keys.tilt_deg);
    let azimuth_deg = at.needed(&array::AZIMUTH, keys.azimuth_deg);
    let (tilt_deg, azimuth_deg) = (tilt_deg?, azimuth_deg?);
    let plane = at.booked(Plane::new(tilt_deg, azimuth_deg, albedo?))?;
    Some((Facing::Fixed { tilt_deg, azimuth_deg }, Mounting::Fixed(plane)))
}

/// A tracker; `rows` is `None` when the rows have faults.
fn turning(
    at: &Section,
    keys: &MountKeys,
    albedo: Option<f64>,
    rows: Option<&Option<Rows>>,
) -> Option<(Facing, Mounting)> {
    let axis_azimuth_deg = keys.axis_azimuth_deg.value(at);
    let axis_tilt_deg = keys.axis_tilt_deg.value(at);
    let greatest_deg = keys.greatest_rotation_deg.value(at);
    let turns_back = keys.backtracking.unwrap_or_else(|| {
        let of_rows = matches!(rows, Some(Some(_)));
        at.by_default(
            BACKTRACKING,
            Listed::Flag(of_rows),
            "usual practice: trackers in rows backtrack",
        );
        of_rows
    });
    if turns_back && matches!(rows, Some(None)) {
        at.fault(Fault::new(
            BACKTRACKING,
            "whether the tracker backtracks to avoid row shading",
            "true, without rows",
            "with `row_pitch_m` and `row_width_m`: they determine when rows shade each other",
            "add them, or remove `backtracking`",
        ));
        return None;
    }
    let tracker = at.booked(Tracker::new(axis_azimuth_deg, axis_tilt_deg, greatest_deg, albedo?))?;
    let tracker = match rows? {
        Some(rows) if turns_back => tracker.backtracking(rows),
        _ => tracker,
    };
    let facing = Facing::SingleAxis {
        axis_azimuth_deg,
        axis_tilt_deg,
    };
    Some((facing, Mounting::SingleAxis(tracker)))
}

/// The rows, if there are any; the outer `None` means faults.
fn read_rows(at: &Section, keys: &MountKeys) -> Option<Option<Rows>> {
    match (keys.row_pitch_m, keys.row_width_m, keys.row_shade.given()) {
        (None, None, None) => Some(None),
        (Some(pitch_m), Some(width_m), _) => at.booked(Rows::new(pitch_m, width_m, keys.row_shade.value(at))).map(Some),
        (pitch, width, _) => {
            let (pitch_key, width_key) = (array::ROW_PITCH.key, array::ROW_WIDTH.key);
            let key = match (pitch, width) {
                (Some(_), _) => pitch_key,
                (None, Some(_)) => width_key,
                (None, None) => "row_shade",
            };
            let missing = if pitch.is_some() { width_key } else { pitch_key };
            at.fault(Fault::new(
                key,
                "rows of modules",
                format!("`{key}` alone"),
                "`row_pitch_m` and `row_width_m` together, or neither",
                format!("add `{missing}`"),
            ));
            None
        }
    }
}
