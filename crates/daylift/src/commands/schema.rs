//! `daylift schema`.

use daylift_study::{Comparison, Run};
use schemars::schema_for;

use super::{put, to_json};
use crate::args::{SchemaArg, SchemaArgs};
use crate::exit::Exit;

pub(crate) fn schema(args: &SchemaArgs) -> Exit {
    let schema = match args.result {
        SchemaArg::Compare => schema_for!(Comparison),
        SchemaArg::Run => schema_for!(Run),
    };
    match to_json(&schema) {
        Ok(text) => put(&text),
        Err(exit) => exit,
    }
}
