"""Three weather stations and the world grid: measurements of the stations, values of the grid there.

Two of the files are in data/tmy3 already. The third is the TMY2 file of Miami, which comes with pvlib. It is written to
data/tmy2 as a plain table, which the program can read. The grid is read from the open data package itself.
"""

from importlib.resources import files
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib

import common

TILT_DEG, AZIMUTH_DEG, ALBEDO = 30.0, 180.0, 0.2
DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
MONTH = np.repeat(np.arange(12), DAYS)


def miami():
    path = Path(pvlib.__file__).parent / "data" / "12839.tm2"
    hours, place = pvlib.iotools.read_tmy2(str(path))
    assert len(hours) == 8760
    return {
        "offset_h": float(place["TZ"]),
        "latitude_deg": float(place["latitude"]),
        "longitude_deg": float(place["longitude"]),
        "altitude_m": float(place["altitude"]),
        "ghi": hours["GHI"].to_numpy(float),
        "dni": hours["DNI"].to_numpy(float),
        "dhi": hours["DHI"].to_numpy(float),
        "air_c": hours["DryBulb"].to_numpy(float) / 10.0,
        "wind_m_s": hours["Wspd"].to_numpy(float) / 10.0,
    }


def write_plain(name, station, head):
    """The hours as the program reads them, each stamped with its start."""
    times = pd.date_range(f"{common.YEAR}-01-01", periods=8760, freq="h")
    rows = zip(
        times.strftime("%Y-%m-%dT%H:%M-05:00"), station["ghi"], station["dni"], station["dhi"],
        station["air_c"], station["wind_m_s"],
    )  # fmt: skip
    (common.DATA / "tmy2").mkdir(exist_ok=True)
    columns = ["time", "ghi_w_m2", "dni_w_m2", "dhi_w_m2", "air_c", "wind_m_s"]
    common.write_csv(f"tmy2/{name}.csv", head, columns, rows)


def grid_means(latitude_deg, longitude_deg):
    """Monthly means and spreads of the grid, bilinear between the land cells around a place."""
    data = np.load(files("gsee_climate_data") / "data" / "merra2_rad3x3_2011-2015_pdfs_land_prox.npz")
    lat, lon = data["lat"], data["lon"]
    corners = [
        (i, j)
        for i in range(len(lat))
        for j in range(len(lon))
        if abs(lat[i] - latitude_deg) < 3.0 and abs(lon[j] - longitude_deg) < 3.0
    ]
    total = 0.0
    mean, spread = np.zeros(12), np.zeros(12)
    for i, j in corners:
        weight = np.nan_to_num(data["pk"][i, j].astype(float))
        value = np.nan_to_num(data["xk"][i, j].astype(float))
        if not (weight.sum(axis=1) > 0.0).all():
            continue
        near = (1.0 - abs(lat[i] - latitude_deg) / 3.0) * (1.0 - abs(lon[j] - longitude_deg) / 3.0)
        first = np.array([np.average(v, weights=w) for v, w in zip(value, weight)])
        second = np.array([np.average(v**2, weights=w) for v, w in zip(value, weight)])
        mean += near * first
        spread += near * np.sqrt(second - first**2)
        total += near
    return mean / total, spread / total


def main():
    head = common.made_by("stations.py", "pvlib", "numpy", "pandas", "gsee-climate-data")
    stations = {key: common.read_station(key) for key in common.STATIONS}
    stations["12839"] = miami()
    write_plain("12839", stations["12839"], head + ", from pvlib's 12839.tm2 (Miami)")
    rows = []
    for key, station in stations.items():
        daily = station["ghi"].reshape(365, 24).mean(axis=1)
        means = np.array([daily[MONTH == m].mean() for m in range(12)])
        grid, spread = grid_means(station["latitude_deg"], station["longitude_deg"])
        high_pct = 100.0 * (np.dot(grid, DAYS) / np.dot(means, DAYS) - 1.0)
        sky = common.sun(station, 3600)
        plane, _ = common.plane(
            sky, station["ghi"], station["dni"], station["dhi"], TILT_DEG, AZIMUTH_DEG, ALBEDO
        )
        for month in range(12):
            rows.append([
                key, station["latitude_deg"], station["longitude_deg"], station["altitude_m"], month + 1,
                means[month], daily[MONTH == month].std(), grid[month], spread[month], high_pct, plane.sum() / 1000.0,
            ])  # fmt: skip
    columns = [
        "station", "latitude_deg", "longitude_deg", "altitude_m", "month", "ghi_w_m2", "ghi_spread_w_m2",
        "grid_w_m2", "grid_spread_w_m2", "grid_reads_high_pct", "plane_kwh_m2",
    ]  # fmt: skip
    common.write_csv("stations.csv", head, columns, rows)


if __name__ == "__main__":
    main()
