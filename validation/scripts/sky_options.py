"""Perez's sky on four planes, Erbs' split, and the nominal operating cell temperature."""

import numpy as np
import pandas as pd
from pvlib import atmosphere, irradiance, temperature

import common
from sky import ALBEDO, PLANES, TILT_DEG

SPLIT_STATION = "723170"
NOCT_C = 45.0
NOCT_POINTS = [(800, 20, 1), (1000, 25, 1), (1000, 40, 3), (600, 30, 2), (0, -5, 4), (1150, 45, 0)]


def perez(station, sky, azimuth_deg):
    """Total on a plane, 0 with the sun down or without light."""
    zenith = 90.0 - sky["elevation_deg"]
    up = sky["elevation_deg"] > 0.0
    total = irradiance.get_total_irradiance(
        TILT_DEG,
        azimuth_deg,
        zenith,
        sky["azimuth_deg"],
        station["dni"],
        station["ghi"],
        station["dhi"],
        dni_extra=common.SOLAR_CONSTANT_W_M2 / sky["distance_au"] ** 2,
        airmass=atmosphere.get_relative_airmass(zenith, "kastenyoung1989"),
        albedo=ALBEDO,
        model="perez",
    )
    # pvlib gives NaN where there is neither direct nor diffuse light
    return np.where(up, np.nan_to_num(np.asarray(total["poa_global"])), 0.0)


def write_perez(head):
    for key in common.STATIONS:
        station = common.read_station(key)
        sky = common.sun(station, 3600)
        totals = [perez(station, sky, azimuth) for _, azimuth in PLANES]
        lit = np.flatnonzero(sum(totals) > 0.0)
        rows = ([hour, *(f"{total[hour]:.3f}" for total in totals)] for hour in lit)
        columns = ["hour", *(f"{name}_w_m2" for name, _ in PLANES)]
        common.write_csv(f"perez_{key}.csv", head, columns, rows)


def write_erbs(head):
    """pvlib's split: with the sun of `common`, and with pvlib's own defaults.

    pvlib's function takes extraterrestrial irradiance from the day alone. Its clearness index
    depends only on the ratio of GHI to it, so scaled GHI gives the split for any other value.
    """
    station = common.read_station(SPLIT_STATION)
    sky = common.sun(station, 3600)
    start = pd.Timestamp(f"{common.YEAR}-01-01", tz="UTC") - pd.Timedelta(hours=station["offset_h"])
    times = start + pd.to_timedelta((np.arange(8760) + 0.5) * 3600, unit="s")
    ghi = station["ghi"]
    extra = common.SOLAR_CONSTANT_W_M2 / sky["distance_au"] ** 2
    scale = irradiance.get_extra_radiation(times).to_numpy() / extra
    same_sun = irradiance.erbs(ghi * scale, 90.0 - sky["elevation_deg"], times)
    default = irradiance.erbs(ghi, 90.0 - sky["true_elevation_deg"], times)
    columns = {
        "dni_w_m2": same_sun["dni"].to_numpy() / scale,
        "dhi_w_m2": same_sun["dhi"].to_numpy() / scale,
        "default_dni_w_m2": default["dni"].to_numpy(),
        "default_dhi_w_m2": default["dhi"].to_numpy(),
    }
    rows = (
        [hour, ghi[hour], *(f"{values[hour]:.3f}" for values in columns.values())]
        for hour in np.flatnonzero(ghi > 0.0)
    )
    common.write_csv(f"erbs_{SPLIT_STATION}.csv", head, ["hour", "ghi_w_m2", *columns], rows)


def write_noct(head):
    """By Ross (1976), whose coefficient is (NOCT - 20) / 800."""
    rows = (
        [light, air, wind, temperature.ross(float(light), float(air), noct=NOCT_C)]
        for light, air, wind in NOCT_POINTS
    )
    common.write_csv("noct.csv", head, ["plane_w_m2", "air_c", "wind_m_s", "cell_c"], rows)


def main():
    head = common.made_by("sky_options.py", "pvlib", "numpy", "pandas")
    write_perez(head)
    write_erbs(head)
    write_noct(head)


if __name__ == "__main__":
    main()
