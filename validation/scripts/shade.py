"""Trackers, rows and horizons by pvlib: angles, shaded shares and view factors, and years on both stations."""

import numpy as np
from pvlib import irradiance, shading, tracking
from pvlib.bifacial import utils

import common

ALBEDO = 0.2
# Axis azimuth, axis tilt, maximum rotation, ratio of width to pitch or None.
TRACKERS = {
    "ns": (0.0, 0.0, 60.0, None),
    "ns_rows": (0.0, 0.0, 60.0, 0.44),
    "sw_tilted": (200.0, 10.0, 50.0, None),
    "ew_rows": (90.0, 0.0, 75.0, 0.3),
}
# Tilt, azimuth, pitch, width.
ROWS = {"south": (30.0, 180.0, 4.0, 2.2), "east": (10.0, 90.0, 2.4, 2.1), "steep": (60.0, 150.0, 6.0, 4.0)}
HORIZON_DEG = [4.0, 12.0, 20.0, 6.0, 0.0, 3.0, 25.0, 10.0]
EVERY = 7
DIRECTIONS = 3600


def turn(zenith, azimuth, tracker):
    """Rotation by pvlib, which gives no value with the sun below the horizon."""
    axis_azimuth, axis_tilt, greatest, gcr = tracker
    return tracking.singleaxis(
        zenith, azimuth, axis_tilt=axis_tilt, axis_azimuth=axis_azimuth, max_angle=greatest,
        backtrack=gcr is not None, gcr=gcr or 0.1,
    )  # fmt: skip


def shaded(zenith, azimuth, rows):
    tilt, facing, pitch, width = rows
    share = shading.shaded_fraction1d(
        zenith, azimuth, axis_azimuth=facing - 90.0, shaded_row_rotation=tilt,
        collector_width=width, pitch=pitch,
    )  # fmt: skip
    # Light from behind does not reach the front.
    front = irradiance.aoi(tilt, facing, zenith, azimuth) < 90.0
    return np.where(front, share, 0.0)


def light(station, sky):
    up = sky["elevation_deg"] > 0.0
    ghi, dni, dhi = (np.where(up, station[name], 0.0) for name in ("ghi", "dni", "dhi"))
    return ghi, dni, dhi, common.SOLAR_CONSTANT_W_M2 / sky["distance_au"] ** 2, 90.0 - sky["elevation_deg"], up


def parts(station, sky, tilt, azimuth):
    """Beam, circumsolar, isotropic and ground light on a plane that may move."""
    ghi, dni, dhi, extra, zenith, up = light(station, sky)
    beam = irradiance.beam_component(tilt, azimuth, zenith, sky["azimuth_deg"], dni)
    diffuse = irradiance.haydavies(
        tilt, azimuth, dhi, dni, extra, solar_zenith=zenith, solar_azimuth=sky["azimuth_deg"],
        return_components=True,
    )  # fmt: skip
    ground = irradiance.get_ground_diffuse(tilt, ghi, ALBEDO)
    nil = [np.where(up, np.nan_to_num(np.asarray(x, float)), 0.0) for x in
           (beam, diffuse["poa_circumsolar"], diffuse["poa_isotropic"], ground)]  # fmt: skip
    return nil


def in_rows(station, sky, tilt, azimuth, rotation, axis_azimuth, pitch, width, share):
    """The same among rows; `rotation` is the tilt in the section across them."""
    ghi, _, dhi, _, zenith, _ = light(station, sky)
    beam, circumsolar, isotropic, ground = parts(station, sky, tilt, azimuth)
    gcr = width / pitch
    alone_sky = 0.5 * (1.0 + np.cos(np.radians(rotation)))
    alone_ground = 0.5 * (1.0 - np.cos(np.radians(rotation)))
    sky_view = utils.vf_row_sky_2d_integ(np.abs(rotation), gcr)
    at = np.linspace(0.0, 1.0, 201)
    ground_view = np.trapezoid(utils.vf_row_ground_2d(np.abs(rotation)[:, None], gcr, at[None, :]), at, axis=1)
    isotropic = isotropic * sky_view / alone_sky
    ground = np.where(alone_ground > 1e-12, ground * ground_view / np.maximum(alone_ground, 1e-12), 0.0)
    # The ground: the sky that it still sees, and the sun where no row shades it.
    across = np.cos(np.radians(rotation))
    d = np.sqrt(pitch**2 + width**2 - 2 * pitch * width * across)
    e = np.sqrt(pitch**2 + width**2 + 2 * pitch * width * across)
    sky_of_ground = (d + e - 2 * width) / (2 * pitch)
    projected = np.radians(shading.projected_solar_zenith_angle(zenith, sky["azimuth_deg"], 0.0, axis_azimuth))
    shadow = np.abs(np.cos(projected - np.radians(rotation)) / np.cos(projected))
    lit = np.clip(1.0 - gcr * shadow, 0.0, 1.0)
    of_sky = np.where(ghi > 0, np.clip(dhi / np.maximum(ghi, 1e-9), 0, 1), 1.0)
    ground = ground * (of_sky * sky_of_ground + (1.0 - of_sky) * lit)
    return (beam + circumsolar) * (1.0 - share) + isotropic + ground


def hidden_share(tilt, azimuth):
    """Share of the sky in front of a plane, weighted with the cosine of incidence, that is below the horizon: a plain sum."""
    az = (np.arange(DIRECTIONS) + 0.5) * 360.0 / DIRECTIONS
    el = (np.arange(1800) + 0.5) / 20.0
    edge = np.interp(az, np.arange(len(HORIZON_DEG) + 1) * 45.0, [*HORIZON_DEG, HORIZON_DEG[0]])
    e, a = np.meshgrid(np.radians(el), np.radians(az), indexing="ij")
    facing = np.cos(np.radians(tilt)) * np.sin(e) + np.sin(np.radians(tilt)) * np.cos(e) * np.cos(a - np.radians(azimuth))
    weight = np.maximum(facing, 0.0) * np.cos(e)
    return float((weight * (np.degrees(e) < edge[None, :])).sum() / weight.sum())


def ground_of_slope(tilt, gcr):
    """View to the ground at points of the slope, averaged: pvlib's own integral stops after a few rows."""
    at = np.linspace(0.0, 1.0, 10_001)
    return float(np.trapezoid(utils.vf_row_ground_2d(tilt, gcr, at), at))


def years(key, station, sky):
    zenith = 90.0 - sky["elevation_deg"]
    azimuth = sky["azimuth_deg"]
    up = sky["elevation_deg"] > 0.0
    alone = turn(zenith, azimuth, TRACKERS["ns"])
    tilt = np.where(up, np.nan_to_num(alone["surface_tilt"]), 0.0)
    facing = np.where(up, np.nan_to_num(alone["surface_azimuth"]), 90.0)
    yield [key, "tracker", sum(parts(station, sky, tilt, facing)).sum() / 1000.0]

    rows = ROWS["south"]
    share = np.where(up, np.nan_to_num(shaded(zenith, azimuth, rows)), 0.0)
    whole = in_rows(station, sky, rows[0], rows[1], np.full(8760, rows[0]), rows[1] - 90.0, rows[2], rows[3], share)
    yield [key, "rows", np.where(up, whole, 0.0).sum() / 1000.0]

    turned = turn(zenith, azimuth, (0.0, 0.0, 60.0, 0.44))
    rotation = np.where(up, np.nan_to_num(turned["tracker_theta"]), 0.0)
    tilt = np.abs(rotation)
    facing = np.where(rotation > 0.0, 90.0, 270.0)
    whole = in_rows(station, sky, tilt, facing, rotation, 0.0, 5.0, 2.2, np.zeros(8760))
    yield [key, "tracker in rows", np.where(up, whole, 0.0).sum() / 1000.0]

    beam, circumsolar, isotropic, ground = parts(station, sky, 30.0, 180.0)
    edge = np.interp(azimuth % 360.0, np.arange(len(HORIZON_DEG) + 1) * 45.0, [*HORIZON_DEG, HORIZON_DEG[0]])
    free = sky["elevation_deg"] >= edge
    left = (beam + circumsolar) * free + isotropic * (1.0 - hidden_share(30.0, 180.0)) + ground
    yield [key, "horizon", left.sum() / 1000.0]


def main():
    head = common.made_by("shade.py", "pvlib", "numpy")
    angles, sums = [], []
    for key in common.STATIONS:
        station = common.read_station(key)
        sky = common.sun(station, 3600)
        at = np.flatnonzero(sky["elevation_deg"] > 0.0)[::EVERY]
        zenith, azimuth = 90.0 - sky["elevation_deg"][at], sky["azimuth_deg"][at]
        turned = [np.asarray(turn(zenith, azimuth, of)["tracker_theta"]) for of in TRACKERS.values()]
        shares = [shaded(zenith, azimuth, of) for of in ROWS.values()]
        for i in range(len(at)):
            angles.append([round(float(zenith[i]), 6), round(float(azimuth[i]), 6),
                           *(f"{t[i]:.6f}" for t in turned), *(f"{s[i]:.7f}" for s in shares)])  # fmt: skip
        sums += list(years(key, station, sky))
    columns = ["zenith_deg", "azimuth_deg", *(f"{n}_deg" for n in TRACKERS), *(f"{n}_shaded" for n in ROWS)]
    common.write_csv("shade_angles.csv", head, columns, angles)
    common.write_csv("shade_years.csv", head, ["station", "what", "plane_kwh_m2"], sums)
    views = [
        [tilt, gcr, float(utils.vf_row_sky_2d_integ(tilt, gcr)), ground_of_slope(tilt, gcr)]
        for tilt in (0.0, 10.0, 30.0, 60.0, 90.0)
        for gcr in (0.2, 0.45, 0.8)
    ]
    common.write_csv("shade_views.csv", head, ["tilt_deg", "width_over_pitch", "sky_view", "ground_view"], views)


if __name__ == "__main__":
    main()
