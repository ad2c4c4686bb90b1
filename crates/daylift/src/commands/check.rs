//! `daylift check`.

use super::{open, put};
use crate::args::CheckArgs;
use crate::exit::Exit;
use crate::print::plant::summary;

pub(crate) fn check(args: &CheckArgs) -> Exit {
    match open(&args.plant) {
        Ok(read) => put(&summary(&read)),
        Err(exit) => exit,
    }
}
