"""What a tracker misses: broken cloud by the hour, and the share of the power that is lost."""

import numpy as np
from pvlib import atmosphere

import common

# broken cloud by the share of the clear beam
SHARE, BROKEN = (0.10, 0.30, 0.50, 0.75), (0.0, 1.0, 1.0, 0.0)


def broken_cloud(sky, dni, step_s):
    """b at every step; all steps of an hour share it."""
    up = sky["elevation_deg"] > 0.0
    extra = common.SOLAR_CONSTANT_W_M2 / sky["distance_au"] ** 2
    zenith = np.where(up, 90.0 - sky["elevation_deg"], 0.0)
    mass = atmosphere.get_relative_airmass(zenith, "kastenyoung1989")
    clear = np.where(up, extra * 0.7 ** (mass**0.678), 0.0).reshape(-1, 3600 // step_s).sum(axis=1)
    beam = np.where(up, dni, 0.0).reshape(clear.size, -1).sum(axis=1)
    share = np.divide(beam, clear, out=np.zeros_like(beam), where=clear > 0.0)
    found = np.interp(share, SHARE, BROKEN, left=0.0, right=0.0)
    return np.repeat(found, 3600 // step_s)


def of_drive(drive, broken):
    clear = drive["tracking_clear_loss"]
    more = drive["tracking_broken_loss"] - clear
    return drive["tracking_static_loss"] + clear + broken * more


def of_inverter(inverter, broken):
    steady = inverter["tracking_loss"]
    return steady + broken * (inverter["tracking_broken_loss"] - steady)
