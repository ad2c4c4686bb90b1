//! A stamp of the TOML files of a plant as they were read, to notice when another program changes them.

use std::collections::BTreeMap;
use std::fmt;
use std::hash::{DefaultHasher, Hasher};
use std::str::FromStr;

/// A hash of the text of each file, by the file's path as the page knows it. The chance that a changed text has the same
/// hash is 2⁻⁶⁴.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Stamp(BTreeMap<String, u64>);

impl Stamp {
    /// Adds a file with its text.
    pub(crate) fn add(&mut self, id: String, text: &str) {
        self.0.insert(id, hash(text));
    }

    /// Whether a file of the stamp had this text; false for a file that the stamp does not have.
    pub(crate) fn has(&self, id: &str, text: &str) -> bool {
        self.0.get(id).is_some_and(|known| *known == hash(text))
    }

    /// The files.
    pub(crate) fn ids(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }
}

/// The hash of a text. A byte order mark does not count, as readers skip it.
fn hash(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    hasher.write(text.strip_prefix('\u{feff}').unwrap_or(text).as_bytes());
    hasher.finish()
}

impl fmt::Display for Stamp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|(id, hash)| writeln!(f, "{hash:016x} {id}"))
    }
}

impl FromStr for Stamp {
    type Err = ();

    fn from_str(text: &str) -> Result<Self, ()> {
        let line = |line: &str| {
            let (hash, id) = line.split_once(' ')?;
            Some((id.to_owned(), u64::from_str_radix(hash, 16).ok()?))
        };
        text.lines().map(line).collect::<Option<_>>().map(Self).ok_or(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_reads_back_as_written_and_notices_any_change() {
        let mut stamp = Stamp::default();
        stamp.add("my farm/plant.toml".to_owned(), "a = 1\n");
        stamp.add("pump.toml".to_owned(), "");
        assert_eq!(stamp.to_string().parse(), Ok(stamp.clone()));
        assert!(stamp.has("my farm/plant.toml", "a = 1\n") && stamp.has("my farm/plant.toml", "\u{feff}a = 1\n"));
        assert!(!stamp.has("my farm/plant.toml", "a = 1 \n") && !stamp.has("motor.toml", ""));
        assert_eq!("x".parse::<Stamp>(), Err(()));
        assert_eq!("zz plant.toml".parse::<Stamp>(), Err(()));
    }
}
