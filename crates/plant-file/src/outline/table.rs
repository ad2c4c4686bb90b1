//! A table of a file and its keys, as data.

use daylift_units::Field;

use super::told::Told;

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
    /// As it stands in the file.
    pub name: &'static str,
    /// What it is, in words.
    pub quantity: &'static str,
    /// Whether the table is refused without it.
    pub needed: bool,
    /// What stands under it.
    pub what: What,
    /// What a text may be, in words; empty for all else.
    pub(crate) allowed: &'static str,
    /// Whether its value is listed: not that of a name, nor that of a mark.
    pub(crate) is_told: bool,
    /// Another key that takes its place: where that one stands, this one is not read.
    pub(crate) instead: Option<&'static str>,
    /// The word that holds where it is not given, and where the word comes from. (A number's default is its field's.)
    pub(crate) usual: Option<(Told, &'static str)>,
    /// What is listed where it is not given, and why.
    pub(crate) otherwise: Option<(Told, &'static str)>,
}

/// What stands under a key.
#[derive(Debug, Clone, Copy)]
pub enum What {
    /// A number.
    Number(&'static Field),
    /// A number for the whole year, or one for each month.
    Monthly(&'static Field),
    /// A list of numbers, of a stated length or of any from one up.
    Numbers(&'static Field, Option<usize>),
    /// A text that names a thing and has no effect.
    Name,
    /// A text.
    Text,
    /// A path relative to the file.
    Path,
    /// One of a few words.
    Choice(fn() -> Vec<&'static str>),
    /// A list of one or more of a few words.
    Choices(fn() -> Vec<&'static str>),
    /// One word alone.
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
    /// No key itself: the keys of a group that tables share, or that are read together.
    Group(&'static Table),
}

impl Key {
    /// The declaration of the number, or of the numbers, that stand under the key.
    #[must_use]
    pub const fn field(&self) -> Option<&'static Field> {
        match self.what {
            What::Number(field) | What::Monthly(field) | What::Numbers(field, _) => Some(field),
            _ => None,
        }
    }

    /// Whether a number, or numbers, or a rule hold where the key is not given.
    #[must_use]
    pub fn has_default(&self) -> bool {
        self.otherwise.is_some() || self.field().is_some_and(|field| field.preset.is_some())
    }

    /// The rule that decides where the key is not given, in words; `None` for a key that then has a value or is left out.
    #[must_use]
    pub const fn rule(&self) -> Option<&'static str> {
        match self.otherwise {
            Some((Told::Rule(words), _)) => Some(words),
            _ => None,
        }
    }

    /// What a text may be, in words; empty for all else.
    #[must_use]
    pub const fn allowed_text(&self) -> &'static str {
        self.allowed
    }

    /// The key that takes its place: where that one is given, this one is not read.
    #[must_use]
    pub const fn replaced_by(&self) -> Option<&'static str> {
        self.instead
    }

    /// What holds where the key is not given, in words, and the source; `None` where nothing is declared to hold.
    #[must_use]
    pub fn default(&self) -> Option<(String, &'static str)> {
        let preset = |field: &Field| field.preset.map(|preset| (field.print(preset.value), preset.source));
        let told = || self.usual.or(self.otherwise).map(|(told, source)| (told.in_words(), source));
        self.field().and_then(preset).or_else(told)
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

    /// Places of a dotted key's parts among the keys of their tables; numbers count from 0 after that of their list.
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
