"""Sun position and irradiance on four planes, hour by hour, for both stations."""

import numpy as np

import common

TILT_DEG = 30.0
ALBEDO = 0.2
PLANES = [("n", 0.0), ("e", 90.0), ("s", 180.0), ("w", 270.0)]


def main():
    head = common.made_by("sky.py", "pvlib", "numpy", "pandas")
    for key in common.STATIONS:
        station = common.read_station(key)
        sky = common.sun(station, 3600)
        totals = {
            name: common.plane(
                sky, station["ghi"], station["dni"], station["dhi"], TILT_DEG, azimuth, ALBEDO
            )[0]
            for name, azimuth in PLANES
        }
        light = station["ghi"] + station["dni"] + station["dhi"] > 0.0
        wanted = light | (sky["elevation_deg"] > -5.0)
        rows = (
            [
                hour,
                f"{sky['elevation_deg'][hour]:.5f}",
                f"{sky['azimuth_deg'][hour]:.5f}",
                f"{sky['distance_au'][hour]:.8f}",
                *(f"{totals[name][hour]:.4f}" for name, _ in PLANES),
            ]
            for hour in np.flatnonzero(wanted)
        )
        columns = ["hour", "elevation_deg", "azimuth_deg", "distance_au"]
        columns += [f"{name}_w_m2" for name, _ in PLANES]
        common.write_csv(f"sun_{key}.csv", head, columns, rows)


if __name__ == "__main__":
    main()
