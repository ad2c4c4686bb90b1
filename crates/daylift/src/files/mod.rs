//! Results as files: CSV, and also Parquet for the series by step. Either all files of a result are written or none.

mod csv;
mod parquet;
mod series;
mod strings;

use std::fs;
use std::path::{Path, PathBuf};

use daylift_plant_file::write::{is_read_only, part_for, place};
use daylift_study::strings::StringsAnswer;
use daylift_study::{ComparedRow, Comparison, Run, Series};
use daylift_units::Axis;
use tempfile::NamedTempFile;

use self::series::SeriesOf;

/// Writes `run-ID.csv`, `months-ID.csv`, `sun-ID.csv`, `series-ID.csv` and `series-ID.parquet`;
/// returns the names of result files from other runs in the folder.
pub(crate) fn write_run(folder: &Path, run: &Run, axis: &Axis, series: &Series) -> Result<Vec<String>, String> {
    let id = run.row.id.id();
    let mut files = Files::new(folder)?;
    files.add(&format!("run-{id}.csv"), |out| {
        csv::rows(out, std::iter::once(&run.row))
    })?;
    files.add(&format!("months-{id}.csv"), |out| csv::months(out, &run.months))?;
    if !run.plane_by_month_and_hour_w_m2.is_empty() {
        files.add(&format!("sun-{id}.csv"), |out| {
            csv::sun_by_hour(out, &run.plane_by_month_and_hour_w_m2)
        })?;
    }
    files.add_series(&SeriesOf {
        plant: &run.plant,
        arrangement: id,
        axis,
        series,
    })?;
    files.put_in_place()
}

/// Writes `compare.csv`, and `months-ID.csv`, `series-ID.csv` and `series-ID.parquet` of every arrangement;
/// returns the names of result files from other runs in the folder.
pub(crate) fn write_comparison(folder: &Path, full: &Comparison) -> Result<Vec<String>, String> {
    let mut files = Files::new(folder)?;
    files.add("compare.csv", |out| {
        csv::rows(out, full.rows.iter().map(|one| &one.row))
    })?;
    for ComparedRow { row, detail, .. } in &full.rows {
        files.add(&format!("months-{}.csv", row.id), |out| {
            csv::months(out, &detail.months)
        })?;
        if let Some(series) = &detail.series {
            files.add_series(&SeriesOf {
                plant: &full.plant,
                arrangement: row.id.id(),
                axis: &full.axis,
                series,
            })?;
        }
    }
    files.put_in_place()
}

/// Writes `strings-findings.csv`, `strings-rules.csv`, `strings-lengths.csv`, `strings-layouts.csv` and `strings-voltages.csv`;
/// returns the names of result files from other runs in the folder.
pub(crate) fn write_strings(folder: &Path, found: &StringsAnswer) -> Result<Vec<String>, String> {
    let mut files = Files::new(folder)?;
    files.add("strings-findings.csv", |out| strings::findings(out, found))?;
    files.add("strings-rules.csv", |out| strings::measures(out, found))?;
    files.add("strings-lengths.csv", |out| strings::lengths(out, found))?;
    files.add("strings-layouts.csv", |out| strings::layouts(out, found))?;
    files.add("strings-voltages.csv", |out| strings::voltages(out, found))?;
    files.put_in_place()
}

/// Files written under temporary names. Once all are complete and on the disk, they get their real names together.
struct Files<'a> {
    folder: &'a Path,
    ready: Vec<(NamedTempFile, PathBuf)>,
}

impl<'a> Files<'a> {
    fn new(folder: &'a Path) -> Result<Self, String> {
        fs::create_dir_all(folder).map_err(|e| {
            format!(
                "cannot create the folder {}: {e}; choose another with --out",
                folder.display()
            )
        })?;
        Ok(Self {
            folder,
            ready: Vec::new(),
        })
    }

    fn add<E: std::fmt::Display>(
        &mut self,
        name: &str,
        fill: impl FnOnce(&mut NamedTempFile) -> Result<(), E>,
    ) -> Result<(), String> {
        let path = self.folder.join(name);
        if path.exists() && !path.is_file() {
            return Err(format!(
                "cannot write {}: it is not a file; choose another folder with --out",
                path.display()
            ));
        }
        let mut file = new_file(self.folder).map_err(|e| cannot_write(&path, &e))?;
        fill(&mut file).map_err(|e| cannot_write(&path, &e))?;
        file.as_file().sync_all().map_err(|e| cannot_write(&path, &e))?;
        self.ready.push((file, path));
        Ok(())
    }

    fn add_series(&mut self, of: &SeriesOf<'_>) -> Result<(), String> {
        let id = of.arrangement;
        self.add(&format!("series-{id}.csv"), |out| csv::steps(out, of))?;
        self.add(&format!("series-{id}.parquet"), |out| parquet::steps(out, of))
    }

    /// Returns the names of result files from other runs in the folder.
    fn put_in_place(self) -> Result<Vec<String>, String> {
        let written: Vec<PathBuf> = self.ready.iter().map(|(_, path)| path.clone()).collect();
        for (file, path) in self.ready {
            file.persist(&path).map_err(|e| cannot_write(&path, &e))?;
        }
        Ok(others(self.folder, &written))
    }
}

/// Replaces the text of a file, unless the file has changed since it was read. Nobody can ever read half a file.
pub(crate) fn replace(path: &Path, read: &str, text: &str) -> Result<(), String> {
    let failed = |why: &dyn std::fmt::Display| format!("cannot write {}: {why}", path.display());
    // A link stays a link: the file that it points to is replaced.
    let real = fs::canonicalize(path).map_err(|e| failed(&e))?;
    if is_read_only(&real).map_err(|e| failed(&e))? {
        return Err(failed(&"it is read-only; allow writing to it"));
    }
    let part = part_for(&real, text).map_err(|e| failed(&e))?;
    if fs::read_to_string(&real).ok().as_deref() != Some(read) {
        return Err(failed(&"it has changed since it was read; try again"));
    }
    place(part, &real).map_err(|e| failed(&e))
}

/// Result files in the folder that this run did not write, sorted by name.
fn others(folder: &Path, written: &[PathBuf]) -> Vec<String> {
    let is_result = |name: &str| {
        let kind = ["run-", "months-", "sun-", "series-", "strings-"]
            .iter()
            .any(|start| name.starts_with(start));
        name == "compare.csv" || kind && (name.ends_with(".csv") || name.ends_with(".parquet"))
    };
    let mut out: Vec<String> = fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .filter(|entry| !written.contains(&entry.path()))
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .filter(|name| is_result(name))
        .collect();
    out.sort();
    out
}

/// A new file with the usual permissions, not only for its owner: the user's umask decides.
fn new_file(folder: &Path) -> std::io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

fn cannot_write(path: &Path, why: &dyn std::fmt::Display) -> String {
    format!(
        "cannot write {}: {why}; choose another folder with --out",
        path.display()
    )
}
