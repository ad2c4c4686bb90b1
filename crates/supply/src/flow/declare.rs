//! What the list of flows expands to: an enum whose families carry a cause, its index, and the booking by sections.

/// How many flows a declaration makes.
macro_rules! width {
    () => {
        1
    };
    ($cause:ident) => {
        $cause::COUNT
    };
}

/// Lists the flows of a declaration, from a given place on.
macro_rules! list {
    ($all:ident[$n:ident], $flow:ident) => {
        $all[$n] = Flow::$flow;
        $n += 1;
    };
    ($all:ident[$n:ident], $flow:ident($cause:ident)) => {
        let mut i = 0;
        while i < $cause::COUNT {
            $all[$n] = Flow::$flow($cause::ALL[i]);
            $n += 1;
            i += 1;
        }
    };
}

/// Nothing, or an expression.
macro_rules! maybe {
    () => {
        None
    };
    ($value:expr) => {
        Some($value)
    };
}

/// Sections of flows: `Name(cause: Cause) = "id", Measure, [(group, key, column), …], [Table, …];`. The cause is given for a
/// family, the tables if any table shows the flow.
macro_rules! flows {
    ($($(#[$about:meta])* $section:ident {
        $($(#[doc = $doc:literal])+ $flow:ident $(($of:ident: $cause:ident))? = $id:literal, $measure:ident,
            [$(($group:literal, $key:literal, $column:literal)),*] $(, [$($table:ident),+])?;)*
    })*) => {
        /// A quantity: a piece holds its rate, the ledger its amount.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Flow { $($($(#[doc = $doc])+ $flow $(($cause))?,)*)* }

        /// The declarations; a family counts as one.
        #[derive(Clone, Copy)]
        enum Line { $($($flow,)*)* }

        /// Flows that are left out together.
        #[derive(Clone, Copy)]
        enum Section { $($(#[$about])* $section,)* }

        /// Where each declaration begins among the flows.
        const LINES: &[usize] = &starts([$($(width!($($cause)?),)*)*]);
        /// Where each section begins, and the last one ends.
        const SECTIONS: &[usize] = &starts([$(0 $(+ width!($($cause)?))*,)* 0]);

        impl Flow {
            /// Number of flows.
            pub const COUNT: usize = SECTIONS[SECTIONS.len() - 1];

            /// Place in [`Self::ALL`].
            #[inline]
            #[must_use]
            pub const fn index(self) -> usize {
                match self { $($(Self::$flow $(($of))? => LINES[Line::$flow as usize] $(+ $of.index())?,)*)* }
            }

            /// Name, as in the columns of months and steps; for a family, without its causes.
            #[must_use]
            pub const fn id(self) -> &'static str {
                match self { $($(Self::$flow { .. } => $id,)*)* }
            }

            /// What it is, in a sentence.
            #[must_use]
            pub const fn about(self) -> &'static str {
                match self { $($(Self::$flow { .. } => concat!($($doc),+).trim_ascii(),)*)* }
            }

            /// Id of its cause, if it belongs to a family.
            #[must_use]
            pub const fn cause(self) -> Option<&'static str> {
                match self { $($(Self::$flow $(($of))? => maybe!($($of.id())?),)*)* }
            }

            /// What it is measured in.
            #[must_use]
            pub const fn measure(self) -> Measure {
                match self { $($(Self::$flow { .. } => Measure::$measure,)*)* }
            }

            /// Where results show it.
            #[must_use]
            pub const fn places(self) -> &'static [Place] {
                match self {
                    $($(Self::$flow { .. } => &[$(Place { group: $group, key: $key, column: $column }),*],)*)*
                }
            }

            /// Which tables over time show it, under its name and unit.
            #[must_use]
            pub const fn tables(self) -> &'static [Table] {
                match self { $($(Self::$flow { .. } => &[$($(Table::$table),+)?],)*)* }
            }
        }

        const fn listed(mut all: [Flow; Flow::COUNT]) -> [Flow; Flow::COUNT] {
            let mut n = 0;
            $($(list!(all[n], $flow $(($cause))?);)*)*
            assert!(n == Flow::COUNT);
            all
        }

        /// Adds what flows in `length_s` to the amounts.
        #[inline]
        pub(crate) fn book(amounts: &mut [f64; Flow::COUNT], rates: &[f64; Flow::COUNT], length_s: f64) {
            $(book_section::<{ Section::$section as usize }>(amounts, rates, length_s);)*
        }
    };
}

/// For each width, the sum of all widths before it.
pub(super) const fn starts<const N: usize>(widths: [usize; N]) -> [usize; N] {
    let mut starts = [0; N];
    let mut i = 1;
    while i < N {
        starts[i] = starts[i - 1] + widths[i - 1];
        i += 1;
    }
    starts
}
