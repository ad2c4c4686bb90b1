//! The angle between the planes of one drive's strings.

use daylift_plant::{Facing, Group, SetId};

use crate::judge::Judge;

/// Maximum angle between planes \[°\] at which the sun can light them nearly equally. Midway between two planes 45° apart,
/// it gives each cos 22.5° = 92 % of its direct light.
const MAX_APART_DEG: f64 = 45.0;

/// The largest angle between the planes of a drive's strings \[°\]. `None` where it is small enough for the sun to light
/// them nearly equally at one noon.
pub(crate) fn planes_apart(judge: &Judge<'_>, set: SetId) -> Option<f64> {
    // At noon a tracker's plane has the tilt and direction of its axis.
    let normal = |group: &Group| {
        let (tilt_deg, azimuth_deg) = match judge.array().planes[group.plane].facing {
            Facing::Fixed { tilt_deg, azimuth_deg } => (tilt_deg, azimuth_deg),
            Facing::SingleAxis {
                axis_azimuth_deg,
                axis_tilt_deg,
            } => (axis_tilt_deg, axis_azimuth_deg),
        };
        let (tilt, azimuth) = (tilt_deg.to_radians(), azimuth_deg.to_radians());
        [tilt.sin() * azimuth.sin(), tilt.sin() * azimuth.cos(), tilt.cos()]
    };
    let normals: Vec<[f64; 3]> = judge.array().groups.iter().filter(|g| g.set == Some(set)).map(normal).collect();
    let angle_deg = |a: &[f64; 3], b: &[f64; 3]| {
        let cosine: f64 = a.iter().zip(b).map(|(x, y)| x * y).sum();
        cosine.clamp(-1.0, 1.0).acos().to_degrees()
    };
    let pairs = normals.iter().flat_map(|a| normals.iter().map(move |b| angle_deg(a, b)));
    Some(pairs.fold(0.0, f64::max)).filter(|apart_deg| *apart_deg > MAX_APART_DEG)
}
