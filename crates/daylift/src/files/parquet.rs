//! The series by step as Parquet: the CSV's columns at full precision, with the instant before them.

use std::io::Write;
use std::sync::Arc;

use parquet::basic::Compression;
use parquet::data_type::{ByteArray, ByteArrayType, DoubleType, Int64Type};
use parquet::errors::Result;
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::parser::parse_message_type;

use super::series::{Column, SeriesOf, Value, columns};

/// Name and version of the layout.
const SERIES_SCHEMA: &str = "daylift.series.1";
/// What the ends of the columns' names mean.
const UNITS: &str = "_kw: kW and _m3_h: m³/h, means over the step; _m3: m³ and _kwh: kWh at the step's end; _hz: Hz, mean over the step; _share: part of the step";

/// Writes the steps, one row group for the year. The instant is in milliseconds since 1970: Parquet has no unit of
/// seconds.
pub(super) fn steps<W: Write + Send>(out: W, of: &SeriesOf<'_>) -> Result<()> {
    let columns = columns();
    let schema = Arc::new(parse_message_type(&message_type(&columns))?);
    let mut writer = SerializedFileWriter::new(out, schema, Arc::new(properties(of)))?;
    let mut rows = writer.next_row_group()?;
    instants(&mut rows, of)?;
    let civil: Vec<ByteArray> = of.civil_times().map(|t| ByteArray::from(t.into_bytes())).collect();
    words(&mut rows, &civil, None)?;
    for column in &columns {
        match &column.value {
            Value::Number(_, value) => {
                let values: Vec<f64> = of.series.steps().iter().map(value).collect();
                numbers(&mut rows, &values)?;
            }
            Value::Word(value) => {
                let all: Vec<Option<&str>> = of.series.steps().iter().map(value).collect();
                let there: Vec<i16> = all.iter().map(|w| i16::from(w.is_some())).collect();
                let values: Vec<ByteArray> = all.into_iter().flatten().map(ByteArray::from).collect();
                words(&mut rows, &values, Some(&there))?;
            }
        }
    }
    rows.close()?;
    writer.close().map(drop)
}

fn message_type(columns: &[Column]) -> String {
    let mut text = "message series {
        REQUIRED INT64 time_utc (TIMESTAMP(MILLIS, true));
        REQUIRED BYTE_ARRAY civil_time (STRING);\n"
        .to_owned();
    for column in columns {
        text += &match column.value {
            Value::Number(..) => format!("REQUIRED DOUBLE {};\n", column.name),
            Value::Word(_) => format!("OPTIONAL BYTE_ARRAY {} (STRING);\n", column.name),
        };
    }
    text + "}"
}

fn properties(of: &SeriesOf<'_>) -> WriterProperties {
    let producer = format!("daylift {}", env!("CARGO_PKG_VERSION"));
    let about = [
        ("schema", SERIES_SCHEMA.to_owned()),
        ("plant", of.plant.to_owned()),
        ("arrangement", of.arrangement.to_owned()),
        ("step_s", of.axis.step().seconds().to_string()),
        ("units", UNITS.to_owned()),
        ("producer", producer.clone()),
    ];
    WriterProperties::builder()
        .set_compression(Compression::SNAPPY)
        .set_created_by(producer)
        .set_key_value_metadata(Some(
            about.map(|(key, value)| KeyValue::new(key.to_owned(), value)).to_vec(),
        ))
        .build()
}

type Rows<'a, W> = SerializedRowGroupWriter<'a, W>;

fn instants<W: Write + Send>(rows: &mut Rows<'_, W>, of: &SeriesOf<'_>) -> Result<()> {
    let (start_s, step_s) = (of.axis.start_unix_s(), i64::from(of.axis.step().seconds()));
    let count = of.series.steps().len();
    let values: Vec<i64> = (0..).take(count).map(|i: i64| (start_s + i * step_s) * 1000).collect();
    if let Some(mut column) = rows.next_column()? {
        column.typed::<Int64Type>().write_batch(&values, None, None)?;
        column.close()?;
    }
    Ok(())
}

fn numbers<W: Write + Send>(rows: &mut Rows<'_, W>, values: &[f64]) -> Result<()> {
    if let Some(mut column) = rows.next_column()? {
        column.typed::<DoubleType>().write_batch(values, None, None)?;
        column.close()?;
    }
    Ok(())
}

fn words<W: Write + Send>(rows: &mut Rows<'_, W>, values: &[ByteArray], there: Option<&[i16]>) -> Result<()> {
    if let Some(mut column) = rows.next_column()? {
        column.typed::<ByteArrayType>().write_batch(values, there, None)?;
        column.close()?;
    }
    Ok(())
}
