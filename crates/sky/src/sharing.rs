//! Distributes the means of long intervals among shorter steps.

/// Means of blocks of `size` values.
pub(crate) fn block_means(values: &[f64], size: usize) -> Vec<f64> {
    values.chunks(size.max(1)).map(mean).collect()
}

/// Values at the middles of intervals, interpolated linearly to the middles of `parts` equal parts of each interval.
///
/// Constant before the first middle and after the last.
pub(crate) fn between_middles(values: &[f64], parts: usize) -> Vec<f64> {
    let mut out = Vec::with_capacity(values.len() * parts);
    for (interval, &own) in values.iter().enumerate() {
        for part in 0..parts {
            let (neighbour, weight) = neighbour_and_weight(interval, part, parts);
            let other = neighbour.and_then(|n| values.get(n)).copied().unwrap_or(own);
            out.push(own + (other - own) * weight);
        }
    }
    out
}

/// Distributes each interval's mean irradiance among its parts by clearness; the mean is kept exactly.
///
/// `potential` is the unobstructed irradiance of each part, 0 where the sun is down. Clearness is the mean divided by
/// the mean potential, at most 1. It is interpolated linearly between the middles of the intervals. Where the neighbour
/// has no sun or does not exist, the interval's own clearness is used. An interval without sun gets 0, as its
/// irradiance cannot be placed.
pub(crate) fn by_clearness(means: &[f64], potential: &[f64], parts: usize) -> Vec<f64> {
    let mut out = Vec::with_capacity(potential.len());
    if parts <= 1 {
        out.extend(means.iter().zip(potential).map(|(&value, &p)| if p > 0.0 { value } else { 0.0 }));
        return out;
    }
    let clearness: Vec<Option<f64>> = means
        .iter()
        .zip(potential.chunks(parts))
        .map(|(&value, chunk)| {
            let clear = mean(chunk);
            (clear > 0.0).then(|| (value / clear).min(1.0))
        })
        .collect();
    for (interval, (&value, chunk)) in means.iter().zip(potential.chunks(parts)).enumerate() {
        let begin = out.len();
        let own = clearness[interval].unwrap_or(0.0);
        for (part, &p) in chunk.iter().enumerate() {
            let (neighbour, weight) = neighbour_and_weight(interval, part, parts);
            let other = neighbour.and_then(|n| *clearness.get(n)?).unwrap_or(own);
            out.push((own + (other - own) * weight) * p);
        }
        let shared = &mut out[begin..];
        let raw = mean(shared);
        let factor = if raw > 0.0 { value / raw } else { 0.0 };
        for v in shared {
            *v *= factor;
        }
    }
    out
}

/// Sum of the means of intervals in which no part has any potential.
pub(crate) fn unplaced(means: &[f64], potential: &[f64], parts: usize) -> f64 {
    let dark = |chunk: &[f64]| chunk.iter().all(|&p| p <= 0.0);
    means
        .iter()
        .zip(potential.chunks(parts.max(1)))
        .filter(|(_, chunk)| dark(chunk))
        .map(|(value, _)| value)
        .sum()
}

/// The neighbouring interval on the side of the part's middle, and its weight: 0 at the interval's own middle, one half
/// at its edge.
#[expect(clippy::cast_precision_loss, reason = "parts of an interval are few")]
fn neighbour_and_weight(interval: usize, part: usize, parts: usize) -> (Option<usize>, f64) {
    let from_middle = (part as f64 + 0.5) / parts as f64 - 0.5;
    let neighbour = if from_middle < 0.0 {
        interval.checked_sub(1)
    } else {
        Some(interval + 1)
    };
    (neighbour, from_middle.abs())
}

#[expect(clippy::cast_precision_loss, reason = "an interval's parts are few")]
fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn close(a: &[f64], b: &[f64]) {
        assert_eq!(a.len(), b.len());
        for (x, y) in a.iter().zip(b) {
            assert!((x - y).abs() < 1e-12, "{a:?} against {b:?}");
        }
    }

    #[test]
    fn temperatures_are_interpolated_between_middles() {
        // Worked by hand: 10 and 16 °C, four parts per hour; the middles of the parts are at 1/8, 3/8 … h.
        close(
            &between_middles(&[10.0, 16.0], 4),
            &[10.0, 10.0, 10.75, 12.25, 13.75, 15.25, 16.0, 16.0],
        );
    }

    #[test]
    fn clearness_is_interpolated_and_the_mean_kept() {
        // Worked by hand: potential 1000 throughout, clearness 0.2 and 0.6, two parts per hour. Before scaling: 0.2,
        // 0.3 | 0.5, 0.6; factors 0.2/0.25 and 0.6/0.55.
        let shared = by_clearness(&[200.0, 600.0], &[1000.0; 4], 2);
        close(&shared, &[160.0, 240.0, 600.0 * 0.5 / 0.55, 600.0 * 0.6 / 0.55]);
    }

    #[test]
    fn next_to_a_dark_hour_an_hour_keeps_its_own_clearness() {
        // The sun rises in the middle of the second hour; its clearness of 0.5 also applies towards the dark hour before
        // it.
        let potential = [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 100.0, 300.0];
        close(
            &by_clearness(&[9.0, 50.0], &potential, 4),
            &[0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 50.0, 150.0],
        );
        assert!((unplaced(&[9.0, 50.0], &potential, 4) - 9.0).abs() < 1e-15);
    }

    #[test]
    fn clearness_above_one_counts_as_one_for_the_neighbours() {
        // 90 W/m² with a potential of 50 in the first hour (clearness 1.8, taken as 1), 0.4 in the second. The second
        // hour's two parts before scaling: 0.4 + 0.6/4 and 0.4.
        let shared = by_clearness(&[90.0, 40.0], &[50.0, 50.0, 100.0, 100.0], 2);
        close(&shared[2..], &[80.0 * 0.55 / 0.95, 80.0 * 0.4 / 0.95]);
        assert!((shared[0] + shared[1] - 180.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn means_are_kept_wherever_there_is_sun(
            hours in prop::collection::vec((0.0..1200.0_f64, prop::collection::vec(-0.3..1.0_f64, 6)), 1..30)
        ) {
            let means: Vec<f64> = hours.iter().map(|h| h.0).collect();
            let potential: Vec<f64> = hours.iter().flat_map(|h| h.1.iter().map(|c| 1361.0 * c.max(0.0))).collect();
            let shared = by_clearness(&means, &potential, 6);
            prop_assert_eq!(shared.len(), potential.len());
            for ((&value, parts), clear) in means.iter().zip(shared.chunks(6)).zip(potential.chunks(6)) {
                let wanted = if clear.iter().any(|&p| p > 0.0) { value } else { 0.0 };
                prop_assert!((parts.iter().sum::<f64>() / 6.0 - wanted).abs() <= 1e-12 * value);
                for (&part, &p) in parts.iter().zip(clear) {
                    prop_assert!(part >= 0.0 && part.is_finite());
                    prop_assert!(p > 0.0 || part == 0.0);
                }
            }
        }

        #[test]
        fn block_means_reverse_the_distribution(values in prop::collection::vec(0.0..900.0_f64, 1..40)) {
            let shared = by_clearness(&values, &vec![1000.0; values.len() * 10], 10);
            for (a, b) in block_means(&shared, 10).iter().zip(&values) {
                prop_assert!((a - b).abs() <= 1e-12 * b);
            }
        }
    }
}
