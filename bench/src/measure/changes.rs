//! A value changed on the page while a slider moves: ten-minute years of every arrangement, from the request to the text of
//! its answer, and the time of each stage.

use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use daylift_desk::api::{AnswerRequest, Change, InputValue, Turn};
use daylift_desk::{Desk, Options, Starter};
use daylift_plant_file::{Files, NewValue, read_plant_knowing, set_value};
use daylift_study::Memory;
use daylift_study::compare::{Extras, compare_in_full};
use daylift_tables::Known;
use daylift_units::Step;
use serde::{Deserialize, Serialize};

use crate::engine::root;
use crate::measure::year_loop::PLANT;

/// The sliders: file, keys, first and last value.
const SLIDERS: [(&str, &str, f64, f64); 5] = [
    ("plant.toml", "tank.capacity_m3", 80.0, 390.0),
    ("plant.toml", "grid.export_credit_per_kwh", 0.01, 0.09),
    ("battery.toml", "capacity_kwh", 20.0, 90.0),
    ("plant.toml", "array.tilt_deg", 1.0, 40.0),
    ("plant.toml", "array.strings", 1.0, 12.0),
];
/// Values requested for each.
const VALUES: u32 = 60;

/// A slider's answers.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(crate) struct Dragged {
    /// Keys of the value.
    pub(crate) keys: String,
    /// Median of the whole \[s\].
    pub(crate) median_s: f64,
    /// 95th percentile of the whole \[s\].
    pub(crate) p95_s: f64,
    /// Median of reading the plant \[s\].
    pub(crate) read_s: f64,
    /// Median of sun, array and devices, as far as all rows share them \[s\].
    pub(crate) stages_s: f64,
    /// Median of all years with their money and workings \[s\].
    pub(crate) years_s: f64,
}

/// Every slider in turn.
pub(crate) fn measure() -> Result<Vec<Dragged>, String> {
    let folder = root().join(PLANT);
    SLIDERS.iter().map(|slider| dragged(&folder, slider)).collect()
}

fn dragged(folder: &Path, (file, keys, from, to): &(&str, &str, f64, f64)) -> Result<Dragged, String> {
    let whole = |value: f64| if *keys == "array.strings" { value.round() } else { value };
    let values: Vec<f64> = (0..VALUES)
        .map(|i| whole(from + (to - from) * f64::from(i) / f64::from(VALUES - 1)))
        .collect();
    let answered = answered(folder, file, keys, &values)?;
    let parts = parts(&folder.join(file), folder, keys, &values)?;
    let median_of = |part: usize| percentile(parts.iter().map(|of| of[part]).collect(), 0.5);
    Ok(Dragged {
        keys: (*keys).to_owned(),
        median_s: percentile(answered.clone(), 0.5),
        p95_s: percentile(answered, 0.95),
        read_s: median_of(0),
        stages_s: median_of(1),
        years_s: median_of(2),
    })
}

/// Times of whole answers, as the page gets them.
fn answered(folder: &Path, file: &str, keys: &str, values: &[f64]) -> Result<Vec<f64>, String> {
    let options = Options {
        open: folder.to_owned(),
        port: 0,
        starter: Starter {
            examples: Vec::new,
            start: |_, _| Err("the benchmark starts no plant".to_owned()),
        },
    };
    let desk = Desk::open(&options, 0)?;
    let ask = |value: Option<f64>| -> Result<f64, String> {
        let change = value.map(|value| Change {
            file: file.to_owned(),
            keys: keys.to_owned(),
            value: Some(InputValue::Number(value)),
        });
        let request = AnswerRequest {
            plant: "plant.toml".to_owned(),
            changes: change.into_iter().collect(),
            looked_at: Some("dual-mode".to_owned()),
            brief: true,
            turn: Turn {
                page: "bench".to_owned(),
                number: 0,
            },
        };
        let begin = Instant::now();
        let answer = desk.answer(&request).map_err(|refusal| format!("{refusal:?}"))?;
        black_box(serde_json::to_string(&answer).map_err(|e| e.to_string())?);
        Ok(begin.elapsed().as_secs_f64())
    };
    ask(None)?;
    values.iter().map(|value| ask(Some(*value))).collect()
}

/// Reading, stages, years of each value.
fn parts(file: &Path, folder: &Path, keys: &str, values: &[f64]) -> Result<Vec<[f64; 3]>, String> {
    let text = std::fs::read_to_string(file).map_err(|e| e.to_string())?;
    let (memory, known) = (Memory::new(), Arc::new(Known::default()));
    let of = |value: &f64| -> Result<[f64; 3], String> {
        let begin = Instant::now();
        let draft = set_value(&text, keys, &NewValue::Number(*value)).map_err(|e| e.to_string())?;
        let files = Files::default().with_draft(file, draft).map_err(|e| e.to_string())?;
        let read = read_plant_knowing(folder, files, Arc::clone(&known)).map_err(|faults| format!("{faults:?}"))?;
        let read_s = begin.elapsed().as_secs_f64();
        let begin = Instant::now();
        let mut stages_s = 0.0;
        let mut progress = |done: usize, _| {
            if done == 1 {
                stages_s = begin.elapsed().as_secs_f64();
            }
        };
        let step = Step::TenMinutes;
        black_box(&compare_in_full(
            &read.plant,
            step,
            &[],
            Extras::NONE,
            &memory,
            &mut progress,
        ));
        Ok([read_s, stages_s, begin.elapsed().as_secs_f64() - stages_s])
    };
    let all: Result<Vec<[f64; 3]>, String> = values.iter().map(of).collect();
    // The first has to compute everything.
    Ok(all?.into_iter().skip(1).collect())
}

fn percentile(mut values: Vec<f64>, share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a share of some dozen values"
    )]
    let at = ((values.len() as f64 * share).ceil() as usize).saturating_sub(1);
    values.get(at).copied().unwrap_or(f64::NAN)
}
