# Invented data. No real place, maker or product.
"""Make weather.csv: a plausible hourly year of sun, air temperature and wind for an estate on a highland river.

Usage: python make_weather.py   (numpy, pandas, pvlib 0.16.1; the same seed gives the same bytes)

Clear sky: simplified Solis (Ineichen 2008) with monthly aerosol and water vapour. Clouds: a daily
clearness with memory from day to day and a wobble from hour to hour. Sun: NREL SPA at the middle
of the hour; GHI is worked out from the rounded DNI and DHI, so the three agree.
"""

from pathlib import Path

import numpy as np
import pandas as pd
import pvlib

SEED = 18747
LATITUDE_DEG, LONGITUDE_DEG, ALTITUDE_M, UTC_OFFSET_H, YEAR = -18.7, 47.3, 1240.0, 3, 2025
SOLAR_CONSTANT_W_M2 = 1361.0

# January to December. Rains from November to April; smoke of burning grass from August to October.
AEROSOL_700NM = [0.09, 0.08, 0.08, 0.07, 0.07, 0.07, 0.08, 0.11, 0.17, 0.19, 0.13, 0.10]
WATER_VAPOUR_CM = [3.3, 3.4, 3.1, 2.4, 1.8, 1.4, 1.3, 1.3, 1.5, 1.9, 2.5, 3.1]
CLEARNESS_MEAN = [0.66, 0.65, 0.71, 0.82, 0.88, 0.87, 0.87, 0.90, 0.93, 0.89, 0.78, 0.68]
CLEARNESS_SPREAD = [0.19, 0.19, 0.17, 0.12, 0.09, 0.10, 0.10, 0.08, 0.06, 0.09, 0.15, 0.18]
AIR_MEAN_C = [20.6, 20.6, 20.2, 19.2, 17.0, 15.0, 14.4, 15.0, 17.1, 19.2, 20.3, 20.7]
AIR_SWING_C = [4.6, 4.6, 4.8, 5.2, 5.6, 5.7, 5.6, 6.2, 6.8, 6.8, 6.0, 5.0]  # half of max - min
WIND_MEAN_M_S = [2.0, 2.0, 2.1, 2.2, 2.2, 2.4, 2.6, 2.7, 2.8, 2.7, 2.3, 2.1]

DAY_MEMORY, HOUR_MEMORY, AIR_MEMORY, WIND_MEMORY = 0.5, 0.6, 0.75, 0.8


def by_day(monthly: list[float], days: pd.DatetimeIndex) -> np.ndarray:
    """Monthly values, placed at mid-month, joined by straight lines around the year."""
    middle = [pd.Timestamp(YEAR, m, 15).day_of_year for m in range(1, 13)]
    return np.interp(days.day_of_year, middle, monthly, period=365)


def with_memory(rng: np.random.Generator, count: int, memory: float) -> np.ndarray:
    """First-order autoregressive noise of mean 0 and variance 1."""
    step = rng.standard_normal(count)
    out = np.empty(count)
    out[0] = step[0]
    for i in range(1, count):
        out[i] = memory * out[i - 1] + np.sqrt(1 - memory**2) * step[i]
    return out


def main() -> None:
    rng = np.random.default_rng(SEED)
    zone = f"Etc/GMT-{UTC_OFFSET_H}"  # the sign of these names is reversed: this is UTC+3
    middle = pd.date_range(f"{YEAR}-01-01 00:30", periods=8760, freq="h", tz=zone)
    days = pd.date_range(f"{YEAR}-01-01", periods=365, freq="D")
    day = np.repeat(np.arange(365), 24)
    hour = np.tile(np.arange(24) + 0.5, 365)

    pressure_pa = 101_325 * (1 - 2.25577e-5 * ALTITUDE_M) ** 5.25588
    sun = pvlib.solarposition.spa_python(
        middle, LATITUDE_DEG, LONGITUDE_DEG, ALTITUDE_M,
        pressure=pressure_pa, temperature=float(np.mean(AIR_MEAN_C)), delta_t=67.0,
    )
    up = sun["apparent_elevation"].to_numpy() > 0
    cos_zenith = np.where(up, np.cos(np.radians(sun["apparent_zenith"].to_numpy())), 0.0)
    distance_au = pvlib.solarposition.nrel_earthsun_distance(middle, delta_t=67.0).to_numpy()
    extra_normal = np.where(up, SOLAR_CONSTANT_W_M2 / distance_au**2, 0.0)

    clear = pvlib.clearsky.simplified_solis(
        sun["apparent_elevation"].to_numpy(),
        aod700=by_day(AEROSOL_700NM, days)[day],
        precipitable_water=by_day(WATER_VAPOUR_CM, days)[day],
        pressure=pressure_pa,
        dni_extra=SOLAR_CONSTANT_W_M2 / distance_au**2,
    )

    # Clearness: 1 is a cloudless hour. Afternoons of the rains are cloudier than their mornings.
    mean, spread = by_day(CLEARNESS_MEAN, days), by_day(CLEARNESS_SPREAD, days)
    daily = mean + spread * with_memory(rng, 365, DAY_MEMORY)
    afternoon = -0.5 * spread[day] * np.clip((hour - 12.5) / 4, -1, 1)
    hourly = 0.6 * spread[day] * with_memory(rng, 8760, HOUR_MEMORY)
    clearness = np.clip(daily[day] + afternoon + hourly, 0.10, 1.0)

    # The beam fades faster than the whole: none is left at a clearness of 0.2.
    beam_share = np.clip((clearness - 0.2) / 0.8, 0, 1) ** 1.5
    dni = np.where(up, np.round(clear["dni"] * beam_share), 0)
    beam_clear = clear["dni"] * cos_zenith
    global_wanted = clearness * (beam_clear + clear["dhi"])
    dhi = np.where(up, np.round(np.maximum(global_wanted - dni * cos_zenith, 0)), 0)
    ghi = np.round(dni * cos_zenith + dhi)

    # Air: coldest about 05:30, warmest about 14:30; cloudy days swing less.
    morning = np.clip((hour - 5.5) / 9, 0, 1)
    evening = ((hour - 14.5) % 24) / 15
    shape = np.where((hour >= 5.5) & (hour < 14.5), -np.cos(np.pi * morning), np.cos(np.pi * evening))
    cloudy = np.clip((daily - mean) / 0.3, -1, 1)
    swing_c = by_day(AIR_SWING_C, days) * (1 + 0.2 * cloudy)
    anomaly_c = 0.8 * with_memory(rng, 365, AIR_MEMORY)
    air_c = (by_day(AIR_MEAN_C, days) + anomaly_c)[day] + swing_c[day] * shape
    air_c = np.clip(air_c + 0.2 * rng.standard_normal(8760), 3.0, 34.0)

    # Wind: strongest in the early afternoon.
    gust = np.exp(0.30 * with_memory(rng, 8760, WIND_MEMORY) - 0.045)
    wind = by_day(WIND_MEAN_M_S, days)[day] * (1 + 0.30 * np.cos(2 * np.pi * (hour - 13.5) / 24)) * gust
    wind = np.clip(wind, 0.5, 6.0)

    lines = [
        f'000000,"THREE WEIRS (MADE DATA)",--,{UTC_OFFSET_H:.1f},'
        f"{LATITUDE_DEG:.3f},{LONGITUDE_DEG:.3f},{ALTITUDE_M:.0f}",
        "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),ETRN (W/m^2),GHI (W/m^2),DNI (W/m^2),"
        "DHI (W/m^2),Dry-bulb (C),Wspd (m/s)",
    ]
    etr = np.round(extra_normal * cos_zenith)
    for i in range(8760):
        stamp = f"{days[day[i]]:%m/%d/%Y},{i % 24 + 1:02d}:00"
        lines.append(
            f"{stamp},{etr[i]:.0f},{extra_normal[i]:.0f},{ghi[i]:.0f},{dni[i]:.0f},{dhi[i]:.0f},"
            f"{air_c[i]:.1f},{wind[i]:.1f}"
        )
    Path(__file__).with_name("weather.csv").write_text("\n".join(lines) + "\n", newline="\n")
    print(f"GHI {ghi.sum() / 1000:.0f}, DNI {dni.sum() / 1000:.0f}, DHI {dhi.sum() / 1000:.0f} kWh/m2")
    print(f"air {air_c.min():.1f} to {air_c.max():.1f} C, wind {wind.mean():.2f} m/s")


if __name__ == "__main__":
    main()
