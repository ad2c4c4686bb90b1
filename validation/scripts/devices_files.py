"""The plant of devices_plant.py in the program's own format: plant.toml and its equipment files."""

import common

FOLDER = common.DATA.parent / "plants"
INVENTED = "# Invented plant. No real farm, maker or product.\n"
HEAD = f"""{INVENTED}#
# The plant of data/devices_plant.json in this program's format, written by scripts/devices_plant.py. The
# weather is that of ../greensboro at another altitude, with its loads and outages. Motor, drive, filter and inverter
# lose and limit something at once: tracking, heat, altitude, reduced flux, currents, least flow, waits before a start.

"""


def text(value):
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list):
        return f"[{', '.join(map(text, value))}]"
    return f"{round(value, 9):.10g}"


def pct(value):
    return [100.0 * one for one in value] if isinstance(value, list) else 100.0 * value


def lines(values):
    return "".join(f"{key} = {text(value)}\n" for key, value in values.items())


def section(name, values):
    return f"[{name}]\n{lines(values)}\n"


def listed(name, parts):
    return "".join(f"[{section(name, part).replace(']', ']]', 1)}" for part in parts)


def with_pct(spec, keys):
    """Shares of the JSON as per cent: `heat_derating_per_k` becomes `heat_derating_pct_per_k`."""
    found = {}
    for key in keys:
        stem, per, unit = key.partition("_per_")
        found[f"{stem}_pct{per}{unit}"] = pct(spec[key])
    return found


def same(spec, keys):
    return {key: spec[key] for key in keys}


def equipment(kind, name, values):
    return INVENTED + lines({"format": 1, "kind": kind, "name": name} | values)


def motor_file(motor):
    keys = ["rated_frequency_hz", "rated_voltage_v", "least_frequency_hz"]
    more = ["rated_current_a", "power_factor", "cooling_flow_m3_h", "submersible"]
    values = {"rated_power_kw": motor["rated_shaft_kw"]} | same(motor, keys)
    values |= {"load_pct": pct(motor["load_fraction"]), "efficiency_pct": pct(motor["efficiency"])}
    values |= same(motor, more) | with_pct(motor, ["water_derating_per_k"])
    return equipment("motor", "invented 13 kW submersible motor", values)


def drive_file(drive):
    shares = ["least_flux", "altitude_derating_per_100m", "heat_derating_per_k"]
    shares += ["tracking_static_loss", "tracking_clear_loss", "tracking_broken_loss"]
    plain = ["rated_altitude_m", "rated_temperature_c", "cabinet_rise_k"]
    plain += ["restart_confirm_s", "retry_wait_s"]
    values = {"rated_power_kw": drive["rated_kw"], "load_pct": pct(drive["load_fraction"])}
    values |= {"efficiency_pct": pct(drive["efficiency"])}
    values |= same(drive, ["greatest_frequency_hz", "rated_current_a", "power_factor"])
    values |= with_pct(drive, ["voltage_drop", *shares, "restart_power"]) | same(drive, plain)
    return equipment("drive", "invented 17 kW solar drive", values)


def inverter_file(inverter):
    shares = ["tracking_loss", "tracking_broken_loss", "heat_derating_per_k"]
    values = {"rated_power_kw": inverter["rated_ac_kw"]}
    values |= {"load_pct": pct(inverter["load_fraction"])}
    values |= {"efficiency_pct": pct(inverter["efficiency"])}
    values |= {"start_power_w": inverter["start_w"]} | same(inverter, ["mppt_min_v", "mppt_max_v"])
    values |= with_pct(inverter, shares) | same(inverter, ["derating_temperature_c"])
    return equipment("inverter", "invented 18 kW grid-tied inverter", values)


def site_and_array(plant):
    site, array = plant["site"], plant["array"]
    keys = ["latitude_deg", "longitude_deg", "altitude_m", "time_zone", "year"]
    soiling = array["soiling"]
    assert len(set(soiling)) == 1
    values = {"module": "../greensboro/module.toml"} | same(array, ["tilt_deg", "azimuth_deg"])
    values |= {"modules_per_string": array["modules_in_series"]}
    values |= same(array, ["strings", "albedo", "age_years"])
    values |= {"soiling_pct": pct(soiling[0])} | with_pct(array, ["mismatch", "unavailability"])
    values |= {"light_induced_pct": pct(array["light_induced_degradation"])}
    values |= with_pct(array, ["yearly_degradation"])
    values |= {"u0_w_per_m2_k": array["faiman_u0"], "u1_w_s_per_m3_k": array["faiman_u1"]}
    values |= {"dc_cable_loss_pct": pct(array["dc_cable_loss_at_stc"])}
    weather = section("weather", {"file": f"../../data/{site['weather']}", "minute_clouds": False})
    return section("site", same(site, keys)) + weather + section("array", values)


def devices(plant):
    pump, motor, inverter = plant["pump"], plant["motor"], plant["inverter"]
    values = {"file": "inverter.toml", "ac_cable_loss_pct": pct(inverter["ac_cable_loss_at_rated"])}
    found = section("inverter", values | {"reconnection_s": plant["reconnection_s"]})
    found += section("drive", {"file": "drive.toml"})
    values = {"file": "../greensboro/pump.toml", "motor": "motor.toml"}
    values |= {"motor_cable_loss_pct": pct(motor["cable_loss_at_rated"])}
    values |= {"wanted_frequency_hz": plant["drive"]["greatest_frequency_hz"]}
    values |= same(pump, ["filter"])
    values |= with_pct(pump, ["filter_loss", "filter_drop", "harmonic_loss", "least_flow"])
    return found + section("pump", values)


def water(plant):
    well, outlet = plant["well"], same(plant, ["outlet_lift_m", "outlet_pressure_bar"])
    keys = ["static_level_m", "aquifer_loss_m_per_m3_h", "well_loss_m_per_m3_h2", "intake_depth_m"]
    values = same(well, keys) | {"intake_margin_m": well["margin_m"]}
    found = section("well", values | {"water_temperature_c": plant["water_c"]})
    names = ["rising main", "main to the tank"]
    pipes = [
        {"name": name} | same(pipe, ["bore_mm", "length_m", "roughness_mm"])
        | {"fittings_k": pipe["sum_k"]}
        for name, pipe in zip(names, plant["pipes"], strict=True)
    ]  # fmt: skip
    found += listed("pipe", pipes)
    found += section("outlet", {key.removeprefix("outlet_"): v for key, v in outlet.items()})
    tank, demand = plant["tank"], plant["demand"]
    values = {"capacity_m3": tank["capacity_m3"], "restart_pct": pct(tank["restart"])}
    found += section("tank", values | {"low_mark_pct": pct(tank["low"])})
    values = {"daily_m3": demand["m3_per_day"], "hour_share": pct(demand["hour_share"])}
    return found + section("demand", values)


def pumping(plant):
    values = {"mains_hours": plant["pumping"]["mains_hours"], "rule": "as-written"}
    found = section("pumping", values)
    rules = [
        {"arrangements": rule["rows"], "mains_hours": rule["mains_hours"]}
        for rule in plant["rules"]
    ]
    found += listed("pumping.row", rules)
    spec = plant["grid_input"]
    values = {"kind": spec["kind"], "takes_over_below_pct": pct(spec["takes_over_below"])}
    values |= {"hours": spec["hours"], "wanted_speed_pct": pct(spec["wanted_speed"])}
    waits = {f"{key}_s": value for key, value in plant["changeover_s"].items()}
    return found + section("grid_input", values) + section("changeover", waits)


def grid(plant):
    tariff = plant["tariff"]
    values = {"outages": "../greensboro/outages.csv", "export": plant["export"]}
    found = section("grid", values | same(tariff, ["export_credit_per_kwh"]))
    found += listed("load", [{"name": "farm", "file": "../greensboro/farm-loads.csv"}])
    found += section("tariff", same(tariff, ["currency", "fixed_per_month"]))
    for season in tariff["seasons"]:
        found += listed("tariff.season", [same(season, ["name", "months"])]).rstrip() + "\nprices = [\n"
        for band in season["bands"]:
            price = text(band["price_per_kwh"])
            found += f"  {{ from_h = {band['from_h']}, to_h = {band['to_h']}, per_kwh = {price} }},\n"
        found += "]\n\n"
    return found


def money(plant):
    spec = plant["money"]
    shares = {"discount_pct": "discount", "price_escalation_pct": "escalation"}
    shares |= {"inflation_pct": "inflation"}
    values = {"years": spec["years"]} | {key: pct(spec[name]) for key, name in shares.items()}
    found = section("money", values) + listed("money.capital", spec["capital"])
    upkeep = [
        {"cost_per_year" if key == "cost" else key: value for key, value in line.items()}
        for line in spec["upkeep"]
    ]
    return found + listed("money.upkeep", upkeep)


def write(name, plant):
    folder = FOLDER / name
    folder.mkdir(parents=True, exist_ok=True)
    head = lines({
        "format": 1, "name": "Greensboro, devices (invented plant for validation)",
        "reference": plant["money"]["reference"],
    })  # fmt: skip
    whole = HEAD + head + "\n" + site_and_array(plant) + devices(plant) + water(plant)
    whole += pumping(plant) + grid(plant) + money(plant)
    files = {
        "plant.toml": whole.rstrip() + "\n",
        "motor.toml": motor_file(plant["motor"]),
        "drive.toml": drive_file(plant["drive"]),
        "inverter.toml": inverter_file(plant["inverter"]),
    }
    for file, content in files.items():
        (folder / file).write_text(content, encoding="utf-8")
