//! A table of a file and its keys, as data.

use daylift_units::Field;

use super::listed::Listed;

/// A table of a file: the file itself, a section, or one of a list of sections.
#[derive(Debug)]
pub struct Table {
    /// What it describes, from the doc comment of its declaration.
    pub(crate) about: &'static str,
    /// Its own keys, in the order in which their values are listed; keys shared with other tables are one entry.
    pub(crate) entries: &'static [Key],
}

/// A key of a table.
#[derive(Debug, Clone, Copy)]
pub struct Key {
    /// The key as it is written in the file.
    pub name: &'static str,
    /// What it is, in words.
    pub quantity: &'static str,
    /// Whether the table is refused without it.
    pub needed: bool,
    /// The type of its value.
    pub what: What,
    /// What a text may be, in words; empty for other types.
    pub(crate) allowed: &'static str,
    /// Whether its value appears in the list of values. Names and marks do not.
    pub(crate) is_listed: bool,
    /// Another key that replaces it: when that one is given, this one is not read.
    pub(crate) instead: Option<&'static str>,
    /// The word that holds when it is not given, and the source of that word. (The default of a number is in its field.)
    pub(crate) usual: Option<(Listed, &'static str)>,
    /// What is listed when it is not given, and why.
    pub(crate) otherwise: Option<(Listed, &'static str)>,
}

/// The type of a key's value.
#[derive(Debug, Clone, Copy)]
pub enum What {
    /// A number.
    Number(&'static Field),
    /// A number for the whole year, or one for each month.
    Monthly(&'static Field),
    /// A number for the whole day, or one for each hour of the civil day.
    Hourly(&'static Field),
    /// Hours of the civil day: one window, or two.
    Windows(&'static Field),
    /// A list of numbers, of a given length or (`None`) of one or more.
    Numbers(&'static Field, Option<usize>),
    /// A name: a text without effect on the calculation.
    Name,
    /// A text.
    Text,
    /// A path relative to the file.
    Path,
    /// One of a few words.
    Choice(fn() -> Vec<&'static str>),
    /// A list of one or more of a few words.
    Choices(fn() -> Vec<&'static str>),
    /// Always the same word.
    Word(&'static str),
    /// `true` or `false`.
    Flag,
    /// A list of dotted keys.
    Keys,
    /// A day.
    Day,
    /// A section.
    Section(&'static Table),
    /// A list of one or more sections.
    Sections(&'static Table),
    /// A section, or a list of them.
    OneOrMany(&'static Table),
    /// Not a key itself: a group of keys that tables share, or that are read together.
    Group(&'static Table),
}

impl Key {
    /// The declared quantity of the key's number or numbers; `None` for other types.
    #[must_use]
    pub const fn field(&self) -> Option<&'static Field> {
        match self.what {
            What::Number(field)
            | What::Monthly(field)
            | What::Hourly(field)
            | What::Windows(field)
            | What::Numbers(field, _) => Some(field),
            _ => None,
        }
    }

    /// Whether a number, numbers or a rule apply when the key is not given.
    #[must_use]
    pub fn has_default(&self) -> bool {
        self.otherwise.is_some() || self.field().is_some_and(|field| field.preset.is_some())
    }

    /// The rule that decides when the key is not given, in words; `None` when it then has a default value or none.
    #[must_use]
    pub const fn rule(&self) -> Option<&'static str> {
        match self.otherwise {
            Some((Listed::Rule(words), _)) => Some(words),
            _ => None,
        }
    }

    /// What a text may be, in words; empty for other types.
    #[must_use]
    pub const fn allowed_text(&self) -> &'static str {
        self.allowed
    }

    /// The key that replaces it: when that one is given, this one is not read.
    #[must_use]
    pub const fn replaced_by(&self) -> Option<&'static str> {
        self.instead
    }

    /// What applies when the key is not given, in words, and the source; `None` when no default is declared.
    #[must_use]
    pub fn default(&self) -> Option<(String, &'static str)> {
        let preset = |field: &Field| field.preset.map(|preset| (field.print(preset.value), preset.source));
        let listed = || self.usual.or(self.otherwise).map(|(listed, source)| (listed.in_words(), source));
        self.field().and_then(preset).or_else(listed)
    }
}

impl Table {
    /// What the table describes: the doc comment of its declaration.
    #[must_use]
    pub fn about(&self) -> &'static str {
        self.about.trim()
    }

    /// Its own entries in order: a group is one entry.
    #[must_use]
    pub const fn entries(&self) -> &'static [Key] {
        self.entries
    }

    /// Every key that the table may have.
    #[must_use]
    pub fn keys(&self) -> Vec<&'static Key> {
        let of = |entry: &'static Key| match entry.what {
            What::Group(table) => table.keys(),
            _ => vec![entry],
        };
        self.entries.iter().flat_map(of).collect()
    }

    /// Every key of the table and of the tables below it with its dotted path, sections before what is in them.
    #[must_use]
    pub fn walk(&self) -> Vec<(String, &'static Key)> {
        let mut out = Vec::new();
        for key in self.keys() {
            out.push((key.name.to_owned(), key));
            if let What::Section(table) | What::Sections(table) | What::OneOrMany(table) = key.what {
                out.extend(table.walk().into_iter().map(|(path, inner)| (format!("{}.{path}", key.name), inner)));
            }
        }
        out
    }

    /// Sort key of a dotted key: for each part, its position among the keys of its table and then its number in a list.
    pub(crate) fn order_of(&self, dotted: &str) -> Vec<usize> {
        let (part, rest) = dotted.split_once('.').unwrap_or((dotted, ""));
        let (name, number) = part.split_once('[').unwrap_or((part, ""));
        let keys = self.keys();
        let Some(at) = keys.iter().position(|key| key.name == name) else {
            return Vec::new();
        };
        let mut out = vec![at];
        out.extend(number.strip_suffix(']').and_then(|number| number.parse::<usize>().ok()));
        if let What::Section(table) | What::Sections(table) | What::OneOrMany(table) = keys[at].what {
            out.extend(table.order_of(rest));
        }
        out
    }
}
