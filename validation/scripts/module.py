"""Short circuit, open circuit and maximum power of one module at 20 points."""

from pvlib import pvsystem

import common

POINTS = [
    (50, -5), (50, 10), (50, 25), (50, 40),
    (200, -5), (200, 25), (200, 45),
    (400, 0), (400, 25), (400, 45), (400, 60),
    (600, 50), (800, 10), (800, 25), (800, 60),
    (1000, 25), (1000, 65), (1000, 70),
    (1100, -5), (1100, 75),
]  # fmt: skip


def main():
    fitted = common.fit_module()
    rows = []
    for irradiance_w_m2, cell_c in POINTS:
        found = pvsystem.singlediode(
            *common.one_diode(fitted, float(irradiance_w_m2), float(cell_c)), method="newton"
        )
        curve = [found[name] for name in ("i_sc", "v_oc", "i_mp", "v_mp", "p_mp")]
        rows.append([irradiance_w_m2, cell_c, *curve])
    names = ("I_L_ref", "I_o_ref", "R_s", "R_sh_ref", "a_ref")
    parameters = [[name, fitted[name]] for name in names]
    head = common.made_by("module.py", "pvlib", "scipy", "numpy")
    columns = ["irradiance_w_m2", "cell_c", "i_sc_a", "v_oc_v", "i_mp_a", "v_mp_v", "p_mp_w"]
    common.write_csv("module_mpp.csv", head, columns, rows)
    common.write_csv("module_parameters.csv", head, ["parameter", "value"], parameters)


if __name__ == "__main__":
    main()
