"""Make world_grid.csv: monthly mean and day-to-day spread of global horizontal irradiance for every land cell.

Usage: python make_world_grid.py   (wants numpy 2.4.6 and gsee-climate-data 1.0.0 from the package index)

Source: open data package gsee-climate-data 1.0.0 (code BSD-3-Clause; the data are derived from NASA's MERRA-2, which is
free to use, 2011-2015, cells of 3 degrees over land and near it). For each cell and month it has 128 values of the daily
mean irradiance in W/m2 (`xk`) and their weights (`pk`, not normalised). Here only their mean and their standard
deviation are kept, of cells that have all twelve months, between 69 degrees south and north.

Gelaro, R. et al. (2017), The Modern-Era Retrospective Analysis for Research and Applications, Version 2 (MERRA-2),
Journal of Climate 30, 5419-5454. Pfenninger, S. & Staffell, I. (2016), Long-term patterns of European PV output using 30
years of validated hourly reanalysis and satellite data, Energy 114, 1251-1265.
"""

from importlib.resources import files
from pathlib import Path

import numpy as np

FARTHEST_LATITUDE_DEG = 69
HEAD = """\
# Global horizontal irradiance by land cell of 3 degrees, made by make_world_grid.py from gsee-climate-data 1.0.0,
# which derives from NASA MERRA-2, 2011-2015 (Gelaro et al. 2017; Pfenninger & Staffell 2016). Middle of the cell
# [degrees, north and east positive]; monthly mean and standard deviation of the daily means, January to December [W/m2].
"""


def main() -> None:
    data = np.load(files("gsee_climate_data") / "data" / "merra2_rad3x3_2011-2015_pdfs_land_prox.npz")
    value = np.nan_to_num(data["xk"].astype(float))
    weight = np.nan_to_num(data["pk"].astype(float))
    whole = weight.sum(axis=-1)
    there = np.where(whole > 0, whole, 1.0)
    mean = (value * weight).sum(axis=-1) / there
    spread = np.sqrt(((value - mean[..., None]) ** 2 * weight).sum(axis=-1) / there)
    lines = []
    for i, latitude in enumerate(data["lat"]):
        for j, longitude in enumerate(data["lon"]):
            if abs(latitude) <= FARTHEST_LATITUDE_DEG and (whole[i, j] > 0).all():
                numbers = ",".join(f"{x:.1f}" for x in (*mean[i, j], *spread[i, j]))
                lines.append(f"{latitude:.0f},{longitude:.0f},{numbers}")
    months = "jan feb mar apr may jun jul aug sep oct nov dec".split()
    columns = ["lat", "lon", *(f"{m}_mean" for m in months), *(f"{m}_spread" for m in months)]
    text = HEAD + ",".join(columns) + "\n" + "\n".join(lines) + "\n"
    Path(__file__).with_name("world_grid.csv").write_text(text)
    print(f"{len(lines)} cells, {len(text)} bytes")


if __name__ == "__main__":
    main()
