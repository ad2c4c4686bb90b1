use proptest::prelude::*;

use super::{Fingerprinted, of};
use crate::fingerprint;

#[derive(Clone)]
struct Kit {
    length_m: f64,
    parts: Vec<f64>,
    limit: Option<f64>,
    name: String,
    double_m: f64,
}

fingerprint!(Kit { length_m, parts, limit, name } derived { double_m });

struct Seen<'a> {
    kit: &'a Kit,
    months: [f64; 2],
}

fingerprint!(Seen<'_> { kit, months });

enum Feed {
    Off,
    At { level: f64 },
    Both(f64, f64),
}

fingerprint!(enum Feed { Off, At { level }, Both(first, second) });

fn kit() -> Kit {
    Kit {
        length_m: 3.0,
        parts: vec![1.0, 2.0],
        limit: None,
        name: "a".to_owned(),
        double_m: 6.0,
    }
}

fn all_differ(prints: &[u64]) {
    for (i, print) in prints.iter().enumerate() {
        assert!(!prints[..i].contains(print), "number {i} equals an earlier one");
    }
}

#[test]
fn each_field_counts_by_one_ulp() {
    let change = |by: &dyn Fn(&mut Kit)| {
        let mut kit = kit();
        by(&mut kit);
        of(&kit)
    };
    all_differ(&[
        of(&kit()),
        change(&|k| k.length_m = k.length_m.next_up()),
        change(&|k| k.parts[0] = k.parts[0].next_up()),
        change(&|k| k.parts[1] = k.parts[1].next_up()),
        change(&|k| k.parts.push(0.0)),
        change(&|k| k.limit = Some(0.0)),
        change(&|k| k.limit = Some(0.0_f64.next_up())),
        change(&|k| k.name = "b".to_owned()),
    ]);
    assert_eq!(of(&kit()), change(&|k| k.double_m = 7.0));
    let kit = kit();
    let seen = |months| of(&Seen { kit: &kit, months });
    all_differ(&[seen([1.0, 2.0]), seen([2.0, 1.0]), seen([1.0, 2.0_f64.next_up()])]);
}

#[test]
fn variants_with_equal_fields_differ() {
    all_differ(&[
        of(&Feed::Off),
        of(&Feed::At { level: 0.0 }),
        of(&Feed::Both(0.0, 1.0)),
        of(&Feed::Both(1.0, 0.0)),
    ]);
}

#[test]
fn numbers_count_bit_by_bit() {
    let quiet = f64::NAN;
    let other = f64::from_bits(quiet.to_bits() ^ 1);
    all_differ(&[of(&0.0), of(&-0.0), of(&quiet), of(&other), of(&f64::INFINITY)]);
    assert_eq!(of(&quiet), of(&f64::from_bits(quiet.to_bits())));
}

#[test]
fn lists_split_at_other_places_differ() {
    let lists = |a: &[f64], b: &[f64]| of(&(a, b));
    all_differ(&[lists(&[1.0, 2.0], &[]), lists(&[1.0], &[2.0]), lists(&[], &[1.0, 2.0])]);
    assert_ne!(of(&("ab", "c")), of(&("a", "bc")));
}

proptest! {
    #[test]
    fn equal_lists_have_equal_fingerprints_and_one_flipped_bit_changes_it(
        values in proptest::collection::vec(proptest::num::f64::ANY, 1..40),
        place in any::<prop::sample::Index>(),
    ) {
        prop_assert_eq!(of(&values), of(&values.clone().as_slice()));
        let mut moved = values.clone();
        let at = place.index(values.len());
        moved[at] = f64::from_bits(values[at].to_bits() ^ 1);
        prop_assert_ne!(of(&values), of(&moved));
    }
}

#[test]
fn a_reference_has_the_fingerprint_of_its_target() {
    let kit = kit();
    assert_eq!(of(&&kit), of(&kit));
    assert_eq!(of(&std::sync::Arc::new(kit.clone())), of(&kit));
}

#[test]
fn a_fingerprinted_value_keeps_its_hash() {
    let of_list = |list: Vec<f64>| Fingerprinted::from(list);
    let (list, moved) = (of_list(vec![1.0, 2.0]), of_list(vec![1.0, 2.0_f64.next_up()]));
    assert!(of(&list) == of(&of_list(vec![1.0, 2.0])) && list == of_list(vec![1.0, 2.0]) && list[1..] == [2.0]);
    assert!(of(&list) != of(&moved) && list != moved);
    assert_eq!(of(&Fingerprinted::<Vec<f64>>::default()), of(&of_list(Vec::new())));
}
