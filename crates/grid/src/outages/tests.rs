use proptest::prelude::*;

use super::*;

fn i(start_s: f64, end_s: f64) -> Interval {
    Interval { start_s, end_s }
}

#[test]
fn overlapping_and_touching_outages_are_merged_and_counted() {
    let (outages, tidied) = Outages::new(vec![i(50.0, 70.0), i(10.0, 20.0), i(15.0, 30.0), i(30.0, 40.0)], 1000.0);
    assert_eq!(outages.intervals(), [i(10.0, 40.0), i(50.0, 70.0)]);
    assert_eq!(tidied.merged, 2);
    assert!((outages.total_s() - 50.0).abs() < 1e-12);
}

#[test]
fn outages_are_cut_to_the_year() {
    let (outages, tidied) = Outages::new(vec![i(-10.0, 5.0), i(990.0, 1200.0), i(2000.0, 2100.0)], 1000.0);
    assert_eq!(outages.intervals(), [i(0.0, 5.0), i(990.0, 1000.0)]);
    assert_eq!((tidied.clipped, tidied.outside), (2, 1));
    // One ends when the year begins, one begins when it ends.
    let (none, tidied) = Outages::new(vec![i(-10.0, 0.0), i(1000.0, 1100.0)], 1000.0);
    assert_eq!((none.intervals(), tidied.outside), (&[][..], 2));
}

#[test]
fn empty_intervals_are_dropped_and_not_counted() {
    let (none, tidied) = Outages::new(vec![i(10.0, 10.0), i(30.0, 20.0)], 1000.0);
    assert_eq!((none.intervals(), tidied), (&[][..], Tidied::default()));
}

#[test]
fn switched_overrides_the_outages_between_two_instants() {
    let (own, _) = Outages::new(vec![i(10.0, 20.0), i(40.0, 60.0)], 1000.0);
    for (from, to, down, expected) in [
        (25.0, 30.0, true, vec![i(10.0, 20.0), i(25.0, 30.0), i(40.0, 60.0)]),
        (15.0, 50.0, true, vec![i(10.0, 60.0)]),
        (15.0, 50.0, false, vec![i(10.0, 15.0), i(50.0, 60.0)]),
        (45.0, 50.0, false, vec![i(10.0, 20.0), i(40.0, 45.0), i(50.0, 60.0)]),
        (20.0, 40.0, false, vec![i(10.0, 20.0), i(40.0, 60.0)]),
    ] {
        assert_eq!(
            own.switched(from, to, down).intervals(),
            expected,
            "{from} to {to}, down {down}"
        );
    }
}

#[test]
fn a_year_of_outage_and_a_year_without_one() {
    assert_eq!(Outages::always(1000.0).intervals(), [i(0.0, 1000.0)]);
    // Not −0, which would be printed as such.
    assert!(Outages::default().total_s().is_sign_positive());
}

#[test]
fn sources_are_kept_with_their_own_contributions() {
    let (list, _) = Outages::new(vec![i(10.0, 20.0), i(40.0, 45.0)], 1000.0);
    let (table, _) = Outages::new(vec![i(15.0, 30.0)], 1000.0);
    let all = Outages::union(&[("list".to_owned(), list), ("table".to_owned(), table)], 1000.0);
    assert!((all.total_s() - 25.0).abs() < 1e-12);
    let counts: Vec<(&str, usize)> = all.sources().iter().map(|s| (s.name.as_str(), s.count)).collect();
    assert_eq!(counts, [("list", 2), ("table", 1)]);
    assert!((all.sources()[1].total_s - 15.0).abs() < 1e-12);
}

#[test]
fn different_outages_have_different_fingerprints() {
    let of = |end_s: f64| fingerprint::of(&Outages::new(vec![i(10.0, end_s)], 1000.0).0);
    assert!(of(20.0) == of(20.0) && of(20.0) != of(20.0_f64.next_up()));
}

fn lists() -> impl Strategy<Value = Vec<Interval>> {
    let interval = (-100.0..1100.0_f64, 0.0..80.0_f64).prop_map(|(start_s, length_s)| i(start_s, start_s + length_s));
    proptest::collection::vec(interval, 0..40)
}

proptest! {
    #[test]
    fn tidying_a_tidy_list_changes_nothing(list in lists()) {
        let (once, _) = Outages::new(list, 1000.0);
        let (twice, tidied) = Outages::new(once.intervals().to_vec(), 1000.0);
        prop_assert_eq!(&once, &twice);
        prop_assert_eq!(tidied, Tidied::default());
        prop_assert!(once.intervals().windows(2).all(|w| w[0].end_s < w[1].start_s));
    }

    #[test]
    fn a_union_is_at_least_each_part_and_at_most_their_sum(a in lists(), b in lists()) {
        let parts = [a, b].map(|list| (String::new(), Outages::new(list, 1000.0).0));
        let union = Outages::union(&parts, 1000.0).total_s();
        let [a_s, b_s] = [parts[0].1.total_s(), parts[1].1.total_s()];
        let noise_s = 1e-9;
        prop_assert!(union <= a_s + b_s + noise_s && union <= 1000.0 + noise_s);
        prop_assert!(union >= a_s.max(b_s) - noise_s);
    }

    #[test]
    fn the_grid_is_down_in_a_union_exactly_when_it_is_in_a_part(a in lists(), b in lists(), at_s in 0.0..1000.0_f64) {
        let down = |o: &Outages| o.intervals().iter().any(|i| i.start_s <= at_s && at_s < i.end_s);
        let parts = [a, b].map(|list| (String::new(), Outages::new(list, 1000.0).0));
        let union = Outages::union(&parts, 1000.0);
        prop_assert_eq!(down(&union), parts.iter().any(|(_, part)| down(part)));
    }
}
