//! Between an answer and its readers: words, figures and tables. Answers carry ids and figures; their texts are here.
//!
//! **Words** are in the Fluent files under `words/en`: `terms.ftl` has the texts that terminal and page share,
//! `answers.ftl` those of the answers (also in JSON), `terminal.ftl` those of the terminal, `page.ftl` those of the page.
//! [`say!`] gets a text and [`term!`] that of a member of a closed list. A test checks that every text exists and is
//! used. Figures are passed as text; counts are passed as numbers, so that the plural can be chosen.
//!
//! **Honest rounding.** A number other than 0 never shows as 0, and a share below the whole never shows as 100 %: a bound
//! shows instead, `<1` or `>99.9%`. A difference of a billionth or less from 0 or from the whole is rounding of the
//! balances and counts as 0 or as the whole. The cases of `words/rounding-cases.json` test terminal ([`number`]) and
//! page.
//!
//! **Tables**: which sections, lines and parts a result has ([`mod@compare`], [`run`], [`flows`], [`strings`]), without a
//! layout. **Answers** for other programs, with their texts: [`answers`].

pub mod answers;
pub mod changes;
pub mod compare;
pub mod findings;
pub mod flows;
pub mod names;
pub mod notices;
pub mod number;
pub mod run;
pub mod strings;
pub mod table;
pub mod words;

pub use daylift_units::Id;
pub use names::Names;
