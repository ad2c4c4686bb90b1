"""A plant as lists of planes, string groups, inverters and pump sets, for both forms of its file.

A plant with one of each has them as `array`, `inverter`, `drive`, `pump`, …; one with several has
`planes` and `groups` within `array`, `inverters` and `pump_sets`. Groups refer by name.
"""

OF_A_SET = ["pump", "motor", "drive", "well", "pipes", "outlet_lift_m", "outlet_pressure_bar"]


def one_of_each(plant):
    array = plant["array"]
    return {
        "planes": [array],
        "groups": [array | {"plane": 0, "inverter": 0, "drive": 0}],
        "inverters": [plant["inverter"] | {"reconnection_s": plant["reconnection_s"]}],
        "sets": [{key: plant[key] for key in OF_A_SET} | {"name": ""} | of_all_sets(plant)],
    }


def of_all_sets(plant):
    return {"water_c": plant["water_c"], "altitude_m": plant["site"]["altitude_m"]}


def index_of(parts, name):
    return next(index for index, part in enumerate(parts) if part["name"] == name)


def several(plant):
    array, inverters, sets = plant["array"], plant["inverters"], plant["pump_sets"]
    groups = []
    for group in array["groups"]:
        inverter, drive = group["inverter"], group["drive"]
        assert inverter is not None or drive is not None
        indices = {
            "plane": index_of(array["planes"], group["plane"]),
            "inverter": None if inverter is None else index_of(inverters, inverter),
            "drive": None if drive is None else index_of(sets, drive),
        }
        groups.append(group | indices)
    for number in range(len(sets)):
        lengths = {g["modules_in_series"] for g in groups if g["drive"] == number}
        assert len(lengths) <= 1, "groups on one drive have one length"
    sets = [pump_set | of_all_sets(plant) for pump_set in sets]
    return {"planes": array["planes"], "groups": groups, "inverters": inverters, "sets": sets}


def of_plant(plant):
    return several(plant) if "pump_sets" in plant else one_of_each(plant)
