//! Exit codes.

use std::process::ExitCode;

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Exit(u8);

/// Done.
pub(crate) const DONE: Exit = Exit(0);
/// The plant has faults.
pub(crate) const FAULTS: Exit = Exit(1);
/// The call or a file could not be used.
pub(crate) const UNUSABLE: Exit = Exit(2);

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        ExitCode::from(exit.0)
    }
}
