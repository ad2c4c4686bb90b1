//! Results as CSV files. A file is written whole or not at all.

use std::fs;
use std::path::{Path, PathBuf};

use csv::Writer;
use daylift_study::compare::FullComparison;
use daylift_study::detail::Month;
use daylift_study::{Row, Run, Series};
use daylift_supply::LossCause;
use daylift_units::Axis;
use daylift_units::constants::HOUR_S;
use tempfile::NamedTempFile;

/// Writes `run-ID.csv`, `months-ID.csv` and `series-ID.csv`.
pub(crate) fn write_run(folder: &Path, run: &Run, axis: &Axis, series: &Series) -> Result<(), String> {
    let id = &run.row.id;
    let mut files = Files::new(folder)?;
    files.add(&format!("run-{id}.csv"), |out| rows(out, std::iter::once(&run.row)))?;
    files.add(&format!("months-{id}.csv"), |out| months(out, &run.months))?;
    files.add(&format!("series-{id}.csv"), |out| steps(out, axis, series))?;
    files.put_in_place()
}

/// Writes `compare.csv`, and `months-ID.csv` and `series-ID.csv` of every arrangement.
pub(crate) fn write_comparison(folder: &Path, full: &FullComparison) -> Result<(), String> {
    let mut files = Files::new(folder)?;
    files.add("compare.csv", |out| rows(out, full.answer.arrangements.iter()))?;
    for (row, detail) in full.answer.arrangements.iter().zip(&full.rows) {
        files.add(&format!("months-{}.csv", row.id), |out| months(out, &detail.months))?;
        if let Some(series) = &detail.series {
            files.add(&format!("series-{}.csv", row.id), |out| steps(out, &full.axis, series))?;
        }
    }
    files.put_in_place()
}

/// Files written beside their places; they move there together, when all of them are whole and on the disk.
struct Files<'a> {
    folder: &'a Path,
    ready: Vec<(NamedTempFile, PathBuf)>,
}

impl<'a> Files<'a> {
    fn new(folder: &'a Path) -> Result<Self, String> {
        fs::create_dir_all(folder).map_err(|e| {
            format!(
                "cannot make the folder {}: {e}; choose another with --out",
                folder.display()
            )
        })?;
        Ok(Self {
            folder,
            ready: Vec::new(),
        })
    }

    fn add(
        &mut self,
        name: &str,
        fill: impl FnOnce(&mut Writer<&mut NamedTempFile>) -> csv::Result<()>,
    ) -> Result<(), String> {
        let path = self.folder.join(name);
        if path.exists() && !path.is_file() {
            return Err(format!(
                "cannot write {}: it is not a file; choose another folder with --out",
                path.display()
            ));
        }
        let mut file = new_file(self.folder).map_err(|e| cannot_write(&path, &e))?;
        let mut writer = Writer::from_writer(&mut file);
        fill(&mut writer).map_err(|e| cannot_write(&path, &e))?;
        writer.flush().map_err(|e| cannot_write(&path, &e))?;
        drop(writer);
        file.as_file().sync_all().map_err(|e| cannot_write(&path, &e))?;
        self.ready.push((file, path));
        Ok(())
    }

    fn put_in_place(self) -> Result<(), String> {
        for (file, path) in self.ready {
            file.persist(&path).map_err(|e| cannot_write(&path, &e))?;
        }
        Ok(())
    }
}

/// A new file that others may read as far as the user's settings allow.
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

type Out<'a> = Writer<&'a mut NamedTempFile>;

fn rows<'r>(out: &mut Out<'_>, rows: impl Iterator<Item = &'r Row>) -> csv::Result<()> {
    let mut header_written = false;
    for row in rows {
        let cells = row_cells(row);
        if !header_written {
            out.write_record(cells.iter().map(|(name, _)| name))?;
            header_written = true;
        }
        out.write_record(cells.iter().map(|(_, value)| value))?;
    }
    Ok(())
}

fn row_cells(row: &Row) -> Vec<(String, String)> {
    let e = &row.array_kwh;
    let maybe = |v: Option<f64>| v.map_or_else(String::new, |v| v.to_string());
    let mut cells = vec![("arrangement".to_owned(), row.id.clone())];
    let mut put = |name: &str, value: String| cells.push((name.to_owned(), value));
    put("available_kwh", e.available.to_string());
    put("to_pump_kwh", e.to_pump.to_string());
    put("to_loads_kwh", e.to_loads.to_string());
    put("exported_paid_kwh", e.exported_paid.to_string());
    put("exported_unpaid_kwh", e.exported_unpaid.to_string());
    for cause in LossCause::ALL {
        put(&format!("lost_{}_kwh", cause.id()), e.lost.of(cause).to_string());
    }
    put("array_use", maybe(row.array_use));
    put("imported_kwh", row.grid_kwh.imported.to_string());
    put("exported_kwh", row.grid_kwh.exported.to_string());
    put("pump_from_array_kwh", row.pump_kwh.array.to_string());
    put("pump_from_grid_kwh", row.pump_kwh.grid.to_string());
    put("load_kwh", row.load_kwh.demand.to_string());
    put("load_from_array_kwh", row.load_kwh.array.to_string());
    put("load_from_grid_kwh", row.load_kwh.grid.to_string());
    put("load_unserved_kwh", row.load_kwh.unserved.to_string());
    put("demand_m3", row.water_m3.demand.to_string());
    put("pumped_m3", row.water_m3.pumped.to_string());
    put("delivered_m3", row.water_m3.delivered.to_string());
    put("shortfall_m3", row.water_m3.shortfall.to_string());
    put("outage_h", row.hours.outage.to_string());
    put("pumping_h", row.hours.pumping.to_string());
    put("pumping_in_outage_h", row.hours.pumping_in_outage.to_string());
    put("currency", row.money.currency.clone());
    put("capital", row.money.capital.to_string());
    put("first_year_bill", row.money.first_year_bill.to_string());
    put("payback_years", maybe(row.money.payback_years));
    put("npv", row.money.npv.to_string());
    put("irr", maybe(row.money.irr));
    put("cost_per_m3", maybe(row.money.cost_per_m3));
    cells
}

fn months(out: &mut Out<'_>, months: &[Month]) -> csv::Result<()> {
    out.write_record([
        "month",
        "demand_m3",
        "pumped_m3",
        "delivered_m3",
        "pumping_h",
        "outage_h",
        "available_kwh",
        "array_to_pump_kwh",
        "array_to_loads_kwh",
        "exported_kwh",
        "pump_kwh",
        "imported_kwh",
        "unserved_kwh",
    ])?;
    for m in months {
        let e = &m.array_kwh;
        let exported = e.exported_paid + e.exported_unpaid;
        let values = [
            m.demand_m3,
            m.pumped_m3,
            m.delivered_m3,
            m.pumping_h,
            m.outage_h,
            e.available,
            e.to_pump,
            e.to_loads,
            exported,
            m.pump_kwh,
            m.imported_kwh,
            m.unserved_kwh,
        ];
        out.write_record(std::iter::once(m.month.to_string()).chain(values.map(|v| v.to_string())))?;
    }
    Ok(())
}

fn steps(out: &mut Out<'_>, axis: &Axis, series: &Series) -> csv::Result<()> {
    out.write_record([
        "civil_time",
        "utility_share",
        "available_kw",
        "array_to_pump_kw",
        "array_to_loads_kw",
        "exported_kw",
        "lost_kw",
        "main_loss",
        "imported_kw",
        "grid_to_pump_kw",
        "load_kw",
        "unserved_kw",
        "pumped_m3_h",
        "demand_m3_h",
        "delivered_m3_h",
        "tank_m3",
        "drive_hz",
    ])?;
    let mut start_s = 0.0;
    for s in series.steps() {
        let kw = |w: f64| format!("{:.4}", w / 1e3);
        let m3_h = |q: f64| format!("{:.4}", q * HOUR_S);
        out.write_record([
            axis.civil_text(start_s),
            format!("{:.4}", s.utility),
            kw(s.available_w),
            kw(s.array_to_pump_w),
            kw(s.array_to_loads_w),
            kw(s.exported_w),
            kw(s.lost_w),
            s.main_loss.map_or_else(String::new, |c| c.id().to_owned()),
            kw(s.imported_w),
            kw(s.grid_to_pump_w),
            kw(s.load_w),
            kw(s.unserved_w),
            m3_h(s.pumped_m3_s),
            m3_h(s.demand_m3_s),
            m3_h(s.delivered_m3_s),
            format!("{:.3}", s.tank_m3),
            format!("{:.3}", s.hz),
        ])?;
        start_s += axis.step_s();
    }
    Ok(())
}
