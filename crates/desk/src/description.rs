//! The OpenAPI description of the requests and answers, made from their types.

use schemars::generate::{SchemaGenerator, SchemaSettings};
use schemars::{JsonSchema, Schema};
use serde_json::{Map, Value, json};

use crate::api::{
    Answer, AnswerRequest, DayRequest, PlantList, Refusal, SaveRequest, Saved, StartRequest, Started, UploadRequest,
    Uploaded,
};

/// The description, OpenAPI 3.1.
#[must_use]
pub fn description() -> Value {
    let with = |settings: SchemaSettings| settings.with(|s| s.definitions_path = "/components/schemas".into());
    let mut asked = with(SchemaSettings::draft2020_12().for_deserialize()).into_generator();
    let mut answered = with(SchemaSettings::draft2020_12().for_serialize()).into_generator();
    let paths = json!({
        "/api/plants": {
            "get": operation("Plants that can be opened.", None, body::<PlantList>(&mut answered), &mut answered),
            "post": operation("Starts a plant from an example.", Some(body::<StartRequest>(&mut asked)), body::<Started>(&mut answered), &mut answered),
        },
        "/api/answer": {
            "post": operation("Every arrangement side by side.", Some(body::<AnswerRequest>(&mut asked)), body::<Answer>(&mut answered), &mut answered),
        },
        "/api/day": {
            "post": operation("One day of an arrangement.", Some(body::<DayRequest>(&mut asked)), body::<daylift_study::Day>(&mut answered), &mut answered),
        },
        "/api/file": {
            "put": upload_operation(&mut asked, &mut answered),
        },
        "/api/save": {
            "post": operation("Writes changes into the plant's files.", Some(body::<SaveRequest>(&mut asked)), body::<Saved>(&mut answered), &mut answered),
        },
    });
    let mut schemas: Map<String, Value> = asked.take_definitions(true);
    schemas.extend(answered.take_definitions(true));
    json!({
        "openapi": "3.1.0",
        "info": { "title": "Daylift desk", "version": env!("CARGO_PKG_VERSION"), "description": "The requests of the page. They are served only to the page, on loopback (this machine), and may change with every version." },
        "paths": paths,
        "components": { "schemas": schemas },
    })
}

/// An upload: the file in the body, its name in the query.
fn upload_operation(asked: &mut SchemaGenerator, answered: &mut SchemaGenerator) -> Value {
    let mut out = operation(
        "Uploads a file into the folder of a plant.",
        None,
        body::<Uploaded>(answered),
        answered,
    );
    out["parameters"] = json!([{
        "in": "query", "name": "request", "style": "form", "explode": true, "required": true,
        "schema": body::<UploadRequest>(asked),
    }]);
    out["requestBody"] = json!({ "required": true, "content": { "application/octet-stream": { "schema": { "type": "string", "format": "binary" } } } });
    out
}

fn body<T: JsonSchema>(generator: &mut SchemaGenerator) -> Schema {
    generator.subschema_for::<T>()
}

fn operation(summary: &str, asked: Option<Schema>, answered: Schema, answers: &mut SchemaGenerator) -> Value {
    let content = |schema: Schema| json!({ "application/json": { "schema": schema } });
    let mut out = json!({
        "summary": summary,
        "responses": {
            "200": { "description": "the answer", "content": content(answered) },
            "default": { "description": "why there is no answer", "content": content(body::<Refusal>(answers)) },
        },
    });
    if let Some(asked) = asked {
        out["requestBody"] = json!({ "required": true, "content": content(asked) });
    }
    out
}
