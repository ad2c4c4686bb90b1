//! `daylift schema`.

use daylift_desk::description::description;
use daylift_plant_file::schema::schema as schema_of_file;
use daylift_study::strings::StringsAnswer;
use daylift_study::{Comparison, Run};
use schemars::schema_for;

use super::{put, to_json, unusable};
use crate::args::{SchemaArg, SchemaArgs};
use crate::exit::Exit;

pub(crate) fn schema(args: &SchemaArgs) -> Exit {
    let text = match args.of {
        SchemaArg::Compare => to_json(&schema_for!(Comparison)),
        SchemaArg::Run => to_json(&schema_for!(Run)),
        SchemaArg::Strings => to_json(&schema_for!(StringsAnswer)),
        SchemaArg::Desk => to_json(&description()),
        SchemaArg::Plant => file("plant"),
        SchemaArg::Module => file("module"),
        SchemaArg::Inverter => file("inverter"),
        SchemaArg::Drive => file("drive"),
        SchemaArg::Motor => file("motor"),
        SchemaArg::Pump => file("pump"),
        SchemaArg::Battery => file("battery"),
        SchemaArg::Generator => file("generator"),
    };
    match text {
        Ok(text) => put(&text),
        Err(exit) => exit,
    }
}

fn file(kind: &str) -> Result<String, Exit> {
    match schema_of_file(kind) {
        Some(schema) => to_json(&schema),
        None => Err(unusable(&format!("there is no schema of a {kind} file"))),
    }
}
