//! Changes that leave a file readable: a file that is broken in its first line does not test the rest.

use std::ops::Range;

/// Numbers at limits.
const EDGES: [&str; 16] = [
    "0", "1", "-1", "0.5", "2", "12", "23", "24", "31", "59", "60", "100", "1000", "1e-9", "1e9", "-0.0",
];

/// Random draws from a seed (Marsaglia 2003, xorshift).
struct Draws(u64);

impl Draws {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 33).unwrap_or(0) % end.max(1)
    }
}

/// Replaces a number, or removes, doubles or moves a line. `None` where there is neither number nor line, or when `seed`
/// leaves the change to the fuzzer.
#[must_use]
pub fn mutated(data: &[u8], seed: u32) -> Option<Vec<u8>> {
    let mut draws = Draws(u64::from(seed) + 0x9e37_79b9_7f4a_7c15);
    let text = std::str::from_utf8(data).ok()?;
    match draws.below(8) {
        0..4 => other_number(text, &mut draws),
        4 => other_lines(text, &mut draws),
        _ => None,
    }
}

fn other_number(text: &str, draws: &mut Draws) -> Option<Vec<u8>> {
    let numbers = numbers(text);
    let at = numbers.get(draws.below(numbers.len()))?.clone();
    let old: f64 = text[at.clone()].parse().ok()?;
    let new = match draws.below(4) {
        0 => EDGES[draws.below(EDGES.len())].to_owned(),
        1 => format!("{}", old * [0.1, 0.5, 0.9, 1.1, 2.0, 10.0][draws.below(6)]),
        2 => format!("{}", old + [-1.0, 1.0][draws.below(2)]),
        _ => text[numbers[draws.below(numbers.len())].clone()].to_owned(),
    };
    Some([&text[..at.start], &new, &text[at.end..]].concat().into_bytes())
}

/// Runs of digits with at most one point, not within a word.
fn numbers(text: &str) -> Vec<Range<usize>> {
    let bytes = text.as_bytes();
    let of_word = |i: usize| bytes.get(i).is_some_and(|b| b.is_ascii_alphabetic() || *b == b'_');
    let mut out = Vec::new();
    let mut start = 0;
    while start < bytes.len() {
        let length = bytes[start..].iter().take_while(|b| b.is_ascii_digit() || **b == b'.').count();
        let end = start + length;
        if length > 0 && !of_word(start.wrapping_sub(1)) && !of_word(end) {
            out.push(start..end);
        }
        start = end + 1;
    }
    out
}

fn other_lines(text: &str, draws: &mut Draws) -> Option<Vec<u8>> {
    let mut lines: Vec<&str> = text.split_inclusive('\n').collect();
    let (from, to) = (draws.below(lines.len()), draws.below(lines.len()));
    let line = *lines.get(from)?;
    match draws.below(3) {
        0 => drop(lines.remove(from)),
        1 => lines.insert(to, line),
        _ => lines.swap(from, to),
    }
    Some(lines.concat().into_bytes())
}

/// Makes the fuzzer use [`mutated`] as well as its own changes.
#[macro_export]
macro_rules! mutate_text {
    () => {
        libfuzzer_sys::fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
            match $crate::mutated(&data[..size], seed).filter(|new| new.len() <= max_size) {
                Some(new) => {
                    data[..new.len()].copy_from_slice(&new);
                    new.len()
                }
                None => libfuzzer_sys::fuzzer_mutate(data, size, max_size),
            }
        });
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_found_outside_words() {
        let text = "daily_m3 = [21.3, 4]\n2025-06-01T13:30";
        let found: Vec<&str> = numbers(text).into_iter().map(|at| &text[at]).collect();
        assert_eq!(found, ["21.3", "4", "2025", "06", "30"]);
    }

    #[test]
    fn every_seed_gives_a_text_or_leaves_it() {
        let made = (0..1000).filter_map(|seed| mutated(b"a = 3\nb = 4\n", seed));
        assert!(made.filter(|new| new != b"a = 3\nb = 4\n").count() > 300);
    }
}
