//! Planes that no sun lights alike.

use daylift_plant::{Facing, Group, SetId};

use crate::judge::Judge;

/// Greatest angle between planes \[°\] at which one sun can give them all nearly the same: between two planes 45° apart it
/// gives each cos 22.5°, 92 %.
const TOGETHER_DEG: f64 = 45.0;

/// The greatest angle between the planes of a drive's strings \[°\], where it is too large for one noon to light them alike.
pub(crate) fn planes_apart(judge: &Judge<'_>, set: SetId) -> Option<f64> {
    // At noon a tracker lies as its axis does.
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
    Some(pairs.fold(0.0, f64::max)).filter(|apart_deg| *apart_deg > TOGETHER_DEG)
}
