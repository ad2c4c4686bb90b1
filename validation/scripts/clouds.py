"""How the beam varies within the hour: one month of one-minute measurements at a BSRN station.

Payerne (Switzerland), June 2016, by the Baseline Surface Radiation Network (Driemel et al. 2018), from the test
data of pvlib's source package. Only the statistics of each hour are written.
"""

import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib

import common

LATITUDE_DEG, LONGITUDE_DEG, ALTITUDE_M = 46.815, 6.944, 491.0
FILE = "pvlib-0.16.1/tests/data/bsrn-pay0616.dat.gz"
HIGHEST_ZENITH_DEG = 75.0


def minutes():
    with tempfile.TemporaryDirectory() as folder:
        fetch = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--no-binary", ":all:",
                 "--dest", folder, "pvlib==0.16.1"]  # fmt: skip
        subprocess.run(fetch, check=True)
        with tarfile.open(next(Path(folder).glob("*.tar.gz"))) as archive:
            archive.extract(FILE, folder, filter="data")
        return pvlib.iotools.read_bsrn(str(Path(folder) / FILE))[0]


def main():
    data = minutes()
    middle = data.index + pd.Timedelta("30s")
    sun = pvlib.solarposition.get_solarposition(middle, LATITUDE_DEG, LONGITUDE_DEG, ALTITUDE_M)
    zenith = sun["apparent_zenith"]
    extra = common.SOLAR_CONSTANT_W_M2 / pvlib.solarposition.nrel_earthsun_distance(middle).to_numpy() ** 2
    clear = extra * 0.7 ** (pvlib.atmosphere.get_relative_airmass(zenith.to_numpy()) ** 0.678)
    share = pd.Series(data["dni"].to_numpy(float) / clear, index=data.index)
    usable = (zenith.to_numpy() < HIGHEST_ZENITH_DEG) & share.notna().to_numpy()
    rows = []
    for hour, of in share.groupby(share.index.floor("h")):
        if len(of) != 60 or not usable[share.index.get_indexer(of.index)].all():
            continue
        mean, values = of.mean(), of.to_numpy() - of.mean()
        # Covariances, so that the hours can be pooled.
        lags = [float(np.dot(values[lag:], values[:-lag]) / (60 - lag)) for lag in (1, 5, 15)]
        rows.append([hour.strftime("%Y-%m-%dT%H:%MZ"), mean, float(values.std()), *lags])
    columns = ["hour", "share_of_clear", "spread", "covariance_1", "covariance_5", "covariance_15"]
    common.write_csv("clouds.csv", common.made_by("clouds.py", "pvlib", "numpy", "pandas"), columns, rows)


if __name__ == "__main__":
    main()
