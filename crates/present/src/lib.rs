//! Words, numbers and tables of an answer, for everything that displays it: terminal, page and JSON.
//!
//! The answers of `study` have ids and figures; their texts are here. The crate calculates nothing about the plant and
//! prints nothing: the layout on the terminal is in `daylift::print`, that of the page in `ui`.
//!
//! **Words** are in the Fluent files under `words/en`. `terms.ftl` has the texts that terminal and page share;
//! `answers.ftl` has those of the answers, also for JSON; `terminal.ftl` and `page.ftl` have those of terminal and page.
//! [`say!`] returns a text; [`term!`] returns the text of a member of a closed list. A test checks that every text exists
//! and is used. Figures are passed as text; counts are passed as numbers, which choose singular or plural.
//!
//! **Numbers** ([`number`]) are rounded honestly. A number other than 0 never shows as 0, and a share below the whole never
//! shows as 100 %. A bound shows instead: `<1` or `>99.9%`. A difference from 0 or from the whole of at most 10⁻⁹ counts
//! as none, because it comes from rounding in the balances. The cases in `words/rounding-cases.json` test terminal and
//! page.
//!
//! **Tables** ([`mod@compare`], [`run`], [`flows`], [`strings`]) say which sections, lines and columns a result has,
//! without a layout. **Answers** for other programs, with their texts: [`answers`].
//!
//! # Example
//!
//! ```
//! use daylift_present::number::{grouped, percent};
//!
//! assert_eq!(grouped(12_345.6, 0), "12,346");
//! // 0.3 m³ are not 0 m³, and 99.96 % of the demand is not all of it.
//! assert_eq!(grouped(0.3, 0), "<1");
//! assert_eq!(percent(Some(0.9996)), ">99.9%");
//! assert_eq!(percent(Some(1.0)), "100.0%");
//! ```

pub mod answers;
pub mod changes;
pub mod compare;
pub mod findings;
pub mod flows;
pub mod names;
pub mod notices;
pub mod number;
pub mod prices;
pub mod rule;
pub mod run;
pub mod service;
pub mod strings;
pub mod table;
pub mod words;

pub use daylift_units::Id;
pub use names::Names;
