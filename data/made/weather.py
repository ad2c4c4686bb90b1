# Invented data. No real place, maker or product.
"""Make a plausible hourly year of sun, air temperature and wind for an invented place.

Clear sky: simplified Solis (Ineichen 2008) with monthly aerosol and water vapour. Clouds: a daily
clearness with memory from day to day and a wobble from hour to hour. Sun: NREL SPA at the middle
of the hour; GHI is calculated from the rounded DNI and DHI, so the three agree. The same seed
gives the same bytes (numpy 2.4.6, pandas 3.1.1, pvlib 0.16.1).
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib

SOLAR_CONSTANT_W_M2 = 1361.0


@dataclass(frozen=True)
class Place:
    """A place and its climate; lists run from January to December."""

    name: str
    seed: int
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    utc_offset_h: int
    year: int
    aerosol_700nm: list[float]
    water_vapour_cm: list[float]
    clearness_mean: list[float]
    clearness_spread: list[float]
    air_mean_c: list[float]
    air_swing_c: list[float]  # half of max - min
    wind_mean_m_s: list[float]
    air_range_c: tuple[float, float]
    wind_greatest_m_s: float


DAY_MEMORY, HOUR_MEMORY, AIR_MEMORY, WIND_MEMORY = 0.5, 0.6, 0.75, 0.8


def by_day(monthly: list[float], days: pd.DatetimeIndex) -> np.ndarray:
    """Monthly values, placed at mid-month, joined by straight lines around the year."""
    middle = [pd.Timestamp(days[0].year, m, 15).day_of_year for m in range(1, 13)]
    return np.interp(days.day_of_year, middle, monthly, period=365)


def with_memory(rng: np.random.Generator, count: int, memory: float) -> np.ndarray:
    """First-order autoregressive noise of mean 0 and variance 1."""
    step = rng.standard_normal(count)
    out = np.empty(count)
    out[0] = step[0]
    for i in range(1, count):
        out[i] = memory * out[i - 1] + np.sqrt(1 - memory**2) * step[i]
    return out


def write(place: Place, folder: Path) -> None:
    """Write weather.csv of a place into a folder and print its totals."""
    rng = np.random.default_rng(place.seed)
    zone = f"Etc/GMT-{place.utc_offset_h}"  # the sign of these names is reversed
    middle = pd.date_range(f"{place.year}-01-01 00:30", periods=8760, freq="h", tz=zone)
    days = pd.date_range(f"{place.year}-01-01", periods=365, freq="D")
    day = np.repeat(np.arange(365), 24)
    hour = np.tile(np.arange(24) + 0.5, 365)

    pressure_pa = 101_325 * (1 - 2.25577e-5 * place.altitude_m) ** 5.25588
    sun = pvlib.solarposition.spa_python(
        middle, place.latitude_deg, place.longitude_deg, place.altitude_m,
        pressure=pressure_pa, temperature=float(np.mean(place.air_mean_c)), delta_t=67.0,
    )
    up = sun["apparent_elevation"].to_numpy() > 0
    cos_zenith = np.where(up, np.cos(np.radians(sun["apparent_zenith"].to_numpy())), 0.0)
    distance_au = pvlib.solarposition.nrel_earthsun_distance(middle, delta_t=67.0).to_numpy()
    extra_normal = np.where(up, SOLAR_CONSTANT_W_M2 / distance_au**2, 0.0)

    clear = pvlib.clearsky.simplified_solis(
        sun["apparent_elevation"].to_numpy(),
        aod700=by_day(place.aerosol_700nm, days)[day],
        precipitable_water=by_day(place.water_vapour_cm, days)[day],
        pressure=pressure_pa,
        dni_extra=SOLAR_CONSTANT_W_M2 / distance_au**2,
    )

    # Clearness: 1 is a cloudless hour. Afternoons of the rains are cloudier than their mornings.
    mean, spread = by_day(place.clearness_mean, days), by_day(place.clearness_spread, days)
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
    swing_c = by_day(place.air_swing_c, days) * (1 + 0.2 * cloudy)
    anomaly_c = 0.8 * with_memory(rng, 365, AIR_MEMORY)
    air_c = (by_day(place.air_mean_c, days) + anomaly_c)[day] + swing_c[day] * shape
    air_c = np.clip(air_c + 0.2 * rng.standard_normal(8760), *place.air_range_c)

    # Wind: strongest in the early afternoon.
    gust = np.exp(0.30 * with_memory(rng, 8760, WIND_MEMORY) - 0.045)
    wind = by_day(place.wind_mean_m_s, days)[day] * (1 + 0.30 * np.cos(2 * np.pi * (hour - 13.5) / 24)) * gust
    wind = np.clip(wind, 0.5, place.wind_greatest_m_s)

    lines = [
        f'000000,"{place.name} (MADE DATA)",--,{place.utc_offset_h:.1f},'
        f"{place.latitude_deg:.3f},{place.longitude_deg:.3f},{place.altitude_m:.0f}",
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
    (folder / "weather.csv").write_text("\n".join(lines) + "\n", newline="\n")
    print(f"GHI {ghi.sum() / 1000:.0f}, DNI {dni.sum() / 1000:.0f}, DHI {dhi.sum() / 1000:.0f} kWh/m2")
    print(f"air {air_c.min():.1f} to {air_c.max():.1f} C, wind {wind.mean():.2f} m/s")
