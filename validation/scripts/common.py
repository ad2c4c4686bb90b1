"""What the scripts share: locations, the weather files, sun and plane, the module."""

import csv
import importlib.metadata as metadata
from pathlib import Path

import numpy as np
import pandas as pd
from pvlib import iam, irradiance, ivtools, pvsystem, singlediode, solarposition

DATA = Path(__file__).resolve().parent.parent / "data"
YEAR = 2025
SOLAR_CONSTANT_W_M2 = 1361.0

STATIONS = {
    "703165": {"file": "703165TY.csv", "time_zone": "America/Anchorage"},
    "723170": {"file": "723170TYA.CSV", "time_zone": "America/New_York"},
}

MODULE = {
    "v_mp_v": 31.0,
    "i_mp_a": 8.71,
    "v_oc_v": 38.3,
    "i_sc_a": 9.43,
    "alpha_sc_a_k": 0.005658,
    "beta_voc_v_k": -0.13788,
    "cells_in_series": 60,
}


def made_by(script, *libraries):
    """First line of a CSV file: which script, which versions."""
    versions = ", ".join(f"{name} {metadata.version(name)}" for name in libraries)
    return f"# made by {script} with {versions}"


def write_csv(name, head, columns, rows):
    """Writes a comment line, a header and the rows; floats by %.10g."""
    DATA.mkdir(parents=True, exist_ok=True)
    with open(DATA / name, "w", newline="", encoding="utf-8") as file:
        file.write(head + "\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        for row in rows:
            writer.writerow([text(value) for value in row])


def text(value):
    if isinstance(value, str):
        return value
    if isinstance(value, (int, np.integer)):
        return str(int(value))
    if value is None:
        return ""
    return f"{float(value):.10g}"


def read_station(key):
    """TMY3 file: coordinates from its first line, the hours in file order."""
    path = DATA / "tmy3" / STATIONS[key]["file"]
    with open(path, encoding="utf-8") as file:
        first = next(csv.reader(file))
    hours = pd.read_csv(path, skiprows=1)
    assert len(hours) == 8760
    return {
        "offset_h": float(first[3]),
        "latitude_deg": float(first[4]),
        "longitude_deg": float(first[5]),
        "altitude_m": float(first[6]),
        "time_zone": STATIONS[key]["time_zone"],
        "ghi": hours["GHI (W/m^2)"].to_numpy(float),
        "dni": hours["DNI (W/m^2)"].to_numpy(float),
        "dhi": hours["DHI (W/m^2)"].to_numpy(float),
        "air_c": hours["Dry-bulb (C)"].to_numpy(float),
        "wind_m_s": hours["Wspd (m/s)"].to_numpy(float),
    }


def pressure_pa(altitude_m):
    return 101325.0 * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588


def sun(station, step_s):
    """Sun at the middle of every step of the simulation year."""
    offset = pd.Timedelta(hours=station["offset_h"])
    start = pd.Timestamp(f"{YEAR}-01-01", tz="UTC") - offset
    count = 8760 * 3600 // step_s
    middle = pd.to_timedelta((np.arange(count) + 0.5) * step_s, unit="s")
    times = start + middle
    position = solarposition.get_solarposition(
        times,
        station["latitude_deg"],
        station["longitude_deg"],
        altitude=station["altitude_m"],
        pressure=pressure_pa(station["altitude_m"]),
        temperature=float(np.mean(station["air_c"])),
        method="nrel_numpy",
        delta_t=67.0,
    )
    distance_au = solarposition.nrel_earthsun_distance(times, how="numpy", delta_t=67.0)
    return {
        "elevation_deg": position["apparent_elevation"].to_numpy(),
        "true_elevation_deg": position["elevation"].to_numpy(),
        "azimuth_deg": position["azimuth"].to_numpy(),
        "distance_au": np.asarray(distance_au, float),
    }


def plane(sky, ghi, dni, dhi, tilt_deg, azimuth_deg, albedo):
    """Irradiance on a plane: total and after reflection, 0 with the sun down."""
    up = sky["elevation_deg"] > 0.0
    extra = SOLAR_CONSTANT_W_M2 / sky["distance_au"] ** 2
    ghi, dni, dhi = (np.where(up, value, 0.0) for value in (ghi, dni, dhi))
    zenith = 90.0 - sky["elevation_deg"]
    total = irradiance.get_total_irradiance(
        tilt_deg,
        azimuth_deg,
        zenith,
        sky["azimuth_deg"],
        dni,
        ghi,
        dhi,
        dni_extra=extra,
        albedo=albedo,
        model="haydavies",
    )
    parts = irradiance.haydavies(
        tilt_deg,
        azimuth_deg,
        dhi,
        dni,
        extra,
        solar_zenith=zenith,
        solar_azimuth=sky["azimuth_deg"],
        return_components=True,
    )
    angle = irradiance.aoi(tilt_deg, azimuth_deg, zenith, sky["azimuth_deg"])
    beam_angle_factor = iam.physical(angle, n=1.526, K=4.0, L=0.002)
    sky_angle = 59.7 - 0.1388 * tilt_deg + 0.001497 * tilt_deg**2
    ground_angle = 90.0 - 0.5788 * tilt_deg + 0.002693 * tilt_deg**2
    after = (
        beam_angle_factor * (total["poa_direct"] + parts["poa_circumsolar"])
        + iam.physical(sky_angle) * parts["poa_isotropic"]
        + iam.physical(ground_angle) * total["poa_ground_diffuse"]
    )
    return (
        np.where(up, np.asarray(total["poa_global"]), 0.0),
        np.where(up, np.asarray(after), 0.0),
    )


def fit_module(module=MODULE, **start):
    """pvlib's fit of the five parameters, unchanged; with `init_guess` from another starting point."""
    fitted, result = ivtools.sdm.fit_desoto(
        module["v_mp_v"],
        module["i_mp_a"],
        module["v_oc_v"],
        module["i_sc_a"],
        module["alpha_sc_a_k"],
        module["beta_voc_v_k"],
        module["cells_in_series"],
        **start,
        root_kwargs={"options": {"xtol": 1e-13}},
    )
    assert np.max(np.abs(result.fun)) < 1e-9
    return fitted


def one_diode(fitted, effective_w_m2, cell_c):
    """The five parameters at irradiance and cell temperature."""
    return pvsystem.calcparams_desoto(
        effective_w_m2,
        cell_c,
        alpha_sc=fitted["alpha_sc"],
        a_ref=fitted["a_ref"],
        I_L_ref=fitted["I_L_ref"],
        I_o_ref=fitted["I_o_ref"],
        R_sh_ref=fitted["R_sh_ref"],
        R_s=fitted["R_s"],
        EgRef=fitted["EgRef"],
        dEgdT=fitted["dEgdT"],
    )


def maximum_power(fitted, effective_w_m2, cell_c):
    """(current, voltage, power) of one module at maximum power; 0 in the dark."""
    effective_w_m2 = np.asarray(effective_w_m2, float)
    cell_c = np.asarray(cell_c, float)
    lit = effective_w_m2 > 0.0
    found = np.zeros((3, effective_w_m2.size))
    if lit.any():
        parameters = one_diode(fitted, effective_w_m2[lit], cell_c[lit])
        found[:, lit] = singlediode.bishop88_mpp(*parameters, method="newton")
    return found


def faiman_cell_c(air_c, plane_w_m2, wind_m_s, u0=25.0, u1=6.84):
    return air_c + plane_w_m2 / (u0 + u1 * wind_m_s)
